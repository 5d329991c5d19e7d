// Where each device of an opening is fed, over which terminals, and what it should have there.
import { effectiveFittings, type JobData, type JobRecord, type Opening } from '../job/index.ts'
import { ratingOf, scenarioWords, type OutputPower, type SupplyPower } from '../power/index.ts'

type Run = JobRecord<'run'>

/** One length of cable on the way from the source to a device. */
export interface RouteLeg {
  readonly runId: string
  readonly name: string
  readonly cable: string | null
  readonly lengthMetres: number | null
  /** "PS2 output 1", "B1". */
  readonly from: string
  readonly to: string
  /** The terminals its conductors end on, "+ and -"; null is not known. */
  readonly fromTerminals: string | null
  readonly toTerminals: string | null
}

export interface FedFrom {
  readonly supplyId: string
  readonly supply: string
  readonly supplyWhere: string | null
  readonly outputId: string
  readonly output: string
  readonly nominalVolts: number | null
  readonly lowestVolts: number | null
  /** Null is not known; `none` has no fuse. */
  readonly fuse: { readonly amps: number } | 'none' | null
  /** Marks of other openings on the same output. */
  readonly sharedWith: readonly string[]
}

/** What was read on the day it was proved. */
export interface ProvedReading {
  readonly text: string
  readonly reading: number | null
  readonly result: 'passed' | 'failed' | 'not done'
  readonly who: string | null
  readonly at: string | null
}

export interface FedDevice {
  readonly fittingId: string
  readonly tag: string
  readonly partName: string | null
  /** Null where its runs end before an output: the question says so. */
  readonly from: FedFrom | null
  /** Mark of the controller that feeds it, where no output does. */
  readonly fromController: string | null
  /** From the source to the device. */
  readonly route: readonly RouteLeg[]
  /** At the device itself. */
  readonly terminals: string | null
  /** Worked out at nominal volts while everything on the output holds; null is not known. */
  readonly expectedVolts: number | null
  readonly window: { readonly minimumVolts: number; readonly maximumVolts: number } | null
  /** The least margin over all scenarios, below zero is outside; with the scenario in words. */
  readonly worst: {
    readonly volts: number | null
    readonly marginVolts: number
    readonly when: string
  } | null
  readonly proved: ProvedReading | null
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1) ?? ''}`

/** What a run ends on. */
type End =
  | { readonly kind: 'output'; readonly id: string }
  | { readonly kind: 'fitting'; readonly id: string }
  | { readonly kind: 'controller'; readonly id: string }

function endsOf(run: Run): readonly [End | null, End | null] {
  const end = (output: string | null, fitting: string | null, controller: string | null): End | null =>
    output !== null
      ? { kind: 'output', id: output }
      : fitting !== null
        ? { kind: 'fitting', id: fitting }
        : controller !== null
          ? { kind: 'controller', id: controller }
          : null
  return [
    end(run.fromOutputId, run.fromFittingId, run.fromControllerId),
    end(run.toOutputId, run.toFittingId, run.toControllerId),
  ]
}

interface Step {
  readonly run: Run
  /** Whether it is walked from its `to` end to its `from` end. */
  readonly againstIt: boolean
  readonly to: End
}

/** The shortest way from a fitting back to an output, else to a controller; empty where no run says. */
function wayBack(data: JobData, fittingId: string): readonly Step[] {
  const waiting: { at: string; steps: readonly Step[] }[] = [{ at: fittingId, steps: [] }]
  const seen = new Set<string>([fittingId])
  let byController: readonly Step[] = []
  for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
    const { at, steps } = next
    const runs = [...data.referring('run', 'toFittingId', at), ...data.referring('run', 'fromFittingId', at)]
    for (const run of runs.toSorted((one, other) => one.position - other.position)) {
      const [from, to] = endsOf(run)
      const againstIt = to?.kind === 'fitting' && to.id === at
      const end = againstIt ? from : to
      if (end === null) continue
      const way = [...steps, { run, againstIt, to: end }]
      if (end.kind === 'output') return way
      if (end.kind === 'controller') {
        if (byController.length === 0 && steps.length === 0 && feeds(data, run)) byController = way
      } else if (!seen.has(end.id)) {
        seen.add(end.id)
        waiting.push({ at: end.id, steps: way })
      }
    }
  }
  return byController
}

/** A run from a controller feeds where a conductor says so; most carry signals. */
const feeds = (data: JobData, run: Run): boolean =>
  data
    .referring('conductor', 'runId', run.id)
    .some(({ purpose }) => purpose !== null && /(\+|feed|power)/i.test(purpose))

function nameOfEnd(data: JobData, end: End): string {
  switch (end.kind) {
    case 'output': {
      const output = data.get('output', end.id)
      return `${data.get('supply', output?.supplyId ?? '')?.mark ?? '?'} output ${output?.name ?? '?'}`
    }
    case 'controller':
      return data.get('controller', end.id)?.mark ?? '?'
    case 'fitting': {
      const fitting = data.get('fitting', end.id)
      return fitting?.tag ?? data.get('typicalFitting', fitting?.typicalFittingId ?? '')?.tag ?? '?'
    }
  }
}

/** The terminals that a run's conductors end on, at one end. */
export function terminalsOf(data: JobData, runId: string, end: 'from' | 'to'): string | null {
  const named = data
    .referring('conductor', 'runId', runId)
    .toSorted((one, other) => one.position - other.position)
    .flatMap((each) => (end === 'from' ? each.fromTerminal : each.toTerminal) ?? [])
  return named.length === 0 ? null : listed([...new Set(named)])
}

function legOf(data: JobData, { run, againstIt, to }: Step, near: End): RouteLeg {
  const { name, cable, lengthMetres } = run
  const [sourceEnd, deviceEnd] = againstIt ? (['from', 'to'] as const) : (['to', 'from'] as const)
  return {
    runId: run.id,
    name,
    cable,
    lengthMetres,
    from: nameOfEnd(data, to),
    to: nameOfEnd(data, near),
    fromTerminals: terminalsOf(data, run.id, sourceEnd),
    toTerminals: terminalsOf(data, run.id, deviceEnd),
  }
}

/** The last record of each step that read volts, by fitting. */
function provedVolts(data: JobData, openingId: string): ReadonlyMap<string, ProvedReading> {
  const found = new Map<string, ProvedReading>()
  const proofs = data
    .referring('proof', 'openingId', openingId)
    .filter(({ unit, fittingId, reading }) => unit === 'V' && fittingId !== null && reading !== null)
    .toSorted((one, other) => ((one.at ?? '') < (other.at ?? '') ? -1 : 1))
  for (const { fittingId, reading, unit, result, who, at } of proofs)
    if (fittingId !== null)
      found.set(fittingId, {
        text: [`${reading ?? ''} ${unit ?? ''}`, who, at?.slice(0, 10)]
          .filter((each) => each != null)
          .join(', '),
        reading,
        result,
        who,
        at,
      })
  return found
}

/** The power of a supply, worked out by whoever keeps it. */
export type PowerOf = (supplyId: string) => SupplyPower | null

/** Every device of an opening that a run feeds or that asks for volts, in the order of its fittings. */
export function fedDevices(data: JobData, opening: Opening, powerOf: PowerOf): FedDevice[] {
  const proved = provedVolts(data, opening.id)
  return effectiveFittings(data, opening).flatMap(({ fitting, tag, part, leftOut }): FedDevice[] => {
    if (leftOut || fitting === null) return []
    const way = wayBack(data, fitting.id)
    const last = way.at(-1)
    if (last === undefined && part?.loadForm == null) return []
    const route = way.map((step, index): RouteLeg => {
      const near: End = index === 0 ? { kind: 'fitting', id: fitting.id } : (way[index - 1]?.to ?? step.to)
      return legOf(data, step, near)
    })
    const output = last?.to.kind === 'output' ? data.get('output', last.to.id) : undefined
    const power = output === undefined ? null : powerOf(output.supplyId)
    const ofOutput = power?.outputs.find(({ study }) => study.output.id === output?.id) ?? null
    const figures = figuresOf(ofOutput, fitting.id)
    if (output !== undefined && figures === null) return []
    return [
      {
        fittingId: fitting.id,
        tag,
        partName: part?.name ?? null,
        from: output === undefined ? null : fedFrom(data, opening, output, ofOutput),
        fromController: last?.to.kind === 'controller' ? nameOfEnd(data, last.to) : null,
        route: route.toReversed(),
        terminals: route[0]?.toTerminals ?? null,
        ...(figures ?? { expectedVolts: null, window: null, worst: null }),
        proved: proved.get(fitting.id) ?? null,
      },
    ]
  })
}

type Figures = Pick<FedDevice, 'expectedVolts' | 'window' | 'worst'>

/** Null where the device is no load of that output: what it is fed for is a signal. */
function figuresOf(output: OutputPower | null, fittingId: string): Figures | null {
  const load = output?.study.output.loads.find(({ id }) => id === fittingId)
  if (output === null || load === undefined) return null
  const { study } = output
  const holding = study.results.find(
    ({ scenario }) => scenario.condition === 'nominal' && scenario.moment === 'holding',
  )
  const rating = ratingOf(load)
  const worst = study.worst.get(fittingId)
  return {
    expectedVolts: holding?.devices.find((each) => each.load === fittingId)?.volts ?? null,
    window: rating.known && rating.value.window.known ? rating.value.window.value : null,
    worst:
      worst === undefined || worst.device.marginVolts === null
        ? null
        : {
            volts: worst.device.volts,
            marginVolts: worst.device.marginVolts,
            when: scenarioWords(worst.scenario),
          },
  }
}

function fedFrom(
  data: JobData,
  opening: Opening,
  output: JobRecord<'output'>,
  power: OutputPower | null,
): FedFrom {
  const supply = data.get('supply', output.supplyId)
  const [terms] = data.referring('outputTerms', 'outputId', output.id)
  const volts = power?.study.output.volts
  const others = new Set<string>()
  for (const { id } of power?.study.output.loads ?? []) {
    const other = data.get('opening', data.get('fitting', id)?.openingId ?? '')
    if (other !== undefined && other.id !== opening.id) others.add(other.mark)
  }
  return {
    supplyId: output.supplyId,
    supply: supply?.mark ?? '?',
    supplyWhere: supply?.whereText ?? data.get('space', supply?.spaceId ?? '')?.name ?? null,
    outputId: output.id,
    output: output.name,
    nominalVolts: volts?.nominal.known === true ? volts.nominal.value : null,
    lowestVolts: volts?.lowest.known === true ? volts.lowest.value : null,
    fuse: terms?.hasFuse === false ? 'none' : output.fuseAmps === null ? null : { amps: output.fuseAmps },
    sharedWith: [...others].toSorted((one, other) => one.localeCompare(other, 'en', { numeric: true })),
  }
}
