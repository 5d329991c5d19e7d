// Small hand-made sheets and models for the intake tests. Everything in them is invented.
import {
  addRecord,
  asId,
  JobData,
  records,
  recordKinds,
  type Change,
  type Opening,
} from '../../../core/job/index.ts'
import type {
  CellForm,
  Merge,
  PlainCell,
  PlainDoor,
  PlainModel,
  PlainSheet,
} from '../../../core/exchange/index.ts'

type Written = string | { readonly text: string; readonly form: CellForm }

const cell = (written: Written): PlainCell =>
  typeof written === 'string'
    ? {
        text: written,
        form: written.trim() === '' ? 'empty' : /^\d+(\.\d+)?$/.test(written) ? 'number' : 'text',
      }
    : written

/** A date cell, as a spreadsheet stores a size such as 3-4. */
export const dated = (text: string): Written => ({ text, form: 'date' })
/** Text that looks like a number but was stored as text. */
export const asText = (text: string): Written => ({ text, form: 'text' })

/** Rows as arrays, numbered from 1; an empty array is a blank row and is left out, as the byte readers do. */
export function sheetOf(rows: readonly (readonly Written[])[], merges: readonly Merge[] = []): PlainSheet {
  return {
    name: 'Doors',
    rows: rows
      .map((cells, index) => ({ number: index + 1, cells: cells.map(cell) }))
      .filter((row) => row.cells.some((each) => each.form !== 'empty')),
    merges,
  }
}

/** A sheet from text: rows by line, cells by bar. */
export const sheetOfLines = (lines: string): PlainSheet =>
  sheetOf(
    lines
      .trim()
      .split('\n')
      .map((line) => line.split('|').map((each) => each.trim())),
  )

export function emptyJob(units: 'imperial' | 'metric' = 'imperial'): JobData {
  const data = new JobData()
  data.put('job', {
    id: asId<'job'>('job'),
    name: 'Harrow Street Clinic',
    number: null,
    client: null,
    address: null,
    preparedBy: null,
    units,
    dateForm: 'iso',
    buildingCode: null,
    loadingLimitPercent: 80,
    scheduleIssue: null,
    scheduleDate: null,
    notes: null,
    createdAt: '2026-01-05T08:00:00Z',
  })
  return data
}

/** Ids in order, so that two runs are alike. */
export function counter(prefix = 'new'): () => string {
  let count = 0
  return () => `${prefix}${(count += 1)}`
}

/** Every record of a job as text, to compare two states. */
export const stateOf = (data: JobData): string =>
  JSON.stringify(
    recordKinds.map((kind) =>
      Array.from(data.all(kind), (record) => JSON.stringify(sorted(record))).toSorted(),
    ),
  )

const sorted = (record: object): object =>
  Object.fromEntries(Object.entries(record).toSorted(([a], [b]) => (a < b ? -1 : 1)))

/** Applies a change after checking every added record against its shape. */
export function applyChecked(data: JobData, change: Change): void {
  for (const edit of change.edits) if (edit.does === 'add') records[edit.kind].parse(edit.record)
  data.apply(change.edits)
}

export function openingBy(data: JobData, mark: string): Opening {
  for (const opening of data.all('opening')) if (opening.mark === mark) return opening
  throw new Error(`no opening ${mark}`)
}

export function setOpening(data: JobData, mark: string, to: Partial<Opening>): void {
  data.put('opening', { ...openingBy(data, mark), ...to })
}

export function addTypical(data: JobData, name: string): void {
  const none = { furnishedBy: null, fittedBy: null, wiredBy: null, terminatedBy: null }
  data.apply([
    addRecord('typical', {
      id: asId<'typical'>(`typical ${name}`),
      name,
      description: null,
      position: 0,
      ...none,
      notes: null,
    }),
  ])
}

export const doorOf = (globalId: string, rest: Partial<PlainDoor> = {}): PlainDoor => ({
  globalId,
  name: null,
  tag: null,
  storey: 'Level 1',
  building: 'Annex',
  widthMillimetres: 915,
  heightMillimetres: 2134,
  operation: null,
  spaces: [],
  properties: {},
  ...rest,
})

export const modelOf = (doors: readonly PlainDoor[], rest: Partial<PlainModel> = {}): PlainModel => ({
  schema: 'IFC4',
  storeys: [],
  doors,
  warnings: [],
  ...rest,
})
