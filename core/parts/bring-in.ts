// Parts and typicals of a library taken into a job. What the job has by name already is used, not doubled.
import {
  addRecord,
  asId,
  JobData,
  recordKinds,
  type Change,
  type Edit,
  type JobRecord,
  type RecordKind,
} from '../job/index.ts'
import type { Library } from '../exchange/index.ts'
import { copiedRecords, partRecords, type PartRecords } from './part-records.ts'
import { doesWords } from './words.ts'

/** What a library offers, and whether the job has something of that name. */
export interface Offer {
  readonly id: string
  readonly name: string
  /** What a part is; for a typical, its parts. */
  readonly kind: string
  readonly words: string
  readonly here: boolean
}

export interface LibraryOffers {
  readonly parts: readonly Offer[]
  readonly typicals: readonly Offer[]
}

/** A library's records as data that can be looked through. It has no job. */
export function dataOfLibrary(library: Library): JobData {
  const data = new JobData()
  for (const kind of recordKinds)
    for (const record of (library[kind] ?? []) as readonly never[]) data.put(kind, record)
  return data
}

const sameName = (one: string, other: string): boolean =>
  one.trim().toLowerCase() === other.trim().toLowerCase()

const named = <K extends 'part' | 'typical'>(
  data: JobData,
  kind: K,
  name: string,
): JobRecord<K> | undefined => [...data.all(kind)].find((each) => sameName(each.name, name))

const byPosition = (one: { position: number }, other: { position: number }): number =>
  one.position - other.position

export function libraryOffers(library: JobData, data: JobData): LibraryOffers {
  return {
    parts: [...library.all('part')].map((part) => {
      const of = partRecords(library, part.id)
      return {
        id: part.id,
        name: part.name,
        kind: part.kind,
        words: of === null ? '' : doesWords(of),
        here: named(data, 'part', part.name) !== undefined,
      }
    }),
    typicals: [...library.all('typical')].toSorted(byPosition).map((typical) => ({
      id: typical.id,
      name: typical.name,
      kind: library
        .referring('typicalFitting', 'typicalId', typical.id)
        .toSorted(byPosition)
        .map(({ partId }) => library.get('part', partId)?.kind ?? '?')
        .join(', '),
      words: typical.description ?? '',
      here: named(data, 'typical', typical.name) !== undefined,
    })),
  }
}

export interface BroughtIn {
  readonly change: Change
  readonly partIds: readonly string[]
  readonly typicalIds: readonly string[]
  /** What could not come along, a sentence each. */
  readonly leftOut: readonly string[]
}

/** Plans these parts and typicals as one change. A typical brings the parts it needs. */
export function bringIn(
  library: JobData,
  data: JobData,
  wanted: { readonly partIds: readonly string[]; readonly typicalIds: readonly string[] },
  newId: () => string,
): BroughtIn {
  const edits: Edit[] = []
  const partIds: string[] = []
  const typicalIds: string[] = []
  const leftOut: string[] = []
  /** The job's part for a part of the library: the one of its name, or a copy made now. */
  const parts = new Map<string, PartRecords>()
  const partFor = (libraryId: string): PartRecords | null => {
    const known = parts.get(libraryId)
    if (known !== undefined) return known
    const of = partRecords(library, libraryId)
    const [part] = of?.part ?? []
    if (of === null || part === undefined) return null
    const here = named(data, 'part', part.name)
    const standing = here === undefined ? null : partRecords(data, here.id)
    const used = standing ?? copied(of)
    parts.set(libraryId, used)
    return used
  }
  const copied = (of: PartRecords): PartRecords => {
    const added = copiedRecords(of, newId)
    const made = new JobData()
    for (const { kind, record } of added) {
      edits.push(addRecord(kind, record as never))
      made.put(kind, record as never)
    }
    const [part] = [...made.all('part')]
    partIds.push(part?.id ?? '')
    return partRecords(made, part?.id ?? '') as PartRecords
  }
  for (const id of wanted.partIds) partFor(id)
  let position = Math.max(-1, ...[...data.all('typical')].map((each) => each.position))
  for (const id of wanted.typicalIds) {
    const typical = library.get('typical', id)
    if (typical === undefined) continue
    if (named(data, 'typical', typical.name) !== undefined) {
      leftOut.push(`The job already has a typical called ${typical.name}.`)
      continue
    }
    position += 1
    const typicalId = asId<'typical'>(newId())
    typicalIds.push(typicalId)
    edits.push(addRecord('typical', { ...typical, id: typicalId, position }))
    edits.push(...fittingsOf(library, typical, typicalId, partFor, newId, leftOut))
  }
  return {
    change: { name: nameOf(partIds, typicalIds, edits), edits: parentsFirst(edits) },
    partIds,
    typicalIds,
    leftOut,
  }
}

function fittingsOf(
  library: JobData,
  typical: JobRecord<'typical'>,
  typicalId: JobRecord<'typical'>['id'],
  partFor: (libraryId: string) => PartRecords | null,
  newId: () => string,
  leftOut: string[],
): Edit[] {
  const edits: Edit[] = []
  const slots = new Map<string, { id: JobRecord<'typicalFitting'>['id']; part: PartRecords }>()
  for (const slot of library.referring('typicalFitting', 'typicalId', typical.id)) {
    const part = partFor(slot.partId)
    const [record] = part?.part ?? []
    if (part === null || record === undefined) continue
    const id = asId<'typicalFitting'>(newId())
    slots.set(slot.id, { id, part })
    edits.push(addRecord('typicalFitting', { ...slot, id, typicalId, partId: record.id }))
    for (const kind of ['typicalFittingLeaf', 'placement'] as const)
      for (const each of library.referring(kind, 'typicalFittingId', slot.id))
        edits.push(addRecord(kind, { ...each, id: newId(), typicalFittingId: id } as never))
    for (const value of library.referring('settingValue', 'typicalFittingId', slot.id)) {
      const name = library.get('partSetting', value.partSettingId)?.name
      const setting = part.partSetting.find((each) => each.name === name)
      if (setting === undefined)
        leftOut.push(`${record.name} of this job has no setting ${name ?? '?'}, so ${slot.tag} has none.`)
      else
        edits.push(
          addRecord('settingValue', {
            ...value,
            id: asId<'settingValue'>(newId()),
            typicalFittingId: id,
            partSettingId: setting.id,
          }),
        )
    }
  }
  for (const link of library.referring('link', 'typicalId', typical.id)) {
    const from = slots.get(link.fromTypicalFittingId ?? '')
    const to = slots.get(link.toTypicalFittingId ?? '')
    const contactName = library.get('partContact', link.partContactId ?? '')?.name
    const contact = from?.part.partContact.find(({ name }) => name === contactName)
    if (contactName !== undefined && contact === undefined)
      leftOut.push(
        `A link of ${typical.name} lost its contact ${contactName}: the part of this job has none.`,
      )
    edits.push(
      addRecord('link', {
        ...link,
        id: asId<'link'>(newId()),
        typicalId,
        fromTypicalFittingId: from?.id ?? null,
        toTypicalFittingId: to?.id ?? null,
        partContactId: contact?.id ?? null,
      }),
    )
  }
  return edits
}

const parentsFirst = (edits: readonly Edit[]): Edit[] => {
  const order = (kind: RecordKind): number => recordKinds.indexOf(kind)
  return edits.toSorted((one, other) => order(one.kind) - order(other.kind))
}

function nameOf(partIds: readonly string[], typicalIds: readonly string[], edits: readonly Edit[]): string {
  const nameIn = (kind: 'part' | 'typical', id: string | undefined): string => {
    const edit = edits.find((each) => each.does === 'add' && each.kind === kind && each.record['id'] === id)
    return edit?.does === 'add' ? String(edit.record['name']) : kind
  }
  const words = [
    ...(typicalIds.length === 1 ? [`typical ${nameIn('typical', typicalIds[0])}`] : []),
    ...(typicalIds.length > 1 ? [`${typicalIds.length} typicals`] : []),
    ...(partIds.length === 1 ? [`part ${nameIn('part', partIds[0])}`] : []),
    ...(partIds.length > 1 ? [`${partIds.length} parts`] : []),
  ]
  return `Bring in ${words.length === 0 ? 'nothing' : words.join(' and ')}`
}
