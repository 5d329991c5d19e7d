// Runs in a worker thread: reads one file, posts what came of it, ends.

import { parentPort, workerData } from 'node:worker_threads'
import { readFileBytes } from './read-file.ts'

const { name, bytes } = workerData as { readonly name: string; readonly bytes: Uint8Array }
parentPort?.postMessage(await readFileBytes(name, bytes))
