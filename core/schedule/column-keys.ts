/** Columns of the schedule, in the order they stand before a person chooses. */
export const columnKeys = [
  'mark',
  'where',
  'building',
  'level',
  'size',
  'thickness',
  'hand',
  'label',
  'typical',
  'material',
  'frame',
  'furnished',
  'fitted',
  'wired',
  'terminated',
  'doorType',
  'hardwareSet',
  'serial',
  'assetTag',
  'installed',
  'notes',
  'source',
] as const

export type ColumnKey = (typeof columnKeys)[number]
