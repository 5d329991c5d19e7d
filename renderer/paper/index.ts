export { faceNames, type FaceName, type FontBytes } from './faces.ts'
export { pageSizes, type Orientation, type PageSize } from './page-sizes.ts'
export type { MissingCharacter } from './setting.ts'
export { writeDocument, type WriteOptions, type WrittenDocument } from './write-document.ts'
