// Prints documents away from the main thread. Run as a worker it is the press itself; imported it is the way to it.
import { createWriteStream } from 'node:fs'
import { readFile, rename, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { Writable } from 'node:stream'
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads'
import type { BookBlocks, BookPart, DocumentBlocks, LabelSheet } from '../core/documents/index.ts'
import type {
  BookProgress,
  FontBytes,
  Orientation,
  PageSize,
  ReadFile,
  WriteBookOptions,
  WrittenBook,
  WrittenDocument,
  WrittenLabels,
} from '../renderer/paper/index.ts'

interface AnyPressOptions {
  /** ISO 8601; goes into the file, so that the same document and instant give the same bytes. */
  readonly createdAt: string
  readonly signal?: AbortSignal
}

export interface PressOptions extends AnyPressOptions {
  readonly pageSize: PageSize
  readonly orientation?: Orientation
  /** Where the file goes; left out, the bytes come back. A file appears whole or not at all. */
  readonly path?: string
  /** The bytes of photographs, by their keys. */
  readonly read?: ReadFile
  readonly taggedUpToPages?: number
  readonly onProgress?: (pagesDone: number, pages: number) => void
}

export interface PressLabelsOptions extends AnyPressOptions {
  readonly path?: string
  readonly onProgress?: (pagesDone: number, pages: number) => void
}

type BookCopy = WriteBookOptions['copy']

export interface PressBookOptions extends AnyPressOptions {
  readonly pageSize: PageSize
  /** One action, these copies, one after another; without a path the bytes come back. */
  readonly copies: readonly { readonly copy: BookCopy; readonly path?: string }[]
  /** The bytes of photographs and attachments, by their keys; asked for as they are needed. */
  readonly read?: ReadFile
  readonly onProgress?: (progress: BookProgress & { readonly copy: BookCopy }) => void
}

export interface PressProblem {
  readonly code: 'cancelled' | 'cannot-write' | 'fonts-missing'
  readonly sentence: string
}

interface Place {
  /** Null when it went to a file. */
  readonly bytes: Uint8Array | null
  readonly path: string | null
}

interface Refused {
  readonly ok: false
  readonly problem: PressProblem
}

export type Pressed = ({ readonly ok: true } & Place & WrittenDocument) | Refused
export type PressedLabels = ({ readonly ok: true } & Place & WrittenLabels) | Refused
export type PressedBook =
  | {
      readonly ok: true
      readonly copies: readonly ({ readonly copy: BookCopy } & Place & WrittenBook)[]
    }
  | Refused

/** A book without its parts: those are asked for one by one, so that a large book never stands here or there as a whole. */
type BookFrame = Omit<BookBlocks, 'chapters'> & { readonly chapters: readonly string[] }

interface AnyJob {
  readonly fonts: FontBytes
  readonly createdAt: string
  /** One for each file that is made; null gives bytes. */
  readonly paths: readonly (string | null)[]
}

type PressJob = AnyJob &
  (
    | {
        readonly task: 'press'
        readonly document: DocumentBlocks
        readonly pageSize: PageSize
        readonly orientation: Orientation | null
        readonly taggedUpToPages: number | null
        readonly hasFiles: boolean
      }
    | { readonly task: 'press labels'; readonly labels: LabelSheet }
    | {
        readonly task: 'press book'
        readonly frame: BookFrame
        readonly pageSize: PageSize
        readonly copies: readonly BookCopy[]
      }
  )

type Written = WrittenDocument | WrittenLabels | WrittenBook

interface Made {
  readonly written: Written
  readonly bytes: Uint8Array | null
}

type LastWord =
  | { readonly says: 'done'; readonly made: readonly Made[] }
  | { readonly says: 'cannot-write'; readonly path: string | null; readonly detail: string }
  | { readonly says: 'bug'; readonly error: unknown }

type Question =
  /** The next part of a chapter; `afresh` starts with its first. */
  | { readonly says: 'wants part'; readonly chapter: number; readonly afresh: boolean }
  | { readonly says: 'wants file'; readonly key: string }

type PressWord =
  | LastWord
  | Question
  | { readonly says: 'progress'; readonly pagesDone: number; readonly pages: number }
  | { readonly says: 'book progress'; readonly progress: BookProgress; readonly copy: BookCopy }

/** What the worker is given when it asks; null when there is none. */
type Given = BookPart | Uint8Array | null

const fontFiles: Readonly<Record<keyof FontBytes, string>> = {
  table: '@expo-google-fonts/barlow-semi-condensed/400Regular/BarlowSemiCondensed_400Regular.ttf',
  tableStrong: '@expo-google-fonts/barlow-semi-condensed/600SemiBold/BarlowSemiCondensed_600SemiBold.ttf',
  plain: '@expo-google-fonts/barlow/400Regular/Barlow_400Regular.ttf',
  plainStrong: '@expo-google-fonts/barlow/600SemiBold/Barlow_600SemiBold.ttf',
  words: '@expo-google-fonts/source-serif-4/400Regular/SourceSerif4_400Regular.ttf',
  fallback: 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf',
}

let fontsRead: Promise<FontBytes> | null = null

/** The fonts' bytes from the installed packages, read once. */
export function pressFonts(): Promise<FontBytes> {
  fontsRead ??= readFonts().catch((error: unknown) => {
    fontsRead = null
    throw error
  })
  return fontsRead
}

async function readFonts(): Promise<FontBytes> {
  const { resolve } = createRequire(import.meta.url)
  const read = (file: string): Promise<Uint8Array> => readFile(resolve(file))
  const [table, tableStrong, plain, plainStrong, words, fallback] = await Promise.all([
    read(fontFiles.table),
    read(fontFiles.tableStrong),
    read(fontFiles.plain),
    read(fontFiles.plainStrong),
    read(fontFiles.words),
    read(fontFiles.fallback),
  ])
  return { table, tableStrong, plain, plainStrong, words, fallback }
}

// Bundled into another file, this module starts the press that was bundled on its own beside it.
const pressFile = (): URL =>
  new URL(import.meta.url.endsWith('.ts') ? './press.ts' : './press.js', import.meta.url)

const refused = (code: PressProblem['code'], sentence: string): Refused => ({
  ok: false,
  problem: { code, sentence },
})
const cancelled = (): Refused => refused('cancelled', 'Printing was stopped. Nothing was written.')
const cannotWrite = (path: string | null, detail: string): Refused =>
  refused('cannot-write', `The file ${path ?? ''} could not be written: ${detail}.`)

const nothingToGive = (): Promise<Given> => Promise.resolve(null)

/**
 * Prints a document as PDF in a worker.
 * Cancelling, an unwritable path and missing fonts come back as problems; a bug in the press throws.
 */
export async function press(document: DocumentBlocks, options: PressOptions): Promise<Pressed> {
  const { read } = options
  const made = await pressAll<WrittenDocument>(
    (any) => ({
      ...any,
      task: 'press',
      document,
      pageSize: options.pageSize,
      orientation: options.orientation ?? null,
      taggedUpToPages: options.taggedUpToPages ?? null,
      hasFiles: read !== undefined,
    }),
    [options.path ?? null],
    options,
    (word) => {
      if (word.says === 'progress') options.onProgress?.(word.pagesDone, word.pages)
    },
    (question) =>
      question.says === 'wants file' && read !== undefined ? read(question.key) : nothingToGive(),
  )
  return onlyOne(made)
}

/** Prints labels as PDF in a worker; problems as `press` has them. */
export async function pressLabels(labels: LabelSheet, options: PressLabelsOptions): Promise<PressedLabels> {
  const made = await pressAll<WrittenLabels>(
    (any) => ({ ...any, task: 'press labels', labels }),
    [options.path ?? null],
    options,
    (word) => {
      if (word.says === 'progress') options.onProgress?.(word.pagesDone, word.pages)
    },
    nothingToGive,
  )
  return onlyOne(made)
}

/**
 * Prints the copies of a book in a worker, which asks for parts, photographs and attachments as it goes.
 * Problems as `press` has them; what `read` or a chapter's parts throw is thrown.
 */
export async function pressBook(book: BookBlocks, options: PressBookOptions): Promise<PressedBook> {
  const frame: BookFrame = { ...book, chapters: book.chapters.map(({ title }) => title) }
  const copies = options.copies.map(({ copy }) => copy)
  const parts = partsOf(book)
  const made = await pressAll<WrittenBook>(
    (any) => ({ ...any, task: 'press book', frame, pageSize: options.pageSize, copies }),
    options.copies.map(({ path }) => path ?? null),
    options,
    (word) => {
      if (word.says === 'book progress') options.onProgress?.({ ...word.progress, copy: word.copy })
    },
    (question) => {
      if (question.says === 'wants part') return parts(question.chapter, question.afresh)
      return options.read?.(question.key) ?? nothingToGive()
    },
  )
  if (!made.ok) return made
  return {
    ok: true,
    copies: made.all.map((each, index) => ({ copy: copies[index] ?? 'archive', ...each })),
  }
}

/** Hands out a chapter's parts one after another. */
function partsOf(book: BookBlocks): (chapter: number, afresh: boolean) => Promise<BookPart | null> {
  let running: Iterator<BookPart> | AsyncIterator<BookPart> | null = null
  return async (chapter, afresh) => {
    if (afresh || running === null) {
      const parts = book.chapters[chapter]?.parts
      if (parts === undefined) return null
      running = Symbol.asyncIterator in parts ? parts[Symbol.asyncIterator]() : parts[Symbol.iterator]()
    }
    const next = await running.next()
    return next.done === true ? null : next.value
  }
}

type AllMade<Each> = { readonly ok: true; readonly all: readonly (Place & Each)[] } | Refused

function onlyOne<Each>(made: AllMade<Each>): ({ readonly ok: true } & Place & Each) | Refused {
  if (!made.ok) return made
  const [one] = made.all
  if (one === undefined) throw new Error('the press made nothing')
  return { ok: true, ...one }
}

/** Runs a job whose files appear whole, all of them, or not at all. */
async function pressAll<Each extends Written>(
  jobOf: (any: AnyJob) => PressJob,
  paths: readonly (string | null)[],
  options: AnyPressOptions,
  hear: (word: PressWord) => void,
  answer: (question: Question) => Promise<Given>,
): Promise<AllMade<Each>> {
  if (options.signal?.aborted === true) return cancelled()
  let fonts: FontBytes
  try {
    fonts = await pressFonts()
  } catch {
    return refused('fonts-missing', 'The fonts of the program are missing. Install the program again.')
  }
  const unfinished = paths.map((path) => (path === null ? null : `${path}.part`))
  const job = jobOf({ fonts, createdAt: options.createdAt, paths: unfinished })
  const last = await runWorker(job, options.signal, hear, answer)
  const clear = async (): Promise<void> => {
    for (const path of unfinished) if (path !== null) await rm(path, { force: true }).catch(() => undefined)
  }
  if (last !== null && last.says === 'done') {
    for (const path of paths) {
      if (path === null) continue
      try {
        await rename(`${path}.part`, path)
      } catch (error) {
        await clear()
        return cannotWrite(path, reasonOf(error))
      }
    }
    return {
      ok: true,
      all: last.made.map(({ written, bytes }, index) => ({
        ...(written as Each),
        bytes,
        path: paths[index] ?? null,
      })),
    }
  }
  await clear()
  if (last === null) return cancelled()
  if (last.says === 'cannot-write') return cannotWrite(last.path?.replace(/\.part$/, '') ?? null, last.detail)
  throw new Error('the press failed', { cause: last.error })
}

/** A book leaves memory page by page; told so, the worker clears up in time. Measured: 30,000 openings in one part fit in 256 MB. */
const bookLimits = { maxYoungGenerationSizeMb: 12, maxOldGenerationSizeMb: 384 }

/** The worker's last word; null when it was stopped. */
function runWorker(
  job: PressJob,
  signal: AbortSignal | undefined,
  hear: (word: PressWord) => void,
  answer: (question: Question) => Promise<Given>,
): Promise<LastWord | null> {
  return new Promise((resolve) => {
    const worker = new Worker(pressFile(), {
      workerData: job,
      ...(job.task === 'press book' ? { resourceLimits: bookLimits } : {}),
    })
    const stop = (): void => void worker.terminate()
    let last: LastWord | null = null
    const fail = (error: unknown): void => {
      last ??= { says: 'bug', error }
      stop()
    }
    signal?.addEventListener('abort', stop, { once: true })
    worker.on('message', (word: PressWord) => {
      switch (word.says) {
        case 'progress':
        case 'book progress':
          hear(word)
          break
        case 'wants part':
        case 'wants file':
          // An answer that throws is the caller's bug; it ends the work instead of leaving the worker to wait.
          Promise.resolve()
            .then(() => answer(word))
            .then((given) => worker.postMessage(given), fail)
            .catch(fail)
          break
        case 'done':
        case 'cannot-write':
        case 'bug':
          last = word
          break
      }
    })
    worker.on('error', (error) => {
      last = { says: 'bug', error }
    })
    worker.on('exit', (code) => {
      signal?.removeEventListener('abort', stop)
      if (last === null && signal?.aborted !== true)
        last = { says: 'bug', error: new Error(`the press ended with ${code}`) }
      resolve(last)
    })
  })
}

const reasonOf = (error: unknown): string => {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  switch (code) {
    case 'ENOENT':
      return 'the folder does not exist'
    case 'EACCES':
    case 'EPERM':
    case 'EROFS':
      return 'writing there is not allowed'
    case 'EBUSY':
      return 'another program has it open'
    case 'ENOSPC':
      return 'the disk is full'
    case 'EISDIR':
      return 'a folder of that name is in the way'
    default:
      return code === '' ? 'writing failed' : `writing failed (${code})`
  }
}

function gathering(): { stream: Writable; bytes: () => Uint8Array } {
  const chunks: Uint8Array[] = []
  const stream = new Writable({
    write(chunk: Uint8Array, _, done) {
      chunks.push(chunk)
      done()
    },
  })
  // A copy of its own memory, so that it can be handed over instead of copied once more.
  return { stream, bytes: () => new Uint8Array(Buffer.concat(chunks)) }
}

type Say = (word: PressWord, hand?: ArrayBuffer[]) => void
type Ask = (question: Question) => Promise<Given>

async function runPress(job: PressJob, say: Say, ask: Ask): Promise<void> {
  const made: Made[] = []
  for (const [index, path] of job.paths.entries()) {
    const gathered = path === null ? gathering() : null
    const stream = gathered?.stream ?? createWriteStream(path as string)
    let streamError: unknown = null
    stream.on('error', (error: Error) => {
      streamError = error
    })
    try {
      const written = await writeInto(stream, index, job, say, ask)
      made.push({ written, bytes: gathered?.bytes() ?? null })
    } catch (error) {
      if (streamError !== null) say({ says: 'cannot-write', path, detail: reasonOf(streamError) })
      else say({ says: 'bug', error })
      return
    }
  }
  const hand = made.flatMap(({ bytes }) => (bytes === null ? [] : [bytes.buffer as ArrayBuffer]))
  say({ says: 'done', made }, hand)
}

async function writeInto(
  stream: Writable,
  index: number,
  job: PressJob,
  say: Say,
  ask: Ask,
): Promise<Written> {
  // Only the worker loads the PDF writer; importing this module stays cheap.
  const { writeBook, writeDocument, writeLabels } = await import('../renderer/paper/index.ts')
  const read: ReadFile = async (key) => {
    const given = await ask({ says: 'wants file', key })
    return given instanceof Uint8Array ? given : null
  }
  const onProgress = (pagesDone: number, pages: number): void => say({ says: 'progress', pagesDone, pages })
  const common = { fonts: job.fonts, createdAt: new Date(job.createdAt), stream }
  switch (job.task) {
    case 'press':
      return writeDocument(job.document, {
        ...common,
        pageSize: job.pageSize,
        ...(job.orientation === null ? {} : { orientation: job.orientation }),
        ...(job.taggedUpToPages === null ? {} : { taggedUpToPages: job.taggedUpToPages }),
        ...(job.hasFiles ? { read } : {}),
        onProgress,
      })
    case 'press labels':
      return writeLabels(job.labels, { ...common, onProgress })
    case 'press book': {
      const copy = job.copies[index] ?? 'archive'
      const chapters = job.frame.chapters.map((title, chapter) => ({
        title,
        parts: partsAskedFor(chapter, ask),
      }))
      return writeBook(
        { ...job.frame, chapters },
        {
          ...common,
          copy,
          pageSize: job.pageSize,
          read,
          onProgress: (progress) => say({ says: 'book progress', progress, copy }),
        },
      )
    }
  }
}

async function* partsAskedFor(chapter: number, ask: Ask): AsyncIterable<BookPart> {
  for (let afresh = true; ; afresh = false) {
    const given = await ask({ says: 'wants part', chapter, afresh })
    if (given === null || given instanceof Uint8Array) return
    yield given
  }
}

const isPressJob = (data: unknown): data is PressJob =>
  typeof data === 'object' &&
  data !== null &&
  'task' in data &&
  (data.task === 'press' || data.task === 'press labels' || data.task === 'press book')

if (!isMainThread && isPressJob(workerData)) {
  const port = parentPort
  if (port !== null) {
    const say: Say = (word, hand = []) => port.postMessage(word, hand)
    // One question at a time, so its answer is the next message.
    const ask: Ask = (question) =>
      new Promise((resolve) => {
        port.once('message', resolve)
        say(question)
      })
    void runPress(workerData, say, ask).finally(() => port.close())
  }
}
