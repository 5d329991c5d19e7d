// A small job's records. Free of the test runner, so that child processes can use them.
import { records, type JobRecord, type RecordKind } from '../../../core/job/index.ts'
import type { NewRecords } from '../../../electron/store/index.ts'

/** A record with these fields and null in the others. */
export function record<K extends RecordKind>(kind: K, fields: Partial<JobRecord<K>>): JobRecord<K> {
  const blank = Object.fromEntries(Object.keys(records[kind].shape).map((field) => [field, null]))
  return { ...blank, ...fields } as JobRecord<K>
}

const made = (kind: RecordKind, fields: Record<string, unknown>): never =>
  record(kind, fields as never) as never

export const opening = (number: number, fields: Record<string, unknown> = {}): JobRecord<'opening'> =>
  made('opening', { id: `opening-${number}`, levelId: 'level-1', mark: `10${number}`, ...fields })

/** Two levels, a room, a typical with one fitting, and three openings; the first has a leaf and a fitting. */
export const smallRecords = (): NewRecords => ({
  job: [
    made('job', {
      id: 'job-1',
      name: 'Harrow Street Clinic',
      units: 'imperial',
      dateForm: 'iso',
      loadingLimitPercent: 80,
      createdAt: '2026-03-01T08:00:00Z',
    }),
  ],
  building: [made('building', { id: 'building-1', name: 'Clinic', position: 0 })],
  level: [
    made('level', { id: 'level-1', buildingId: 'building-1', name: 'Level 1', position: 0 }),
    made('level', { id: 'level-2', buildingId: 'building-1', name: 'Level 2', position: 1 }),
  ],
  space: [made('space', { id: 'space-1', levelId: 'level-1', number: '110', name: 'Store room' })],
  part: [made('part', { id: 'part-1', kind: 'strike', name: 'Electric strike, fail secure' })],
  typical: [made('typical', { id: 'typical-1', name: 'Store room strike', position: 0 })],
  typicalFitting: [
    made('typicalFitting', {
      id: 'typicalFitting-1',
      typicalId: 'typical-1',
      position: 0,
      tag: 'ES1',
      partId: 'part-1',
    }),
  ],
  opening: [opening(1, { toSpaceId: 'space-1', typicalId: 'typical-1', hand: 'LH' }), opening(2), opening(3)],
  leaf: [made('leaf', { id: 'leaf-1', openingId: 'opening-1', position: 0, role: 'only' })],
  fitting: [
    made('fitting', {
      id: 'fitting-1',
      openingId: 'opening-1',
      typicalFittingId: 'typicalFitting-1',
      position: 0,
      leftOut: false,
      serial: 'SN-0042',
    }),
  ],
})
