// Prints documents away from the main thread. Run as a worker it is the press itself; imported it is the way to it.
import { createWriteStream } from 'node:fs'
import { readFile, rename, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { Writable } from 'node:stream'
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads'
import type { DocumentBlocks } from '../core/documents/index.ts'
import type { FontBytes, Orientation, PageSize, WrittenDocument } from '../renderer/paper/index.ts'

export interface PressOptions {
  readonly pageSize: PageSize
  readonly orientation?: Orientation
  /** ISO 8601; goes into the file, so that the same document and instant give the same bytes. */
  readonly createdAt: string
  /** Where the file goes; left out, the bytes come back. A file appears whole or not at all. */
  readonly path?: string
  readonly taggedUpToPages?: number
  readonly onProgress?: (pagesDone: number, pages: number) => void
  readonly signal?: AbortSignal
}

export interface PressProblem {
  readonly code: 'cancelled' | 'cannot-write' | 'fonts-missing'
  readonly sentence: string
}

export type Pressed =
  | ({
      readonly ok: true
      /** Null when the document went to a file. */
      readonly bytes: Uint8Array | null
      readonly path: string | null
    } & WrittenDocument)
  | { readonly ok: false; readonly problem: PressProblem }

interface PressJob {
  readonly task: 'press'
  readonly document: DocumentBlocks
  readonly fonts: FontBytes
  readonly pageSize: PageSize
  readonly orientation: Orientation | null
  readonly createdAt: string
  readonly path: string | null
  readonly taggedUpToPages: number | null
}

type PressWord =
  | { readonly says: 'progress'; readonly pagesDone: number; readonly pages: number }
  | { readonly says: 'done'; readonly written: WrittenDocument; readonly bytes: Uint8Array | null }
  | { readonly says: 'cannot-write'; readonly detail: string }
  | { readonly says: 'bug'; readonly error: unknown }

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

const refused = (code: PressProblem['code'], sentence: string): Pressed => ({
  ok: false,
  problem: { code, sentence },
})
const cancelled = (): Pressed => refused('cancelled', 'Printing was stopped. Nothing was written.')
const cannotWrite = (path: string | null, detail: string): Pressed =>
  refused('cannot-write', `The file ${path ?? ''} could not be written: ${detail}.`)

/**
 * Prints a document as PDF in a worker.
 * Cancelling, an unwritable path and missing fonts come back as problems; a bug in the press throws.
 */
export async function press(document: DocumentBlocks, options: PressOptions): Promise<Pressed> {
  if (options.signal?.aborted === true) return cancelled()
  let fonts: FontBytes
  try {
    fonts = await pressFonts()
  } catch {
    return refused('fonts-missing', 'The fonts of the program are missing. Install the program again.')
  }
  const path = options.path ?? null
  const unfinished = path === null ? null : `${path}.part`
  const job: PressJob = {
    task: 'press',
    document,
    fonts,
    pageSize: options.pageSize,
    orientation: options.orientation ?? null,
    createdAt: options.createdAt,
    path: unfinished,
    taggedUpToPages: options.taggedUpToPages ?? null,
  }
  const last = await runWorker(job, options)
  if (last !== null && last.says === 'done') {
    if (path === null || unfinished === null)
      return { ok: true, bytes: last.bytes, path: null, ...last.written }
    try {
      await rename(unfinished, path)
    } catch (error) {
      await rm(unfinished, { force: true })
      return cannotWrite(path, reasonOf(error))
    }
    return { ok: true, bytes: null, path, ...last.written }
  }
  if (unfinished !== null) await rm(unfinished, { force: true }).catch(() => undefined)
  if (last === null) return cancelled()
  if (last.says === 'cannot-write') return cannotWrite(path, last.detail)
  throw new Error('the press failed', { cause: last.error })
}

/** The worker's last word; null when it was stopped. */
function runWorker(
  job: PressJob,
  options: PressOptions,
): Promise<Exclude<PressWord, { says: 'progress' }> | null> {
  return new Promise((resolve) => {
    const worker = new Worker(pressFile(), { workerData: job })
    const stop = (): void => void worker.terminate()
    let last: Exclude<PressWord, { says: 'progress' }> | null = null
    options.signal?.addEventListener('abort', stop, { once: true })
    worker.on('message', (word: PressWord) => {
      if (word.says === 'progress') options.onProgress?.(word.pagesDone, word.pages)
      else last = word
    })
    worker.on('error', (error) => {
      last = { says: 'bug', error }
    })
    worker.on('exit', (code) => {
      options.signal?.removeEventListener('abort', stop)
      if (last === null && options.signal?.aborted !== true)
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

async function runPress(job: PressJob, say: (word: PressWord, hand?: ArrayBuffer[]) => void): Promise<void> {
  // Only the worker loads the PDF writer; importing this module stays cheap.
  const { writeDocument } = await import('../renderer/paper/index.ts')
  const gathered = job.path === null ? gathering() : null
  const stream = gathered?.stream ?? createWriteStream(job.path as string)
  let streamError: unknown = null
  stream.on('error', (error: Error) => {
    streamError = error
  })
  try {
    const written = await writeDocument(job.document, {
      pageSize: job.pageSize,
      ...(job.orientation === null ? {} : { orientation: job.orientation }),
      ...(job.taggedUpToPages === null ? {} : { taggedUpToPages: job.taggedUpToPages }),
      fonts: job.fonts,
      createdAt: new Date(job.createdAt),
      stream,
      onProgress: (pagesDone, pages) => say({ says: 'progress', pagesDone, pages }),
    })
    const bytes = gathered?.bytes() ?? null
    say({ says: 'done', written, bytes }, bytes === null ? [] : [bytes.buffer as ArrayBuffer])
  } catch (error) {
    if (streamError !== null) say({ says: 'cannot-write', detail: reasonOf(streamError) })
    else say({ says: 'bug', error })
  }
}

const isPressJob = (data: unknown): data is PressJob =>
  typeof data === 'object' && data !== null && 'task' in data && data.task === 'press'

if (!isMainThread && isPressJob(workerData)) {
  const port = parentPort
  if (port !== null) void runPress(workerData, (word, hand = []) => port.postMessage(word, hand))
}
