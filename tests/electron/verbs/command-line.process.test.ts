// The command line as people run it: a process of its own, what it prints on which stream, and its exit code.
import { spawn } from 'node:child_process'
import {
  copyFileSync,
  existsSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { readFileBytes } from '../../../electron/intake/index.ts'
import { isStale } from '../../../electron/packaging/build.ts'
import { openJobFile, type JobFile } from '../../../electron/store/index.ts'
import { testWith, type Lack } from '../../tools/skipping.ts'
import { root } from '../../tools/tool.ts'

const home = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-verbs-'))
afterAll(() => rmSync(home, { recursive: true, force: true }))
const at = (name: string): string => path.join(home, name)
const fixture = (name: string): string => path.join(root, 'fixtures/intake', name)

interface Ran {
  readonly code: number
  readonly out: string
  readonly err: string
}

function run(words: readonly string[], program = path.join(root, 'electron/cli.ts')): Promise<Ran> {
  const child = spawn(process.execPath, [program, ...words], {
    cwd: home,
    env: { ...process.env, LINTELBOOK_HOME: home },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const texts = { out: '', err: '' }
  child.stdout.on('data', (chunk: Buffer) => (texts.out += chunk.toString('utf8')))
  child.stderr.on('data', (chunk: Buffer) => (texts.err += chunk.toString('utf8')))
  return new Promise((resolve) => child.once('close', (code) => resolve({ code: code ?? -1, ...texts })))
}

/** Looks into a job file from outside the command line. */
function inside<Value>(name: string, look: (file: JobFile) => Value): Value {
  const opened = openJobFile(at(name), { who: 'a test', now: () => '2026-03-02T08:00:00Z', readOnly: true })
  if (!opened.ok) throw new Error(opened.sentence)
  try {
    return look(opened.file)
  } finally {
    opened.file.close()
  }
}
const openingsIn = (name: string): number => inside(name, (file) => file.data.count('opening'))

/** One sentence on the error stream, nothing of the program's inside. */
const oneSentence = /^[A-Z"-]?[^\n]{10,400}\.\n$/
const noStack = (text: string): void => expect(text).not.toMatch(/\bat .+:\d+:\d+|node:internal|Error:/)

beforeAll(async () => {
  const made = await Promise.all([
    run(['make', 'demo.lintelbook', '--demo']),
    run(['make', 'ward.lintelbook', '--name', 'Ward block']),
  ])
  expect(made.map(({ code, out, err }) => [code, out, err])).toEqual([
    [0, 'Made demo.lintelbook with 148 openings.\n', ''],
    [0, 'Made ward.lintelbook with 0 openings.\n', ''],
  ])
})

describe('help', () => {
  test('with words it is an answer; without any, the command was not understood', async () => {
    const [bare, help, dashes] = await Promise.all([run([]), run(['help']), run(['--help'])])
    expect(help.code).toBe(0)
    for (const verb of ['make', 'take', 'print', 'check', 'find']) expect(help.out).toContain(`  ${verb}`)
    expect(help.out).toMatch(/Exit codes: 0 done, 1 refused/)
    expect(dashes).toEqual(help)
    expect([bare.code, bare.out]).toEqual([2, help.out])
  })

  test('every verb has its own, with examples, both ways', async () => {
    const verbs = ['make', 'take', 'print', 'check', 'find']
    const helps = await Promise.all(verbs.map((verb) => run(['help', verb])))
    for (const [index, { code, out }] of helps.entries()) {
      expect(code).toBe(0)
      expect(out).toMatch(new RegExp(`^lintelbook ${verbs[index]} `))
      expect(out).toMatch(/\nExamples?:\n {2}lintelbook /)
    }
    expect(await run(['take', '--help'])).toEqual(helps[1])
  })
})

describe('words that are not understood', () => {
  test.concurrent.each([
    ['an unknown verb', ['burn'], /no verb burn; it has make, take/],
    ['an unknown option', ['check', 'ward.lintelbook', '--loud'], /--loud/],
    ['no file', ['check'], /check expects 1 file after it/],
    ['too many files', ['print', 'a', 'b', '--to', 'c.pdf'], /print expects 1 file after it/],
    ['find without words', ['find'], /find expects at least 1 words after it/],
    ['an option without its value', ['print', 'ward.lintelbook', '--to'], /--to/],
    ['print without a target', ['print', 'ward.lintelbook'], /expects --to and a file that ends in \.pdf/],
    ['a target of another kind', ['print', 'ward.lintelbook', '--to', 'x.doc'], /ends in \.pdf, \.xlsx/],
    ['a page nobody has', ['print', 'ward.lintelbook', '--to', 'x.pdf', '--page', 'b5'], /one of letter/],
    [
      'a grouping nobody has',
      ['print', 'ward.lintelbook', '--to', 'x.pdf', '--group', 'mood'],
      /one of level/,
    ],
    ['take without a job', ['take', 'doors.csv'], /expects --into/],
    [
      'units nobody has',
      ['take', 'a.csv', '--into', 'b', '--units', 'cubits'],
      /imperial or metric, not cubits/,
    ],
    ['a mark from nowhere', ['take', 'a.ifc', '--into', 'b', '--mark', 'label'], /SET\/PROPERTY, not label/],
    ['a most of nothing', ['find', 'a', 'ward.lintelbook', '--most', '0'], /whole number from 1, not 0/],
    [
      'two sources',
      ['make', 'n.lintelbook', '--demo', '--from', 'a.json'],
      /one of --name, --demo and --from/,
    ],
  ])('%s: one sentence on the error stream, exit code 2', async (_, words, sentence) => {
    const { code, out, err } = await run(words)
    expect([code, out]).toEqual([2, ''])
    expect(err).toMatch(sentence)
    expect(err).toMatch(oneSentence)
    noStack(err)
  })
})

describe('what is refused', () => {
  test.concurrent.each([
    [
      'a job that is not there',
      ['print', 'lost.lintelbook', '--to', 'lost.pdf'],
      'There is no file lost.lintelbook at this place.',
    ],
    [
      'a job that is there already',
      ['make', 'ward.lintelbook'],
      'There already is a file ward.lintelbook; nothing was written over it.',
    ],
    ['another ending', ['make', 'ward.db'], 'The job file ward.db expects a name that ends in .lintelbook.'],
    [
      'a folder that is not there',
      ['make', 'no/ward.lintelbook'],
      /^There is no folder .+ to make the job file in\.$/,
    ],
    [
      'a text that is not there',
      ['make', 'x.lintelbook', '--from', 'lost.json'],
      /^There is no file .*lost\.json that can be read\.$/,
    ],
    [
      'a schedule that is not there',
      ['take', 'lost.xlsx', '--into', 'ward.lintelbook'],
      'There is no file lost.xlsx that can be read.',
    ],
    [
      'a file that is no schedule',
      ['take', fixture('web-page-renamed.xlsx'), '--into', 'ward.lintelbook', '--accept'],
      /web-page-renamed\.xlsx/,
    ],
    ['a job that is none', ['find', 'lobby', fixture('bad-hands.csv')], /is not a Lintelbook job file/],
    [
      'a place that cannot be written',
      ['print', 'ward.lintelbook', '--to', 'no/such/folder/x.csv'],
      /could not be written/,
    ],
  ])('%s: a sentence, exit code 1', async (_, words, sentence) => {
    const { code, out, err } = await run(words)
    expect([code, out]).toEqual([1, ''])
    expect(err.split('\n')[0]).toMatch(sentence)
    noStack(err)
    expect(openingsIn('ward.lintelbook')).toBe(0)
  })
})

describe('make', () => {
  test('--from makes the same job again from its text', async () => {
    const wrote = await run(['print', 'demo.lintelbook', '--to', 'demo.json'])
    expect(wrote).toEqual({ code: 0, out: 'Wrote the whole job to demo.json.\n', err: '' })
    const made = await run(['make', 'again.lintelbook', '--from', 'demo.json'])
    expect(made.out).toBe('Made again.lintelbook with 148 openings.\n')
    await run(['print', 'again.lintelbook', '--to', 'again.json'])
    expect(readFileSync(at('again.json')).equals(readFileSync(at('demo.json')))).toBe(true)
  })
})

describe('take', () => {
  test('shows first, writes with --accept, and the second time there is nothing new', async () => {
    await run(['make', 'taken.lintelbook'])
    const words = ['take', fixture('bad-hands.csv'), '--into', 'taken.lintelbook']
    const looked = await run(words)
    expect(looked.code).toBe(0)
    expect(looked.out).toContain('bad-hands.csv: 12 openings understood.\n')
    expect(looked.out).toContain('Beside the job: 12 new, 0 changed, 0 the same, 0 no longer in the file.\n')
    expect(looked.out).toMatch(/Row 8, Hand: "Lefft" is not a hand/)
    expect(looked.out).toMatch(/Nothing was written; --accept writes it\.\n$/)
    expect(openingsIn('taken.lintelbook')).toBe(0)

    const written = await run([...words, '--accept', '--level', 'Ground'])
    expect(written.out).toMatch(/Written: 12 added, 0 changed\. Nothing was removed\.\n$/)
    expect(openingsIn('taken.lintelbook')).toBe(12)
    expect(inside('taken.lintelbook', (file) => file.undoName)).toBe('Take in bad-hands.csv: 12 added')

    const again = await run([...words, '--accept', '--json'])
    expect(again.code).toBe(0)
    expect(JSON.parse(again.out)).toMatchObject({
      form: 'sheet',
      written: false,
      counts: { added: 0, changed: 0, removed: 0 },
      comparison: { counts: { added: 0, changed: 0, same: 12, gone: 0 } },
    })
    expect(inside('taken.lintelbook', (file) => file.revision)).toBe(1)
  })

  test('a model: its marks from where one says', async () => {
    await run(['make', 'model.lintelbook'])
    const words = [
      'take',
      fixture('clinic.ifczip'),
      '--into',
      'model.lintelbook',
      '--mark',
      'tag',
      '--accept',
    ]
    expect((await run(words)).out).toMatch(/Written: 2 added/)
    expect(openingsIn('model.lintelbook')).toBe(2)
  })

  test('a file with no opening in it is refused, and says what it lacks', async () => {
    const { code, out, err } = await run([
      'take',
      fixture('prototype-headings.xlsx'),
      '--into',
      'ward.lintelbook',
      '--accept',
    ])
    expect(code).toBe(1)
    expect(out).toMatch(/mark \(door number\) is missing/)
    expect(err).toBe('No opening was found in prototype-headings.xlsx; nothing was written.\n')
  })
})

describe('print', () => {
  test('to paper and to spreadsheets; the endings say how', async () => {
    const made = await Promise.all(
      [
        ['--to', 'schedule.pdf', '--page', 'letter', '--group', 'typical'],
        ['--to', 'schedule.xlsx', '--all-columns'],
        ['--to', 'SCHEDULE.CSV'],
      ].map((words) => run(['print', 'demo.lintelbook', ...words])),
    )
    expect(made.map(({ code, err }) => [code, err])).toEqual([
      [0, ''],
      [0, ''],
      [0, ''],
    ])
    expect(made.map(({ out }) => out)).toEqual([
      expect.stringMatching(/^Wrote 148 openings to schedule\.pdf, \d+ pages\.\n$/),
      'Wrote 148 openings to schedule.xlsx.\n',
      'Wrote 148 openings to SCHEDULE.CSV.\n',
    ])
    expect(readFileSync(at('schedule.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
    for (const name of ['schedule.xlsx', 'SCHEDULE.CSV']) {
      const read = await readFileBytes(name, readFileSync(at(name)))
      if (!read.ok || read.file.form !== 'sheets') throw new Error(`${name} could not be read back`)
      expect(read.file.sheets[0]?.rows.length).toBeGreaterThanOrEqual(149)
    }
  })
})

describe('check', () => {
  test('a sound job: its counts and open questions as JSON', async () => {
    const { code, out, err } = await run(['check', 'demo.lintelbook'])
    expect([code, err]).toEqual([0, ''])
    const results = JSON.parse(out) as { openQuestions: { mark: string; questions: string[] }[] }
    expect(results).toMatchObject({
      job: 'Harrow Street Clinic',
      sound: true,
      findings: [],
      counts: { buildings: 2, levels: 5, openings: 148, changes: 0 },
    })
    expect(results.openQuestions.length).toBeGreaterThan(0)
    for (const { questions } of results.openQuestions) expect(questions.length).toBeGreaterThan(0)
  })

  test('a file that was cut short, one with damaged pages, and one of another kind', async () => {
    copyFileSync(at('demo.lintelbook'), at('short.lintelbook'))
    truncateSync(at('short.lintelbook'), Math.floor(statSync(at('demo.lintelbook')).size / 2))
    const bytes = readFileSync(at('demo.lintelbook'))
    bytes.fill(0xa5, 4096 * 3, 4096 * 40)
    writeFileSync(at('damaged.lintelbook'), bytes)
    writeFileSync(at('foreign.lintelbook'), 'Dear all,\n'.repeat(500))
    const ran = await Promise.all(
      ['short', 'damaged', 'foreign'].map((name) => run(['check', `${name}.lintelbook`])),
    )
    for (const [index, sentence] of [
      /short\.lintelbook was cut short: \d+ of \d+ bytes are there/,
      /damaged\.lintelbook is damaged/,
      /foreign\.lintelbook is not a Lintelbook job file/,
    ].entries()) {
      expect(ran[index]?.code).toBe(1)
      expect(JSON.parse(ran[index]?.out ?? '')).toEqual({
        job: null,
        sound: false,
        findings: [expect.stringMatching(sentence)],
      })
      expect(ran[index]?.err).toMatch(sentence)
      expect(ran[index]?.err).toMatch(oneSentence)
    }
    expect(readFileSync(at('damaged.lintelbook')).equals(bytes)).toBe(true)
  })
})

describe('find', () => {
  beforeAll(async () => {
    writeFileSync(at('annex.csv'), 'Mark,Level,Where,Serial\nX101,1,Quiet store,2604-1203\nX102,1,Lobby,\n')
    await run(['make', 'annex.lintelbook', '--name', 'Annex'])
    await run(['take', 'annex.csv', '--into', 'annex.lintelbook', '--accept'])
  })
  const three = ['demo.lintelbook', 'ward.lintelbook', 'annex.lintelbook']

  test('looks in every file named', async () => {
    const { code, out, err } = await run(['find', '2604 1203', ...three])
    expect([code, err]).toEqual([0, ''])
    const lines = out.trim().split('\n')
    expect(lines).toHaveLength(2)
    expect(lines[0]).toMatch(/^Harrow Street Clinic: 101 /)
    expect(lines[1]).toMatch(/^Annex: X101, Quiet store/)
  })

  test('as JSON, and no more than asked for of each', async () => {
    const { out } = await run(['find', 'store', ...three, '--json', '--most', '1'])
    const found = JSON.parse(out) as { job: string; path: string }[]
    expect(found.map((each) => each.path).toSorted()).toEqual(
      found
        .map((each) => each.path)
        .filter((each, index, all) => all.indexOf(each) === index)
        .toSorted(),
    )
    expect(found.map((each) => each.job)).toContain('Annex')
  })

  test('nothing found is exit code 1; a file that cannot be opened is said, and the others still answer', async () => {
    const [nothing, one] = await Promise.all([
      run(['find', 'xyzzy', ...three]),
      run(['find', 'quiet store', 'lost.lintelbook', 'annex.lintelbook']),
    ])
    expect(nothing).toEqual({ code: 1, out: '', err: 'Nothing found for "xyzzy".\n' })
    expect([one.code, one.out]).toEqual([1, expect.stringMatching(/^Annex: X101/)])
    expect(one.err).toBe('There is no file lost.lintelbook at this place.\n')
  })
})

const built = path.join(root, 'dist/electron/cli.js')
const lacksBuild = (): Lack =>
  !existsSync(built)
    ? 'dist/ is not there; npm run build makes it'
    : isStale()
      ? 'dist/ is older than the sources; npm run build makes it anew'
      : null

describe('the built command line', () => {
  testWith(lacksBuild(), 'makes, takes in, prints and checks as the sources do', async () => {
    const made = await run(['make', 'built.lintelbook', '--demo'], built)
    expect(made).toEqual({ code: 0, out: 'Made built.lintelbook with 148 openings.\n', err: '' })
    const taken = await run(['take', fixture('bad-hands.csv'), '--into', 'built.lintelbook', '--json'], built)
    expect(JSON.parse(taken.out)).toMatchObject({ form: 'sheet', written: false })
    const printed = await run(['print', 'built.lintelbook', '--to', 'built.pdf'], built)
    expect(printed).toMatchObject({ code: 0, err: '' })
    expect(readFileSync(at('built.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
    const checked = await run(['check', 'built.lintelbook'], built)
    expect(JSON.parse(checked.out)).toMatchObject({ sound: true })
    expect((await run(['make', 'built-new.lintelbook'], built)).code).toBe(0)
  })
})
