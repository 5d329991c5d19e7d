// Typicals and fittings. A typical is changed once; an opening's own differences are kept and stay visible.
import {
  addRecord,
  asId,
  references,
  removeRecords,
  setFields,
  type Edit,
  type Fitting,
  type JobData,
  type JobRecord,
  type Typical,
  type TypicalFitting,
} from '../../job/index.ts'
import type { Command } from '../commands.ts'
import {
  impossible,
  nameless,
  nextPosition,
  openingGone,
  planned,
  type NewId,
  type Planned,
} from './planned.ts'

type Link = JobRecord<'link'>
type Of<Does extends Command['does']> = Extract<Command, { does: Does }>

const typicalGone = 'That typical is no longer there.'
const partGone = 'That part is no longer in this job’s parts.'
const fittingGone = 'That fitting is no longer there.'

function nameTaken(data: JobData, name: string, except: string | null): string | null {
  for (const other of data.all('typical'))
    if (other.id !== except && other.name.trim().toLowerCase() === name.trim().toLowerCase())
      return `The job already has a typical called ${other.name}.`
  return null
}

export function planAddTypical(command: Of<'add typical'>, data: JobData, newId: NewId): Planned {
  const name = command.name.trim()
  const taken = nameless(name, 'typical') ?? nameTaken(data, name, null)
  if (taken !== null) return impossible(taken)
  const like = command.likeTypicalId === null ? null : data.get('typical', command.likeTypicalId)
  if (like === undefined) return impossible(typicalGone)
  const id = asId<'typical'>(newId())
  const typical: Typical = {
    id,
    name,
    description: like?.description ?? null,
    position: nextPosition(data.all('typical')),
    furnishedBy: like?.furnishedBy ?? null,
    fittedBy: like?.fittedBy ?? null,
    wiredBy: like?.wiredBy ?? null,
    terminatedBy: like?.terminatedBy ?? null,
    notes: like?.notes ?? null,
  }
  const edits: Edit[] = [addRecord('typical', typical)]
  if (like !== null) edits.push(...copyFittings(data, like, typical, newId))
  return planned(like === null ? `Add typical ${name}` : `Add typical ${name}, like ${like.name}`, edits)
}

/** The fittings of a typical with leaf, place, designed settings and links, again under another. */
function copyFittings(data: JobData, from: Typical, to: Typical, newId: NewId): Edit[] {
  const edits: Edit[] = []
  const ids = new Map<string, TypicalFitting['id']>()
  for (const slot of data.referring('typicalFitting', 'typicalId', from.id)) {
    const id = asId<'typicalFitting'>(newId())
    ids.set(slot.id, id)
    edits.push(addRecord('typicalFitting', { ...slot, id, typicalId: to.id }))
    for (const value of data.referring('settingValue', 'typicalFittingId', slot.id))
      edits.push(
        addRecord('settingValue', { ...value, id: asId<'settingValue'>(newId()), typicalFittingId: id }),
      )
    for (const leaf of data.referring('typicalFittingLeaf', 'typicalFittingId', slot.id))
      edits.push(
        addRecord('typicalFittingLeaf', {
          ...leaf,
          id: asId<'typicalFittingLeaf'>(newId()),
          typicalFittingId: id,
        }),
      )
    for (const placement of data.referring('placement', 'typicalFittingId', slot.id))
      edits.push(
        addRecord('placement', { ...placement, id: asId<'placement'>(newId()), typicalFittingId: id }),
      )
  }
  for (const link of data.referring('link', 'typicalId', from.id))
    edits.push(
      addRecord('link', {
        ...link,
        id: asId<'link'>(newId()),
        typicalId: to.id,
        fromTypicalFittingId: ids.get(link.fromTypicalFittingId ?? '') ?? null,
        toTypicalFittingId: ids.get(link.toTypicalFittingId ?? '') ?? null,
      }),
    )
  return edits
}

export function planSetTypical(command: Of<'set typical'>, data: JobData): Planned {
  const typical = data.get('typical', command.typicalId)
  if (typical === undefined) return impossible(typicalGone)
  const name = command.fields.name?.trim()
  const taken = name === undefined ? null : (nameless(name, 'typical') ?? nameTaken(data, name, typical.id))
  if (taken !== null) return impossible(taken)
  const fields = name === undefined ? command.fields : { ...command.fields, name }
  const set = setFields('typical', typical, fields as Partial<Typical>)
  return planned(`Change typical ${typical.name}`, set === null ? [] : [set])
}

export function planRemoveTypical(command: Of<'remove typical'>, data: JobData): Planned {
  const typical = data.get('typical', command.typicalId)
  if (typical === undefined) return impossible(typicalGone)
  const users = data.referring('opening', 'typicalId', typical.id).length
  if (users > 0)
    return impossible(
      users === 1
        ? `1 opening follows ${typical.name}; give it another typical first.`
        : `${users} openings follow ${typical.name}; give those another typical first.`,
    )
  const edits = slotsTakenOut(data, data.referring('typicalFitting', 'typicalId', typical.id))
  const answers = data.referring('factAnswer', 'typicalId', typical.id).map((answer) => answer.id)
  const links = data.referring('link', 'typicalId', typical.id).map((link) => link.id)
  edits.push(...removeRecords(data, 'factAnswer', answers).edits)
  edits.push(...removeRecords(data, 'link', links.filter(notIn(edits))).edits)
  edits.push({ does: 'remove', kind: 'typical', record: typical })
  return planned(`Remove typical ${typical.name}`, edits)
}

/** M1, M2 …: the first letter of the part's kind and the next free number. */
function nextTag(kind: string, taken: ReadonlySet<string>): string {
  const letter = (kind.match(/[a-z]/i)?.[0] ?? 'F').toUpperCase()
  let number = 1
  while (taken.has(`${letter}${number}`)) number += 1
  return `${letter}${number}`
}

export function planAddTypicalFitting(
  command: Of<'add typical fitting'>,
  data: JobData,
  newId: NewId,
): Planned {
  const typical = data.get('typical', command.typicalId)
  if (typical === undefined) return impossible(typicalGone)
  const part = data.get('part', command.partId)
  if (part === undefined) return impossible(partGone)
  const slots = data.referring('typicalFitting', 'typicalId', typical.id)
  const tags = new Set(slots.map((slot) => slot.tag))
  const tag = command.tag?.trim() || nextTag(part.kind, tags)
  if (tags.has(tag)) return impossible(`${typical.name} already has a fitting tagged ${tag}.`)
  const slot = addRecord('typicalFitting', {
    id: asId<'typicalFitting'>(newId()),
    typicalId: typical.id,
    position: nextPosition(slots),
    tag,
    partId: part.id,
    furnishedBy: null,
    fittedBy: null,
    wiredBy: null,
    terminatedBy: null,
    notes: null,
  })
  return planned(`Add ${part.name} to typical ${typical.name}`, [slot])
}

export function planSetTypicalFitting(command: Of<'set typical fitting'>, data: JobData): Planned {
  const slot = data.get('typicalFitting', command.typicalFittingId)
  const typical = slot === undefined ? undefined : data.get('typical', slot.typicalId)
  if (slot === undefined || typical === undefined) return impossible(fittingGone)
  const { partId } = command.fields
  const tag = command.fields.tag?.trim()
  if (tag === '') return impossible('No tag was given; expected a tag such as M1.')
  if (partId !== undefined && data.get('part', partId) === undefined) return impossible(partGone)
  const others = data.referring('typicalFitting', 'typicalId', typical.id)
  if (tag !== undefined && others.some((other) => other.id !== slot.id && other.tag === tag))
    return impossible(`${typical.name} already has a fitting tagged ${tag}.`)
  const fields = tag === undefined ? command.fields : { ...command.fields, tag }
  const set = setFields('typicalFitting', slot, fields as Partial<TypicalFitting>)
  return planned(`Change ${slot.tag} of typical ${typical.name}`, [
    ...(set === null ? [] : [set]),
    ...(partId === undefined || partId === slot.partId ? [] : followNewPart(data, slot, partId)),
  ])
}

/** Links, points and designed settings of a fitting go to what its new part calls by the same name, or are let go. */
function followNewPart(data: JobData, slot: TypicalFitting, partId: string): Edit[] {
  const edits: Edit[] = []
  const old = slot.partId
  const fittings = data
    .referring('fitting', 'typicalFittingId', slot.id)
    .filter((fitting) => fitting.partId === null)
  const contactLike = (id: Link['partContactId']): Link['partContactId'] => {
    const contact = data.get('partContact', id ?? '')
    if (contact === undefined || contact.partId !== old) return id
    return (
      data.referring('partContact', 'partId', partId).find(({ name }) => name === contact.name)?.id ?? null
    )
  }
  const links = [
    ...data.referring('link', 'fromTypicalFittingId', slot.id),
    ...fittings.flatMap(({ id }) => data.referring('link', 'fromFittingId', id)),
  ]
  // A link can start from the fitting and from the slot that it follows; it is changed once.
  for (const link of new Set(links)) {
    const set = setFields('link', link, { partContactId: contactLike(link.partContactId) })
    if (set !== null) edits.push(set)
  }
  for (const point of fittings.flatMap(({ id }) => data.referring('point', 'fittingId', id))) {
    const set = setFields('point', point, { partContactId: contactLike(point.partContactId) })
    if (set !== null) edits.push(set)
  }
  const values = [
    ...data.referring('settingValue', 'typicalFittingId', slot.id),
    ...fittings.flatMap(({ id }) => data.referring('settingValue', 'fittingId', id)),
  ]
  for (const value of values) {
    const setting = data.get('partSetting', value.partSettingId)
    // What was set or found was so on the old device; that stays as it was noted.
    if (value.stage !== 'designed' || setting?.partId !== old) continue
    const like = settingLike(data, setting.name, value.value, partId)
    const set = like === null ? null : setFields('settingValue', value, { partSettingId: like })
    edits.push(...(set === null ? removeRecords(data, 'settingValue', [value.id]).edits : [set]))
  }
  return edits
}

/** The setting of this name on a part, if it takes the value. */
function settingLike(data: JobData, name: string, value: string, partId: string) {
  const setting = data.referring('partSetting', 'partId', partId).find((each) => each.name === name)
  if (setting === undefined) return null
  const positions = data.referring('partPosition', 'partSettingId', setting.id)
  return positions.length === 0 || positions.some((each) => each.name === value) ? setting.id : null
}

export function planRemoveTypicalFitting(command: Of<'remove typical fitting'>, data: JobData): Planned {
  const slot = data.get('typicalFitting', command.typicalFittingId)
  const typical = slot === undefined ? undefined : data.get('typical', slot.typicalId)
  if (slot === undefined || typical === undefined) return impossible(fittingGone)
  return planned(`Take ${slot.tag} out of typical ${typical.name}`, slotsTakenOut(data, [slot]))
}

/** Openings that say something about such a fitting keep theirs as one added there; others simply lose it. */
function slotsTakenOut(data: JobData, slots: readonly TypicalFitting[]): Edit[] {
  const edits: Edit[] = []
  const gone: string[] = []
  const links: string[] = []
  for (const slot of slots) {
    const [goesOn] = data.referring('typicalFittingLeaf', 'typicalFittingId', slot.id)
    for (const fitting of data.referring('fitting', 'typicalFittingId', slot.id)) {
      if (fitting.leftOut || !worthKeeping(data, fitting)) {
        gone.push(fitting.id)
        continue
      }
      const set = setFields('fitting', fitting, {
        typicalFittingId: null,
        tag: fitting.tag ?? slot.tag,
        partId: fitting.partId ?? slot.partId,
        furnishedBy: fitting.furnishedBy ?? slot.furnishedBy,
        fittedBy: fitting.fittedBy ?? slot.fittedBy,
        wiredBy: fitting.wiredBy ?? slot.wiredBy,
        terminatedBy: fitting.terminatedBy ?? slot.terminatedBy,
        leafId: fitting.leafId ?? leafOfRole(data, fitting, goesOn?.leaf ?? null),
      })
      if (set !== null) edits.push(set)
    }
    for (const field of ['fromTypicalFittingId', 'toTypicalFittingId'] as const)
      links.push(...data.referring('link', field, slot.id).map((link) => link.id))
  }
  edits.push(...removeRecords(data, 'fitting', gone).edits)
  // The slots go last; what referred to them was set or removed above.
  edits.push(...removeRecords(data, 'link', links.filter(notIn(edits))).edits)
  for (const kind of ['settingValue', 'placement', 'typicalFittingLeaf'] as const) {
    const ids = slots.flatMap((slot) => data.referring(kind, 'typicalFittingId', slot.id).map(({ id }) => id))
    edits.push(...removeRecords(data, kind, ids.filter(notIn(edits))).edits)
  }
  for (const slot of slots) edits.push({ does: 'remove', kind: 'typicalFitting', record: slot })
  return edits
}

/** The leaf of a pair that a typical's fitting goes on; null where it says none or the opening has no such leaf. */
const leafOfRole = (
  data: JobData,
  { openingId }: Fitting,
  role: 'active' | 'inactive' | null,
): Fitting['leafId'] =>
  role === null
    ? null
    : (data.referring('leaf', 'openingId', openingId).find((leaf) => leaf.role === role)?.id ?? null)

/** Leaves out the ids that these edits remove already; one record may have gone with another. */
function notIn(edits: readonly Edit[]): (id: string) => boolean {
  const removed = new Set(edits.flatMap((edit) => (edit.does === 'remove' ? [edit.record['id']] : [])))
  return (id) => !removed.has(id)
}

/** A serial, a note, a point, a proof is knowledge about this very fitting; it is not thrown away with the typical's. */
function worthKeeping(data: JobData, fitting: Fitting): boolean {
  return (
    saysSomething(fitting) ||
    references.some(
      ({ from, field, to }) => to === 'fitting' && data.countReferring(from, field as never, fitting.id) > 0,
    )
  )
}

/** Whether anything is said of a fitting that its typical does not say. */
const saysSomething = (fitting: Fitting): boolean =>
  fitting.leftOut ||
  [
    fitting.tag,
    fitting.partId,
    fitting.furnishedBy,
    fitting.fittedBy,
    fitting.wiredBy,
    fitting.terminatedBy,
    fitting.serial,
    fitting.installedOn,
    fitting.notes,
  ].some((value) => value !== null)

export function planAddFitting(command: Of<'add fitting'>, data: JobData, newId: NewId): Planned {
  const opening = data.get('opening', command.openingId)
  if (opening === undefined) return impossible(openingGone)
  const part = data.get('part', command.partId)
  if (part === undefined) return impossible(partGone)
  const own = data.referring('fitting', 'openingId', opening.id)
  const slots =
    opening.typicalId === null ? [] : data.referring('typicalFitting', 'typicalId', opening.typicalId)
  const tags = new Set([...own.map((each) => each.tag ?? ''), ...slots.map((slot) => slot.tag)])
  const tag = command.tag?.trim() || nextTag(part.kind, tags)
  if (tags.has(tag)) return impossible(`${opening.mark} already has a fitting tagged ${tag}.`)
  const fitting = addRecord('fitting', {
    ...blankFitting(newId(), opening.id, nextPosition([...own, ...slots])),
    tag,
    partId: part.id,
  })
  return planned(`Add ${part.name} to ${opening.mark}`, [fitting])
}

const blankFitting = (id: string, openingId: Fitting['openingId'], position: number): Fitting => ({
  id: asId<'fitting'>(id),
  openingId,
  leafId: null,
  typicalFittingId: null,
  position,
  tag: null,
  partId: null,
  leftOut: false,
  furnishedBy: null,
  fittedBy: null,
  wiredBy: null,
  terminatedBy: null,
  serial: null,
  installedOn: null,
  notes: null,
})

/** A fitting that follows its typical in everything gets a record of its own only when something is said about it. */
export function planSetFitting(command: Of<'set fitting'>, data: JobData, newId: NewId): Planned {
  const opening = data.get('opening', command.openingId)
  if (opening === undefined) return impossible(openingGone)
  const { partId } = command.fields
  if (partId != null && data.get('part', partId) === undefined) return impossible(partGone)
  const fields = command.fields as Partial<Fitting>
  if (command.fittingId !== null) {
    const fitting = data.get('fitting', command.fittingId)
    if (fitting === undefined || fitting.openingId !== opening.id) return impossible(fittingGone)
    const set = setFields('fitting', fitting, fields)
    return planned(`Change ${tagOf(data, fitting)} of ${opening.mark}`, set === null ? [] : [set])
  }
  const slot = data.get('typicalFitting', command.typicalFittingId ?? '')
  if (slot === undefined || slot.typicalId !== opening.typicalId) return impossible(fittingGone)
  const standing = data
    .referring('fitting', 'openingId', opening.id)
    .find((each) => each.typicalFittingId === slot.id)
  if (standing !== undefined) {
    const set = setFields('fitting', standing, fields)
    return planned(`Change ${slot.tag} of ${opening.mark}`, set === null ? [] : [set])
  }
  const said = Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined))
  const fitting: Fitting = {
    ...blankFitting(newId(), opening.id, slot.position),
    typicalFittingId: slot.id,
    ...said,
  }
  return planned(
    `Change ${slot.tag} of ${opening.mark}`,
    saysSomething(fitting) ? [addRecord('fitting', fitting)] : [],
  )
}

const tagOf = (data: JobData, fitting: Fitting): string =>
  fitting.tag ?? data.get('typicalFitting', fitting.typicalFittingId ?? '')?.tag ?? 'a fitting'

export function planRemoveFitting(command: Of<'remove fitting'>, data: JobData): Planned {
  const fitting = data.get('fitting', command.fittingId)
  const opening = fitting === undefined ? undefined : data.get('opening', fitting.openingId)
  if (fitting === undefined || opening === undefined) return impossible(fittingGone)
  const edits = removeRecords(data, 'fitting', [fitting.id]).edits
  return planned(
    fitting.typicalFittingId === null
      ? `Remove ${tagOf(data, fitting)} of ${opening.mark}`
      : `Let ${tagOf(data, fitting)} of ${opening.mark} follow its typical again`,
    edits,
  )
}
