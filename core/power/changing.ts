// Edits of the power records as named changes that can be taken back.
import type { JobRecord } from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

export type RecordsChange = Extract<Command, { does: 'change records' }>
type Fields = RecordsChange['set'][number]['fields']
type FieldValue = Fields[string]

export const changeOf = (
  name: string,
  { add = [], set = [], remove = [] }: Partial<Pick<RecordsChange, 'add' | 'set' | 'remove'>>,
): RecordsChange => ({ does: 'change records', name: name.slice(0, 200), add, set, remove })

const blankTerms = {
  supplyTerms: {
    hasBattery: null,
    ownAmps: null,
    efficiencyPercent: null,
    chargingAmps: null,
    batteryCelsius: null,
    lowestVolts: null,
    highestVolts: null,
  },
  outputTerms: { lowestVolts: null, highestVolts: null, hasFuse: null, classTwo: null },
  jobTerms: {
    standbyHours: null,
    alarmMinutes: null,
    fireAlarmStandbyHours: null,
    ageingPercent: null,
    coolestCelsius: null,
    warmestCelsius: null,
    cableWastePercent: null,
  },
} as const

const owners = { supplyTerms: 'supplyId', outputTerms: 'outputId', jobTerms: 'jobId' } as const
type Terms = keyof typeof blankTerms

/** Sets fields of the terms that stand beside a job, a supply or an output; makes them where there are none. */
export function setTerms<Kind extends Terms>(
  name: string,
  kind: Kind,
  terms: JobRecord<Kind> | null,
  ownerId: string,
  fields: Partial<Record<keyof (typeof blankTerms)[Kind] & string, FieldValue>>,
): RecordsChange {
  if (terms !== null) return changeOf(name, { set: [{ kind, id: terms.id, fields: fields as Fields }] })
  const record: Fields = { id: 'new:terms', [owners[kind]]: ownerId, ...blankTerms[kind], ...fields }
  return changeOf(name, { add: [{ kind, record }] })
}

export const setSupply = (
  name: string,
  supplyId: string,
  fields: Partial<Record<keyof JobRecord<'supply'>, FieldValue>>,
): RecordsChange => changeOf(name, { set: [{ kind: 'supply', id: supplyId, fields: fields as Fields }] })

export const setOutput = (
  name: string,
  outputId: string,
  fields: Partial<Record<keyof JobRecord<'output'>, FieldValue>>,
): RecordsChange => changeOf(name, { set: [{ kind: 'output', id: outputId, fields: fields as Fields }] })

/** A mark that none of these bears: PS6 after PS5. */
export function nextOf(prefix: string, taken: Iterable<string>): string {
  const marks = new Set([...taken].map((each) => each.trim().toLowerCase()))
  let number = 1
  while (marks.has(`${prefix}${number}`.toLowerCase())) number += 1
  return `${prefix}${number}`
}

/** A new supply with nothing said of it but its mark and its outputs. */
export function addSupply(taken: readonly string[], position: number, outputs: number): RecordsChange {
  const mark = nextOf('PS', taken)
  return changeOf(`Add ${mark}`, {
    add: [
      {
        kind: 'supply',
        record: {
          id: 'new:supply',
          mark,
          position,
          partId: null,
          spaceId: null,
          whereText: null,
          ratedVolts: null,
          ratedAmps: null,
          batteryVolts: null,
          batteryAmpHours: null,
          standbyHours: null,
          alarmMinutes: null,
          batteryInstalledOn: null,
          notes: null,
        },
      },
      ...Array.from({ length: outputs }, (_, index) => ({
        kind: 'output' as const,
        record: blankOutput('new:supply', `new:output${index}`, index, String(index + 1)),
      })),
    ],
  })
}

const blankOutput = (supplyId: string, id: string, position: number, name: string): Fields => ({
  id,
  supplyId,
  position,
  name,
  ratedVolts: null,
  ratedAmps: null,
  fuseAmps: null,
  notes: null,
})

export const addOutput = (supplyId: string, position: number, name: string): RecordsChange =>
  changeOf(`Add output ${name}`, {
    add: [{ kind: 'output', record: blankOutput(supplyId, 'new:output', position, name) }],
  })

/** The usual length of a run from a supply to the openings of a level. */
export const addRouteLength = (
  name: string,
  levelId: string,
  supplyId: string,
  metres: number,
): RecordsChange =>
  changeOf(name, {
    add: [
      { kind: 'routeLength', record: { id: 'new:route', levelId, supplyId, controllerId: null, metres } },
    ],
  })
