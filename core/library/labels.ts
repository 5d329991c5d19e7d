// What the texts of a shelf are called, how much a hit in each says, and in which column of the index they are kept.

/** Marks and serials; whole names; words of names; rooms; levels and buildings; parts; what was written; the job. */
export const entryColumns = ['mark', 'whole', 'key', 'room', 'place', 'thing', 'note', 'job'] as const
export type EntryColumn = (typeof entryColumns)[number]

interface Label {
  readonly column: EntryColumn
  readonly weight: number
  /** What is added when it is exactly what was asked. */
  readonly exact: number
}

const label = (column: EntryColumn, weight: number, exact = 0): Label => ({ column, weight, exact })

/** The weights are those of core/schedule/find-in-job.ts; the far side of a doorway says a little less than the near. */
export const labels = {
  mark: label('key', 10, 1000),
  serial: label('key', 6, 900),
  'asset tag': label('key', 6, 900),
  supply: label('key', 8, 950),
  controller: label('key', 8, 950),
  point: label('key', 6, 500),
  run: label('key', 6, 500),
  output: label('key', 3, 400),
  place: label('room', 5, 300),
  room: label('room', 4, 300),
  'other side': label('room', 3, 100),
  level: label('place', 3),
  building: label('place', 2),
  tag: label('thing', 3),
  part: label('thing', 2),
  typical: label('thing', 2),
  'hardware set': label('thing', 1),
  cable: label('thing', 1),
  notes: label('note', 1),
  visit: label('note', 2),
  finding: label('note', 2),
  job: label('job', 2, 200),
  'job number': label('job', 4, 800),
  client: label('job', 1),
  address: label('job', 1),
} as const satisfies Record<string, Label>
export type TextLabel = keyof typeof labels
