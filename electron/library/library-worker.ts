// The worker that looks through the folders and writes the index, so that the program answers meanwhile.
import { parentPort, workerData } from 'node:worker_threads'
import { connectIndex, indexTrouble, isDamage, type IndexConnection } from './index-file.ts'
import { shelve, type Looking, type Shelved } from './shelve.ts'

export interface WorkerTask {
  readonly indexPath: string
  readonly folders: readonly string[]
  /** ISO 8601; the time of this look. */
  readonly at: string
  /** How the names of job files end. */
  readonly extension: string
}

export type WorkerWord =
  | { readonly says: 'looking'; readonly looking: Looking }
  | { readonly says: 'log'; readonly line: string }
  | { readonly says: 'damaged' }
  | { readonly says: 'trouble'; readonly words: string }
  | { readonly says: 'done'; readonly shelved: Shelved }

async function work(
  { indexPath, folders, at, extension }: WorkerTask,
  say: (word: WorkerWord) => void,
): Promise<void> {
  let db: IndexConnection | null = null
  try {
    db = connectIndex(indexPath)
    const shelved = await shelve({
      db,
      folders,
      extension,
      now: () => at,
      log: (line) => say({ says: 'log', line }),
      onWord: (looking) => say({ says: 'looking', looking }),
    })
    say({ says: 'done', shelved })
  } catch (error) {
    const words = indexTrouble(error)
    if (isDamage(error)) say({ says: 'damaged' })
    else if (words !== null) say({ says: 'trouble', words })
    else throw error
  } finally {
    db?.close()
  }
}

if (parentPort !== null) {
  const port = parentPort
  await work(workerData as WorkerTask, (word) => port.postMessage(word))
}
