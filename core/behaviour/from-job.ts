// An opening of a job as the engine sees it: its fittings over its typical, what their parts declare, and its links.
// A link says what is meant: `asks` means that a controller's relay lets that fitting go, `breaks feed of` that the
// contact is in its feed. Where no run says what feeds a fitting, it is taken to be fed and its battery is a question.
import {
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type JobRecord,
  type Leaf as LeafRecord,
  type Opening,
  type Part,
  type Stage,
} from '../job/index.ts'
import type { DeclaredParts, ElementDeclaration, PartDeclaration, SettingEffect } from './declarations.ts'
import type {
  Cause,
  Change,
  Contact,
  ContactState,
  Controller,
  Device,
  Doorway,
  Engagement,
  Fact,
  Feed,
  Grip,
  Hardware,
  HoldingElement,
  Lasting,
  Leaf,
  Operator,
  Order,
  Path,
  PoweredContact,
  Question,
  Supply,
  Thing,
  Watch,
} from './model.ts'
import { known, unknown } from './truth.ts'

/** Why an opening cannot be judged at all. */
export type DoorwayProblem =
  | { readonly code: 'no fittings' }
  | { readonly code: 'no leaf' }
  | { readonly code: 'which leaf'; readonly tag: string }

export type DoorwayAnswer =
  | {
      readonly ok: true
      readonly doorway: Doorway
      /** The part behind each element, device, hardware and operator of the doorway, by its key. */
      readonly partOf: ReadonlyMap<string, Part>
      /** Whether keys in it come from records of this opening, so that no other opening can have the same. */
      readonly namesRecords: boolean
    }
  | { readonly ok: false; readonly problems: readonly DoorwayProblem[] }

export interface DoorwayOptions {
  readonly declared: DeclaredParts
  /** Which settings count; one that was not set or found is as in the stage before. */
  readonly stage: Stage
  /** From the power results: how long a supply's battery carries its load. */
  readonly batterySeconds: (supply: JobRecord<'supply'>) => Fact<number>
  /** A fact of the job: how long the fire alarm system runs on its own battery. */
  readonly fireAlarmBatterySeconds: Fact<number>
}

/** What is known of a battery without power results: only that there is none. */
export const batteryFromRecord = (supply: JobRecord<'supply'>): Fact<number> =>
  supply.batteryAmpHours === 0 ? known(0) : unknown({ about: 'battery', thing: supply.mark })

export function doorwayProblemSentence(problem: DoorwayProblem): string {
  switch (problem.code) {
    case 'no fittings':
      return 'This opening has no fittings yet, so what it does is not known.'
    case 'no leaf':
      return 'This opening has no leaf.'
    case 'which leaf':
      return `On which leaf is ${problem.tag}?`
  }
}

/** A fitting with what the builder needs of it. */
interface Place {
  readonly fitting: EffectiveFitting
  /** Its tag; with its key where two fittings of an opening share a tag, with its mark where it is of another opening. */
  readonly id: string
  readonly leaf: string
  readonly declared: PartDeclaration | null
  /** The mark of the other opening on which it stands: the other door of an interlock. */
  readonly otherMark: string | null
}

type Link = JobRecord<'link'>

interface Wiring {
  readonly link: Link
  readonly from: Place
  readonly to: Place
}

interface Site {
  readonly data: JobData
  readonly options: DoorwayOptions
  readonly places: readonly Place[]
  /** Fittings of other openings that this one's links start from. */
  readonly fromOthers: readonly Place[]
  readonly wiring: readonly Wiring[]
  readonly supplies: Map<string, Supply>
  readonly controllerName: string
  readonly leaves: readonly KeyedLeaf[]
}

/** Builds the doorway of an opening from the records of a job. */
export function doorwayOf(data: JobData, opening: Opening, options: DoorwayOptions): DoorwayAnswer {
  const fittings = effectiveFittings(data, opening).filter((each) => !each.leftOut)
  const leaves = leavesOf(data, opening)
  const problems: DoorwayProblem[] = []
  if (fittings.length === 0) problems.push({ code: 'no fittings' })
  if (leaves.length === 0) problems.push({ code: 'no leaf' })
  if (problems.length > 0) return { ok: false, problems }

  const places: Place[] = []
  for (const fitting of fittings) {
    const leaf = leafOf(fitting, leaves, options.declared)
    const declared = declarationOf(fitting, options)
    if (leaf === null && mattersToLeaf(fitting, declared, options))
      problems.push({ code: 'which leaf', tag: fitting.tag })
    const shared = fittings.filter(({ tag }) => tag === fitting.tag).length > 1
    const id = shared ? `${fitting.tag} ${fitting.key}` : fitting.tag
    places.push({ fitting, id, leaf: leaf ?? leaves[0]?.id ?? '', declared, otherMark: null })
  }
  if (problems.length > 0) return { ok: false, problems }

  const wiring = wiringOf(data, opening, options, places)
  const site: Site = {
    data,
    options,
    places,
    fromOthers: [...new Set(wiring.map(({ from }) => from))].filter(({ otherMark }) => otherMark !== null),
    wiring,
    supplies: new Map(),
    controllerName: controllerNameOf(data, places),
    leaves,
  }
  const namesRecords = places.some(({ id, fitting }) => id !== fitting.tag)
  return { ok: true, ...build(site), namesRecords }
}

const declarationOf = (
  { part }: EffectiveFitting,
  { declared }: Pick<DoorwayOptions, 'declared'>,
): PartDeclaration | null => (part === null ? null : (declared.part.get(part.id) ?? null))

/** A leaf under a key that openings arranged alike share; a record's own id would make every doorway another. */
export interface KeyedLeaf {
  readonly id: string
  readonly recordId: string
  readonly role: LeafRecord['role']
}

export function leavesOf(data: JobData, opening: Opening): KeyedLeaf[] {
  const seen = new Map<string, number>()
  return data
    .referring('leaf', 'openingId', opening.id)
    .toSorted((one, other) => one.position - other.position || (one.id < other.id ? -1 : 1))
    .map(({ id, role }) => {
      const count = (seen.get(role) ?? 0) + 1
      seen.set(role, count)
      return { id: count === 1 ? `${role} leaf` : `${role} leaf ${count}`, recordId: id, role }
    })
}

function leafOf(
  { fitting, slot }: EffectiveFitting,
  leaves: readonly KeyedLeaf[],
  declared: DeclaredParts,
): string | null {
  const own = fitting?.leafId ?? null
  if (own !== null) return leaves.find(({ recordId }) => recordId === own)?.id ?? null
  if (leaves.length === 1) return leaves[0]?.id ?? null
  const role = slot === null ? undefined : declared.slotLeaf.get(slot.id)
  return leaves.find((leaf) => leaf.role === role)?.id ?? null
}

/** A fitting whose leaf must be known: it holds, is worked by hand on the leaf, shuts it or opens it. */
function mattersToLeaf(
  { part }: EffectiveFitting,
  declared: PartDeclaration | null,
  options: DoorwayOptions,
): boolean {
  if (part === null || declared === null) return true
  return (
    (options.declared.elements.get(part.id) ?? []).length > 0 ||
    (options.declared.hardware.get(part.id) ?? []).length > 0 ||
    declared.shutsLeaf ||
    declared.opensLeaf
  )
}

/** The opening's own links, also from another opening's fitting, and its typical's between the fittings that follow it. */
function wiringOf(
  data: JobData,
  opening: Opening,
  options: DoorwayOptions,
  places: readonly Place[],
): Wiring[] {
  const links = [
    ...data.referring('link', 'openingId', opening.id),
    ...(opening.typicalId === null ? [] : data.referring('link', 'typicalId', opening.typicalId)),
  ]
  const end = (fittingId: string | null, slotId: string | null): Place | undefined =>
    places.find(
      ({ fitting }) =>
        (fittingId !== null && fitting.fitting?.id === fittingId) ||
        (slotId !== null && fitting.slot?.id === slotId),
    )
  const others = new Map<string, Place | undefined>()
  const elsewhere = (fittingId: string | null): Place | undefined => {
    if (fittingId === null) return undefined
    if (!others.has(fittingId)) others.set(fittingId, placeElsewhere(data, opening, options, fittingId))
    return others.get(fittingId)
  }
  return links.flatMap((link) => {
    const from = end(link.fromFittingId, link.fromTypicalFittingId) ?? elsewhere(link.fromFittingId)
    const to = end(link.toFittingId, link.toTypicalFittingId)
    return from === undefined || to === undefined ? [] : [{ link, from, to }]
  })
}

/** A fitting of another opening, named with that opening's mark. Its door is shut unless a condition opens it. */
function placeElsewhere(
  data: JobData,
  opening: Opening,
  options: DoorwayOptions,
  fittingId: string,
): Place | undefined {
  const record = data.get('fitting', fittingId)
  const other = record === undefined ? undefined : data.get('opening', record.openingId)
  if (other === undefined || other.id === opening.id) return undefined
  const fitting = effectiveFittings(data, other).find((each) => each.fitting?.id === fittingId)
  if (fitting === undefined || fitting.leftOut) return undefined
  const declared = declarationOf(fitting, options)
  return { fitting, id: `${other.mark} ${fitting.tag}`, leaf: '', declared, otherMark: other.mark }
}

/** The controller that has a point at one of the fittings, by its mark. */
function controllerNameOf(data: JobData, places: readonly Place[]): string {
  const marks = places.flatMap(({ fitting }) =>
    fitting.fitting === null
      ? []
      : data
          .referring('point', 'fittingId', fitting.fitting.id)
          .flatMap(({ controllerId }) => data.get('controller', controllerId)?.mark ?? []),
  )
  return marks.toSorted()[0] ?? 'of this opening'
}

const controllerId = 'controller'
const relayId = (place: Place): string => `relay ${place.id}`

interface Built {
  readonly doorway: Doorway
  readonly partOf: ReadonlyMap<string, Part>
}

function build(site: Site): Built {
  const { leaves } = site
  const partOf = new Map<string, Part>()
  const eachOf = <T extends Thing>(
    places: readonly Place[],
    make: (site: Site, place: Place) => readonly T[],
  ): T[] =>
    places.flatMap((place) => {
      const made = make(site, place)
      if (place.fitting.part !== null) for (const { id } of made) partOf.set(id, place.fitting.part)
      return made
    })
  const asked = site.places.filter((place) => ordersFor(site, place).length > 0)
  const elements = withKeepers(eachOf(site.places, elementsOf))
  const operators = eachOf(site.places, operatorOf)
  const devices = [...eachOf([...site.places, ...site.fromOthers], deviceOf), ...asked.map(relayOf)]
  const controllers = asked.length === 0 ? [] : [controllerOf(site, asked)]
  const doorway: Doorway = {
    leaves: leaves.map((leaf) => leafFrom(site, leaf, leaves)),
    hardware: eachOf(site.places, hardwareOf),
    elements,
    devices,
    controllers,
    supplies: [...site.supplies.values()],
    operators,
    watches: site.wiring.flatMap((wiring) => watchOf(site, wiring)),
  }
  return { doorway, partOf }
}

function leafFrom(site: Site, record: KeyedLeaf, leaves: readonly KeyedLeaf[]): Leaf {
  const name = leaves.length === 1 ? 'leaf' : `${record.role} leaf`
  const shut = site.places.some(({ leaf, declared }) => leaf === record.id && declared?.shutsLeaf === true)
  const shutsItself: Fact<boolean> = shut ? known(true) : unknown({ about: 'closer', thing: name })
  if (record.role !== 'inactive') return { id: record.id, name, role: record.role, shutsItself }
  const active = leaves.find(({ role }) => role === 'active')
  const overlap = site.options.declared.overlap.get(record.recordId)
  const opensAfter: Fact<string | null> =
    overlap === undefined
      ? unknown({ about: 'overlap', thing: name })
      : known(overlap ? (active?.id ?? null) : null)
  return { id: record.id, name, role: 'inactive', shutsItself, opensAfter }
}

const nameOf = ({ fitting, otherMark }: Place): string =>
  `${fitting.part?.kind ?? 'fitting'} ${fitting.tag}${otherMark === null ? '' : ` of ${otherMark}`}`

const hardwareId = (place: Place, name: string): string => `${place.id} ${name}`

function hardwareOf(site: Site, place: Place): Hardware[] {
  const declared = site.options.declared.hardware.get(place.fitting.part?.id ?? '') ?? []
  return declared.map(({ name, side, motion }) => ({
    id: hardwareId(place, name),
    name: `the ${name} of ${place.fitting.tag}`,
    leaf: place.leaf,
    side,
    motion,
  }))
}

function elementsOf(site: Site, place: Place): HoldingElement[] {
  const { fitting, declared } = place
  if (fitting.part === null || declared === null) return [mightHold(place)]
  const elements = site.options.declared.elements.get(fitting.part.id) ?? []
  const alone =
    elements.length === 1 && (site.options.declared.hardware.get(fitting.part.id) ?? []).length === 0
  return elements.map((element) => {
    const name = alone ? `${element.name} ${fitting.tag}` : `the ${element.name} of ${fitting.tag}`
    const startedBy = element.delayStartedBy.map((each) => hardwareId(place, each))
    return {
      id: `${place.id} ${element.name}`,
      name,
      leaf: place.leaf,
      grip: gripOf(place, element, name),
      engaged: engagementOf(site, place, element, name),
      drawnBy: element.drawnBy.map((each) => hardwareId(place, each)),
      delay:
        startedBy.length === 0
          ? null
          : {
              seconds: secondsOf(site, place, element.id, 'delay seconds', element.delaySeconds, name),
              startedBy,
            },
    }
  })
}

/** A part that nobody declared may hold both ways; what it is, is a question. */
const mightHold = (place: Place): HoldingElement => ({
  id: `${place.id} as a whole`,
  name: nameOf(place),
  leaf: place.leaf,
  grip: { form: 'holds the leaf' },
  engaged: { when: 'by hand', thrown: unknown({ about: 'part', thing: nameOf(place) }) },
  drawnBy: [],
  delay: null,
})

function gripOf(place: Place, element: ElementDeclaration, name: string): Grip {
  switch (element.grip) {
    case 'latches':
      return {
        form: 'latches',
        keeper: null,
        relatches:
          element.relatches === null
            ? unknown({ about: 'relatching', thing: name })
            : known(element.relatches),
      }
    case 'blocks hardware':
      return { form: 'blocks hardware', hardware: element.blocks.map((each) => hardwareId(place, each)) }
    case 'holds the leaf':
    case 'keeps a latch':
    case 'holds the leaf open':
      return { form: element.grip }
  }
}

/** A strike catches the latch of its leaf that latches by itself; a bolt thrown by hand has its own hole. */
function withKeepers(elements: readonly HoldingElement[]): HoldingElement[] {
  return elements.map((element) => {
    const { grip } = element
    if (grip.form !== 'latches' || (grip.relatches.known && !grip.relatches.value)) return element
    const keeper = elements.find((each) => each.leaf === element.leaf && each.grip.form === 'keeps a latch')
    return keeper === undefined ? element : { ...element, grip: { ...grip, keeper: keeper.id } }
  })
}

function engagementOf(site: Site, place: Place, element: ElementDeclaration, name: string): Engagement {
  switch (element.engaged) {
    case 'always':
      return { when: 'always' }
    case 'by hand':
      return { when: 'by hand', thrown: unknown({ about: 'thrown', thing: name }) }
    case 'while the active leaf is shut': {
      const active = site.leaves.find(({ role }) => role === 'active')
      return { when: 'while a leaf is shut', leaf: active?.id ?? place.leaf }
    }
    case 'while fed':
    case 'while not fed':
    case null: {
      const holdsWhile = holdsWhileOf(site, place, element, name)
      return {
        when: 'by its feed',
        holdsWhile,
        feed: feedOf(site, place, relayContact(site, place, holdsWhile, name)),
        releasedBy: [],
      }
    }
  }
}

function holdsWhileOf(
  site: Site,
  place: Place,
  element: ElementDeclaration,
  name: string,
): Fact<'fed' | 'not fed'> {
  const fed = (words: string): 'fed' | 'not fed' => (words === 'while fed' ? 'fed' : 'not fed')
  if (element.engaged !== null) return known(fed(element.engaged))
  return effectOf(site, place, element.id, 'engaged', fed, { about: 'hold', thing: name })
}

/** The relay of the controller in a feed: it opens what holds while fed, and closes what holds while not fed. */
function relayContact(
  site: Site,
  place: Place,
  holdsWhile: Fact<'fed' | 'not fed'>,
  name: string,
): readonly Path[] {
  if (ordersFor(site, place).length === 0) {
    // What holds while not fed and is asked by nobody has no feed at all.
    return holdsWhile.known && holdsWhile.value === 'not fed' ? [{ form: 'parallel', of: [] }] : []
  }
  const contact = relayTermsOf(site, place).contact ?? rightContact(site, place, holdsWhile)
  if (contact === null) return [{ form: 'not told', question: { about: 'hold', thing: name } }]
  return [{ form: 'contact', device: relayId(place), contact: whenEnergised[contact] }]
}

/** What the records say of the relay that lets a fitting go; null is as it should be. */
interface RelayTerms {
  readonly contact: RelayForm | null
  readonly energised: 'to release' | 'while secured'
  readonly releasedInOpenHours: boolean
  readonly unlockSeconds: number | null
}

type RelayForm = 'normally open' | 'normally closed'
const whenEnergised: Readonly<Record<RelayForm, 'opens' | 'closes'>> = {
  'normally open': 'closes',
  'normally closed': 'opens',
}

/** Of the first output at this fitting that says; a relay nobody spoke of is of the right form and releases when energised. */
function relayTermsOf({ data }: Site, place: Place): RelayTerms {
  const [said] = pointsAt(data, place, 'output').flatMap(({ id }) =>
    data.referring('pointRelay', 'pointId', id),
  )
  return {
    contact: said?.contact ?? null,
    energised: said?.energised === 'to hold' ? 'while secured' : 'to release',
    releasedInOpenHours: said?.releasedInOpenHours ?? true,
    unlockSeconds: said?.unlockSeconds ?? null,
  }
}

/** The points of controllers that are wired to this fitting, in their order. */
function pointsAt(data: JobData, { fitting }: Place, direction: 'input' | 'output'): JobRecord<'point'>[] {
  if (fitting.fitting === null) return []
  return data
    .referring('point', 'fittingId', fitting.fitting.id)
    .filter((point) => point.direction === direction)
    .toSorted((one, other) => one.position - other.position || (one.id < other.id ? -1 : 1))
}

/** The contact that feeds what holds while fed until it is released, or what holds while not fed once it is. */
function rightContact(site: Site, place: Place, holdsWhile: Fact<'fed' | 'not fed'>): RelayForm | null {
  if (!holdsWhile.known) return null
  const opensToRelease = holdsWhile.value === 'fed'
  const isEnergisedToRelease = relayTermsOf(site, place).energised === 'to release'
  return opensToRelease === isEnergisedToRelease ? 'normally closed' : 'normally open'
}

const partContactName = (site: Site, { link }: Wiring): string | null =>
  link.partContactId === null ? null : (site.data.get('partContact', link.partContactId)?.name ?? null)

/** The contacts that links put in the feed of a fitting, and the relay of the controller. */
function feedOf(site: Site, place: Place, relay: readonly Path[]): Feed {
  const contacts = site.wiring
    .filter(({ link, to }) => link.does === 'breaks feed of' && to === place)
    .map((wiring): Path => {
      const contact = partContactName(site, wiring)
      return contact === null
        ? { form: 'not told', question: contactQuestion(nameOf(wiring.from), 'of the link', 'at rest') }
        : { form: 'contact', device: wiring.from.id, contact }
    })
  return { from: known(supplyOf(site, place).id), through: { form: 'series', of: [...contacts, ...relay] } }
}

const contactQuestion = (thing: string, contact: string, when: string): Question => ({
  about: 'contact',
  thing,
  contact,
  when,
})

function keep(site: Site, supply: Supply): Supply {
  const there = site.supplies.get(supply.id)
  if (there !== undefined) return there
  site.supplies.set(supply.id, supply)
  return supply
}

function supplyOf(site: Site, place: Place): Supply {
  const { options } = site
  if (place.declared?.power === 'from the fire alarm')
    return keep(site, {
      id: 'supply fire alarm',
      name: 'the fire alarm system',
      batterySeconds: options.fireAlarmBatterySeconds,
      cutBy: [],
    })
  if (place.declared?.power === 'from the mains')
    return keep(site, { id: 'supply mains', name: 'the mains', batterySeconds: known(0), cutBy: [] })
  const record = supplyByRuns(site.data, place.fitting.fitting?.id ?? null)
  if (record !== null)
    return keep(site, {
      id: `supply ${record.id}`,
      name: record.mark,
      batterySeconds: options.batterySeconds(record),
      cutBy: [],
    })
  return keep(site, {
    id: `supply of ${place.id}`,
    name: `the supply of ${place.fitting.tag}`,
    batterySeconds: unknown({ about: 'feed', thing: nameOf(place) }),
    cutBy: [],
  })
}

/** Follows runs upstream to an output; null where they end before one. */
export function supplyByRuns(data: JobData, fittingId: string | null): JobRecord<'supply'> | null {
  const seen = new Set<string>()
  let at = fittingId
  while (at !== null && !seen.has(at)) {
    seen.add(at)
    const runs = data
      .referring('run', 'toFittingId', at)
      .toSorted((one, other) => (one.id < other.id ? -1 : 1))
    const home = runs.find(({ fromOutputId }) => fromOutputId !== null)
    const output = home?.fromOutputId == null ? undefined : data.get('output', home.fromOutputId)
    if (output !== undefined) return data.get('supply', output.supplyId) ?? null
    at = runs.find(({ fromFittingId }) => fromFittingId !== null)?.fromFittingId ?? null
  }
  return null
}

/** What asks the controller to let this fitting go. */
function ordersFor(site: Site, place: Place): Order[] {
  return site.wiring
    .filter(({ link, to }) => link.does === 'asks' && to === place)
    .map((wiring): Order => {
      const contact = partContactName(site, wiring)
      if (contact === null) return { on: 'worked', device: wiring.from.id }
      return { on: 'input', device: wiring.from.id, contact, asksWhen: asksWhen(site, wiring.from, contact) }
    })
}

/** As its input was told; else a point is taken to suit its contact: it asks in the state that is not the rest. */
function asksWhen(site: Site, place: Place, contact: string): Fact<ContactState> {
  const told = toldAsking(site, place, contact)
  if (told !== null) return known(told)
  const found = contactsOf(site, place).find(({ name }) => name === contact)
  if (found === undefined || !found.atRest.known || !found.turnedRound.known)
    return unknown({ about: 'input', thing: `controller ${site.controllerName}`, input: nameOf(place) })
  const rest = found.turnedRound.value ? other[found.atRest.value] : found.atRest.value
  return known(other[rest])
}

/** In which state of its contact the input at this contact asks; null where no record says what it takes for normal. */
function toldAsking({ data }: Site, place: Place, contact: string): ContactState | null {
  for (const { id, partContactId } of pointsAt(data, place, 'input')) {
    const record = data.get('partContact', partContactId ?? '')
    const [terms] = data.referring('pointTerms', 'pointId', id)
    if (record?.name !== contact || terms?.normally == null) continue
    // A changeover contact is told by its normally open side; the other side stands the other way.
    const isOtherSide = record.form === 'changeover' && terms.wiredTo === 'normally closed'
    return isOtherSide ? terms.normally : other[terms.normally]
  }
  return null
}

const other: Readonly<Record<ContactState, ContactState>> = { closed: 'open', open: 'closed' }

function controllerOf(site: Site, asked: readonly Place[]): Controller {
  const name = `controller ${site.controllerName}`
  const supply = keep(site, {
    id: 'supply controller',
    name: `the supply of ${name}`,
    batterySeconds: unknown({ about: 'battery', thing: name }),
    cutBy: [],
  })
  return {
    id: controllerId,
    name,
    feed: { from: known(supply.id), through: { form: 'series', of: [] } },
    outputs: asked.map((place) => {
      const { energised, releasedInOpenHours, unlockSeconds } = relayTermsOf(site, place)
      return {
        id: relayId(place),
        name: `the relay for ${place.fitting.tag}`,
        energised: known(energised),
        releaseSeconds:
          unlockSeconds === null
            ? unknown({ about: 'setting', thing: name, setting: 'Unlock time' })
            : known(unlockSeconds),
        orders: [...(releasedInOpenHours ? [{ on: 'open hours' } as const] : []), ...ordersFor(site, place)],
      }
    }),
  }
}

function relayOf(place: Place): Device {
  const cause: Cause = { on: 'ordered', controller: controllerId, output: relayId(place) }
  const contact = (name: string, atRest: ContactState): Contact => ({
    name,
    atRest: known(atRest),
    turnedRound: known(false),
    changes: [{ cause, to: known(other[atRest]), lasting: { form: 'as long as its cause' } }],
  })
  return {
    id: relayId(place),
    name: `the relay for ${place.fitting.tag}`,
    workedAs: null,
    workedWith: null,
    needsPower: false,
    contacts: [contact('opens', 'closed'), contact('closes', 'open')],
  }
}

/** Every fitting that has contacts or is worked; one that nobody declared has its contacts, powered by something. */
function deviceOf(site: Site, place: Place): Device[] {
  const { fitting, declared } = place
  const contacts = contactsOf(site, place)
  const linked = site.wiring.some(({ from }) => from === place)
  if (fitting.part === null && !linked) return []
  if (contacts.length === 0 && declared?.workedAs == null && !linked) return []
  const core = {
    id: place.id,
    name: nameOf(place),
    workedAs: declared?.workedAs ?? null,
    // The hardware of another opening is not there to be worked from this one.
    workedWith:
      declared?.workedWith == null || place.otherMark !== null
        ? null
        : hardwareId(place, declared.workedWith),
  }
  if (declared?.power === 'none') return [{ ...core, needsPower: false, contacts }]
  const feed: Feed =
    declared === null || declared.power === null
      ? { from: unknown({ about: 'feed', thing: nameOf(place) }), through: { form: 'series', of: [] } }
      : feedOf(site, place, [])
  return [{ ...core, needsPower: true, feed, contacts }]
}

/** Circumstances of the record that say how a contact rests, in the order in which they count. */
const restCircumstances = ['at rest', 'door shut', 'bolt thrown'] as const

function contactsOf(site: Site, place: Place): PoweredContact[] {
  const part = place.fitting.part
  if (part === null) return []
  return site.data
    .referring('partContact', 'partId', part.id)
    .map((contact) => contactFrom(site, place, contact))
}

function contactFrom(site: Site, place: Place, record: JobRecord<'partContact'>): PoweredContact {
  const states = new Map(
    site.data
      .referring('partContactState', 'partContactId', record.id)
      .map(({ circumstance, closed }) => [circumstance, closed ? 'closed' : 'open'] as const),
  )
  const thing = nameOf(place)
  const stateIn = (circumstance: string): Fact<ContactState> => {
    const state = states.get(circumstance)
    return state === undefined ? unknown(contactQuestion(thing, record.name, circumstance)) : known(state)
  }
  const rest = restCircumstances.find((each) => states.has(each)) ?? 'at rest'
  const lasting = lastingOf(site, place, record.id, thing)
  const change = (cause: Cause, circumstance: string): Change[] =>
    states.has(circumstance) ? [{ cause, to: stateIn(circumstance), lasting }] : []
  const asked = states.has('key turned') ? 'key turned' : 'exit asked'
  const isAsked = place.declared === null || place.declared.workedAs !== null
  // A tamper contact has nothing to do with being asked: its cover is what changes it.
  const isTamper = states.has('cover off')
  const byWork: Change[] =
    states.has(asked) || !isAsked || isTamper
      ? change({ on: 'worked' }, asked)
      : [{ cause: { on: 'worked' }, to: stateIn(asked), lasting }]
  return {
    name: record.name,
    atRest: stateIn(rest),
    changes: [
      ...byWork,
      ...change({ on: 'fire alarm' }, 'fire alarm'),
      ...change({ on: 'mains lost' }, 'mains lost'),
      ...(rest === 'door shut' ? change(whenOpened(place), 'door open') : []),
    ],
    turnedRound: turnedRoundOf(site, place, record.id),
    withoutPower: withoutPowerOf(site, place, record.id, stateIn('no power')),
  }
}

const whenOpened = ({ leaf, otherMark }: Place): Cause =>
  otherMark === null ? { on: 'leaf open', leaf } : { on: 'other opening open', opening: otherMark }

function turnedRoundOf(site: Site, place: Place, contact: string): Fact<boolean> {
  if (effectsOn(site, contact, 'turned round').length === 0) return known(false)
  return effectOf(site, place, contact, 'turned round', (words) => words === 'yes', null)
}

function withoutPowerOf(
  site: Site,
  place: Place,
  contact: string,
  declared: Fact<ContactState>,
): Fact<ContactState> {
  if (effectsOn(site, contact, 'without power').length === 0) return declared
  return effectOf(
    site,
    place,
    contact,
    'without power',
    (words) => (words === 'open' ? 'open' : 'closed'),
    null,
  )
}

function lastingOf(site: Site, place: Place, contact: string, thing: string): Lasting {
  const declared = site.options.declared.contact.get(contact)
  if (declared === undefined) return { form: 'as long as its cause' }
  if (declared.lasts !== 'seconds') return { form: declared.lasts }
  return {
    form: 'seconds',
    seconds: secondsOf(site, place, contact, 'lasts seconds', declared.seconds, thing),
  }
}

function secondsOf(
  site: Site,
  place: Place,
  target: string,
  changes: SettingEffect['changes'],
  declared: number | null,
  thing: string,
): Fact<number> {
  if (declared !== null) return known(declared)
  return effectOf(site, place, target, changes, Number, { about: 'delay', thing })
}

const effectsOn = (site: Site, target: string, changes: SettingEffect['changes']): readonly SettingEffect[] =>
  (site.options.declared.effects.get(target) ?? []).filter((each) => each.changes === changes)

/** What the settings of a fitting make of one thing. Where they are not told, the question names the setting. */
function effectOf<T>(
  site: Site,
  place: Place,
  target: string,
  changes: SettingEffect['changes'],
  read: (words: string) => T,
  otherwise: Question | null,
): Fact<T> {
  const effects = effectsOn(site, target, changes)
  const thing = nameOf(place)
  const asked = new Set<string>()
  for (const effect of effects) {
    const setting = settingOf(site, effect)
    if (setting === null) continue
    const chosen = chosenBy(site, place, effect)
    if (chosen === 'unknown') asked.add(setting)
    if (chosen === 'yes') return known(read(effect.value), `${setting} at ‘${positionOf(site, effect)}’`)
  }
  const [setting] = asked
  if (setting !== undefined) return unknown({ about: 'setting', thing, setting })
  return unknown(otherwise ?? { about: 'setting', thing, setting: changes })
}

function settingOf({ data }: Site, effect: SettingEffect): string | null {
  const position = data.get('partPosition', effect.partPositionId ?? '')
  if (position !== undefined) return data.get('partSetting', position.partSettingId)?.name ?? null
  const row = data.get('partSettingTableRow', effect.partSettingTableRowId ?? '')
  return row === undefined ? null : (data.get('partSettingTable', row.partSettingTableId)?.name ?? null)
}

function positionOf({ data }: Site, effect: SettingEffect): string {
  const position = data.get('partPosition', effect.partPositionId ?? '')
  return position?.name ?? data.get('partSettingTableRow', effect.partSettingTableRowId ?? '')?.meaning ?? '?'
}

/** Whether a fitting's settings choose the position or the row of an effect. */
function chosenBy(site: Site, place: Place, effect: SettingEffect): 'yes' | 'no' | 'unknown' {
  const { data } = site
  const position = data.get('partPosition', effect.partPositionId ?? '')
  if (position !== undefined) {
    const value = valueOf(site, place, position.partSettingId)
    return value === null ? 'unknown' : value === position.name ? 'yes' : 'no'
  }
  const row = data.get('partSettingTableRow', effect.partSettingTableRowId ?? '')
  if (row === undefined) return 'no'
  const settings = data.referring('partSetting', 'partId', place.fitting.part?.id ?? '')
  const values = Object.entries(row.when).map(([name, wanted]) => {
    const setting = settings.find((each) => each.name === name)
    const value = setting === undefined ? null : valueOf(site, place, setting.id)
    return value === null ? 'unknown' : value === wanted ? 'yes' : 'no'
  })
  return values.includes('no') ? 'no' : values.includes('unknown') ? 'unknown' : 'yes'
}

/** How a setting stands; the fitting's own word before its typical's. The factory position is no answer. */
function valueOf({ data, options }: Site, { fitting }: Place, setting: string): string | null {
  const own = fitting.fitting === null ? [] : data.referring('settingValue', 'fittingId', fitting.fitting.id)
  const usual =
    fitting.slot === null ? [] : data.referring('settingValue', 'typicalFittingId', fitting.slot.id)
  for (const counted of stagesCounted[options.stage])
    for (const values of [own, usual]) {
      const found = values
        .filter((each) => each.partSettingId === setting && counted.includes(each.stage))
        .toSorted(laterFirst)
      if (found[0] !== undefined) return found[0].value
    }
  return null
}

/** Set and found values are a history: the latest of both says how a thing stands. Designed counts only before them. */
export const stagesCounted: Readonly<Record<Stage, readonly (readonly Stage[])[]>> = {
  found: [['set', 'found'], ['designed']],
  set: [['set'], ['designed']],
  designed: [['designed']],
}

type SettingValue = JobRecord<'settingValue'>
export const laterFirst = (one: SettingValue, other: SettingValue): number => {
  const [first, second] = [one.at ?? '', other.at ?? '']
  if (first !== second) return first < second ? 1 : -1
  // At the same moment what was found was seen after what was set.
  if (one.stage !== other.stage) return one.stage === 'found' ? -1 : 1
  return one.id < other.id ? 1 : -1
}

function operatorOf(site: Site, place: Place): Operator[] {
  if (place.declared?.opensLeaf !== true) return []
  return [
    {
      id: `${place.id} operator`,
      name: nameOf(place),
      leaf: place.leaf,
      feed: feedOf(site, place, []),
      orders: operatorOrders(site, place),
      stoppedBy: [],
    },
  ]
}

/** The operator is asked while the relay's contact is closed; a relay nobody spoke of closes when it is energised. */
function operatorOrders(site: Site, place: Place): Operator['orders'] {
  if (ordersFor(site, place).length === 0) return []
  const { contact, energised } = relayTermsOf(site, place)
  if (contact === null && energised === 'to release')
    return [{ on: 'output', controller: controllerId, output: relayId(place) }]
  const form = contact ?? (energised === 'to release' ? 'normally open' : 'normally closed')
  return [{ on: 'input', device: relayId(place), contact: whenEnergised[form], asksWhen: known('closed') }]
}

function watchOf(site: Site, wiring: Wiring): Watch[] {
  const contact = partContactName(site, wiring)
  if (wiring.link.does !== 'watches' || contact === null) return []
  return [{ device: wiring.from.id, contact, does: 'is only watched' }]
}
