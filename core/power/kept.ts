// The power of a whole job, kept so that an edit works out again only the outputs whose records it touches.
import type { Edit, JobData, RecordKind } from '../job/index.ts'
import { keptDrawing, type KeptDrawing } from './drawing.ts'
import {
  outputsInOrder,
  powerReader,
  powerSettingsOf,
  suppliesInOrder,
  type PowerReader,
} from './from-job.ts'
import { source } from './network.ts'
import { powerMemo, type FedOutput, type PowerSettings, type Supply, type SupplyPower } from './power.ts'

export interface JobPower {
  readonly settings: PowerSettings
  readonly supplies: readonly SupplyPower[]
}

/** The power of one supply; null where the job has none of that name. */
export const powerOfSupply = ({ supplies }: JobPower, supplyId: string): SupplyPower | null =>
  supplies.find(({ supply }) => supply.id === supplyId) ?? null

export interface KeptPower {
  /** The same value as long as nothing was changed. */
  readonly read: () => JobPower
  /**
   * Tells what was changed, after the data took it. `openings`: those whose rows or behaviour the edits reach, by id. Nothing is
   * worked out before it is read.
   */
  readonly changed: (edits: readonly Edit[], openings: Iterable<string> | 'all') => void
}

/** Kinds that stand behind any number of outputs. */
const reachesAll = (kind: RecordKind): boolean =>
  kind === 'job' || kind === 'jobTerms' || kind.startsWith('part') || kind === 'cableKind'

export function keptPower(data: JobData): KeptPower {
  const outputs = new Map<string, FedOutput>()
  const supplies = new Map<string, Supply>()
  const byRun = new Map<string, Set<string>>()
  const byFitting = new Map<string, Set<string>>()
  let settings = powerSettingsOf(data)
  let memo = powerMemo(settings)
  let drawing: KeptDrawing | null = null
  let last: JobPower | null = null
  /** Outputs and supplies to read anew; null is everything. */
  let stale: { readonly outputs: Set<string>; readonly supplies: Set<string> } | null = null

  const index = (output: FedOutput, keep: boolean): void => {
    const note = (places: Map<string, Set<string>>, id: string): void => {
      const there = places.get(id) ?? new Set<string>()
      if (keep) there.add(output.id)
      else there.delete(output.id)
      if (there.size > 0) places.set(id, there)
      else places.delete(id)
    }
    for (const { id, from, to } of output.runs) {
      note(byRun, id)
      for (const end of [from, to]) if (end !== source) note(byFitting, end)
    }
  }

  /** Reads an output again; where nothing of it differs it stays the value it was, and so do its figures. */
  const readOutput = (reader: PowerReader, id: string): void => {
    const before = outputs.get(id)
    const record = data.get('output', id)
    const supply = record === undefined ? undefined : data.get('supply', record.supplyId)
    const now = record === undefined || supply === undefined ? undefined : reader.output(record, supply)
    if (before !== undefined && now !== undefined && JSON.stringify(before) === JSON.stringify(now)) return
    if (before !== undefined) index(before, false)
    if (now === undefined) outputs.delete(id)
    else {
      outputs.set(id, now)
      index(now, true)
    }
  }

  const readSupply = (reader: PowerReader, id: string): void => {
    const record = data.get('supply', id)
    if (record === undefined) {
      supplies.delete(id)
      return
    }
    supplies.set(
      id,
      reader.supply(record, (each) => {
        if (!outputs.has(each.id)) readOutput(reader, each.id)
        return outputs.get(each.id) as FedOutput
      }),
    )
  }

  const catchUp = (): void => {
    drawing ??= keptDrawing(data)
    const reader = powerReader(data, drawing.of)
    if (stale === null) {
      const wanted = powerSettingsOf(data)
      if (JSON.stringify(wanted) !== JSON.stringify(settings)) {
        settings = wanted
        memo = powerMemo(settings)
      }
      const ids = new Set([...outputs.keys(), ...Array.from(data.all('output'), ({ id }) => id as string)])
      for (const id of ids) readOutput(reader, id)
      for (const id of supplies.keys()) if (data.get('supply', id) === undefined) supplies.delete(id)
      for (const { id } of suppliesInOrder(data)) readSupply(reader, id)
    } else {
      for (const id of stale.outputs) {
        const supplyId = data.get('output', id)?.supplyId
        if (supplyId !== undefined) stale.supplies.add(supplyId)
        readOutput(reader, id)
      }
      for (const id of stale.supplies) readSupply(reader, id)
    }
    stale = { outputs: new Set(), supplies: new Set() }
  }

  const touchOpening = (waiting: Set<string>, openingId: string): void => {
    for (const { id } of data.referring('fitting', 'openingId', openingId))
      for (const output of byFitting.get(id) ?? []) waiting.add(output)
  }

  return {
    read: () => {
      if (stale === null || stale.outputs.size + stale.supplies.size > 0) {
        catchUp()
        last = null
      }
      last ??= {
        settings,
        supplies: suppliesInOrder(data).flatMap(({ id }) => {
          const supply = supplies.get(id)
          return supply === undefined ? [] : [memo(supply)]
        }),
      }
      return last
    },
    changed: (edits, openings) => {
      if (stale === null) return
      if (openings === 'all' || edits.some(({ kind }) => reachesAll(kind))) {
        stale = null
        drawing = null
        return
      }
      const waiting = stale
      const reached = [...openings]
      drawing?.forget(reached)
      for (const edit of edits) for (const record of sidesOf(data, edit)) touch(edit.kind, record, waiting)
      for (const id of reached) touchOpening(waiting.outputs, id)
    },
  }

  function touch(
    kind: RecordKind,
    record: Readonly<Record<string, unknown>>,
    waiting: { readonly outputs: Set<string>; readonly supplies: Set<string> },
  ): void {
    const named = (field: string): string => {
      const value = record[field]
      return typeof value === 'string' ? value : ''
    }
    const run = (runId: string, ends: Readonly<Record<string, unknown>> | undefined): void => {
      for (const output of byRun.get(runId) ?? []) waiting.outputs.add(output)
      for (const field of ['fromOutputId', 'toOutputId']) {
        const output = ends?.[field]
        if (typeof output === 'string') waiting.outputs.add(output)
      }
      for (const field of ['fromFittingId', 'toFittingId']) {
        const fitting = ends?.[field]
        if (typeof fitting !== 'string') continue
        for (const output of byFitting.get(fitting) ?? []) waiting.outputs.add(output)
      }
    }
    switch (kind) {
      case 'supply':
      case 'supplyTerms': {
        const supplyId = kind === 'supply' ? named('id') : named('supplyId')
        waiting.supplies.add(supplyId)
        for (const { id } of outputsInOrder(data, supplyId)) waiting.outputs.add(id)
        return
      }
      case 'output':
        waiting.outputs.add(named('id'))
        waiting.supplies.add(named('supplyId'))
        return
      case 'outputTerms':
        waiting.outputs.add(named('outputId'))
        return
      case 'run':
        return run(named('id'), record)
      case 'conductor':
        return run(named('runId'), data.get('run', named('runId')))
      case 'conductorUse': {
        const conductor = data.get('conductor', named('conductorId'))
        const runId = conductor?.runId ?? ''
        return run(runId, data.get('run', runId))
      }
      case 'fitting':
        for (const output of byFitting.get(named('id')) ?? []) waiting.outputs.add(output)
        return
      default:
        for (const field of ['fittingId', 'fromFittingId', 'toFittingId'])
          for (const output of byFitting.get(named(field)) ?? []) waiting.outputs.add(output)
    }
  }
}

/** The record as it was and as it is. */
function sidesOf(data: JobData, edit: Edit): readonly Readonly<Record<string, unknown>>[] {
  if (edit.does !== 'set') return [edit.record]
  const now = data.get(edit.kind, edit.id) as unknown as Readonly<Record<string, unknown>> | undefined
  const bare = { id: edit.id, ...now }
  return [
    { ...bare, ...edit.from },
    { ...bare, ...edit.to },
  ]
}
