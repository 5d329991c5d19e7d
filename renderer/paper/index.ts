export { faceNames, type FaceName, type FontBytes } from './faces.ts'
export type { ReadFile } from './lay-out.ts'
export { pageSizes, type Orientation, type PageSize } from './page-sizes.ts'
export type { MissingCharacter } from './setting.ts'
export {
  writeBook,
  type BookProgress,
  type BoundAttachment,
  type WriteBookOptions,
  type WrittenBook,
} from './write-book.ts'
export { writeDocument, type WriteOptions, type WrittenDocument } from './write-document.ts'
export { writeLabels, type WriteLabelsOptions, type WrittenLabels } from './write-labels.ts'
