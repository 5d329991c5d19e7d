// What a remedy means for the records of the job: one named change that can be taken back.
import type { JobData, JobRecord } from '../job/index.ts'
import { changeOf, type RecordsChange } from './changing.ts'
import { conductorsOf, roleOf } from './from-job.ts'
import type { SupplyRemedy } from './power.ts'
import type { Change } from './remedies.ts'
import { figure } from './sentences.ts'
import { writeWireSize, type WireSize } from './wire.ts'

type Run = JobRecord<'run'>
type Fields = RecordsChange['set'][number]['fields']

/** The change a remedy asks for, under this name; null where the job has moved on and it no longer fits. */
export function remedyCommand(data: JobData, change: Change, name: string): RecordsChange | null {
  switch (change.change) {
    case 'thicker': {
      const sets = change.sizes.map(({ run, size }) => resize(data, data.get('run', run), size))
      return sets.some((each) => each === null)
        ? null
        : changeOf(name, { set: sets.flatMap((each) => each ?? []) })
    }
    case 'double': {
      const run = data.get('run', change.run)
      if (run === undefined) return null
      return change.usesSpare ? takeSpares(data, run, name) : changeOf(name, { add: besideIt(data, run) })
    }
    case 'split': {
      const run = data.get('run', change.run)
      const output = run === undefined ? undefined : outputBehind(data, run)
      if (run === undefined || output === undefined) return null
      const near = output.nearIsFrom ? 'from' : 'to'
      return changeOf(name, {
        set: [
          {
            kind: 'run',
            id: run.id,
            fields: {
              [`${near}OutputId`]: output.id,
              [`${near}FittingId`]: null,
              lengthMetres: change.lengthMetres,
            },
          },
        ],
      })
    }
    case 'move': {
      const runs = change.runs.map((id) => data.get('run', id))
      if (runs.some((run) => run === undefined)) return null
      return changeOf(name, {
        set: runs.flatMap((run) => {
          if (run === undefined) return []
          const field = run.fromOutputId === null ? 'toOutputId' : 'fromOutputId'
          return [
            {
              kind: 'run' as const,
              id: run.id,
              fields: { [field]: change.toOutput, lengthMetres: change.lengthMetres },
            },
          ]
        }),
      })
    }
  }
}

/** All conductors of the cable, spares too: a cable has one size. */
function resize(data: JobData, run: Run | undefined, size: WireSize): RecordsChange['set'] | null {
  if (run === undefined) return null
  const words = writeWireSize(size)
  const conductors = conductorsOf(data, run)
  const [old] = conductors
  const cable = old?.size == null ? run.cable : (run.cable?.replace(old.size, words) ?? null)
  return [
    ...conductors.map(({ id }) => ({ kind: 'conductor' as const, id, fields: { size: words } })),
    ...(cable === run.cable ? [] : [{ kind: 'run' as const, id: run.id, fields: { cable } }]),
  ]
}

/** One spare for each conductor that carries the feed or its return. */
function takeSpares(data: JobData, run: Run, name: string): RecordsChange | null {
  const conductors = conductorsOf(data, run)
  const spares = conductors.filter((each) => roleOf(data, each) === 'spare')
  const carrying = conductors.flatMap((each) => {
    const role = roleOf(data, each)
    return role === 'out' || role === 'back' ? [{ each, role }] : []
  })
  if (spares.length < carrying.length) return null
  const add: RecordsChange['add'] = []
  const set: RecordsChange['set'] = []
  for (const [index, { each, role }] of carrying.entries()) {
    const spare = spares[index]
    if (spare === undefined) continue
    const does = role === 'out' ? 'feed' : 'return'
    const [use] = data.referring('conductorUse', 'conductorId', spare.id)
    if (use === undefined)
      add.push({
        kind: 'conductorUse',
        record: { id: `new:use${index}`, conductorId: spare.id, role: does },
      })
    else set.push({ kind: 'conductorUse', id: use.id, fields: { role: does } })
    const { purpose, fromTerminal, toTerminal } = each
    set.push({ kind: 'conductor', id: spare.id, fields: { purpose, fromTerminal, toTerminal } })
  }
  return changeOf(name, { add, set })
}

/** A second cable between the same two places. */
function besideIt(data: JobData, run: Run): RecordsChange['add'] {
  const carrying = conductorsOf(data, run).filter((each) => ['out', 'back'].includes(roleOf(data, each)))
  const add: RecordsChange['add'] = [
    {
      kind: 'run',
      record: {
        ...run,
        id: 'new:run',
        name: `${run.name}, second cable`,
        position: data.count('run'),
      } as Fields,
    },
  ]
  for (const [index, conductor] of carrying.entries()) {
    add.push({
      kind: 'conductor',
      record: { ...conductor, id: `new:conductor${index}`, runId: 'new:run', position: index } as Fields,
    })
    // What was said of a conductor holds for the one beside it.
    const [use] = data.referring('conductorUse', 'conductorId', conductor.id)
    if (use !== undefined)
      add.push({
        kind: 'conductorUse',
        record: { id: `new:use${index}`, conductorId: `new:conductor${index}`, role: use.role },
      })
  }
  return add
}

/** The output that feeds a run through fittings, and whether the run's `from` end is the nearer. */
function outputBehind(
  data: JobData,
  run: Run,
): { readonly id: string; readonly nearIsFrom: boolean } | undefined {
  for (const nearIsFrom of [true, false]) {
    const start = nearIsFrom ? run.fromFittingId : run.toFittingId
    const seen = new Set<string>([run.id])
    const waiting = start === null ? [] : [start as string]
    for (let fitting = waiting.shift(); fitting !== undefined; fitting = waiting.shift())
      for (const each of [
        ...data.referring('run', 'fromFittingId', fitting),
        ...data.referring('run', 'toFittingId', fitting),
      ]) {
        if (seen.has(each.id) || each.fromControllerId !== null || each.toControllerId !== null) continue
        seen.add(each.id)
        const output = each.fromOutputId ?? each.toOutputId
        if (output !== null) return { id: output, nearIsFrom }
        for (const end of [each.fromFittingId, each.toFittingId]) if (end !== null) waiting.push(end)
      }
  }
  return undefined
}

/** Ratings of supplies as sold. Common practice, no source. */
export const usualSupplyAmps: readonly number[] = [1, 2, 2.5, 4, 6, 8, 10, 12, 16, 20]

/** Sets the battery or the rating; a part is kept only where another supply of the job shows that it has that rating. */
export function supplyRemedyCommand(
  data: JobData,
  supplyId: string,
  remedy: SupplyRemedy,
): RecordsChange | null {
  const supply = data.get('supply', supplyId)
  if (supply === undefined) return null
  if (remedy.change === 'bigger battery') {
    const { ampHours, inParallel } = remedy
    const words = inParallel === 1 ? `${ampHours} Ah` : `${inParallel} x ${ampHours} Ah in parallel`
    return changeOf(`Give ${supply.mark} a battery of ${words}`, {
      set: [
        {
          kind: 'supply',
          id: supply.id,
          fields: { batteryAmpHours: ampHours * inParallel, batteryInstalledOn: null },
        },
      ],
    })
  }
  const amps = usualSupplyAmps.find((each) => each >= remedy.neededAmps - 1e-9)
  if (amps === undefined) return null
  const [alike] = [...data.all('supply')].filter(
    (each) => each.ratedAmps === amps && each.ratedVolts === supply.ratedVolts && each.id !== supply.id,
  )
  return changeOf(`Make ${supply.mark} a supply of ${figure(amps, Number.isInteger(amps) ? 0 : 1)} A`, {
    set: [{ kind: 'supply', id: supply.id, fields: { ratedAmps: amps, partId: alike?.partId ?? null } }],
  })
}
