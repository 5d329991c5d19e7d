// Which job files are in a folder. Everything here waits for the disk or the share, so it runs in the worker only;
// without the pool of threads that the whole program shares, so that a share that hangs holds up nothing else.
import fs from 'node:fs'
import path from 'node:path'

export interface SeenFile {
  /** As it was come upon, which is how people know it. */
  readonly path: string
  /** Where it truly is: the same for a file that is seen by two ways. */
  readonly real: string
  readonly bytes: number
  /** Milliseconds. */
  readonly modified: number
}

export interface Scan {
  readonly files: readonly SeenFile[]
  /** Folders and files that could not be looked at, with why. */
  readonly unreadable: readonly { readonly path: string; readonly sentence: string }[]
  /** Whether there was anything at all in it. */
  readonly isEmpty: boolean
}

export type Scanned =
  | ({ readonly reached: true } & Scan)
  | { readonly reached: false; readonly sentence: string }

const deepest = 24

/** Looks through a folder and those in it, or at the one file that is named. */
export function scan(root: string, extension: string, onFolder: () => void = () => {}): Scanned {
  try {
    const stat = fs.statSync(root)
    if (stat.isFile()) return { reached: true, files: [seen(root, stat)], unreadable: [], isEmpty: false }
    if (!stat.isDirectory())
      return { reached: false, sentence: `${shownPath(root)} is neither a folder nor a file.` }
    const entries = fs.readdirSync(root, { withFileTypes: true })
    const walk = new Walk(extension, onFolder)
    walk.folder(root, entries, 0)
    return { reached: true, files: walk.files, unreadable: walk.unreadable, isEmpty: entries.length === 0 }
  } catch (error) {
    return { reached: false, sentence: sentenceOf(root, error) }
  }
}

class Walk {
  readonly files: SeenFile[] = []
  readonly unreadable: { path: string; sentence: string }[] = []
  readonly #extension: string
  readonly #onFolder: () => void
  /** Where was already looked: links may lead round in a circle. */
  readonly #visited = new Set<string>()
  readonly #reals = new Set<string>()

  constructor(extension: string, onFolder: () => void) {
    this.#extension = extension
    this.#onFolder = onFolder
  }

  folder(folder: string, entries: readonly fs.Dirent[], depth: number): void {
    this.#onFolder()
    this.#visited.add(realOf(folder))
    for (const entry of entries.toSorted((one, other) => (one.name < other.name ? -1 : 1))) {
      const each = path.join(folder, entry.name)
      try {
        this.#look(each, entry, depth)
      } catch (error) {
        // A link to nowhere is nobody's job.
        if (!entry.isSymbolicLink() || !isMissing(error))
          this.unreadable.push({ path: each, sentence: sentenceOf(each, error) })
      }
    }
  }

  #look(each: string, entry: fs.Dirent, depth: number): void {
    const isJob = path.extname(entry.name).toLowerCase() === this.#extension
    const mayBeFolder = entry.isDirectory() || entry.isSymbolicLink()
    if (!isJob && !mayBeFolder) return
    // Backups lie beside each job; hidden folders are other programs'.
    if (entry.name.startsWith('.') || entry.name.toLowerCase().endsWith(`${this.#extension}-backups`)) return
    const stat = fs.statSync(each)
    if (stat.isDirectory()) {
      if (depth < deepest && !this.#visited.has(realOf(each)))
        this.folder(each, fs.readdirSync(each, { withFileTypes: true }), depth + 1)
    } else if (isJob && stat.isFile()) {
      const file = seen(each, stat)
      if (this.#reals.has(file.real)) return
      this.#reals.add(file.real)
      this.files.push(file)
    }
  }
}

const seen = (file: string, stat: fs.Stats): SeenFile => ({
  path: file,
  real: realOf(file),
  bytes: stat.size,
  modified: stat.mtimeMs,
})

function realOf(each: string): string {
  try {
    return fs.realpathSync(each)
  } catch {
    // Some shares do not say; the path is then the best name there is.
    return path.resolve(each)
  }
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : ''
const isMissing = (error: unknown): boolean => /^(ENOENT|ELOOP)$/.test(codeOf(error))

// Line breaks would break the sentence; direction marks would let a name pass for another.
const shownPath = (each: string): string =>
  each.replaceAll(/[\p{Cc}\u200E\u200F\u202A-\u202E\u2066-\u2069]/gu, '\u{FFFD}')

/** Why something could not be looked at. Anything but an error of the file system is a bug and is thrown on. */
function sentenceOf(each: string, error: unknown): string {
  const code = codeOf(error)
  const shown = shownPath(each)
  switch (code) {
    case '':
      throw error
    case 'ENOENT':
    case 'ENOTDIR':
      // Names that are no text in UTF-8 come with a sign in place of what cannot be read.
      if (path.basename(each).includes('\u{FFFD}'))
        return `The name of ${shown} holds signs that this program cannot read; give the file another name.`
      return `There is nothing at ${shown}.`
    case 'EACCES':
    case 'EPERM':
      return `This machine does not let you look into ${shown}.`
    case 'ELOOP':
      return `${shown} leads round in a circle.`
    case 'ENAMETOOLONG':
      return `The name of ${shown} is too long for this machine.`
    default:
      return `${shown} cannot be reached (${code}).`
  }
}

export const emptySentence = (folder: string): string =>
  `${shownPath(folder)} is empty where there were jobs, so its share may not be connected.`
export const silentSentence = (folder: string, seconds: number): string =>
  `${shownPath(folder)} gave no answer for ${seconds} seconds.`
export const tooLargeSentence = (file: string): string =>
  `${shownPath(path.basename(file))} is larger than this machine can read at once; it was left as it is.`
export const notRead = (file: string, detail: string): string =>
  `${shownPath(path.basename(file))} could not be read (${detail}); it was left as it is.`
