// From a job to a sealed issue: what is open, the seal, the twin inside, what differs afterwards, stopping and choosing.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import type { BinderProgress, BinderWanted } from '../../../core/contract/index.ts'
import { chapterKeys, chapterTitles, type ChapterKey } from '../../../core/documents/index.ts'
import { readTwin } from '../../../core/exchange/index.ts'
import { recordKinds, type JobData } from '../../../core/job/index.ts'
import { testWith } from '../../tools/skipping.ts'
import { linksOf, readBack, type Outline } from '../../renderer/paper/read-back.ts'
import { bytesOf, start, startEmpty, temporaryFolder, textOf, type Running } from './support.ts'

const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-handover-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const lacksQpdf = spawnSync('qpdf', ['--version']).error === undefined ? null : 'qpdf is not installed'

/** Few pages: what a test of the seal itself needs. */
const fewChapters: readonly ChapterKey[] = ['summary', 'signatures', 'differences']

const sealing = (
  name: string,
  more: Partial<Extract<BinderWanted, { does: 'seal' }>> = {},
): BinderWanted => ({
  does: 'seal',
  form: 'handover',
  name,
  notes: null,
  chapters: [...fewChapters],
  evenSo: true,
  ...more,
})

async function ended({ ask }: Running, jobId: string): Promise<BinderProgress> {
  for (;;) {
    const progress = await ask('handover.progress', { jobId })
    if (progress.state !== 'under way') return progress
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
}

async function make(running: Running, wanted: BinderWanted): Promise<BinderProgress> {
  const { jobId } = await running.ask('handover.start', { wanted })
  return ended(running, jobId)
}

/** A small job with two openings and somebody to name as who makes the workbook. */
async function small(): Promise<Running> {
  const running = await startEmpty()
  const { frame } = await running.schedule()
  await running.change({
    does: 'add openings',
    levelId: frame.levels[0]?.id ?? '',
    firstMark: '101',
    count: 2,
  })
  await running.change({
    does: 'change records',
    name: 'Add a contact',
    add: [
      {
        kind: 'contact',
        record: {
          id: 'new:contact',
          name: 'Ada Fitter',
          company: 'Fitters',
          role: 'Integrator',
          email: 'ada@fitters.example',
          phone: null,
          notes: null,
        },
      },
    ],
    set: [],
    remove: [],
  })
  return running
}

const recordsOf = (data: JobData): Record<string, unknown[]> =>
  Object.fromEntries(
    recordKinds.map((kind) => [
      kind,
      [...data.all(kind)].toSorted((one, other) => (one.id < other.id ? -1 : 1)),
    ]),
  )

const dataOf = (text: string): JobData => {
  const read = readTwin(text)
  if (!read.ok) throw new Error(read.problem.sentence)
  return read.twin.data
}

async function fileAt({ ask }: Running, progress: BinderProgress, ending: string): Promise<string> {
  const index = progress.made.findIndex(({ fileName }) => fileName.endsWith(ending))
  const kept = path.join(folder, `${progress.jobId}${ending.replaceAll(' ', '-')}`)
  writeFileSync(kept, bytesOf(await ask('handover.file', { jobId: progress.jobId, index })))
  return kept
}

describe('sealing a small job', () => {
  test('keeps state, results, both copies, workbook and calendar in one change, each by its hash', async () => {
    const running = await small()
    const before = dataOf(await running.twin())
    const progress = await make(running, sealing('Handover issue 1'))
    expect(progress).toMatchObject({ state: 'done', trouble: null, warnings: [] })
    const { issues } = await running.ask('handover.read', {})
    expect(issues).toHaveLength(1)
    const [line] = issues
    expect(line).toMatchObject({
      isSealed: true,
      issue: { name: 'Handover issue 1', form: 'handover', who: 'Ada Fitter' },
    })
    expect(line?.documents.map(({ mediaType }) => mediaType)).toEqual([
      'application/pdf',
      'application/pdf',
      'application/json',
      'application/json',
      'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
      'text/calendar',
    ])
    for (const { id, sha256, byteCount } of line?.documents ?? []) {
      const bytes = bytesOf(await running.ask('handover.kept', { issueDocumentId: id }))
      expect(createHash('sha256').update(bytes).digest('hex')).toBe(sha256)
      expect(bytes.byteLength).toBe(byteCount)
    }
    const { entries } = await running.ask('history.read', { limit: 10 })
    expect(entries[0]?.name).toBe('Seal Handover issue 1')
    await running.ask('change.undo', {})
    expect(recordsOf(dataOf(await running.twin()))).toEqual(recordsOf(before))
  }, 60_000)

  testWith(
    lacksQpdf,
    'the twin out of the sealed binder is the job as it was sealed, and opens as a job',
    async () => {
      const running = await small()
      const before = await running.twin()
      const progress = await make(running, sealing('Handover issue 1'))
      const archive = await fileAt(running, progress, 'archive copy.pdf')
      const listed = spawnSync('qpdf', ['--list-attachments', archive], { encoding: 'utf8' }).stdout
      expect(listed).toContain('Ward block.json')
      const text = spawnSync('qpdf', ['--show-attachment=Ward block.json', archive], {
        encoding: 'utf8',
        maxBuffer: 100_000_000,
      }).stdout
      expect(recordsOf(dataOf(text))).toEqual(recordsOf(dataOf(before)))
      const fresh = await start(temporaryFolder(), {
        openPath: path.join(temporaryFolder(), 'none.lintelbook'),
      })
      await fresh.ask('twin.read', {
        fileName: 'Ward block.json',
        base64: Buffer.from(text).toString('base64'),
      })
      expect(recordsOf(dataOf(await fresh.twin()))).toEqual(recordsOf(dataOf(before)))
    },
  )

  test('a second issue does not carry the first inside, and says what differs', async () => {
    const running = await small()
    await make(running, sealing('Handover issue 1'))
    const { id } = await running.row('101')
    await running.change({
      does: 'set cells',
      how: 'type',
      cells: [{ openingId: id, column: 'hand', text: 'LHR' }],
      unreadable: 'refuse',
    })
    const { lastSealedId } = await running.ask('handover.read', {})
    const told = await running.ask('handover.differences', { issueId: lastSealedId ?? '' })
    expect(told?.since).toBe('Handover issue 1')
    expect(told?.difference.openings).toMatchObject([
      { mark: '101', differences: [{ what: 'Hand', before: null, after: 'LHR' }] },
    ])
    expect(await running.ask('handover.differences', { issueId: 'gone' })).toBeNull()
    const second = await make(running, sealing('Handover issue 2'))
    const { issues } = await running.ask('handover.read', {})
    const twin = issues[0]?.documents.find(({ name }) => name === 'Ward block.json')
    const kept = JSON.parse(
      textOf(await running.ask('handover.kept', { issueDocumentId: twin?.id ?? '' })),
    ) as { attachments: object; records: { issue: unknown[] } }
    expect(second.state).toBe('done')
    expect(kept.attachments).toEqual({})
    expect(kept.records.issue).toHaveLength(1)
  }, 60_000)

  test('a name is taken once, and a job that can only be read is not sealed', async () => {
    const running = await small()
    await make(running, sealing('Handover issue 1'))
    const again = await running.refusal('handover.start', { wanted: sealing('handover ISSUE 1 ') })
    expect(again.sentence).toContain('already has an issue called Handover issue 1')
  }, 60_000)

  test('stopped, it leaves the job as it was', async () => {
    const running = await small()
    const before = await running.twin()
    const { jobId } = await running.ask('handover.start', { wanted: sealing('Handover issue 1') })
    const busy = await running.refusal('handover.start', { wanted: sealing('Another') })
    expect(busy.code).toBe('busy')
    await running.ask('handover.stop', { jobId })
    expect((await ended(running, jobId)).state).toBe('stopped')
    expect(await running.twin()).toBe(before)
  }, 60_000)
})

describe('the demo job', () => {
  const demo = async (): Promise<Running> => {
    const running = await start(temporaryFolder())
    await running.ask('job.openDemo', {})
    return running
  }
  const titlesOf = (outlines: readonly Outline[]): readonly string[] => outlines.map(({ title }) => title)

  test('says what was planted, and asks before it is sealed', async () => {
    const running = await demo()
    const { standing } = await running.ask('handover.read', {})
    const marks = (key: string) => standing.find((line) => line.key === key)?.openings.map(({ mark }) => mark)
    expect(marks('can trap')).toEqual(['210'])
    expect(marks('failed')).toEqual(['210', '223'])
    const problem = await running.refusal('handover.start', {
      wanted: sealing('Handover issue 1', { evenSo: false }),
    })
    expect(problem).toMatchObject({ code: 'asks-first' })
    expect(problem.sentence).toContain('1 opening can trap someone.')
  }, 60_000)

  testWith(
    lacksQpdf,
    'one opening alone has its page and only the chapters that speak of it, in the order chosen',
    async () => {
      const running = await demo()
      const { id } = await running.row('118')
      const progress = await make(running, {
        does: 'print',
        of: { openingId: id },
        chapters: ['findings', 'openings', 'power', 'summary'],
        copies: ['reading'],
      })
      expect(progress).toMatchObject({ state: 'done', trouble: null })
      const file = await fileAt(running, progress, 'reading copy.pdf')
      expect(spawnSync('qpdf', ['--check', file]).status).toBe(0)
      const back = readBack(file)
      const { outlines, pages } = back
      const titles = titlesOf(outlines)
      expect(titles.filter((each) => Object.values(chapterTitles).includes(each as never))).toEqual([
        chapterTitles.findings,
        chapterTitles.openings,
      ])
      expect(pages.length).toBeGreaterThan(6)
      const contents = outlines.find(({ title }) => title === 'Contents')?.destpageposfrom1 ?? 0
      const led = linksOf(back, contents).map(({ page }) => page)
      expect(led.length).toBeGreaterThan(4)
      const chapters = outlines.flatMap(({ destpageposfrom1 }) => destpageposfrom1 ?? [])
      for (const page of chapters.filter((each) => each > contents)) expect(led).toContain(page)
      const fonts = spawnSync('pdffonts', [file], { encoding: 'utf8' }).stdout.trim().split('\n').slice(2)
      expect(fonts.length).toBeGreaterThan(2)
      for (const font of fonts) expect(font).toMatch(/ yes +yes +(yes|no) /)
    },
  )

  test('refuses a part of the job with chapters that speak of no opening', async () => {
    const running = await demo()
    const { id } = await running.row('118')
    const progress = await make(running, {
      does: 'print',
      of: { openingId: id },
      chapters: ['power'],
      copies: ['reading'],
    })
    expect(progress).toMatchObject({ state: 'failed' })
    expect(progress.trouble).toContain('None of the chosen chapters')
  }, 60_000)

  test('labels, workbooks with their problems by field, and the calendar', async () => {
    const running = await demo()
    const { id } = await running.row('118')
    for (const form of ['settings', 'devices', 'cables'] as const) {
      const made = await running.ask('print.labels', {
        form,
        stock: 'letter-10',
        startAt: 3,
        of: { openingIds: [id] },
      })
      expect(made.pages).toBeGreaterThan(0)
    }
    const outside = await running.refusal('print.labels', {
      form: 'devices',
      stock: 'letter-10',
      startAt: 11,
      of: { levelId: null },
    })
    expect(outside.sentence).toContain('expected a first label from 1 to 10')
    const { files, problems } = await running.ask('handover.workbooks', {})
    expect(files).toHaveLength(2)
    expect(problems.length).toBeLessThan(80)
    expect(new Set(problems.map(({ sheet, field }) => `${sheet} ${field}`)).size).toBe(problems.length)
    expect(textOf(await running.ask('handover.calendar', {}))).toContain('BEGIN:VEVENT')
  }, 60_000)

  test('the words of a label find their opening, and those of another job find none', async () => {
    const running = await demo()
    const { hits } = await running.ask('find.words', { words: 'Lintelbook HSC-26 opening 118', limit: 10 })
    expect(hits.map(({ title, kind }) => [title, kind])).toEqual([['118', 'opening']])
    const other = await running.ask('find.words', { words: 'Lintelbook XY-1 opening 118', limit: 10 })
    expect(other.hits).toEqual([])
  })

  testWith(
    lacksQpdf,
    'a maker’s document stands behind its opening and inside the archive copy',
    async () => {
      const running = await demo()
      const { id } = await running.row('118')
      const pdf = await running.ask('handover.calendar', {})
      const none = await running.refusal('handover.document', {
        name: 'Magnet',
        fileName: 'magnet.ics',
        base64: pdf.base64,
        partId: null,
        openingId: id,
      })
      expect(none.sentence).toContain('is no PDF')
      const sheet = await running.ask('print.proofs', { openingIds: [id] })
      const given = { name: 'Magnet instructions', fileName: 'magnet.pdf', base64: sheet.base64 }
      await running.ask('handover.document', { ...given, partId: null, openingId: id })
      const progress = await make(running, {
        does: 'print',
        of: { openingId: id },
        chapters: ['openings'],
        copies: ['archive', 'reading'],
      })
      expect(progress).toMatchObject({ state: 'done', warnings: [] })
      const archive = await fileAt(running, progress, 'archive copy.pdf')
      expect(spawnSync('qpdf', ['--list-attachments', archive], { encoding: 'utf8' }).stdout).toContain(
        'Magnet instructions.pdf',
      )
      const [archivePages, readingPages] = progress.made.map(({ pages }) => pages ?? 0)
      expect((readingPages ?? 0) - (archivePages ?? 0)).toBe(sheet.pages)
    },
  )

  test('every chapter has a title', () => {
    expect(new Set(chapterKeys.map((key) => chapterTitles[key])).size).toBe(chapterKeys.length)
  })
})
