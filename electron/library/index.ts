// A shelf of many job files, indexed for search without being changed.
export {
  openLibrary,
  type Library,
  type LibraryFound,
  type LibraryOptions,
  type LibraryState,
} from './library.ts'
export type { ShelfFile, ShelfFolder } from './index-file.ts'
export type { Progress } from './refresh.ts'
