// Every fault, done to a real job file: what is done, the sentence a person gets, and where everything is that was
// acknowledged before. Power cuts: kill.test.ts kills a writer a hundred times; rights of other accounts: open.test.ts.
import Database from 'better-sqlite3'
import { execFileSync, spawn } from 'node:child_process'
import { once } from 'node:events'
import fs from 'node:fs'
import path from 'node:path'
import { setTimeout } from 'node:timers/promises'
import { afterEach, describe, expect, test } from 'vitest'
import {
  fileNameForJob,
  listBackups,
  makeJobFile,
  makeJobFromTwin,
  newestBackup,
  openJobFile,
  repairJobFile,
  restoreBackup,
  type JobFile,
} from '../../../electron/store/index.ts'
import { fileOf, opening, optionsAt, smallRecords, temporaryFolder } from './support.ts'

const pageBytes = 4096
const drawing = Buffer.from('a drawing that was attached '.repeat(400))

interface Acknowledged {
  readonly openings: readonly string[]
  readonly sha256: string
}

const addOpening = (file: JobFile, number: number): ReturnType<JobFile['commit']> =>
  file.commit({
    name: `Add ${number}`,
    edits: [
      { does: 'add', kind: 'opening', record: opening(number, { notes: `opening ${number} `.repeat(40) }) },
    ],
  })

/** Adds openings one change each, and gives those that were acknowledged. */
const addSome = (file: JobFile, first: number, count: number): string[] =>
  Array.from({ length: count }, (_, index) => first + index).flatMap((number) =>
    addOpening(file, number).ok ? [`opening-${number}`] : [],
  )

interface Scene {
  readonly jobPath: string
  readonly acknowledged: Acknowledged
}

/** A closed job file with 60 acknowledged changes, an attachment, and a backup of all of it. */
function scene(folder = temporaryFolder(), name = 'clinic'): Scene {
  const jobPath = path.join(folder, `${name}.lintelbook`)
  const file = fileOf(makeJobFile(jobPath, smallRecords(), optionsAt()))
  const openings = ['opening-1', 'opening-2', 'opening-3', ...addSome(file, 100, 60)]
  const attached = file.attach(drawing)
  expect(file.backup().ok).toBe(true)
  file.close()
  return { jobPath, acknowledged: { openings, sha256: attached.ok ? attached.sha256 : '' } }
}

const missingFrom = (file: JobFile, { openings }: Acknowledged): string[] =>
  openings.filter((id) => file.data.get('opening', id) === undefined)

/** Everything acknowledged is there, the file is sound, and work can go on. */
function expectAllKept(file: JobFile, acknowledged: Acknowledged): void {
  expect(missingFrom(file, acknowledged)).toEqual([])
  expect(file.attachment(acknowledged.sha256)).toMatchObject({ ok: true, bytes: drawing })
  expect(file.check()).toEqual({ sound: true, findings: [] })
  expect(addOpening(file, 999).ok).toBe(true)
  expect(file.undo().ok).toBe(true)
}

const inside =
  (sql: string) =>
  (jobPath: string): void => {
    const db = new Database(jobPath)
    db.exec(sql)
    db.close()
  }

function overwrite(jobPath: string, at: number, bytes: Buffer): void {
  const handle = fs.openSync(jobPath, 'r+')
  fs.writeSync(handle, bytes, 0, bytes.length, at)
  fs.closeSync(handle)
}

/** Where the root page of a table or index begins. */
function placeOf(jobPath: string, name: string): number {
  const db = new Database(jobPath, { readonly: true })
  const root = db.prepare<[string], number>('SELECT rootpage FROM sqlite_schema WHERE name = ?').pluck()
  const page = root.get(name) ?? 0
  db.close()
  return (page - 1) * pageBytes
}

/** Overwrites the nth page of a table below its root, as far as the pages hold this table's rows. */
function scribbleLeaf(jobPath: string, table: string): void {
  const db = new Database(jobPath, { readonly: true })
  const last = db.prepare('PRAGMA page_count').pluck().get() as number
  db.close()
  const bytes = fs.readFileSync(jobPath)
  const words = Buffer.from(table === 'opening' ? 'opening 130 opening 130' : 'a drawing that was')
  for (let page = 0; page < last; page++) {
    const place = page * pageBytes
    const piece = bytes.subarray(place, place + pageBytes)
    // A leaf of an index B-tree (10): tables WITHOUT ROWID are kept in one. SQLite file format, 1.6.
    if (piece[0] === 10 && piece.includes(words))
      return overwrite(jobPath, place, Buffer.alloc(pageBytes, 0xa5))
  }
  throw new Error(`no page of ${table}`)
}

/** The file and its journal as a power cut would leave them in the middle of a write. */
function halfWrite(jobPath: string): void {
  const db = new Database(jobPath)
  db.pragma('cache_size = 1')
  db.pragma('cache_spill = 1')
  db.exec(`BEGIN; UPDATE opening SET notes = 'half written'; DELETE FROM leaf`)
  db.exec(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 3000)
    INSERT INTO contact (id, name) SELECT 'contact-' || i, 'somebody with a long name ' || i FROM n`)
  const [bytes, journal] = [fs.readFileSync(jobPath), fs.readFileSync(`${jobPath}-journal`)]
  db.exec('ROLLBACK')
  db.close()
  fs.writeFileSync(jobPath, bytes)
  fs.writeFileSync(`${jobPath}-journal`, journal)
}

type Repair =
  /** Everything is in the repaired file, and nothing is said to be missing. */
  | 'all'
  /** Everything acknowledged is in the repaired file or named in the list of what is not. */
  | 'named'
  /** Nothing can be read; the code of the refusal. */
  | 'nothing-to-salvage'
  | 'not-a-job'
  | 'empty'
  | 'missing'

// What is done to the closed file; the code and words of the sentence at opening; what repairing it gives.
const atOpening: readonly [string, (jobPath: string) => void, string, RegExp, Repair][] = [
  [
    'its first 16 bytes overwritten',
    (file) => overwrite(file, 0, Buffer.alloc(16, 0xff)),
    'not-a-job',
    /not a Lintelbook job file; it was left as it is/,
    'all',
  ],
  [
    'its whole header overwritten',
    (file) => overwrite(file, 0, Buffer.alloc(100, 0)),
    'not-a-job',
    /not a Lintelbook job file/,
    'all',
  ],
  [
    'its list of tables overwritten',
    (file) => overwrite(file, 100, Buffer.alloc(pageBytes - 100, 0xff)),
    'damaged',
    /restore the newest backup, or repair it/,
    'nothing-to-salvage',
  ],
  [
    'a page of openings in the middle',
    (file) => scribbleLeaf(file, 'opening'),
    'damaged',
    /restore the newest backup, or repair it/,
    'named',
  ],
  [
    'the first page of the openings',
    (file) => overwrite(file, placeOf(file, 'opening'), Buffer.alloc(pageBytes, 0)),
    'damaged',
    /restore the newest backup/,
    'named',
  ],
  [
    'the first page of an index',
    (file) => overwrite(file, placeOf(file, 'opening_level_id'), Buffer.alloc(pageBytes, 0)),
    'damaged',
    /restore the newest backup/,
    'all',
  ],
  [
    'the first page of the journal of changes',
    (file) => overwrite(file, placeOf(file, 'change'), Buffer.alloc(pageBytes, 0)),
    'damaged',
    /restore the newest backup/,
    'named',
  ],
  [
    'the job itself',
    (file) => overwrite(file, placeOf(file, 'job'), Buffer.alloc(pageBytes, 0)),
    'damaged',
    /restore the newest backup/,
    'named',
  ],
  [
    'cut to nine tenths',
    (file) => fs.truncateSync(file, Math.floor(fs.statSync(file).size * 0.9)),
    'truncated',
    /was cut short: \d+ of \d+ bytes are there/,
    'named',
  ],
  [
    'cut within its header',
    (file) => fs.truncateSync(file, 60),
    'not-a-job',
    /not a Lintelbook job file/,
    'nothing-to-salvage',
  ],
  [
    'replaced by a foreign database',
    (file) => (fs.rmSync(file), inside('CREATE TABLE invoice (a); INSERT INTO invoice VALUES (1)')(file)),
    'not-a-job',
    /not a Lintelbook job file/,
    'not-a-job',
  ],
  [
    'replaced by a letter',
    (file) => fs.writeFileSync(file, 'Dear Ada,\n'.repeat(2000)),
    'not-a-job',
    /not a Lintelbook job file/,
    'nothing-to-salvage',
  ],
  ['emptied', (file) => fs.truncateSync(file, 0), 'empty', /is empty.*backup beside it/, 'empty'],
  ['deleted', (file) => fs.rmSync(file), 'missing', /There is no file/, 'missing'],
  [
    'written by a newer program',
    inside(`INSERT INTO schema_migration VALUES (99, 'future', 'x', '2030-01-01T00:00:00Z')`),
    'newer',
    /update the program to open it/,
    'all',
  ],
  [
    'a migration in it edited',
    inside(`UPDATE schema_migration SET sha256 = 'x' WHERE number = 1`),
    'edited-migration',
    /different form of step 0001-ground-floor/,
    'all',
  ],
  [
    'given a trigger that deletes',
    inside('CREATE TRIGGER evil AFTER UPDATE ON opening BEGIN DELETE FROM leaf; END'),
    'altered',
    /not as Lintelbook made them \(trigger evil\)/,
    'all',
  ],
  [
    'given a column',
    inside('ALTER TABLE leaf ADD COLUMN colour TEXT'),
    'altered',
    /not as Lintelbook made them \(table leaf\)/,
    'all',
  ],
]

describe('a fault found at opening', () => {
  test.each(atOpening)('%s', (_fault, spoil, code, sentence, repair) => {
    const { jobPath, acknowledged } = scene()
    spoil(jobPath)
    const spoilt = fs.existsSync(jobPath) ? fs.readFileSync(jobPath) : null

    const refused = openJobFile(jobPath, optionsAt())
    expect(refused).toMatchObject({ ok: false, problem: { code } })
    expect(refused.ok ? '' : refused.sentence).toMatch(sentence)
    expect(fs.existsSync(jobPath) ? fs.readFileSync(jobPath) : null, 'left as it is').toEqual(spoilt)

    expectRepaired(jobPath, acknowledged, repair)
    expect(fs.existsSync(jobPath) ? fs.readFileSync(jobPath) : null, 'still left as it is').toEqual(spoilt)

    const backup = newestBackup(jobPath, '2026-03-06T00:00:00Z')
    const restored = restoreBackup(jobPath, backup?.path ?? '', optionsAt('2026-03-06T00:00:00Z'))
    if (!restored.ok) throw new Error(restored.sentence)
    const aside = restored.setAside === null ? null : fs.readFileSync(restored.setAside)
    expect(aside, 'what was there is set aside, byte for byte').toEqual(spoilt)
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt('2026-03-06T01:00:00Z'))), acknowledged)
  })
})

function expectRepaired(jobPath: string, acknowledged: Acknowledged, repair: Repair): void {
  const repairedPath = path.join(path.dirname(jobPath), 'repaired.lintelbook')
  const result = repairJobFile(jobPath, repairedPath, optionsAt())
  if (repair !== 'all' && repair !== 'named') {
    expect(result).toMatchObject({ ok: false, problem: { code: repair } })
    expect(fs.readdirSync(path.dirname(jobPath)).filter((name) => name.startsWith('repaired'))).toEqual([])
    return
  }
  if (!result.ok) throw new Error(result.sentence)
  const file = fileOf(openJobFile(repairedPath, optionsAt()))
  if (repair === 'all') {
    expect(result).toMatchObject({ fromJournal: 0, losses: [] })
    expectAllKept(file, acknowledged)
  } else {
    const list = result.losses.join('\n')
    expect(list).not.toBe('')
    expect(
      missingFrom(file, acknowledged).filter((id) => !list.includes(id)),
      'lost without a word',
    ).toEqual([])
    expect(file.check().findings).toEqual([])
    expect(addOpening(file, 999).ok).toBe(true)
  }
  file.close()
}

describe('repairing', () => {
  test('puts back from the journal what was changed since the job was made', () => {
    const { jobPath, acknowledged } = scene()
    overwrite(jobPath, placeOf(jobPath, 'opening'), Buffer.alloc(pageBytes, 0))
    const repairedPath = `${jobPath.slice(0, -11)} repaired.lintelbook`
    const result = repairJobFile(jobPath, repairedPath, optionsAt())
    expect(result).toMatchObject({ ok: true, fromJournal: 60 })
    const file = fileOf(openJobFile(repairedPath, optionsAt()))
    // The three the job was made with are in no change.
    expect(missingFrom(file, acknowledged)).toEqual(['opening-1', 'opening-2', 'opening-3'])
    const list = result.ok ? result.losses.join('\n') : ''
    for (const id of ['opening-1', 'opening-2', 'opening-3'])
      expect(list).toContain(`The opening ${id} could not be read.`)
    expect(list).toContain(
      'The leaf leaf-1 belonged to the opening opening-1, which is gone; it was left out.',
    )
  })

  test('of an older schema brings it up to date', () => {
    const shipped = path.resolve(import.meta.dirname, '../../../fixtures/shipped-schemas/0001.lintelbook')
    const jobPath = path.join(temporaryFolder(), 'old.lintelbook')
    fs.copyFileSync(shipped, jobPath)
    overwrite(jobPath, 0, Buffer.alloc(16, 0xff))
    const repairedPath = path.join(path.dirname(jobPath), 'repaired.lintelbook')
    expect(repairJobFile(jobPath, repairedPath, optionsAt())).toMatchObject({ ok: true, fromJournal: 0 })
    const [old, repaired] = [shipped, repairedPath].map((each) =>
      fileOf(openJobFile(each, optionsAt(undefined, { readOnly: true }))),
    )
    expect(repaired?.data.count('opening')).toBe(old?.data.count('opening'))
    expect(repaired?.data.count('link')).toBe(old?.data.count('link'))
  })

  test('never writes over a file, and not while the job is open here', () => {
    const { jobPath } = scene()
    expect(repairJobFile(jobPath, jobPath, optionsAt())).toMatchObject({ problem: { code: 'exists' } })
    fileOf(openJobFile(jobPath, optionsAt()))
    const refused = repairJobFile(jobPath, `${jobPath}.new`, optionsAt())
    expect(refused.ok ? '' : refused.sentence).toBe(
      'clinic.lintelbook is open in this program; close it first.',
    )
  })
})

describe('half written when the power went', () => {
  test('the next opening rolls it back', () => {
    const { jobPath, acknowledged } = scene()
    halfWrite(jobPath)
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    expect(file.data.count('contact')).toBe(0)
    expectAllKept(file, acknowledged)
  })

  test('where nothing can be written, a sentence says what to do', () => {
    const { jobPath, acknowledged } = scene()
    halfWrite(jobPath)
    const refused = openJobFile(jobPath, optionsAt(undefined, { readOnly: true }))
    expect(refused.ok ? '' : refused.sentence).toBe(
      'Saving clinic.lintelbook was interrupted; open it once from where it can be written, and it puts itself right.',
    )
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
  })

  test('restoring sets the half-written journal aside with its file, and does not roll it into the backup', () => {
    const { jobPath, acknowledged } = scene()
    halfWrite(jobPath)
    const restored = restoreBackup(jobPath, listBackups(jobPath)[0]?.path ?? '', optionsAt())
    if (!restored.ok) throw new Error(restored.sentence)
    expect(fs.existsSync(`${restored.setAside}-journal`)).toBe(true)
    expect(fs.existsSync(`${jobPath}-journal`)).toBe(false)
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
    expectAllKept(fileOf(openJobFile(restored.setAside ?? '', optionsAt())), acknowledged)
  })

  test('repairing rolls it back in the copy, and leaves the file and its journal', () => {
    const { jobPath, acknowledged } = scene()
    halfWrite(jobPath)
    const before = [fs.readFileSync(jobPath), fs.readFileSync(`${jobPath}-journal`)]
    expectRepaired(jobPath, acknowledged, 'all')
    expect([fs.readFileSync(jobPath), fs.readFileSync(`${jobPath}-journal`)]).toEqual(before)
  })
})

describe('restoring', () => {
  test('is refused while somebody has the job open, here or elsewhere, and the job stays as it is', () => {
    const { jobPath, acknowledged } = scene()
    const backup = listBackups(jobPath)[0]?.path ?? ''
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    expect(restoreBackup(jobPath, backup, optionsAt())).toMatchObject({ problem: { code: 'open-here' } })
    file.close()
    const lock = new Database(`${jobPath}-lock`)
    lock.exec('CREATE TABLE t (a); BEGIN IMMEDIATE')
    const before = fs.readFileSync(jobPath)
    const held = restoreBackup(jobPath, backup, optionsAt())
    expect(held.ok ? '' : held.sentence).toMatch(/has had clinic\.lintelbook open on/)
    lock.close()
    expect(fs.readFileSync(jobPath).equals(before)).toBe(true)
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
  })

  test('what is no sound job is not put in its place', () => {
    const { jobPath, acknowledged } = scene()
    const backup = listBackups(jobPath)[0]?.path ?? ''
    scribbleLeaf(backup, 'opening')
    expect(restoreBackup(jobPath, backup, optionsAt())).toMatchObject({ problem: { code: 'damaged' } })
    expect(restoreBackup(jobPath, `${backup} no`, optionsAt())).toMatchObject({
      problem: { code: 'missing' },
    })
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
  })

  test('is in the history, and what is done after it counts as newer than what was gone back from', () => {
    const { jobPath } = scene()
    const [first] = listBackups(jobPath)
    const file = fileOf(openJobFile(jobPath, optionsAt('2026-03-06T00:00:00Z')))
    addSome(file, 300, 10)
    expect(file.backup().ok).toBe(true)
    file.close()
    expect(restoreBackup(jobPath, first?.path ?? '', optionsAt('2026-03-07T00:00:00Z')).ok).toBe(true)
    // The clock of this machine fell back before all of it.
    const again = fileOf(openJobFile(jobPath, optionsAt('2020-01-01T00:00:00Z')))
    expect(again.history(1)).toMatchObject([
      { name: `Go back to ${path.basename(first?.path ?? '')}`, state: 'dropped' },
    ])
    expect([again.undoName, again.revision]).toEqual(['Add 159', 71])
    addSome(again, 400, 1)
    expect(again.backup().ok).toBe(true)
    again.close()
    const newest = fileOf(openJobFile(newestBackup(jobPath, '2020-02-01T00:00:00Z')?.path ?? '', optionsAt()))
    expect(newest.data.get('opening', 'opening-400')).toBeDefined()
  })

  test('what is set aside is neither a backup nor thinned out with them', () => {
    const { jobPath } = scene()
    const backup = listBackups(jobPath)[0]?.path ?? ''
    const asides = [1, 2].map(() =>
      restoreBackup(jobPath, backup, { ...optionsAt(), now: () => '2026-03-06T00:00:00Z' }),
    )
    const paths = asides.map((each) => (each.ok ? each.setAside : null))
    expect(new Set(paths).size).toBe(2)
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    for (let count = 0; count < 14; count++) {
      addSome(file, 500 + count, 1)
      expect(file.backup().ok).toBe(true)
    }
    expect(listBackups(jobPath).length, 'thinned out').toBeLessThan(15)
    expect(listBackups(jobPath).filter((each) => paths.includes(each.path))).toEqual([])
    for (const each of paths) expect(fs.existsSync(each ?? ''), String(each)).toBe(true)
  })
})

/** Numbers from 0 to 1 that are the same in every run. */
function seeded(seed: number): () => number {
  let state = seed
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return state / 2 ** 32
  }
}

test('killed 12 times while restoring: what was acknowledged is in the job', async () => {
  const { jobPath, acknowledged } = scene()
  const script = path.join(import.meta.dirname, 'child-restores.ts')
  const random = seeded(20_261_125)
  const openings = [...acknowledged.openings]
  for (let time = 0, next = 1000; time < 12; time++, next += 100) {
    const child = spawn(process.execPath, [script, jobPath, String(next)], {
      stdio: ['ignore', 'pipe', 'inherit'],
    })
    let said = ''
    child.stdout.setEncoding('utf8').on('data', (words: string) => (said += words))
    const closed = once(child, 'close')
    await Promise.race([once(child.stdout, 'data'), closed])
    await setTimeout(random() * 250)
    child.kill('SIGKILL')
    await closed
    expect(child.signalCode).toBe('SIGKILL')
    const whole = said.slice(0, said.lastIndexOf('\n') + 1)
    openings.push(...[...whole.matchAll(/^kept (\d+)$/gm)].map((match) => `opening-${match[1]}`))
    const file = fileOf(openJobFile(jobPath, optionsAt('2026-03-20T00:00:00Z')))
    expect(missingFrom(file, { ...acknowledged, openings }), `after kill ${time + 1}`).toEqual([])
    expect(file.check().findings).toEqual([])
    file.close()
  }
  console.log(`12 kills while restoring, ${openings.length} openings acknowledged and present`)
  expect(openings.length).toBeGreaterThan(acknowledged.openings.length + 12)
})

describe('repairing the demo job after damage at random places', () => {
  // What is damaged: whole pages overwritten or emptied, bytes changed here and there, or the end cut off.
  test('never throws; what it makes is sound; every opening is there or named', () => {
    const folder = temporaryFolder()
    const [jobPath, damaged, repaired] = ['demo', 'damaged', 'repaired'].map((name) =>
      path.join(folder, `${name}.lintelbook`),
    ) as [string, string, string]
    const twin = path.resolve(import.meta.dirname, '../../../fixtures/demo/harrow-street-clinic.json')
    const made = makeJobFromTwin(jobPath, fs.readFileSync(twin, 'utf8'), optionsAt())
    if (!made.ok) throw new Error(made.sentence)
    const openings = [...made.file.data.all('opening')].map(({ id }) => id as string)
    made.file.close()
    const bytes = fs.readFileSync(jobPath)
    const random = seeded(7)
    const below = (count: number): number => Math.floor(random() * count)
    let saved = 0
    for (let time = 0; time < 20; time++) {
      const spoilt = Buffer.from(bytes)
      for (let count = 1 + below(4); count > 0; count--) {
        const place = pageBytes * below(bytes.length / pageBytes)
        const form = below(3)
        if (form < 2) spoilt.fill(form === 0 ? 0xa5 : 0, place, place + pageBytes)
        else for (let each = 0; each < 30; each++) spoilt[place + below(pageBytes)] = below(256)
      }
      fs.writeFileSync(damaged, time % 5 === 4 ? spoilt.subarray(0, below(bytes.length)) : spoilt)
      fs.rmSync(repaired, { force: true })
      const result = repairJobFile(damaged, repaired, optionsAt())
      if (!result.ok) {
        expect(result.problem.code, `damage ${time}`).toBe('nothing-to-salvage')
        continue
      }
      saved++
      const file = fileOf(openJobFile(repaired, optionsAt()))
      expect(file.check().findings, `damage ${time}`).toEqual([])
      const list = result.losses.join('\n')
      const unnamed = openings.filter(
        (id) => file.data.get('opening', id) === undefined && !list.includes(id),
      )
      // Where its own pages and all that refers to it are gone, the list says that more is gone than it can name.
      if (unnamed.length > 0)
        expect(list, `damage ${time}`).toContain('Part of the list of opening could not be read')
      file.close()
    }
    console.log(`20 damaged files, ${saved} repaired, of the others the list of tables is gone`)
    expect(saved).toBeGreaterThan(12)
  })
})

interface Broken {
  readonly file: JobFile
  readonly jobPath: string
}

// What is done while the job is open; the code and words of the next change; how the fault goes away again.
const whileOpen: readonly [string, (scene: Broken) => () => void, string, RegExp][] = [
  [
    'the folder is renamed away, as a share that goes',
    ({ jobPath }) => {
      const folder = path.dirname(jobPath)
      fs.renameSync(folder, `${folder}-away`)
      return () => fs.renameSync(`${folder}-away`, folder)
    },
    'gone',
    /moved, deleted or replaced while it was open, so your last change was not made/,
  ],
  [
    'the file is moved away',
    ({ jobPath }) => {
      fs.renameSync(jobPath, `${jobPath}.moved`)
      return () => fs.renameSync(`${jobPath}.moved`, jobPath)
    },
    'gone',
    /put it back, or open it anew/,
  ],
  [
    'another file is put in its place',
    ({ jobPath }) => {
      fs.renameSync(jobPath, `${jobPath}.moved`)
      fs.copyFileSync(listBackups(jobPath)[0]?.path ?? '', jobPath)
      return () => fs.renameSync(`${jobPath}.moved`, jobPath)
    },
    'gone',
    /moved, deleted or replaced/,
  ],
  [
    'another program writes past the lock',
    ({ jobPath }) => {
      inside(`UPDATE change SET revision = revision + 1 WHERE seq = (SELECT max(seq) FROM change)`)(jobPath)
      return () => undefined
    },
    'overtaken',
    /your last change was not made; the job was read again/,
  ],
  [
    'another program holds the file for itself',
    ({ jobPath }) => {
      const db = new Database(jobPath)
      db.exec('BEGIN EXCLUSIVE')
      return () => void db.close()
    },
    'busy',
    /try again in a moment/,
  ],
]

describe('a fault while the job is open', () => {
  test.each(whileOpen)('%s', (_fault, breakIt, code, sentence) => {
    const { jobPath, acknowledged } = scene()
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    const more = addSome(file, 200, 5)
    const mend = breakIt({ file, jobPath })
    const refused = addOpening(file, 300)
    expect(refused).toMatchObject({ ok: false, problem: { code } })
    expect(refused.ok ? '' : refused.sentence).toMatch(sentence)
    expect(file.data.get('opening', 'opening-300'), 'not shown as if it were kept').toBeUndefined()
    // Nothing of this may throw, whatever is gone.
    expect(() => [file.holder, file.refresh(), file.backupWhenDue(), file.check()]).not.toThrow()
    if (code === 'gone')
      expect(fs.existsSync(`${jobPath}-backups`)).toBe(fs.existsSync(path.dirname(jobPath)))
    mend()
    more.push(...addSome(file, 310, 5))
    expect(more).toHaveLength(10)
    file.close()
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), {
      ...acknowledged,
      openings: [...acknowledged.openings, ...more],
    })
  })

  test('two programs on one file: the second reads, and is told who has it', () => {
    const { jobPath, acknowledged } = scene()
    const first = fileOf(openJobFile(jobPath, optionsAt()))
    const second = fileOf(openJobFile(jobPath, optionsAt(undefined, { who: 'Ben Desk' })))
    const refused = addOpening(second, 300)
    expect(refused.ok ? '' : refused.sentence).toMatch(
      /^Ada Fitter has had clinic\.lintelbook open on .+; you can read it meanwhile\.$/,
    )
    const more = addSome(first, 200, 5)
    second.refresh()
    expect(missingFrom(second, { ...acknowledged, openings: more })).toEqual([])
    second.close()
    first.close()
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), {
      ...acknowledged,
      openings: [...acknowledged.openings, ...more],
    })
  })
})

const mounted: string[] = []
afterEach(() => {
  for (const folder of mounted.splice(0)) execFileSync('umount', ['-l', folder])
})

/** A small disk of its own, for as long as the test. */
function smallDisk(megabytes: number): string {
  const folder = temporaryFolder()
  execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder])
  mounted.push(folder)
  return folder
}

function canMount(): boolean {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return false
  const folder = fs.mkdtempSync('/tmp/lintelbook-mount-')
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', folder], { stdio: 'ignore' })
    execFileSync('umount', [folder])
    return true
  } catch {
    return false
  } finally {
    fs.rmdirSync(folder)
  }
}
const hasMounts = canMount()
if (!hasMounts)
  console.log('Skipped: a full disk and a read-only disk need Linux, root and the right to mount a tmpfs.')

const fillDisk = (folder: string): (() => void) => {
  const ballast = path.join(folder, 'ballast')
  const handle = fs.openSync(ballast, 'w')
  try {
    for (const bytes of [65_536, 4096])
      for (;;) if (fs.writeSync(handle, Buffer.alloc(bytes, 1)) < bytes) break
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'ENOSPC')) throw error
  } finally {
    fs.closeSync(handle)
  }
  return () => fs.rmSync(ballast)
}

describe.skipIf(!hasMounts)('a full disk (a tmpfs of a few megabytes)', () => {
  test('changes are refused with a sentence, what was acknowledged stays, and work goes on once there is room', () => {
    const folder = smallDisk(8)
    const { jobPath, acknowledged } = scene(folder)
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    const makeRoom = fillDisk(folder)
    const more = addSome(file, 200, 40)
    const refused = addOpening(file, 400)
    expect(refused.ok ? '' : refused.sentence).toBe(
      'There is no room left on the disk for clinic.lintelbook; the last change was not kept, everything before it was.',
    )
    expect(file.attach(Buffer.alloc(500_000, 7))).toMatchObject({ ok: false, problem: { code: 'disk-full' } })
    expect(file.backup()).toMatchObject({ ok: false, problem: { code: 'disk-full' } })
    expect(file.check().findings).toEqual([])
    makeRoom()
    more.push(...addSome(file, 410, 5))
    file.close()
    const again = fileOf(openJobFile(jobPath, optionsAt()))
    expect(again.data.get('opening', 'opening-400')).toBeUndefined()
    expectAllKept(again, { ...acknowledged, openings: [...acknowledged.openings, ...more] })
  })

  test('opening still opens, and says that there was no backup today', () => {
    const folder = smallDisk(8)
    const { jobPath, acknowledged } = scene(folder)
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    addSome(file, 200, 1)
    file.close()
    const makeRoom = fillDisk(folder)
    const again = fileOf(openJobFile(jobPath, optionsAt('2026-03-09T00:00:00Z')))
    // With no room for the lock beside it, the job can be read.
    expect(again.readOnly || again.notices.some(({ code }) => code === 'no-backup-today')).toBe(true)
    expect(missingFrom(again, acknowledged)).toEqual([])
    again.close()
    makeRoom()
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
  })

  test.each([
    ['making', (jobPath: string) => makeJobFile(`${jobPath}.new`, smallRecords(), optionsAt())],
    [
      'restoring',
      (jobPath: string) => restoreBackup(jobPath, listBackups(jobPath)[0]?.path ?? '', optionsAt()),
    ],
    ['repairing', (jobPath: string) => repairJobFile(jobPath, `${jobPath}.new`, optionsAt())],
  ])('%s is refused and leaves nothing half made', (_what, attempt) => {
    const folder = smallDisk(8)
    const { jobPath, acknowledged } = scene(folder)
    const makeRoom = fillDisk(folder)
    // A lock that nobody holds may stay; it does no harm.
    const there = (): string[] =>
      fs
        .readdirSync(folder, { recursive: true, encoding: 'utf8' })
        .filter((name) => !name.endsWith('-lock'))
        .toSorted((one, other) => (one < other ? -1 : 1))
    const before = there()
    const refused = attempt(jobPath)
    expect(refused.ok ? '' : refused.problem.code).toMatch(/^(disk-full|no-lock)$/)
    expect(there()).toEqual(before)
    makeRoom()
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
  })
})

describe.skipIf(!hasMounts)('a disk that cannot be written', () => {
  test('the job can be read, a change is refused with the reason', () => {
    const folder = smallDisk(8)
    const { jobPath, acknowledged } = scene(folder)
    execFileSync('mount', ['-o', 'remount,ro', folder])
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    expect(missingFrom(file, acknowledged)).toEqual([])
    const refused = addOpening(file, 300)
    expect(refused.ok ? '' : refused.sentence).toMatch(
      /^clinic\.lintelbook can only be read here, because nothing can be written beside it/,
    )
    file.close()
    const restored = restoreBackup(jobPath, listBackups(jobPath)[0]?.path ?? '', optionsAt())
    expect(restored).toMatchObject({ ok: false, problem: { code: 'no-lock' } })
    execFileSync('mount', ['-o', 'remount,rw', folder])
    expectAllKept(fileOf(openJobFile(jobPath, optionsAt())), acknowledged)
  })
})

describe('a clock that jumps', () => {
  // Each entry is the time at one opening; two changes are made at each.
  test.each([
    ['back to 1970', ['2026-03-05T12:00:00Z', '1970-01-01T00:00:00Z', '2026-03-06T12:00:00Z']],
    ['ahead to 2099 and back', ['2026-03-05T12:00:00Z', '2099-12-31T23:59:59Z', '2026-03-06T12:00:00Z']],
    [
      'an hour back, at the end of summer',
      ['2026-10-25T00:59:59Z', '2026-10-25T00:00:00Z', '2026-10-25T01:00:00Z'],
    ],
  ])('%s: changes stay in the order they were made, and none is lost', (_what, times) => {
    const { jobPath, acknowledged } = scene()
    const more: string[] = []
    for (const [index, time] of times.entries()) {
      const file = fileOf(openJobFile(jobPath, optionsAt(time)))
      expect(file.readOnly).toBe(false)
      more.push(...addSome(file, 200 + index * 2, 2))
      expect(file.backup().ok).toBe(true)
      file.close()
    }
    const file = fileOf(openJobFile(jobPath, optionsAt('2026-12-01T00:00:00Z')))
    const names = file.history(6).map((entry) => entry.name)
    expect(names).toEqual([205, 204, 203, 202, 201, 200].map((number) => `Add ${number}`))
    expect(file.undoName).toBe('Add 205')
    expectAllKept(file, { ...acknowledged, openings: [...acknowledged.openings, ...more] })
    // The one to go back to is the newest of the past, and it holds everything.
    const backup = newestBackup(jobPath, '2026-12-01T00:00:00Z')
    expect(backup?.revision).toBe(66)
  })

  test('the lock does not age: whoever has it keeps it, and a dead one’s is free at once', () => {
    const { jobPath } = scene()
    const first = fileOf(openJobFile(jobPath, optionsAt('2026-03-05T12:00:00Z')))
    const later = fileOf(openJobFile(jobPath, optionsAt('2099-01-01T00:00:00Z')))
    expect(later.readOnlyBecause?.code).toBe('held')
    expect(addOpening(first, 300).ok).toBe(true)
    first.close()
    later.close()
    // A lock file from the future that nobody holds.
    const left = new Database(`${jobPath}-lock`)
    left.exec(`CREATE TABLE holder (id INTEGER PRIMARY KEY, name TEXT, machine TEXT, program TEXT, since TEXT);
      INSERT INTO holder VALUES (1, 'Somebody', 'elsewhere', '', '2099-01-01T00:00:00Z')`)
    left.close()
    expect(fileOf(openJobFile(jobPath, optionsAt())).readOnly).toBe(false)
  })

  test('backups of a clock that ran ahead are kept, and are not the first to go back to', () => {
    const { jobPath } = scene()
    const ahead = fileOf(openJobFile(jobPath, optionsAt('2099-01-01T00:00:00Z')))
    expect(ahead.backup().ok).toBe(true)
    ahead.close()
    expect(listBackups(jobPath)).toHaveLength(2)
    expect(newestBackup(jobPath, '2026-04-01T00:00:00Z')?.madeAt.slice(0, 4)).toBe('2026')
    expect(newestBackup(jobPath, '2026-01-01T00:00:00Z')?.madeAt.slice(0, 4), 'better than none').toBe('2099')
  })
})

// The name of a job; the name of its file. Reserved names: Microsoft, "Naming Files, Paths, and Namespaces".
const jobNames: readonly [string, string][] = [
  ['Harrow Street Clinic', 'Harrow Street Clinic'],
  ['Klinik Straße 扉 🚪', 'Klinik Straße 扉 🚪'],
  ['عيادة الشارع', 'عيادة الشارع'],
  ['a\u202Egpj.exe', 'a gpj.exe'],
  ['two\nlines\tand a tab', 'two lines and a tab'],
  [`"quoted" and 'quoted'`, `quoted and 'quoted'`],
  ['../../etc/passwd', 'etc passwd'],
  ['..\\..\\Windows\\System32', 'Windows System32'],
  ['..', 'Job'],
  ['   ', 'Job'],
  ['...name...', 'name'],
  ['CON', 'Job CON'],
  ['nul.txt', 'Job nul.txt'],
  ['COM¹', 'Job COM¹'],
  ['com10', 'com10'],
  ['C:\\jobs', 'C jobs'],
  ['a/b:c*d?e"f<g>h|i', 'a b c d e f g h i'],
  ['x'.repeat(500), 'x'.repeat(100)],
  ['扉'.repeat(200), '扉'.repeat(33)],
  // A family of four is one character of 25 bytes, never cut in two.
  ['👨‍👩‍👧‍👦'.repeat(30), '👨‍👩‍👧‍👦'.repeat(4)],
  ['half \uD83D', 'half \u{FFFD}'],
  ['NULL\0byte', 'NULL byte'],
]

describe('a name with any characters', () => {
  test.each(jobNames)('the job %j lies in the file %j', (name, fileName) => {
    expect(fileNameForJob(name)).toBe(fileName)
    const folder = temporaryFolder()
    const jobPath = path.join(folder, `${fileNameForJob(name)}.lintelbook`)
    expect(path.dirname(jobPath), 'not outside').toBe(folder)
    const file = fileOf(makeJobFile(jobPath, smallRecords(), optionsAt()))
    expect(addSome(file, 100, 1)).toHaveLength(1)
    expect(file.backup().ok).toBe(true)
    file.close()
    expect(listBackups(jobPath)).toHaveLength(1)
    expect(restoreBackup(jobPath, listBackups(jobPath)[0]?.path ?? '', optionsAt()).ok).toBe(true)
    expect(fileOf(openJobFile(jobPath, optionsAt())).data.get('opening', 'opening-100')).toBeDefined()
    expect(fs.readdirSync(folder).every((each) => each.startsWith(fileNameForJob(name)))).toBe(true)
  })

  test.each(['line\nbreak', 'a\u202Ekoobletnil', 'tab\tbed'])(
    'a file called %j gets a sentence of one line',
    (name) => {
      const jobPath = path.join(temporaryFolder(), `${name}.lintelbook`)
      const refused = openJobFile(jobPath, optionsAt())
      expect(refused.ok ? '' : refused.sentence).toMatch(
        /^There is no file [^\p{Cc}\u202E]+ at this place\.$/u,
      )
    },
  )

  test.each([
    [210, null],
    [238, 'name-too-long'],
  ])('a file name of %i letters: worked in and backed up, or read and told', (letters, code) => {
    const jobPath = path.join(temporaryFolder(), `${'n'.repeat(letters)}.lintelbook`)
    const { jobPath: short, acknowledged } = scene()
    fs.copyFileSync(short, jobPath)
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    expect(missingFrom(file, acknowledged)).toEqual([])
    expect(file.readOnlyBecause?.code ?? null).toBe(code)
    if (code === null)
      expect([addOpening(file, 100).ok, addOpening(file, 900).ok, file.backup().ok]).toEqual([
        false,
        true,
        true,
      ])
    else {
      const refused = addOpening(file, 900)
      expect(refused.ok ? '' : refused.sentence).toMatch(
        /is too long to write anything beside it; give the file a shorter name\.$/,
      )
    }
    const made = makeJobFile(`${jobPath}`.replace('nnn', 'mmm'), smallRecords(), optionsAt())
    expect(made.ok ? null : made.problem.code).toBe(code)
    if (made.ok) made.file.close()
  })
})

describe('an attachment of which one bit changed on the disk', () => {
  test('is refused on reading and named by the checkup; repairing leaves it out and says so', () => {
    const { jobPath, acknowledged } = scene()
    const bytes = fs.readFileSync(jobPath)
    const place = bytes.indexOf(drawing.subarray(0, 200))
    overwrite(jobPath, place + 100, Buffer.from([(bytes[place + 100] ?? 0) ^ 1]))
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    const read = file.attachment(acknowledged.sha256)
    expect(read.ok ? '' : read.sentence).toMatch(
      /is not what was put in; its bytes no longer match their hash/,
    )
    expect(file.check().findings).toEqual([read.ok ? '' : read.sentence])
    expect(missingFrom(file, acknowledged), 'the job itself is there').toEqual([])
    file.close()
    const repaired = repairJobFile(jobPath, `${jobPath}.new`, optionsAt())
    expect(repaired.ok ? repaired.losses : []).toEqual([
      `The attachment ${acknowledged.sha256.slice(0, 12)} is not what was put in; it was left out.`,
    ])
    const backup = fileOf(openJobFile(listBackups(jobPath)[0]?.path ?? '', optionsAt()))
    expect(backup.attachment(acknowledged.sha256), 'whole in the backup').toMatchObject({ ok: true })
  })
})
