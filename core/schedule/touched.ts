// Which openings a change reaches, so that one edit recomputes only what it touches.
import type { Edit, JobData, RecordKind } from '../job/index.ts'

/** Ids of openings whose rows may read differently after these edits, and those that are gone. */
export interface Touched {
  readonly openings: ReadonlySet<string>
  readonly removed: ReadonlySet<string>
  /** Levels, typicals or the job itself changed: what stands beside the rows. */
  readonly frame: boolean
}

/** Call after the edits were applied. */
export function openingsTouched(data: JobData, edits: readonly Edit[]): Touched {
  const openings = new Set<string>()
  const removed = new Set<string>()
  let frame = false
  const reach = (
    kind: RecordKind,
    fields: Readonly<Record<string, unknown>>,
    id: string,
    rowsOfLevel = false,
  ): void => {
    const named = (field: string): string | null => {
      const value = fields[field]
      return typeof value === 'string' ? value : null
    }
    switch (kind) {
      case 'opening':
        openings.add(id)
        break
      case 'job':
      case 'part':
      case 'building':
        frame = true
        break
      case 'level':
        frame = true
        if (rowsOfLevel)
          for (const opening of data.referring('opening', 'levelId', id)) openings.add(opening.id)
        break
      case 'space':
        for (const field of ['toSpaceId', 'fromSpaceId'] as const)
          for (const opening of data.referring('opening', field, id)) openings.add(opening.id)
        break
      case 'typical':
        frame = true
        for (const opening of data.referring('opening', 'typicalId', id)) openings.add(opening.id)
        break
      case 'typicalFitting': {
        frame = true
        const typicalId = named('typicalId')
        if (typicalId !== null)
          for (const opening of data.referring('opening', 'typicalId', typicalId)) openings.add(opening.id)
        break
      }
      case 'settingValue': {
        const fitting = data.get('fitting', named('fittingId') ?? '')
        if (fitting !== undefined) openings.add(fitting.openingId)
        const slot = data.get('typicalFitting', named('typicalFittingId') ?? '')
        if (slot !== undefined)
          for (const opening of data.referring('opening', 'typicalId', slot.typicalId))
            openings.add(opening.id)
        break
      }
      default: {
        const openingId = named('openingId')
        if (openingId !== null) openings.add(openingId)
        for (const field of ['fittingId', 'fromFittingId', 'toFittingId']) {
          const fitting = data.get('fitting', named(field) ?? '')
          if (fitting !== undefined) openings.add(fitting.openingId)
        }
      }
    }
  }
  for (const edit of edits) {
    // Beside the rows only counts of openings stand: one more, one less, or one elsewhere.
    const { kind } = edit
    if (kind === 'opening' && (edit.does !== 'set' || 'levelId' in edit.to || 'typicalId' in edit.to))
      frame = true
    switch (edit.does) {
      case 'add':
        reach(edit.kind, edit.record, edit.record['id'] as string)
        break
      case 'set': {
        const record = data.get(edit.kind, edit.id) as unknown as Record<string, unknown> | undefined
        const elsewhere = 'buildingId' in edit.to
        reach(edit.kind, { ...record, ...edit.from }, edit.id, elsewhere)
        reach(edit.kind, { ...record, ...edit.to }, edit.id, elsewhere)
        break
      }
      case 'remove':
        reach(edit.kind, edit.record, edit.record['id'] as string)
        break
    }
  }
  for (const id of openings) {
    if (data.get('opening', id) !== undefined) continue
    openings.delete(id)
    removed.add(id)
  }
  return { openings, removed, frame }
}
