// One look at the folders, in a worker that is given up when it says nothing for too long: a share that hangs can hold
// a thread for minutes, and nothing can be done about it from within.
import { Worker } from 'node:worker_threads'
import type { WorkerTask, WorkerWord } from './library-worker.ts'
import type { SeenFile } from './scan.ts'
import type { Shelved } from './shelve.ts'

/** How far a look at the folders is. */
export interface Progress {
  readonly folder: string
  /** The job file being read; null while a folder is looked through. */
  readonly file: string | null
  readonly done: number
  readonly total: number
}

export type Looked =
  | { readonly outcome: 'done'; readonly shelved: Shelved }
  | { readonly outcome: 'damaged' }
  | { readonly outcome: 'trouble'; readonly words: string }
  /** Nothing came for too long while this folder was looked at; `ended` comes true when the thread is free again. */
  | { readonly outcome: 'silent'; readonly folder: string | null; readonly ended: Promise<void> }
  /** The worker ran out of memory over this file. */
  | { readonly outcome: 'too large'; readonly file: SeenFile }
  | { readonly outcome: 'stopped' }

/**
 * Where the worker's code is. Node runs this file as .ts and strips the types of the worker just the same; bundled, the
 * build writes it beside.
 */
const workerAddress = (): URL =>
  new URL(import.meta.url.endsWith('.ts') ? './library-worker.ts' : './library-worker.js', import.meta.url)

export const startWorker = (task: WorkerTask): Worker =>
  // A test runner's or debugger's own flags must not reach the worker.
  new Worker(workerAddress(), { workerData: task, execArgv: [] })

const isOutOfMemory = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY'

/** Listens to a worker until it ends, or is silent for so long. A fault of the worker itself rejects. */
export function listen(
  worker: Worker,
  patienceMilliseconds: number,
  onProgress: (progress: Progress) => void,
  log: (line: string) => void,
): Promise<Looked> {
  const { promise, resolve, reject } = Promise.withResolvers<Looked>()
  const ended = new Promise<void>((resolveEnd) => worker.once('exit', () => resolveEnd()))
  let folder: string | null = null
  let file: SeenFile | null = null
  let looked: Looked = { outcome: 'stopped' }
  const giveUp = (): void => {
    // It may be held in a call of the system: then it ends when that returns, and must keep nothing else waiting.
    worker.unref()
    void worker.terminate()
    resolve({ outcome: 'silent', folder, ended })
  }
  let timer = setTimeout(giveUp, patienceMilliseconds)
  worker.on('message', (word: WorkerWord) => {
    clearTimeout(timer)
    timer = setTimeout(giveUp, patienceMilliseconds)
    switch (word.says) {
      case 'looking':
        ;({ folder, file } = word.looking)
        onProgress({ ...word.looking, file: file?.path ?? null })
        break
      case 'log':
        log(word.line)
        break
      case 'damaged':
        looked = { outcome: 'damaged' }
        break
      case 'trouble':
        looked = { outcome: 'trouble', words: word.words }
        break
      case 'done':
        looked = { outcome: 'done', shelved: word.shelved }
        break
    }
  })
  worker.on('error', (error: unknown) => {
    if (file !== null && isOutOfMemory(error)) looked = { outcome: 'too large', file }
    else reject(error instanceof Error ? error : new Error(String(error)))
  })
  // Only now has it let go of the index.
  worker.on('exit', () => resolve(looked))
  return promise.finally(() => clearTimeout(timer))
}
