// Supplies of a job as this folder takes them. What its records do not say becomes a question.
import {
  effectiveFittings,
  type ConductorRole,
  type EffectiveFitting,
  type JobData,
  type JobRecord,
  type Opening,
} from '../job/index.ts'
import { fittingSettings, partBook } from '../settings/index.ts'
import { factOf, known, unknown, type Fact } from './facts.ts'
import { source, type ConductorFacts, type Load, type LoadForm, type Rating, type Run } from './network.ts'
import { usualPowerSettings, type FedOutput, type PowerSettings, type Supply } from './power.ts'
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
  const reader = powerReader(data, drawingOf)
  return suppliesInOrder(data).map((supply) => reader.supply(supply))
}

/** One supply of a job. */
export const supplyFromJob = (data: JobData, supply: SupplyRecord, drawingOf: DrawingOf = notSaid): Supply =>
  powerReader(data, drawingOf).supply(supply)

export const suppliesInOrder = (data: JobData): readonly SupplyRecord[] =>
  [...data.all('supply')].toSorted(byPosition)

/** Outputs of a supply, in their order. */
export const outputsInOrder = (data: JobData, supplyId: string): readonly OutputRecord[] =>
  data.referring('output', 'supplyId', supplyId).toSorted(byPosition)

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0)

export interface PowerReader {
  readonly output: (record: OutputRecord, supply: SupplyRecord) => FedOutput
  /** `outputOf` may give outputs that were read before. */
  readonly supply: (record: SupplyRecord, outputOf?: (output: OutputRecord) => FedOutput) => Supply
}

/** Reads outputs and supplies one by one. It remembers fittings: make a new one after a change. */
export function powerReader(data: JobData, drawingOf: DrawingOf): PowerReader {
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

  const [jobTerms] = [...data.all('jobTerms')]
  const output = (record: OutputRecord, supply: SupplyRecord): FedOutput => {
    const [terms] = data.referring('outputTerms', 'outputId', record.id)
    const [ofSupply] = data.referring('supplyTerms', 'supplyId', supply.id)
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
        lowest: factOf(terms?.lowestVolts ?? ofSupply?.lowestVolts, 'lowest volts', name),
        highest: factOf(terms?.highestVolts ?? ofSupply?.highestVolts, 'highest volts', name),
        endOfDischarge: hasNoBattery(supply, ofSupply)
          ? known(null, 'no battery')
          : supply.batteryVolts === null
            ? unknown('battery', supply.mark)
            : known(
                endOfDischargeVolts(supply.batteryVolts),
                `${supply.batteryVolts} V battery, 10.5 V per 12 V`,
              ),
      },
      ratedAmps: factOf(record.ratedAmps, 'rated current', name),
      fuseAmps: terms?.hasFuse === false ? known(null, 'no fuse') : factOf(record.fuseAmps, 'fuse', name),
      classTwo:
        terms?.classTwo === 'none'
          ? known(null, 'not wired as Class 2')
          : factOf(terms?.classTwo, 'class 2', name),
      nearer: [],
    }
  }

  return {
    output,
    supply(record, outputOf = (each) => output(each, record)): Supply {
      const { mark } = record
      const [terms] = data.referring('supplyTerms', 'supplyId', record.id)
      const efficiency = terms?.efficiencyPercent ?? null
      return {
        id: record.id,
        name: mark,
        ratedVolts: factOf(record.ratedVolts, 'nominal volts', mark),
        ratedAmps: factOf(record.ratedAmps, 'rated current', mark),
        ownAmps: factOf(terms?.ownAmps, 'own current', mark),
        efficiency: factOf(efficiency === null ? null : efficiency / 100, 'efficiency', mark),
        batteryAmpHours: hasNoBattery(record, terms)
          ? known(null, 'no battery')
          : factOf(record.batteryAmpHours, 'battery', mark),
        batteryCelsius: factOf(terms?.batteryCelsius, 'battery temperature', mark),
        standbyHours: factOf(record.standbyHours ?? jobTerms?.standbyHours, 'standby hours', mark),
        alarmMinutes: factOf(record.alarmMinutes ?? jobTerms?.alarmMinutes, 'alarm minutes', mark),
        chargingAmps: factOf(terms?.chargingAmps, 'charging current', mark),
        outputs: outputsInOrder(data, record.id).map(outputOf),
      }
    },
  }
}

const hasNoBattery = (
  { batteryAmpHours }: SupplyRecord,
  terms: JobRecord<'supplyTerms'> | undefined,
): boolean => terms?.hasBattery === false || batteryAmpHours === 0

/** How this job wants its power judged; what it does not say is the usual. */
export function powerSettingsOf(data: JobData): PowerSettings {
  const [terms] = [...data.all('jobTerms')]
  const [usualCool, usualWarm] = usualPowerSettings.scenarios.cableCelsius
  const cool = terms?.coolestCelsius ?? usualCool ?? 20
  const warm = terms?.warmestCelsius ?? usualWarm ?? 50
  const ageing = terms?.ageingPercent ?? null
  return {
    ...usualPowerSettings,
    loadingLimitPercent: data.job.loadingLimitPercent,
    ageingFactor: ageing === null ? usualPowerSettings.ageingFactor : ageing / 100,
    scenarios: { ...usualPowerSettings.scenarios, cableCelsius: cool === warm ? [cool] : [cool, warm] },
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

/** Conductors of a run, in their order. */
export const conductorsOf = (data: JobData, run: { readonly id: string }): readonly ConductorRecord[] =>
  data.referring('conductor', 'runId', run.id).toSorted(byPosition)

/** A run to or from a controller carries signals, or is fed by the controller's own supply. */
const carriesPower = (data: JobData, run: RunRecord): boolean =>
  run.fromControllerId === null &&
  run.toControllerId === null &&
  // With no conductors yet it may carry anything; it is kept, and asks.
  (conductorsOf(data, run).length === 0 ||
    conductorsOf(data, run).some((each) => roleOf(data, each) !== 'other'))

export type Role = 'out' | 'back' | 'spare' | 'other'

const roles: Readonly<Record<ConductorRole, Role>> = {
  feed: 'out',
  return: 'back',
  spare: 'spare',
  signal: 'other',
  shield: 'other',
}

/** What a conductor does: as somebody said, else from the words of its purpose. Common practice, no source. */
export function roleOf(data: JobData, { id, purpose }: ConductorRecord): Role {
  const [use] = data.referring('conductorUse', 'conductorId', id)
  if (use !== undefined) return roles[use.role]
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
    conductors.filter((each) => roleOf(data, each) === role).map((each) => factsOf(each, name))
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
    spareConductors: conductors.filter((each) => roleOf(data, each) === 'spare').length,
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
  const { ratings, setTo, draws } = ratingsOf(data, fitting, name)
  const says = draws === 'all the time' ? true : draws === 'only when worked' ? false : null
  return [
    {
      id: fitting.key,
      name,
      at: fitting.key,
      form: factOf(part?.loadForm, 'load form', name),
      ratings,
      setTo,
      firesWith: drawing.firesWith,
      drawsAtRest: factOf(says ?? drawing.atRest, 'drawing at rest', name),
      drawsOnAlarm: factOf(says ?? drawing.onAlarm, 'drawing on alarm', name),
    },
  ]
}

interface Rated {
  readonly ratings: readonly Rating[]
  readonly setTo: Fact<string>
  readonly draws: JobRecord<'partLoad'>['draws']
}

/** The ratings a part declares for the positions of its voltage setting, with the one chosen; else its own figures. */
function ratingsOf(data: JobData, { part, slot, fitting }: EffectiveFitting, name: string): Rated {
  const loads = part === null ? [] : data.referring('partLoad', 'partId', part.id)
  const [first] = loads
  if (part === null || first === undefined)
    return { ratings: [ratingOfPart(part, name)], setTo: unknown('voltage setting', name), draws: null }
  const position = data.get('partPosition', first.partPositionId ?? '')
  const ratings = loads.map((load) => ratingOfLoad(data, load, part.loadForm, name))
  if (position === undefined) return { ratings, setTo: unknown('voltage setting', name), draws: first.draws }
  const chosen = chosenPosition(data, position.partSettingId, fitting?.id ?? null, slot?.id ?? null)
  return { ratings, setTo: factOf(chosen, 'voltage setting', name), draws: first.draws }
}

/** As it stands, else as designed; the factory position is never taken for a design. */
function chosenPosition(
  data: JobData,
  settingId: string,
  fittingId: string | null,
  typicalFittingId: string | null,
): string | null {
  const setting = data.get('partSetting', settingId)
  if (setting === undefined) return null
  const place = {
    openingId: null,
    fittingId,
    typicalFittingId,
    tag: '',
    partId: setting.partId,
    serial: null,
  }
  const { settings } = fittingSettings(data, partBook(data), place)
  const state = settings.find((each) => each.setting.id === settingId)
  if (state === undefined) return null
  if (state.standing.known) return state.standing.value
  return state.designed.known ? state.designed.value : null
}

function ratingOfLoad(
  data: JobData,
  load: JobRecord<'partLoad'>,
  form: LoadForm | null,
  name: string,
): Rating {
  const { minimumVolts, maximumVolts, inrushAmps } = load
  return {
    setting: data.get('partPosition', load.partPositionId ?? '')?.name ?? null,
    statedVolts: factOf(load.statedVolts, 'stated volts', name),
    holdingAmps: factOf(load.holdingAmps, 'holding current', name),
    inrush:
      inrushAmps === 0
        ? known(null, 'no in-rush')
        : inrushAmps !== null
          ? known({ amps: inrushAmps, seconds: load.inrushSeconds })
          : noInrush(form, name),
    window:
      minimumVolts === null || maximumVolts === null
        ? unknown('working window', name)
        : known({ minimumVolts, maximumVolts }),
  }
}

/** A resistance draws no more when it is switched on than while it holds; for others no figure is no answer. */
const noInrush = (form: LoadForm | null, name: string): Rating['inrush'] =>
  form === 'resistance' ? known(null, 'a resistance has no in-rush') : unknown('in-rush current', name)

/**
 * Whether a part was declared to draw nothing from a supply: no figure of a current, nothing in it that a feed engages, and a
 * power that is none or another's. The trap: `power` speaks of what its contacts need, so a magnet's is none.
 */
export function drawsNothing(data: JobData, part: JobRecord<'part'>): boolean {
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
    inrush:
      inrushAmps !== null
        ? known({ amps: inrushAmps, seconds: part?.inrushSeconds ?? null })
        : noInrush(form, name),
    window:
      minimumVolts === null || maximumVolts === null
        ? unknown('working window', name)
        : known({ minimumVolts, maximumVolts }),
  }
}
