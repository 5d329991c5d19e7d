export { Table } from './table.tsx'
export { readTabbed, writeTabbed, writeMarkup } from './tabbed.ts'
export { findPlaces, selectedRowKeys, shownColumns } from './places.ts'
export type * from './types.ts'
