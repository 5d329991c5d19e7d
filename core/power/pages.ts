// Results of power as plain values that travel between processes: nothing endless, no maps, sentences already said.
import type { JobData, JobRecord, Units } from '../job/index.ts'
import type { BatteryStudy, OutputPower, SupplyPower, SupplyRemedy } from './power.ts'
import type { JobPower } from './kept.ts'
import type { RecordsChange } from './changing.ts'
import type { Fact, Question, Verdict } from './facts.ts'
import { distinct } from './facts.ts'
import { supplyRemedyCommand } from './putting-right.ts'
import type { Scenario } from './scenarios.ts'
import {
  ampWords,
  batteryLastsSentence,
  batterySizingSentences,
  classTwoSentence,
  figure,
  fuseSentence,
  questionSentence,
  supplyRemedySentence,
  whoCanAnswer,
} from './sentences.ts'

/** A question as a person reads it, and who can answer it. */
export interface AskedQuestion {
  readonly sentence: string
  readonly who: string
}

export const askedQuestions = (questions: readonly Question[]): readonly AskedQuestion[] =>
  questions.map((question) => ({ sentence: questionSentence(question), who: whoCanAnswer(question) }))

export interface LoadFigures {
  readonly holdingAmps: number | null
  readonly worstAmps: number | null
  readonly ratedAmps: number | null
  readonly limitAmps: number | null
  readonly withinLimit: Verdict
  readonly withinRating: Verdict
}

/** The device of an output or a supply that is worst off. */
export interface LowestDevice {
  readonly load: string
  readonly name: string
  readonly outputId: string
  readonly verdict: Verdict
  /** Null where not known, and where it cannot be fed. */
  readonly volts: number | null
  readonly marginVolts: number | null
  readonly scenario: Scenario
}

export interface BatteryFigures {
  /** Null is not known. */
  readonly has: boolean | null
  readonly ampHours: number | null
  /** Null while not known, and where nothing draws on it. */
  readonly lastsHours: number | null
  /** Nothing draws on it while it stands by. */
  readonly endless: boolean
  readonly wantedHours: number | null
  readonly requiredAmpHours: number | null
  readonly stockAmpHours: number | null
  readonly inParallel: number
  readonly verdict: Verdict
}

export interface OutputLine {
  readonly id: string
  /** "2". */
  readonly name: string
  /** "PS3 output 2". */
  readonly fullName: string
  readonly load: LoadFigures
  /** Null: not known. `none`: it has none. */
  readonly fuse: { readonly amps: number | 'none' | null; readonly verdict: Verdict }
  readonly classTwo: Verdict
  readonly devices: number
  readonly lowest: LowestDevice | null
  readonly verdict: Verdict
  /** What is not met, in sentences. */
  readonly troubles: readonly string[]
  readonly questions: number
}

export interface Trouble {
  readonly sentence: string
  /** Where it is put right; null is the supply itself. */
  readonly outputId: string | null
}

export interface SupplyLine {
  readonly id: string
  readonly mark: string
  readonly where: string
  readonly buildingId: string | null
  readonly ratedVolts: number | null
  readonly load: LoadFigures
  readonly battery: BatteryFigures
  readonly lowest: LowestDevice | null
  readonly devices: number
  readonly verdict: Verdict
  /** What is not met; those of an output name it. */
  readonly troubles: readonly Trouble[]
  readonly questions: number
  readonly outputs: readonly OutputLine[]
}

/** Sums of the supplies of a building; a sum is null while a part of it is not known. */
export interface BuildingSum {
  readonly buildingId: string | null
  readonly name: string
  readonly supplies: number
  readonly outputs: number
  readonly devices: number
  readonly holdingAmps: number | null
  readonly ratedAmps: number | null
  /** Given off inside the supplies. */
  readonly heatWatts: number | null
  readonly notMet: number
  readonly questions: number
}

export interface PowerOverview {
  readonly units: Units
  readonly supplies: readonly SupplyLine[]
  readonly buildings: readonly BuildingSum[]
  readonly jobId: string
  readonly terms: JobRecord<'jobTerms'> | null
  readonly loadingLimitPercent: number
  readonly inForce: {
    readonly ageingPercent: number
    readonly coolestCelsius: number
    readonly warmestCelsius: number
  }
}

const factValue = <T>(fact: Fact<T>): T | null => (fact.known ? fact.value : null)

export const batteryFigures = ({ supply, battery }: SupplyPower): BatteryFigures => {
  const { batteryAmpHours, standbyHours } = supply
  const sizing = battery?.sizing.known === true ? battery.sizing.sizing : null
  const lasts = battery?.lasting.known === true ? battery.lasting.lasts : null
  const endless = lasts?.standbyHours === Infinity
  return {
    has: batteryAmpHours.known ? batteryAmpHours.value !== null : null,
    ampHours: factValue(batteryAmpHours),
    lastsHours: lasts === null || endless ? null : lasts.standbyHours,
    endless,
    wantedHours: factValue(standbyHours),
    requiredAmpHours: sizing?.requiredAmpHours ?? null,
    stockAmpHours: sizing?.stockAmpHours ?? null,
    inParallel: sizing?.inParallel ?? 1,
    verdict: battery === null ? 'does not apply' : (lasts?.enough ?? 'not known'),
  }
}

const loadFigures = (loading: LoadFigures): LoadFigures => ({
  holdingAmps: loading.holdingAmps,
  worstAmps: loading.worstAmps,
  ratedAmps: loading.ratedAmps,
  limitAmps: loading.limitAmps,
  withinLimit: loading.withinLimit,
  withinRating: loading.withinRating,
})

/** The device that is worst off on one output; null where there is none. */
export function lowestOf({ study }: OutputPower): LowestDevice | null {
  let found: LowestDevice | null = null
  for (const { id, name } of study.output.loads) {
    const worst = study.worst.get(id)
    if (worst === undefined || worst.device.verdict === 'does not apply') continue
    const { verdict, volts, marginVolts } = worst.device
    const here: LowestDevice = {
      load: id,
      name,
      outputId: study.output.id,
      verdict,
      volts,
      marginVolts,
      scenario: worst.scenario,
    }
    if (found === null || isWorse(here, found)) found = here
  }
  return found
}

const verdictRank: Readonly<Record<Verdict, number>> = {
  'not met': 0,
  'not known': 1,
  met: 2,
  'does not apply': 3,
}

function isWorse(one: LowestDevice, other: LowestDevice): boolean {
  if (one.verdict !== other.verdict) return verdictRank[one.verdict] < verdictRank[other.verdict]
  return (one.marginVolts ?? -Infinity) < (other.marginVolts ?? -Infinity)
}

const over = (what: string, { load }: { readonly load: LoadFigures }): readonly string[] => [
  ...(load.withinLimit === 'not met' && load.holdingAmps !== null && load.limitAmps !== null
    ? [`${what} holds ${ampWords(load.holdingAmps)}, over the loading limit of ${ampWords(load.limitAmps)}.`]
    : []),
  ...(load.withinRating === 'not met' && load.worstAmps !== null && load.ratedAmps !== null
    ? [
        `${what} gives ${ampWords(load.worstAmps)} at its worst moment, over its rating of ${ampWords(load.ratedAmps)}.`,
      ]
    : []),
]

/** What is wrong with a device, in one sentence. */
export function lowSentence({
  name,
  volts,
  marginVolts,
}: Pick<LowestDevice, 'name' | 'volts' | 'marginVolts'>): string {
  if (volts === null || marginVolts === null) return `${name} cannot be fed over this wire.`
  return `${name} gets ${figure(volts, 2)} V, ${figure(-marginVolts, 2)} V outside what it works with.`
}

export function outputLine(power: OutputPower, supplyName: string): OutputLine {
  const { study, loading } = power
  const load = loadFigures(loading)
  const low = study.output.loads.flatMap(({ id, name }) => {
    const worst = study.worst.get(id)
    return worst?.device.verdict !== 'not met'
      ? []
      : [lowSentence({ name, volts: worst.device.volts, marginVolts: worst.device.marginVolts })]
  })
  const devices = study.output.loads.length
  const verdicts: readonly Verdict[] = [
    study.verdict,
    loading.withinLimit,
    loading.withinRating,
    loading.fuse.verdict,
    loading.classTwo.verdict,
  ]
  const verdict = verdicts.toSorted((one, other) => verdictRank[one] - verdictRank[other])[0] ?? 'met'
  return {
    id: study.output.id,
    name: study.output.name.slice(`${supplyName} output `.length),
    fullName: study.output.name,
    load,
    fuse: { amps: fuseAmps(power), verdict: loading.fuse.verdict },
    classTwo: loading.classTwo.verdict,
    devices,
    lowest: lowestOf(power),
    verdict,
    troubles: [
      ...low,
      ...over(study.output.name, { load }),
      ...loading.fuse.findings.map(fuseSentence),
      ...loading.classTwo.findings.map(classTwoSentence),
    ],
    questions: loading.questions.length,
  }
}

function fuseAmps({ study }: OutputPower): number | 'none' | null {
  const { fuseAmps: fact } = study.output as OutputPower['study']['output'] & {
    readonly fuseAmps: Fact<number | null>
  }
  return fact.known ? (fact.value ?? 'none') : null
}

/** The building a supply stands in by its room, else the only one it feeds. */
export function buildingOf(data: JobData, power: SupplyPower): string | null {
  const record = data.get('supply', power.supply.id)
  const space = record?.spaceId == null ? undefined : data.get('space', record.spaceId)
  const level = space === undefined ? undefined : data.get('level', space.levelId)
  if (level !== undefined) return level.buildingId
  const fed = new Set(
    power.supply.outputs.flatMap(({ loads }) =>
      loads.flatMap(({ at }) => {
        const opening = data.get('opening', data.get('fitting', at)?.openingId ?? '')
        return data.get('level', opening?.levelId ?? '')?.buildingId ?? []
      }),
    ),
  )
  const [only] = fed
  return fed.size === 1 ? (only ?? null) : null
}

export function whereOf(data: JobData, supplyId: string): string {
  const record = data.get('supply', supplyId)
  if (record === undefined) return ''
  if (record.whereText !== null) return record.whereText
  const space = record.spaceId === null ? undefined : data.get('space', record.spaceId)
  return space === undefined ? '' : [space.number, space.name].filter(Boolean).join(' ')
}

export function supplyLine(data: JobData, power: SupplyPower): SupplyLine {
  const { supply, loading } = power
  const outputs = power.outputs.map((each) => outputLine(each, supply.name))
  let lowest: LowestDevice | null = null
  for (const each of outputs)
    if (each.lowest !== null && (lowest === null || isWorse(each.lowest, lowest))) lowest = each.lowest
  const load = loadFigures(loading)
  const battery = batteryFigures(power)
  return {
    id: supply.id,
    mark: supply.name,
    where: whereOf(data, supply.id),
    buildingId: buildingOf(data, power),
    ratedVolts: factValue(supply.ratedVolts),
    load,
    battery,
    lowest,
    devices: outputs.reduce((sum, { devices }) => sum + devices, 0),
    verdict: power.verdict,
    troubles: [
      ...[...over(supply.name, { load }), ...batteryTrouble(supply.name, battery)].map((sentence) => ({
        sentence,
        outputId: null,
      })),
      ...outputs.flatMap(({ id, troubles }) => troubles.map((sentence) => ({ sentence, outputId: id }))),
    ],
    questions: power.questions.length,
    outputs,
  }
}

function batteryTrouble(mark: string, battery: BatteryFigures): readonly string[] {
  if (battery.verdict !== 'not met') return []
  const { lastsHours, wantedHours, requiredAmpHours, ampHours } = battery
  if (lastsHours === null || wantedHours === null) return []
  const has =
    ampHours === null ? 'it has none, so it lasts 0 h' : `its ${ampHours} Ah last ${figure(lastsHours, 1)} h`
  const needs = requiredAmpHours === null ? '' : `; it takes ${figure(requiredAmpHours, 1)} Ah`
  return [`${mark} is short of battery: ${has} of ${wantedHours} h wanted${needs}.`]
}

/** Sums by building, those without one last. */
function buildingSums(
  data: JobData,
  powers: readonly SupplyPower[],
  lines: readonly SupplyLine[],
): BuildingSum[] {
  const buildings = [...data.all('building')].toSorted((one, other) => one.position - other.position)
  const places = [
    ...buildings.map(({ id, name }) => ({ id: id as string | null, name })),
    { id: null, name: 'No building yet' },
  ]
  return places.flatMap(({ id, name }) => {
    const here = lines.flatMap((line, index) => {
      const power = powers[index]
      return line.buildingId === id && power !== undefined ? [{ line, power }] : []
    })
    if (here.length === 0) return []
    const sum = (value: (each: (typeof here)[number]) => number | null): number | null => {
      let all = 0
      for (const each of here) {
        const own = value(each)
        if (own === null) return null
        all += own
      }
      return all
    }
    return [
      {
        buildingId: id,
        name,
        supplies: here.length,
        outputs: sum(({ line }) => line.outputs.length) ?? 0,
        devices: sum(({ line }) => line.devices) ?? 0,
        holdingAmps: sum(({ line }) => line.load.holdingAmps),
        ratedAmps: sum(({ line }) => line.load.ratedAmps),
        heatWatts: sum(({ power }) => power.loading.heat.supplyWatts),
        notMet: sum(({ line }) => (line.verdict === 'not met' ? 1 : 0)) ?? 0,
        questions: sum(({ line }) => line.questions) ?? 0,
      },
    ]
  })
}

export function powerOverview(data: JobData, { supplies, settings }: JobPower): PowerOverview {
  const lines = supplies.map((each) => supplyLine(data, each))
  const { cableCelsius } = settings.scenarios
  return {
    units: data.job.units,
    supplies: lines,
    buildings: buildingSums(data, supplies, lines),
    jobId: data.job.id,
    terms: [...data.all('jobTerms')][0] ?? null,
    loadingLimitPercent: settings.loadingLimitPercent,
    inForce: {
      ageingPercent: Math.round(settings.ageingFactor * 100),
      coolestCelsius: Math.min(...cableCelsius),
      warmestCelsius: Math.max(...cableCelsius),
    },
  }
}

/** A way to put a supply right, with the change that does it; null where it must be done by hand. */
export interface SupplyRemedyPage {
  readonly sentence: string
  readonly command: RecordsChange | null
}

export interface SupplyPage {
  readonly units: Units
  readonly line: SupplyLine
  readonly record: JobRecord<'supply'>
  readonly terms: JobRecord<'supplyTerms'> | null
  /** What the job says where the supply says nothing. */
  readonly jobStandbyHours: number | null
  readonly jobAlarmMinutes: number | null
  readonly outputRecords: readonly {
    readonly record: JobRecord<'output'>
    readonly terms: JobRecord<'outputTerms'> | null
  }[]
  readonly battery: BatteryWorking
  readonly loading: readonly string[]
  readonly heat: readonly string[]
  readonly remedies: readonly SupplyRemedyPage[]
  readonly questions: readonly AskedQuestion[]
}

/** The battery's size and hours, line by line. */
export interface BatteryWorking {
  readonly lines: readonly string[]
  readonly questions: readonly AskedQuestion[]
}

export function batteryWorking(battery: BatteryStudy | null): BatteryWorking {
  if (battery === null) return { lines: ['No battery is asked of it.'], questions: [] }
  const { need, sizing, lasting, recharge: again } = battery
  const lines = [
    ...(sizing.known ? batterySizingSentences(need, sizing.sizing) : []),
    ...(lasting.known ? [batteryLastsSentence(lasting.lasts)] : []),
    ...(again === null
      ? []
      : [
          again.hours === null || !Number.isFinite(again.hours)
            ? `Charging it again in 48 h takes ${ampWords(again.neededAmps)}.`
            : `Charged again in ${figure(again.hours, 1)} h; 48 h would take ${ampWords(again.neededAmps)}.${again.gentle === 'not met' ? ' That current is high for this battery: its data sheet decides.' : ''}`,
        ]),
  ]
  return {
    lines,
    questions: askedQuestions(
      distinct([
        ...(sizing.known ? [] : sizing.questions),
        ...(lasting.known ? [] : lasting.questions),
        ...(again?.questions ?? []),
      ]),
    ),
  }
}

/** How the load of a supply came about, line by line. */
export function loadingLines(power: SupplyPower): readonly string[] {
  const { supply, loading } = power
  const { holdingAmps, worstAmps, limitAmps, ratedAmps } = loading
  const lines = loading.outputs.flatMap(({ name, holdingAmps: amps }) =>
    amps === null ? [`${name} holds: not known.`] : amps === 0 ? [] : [`${name} holds ${ampWords(amps)}.`],
  )
  if (supply.ownAmps.known) lines.push(`${supply.name} itself takes ${ampWords(supply.ownAmps.value)}.`)
  if (holdingAmps !== null)
    lines.push(
      limitAmps === null || ratedAmps === null
        ? `Together ${ampWords(holdingAmps)}.`
        : `Together ${ampWords(holdingAmps)}: ${figure((holdingAmps / ratedAmps) * 100, 0)} % of ${ampWords(ratedAmps)}; the limit is ${ampWords(limitAmps)}.`,
    )
  if (worstAmps !== null && holdingAmps !== null && worstAmps > holdingAmps)
    lines.push(`At the worst moment, one group firing while all else holds: ${ampWords(worstAmps)}.`)
  return lines
}

function heatLines({ loading }: SupplyPower): readonly string[] {
  const { outputWatts, supplyWatts, cableWatts, supplyBtuPerHour } = loading.heat
  return [
    ...(outputWatts === null ? [] : [`Given to the outputs: ${figure(outputWatts, 1)} W.`]),
    ...(supplyWatts === null || supplyBtuPerHour === null
      ? []
      : [`Heat inside the supply: ${figure(supplyWatts, 1)} W, ${figure(supplyBtuPerHour, 0)} BTU/h.`]),
    ...(cableWatts === null ? [] : [`Lost in the cables: ${figure(cableWatts, 1)} W.`]),
  ]
}

const supplyRemedy = (data: JobData, supplyId: string, remedy: SupplyRemedy): SupplyRemedyPage => ({
  sentence: supplyRemedySentence(remedy),
  command: supplyRemedyCommand(data, supplyId, remedy),
})

export function supplyPage(data: JobData, power: SupplyPower): SupplyPage | null {
  const { supply } = power
  const record = data.get('supply', supply.id)
  if (record === undefined) return null
  const [jobTerms] = [...data.all('jobTerms')]
  const ownQuestions = distinct(power.questions)
  return {
    units: data.job.units,
    line: supplyLine(data, power),
    record,
    terms: data.referring('supplyTerms', 'supplyId', supply.id)[0] ?? null,
    jobStandbyHours: jobTerms?.standbyHours ?? null,
    jobAlarmMinutes: jobTerms?.alarmMinutes ?? null,
    outputRecords: supply.outputs.flatMap(({ id }) => {
      const output = data.get('output', id)
      return output === undefined
        ? []
        : [{ record: output, terms: data.referring('outputTerms', 'outputId', id)[0] ?? null }]
    }),
    battery: batteryWorking(power.battery),
    loading: loadingLines(power),
    heat: heatLines(power),
    remedies: power.remedies.map((each) => supplyRemedy(data, supply.id, each)),
    questions: askedQuestions(ownQuestions),
  }
}
