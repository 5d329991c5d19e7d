// Types, components, systems, connections and what is known of them.
import {
  effectiveFittings,
  writeFireLabel,
  type EffectiveFitting,
  type JobData,
  type Opening,
  type Part,
} from '../job/index.ts'
import { settingsOf } from '../settings/index.ts'
import { cobieTime, externalOf, type CobieBook, type CobieCell } from './cobie-out-book.ts'
import type { CobiePlaces } from './cobie-out-places.ts'
import { ownAttributes, ownSystem } from './cobie-out-template.ts'
import { sameKey } from './understanding.ts'

// Classes as the pick lists of BSI (2020) "Medical-Dental Test Files" name them; owners may class otherwise.
const doorClass = '23-30 10: Doors'
const hardwareClass = '23-30 40: Hardware for Openings'
const controlClass = '23-30 40 11 34 14: Electrical Door Locking Control'
const accessClass = '21-51 11 21: Security Access'
const proxy = 'IfcBuildingElementProxy'

/** A door type that nobody gave. Reading it back gives nothing, for it is one of the words that say nothing. */
const doorTypeNotKnown = 'Not known'

const timeOrNull = (day: string | null): string | null => (day === null ? null : cobieTime(day))

interface DoorFitting {
  readonly opening: Opening
  readonly each: EffectiveFitting
}

/** What of the job went into the workbook, by its names there. */
export class CobieAssets {
  readonly #book: CobieBook
  readonly #data: JobData
  readonly #places: CobiePlaces
  readonly #doorTypes = new Map<string, string>()
  readonly #partTypes = new Map<string, string>()
  readonly #components = new Map<string, string>()
  readonly #fittings = new Map<string, string[]>()

  constructor(book: CobieBook, data: JobData, places: CobiePlaces) {
    this.#book = book
    this.#data = data
    this.#places = places
  }

  /** The component of an opening, a fitting, a supply or a controller, by its id or its key. */
  component(id: string | null): string | null {
    return id === null ? null : (this.#components.get(id) ?? null)
  }

  partType(partId: string | null): string | null {
    return partId === null ? null : (this.#partTypes.get(partId) ?? null)
  }

  /** The type of something fitted, also of what has no known part. */
  typeOfPart(partId: string | null): string | null {
    return this.#partTypes.get(partId ?? '') ?? null
  }

  doorType(opening: Opening): string | null {
    return this.#doorTypes.get(sameKey(opening.doorType ?? doorTypeNotKnown)) ?? null
  }

  /** Writes openings and all that is on them; openings come first, so that their marks stay as they are. */
  addOpenings(openings: readonly Opening[]): void {
    for (const opening of openings) this.#addDoorType(opening)
    for (const opening of openings) this.#addOpening(opening)
    for (const opening of openings) {
      const settings = settingsOf(this.#data, { openingId: opening.id })
      const fitted = effectiveFittings(this.#data, opening).filter((each) => !each.leftOut)
      for (const [index, each] of fitted.entries()) {
        const name = this.#addFitting({ opening, each })
        for (const { setting, standing } of settings[index]?.settings ?? [])
          if (standing.known)
            this.#attribute('Component', name, setting.name, standing.value, 'As Built', setting.unit)
      }
      this.#addSystemOf(opening)
    }
  }

  #addDoorType(opening: Opening): void {
    const wanted = opening.doorType ?? doorTypeNotKnown
    if (this.#doorTypes.has(sameKey(wanted))) return
    const name = this.#book.name('Type', wanted)
    this.#doorTypes.set(sameKey(wanted), name)
    this.#book.add('Type', {
      Name: name,
      Category: this.#book.pick('Category-Product', doorClass),
      Description: opening.doorType === null ? 'Doors whose type is not known' : `Door type ${wanted}`,
      AssetType: 'Fixed',
      WarrantyDurationUnit: 'month',
      ExtSystem: ownSystem,
      ExtObject: 'IfcDoorStyle',
      DurationUnit: 'year',
    })
  }

  #addPartType(part: Part, classed: string): string {
    const known = this.#partTypes.get(part.id)
    if (known !== undefined) return known
    const name = this.#book.name('Type', part.name, part.model)
    this.#partTypes.set(part.id, name)
    this.#book.add('Type', {
      Name: name,
      Category: this.#book.pick('Category-Product', classed),
      Description: part.description ?? part.kind,
      AssetType: 'Fixed',
      ModelNumber: part.model,
      WarrantyDurationParts: part.warrantyMonths,
      WarrantyDurationUnit: 'month',
      ExtSystem: ownSystem,
      ExtObject: 'IfcBuildingElementProxyType',
      ExtIdentifier: part.id,
      DurationUnit: 'year',
    })
    const figures: readonly (readonly [name: string, value: number | null, unit: string])[] = [
      ['MinimumVolts', part.minimumVolts, 'volt'],
      ['MaximumVolts', part.maximumVolts, 'volt'],
      ['HoldingCurrent', part.holdingAmps, 'ampere'],
      ['InrushCurrent', part.inrushAmps, 'ampere'],
    ]
    for (const [figure, value, unit] of figures)
      if (value !== null) this.#attribute('Type', name, figure, value, 'Submitted', unit)
    return name
  }

  /** A type for fittings, supplies and controllers whose part nobody said. */
  #partNotKnown(): string {
    const known = this.#partTypes.get('')
    if (known !== undefined) return known
    const name = this.#book.name('Type', 'Part not known')
    this.#partTypes.set('', name)
    this.#book.add('Type', {
      Name: name,
      Category: this.#book.pick('Category-Product', hardwareClass),
      Description: 'Fittings whose part is not known',
      AssetType: 'Fixed',
      WarrantyDurationUnit: 'month',
      ExtSystem: ownSystem,
      ExtObject: 'IfcBuildingElementProxyType',
      DurationUnit: 'year',
    })
    return name
  }

  #addOpening(opening: Opening): void {
    const { id, mark, levelId, toSpaceId } = opening
    const level = this.#data.get('level', levelId)
    const name = this.#book.name('Component', mark, level?.name ?? null)
    this.#components.set(id, name)
    const row = this.#book.add('Component', {
      Name: name,
      TypeName: opening.doorType ?? this.doorType(opening),
      Space: this.#places.roomsOf(opening),
      Description: opening.whereText === null ? `Opening ${mark}` : `Opening ${mark}, ${opening.whereText}`,
      ...externalOf('IfcDoor', opening.sourceId, id),
      SerialNumber: opening.serial,
      InstallationDate: timeOrNull(opening.installedOn),
      WarrantyStartDate: timeOrNull(opening.installedOn),
      TagNumber: opening.assetTag,
    })
    if (opening.doorType === null)
      this.#book.say(
        'Component',
        row,
        'TypeName',
        `Opening ${mark}, TypeName: not known; expected a door type.`,
      )
    this.#sayPlace(row, `Opening ${mark}`, toSpaceId)

    const stage = opening.installedOn === null ? 'Requirement' : 'As Built'
    const said = (attribute: string, value: CobieCell | null, unit: string | null = null): void => {
      if (value !== null && value !== '') this.#attribute('Component', name, attribute, value, stage, unit)
    }
    const millimetres = (micrometres: number | null): number | null =>
      micrometres === null ? null : micrometres / 1000
    const leaves = this.#data
      .referring('leaf', 'openingId', id)
      .toSorted((one, other) => one.position - other.position)
    if (name !== mark) said(ownAttributes.mark, mark)
    if ((this.#places.levelOf(toSpaceId) ?? levelId) !== levelId)
      said(ownAttributes.level, this.#places.floor(levelId))
    said(ownAttributes.leaves, leaves.length === 0 ? 'not given' : leaves.length)
    said('Width', millimetres(opening.widthMicrometres), 'mm')
    said('Height', millimetres(opening.heightMicrometres), 'mm')
    said('Thickness', millimetres(opening.thicknessMicrometres), 'mm')
    said('Hand', opening.hand)
    said('FireRating', writeFireLabel({ minutes: opening.fireLabelMinutes, class: opening.fireLabelClass }))
    said('DoorMaterial', leaves[0]?.material ?? null)
    said('FrameMaterial', opening.frameMaterial)
    said('HardwareSet', opening.hardwareSet)
  }

  #addFitting({ opening, each }: DoorFitting): string {
    const of = this.component(opening.id) ?? opening.mark
    const name = this.#book.name('Component', `${of} ${each.tag}`)
    this.#components.set(each.key, name)
    this.#fittings.set(opening.id, [...(this.#fittings.get(opening.id) ?? []), name])
    const installedOn = each.fitting?.installedOn ?? opening.installedOn
    const inside = this.#places.has(opening.toSpaceId) ? opening.toSpaceId : opening.fromSpaceId
    const row = this.#book.add('Component', {
      Name: name,
      TypeName: each.part === null ? this.#partNotKnown() : this.#addPartType(each.part, hardwareClass),
      Space: this.#places.room(inside, opening.levelId),
      Description: `${each.part?.name ?? each.tag} of opening ${opening.mark}`,
      ...externalOf(proxy, null, each.key),
      SerialNumber: each.serial,
      InstallationDate: timeOrNull(installedOn),
      WarrantyStartDate: timeOrNull(installedOn),
    })
    if (each.part === null)
      this.#book.say(
        'Component',
        row,
        'TypeName',
        `${each.tag} of ${opening.mark}, TypeName: not known; expected a part.`,
      )
    return name
  }

  #sayPlace(row: number, called: string, spaceId: string | null): void {
    if (this.#places.has(spaceId)) return
    const why = spaceId === null ? 'not known' : 'in another building, which has a workbook of its own'
    this.#book.say('Component', row, 'Space', `${called}, Space: ${why}; expected a room of this building.`)
  }

  #addSystemOf(opening: Opening): void {
    const of = this.component(opening.id) ?? opening.mark
    this.#book.add('System', {
      Name: this.#book.name('System', `Opening ${of}`),
      Category: this.#book.pick('Category-Element', accessClass),
      ComponentNames: [of, ...(this.#fittings.get(opening.id) ?? [])].join(', '),
      ...externalOf('IfcSystem', null, `system ${opening.id}`),
      Description: `All that is on opening ${opening.mark}`,
    })
  }

  /** Writes the supplies and controllers that stand in this building. */
  addSupplies(isHere: (spaceId: string | null) => boolean): void {
    for (const kind of ['supply', 'controller'] as const)
      for (const record of [...this.#data.all(kind)].toSorted((a, b) => a.position - b.position)) {
        if (!isHere(record.spaceId)) continue
        const part = record.partId === null ? undefined : this.#data.get('part', record.partId)
        const name = this.#book.name('Component', record.mark)
        this.#components.set(record.id, name)
        const row = this.#book.add('Component', {
          Name: name,
          TypeName: part === undefined ? this.#partNotKnown() : this.#addPartType(part, controlClass),
          Space: this.#places.room(record.spaceId, this.#places.firstLevel),
          Description: record.whereText === null ? record.mark : `${record.mark}, ${record.whereText}`,
          ...externalOf(proxy, null, record.id),
        })
        this.#sayPlace(row, record.mark, record.spaceId)
        if (kind === 'supply') this.#addSupplyFigures(record.id, name)
      }
  }

  #addSupplyFigures(supplyId: string, name: string): void {
    const supply = this.#data.get('supply', supplyId)
    if (supply === undefined) return
    const figures: readonly (readonly [name: string, value: CobieCell | null, unit: string | null])[] = [
      ['RatedVolts', supply.ratedVolts, 'volt'],
      ['RatedCurrent', supply.ratedAmps, 'ampere'],
      ['BatteryVolts', supply.batteryVolts, 'volt'],
      ['BatteryCapacity', supply.batteryAmpHours, 'ampere hour'],
      ['BatteryInstalledOn', timeOrNull(supply.batteryInstalledOn), null],
    ]
    for (const [figure, value, unit] of figures)
      if (value !== null) this.#attribute('Component', name, figure, value, 'As Built', unit)
  }

  /** Writes the cables between components of this workbook: what feeds, and what controls. */
  addConnections(): void {
    const runs = [...this.#data.all('run')].toSorted((a, b) => a.position - b.position)
    const fed = new Set<string>()
    // A fitting fed by a run feeds on: repeated until no more is found.
    for (let before = -1; before !== fed.size;) {
      before = fed.size
      for (const { fromOutputId, fromFittingId, toFittingId } of runs)
        if (toFittingId !== null && (fromOutputId !== null || fed.has(fromFittingId ?? '')))
          fed.add(toFittingId)
    }
    for (const run of runs) {
      const ends = (['from', 'to'] as const).map((end) => {
        const output = this.#data.get('output', run[`${end}OutputId`] ?? '')
        const id = output?.supplyId ?? run[`${end}ControllerId`] ?? run[`${end}FittingId`]
        const terminals = this.#data
          .referring('conductor', 'runId', run.id)
          .toSorted((a, b) => a.position - b.position)
          .flatMap((each) => each[`${end}Terminal`] ?? [])
        const port = output === undefined ? [...new Set(terminals)].join(' ') : `Output ${output.name}`
        return { name: this.component(id), port }
      })
      const [from, to] = ends
      if (from === undefined || to === undefined || from.name === null || to.name === null) continue
      const feeds = run.fromOutputId !== null || fed.has(run.fromFittingId ?? '')
      this.#book.add('Connection', {
        Name: this.#book.name('Connection', run.name),
        ConnectionType: feeds ? 'Supply' : 'Control',
        SheetName: 'Component',
        RowName1: from.name,
        RowName2: to.name,
        RealizingElement: run.cable ?? run.name,
        PortName1: from.port,
        PortName2: to.port,
        ...externalOf('IfcRelConnectsElements', null, run.id),
        Description: run.notes,
      })
    }
  }

  #attribute(
    sheet: 'Component' | 'Type',
    row: string,
    name: string,
    value: CobieCell,
    stage: string,
    unit: string | null,
  ): void {
    this.#book.add('Attribute', {
      Name: name,
      Category: stage,
      SheetName: sheet,
      RowName: row,
      Value: value,
      Unit: unit,
      ExtSystem: ownSystem,
      ExtObject: 'IfcPropertySingleValue',
    })
  }
}
