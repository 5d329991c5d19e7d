// Two states of one job: what differs in each opening, and what follows from the difference.
import type { ConditionResult } from '../behaviour/index.ts'
import type { Caution } from '../cautions/index.ts'
import {
  compareMarks,
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type Opening,
} from '../job/index.ts'
import { scheduleColumns, scheduleFrame, scheduleRow, type ScheduleFrame } from '../schedule/index.ts'
import { partBook, settingsOf, type PartBook } from '../settings/index.ts'
import { consequencesOf } from './consequences.ts'

/** One thing that is otherwise; null where there was or is nothing. */
export interface Difference {
  /** "Hand", "Part of M1", "Hold time of S1 as designed". */
  readonly what: string
  readonly before: string | null
  readonly after: string | null
}

export interface OpeningDifference {
  readonly openingId: string
  readonly mark: string
  readonly where: string
  readonly change: 'added' | 'removed' | 'changed'
  readonly differences: readonly Difference[]
  /** What the doorway, the cautions and the volts do otherwise, in sentences. */
  readonly consequences: readonly string[]
}

/** What the engines make of an opening in one of the two states. */
export interface WorkedOut {
  readonly results: readonly ConditionResult[]
  readonly cautions: readonly Caution[]
  /** Fed devices outside their window, by name. */
  readonly lowDevices: readonly string[]
}

/** A state of a job with what its engines give; each opening is asked for at most once. */
export interface StateOfJob {
  readonly data: JobData
  readonly workedOut: (opening: Opening) => WorkedOut
}

export interface JobDifference {
  /** In the order in which people count marks; openings that are the same in both are not there. */
  readonly openings: readonly OpeningDifference[]
  /** Of the job itself and of what many openings rest on: supplies, typicals, answers. */
  readonly job: readonly Difference[]
}

/** Compares a later state with an earlier one. Openings are the same by their id, so that a new mark is a change. */
export function compareJobs(before: StateOfJob, after: StateOfJob): JobDifference {
  const [was, is] = [sideOf(before), sideOf(after)]
  const openings: OpeningDifference[] = []
  for (const opening of before.data.all('opening'))
    if (after.data.get('opening', opening.id) === undefined) openings.push(gone(was, opening, 'removed'))
  for (const opening of after.data.all('opening')) {
    const earlier = before.data.get('opening', opening.id)
    if (earlier === undefined) {
      openings.push(gone(is, opening, 'added'))
      continue
    }
    const differences = differencesOf(linesOf(was, earlier), linesOf(is, opening))
    const consequences = consequencesOf(before.workedOut(earlier), after.workedOut(opening))
    if (differences.length === 0 && consequences.length === 0) continue
    openings.push({ ...named(is, opening), change: 'changed', differences, consequences })
  }
  return {
    openings: openings.toSorted((one, other) => compareMarks(one.mark, other.mark)),
    job: differencesOf(jobLines(before.data), jobLines(after.data)),
  }
}

interface Side {
  readonly data: JobData
  readonly frame: ScheduleFrame
  readonly book: PartBook
}

const sideOf = ({ data }: StateOfJob): Side => ({ data, frame: scheduleFrame(data), book: partBook(data) })

const named = ({ data }: Side, opening: Opening) => ({
  openingId: opening.id as string,
  mark: opening.mark,
  where: scheduleRow(data, opening).where,
})

const gone = (side: Side, opening: Opening, change: 'added' | 'removed'): OpeningDifference => ({
  ...named(side, opening),
  change,
  differences: [],
  consequences: [],
})

type Lines = ReadonlyMap<string, string>

function differencesOf(before: Lines, after: Lines): Difference[] {
  const found: Difference[] = []
  for (const [what, text] of before) {
    const now = after.get(what) ?? null
    if (now !== text) found.push({ what, before: text, after: now })
  }
  for (const [what, text] of after) if (!before.has(what)) found.push({ what, before: null, after: text })
  return found
}

/** Everything said of an opening, each under what it is. Empty texts are not there. */
function linesOf(side: Side, opening: Opening): Lines {
  const { data, frame, book } = side
  const lines = new Map<string, string>()
  const say = (what: string, text: string | null): void => {
    if (text !== null && text.trim() !== '') lines.set(what, text)
  }
  const row = scheduleRow(data, opening)
  const context = { units: frame.job.units, frame }
  for (const column of scheduleColumns) say(column.heading, column.text(row, context))
  for (const fitting of effectiveFittings(data, opening)) sayFitting(say, fitting)
  for (const { tag, settings } of settingsOf(data, { openingId: opening.id }, book))
    for (const { setting, designed, set, found } of settings) {
      say(`${setting.name} of ${tag} as designed`, designed.known ? designed.value : null)
      say(`${setting.name} of ${tag} as set`, set.known ? set.value : null)
      say(`${setting.name} of ${tag} as found`, found.known ? found.value : null)
    }
  for (const run of runsAt(data, opening)) {
    say(`Length of ${run.name}`, run.lengthMetres === null ? null : `${run.lengthMetres} m`)
    say(`Cable of ${run.name}`, run.cable)
  }
  for (const { fact, value } of data.referring('factAnswer', 'openingId', opening.id))
    say(`Answer to ${fact.replaceAll('-', ' ')}`, value)
  return lines
}

function sayFitting(say: (what: string, text: string | null) => void, fitting: EffectiveFitting): void {
  const { tag, part, serial, leftOut } = fitting
  say(`Part of ${tag}`, leftOut ? 'left out' : (part?.name ?? 'not known'))
  if (!leftOut) say(`Serial of ${tag}`, serial)
}

function runsAt(data: JobData, opening: Opening) {
  const runs = new Map(
    data
      .referring('fitting', 'openingId', opening.id)
      .flatMap(({ id }) => [
        ...data.referring('run', 'toFittingId', id),
        ...data.referring('run', 'fromFittingId', id),
      ])
      .map((run) => [run.id, run]),
  )
  return runs.values()
}

/** The job's own facts, its supplies and the answers given for it, its levels and its typicals. */
function jobLines(data: JobData): Lines {
  const lines = new Map<string, string>()
  const say = (what: string, value: string | number | null): void => {
    if (value !== null && value !== '') lines.set(what, String(value))
  }
  const { name, number, client, address, buildingCode, loadingLimitPercent } = data.job
  say('Name of the job', name)
  say('Number of the job', number)
  say('Client', client)
  say('Address', address)
  say('Building code', buildingCode)
  say('Loading limit', `${loadingLimitPercent} %`)
  for (const { mark, ratedVolts, ratedAmps, batteryAmpHours } of data.all('supply')) {
    say(`Rated volts of ${mark}`, ratedVolts)
    say(`Rated current of ${mark}`, ratedAmps)
    say(`Battery of ${mark}`, batteryAmpHours === null ? null : `${batteryAmpHours} Ah`)
  }
  for (const { fact, value, levelId, typicalId, openingId } of data.all('factAnswer')) {
    if (openingId !== null) continue
    const place =
      data.get('level', levelId ?? '')?.name ?? data.get('typical', typicalId ?? '')?.name ?? 'the job'
    say(`Answer to ${fact.replaceAll('-', ' ')} for ${place}`, value)
  }
  for (const typical of data.all('typical')) {
    const fittings = data
      .referring('typicalFitting', 'typicalId', typical.id)
      .toSorted((one, other) => one.position - other.position)
      .map(({ tag, partId }) => `${tag} ${data.get('part', partId)?.name ?? ''}`)
    say(`Fittings of typical ${typical.name}`, fittings.join('; '))
  }
  return lines
}
