// Everything that makes up one part, and the same again under another name.
import { asId, references, type JobData, type JobRecord, type RecordKind } from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

/** The kinds a part is made of, owners before what they own. Spares and the values people set belong to the job. */
export const kindsOfPart = [
  'part',
  'partSetting',
  'partPosition',
  'partLoad',
  'partNetworkFeed',
  'partSettingTable',
  'partSettingTableRow',
  'partContact',
  'partContactState',
  'partContactTiming',
  'partBehaviour',
  'partHardware',
  'partElement',
  'settingEffect',
  'partPattern',
  'partHole',
  'partCutOut',
  'partBody',
  'partPatternFit',
  'placement',
] as const satisfies readonly RecordKind[]
export type KindOfPart = (typeof kindsOfPart)[number]

/** The records of one part by kind, in the part's own order. */
export type PartRecords = { readonly [K in KindOfPart]: readonly JobRecord<K>[] }

type Row = Readonly<Record<string, unknown>>
const isOfPart = (kind: RecordKind): kind is KindOfPart => (kindsOfPart as readonly string[]).includes(kind)

/** The references that make one of these kinds belong to another. */
const owning = references.filter(
  ({ from, to, whenGone }) => whenGone === 'together' && isOfPart(from) && isOfPart(to),
)

const inOrder = (one: Row, other: Row): number =>
  Number(one['position'] ?? 0) - Number(other['position'] ?? 0) ||
  (String(one['id']) < String(other['id']) ? -1 : 1)

/** Null where there is no such part. */
export function partRecords(data: JobData, partId: string): PartRecords | null {
  const part = data.get('part', partId)
  if (part === undefined) return null
  const found = new Map<KindOfPart, readonly Row[]>([['part', [part as unknown as Row]]])
  for (const kind of kindsOfPart) {
    if (kind === 'part') continue
    const rows = new Map<string, Row>()
    for (const { from, field, to } of owning)
      if (from === kind)
        for (const owner of found.get(to as KindOfPart) ?? [])
          for (const row of data.referring(kind, field as never, String(owner['id'])))
            rows.set((row as { id: string }).id, row as unknown as Row)
    found.set(kind, [...rows.values()].toSorted(inOrder))
  }
  return Object.fromEntries(found) as unknown as PartRecords
}

type Fields = Readonly<Record<string, unknown>>
interface Added {
  readonly kind: KindOfPart
  readonly record: Fields
}

/** The records once more, with ids that `newId` gives and every reference among them following. */
export function copiedRecords(of: PartRecords, newId: () => string): Added[] {
  const ids = new Map<string, string>()
  for (const kind of kindsOfPart) for (const { id } of of[kind]) ids.set(`${kind} ${id}`, newId())
  return kindsOfPart.flatMap((kind) =>
    (of[kind] as readonly unknown[]).map((row) => {
      const record: Record<string, unknown> = { ...(row as Row) }
      record['id'] = ids.get(`${kind} ${String(record['id'])}`)
      for (const { from, field, to } of references)
        if (from === kind && typeof record[field] === 'string')
          record[field] = ids.get(`${to} ${record[field]}`) ?? record[field]
      return { kind, record }
    }),
  )
}

type RecordsCommand = Extract<Command, { does: 'change records' }>

/** Makes a part that nothing is known of but its kind and name. */
export const newPart = (kind: string, name: string): RecordsCommand => ({
  does: 'change records',
  name: `Add part ${name}`,
  add: [
    {
      kind: 'part',
      record: {
        id: 'new:part',
        kind,
        name,
        model: null,
        description: null,
        minimumVolts: null,
        maximumVolts: null,
        loadForm: null,
        holdingAmps: null,
        inrushAmps: null,
        inrushSeconds: null,
        warrantyMonths: null,
        notes: null,
      },
    },
  ],
  set: [],
  remove: [],
})

/** A part like another in everything but its name. Its documents and spares stay with the other. */
export function copyPart(of: PartRecords, name: string): RecordsCommand {
  let count = 0
  const added = copiedRecords(of, () => `new:${(count += 1)}`)
  const [like] = of.part
  return {
    does: 'change records',
    name: `Add part ${name}, like ${like?.name ?? 'another'}`,
    add: added.map(({ kind, record }) => ({
      kind,
      record: (kind === 'part' ? { ...record, name } : record) as RecordsCommand['add'][number]['record'],
    })),
    set: [],
    remove: [],
  }
}

/** The part's own id, as its records name it. */
export const idOfPart = (of: PartRecords): JobRecord<'part'>['id'] => of.part[0]?.id ?? asId<'part'>('')
