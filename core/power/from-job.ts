// Supplies of a job as this folder takes them, as far as today's records say it. What they do not say becomes a question.
//
// The records lack (each is a question, or an assumption named where it is made):
// - of a part: the volts at which its current is stated, ratings for each voltage setting, whether there is no in-rush;
// - of a conductor: whether it carries the feed, its return, a signal or nothing (read here from its purpose);
// - of an output: its lowest and highest volts, whether it has no fuse, Class 2 and how it is limited;
// - of a supply: own current, efficiency, charging current, battery temperature, whether it has no battery;
// - of a fitting: whether it draws at rest and on alarm (behaviour knows), and what fires together;
// - power over Ethernet: nothing at all.
import {
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type JobRecord,
  type Opening,
} from '../job/index.ts'
import { factOf, known, unknown, type Fact } from './facts.ts'
import { source, type ConductorFacts, type Load, type Rating, type Run } from './network.ts'
import type { FedOutput, Supply } from './power.ts'
import { endOfDischargeVolts } from './scenarios.ts'
import { readWireSize, type WireSize } from './wire.ts'

type SupplyRecord = JobRecord<'supply'>
type OutputRecord = JobRecord<'output'>
type RunRecord = JobRecord<'run'>
type ConductorRecord = JobRecord<'conductor'>

/** What the behaviour of openings knows of a fitting; null where it does not. */
export interface Drawing {
  readonly atRest: boolean | null
  readonly onAlarm: boolean | null
  /** The name of what fires together with it; null fires alone. */
  readonly firesWith: string | null
}

export type DrawingOf = (fittingId: string) => Drawing
const notSaid: DrawingOf = () => ({ atRest: null, onAlarm: null, firesWith: null })

/** All supplies of a job, in their order. `drawingOf` is asked once for each fitting that is fed. */
export function suppliesFromJob(data: JobData, drawingOf: DrawingOf = notSaid): readonly Supply[] {
  const reader = jobReader(data, drawingOf)
  return [...data.all('supply')].toSorted(byPosition).map((supply) => reader.supply(supply))
}

/** One supply of a job. */
export const supplyFromJob = (data: JobData, supply: SupplyRecord, drawingOf: DrawingOf = notSaid): Supply =>
  jobReader(data, drawingOf).supply(supply)

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0)

function jobReader(data: JobData, drawingOf: DrawingOf) {
  const byOpening = new Map<string, ReadonlyMap<string, EffectiveFitting>>()
  const fittingOf = (id: string): { fitting: EffectiveFitting; opening: Opening } | null => {
    const record = data.get('fitting', id)
    const opening = record === undefined ? undefined : data.get('opening', record.openingId)
    if (opening === undefined) return null
    let fittings = byOpening.get(opening.id)
    if (fittings === undefined) {
      fittings = new Map(effectiveFittings(data, opening).map((each) => [each.key, each]))
      byOpening.set(opening.id, fittings)
    }
    const fitting = fittings.get(id)
    return fitting === undefined ? null : { fitting, opening }
  }

  const output = (record: OutputRecord, supply: SupplyRecord): FedOutput => {
    const name = `${supply.mark} output ${record.name}`
    const runs = runsFrom(data, record)
    const fittingIds = new Set(runs.flatMap(({ fromFittingId, toFittingId }) => [fromFittingId, toFittingId]))
    const loads: Load[] = []
    for (const id of fittingIds) {
      const found = id === null ? null : fittingOf(id)
      if (found !== null) loads.push(...loadOf(data, found.fitting, found.opening, drawingOf))
    }
    return {
      id: record.id,
      name,
      runs: runs.map((run) => runOf(data, run)),
      loads,
      volts: {
        nominal: factOf(record.ratedVolts ?? supply.ratedVolts, 'nominal volts', name),
        lowest: unknown('lowest volts', name),
        highest: unknown('highest volts', name),
        endOfDischarge:
          supply.batteryVolts === null
            ? unknown('battery', supply.mark)
            : known(
                endOfDischargeVolts(supply.batteryVolts),
                `${supply.batteryVolts} V battery, 10.5 V per 12 V`,
              ),
      },
      ratedAmps: factOf(record.ratedAmps, 'rated current', name),
      fuseAmps: factOf(record.fuseAmps, 'fuse', name),
      classTwo: unknown('class 2', name),
      nearer: [],
    }
  }

  return {
    supply(record: SupplyRecord): Supply {
      const { mark } = record
      return {
        id: record.id,
        name: mark,
        ratedVolts: factOf(record.ratedVolts, 'nominal volts', mark),
        ratedAmps: factOf(record.ratedAmps, 'rated current', mark),
        ownAmps: unknown('own current', mark),
        efficiency: unknown('efficiency', mark),
        batteryAmpHours: factOf(record.batteryAmpHours, 'battery', mark),
        batteryCelsius: unknown('battery temperature', mark),
        standbyHours: factOf(record.standbyHours, 'standby hours', mark),
        alarmMinutes: factOf(record.alarmMinutes, 'alarm minutes', mark),
        chargingAmps: unknown('charging current', mark),
        outputs: data
          .referring('output', 'supplyId', record.id)
          .toSorted(byPosition)
          .map((each) => output(each, record)),
      }
    },
  }
}

/** Every run that hangs on an output, through fittings; a controller's outputs are not followed. */
function runsFrom(data: JobData, output: OutputRecord): readonly RunRecord[] {
  const found = new Map<string, RunRecord>()
  const seen = new Set<string>()
  const waiting: string[] = []
  const take = (run: RunRecord): void => {
    if (found.has(run.id) || !carriesPower(data, run)) return
    found.set(run.id, run)
    for (const end of [run.fromFittingId, run.toFittingId]) if (end !== null) waiting.push(end)
  }
  for (const run of data.referring('run', 'fromOutputId', output.id)) take(run)
  for (const run of data.referring('run', 'toOutputId', output.id)) take(run)
  for (let fitting = waiting.shift(); fitting !== undefined; fitting = waiting.shift()) {
    if (seen.has(fitting)) continue
    seen.add(fitting)
    for (const run of data.referring('run', 'fromFittingId', fitting)) take(run)
    for (const run of data.referring('run', 'toFittingId', fitting)) take(run)
  }
  return [...found.values()].toSorted(byPosition)
}

const conductorsOf = (data: JobData, run: RunRecord): readonly ConductorRecord[] =>
  data.referring('conductor', 'runId', run.id).toSorted(byPosition)

/** A run to or from a controller carries signals, or is fed by the controller's own supply. */
const carriesPower = (data: JobData, run: RunRecord): boolean =>
  run.fromControllerId === null &&
  run.toControllerId === null &&
  // With no conductors yet it may carry anything; it is kept, and asks.
  (conductorsOf(data, run).length === 0 || conductorsOf(data, run).some((each) => roleOf(each) !== 'other'))

type Role = 'out' | 'back' | 'spare' | 'other'

/** What a conductor does, from the words of its purpose. Common practice, no source: the records have no field for it. */
function roleOf({ purpose }: ConductorRecord): Role {
  if (purpose === null || purpose.trim() === '') return 'other'
  const words = purpose.toLowerCase()
  if (/\bspare\b/.test(words)) return 'spare'
  if (/\b(?:loop|data|signal|clock|lamp|sounder)\b/.test(words)) return 'other'
  if (/\b(?:return|negative|common|0 ?v)\b|[-–−](?:\s|$)/.test(words)) return 'back'
  return /\b(?:positive|feed|power|\+?\d+ ?v)\b|\+(?:\s|$)/.test(words) ? 'out' : 'other'
}

function runOf(data: JobData, record: RunRecord): Run {
  const conductors = conductorsOf(data, record)
  const { name } = record
  const ofRole = (role: Role): readonly ConductorFacts[] =>
    conductors.filter((each) => roleOf(each) === role).map((each) => factsOf(each, name))
  const notSaidYet: ConductorFacts = {
    size: unknown('wire size', name),
    stranded: unknown('stranding', name),
  }
  const none = conductors.length === 0
  return {
    id: record.id,
    name,
    from: placeOf(record.fromOutputId, record.fromFittingId, `${record.id} from`),
    to: placeOf(record.toOutputId, record.toFittingId, `${record.id} to`),
    lengthMetres: factOf(record.lengthMetres, 'length', name),
    out: none ? [notSaidYet] : ofRole('out'),
    back: none ? [notSaidYet] : ofRole('back'),
    spareConductors: conductors.filter((each) => roleOf(each) === 'spare').length,
  }
}

const placeOf = (output: string | null, fitting: string | null, nowhere: string): string =>
  output !== null ? source : (fitting ?? nowhere)

function factsOf({ size, stranded }: ConductorRecord, run: string): ConductorFacts {
  return { size: sizeOf(size, run), stranded: factOf(stranded, 'stranding', run) }
}

function sizeOf(text: string | null, run: string): Fact<WireSize> {
  const reading = text === null ? null : readWireSize(text)
  return reading?.known === true ? known(reading.value) : unknown('wire size', run)
}

/** The load of a fitting; none where its part was declared to draw nothing. Silence is no such word. */
function loadOf(
  data: JobData,
  fitting: EffectiveFitting,
  opening: Opening,
  drawingOf: DrawingOf,
): readonly Load[] {
  const { part } = fitting
  const name = `${opening.mark} ${fitting.tag}`
  if (fitting.leftOut || (part !== null && drawsNothing(data, part))) return []
  const drawing = drawingOf(fitting.key)
  return [
    {
      id: fitting.key,
      name,
      at: fitting.key,
      form: factOf(part?.loadForm, 'load form', name),
      ratings: [ratingOfPart(part, name)],
      setTo: unknown('voltage setting', name),
      firesWith: drawing.firesWith,
      drawsAtRest: factOf(drawing.atRest, 'drawing at rest', name),
      drawsOnAlarm: factOf(drawing.onAlarm, 'drawing on alarm', name),
    },
  ]
}

/**
 * Whether a part was declared to draw nothing from a supply: no figure of a current, nothing in it that a feed engages, and a
 * power that is none or another's. The trap: `power` speaks of what its contacts need, so a magnet's is none.
 */
function drawsNothing(data: JobData, part: JobRecord<'part'>): boolean {
  if (part.loadForm !== null || part.holdingAmps !== null || part.inrushAmps !== null) return false
  const byFeed = data
    .referring('partElement', 'partId', part.id)
    .some(({ engaged }) => engaged === null || engaged === 'while fed' || engaged === 'while not fed')
  const [declared] = data.referring('partBehaviour', 'partId', part.id)
  return !byFeed && declared != null && declared.power !== null && declared.power !== 'from a supply'
}

function ratingOfPart(part: EffectiveFitting['part'], name: string): Rating {
  const minimumVolts = part?.minimumVolts ?? null
  const maximumVolts = part?.maximumVolts ?? null
  const inrushAmps = part?.inrushAmps ?? null
  const form = part?.loadForm ?? null
  return {
    setting: null,
    statedVolts: unknown('stated volts', name),
    holdingAmps: factOf(part?.holdingAmps, 'holding current', name),
    // A resistance draws no more when it is switched on than while it holds; for others no figure is no answer.
    inrush:
      inrushAmps !== null
        ? known({ amps: inrushAmps, seconds: part?.inrushSeconds ?? null })
        : form === 'resistance'
          ? known(null, 'a resistance has no in-rush')
          : unknown('in-rush current', name),
    window:
      minimumVolts === null || maximumVolts === null
        ? unknown('working window', name)
        : known({ minimumVolts, maximumVolts }),
  }
}
