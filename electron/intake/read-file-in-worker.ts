import { Worker } from 'node:worker_threads'
import { refused } from './problems.ts'
import type { FileResult } from './read-file.ts'

export interface ReadLimits {
  /** Seconds until the worker is stopped. */
  readonly timeLimitSeconds?: number
  /** Megabytes of JavaScript heap; the bytes of the file itself do not count. */
  readonly memoryLimitMegabytes?: number
}

const DEFAULT_SECONDS = 30
const DEFAULT_MEGABYTES = 1024

/**
 * Where the worker's code is. Node runs this file as .ts and strips the types of the worker just the same. Bundled,
 * this code sits in some dist/electron/*.js, and the build must write a second entry point
 * `electron/intake/intake-worker.ts` to `intake-worker.js` beside it (esbuild: `entryPoints` with `outdir`, and
 * `entryNames: '[name]'`).
 */
function workerAddress(): URL {
  return new URL(
    import.meta.url.endsWith('.ts') ? './intake-worker.ts' : './intake-worker.js',
    import.meta.url,
  )
}

function isOutOfMemory(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ERR_WORKER_OUT_OF_MEMORY'
}

/**
 * Reads a file in a thread of its own, which is stopped at the limit of time or memory. Expected trouble is a coded
 * problem; a fault of the reader itself rejects.
 */
export async function readFileInWorker(
  name: string,
  bytes: Uint8Array,
  { timeLimitSeconds = DEFAULT_SECONDS, memoryLimitMegabytes = DEFAULT_MEGABYTES }: ReadLimits = {},
): Promise<FileResult> {
  const { promise, resolve, reject } = Promise.withResolvers<FileResult>()
  const worker = new Worker(workerAddress(), {
    workerData: { name, bytes },
    resourceLimits: { maxOldGenerationSizeMb: memoryLimitMegabytes },
    // A test runner's or debugger's own flags must not reach the worker.
    execArgv: [],
  })
  const timer = setTimeout(() => {
    resolve(refused({ code: 'too-slow', name, limitSeconds: timeLimitSeconds }))
  }, timeLimitSeconds * 1000)
  worker.on('message', (result: FileResult) => resolve(result))
  worker.on('error', (error: unknown) => {
    if (isOutOfMemory(error)) resolve(refused({ code: 'too-much-memory', name }))
    else reject(error instanceof Error ? error : new Error(String(error)))
  })
  worker.on('exit', (code) => reject(new Error(`the intake worker ended with ${code} and said nothing`)))
  try {
    return await promise
  } finally {
    clearTimeout(timer)
    await worker.terminate()
  }
}
