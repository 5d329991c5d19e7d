// A binder while it is made: sealed as an issue or only printed. It goes on beside the window, tells how far it is, and stops.
import { createHash } from 'node:crypto'
import {
  done,
  refused,
  type Answer,
  type BinderProgress,
  type BinderWanted,
  type ChangeOutcome,
  type MadeFile,
} from '../../core/contract/index.ts'
import { keptOfIssues, lastSealed, sealCommand } from '../../core/comparing/index.ts'
import { chaptersOfPart, dayWords, type BookAttachment, type BookBlocks } from '../../core/documents/index.ts'
import { mustAsk, openingsInOrder, standingLines, type StandingLine } from '../../core/handover/index.ts'
import type { JobData, Opening } from '../../core/job/index.ts'
import { pressBook, type PressedBook } from '../press.ts'
import { writeJobAsTwin, type JobFile } from '../store/index.ts'
import { carryOut } from './change-calls.ts'
import { fromStore, type Desk } from './desk.ts'
import { binderBook, type BinderOptions } from './handover-book.ts'
import { frozen, handoverDesk, sealedState, standingFacts, workOut } from './handover-desk.ts'
import { calendarOf, calendarType, resultsOf, workbooksOf } from './handover-papers.ts'
import { made, plainName, sheetSize, workbookType } from './made-files.ts'

interface MadeBytes {
  readonly fileName: string
  readonly mediaType: string
  readonly bytes: Uint8Array
  readonly pages: number | null
}

interface Work {
  readonly jobId: string
  readonly title: string
  readonly stop: AbortController
  state: BinderProgress['state']
  words: string
  pagesDone: number
  share: number | null
  made: readonly MadeBytes[]
  warnings: readonly string[]
  trouble: string | null
  outcome: ChangeOutcome | null
}

/** One binder at a time; the last one's files stay until the next. */
const works = new WeakMap<Desk, Work>()

export const workUnderWay = (desk: Desk): string | null => {
  const work = works.get(desk)
  return work?.state === 'under way' ? work.jobId : null
}

const gone = () => refused('gone', 'That binder is no longer at hand; make it again.')

function workOf(desk: Desk, jobId: string): Work | null {
  const work = works.get(desk)
  return work?.jobId === jobId ? work : null
}

export function progressOfWork(desk: Desk, jobId: string): Answer<BinderProgress> {
  const work = workOf(desk, jobId)
  if (work === null) return gone()
  const { title, state, words, pagesDone, share, warnings, trouble, outcome } = work
  return done({
    jobId,
    title,
    state,
    words,
    pagesDone,
    share,
    warnings,
    trouble,
    outcome,
    made: work.made.map(({ fileName, mediaType, pages, bytes }) => ({
      fileName,
      mediaType,
      pages,
      byteCount: bytes.byteLength,
    })),
  })
}

export function stopWork(desk: Desk, jobId: string): Answer<Record<string, never>> {
  const work = workOf(desk, jobId)
  if (work === null) return gone()
  work.stop.abort()
  return done({})
}

export function fileOfWork(desk: Desk, jobId: string, index: number): Answer<MadeFile> {
  const file = workOf(desk, jobId)?.made[index]
  return file === undefined
    ? gone()
    : done(made(file.fileName, file.mediaType, file.bytes, { pages: file.pages }))
}

/** Begins a binder. Nothing is changed before all of it is there. */
export function startWork(desk: Desk, file: JobFile, wanted: BinderWanted): Answer<{ jobId: string }> {
  if (workUnderWay(desk) !== null)
    return refused('busy', 'A binder is being made already. Wait for it, or stop it first.')
  const refusal = wanted.does === 'seal' ? maySeal(desk, file, wanted) : null
  if (refusal !== null) return refusal
  const openings = wanted.does === 'seal' || 'job' in wanted.of ? null : partOfJob(file.data, wanted.of)
  if (openings !== null && openings.openings.length === 0)
    return refused('gone', 'There is no opening to print there; choose another place.')
  const work: Work = {
    jobId: desk.options.newId(),
    title: wanted.does === 'seal' ? wanted.name : (openings?.words ?? 'Binder'),
    stop: new AbortController(),
    state: 'under way',
    words: 'Working out what goes in',
    pagesDone: 0,
    share: null,
    made: [],
    warnings: [],
    trouble: null,
    outcome: null,
  }
  works.set(desk, work)
  const task =
    wanted.does === 'seal' ? seal(desk, file, work, wanted) : print(desk, file, work, wanted, openings)
  task.catch((error: unknown) => {
    console.error(`${desk.options.now()} binder`, error)
    work.state = 'failed'
    work.trouble =
      'Something unexpected went wrong while the binder was made. Nothing was changed in the job; what was saved before is safe.'
  })
  return done({ jobId: work.jobId })
}

type SealWanted = Extract<BinderWanted, { does: 'seal' }>
type PrintWanted = Extract<BinderWanted, { does: 'print' }>
type PartOfJob = { readonly words: string; readonly openings: readonly Opening[] }

function maySeal(desk: Desk, file: JobFile, { name, evenSo }: SealWanted): Answer<never> | null {
  if (file.readOnly) return refused('read-only', 'This job is open for reading only, so it cannot be sealed.')
  const wanted = name.trim().toLowerCase()
  for (const issue of file.data.all('issue'))
    if (issue.name.trim().toLowerCase() === wanted)
      return refused(
        'not-possible',
        `The job already has an issue called ${issue.name}; choose another name.`,
      )
  const asks = mustAsk(standingLines(standingFacts(handoverDesk(desk, file))))
  if (asks.length > 0 && !evenSo)
    return refused('asks-first', `${asks.join(' ')} Sealed even so, the binder says it.`, asks)
  return null
}

function partOfJob(
  data: JobData,
  of: { readonly levelId: string } | { readonly openingId: string },
): PartOfJob {
  if ('openingId' in of) {
    const opening = data.get('opening', of.openingId)
    return opening === undefined
      ? { words: '', openings: [] }
      : { words: `Opening ${opening.mark} only`, openings: [opening] }
  }
  const level = data.get('level', of.levelId)
  return {
    words: `${level?.name ?? ''} only`,
    openings: openingsInOrder(data).filter(({ levelId }) => levelId === of.levelId),
  }
}

/** The state to tell differences against, where the chapter is wanted and there is one. */
function lastState(
  file: JobFile,
  data: JobData,
  chapters: readonly string[],
): { readonly last: BinderOptions['last']; readonly warnings: readonly string[] } {
  const issue = chapters.includes('differences') ? lastSealed(data) : null
  if (issue === null) return { last: null, warnings: [] }
  const state = sealedState(file, issue)
  if (!state.ok) return { last: null, warnings: [state.sentence] }
  const when = issue.at === null ? '' : `, ${dayWords(issue.at.slice(0, 10), data.job.dateForm)}`
  return { last: { words: `${issue.name}${when}`, worked: workOut(state.data) }, warnings: [] }
}

async function print(
  desk: Desk,
  file: JobFile,
  work: Work,
  wanted: PrintWanted,
  only: PartOfJob | null,
): Promise<void> {
  const at = desk.options.now()
  const data = frozen(file.data)
  const worked = workOut(data)
  await letOthers()
  const { last, warnings } = lastState(file, data, only === null ? wanted.chapters : [])
  const options: BinderOptions = {
    chapters: wanted.chapters,
    only,
    issue: null,
    at,
    standing:
      only === null && wanted.chapters.includes('standing') ? standingLines(standingFacts(worked)) : [],
    last,
    files: [],
  }
  if (only !== null && !wanted.chapters.some((key) => chaptersOfPart.includes(key))) {
    work.state = 'failed'
    work.trouble = 'None of the chosen chapters speaks of single openings; choose Openings or the schedule.'
    return
  }
  const pressed = await pressIt(desk, file, work, binderBook(worked, options), wanted.copies, at, new Map())
  if (!pressed.ok) return stopped(work, pressed)
  work.made = copiesMade(data.job.name, only?.words ?? 'binder', pressed)
  work.warnings = [...warnings, ...warningsOf(pressed)]
  finish(work)
}

async function seal(desk: Desk, file: JobFile, work: Work, wanted: SealWanted): Promise<void> {
  const { who, now } = desk.options
  const at = now()
  const issue = { form: wanted.form, name: wanted.name.trim(), notes: wanted.notes }
  const data = frozen(file.data)
  const twin = Buffer.from(writeJobAsTwin(file, keptOfIssues(data)))
  await letOthers()
  const worked = workOut(data)
  const standing = standingLines(standingFacts(worked))
  const openAtSeal = mustAsk(standing)
  const { last, warnings } = lastState(file, data, wanted.chapters)
  await letOthers()
  work.words = 'Writing the open workbook'
  const workbooks = await workbooksOf(data, who, at)
  const name = plainName(data.job.name)
  const beside: {
    key: string
    file: MadeBytes
    description: string
    relationship: BookAttachment['relationship']
  }[] = [
    {
      key: 'twin',
      file: { fileName: `${name}.json`, mediaType: 'application/json', bytes: twin, pages: null },
      description: 'The whole job as text, as it was sealed, without the files of earlier issues',
      relationship: 'Source',
    },
    {
      key: 'results',
      file: {
        fileName: `${name} - worked out.json`,
        mediaType: 'application/json',
        bytes: Buffer.from(resultsOf(worked, issue.name, at)),
        pages: null,
      },
      description: 'What was worked out: behaviour, cautions, volts and proofs of each opening',
      relationship: 'Data',
    },
    ...(workbooks?.files ?? []).map(({ fileName, bytes, building }, index) => ({
      key: `workbook ${index}`,
      file: { fileName, mediaType: workbookType, bytes, pages: null },
      description: `Open workbook (COBie 2.4), ${building}`,
      relationship: 'Alternative' as const,
    })),
    {
      key: 'calendar',
      file: {
        fileName: `${name} - maintenance.ics`,
        mediaType: calendarType,
        bytes: Buffer.from(calendarOf(data, at)),
        pages: null,
      },
      description: 'Maintenance calendar',
      relationship: 'Supplement',
    },
  ]
  // The sheets inside bear the name and the day of this issue, not those of the last schedule.
  data.put('job', { ...data.job, scheduleIssue: issue.name, scheduleDate: at.slice(0, 10) })
  const chapters =
    openAtSeal.length > 0 && !wanted.chapters.includes('standing')
      ? (['standing', ...wanted.chapters] as const)
      : wanted.chapters
  const book = binderBook(worked, {
    chapters,
    only: null,
    issue: { name: issue.name, sealedBy: who, openAtSeal },
    at,
    standing,
    last,
    files: beside.map(({ key, file: { fileName, mediaType }, description, relationship }) => ({
      key,
      fileName,
      mediaType,
      description,
      relationship,
      modifiedAt: at,
    })),
  })
  const bytesOf = new Map(beside.map(({ key, file: { bytes } }) => [key, bytes]))
  const pressed = await pressIt(desk, file, work, book, ['archive', 'reading'], at, bytesOf)
  if (!pressed.ok) return stopped(work, pressed)
  work.words = 'Keeping the issue in the job'
  const files = [...copiesMade(data.job.name, issue.name, pressed), ...beside.map((each) => each.file)]
  const kept = keepIssue(desk, file, issue, at, files, twin)
  if (!kept.ok) {
    work.state = 'failed'
    work.trouble = kept.problem.sentence
    return
  }
  work.outcome = kept.value
  work.made = files
  work.warnings = [...warnings, ...noWorkbook(workbooks, standing), ...warningsOf(pressed)]
  finish(work)
}

const noWorkbook = (workbooks: object | null, standing: readonly StandingLine[]): readonly string[] =>
  workbooks === null ? standing.filter(({ key }) => key === 'e-mail').map(({ sentence }) => sentence) : []

function keepIssue(
  desk: Desk,
  file: JobFile,
  issue: { readonly form: SealWanted['form']; readonly name: string; readonly notes: string | null },
  at: string,
  files: readonly MadeBytes[],
  twin: Uint8Array,
): Answer<ChangeOutcome> {
  if (desk.file !== file || !file.isOpen)
    return refused('gone', 'The job was closed before its issue was finished; nothing was sealed.')
  for (const { bytes } of files) {
    const attached = file.attach(bytes)
    if (!attached.ok) return fromStore(attached)
  }
  const hashed = files.map(({ fileName, mediaType, bytes }) => ({
    name: fileName,
    mediaType,
    sha256: sha256Of(bytes),
    byteCount: bytes.byteLength,
  }))
  const command = sealCommand(file.data, { ...issue, at, twinSha256: sha256Of(twin), files: hashed })
  return carryOut(desk, file, command, at)
}

const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')

const copyWords = { archive: 'archive copy', reading: 'reading copy', 'archive twin': '' } as const

async function pressIt(
  desk: Desk,
  file: JobFile,
  work: Work,
  book: BookBlocks,
  copies: readonly ('archive' | 'reading')[],
  createdAt: string,
  beside: ReadonlyMap<string, Uint8Array>,
): Promise<PressedBook> {
  let before = 0
  let copyNow: string | null = null
  let pagesNow = 0
  return pressBook(book, {
    createdAt,
    pageSize: sheetSize(file.data.job),
    copies: copies.map((copy) => ({ copy })),
    signal: work.stop.signal,
    read: async (key) => {
      const bytes = beside.get(key)
      if (bytes !== undefined) return bytes
      const kept = file.attachment(key)
      return kept.ok ? kept.bytes : null
    },
    onProgress: ({ copy, chapter, chapterNumber, chapters, pagesDone }) => {
      // Another job came into hand: nobody waits for this one any more.
      if (desk.file !== file) work.stop.abort()
      if (copyNow !== null && copyNow !== copy) before += pagesNow
      copyNow = copy
      pagesNow = pagesDone
      work.pagesDone = before + pagesDone
      work.words = `${copies.length > 1 ? `${copyWords[copy]}, ` : ''}${chapter}`
      const copyAt = copies.indexOf(copy as 'archive')
      work.share = (copyAt + Math.max(0, chapterNumber - 1) / Math.max(1, chapters)) / copies.length
    },
  })
}

const copiesMade = (
  jobName: string,
  what: string,
  pressed: Extract<PressedBook, { ok: true }>,
): readonly MadeBytes[] =>
  pressed.copies.map(({ copy, bytes, pages }) => ({
    fileName: `${plainName(jobName)} - ${plainName(what)}, ${copyWords[copy]}.pdf`,
    mediaType: 'application/pdf',
    bytes: bytes ?? new Uint8Array(),
    pages,
  }))

const warningsOf = ({ copies }: Extract<PressedBook, { ok: true }>): readonly string[] => [
  ...new Set(
    copies.flatMap(({ problems, missingCharacters }) => [
      ...problems,
      ...missingCharacters.map(
        (each) => `No font here has the character ${each.character}; it was printed as “?”.`,
      ),
    ]),
  ),
]

function stopped(work: Work, { problem }: Extract<PressedBook, { ok: false }>): void {
  work.state = problem.code === 'cancelled' ? 'stopped' : 'failed'
  work.words = 'Stopped. Nothing was written, and the job is as it was.'
  work.trouble = problem.code === 'cancelled' ? null : problem.sentence
}

function finish(work: Work): void {
  work.share = 1
  work.words = 'Done'
  work.state = 'done'
}

/** Between long pieces of work, so that the window is answered. */
const letOthers = (): Promise<void> => new Promise((resolve) => setImmediate(resolve))
