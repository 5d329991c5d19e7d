// Who, which building, which levels and rooms.
import type { Building, Id, JobData, Level, Opening } from '../job/index.ts'
import { externalOf, notGiven, type CobieBook } from './cobie-out-book.ts'
import { ownSystem, placeNotKnown } from './cobie-out-template.ts'
import { sameKey } from './understanding.ts'

const isMail = (text: string): boolean => /^[^@\s]+@[^@\s.]+(?:\.[^@\s.]+)+$/.test(text)

/** Given and family name, parted at the last blank; one word alone is taken as the family name. */
function nameParts(name: string): { GivenName: string | null; FamilyName: string } {
  const at = name.trim().lastIndexOf(' ')
  return at < 0
    ? { GivenName: null, FamilyName: name.trim() }
    : { GivenName: name.trim().slice(0, at), FamilyName: name.trim().slice(at + 1) }
}

/** Writes the contacts that have an e-mail address, by which COBie knows them, and the one who makes the workbook. */
export function addContacts(book: CobieBook, data: JobData, createdBy: string): void {
  const written = new Set<string>()
  for (const { id, name, company, role, email, phone } of data.all('contact')) {
    const address = email?.trim() ?? ''
    if (!isMail(address)) {
      book.say(
        'Contact',
        null,
        'Email',
        `Contact "${name}", Email: ${address === '' ? 'not known' : `"${address}" is none`}; expected an e-mail address, or the contact cannot be in the workbook.`,
      )
      continue
    }
    if (written.has(sameKey(address))) {
      book.say(
        'Contact',
        null,
        'Email',
        `Contact "${name}", Email: another contact has ${address}; expected one contact for each address.`,
      )
      continue
    }
    written.add(sameKey(address))
    book.add('Contact', {
      Email: address,
      Category: book.pick('Category-Role', role),
      Company: company,
      Phone: phone,
      ExternalSystem: ownSystem,
      ExternalObject: 'IfcPersonAndOrganization',
      ExternalIdentifier: id,
      ...nameParts(name),
    })
  }
  if (written.has(sameKey(createdBy))) return
  const row = book.add('Contact', { Email: createdBy, ExternalSystem: ownSystem })
  if (!isMail(createdBy))
    book.say(
      'Contact',
      row,
      'Email',
      `Contact "${createdBy}", Email: this is none; expected an e-mail address.`,
    )
}

/** Writes the one facility a workbook holds. */
export function addFacility(book: CobieBook, data: JobData, building: Building): string {
  const { job } = data
  const name = book.name('Facility', building.name)
  book.add('Facility', {
    Name: name,
    ProjectName: job.name,
    SiteName: building.address ?? job.address,
    LinearUnits: 'meters',
    AreaUnits: 'squaremeters',
    VolumeUnits: 'cubicmeters',
    ExternalSystem: ownSystem,
    ExternalProjectObject: 'IfcProject',
    ExternalProjectIdentifier: job.id,
    ExternalFacilityObject: 'IfcBuilding',
    ExternalFacilityIdentifier: building.sourceId ?? building.id,
    Description: building.notes,
    ProjectDescription: job.number === null ? job.name : `${job.number}, ${job.name}`,
    Phase: 'Handover',
  })
  return name
}

/** The levels and rooms of a building by their names in the workbook. */
export class CobiePlaces {
  readonly #book: CobieBook
  readonly #data: JobData
  readonly #levels: readonly Level[]
  readonly #floors = new Map<string, string>()
  readonly #rooms = new Map<string, { readonly name: string; readonly levelId: string }>()
  readonly #unknown = new Map<string, string>()

  constructor(book: CobieBook, data: JobData, building: Building) {
    this.#book = book
    this.#data = data
    this.#levels = data
      .referring('level', 'buildingId', building.id)
      .toSorted((a, b) => a.position - b.position)
    for (const level of this.#levels) this.#addFloor(level)
    for (const level of this.#levels) this.#addRooms(level)
  }

  #addFloor(level: Level): void {
    const name = this.#book.name('Floor', level.name)
    this.#floors.set(level.id, name)
    const row = this.#book.add('Floor', {
      Name: name,
      Category: /\broof\b/i.test(level.name) ? 'Roof' : 'Floor',
      ...externalOf('IfcBuildingStorey', level.sourceId, level.id),
      Elevation: level.elevationMetres,
    })
    if (sameKey(name) !== sameKey(level.name))
      this.#book.say(
        'Floor',
        row,
        'Name',
        `Floor "${name}", Name: two levels are called "${level.name}"; expected each name once.`,
      )
  }

  #addRooms(level: Level): void {
    const rooms = this.#data.referring('space', 'levelId', level.id)
    for (const { id, number, name: roomName, sourceId } of rooms.toSorted((a, b) =>
      a.number < b.number ? -1 : a.number > b.number ? 1 : a.id < b.id ? -1 : 1,
    )) {
      const name = this.#book.name('Space', number, level.name)
      this.#rooms.set(id, { name, levelId: level.id })
      this.#book.add('Space', {
        Name: name,
        FloorName: this.floor(level.id),
        Description: roomName,
        ...externalOf('IfcSpace', sourceId, id),
        RoomTag: name === number ? null : number,
      })
    }
  }

  floor(levelId: string): string {
    return this.#floors.get(levelId) ?? notGiven
  }

  /** The lowest level, for what has no place at all; null in a building without levels. */
  get firstLevel(): Id<'level'> | null {
    return this.#levels[0]?.id ?? null
  }

  has(spaceId: string | null): boolean {
    return spaceId !== null && this.#rooms.has(spaceId)
  }

  levelOf(spaceId: string | null): string | null {
    return this.#rooms.get(spaceId ?? '')?.levelId ?? null
  }

  /** The room's name, or that of the level's space for what has no known room, which is made when first needed. */
  room(spaceId: string | null, levelId: string | null): string {
    const known = this.#rooms.get(spaceId ?? '')
    if (known !== undefined) return known.name
    if (levelId === null) return notGiven
    const made = this.#unknown.get(levelId)
    if (made !== undefined) return made
    const name = this.#book.name('Space', `${this.floor(levelId)} place not known`)
    this.#unknown.set(levelId, name)
    this.#book.add('Space', {
      Name: name,
      FloorName: this.floor(levelId),
      Description: 'Place not known',
      ExtSystem: ownSystem,
      ExtObject: null,
      ExtIdentifier: `${placeNotKnown}${levelId}`,
    })
    return name
  }

  /** One or two rooms: the room led to, then the room led from. Their order is what reading them back goes by. */
  roomsOf(opening: Opening): string {
    const { toSpaceId, fromSpaceId, levelId } = opening
    const to = this.room(toSpaceId, levelId)
    return this.has(fromSpaceId) ? `${to}, ${this.room(fromSpaceId, levelId)}` : to
  }
}
