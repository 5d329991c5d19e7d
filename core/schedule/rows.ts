// The schedule's rows: one opening a line, as its records and its typical say it.
import {
  fittingsThatDiffer,
  inherit,
  tradeFields,
  type Hand,
  type Id,
  type JobData,
  type LabelClass,
  type Opening,
  type Space,
  type TradeField,
} from '../job/index.ts'

export interface ScheduleRow {
  readonly id: Id<'opening'>
  readonly buildingId: Id<'building'>
  readonly levelId: Id<'level'>
  readonly mark: string
  /** What is shown as the place; `whereIsOwn` when a person wrote it, else put together from the rooms. */
  readonly where: string
  readonly whereIsOwn: boolean
  readonly toRoom: string
  readonly fromRoom: string
  /** 0 is not known. */
  readonly leaves: number
  readonly widthMicrometres: number | null
  readonly heightMicrometres: number | null
  readonly thicknessMicrometres: number | null
  readonly hand: Hand | null
  readonly doorMaterial: string | null
  readonly frameMaterial: string | null
  readonly fireLabelMinutes: number | null
  readonly fireLabelClass: LabelClass | null
  readonly doorType: string | null
  readonly hardwareSet: string | null
  readonly typicalId: Id<'typical'> | null
  readonly typicalName: string | null
  readonly furnishedBy: string | null
  readonly fittedBy: string | null
  readonly wiredBy: string | null
  readonly terminatedBy: string | null
  /** The trade fields said here rather than by the typical. */
  readonly ownTrades: readonly TradeField[]
  /** How many fittings differ from the typical on purpose. */
  readonly differing: number
  readonly serial: string | null
  readonly assetTag: string | null
  readonly installedOn: string | null
  readonly notes: string | null
  readonly sourceFile: string | null
  readonly sourcePlace: string | null
}

const roomWords = (space: Space | undefined): string =>
  space === undefined ? '' : space.name === null ? space.number : `${space.number} ${space.name}`

function placeOf(opening: Opening, to: Space | undefined, from: Space | undefined): string {
  if (opening.whereText !== null) return opening.whereText
  const toName = to === undefined ? '' : (to.name ?? to.number)
  if (from === undefined) return toName
  return toName === '' ? `from ${from.number}` : `${toName}, from ${from.number}`
}

/** The row of one opening. */
export function scheduleRow(data: JobData, opening: Opening): ScheduleRow {
  const level = data.get('level', opening.levelId)
  if (level === undefined) throw new Error(`opening ${opening.id} without its level`)
  const typical = opening.typicalId === null ? undefined : data.get('typical', opening.typicalId)
  const to = opening.toSpaceId === null ? undefined : data.get('space', opening.toSpaceId)
  const from = opening.fromSpaceId === null ? undefined : data.get('space', opening.fromSpaceId)
  const leaves = data.referring('leaf', 'openingId', opening.id)
  const first = leaves.length > 1 ? leaves.toSorted((a, b) => a.position - b.position)[0] : leaves[0]
  const trade = (field: TradeField): string | null => inherit(opening[field], typical?.[field]).value
  return {
    id: opening.id,
    buildingId: level.buildingId,
    levelId: level.id,
    mark: opening.mark,
    where: placeOf(opening, to, from),
    whereIsOwn: opening.whereText !== null,
    toRoom: roomWords(to),
    fromRoom: roomWords(from),
    leaves: leaves.length,
    widthMicrometres: opening.widthMicrometres,
    heightMicrometres: opening.heightMicrometres,
    thicknessMicrometres: opening.thicknessMicrometres,
    hand: opening.hand,
    doorMaterial: first?.material ?? null,
    frameMaterial: opening.frameMaterial,
    fireLabelMinutes: opening.fireLabelMinutes,
    fireLabelClass: opening.fireLabelClass,
    doorType: opening.doorType,
    hardwareSet: opening.hardwareSet,
    typicalId: opening.typicalId,
    typicalName: typical?.name ?? null,
    furnishedBy: trade('furnishedBy'),
    fittedBy: trade('fittedBy'),
    wiredBy: trade('wiredBy'),
    terminatedBy: trade('terminatedBy'),
    ownTrades: typical === undefined ? [] : tradeFields.filter((field) => opening[field] !== null),
    differing: fittingsThatDiffer(data, opening),
    serial: opening.serial,
    assetTag: opening.assetTag,
    installedOn: opening.installedOn,
    notes: opening.notes,
    sourceFile: opening.source?.file ?? null,
    sourcePlace: opening.source?.place ?? null,
  }
}

/** A row for every opening, in no promised order. */
export const scheduleRows = (data: JobData): ScheduleRow[] =>
  Array.from(data.all('opening'), (opening) => scheduleRow(data, opening))

/** What stands beside the rows: the job, its places, and the typicals openings may follow. */
export interface ScheduleFrame {
  readonly job: {
    readonly name: string
    readonly number: string | null
    readonly client: string | null
    readonly address: string | null
    readonly preparedBy: string | null
    readonly units: 'imperial' | 'metric'
    readonly dateForm: 'iso' | 'local'
    readonly scheduleIssue: string | null
    readonly scheduleDate: string | null
    readonly buildingCode: string | null
  }
  readonly buildings: readonly { readonly id: Id<'building'>; readonly name: string }[]
  /** In order of building, then level from the ground up as the job keeps them. */
  readonly levels: readonly {
    readonly id: Id<'level'>
    readonly buildingId: Id<'building'>
    readonly name: string
    readonly openings: number
  }[]
  readonly typicals: readonly {
    readonly id: Id<'typical'>
    readonly name: string
    readonly description: string | null
    readonly openings: number
    readonly fittings: readonly { readonly tag: string; readonly part: string }[]
    readonly furnishedBy: string | null
    readonly fittedBy: string | null
    readonly wiredBy: string | null
    readonly terminatedBy: string | null
  }[]
}

const byPosition = (a: { position: number; id: string }, b: { position: number; id: string }): number =>
  a.position - b.position || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)

export function scheduleFrame(data: JobData): ScheduleFrame {
  const {
    name,
    number,
    client,
    address,
    preparedBy,
    units,
    dateForm,
    scheduleIssue,
    scheduleDate,
    buildingCode,
  } = data.job
  const buildings = [...data.all('building')].toSorted(byPosition)
  return {
    job: {
      name,
      number,
      client,
      address,
      preparedBy,
      units,
      dateForm,
      scheduleIssue,
      scheduleDate,
      buildingCode,
    },
    buildings: buildings.map((building) => ({ id: building.id, name: building.name })),
    levels: buildings.flatMap((building) =>
      data
        .referring('level', 'buildingId', building.id)
        .toSorted(byPosition)
        .map((level) => ({
          id: level.id,
          buildingId: building.id,
          name: level.name,
          openings: data.countReferring('opening', 'levelId', level.id),
        })),
    ),
    typicals: [...data.all('typical')].toSorted(byPosition).map((typical) => ({
      id: typical.id,
      name: typical.name,
      description: typical.description,
      openings: data.countReferring('opening', 'typicalId', typical.id),
      fittings: data
        .referring('typicalFitting', 'typicalId', typical.id)
        .toSorted(byPosition)
        .map((slot) => ({ tag: slot.tag, part: data.get('part', slot.partId)?.name ?? '?' })),
      furnishedBy: typical.furnishedBy,
      fittedBy: typical.fittedBy,
      wiredBy: typical.wiredBy,
      terminatedBy: typical.terminatedBy,
    })),
  }
}
