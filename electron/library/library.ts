// The shelf: many job files in some folders, found by what a caller says.
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import type { Worker } from 'node:worker_threads'
import {
  countJobs,
  indexedJobs,
  indexPathIn,
  indexTrouble,
  IndexWriter,
  isDamage,
  openIndex,
  shelfFiles,
  shelfFolders,
  throwAway,
  type IndexConnection,
  type ShelfFile,
  type ShelfFolder,
} from './index-file.ts'
import { jobFileExtension } from '../store/index.ts'
import { listen, startWorker, type Looked, type Progress } from './refresh.ts'
import { silentSentence, tooLargeSentence, type SeenFile } from './scan.ts'
import { tooLarge } from './shelve.ts'
import { search, type LibraryFound, type Within } from './search.ts'

export type { LibraryFound } from './search.ts'

export interface LibraryOptions {
  /** The program's own folder; the index lies in it. */
  readonly home: string
  /** Folders with job files, looked through with all that is in them; or single job files. */
  readonly folders: readonly string[]
  /** ISO 8601, UTC. */
  readonly now: () => string
  readonly log: (line: string) => void
  /** How long a folder may be silent before it is left for the next time; a minute when left out. */
  readonly patienceMilliseconds?: number
}

export interface LibraryState {
  readonly folders: readonly ShelfFolder[]
  /** Every job file of the folders, with why it could not be read. */
  readonly files: readonly ShelfFile[]
  readonly jobs: number
  readonly openings: number
  /** Whether the folders are being looked through now. */
  readonly refreshing: boolean
  /** What is wrong with the index itself, in a sentence; null when nothing is. */
  readonly trouble: string | null
}

export interface Library {
  /**
   * Looks through the folders in a worker and reads the job files that are new or changed; searching goes on meanwhile.
   * Folders are looked at when this is called and at no other time: the system's word of changes does not come from
   * most shares. While a look is under way the same promise is given again. Rejects only on a bug.
   */
  readonly refresh: (onProgress?: (progress: Progress) => void) => Promise<LibraryState>
  /**
   * What a caller says, in what is indexed, best first: an exact mark or serial, then rooms, then the rest; of those
   * alike, the job that was changed later. Reads no job file.
   */
  readonly search: (words: string, limit: number) => LibraryFound[]
  readonly state: () => LibraryState
  /** Stops a look that is under way. Safe to call twice. */
  readonly close: () => Promise<void>
}

const usualPatience = 60_000
const mostToEnd = 2000

/** Opens the index under the program's home, or makes it. Nothing is looked at before `refresh`. */
export function openLibrary(options: LibraryOptions): Library {
  const library = new Shelf(options)
  return {
    refresh: (onProgress) => library.refresh(onProgress),
    search: (words, limit) => library.search(words, limit),
    state: () => library.state(),
    close: () => library.close(),
  }
}

class Shelf {
  readonly #options: LibraryOptions
  readonly #folders: readonly string[]
  readonly #silent = new Set<string>()
  #indexPath: string
  /** Where the index is when the home cannot be written; gone with the program. */
  #elsewhere: string | null = null
  #db: IndexConnection
  #trouble: string | null = null
  #worker: Worker | null = null
  #looking: Promise<LibraryState> | null = null
  #within: (Within & { readonly version: unknown }) | null = null

  constructor(options: LibraryOptions) {
    this.#options = options
    this.#folders = [...new Set(options.folders.map((folder) => path.resolve(folder)))]
    this.#indexPath = indexPathIn(options.home)
    this.#db = this.#open()
  }

  /** Opens the index; where it cannot be kept, one for this time only. */
  #open(before: () => void = () => {}): IndexConnection {
    try {
      before()
      const { db, anew } = openIndex(this.#indexPath)
      if (anew) this.#options.log('The index of the shelf was older or damaged; it is made again.')
      return db
    } catch (error) {
      const words = indexTrouble(error)
      if (words === null || this.#elsewhere !== null) throw error
      this.#trouble = `The index of the shelf cannot be kept (${words}); it is made for this time only.`
      this.#options.log(this.#trouble)
      this.#elsewhere = fs.mkdtempSync(path.join(os.tmpdir(), 'lintelbook-index-'))
      this.#indexPath = indexPathIn(this.#elsewhere)
      return this.#open()
    }
  }

  #makeAgain(): void {
    this.#options.log('The index of the shelf was damaged; it is made again.')
    this.#db.close()
    this.#within = null
    // Where another program has it open, some systems do not let it be thrown away.
    this.#db = this.#open(() => throwAway(this.#indexPath))
  }

  refresh(onProgress: (progress: Progress) => void = () => {}): Promise<LibraryState> {
    this.#looking ??= this.#look(onProgress).finally(() => {
      this.#looking = null
    })
    return this.#looking
  }

  async #look(onProgress: (progress: Progress) => void): Promise<LibraryState> {
    let folders = this.#folders.filter((folder) => !this.#silent.has(folder))
    let mayMakeAgain = true
    while (folders.length > 0 && this.#db.open) {
      const db = this.#db
      const looked = await this.#lookOnce(folders, onProgress)
      if (looked.outcome === 'silent' && looked.folder !== null) {
        this.#leave(looked.folder, looked.ended)
        folders = folders.filter((folder) => folder !== looked.folder)
      } else if (looked.outcome === 'too large') {
        this.#tooLarge(looked.file)
      } else if (db !== this.#db) {
        // A search found the index damaged meanwhile: the look was into one that is thrown away.
        continue
      } else if (looked.outcome === 'damaged' && mayMakeAgain) {
        mayMakeAgain = false
        this.#makeAgain()
      } else {
        this.#afterLook(looked)
        break
      }
    }
    return { ...this.state(), refreshing: false }
  }

  async #lookOnce(folders: readonly string[], onProgress: (progress: Progress) => void): Promise<Looked> {
    const { now, log, patienceMilliseconds = usualPatience } = this.#options
    const worker = startWorker({
      indexPath: this.#indexPath,
      folders,
      at: now(),
      extension: jobFileExtension,
    })
    this.#worker = worker
    try {
      return await listen(worker, patienceMilliseconds, onProgress, log)
    } finally {
      this.#worker = null
    }
  }

  /** A folder whose thread is still held is not looked at again until it is free. */
  #leave(folder: string, ended: Promise<void>): void {
    const { now, log, patienceMilliseconds = usualPatience } = this.#options
    const sentence = silentSentence(folder, Math.round(patienceMilliseconds / 1000))
    log(sentence)
    this.#silent.add(folder)
    void ended.then(() => this.#silent.delete(folder))
    this.#within = null
    this.#asking(undefined, () => new IndexWriter(this.#db).folderAway(folder, sentence, now()))
  }

  #tooLarge(file: SeenFile): void {
    const sentence = tooLargeSentence(file.path)
    this.#options.log(sentence)
    this.#within = null
    const at = this.#options.now()
    this.#asking(undefined, () => new IndexWriter(this.#db).fileTrouble(file, tooLarge, sentence, true, at))
  }

  #afterLook(looked: Looked): void {
    if (looked.outcome === 'done') {
      if (this.#elsewhere === null) this.#trouble = null
      return
    }
    if (looked.outcome === 'stopped') return
    const words = looked.outcome === 'trouble' ? looked.words : 'it cannot be made'
    this.#trouble = `The index of the shelf could not be brought up to date (${words}); search answers from what it has.`
    this.#options.log(this.#trouble)
  }

  search(words: string, limit: number): LibraryFound[] {
    return this.#asking([], () => search(this.#db, this.#jobs(), words, limit))
  }

  /** Asks the index; where it turns out to be damaged, has it made again meanwhile. */
  #asking<Answer>(none: Answer, ask: () => Answer): Answer {
    if (!this.#db.open) return none
    try {
      return ask()
    } catch (error) {
      const words = indexTrouble(error)
      if (words !== null) {
        this.#options.log(`The index of the shelf cannot be asked (${words}).`)
        return none
      }
      if (!isDamage(error)) throw error
      this.#makeAgain()
      void this.refresh().catch((bug: unknown) => this.#options.log(String(bug)))
      return none
    }
  }

  /** The jobs of the folders, read again when somebody wrote into the index. */
  #jobs(): Within {
    const version = this.#db.pragma('data_version', { simple: true })
    if (this.#within !== null && this.#within.version === version) return this.#within
    const jobs = indexedJobs(this.#db, this.#folders)
    const isAll = countJobs(this.#db) === jobs.length
    const within = {
      version,
      jobs: new Map(jobs.map((job) => [job.block, job])),
      blocks: isAll ? null : JSON.stringify(jobs.map(({ block }) => block)),
    }
    this.#within = within
    return within
  }

  state(): LibraryState {
    const files = this.#asking([], () => shelfFiles(this.#db, this.#folders))
    const jobs = files.filter((file) => file.indexedAt !== null)
    return {
      folders: this.#asking([], () => shelfFolders(this.#db, this.#folders)),
      files,
      jobs: jobs.length,
      openings: jobs.reduce((sum, { openings }) => sum + openings, 0),
      refreshing: this.#looking !== null,
      trouble: this.#trouble,
    }
  }

  async close(): Promise<void> {
    if (this.#db.open) this.#db.close()
    this.#worker?.unref()
    void this.#worker?.terminate()
    // A worker that a share holds ends when the share lets go; nobody who quits waits for that.
    await Promise.race([this.#looking?.catch(() => undefined), delay(mostToEnd, undefined, { ref: false })])
    if (this.#elsewhere !== null) fs.rmSync(this.#elsewhere, { recursive: true, force: true })
  }
}
