// What every opening does and what the rules say of it, over a large job, beside the raw read of the same rows.
import Database from 'better-sqlite3'
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { batteryFromRecord, unknown } from '../../core/behaviour/index.ts'
import { reviewsOf, writeValue, type ReviewOptions, type Reviews } from '../../core/cautions/index.ts'
import { asId, type Edit, type JobData, type JobRecord, type Opening } from '../../core/job/index.ts'
import { makeJobFile } from '../../electron/store/index.ts'
import { bigJobRecords, jobDataOf, type RecordSet } from '../../fixtures/index.ts'
import { goodFacts } from '../core/cautions/openings.ts'
import { share, tableOf, type BenchLine } from './lines.ts'

const options: ReviewOptions = {
  stage: 'designed',
  batterySeconds: batteryFromRecord,
  fireAlarmBatterySeconds: unknown({ about: 'battery', thing: 'the fire alarm system' }),
}

/** The tables behind every doorway and every caution. */
const tables = [
  'opening',
  'leaf',
  'leaf_overlap',
  'fitting',
  'typical',
  'typical_fitting',
  'typical_fitting_leaf',
  'link',
  'setting_value',
  'part',
  'part_behaviour',
  'part_hardware',
  'part_element',
  'part_setting',
  'part_position',
  'part_setting_table',
  'part_setting_table_row',
  'part_contact',
  'part_contact_state',
  'part_contact_timing',
  'setting_effect',
  'run',
  'output',
  'supply',
  'point',
  'controller',
  'fact_answer',
] as const

/** Every fact answered for the job, and an answer of its own at one opening in ten. */
function withAnswers(records: RecordSet): RecordSet {
  const answer = (fact: string, value: string, openingId: Opening['id'] | null): JobRecord<'factAnswer'> => ({
    id: asId(`answer-${fact}-${openingId ?? 'job'}`),
    fact,
    levelId: null,
    typicalId: null,
    openingId,
    value,
    who: null,
    at: null,
    notes: null,
  })
  const ofJob = Object.entries(goodFacts).map(([fact, value]) => answer(fact, writeValue(value), null))
  const ofOpenings = (records.opening ?? [])
    .filter((_, place) => place % 10 === 0)
    .map(({ id }, place) => answer('occupant-load', String(place), id))
  return { ...records, factAnswer: [...ofJob, ...ofOpenings] }
}

function timed<T>(work: () => T): { readonly milliseconds: number; readonly result: T } {
  const start = performance.now()
  const result = work()
  return { milliseconds: performance.now() - start, result }
}

const middleOf = (runs: number, work: () => unknown): number =>
  share(
    Array.from({ length: runs }, () => timed(work).milliseconds),
    0.5,
  )

interface AllReviews {
  readonly reviews: Reviews
  readonly verdicts: number
}

function reviewAll(data: JobData): AllReviews {
  const reviews = reviewsOf(data, options)
  let verdicts = 0
  for (const opening of data.all('opening')) verdicts += reviews.of(opening).cautions.length
  return { reviews, verdicts }
}

/** Measures and gives the lines; a few seconds, most of it the making of the job file for the raw read. */
export function measureDoorways(count = 10_000): readonly BenchLine[] {
  const records = withAnswers(bigJobRecords(count))
  const data = jobDataOf(records)
  const first = timed(() => reviewAll(data))
  const again = middleOf(5, () => reviewAll(data))
  const raw = rawRead(records)
  const size = `${count.toLocaleString('en')} openings, ${data.count('fitting').toLocaleString('en')} fittings`
  const times = (milliseconds: number): string => `${(milliseconds / raw.milliseconds).toFixed(1)} times`
  const what = 'doorways: all behaviour and all cautions'
  return [
    {
      what,
      measured: first.milliseconds / 1000,
      unit: 's',
      goal: { atMost: 1 },
      how: `${size}, ${first.result.verdicts.toLocaleString('en')} verdicts, first time; again ${(again / 1000).toFixed(2)} s`,
    },
    {
      what: `${what}, beside the raw read`,
      measured: again,
      unit: 'ms',
      goal: { atMost: 5 * raw.milliseconds },
      how: `${times(again)} the raw read, both the middle of 5; the first time ${times(first.milliseconds)}`,
    },
    {
      what: 'doorways: the same rows read raw from SQLite',
      measured: raw.milliseconds,
      unit: 'ms',
      how: `${raw.rows.toLocaleString('en')} rows of ${tables.length} tables, the middle of 5`,
    },
    ...oneEdit(data, first.result.reviews),
  ]
}

function rawRead(records: RecordSet): { readonly milliseconds: number; readonly rows: number } {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-doorways-'))
  try {
    const jobFile = path.join(folder, 'big.lintelbook')
    const made = makeJobFile(jobFile, records, { who: 'bench', now: () => new Date().toISOString() })
    if (!made.ok) throw new Error(made.sentence)
    made.file.close()
    let rows = 0
    const milliseconds = middleOf(5, () => {
      const db = new Database(jobFile, { readonly: true })
      rows = 0
      for (const table of tables) rows += db.prepare(`SELECT * FROM ${table}`).all().length
      db.close()
    })
    return { milliseconds, rows }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Four kinds of edit in turn, each at another opening. */
function editAt(data: JobData, opening: Opening, turn: number): Edit | null {
  const fittings = data.referring('fitting', 'openingId', opening.id)
  const fitting = fittings[turn % fittings.length]
  switch (turn % 4) {
    case 0:
      return fitting === undefined
        ? null
        : { does: 'set', kind: 'fitting', id: fitting.id, from: { leftOut: false }, to: { leftOut: true } }
    case 1:
      return fitting === undefined
        ? null
        : { does: 'set', kind: 'fitting', id: fitting.id, from: { tag: null }, to: { tag: `Q${turn}` } }
    case 2: {
      const from = { fireLabelMinutes: opening.fireLabelMinutes }
      return { does: 'set', kind: 'opening', id: opening.id, from, to: { fireLabelMinutes: 45 } }
    }
    default: {
      const record = { fact: 'occupant-load', openingId: opening.id, levelId: null, typicalId: null }
      const value = { ...record, id: `edit-${turn}`, value: String(turn), who: null, at: null, notes: null }
      return { does: 'add', kind: 'factAnswer', record: value }
    }
  }
}

function oneEdit(data: JobData, reviews: Reviews): readonly BenchLine[] {
  const openings = [...data.all('opening')]
  const times: number[] = []
  for (let turn = 0; turn < 400; turn += 1) {
    const opening = openings[(turn * 37) % openings.length]
    const edit = opening === undefined ? null : editAt(data, opening, turn)
    if (edit === null) continue
    times.push(timed(() => reviewAfter(data, reviews, edit)).milliseconds)
  }
  const typicalEdit = settingOfTypical(data)
  const how = `${times.length} edits, with what they touch reviewed again`
  const lines: BenchLine[] = [
    { what: 'doorways: one edit, p50', measured: share(times, 0.5), unit: 'ms', how },
    {
      what: 'doorways: one edit, p95',
      measured: share(times, 0.95),
      unit: 'ms',
      goal: { atMost: 5 },
      how: `slowest ${share(times, 1).toFixed(1)} ms`,
    },
  ]
  if (typicalEdit !== null)
    lines.push({
      what: 'doorways: a setting of a typical, all openings reviewed again',
      measured: timed(() => reviewAfter(data, reviews, typicalEdit)).milliseconds,
      unit: 'ms',
    })
  return lines
}

function reviewAfter(data: JobData, reviews: Reviews, edit: Edit): void {
  data.apply([edit])
  const touched = reviews.changed([edit])
  if (touched === 'all') for (const opening of data.all('opening')) reviews.of(opening)
  else
    for (const id of touched) {
      const opening = data.get('opening', id)
      if (opening !== undefined) reviews.of(opening)
    }
}

function settingOfTypical(data: JobData): Edit | null {
  for (const { id, typicalFittingId, value } of data.all('settingValue'))
    if (typicalFittingId !== null)
      return { does: 'set', kind: 'settingValue', id, from: { value }, to: { value: `not ${value}` } }
  return null
}

/** The lines as a table, for whoever wants to print them by themselves. */
export const doorwaysTable = (): string => tableOf(measureDoorways())
