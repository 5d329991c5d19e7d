export { ShelfSheet } from './shelf-sheet.tsx'
export { SearchShelf } from './search-shelf.tsx'
export { openForChanges, pickShelfEntry, shelfEntries } from './shelf-search.ts'
