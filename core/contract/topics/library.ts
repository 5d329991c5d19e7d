// Job files on the shelf, searched together.
import { z } from 'zod'
import { call } from '../call.ts'
import { told } from './shapes.ts'

/** Something found in a job file, as far as the index knows it. */
export interface ShelfFound {
  readonly jobPath: string
  readonly jobName: string
  readonly kind: string
  readonly id: string
  /** The opening whose page answers, when there is one. */
  readonly openingId: string | null
  readonly title: string
  readonly detail: string
  /** Words asked for that are nowhere in it. */
  readonly without: readonly string[]
  /** Why the file may not be as it was indexed, or not be reachable. */
  readonly sentence: string | null
}

export interface WatchedFolder {
  readonly path: string
  /** The folder of new jobs is always looked at; the others were chosen. */
  readonly chosen: boolean
  readonly reachable: boolean
  /** Whether it was looked at yet. */
  readonly looked: boolean
  readonly sentence: string | null
  readonly jobs: number
}

export interface LibraryState {
  readonly folders: readonly WatchedFolder[]
  /** Job files that could not be read, with why. */
  readonly unread: readonly { readonly path: string; readonly sentence: string }[]
  readonly jobs: number
  readonly openings: number
  /** Whether the folders are being looked through now. */
  readonly refreshing: boolean
  readonly trouble: string | null
}

const folder = z.string().min(1).max(4096)

export const libraryContract = {
  'library.read': call(z.strictObject({}), told<LibraryState>()),
  /** Begins to look through the folders; asking goes on meanwhile. */
  'library.refresh': call(z.strictObject({}), told<LibraryState>()),
  'library.search': call(
    z.strictObject({ words: z.string().max(400), limit: z.int().min(1).max(200) }),
    told<{ readonly found: readonly ShelfFound[]; readonly refreshing: boolean }>(),
  ),
  'library.watch': call(z.strictObject({ folder }), told<LibraryState>()),
  'library.unwatch': call(z.strictObject({ folder }), told<LibraryState>()),
} as const
