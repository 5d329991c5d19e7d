// What can be set on a part: its settings with their positions, and its banks.
import type { JobData, JobRecord } from '../job/index.ts'

export interface PositionOfSetting {
  readonly id: string
  readonly name: string
  readonly meaning: string | null
  readonly factory: boolean
}

export interface SettingOfPart {
  readonly id: string
  readonly name: string
  readonly form: JobRecord<'partSetting'>['form']
  readonly unit: string | null
  readonly notes: string | null
  readonly positions: readonly PositionOfSetting[]
  /** Name of the position it leaves the factory in; null is not known. */
  readonly factory: string | null
}

export interface RowOfBank {
  readonly id: string
  readonly when: Readonly<Record<string, string>>
  readonly meaning: string
}

/** Several settings together choose one meaning. */
export interface BankOfPart {
  readonly id: string
  readonly name: string
  /** Names of the settings it reads, in the order of the part. */
  readonly settings: readonly string[]
  /** Names in its rows that no setting of the part has. */
  readonly strangers: readonly string[]
  readonly rows: readonly RowOfBank[]
}

export interface PartSettings {
  readonly settings: readonly SettingOfPart[]
  readonly banks: readonly BankOfPart[]
}

/** What can be set on each part, looked up once. Good as long as the job does not change. */
export type PartBook = (partId: string) => PartSettings

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0)

export function partBook(data: JobData): PartBook {
  const known = new Map<string, PartSettings>()
  return (partId) => {
    let found = known.get(partId)
    if (found === undefined) known.set(partId, (found = partSettings(data, partId)))
    return found
  }
}

/** Everything that can be set on one part, in the part's order. */
export function partSettings(data: JobData, partId: string): PartSettings {
  const settings = data.referring('partSetting', 'partId', partId).toSorted(byPosition)
  const names = settings.map((each) => each.name)
  return {
    settings: settings.map((each) => settingOfPart(data, each)),
    banks: data
      .referring('partSettingTable', 'partId', partId)
      .toSorted(byPosition)
      .map((table) => bankOfPart(data, table, names)),
  }
}

export function settingOfPart(data: JobData, setting: JobRecord<'partSetting'>): SettingOfPart {
  const positions = data
    .referring('partPosition', 'partSettingId', setting.id)
    .toSorted(byPosition)
    .map((each) => ({
      id: each.id as string,
      name: each.name,
      meaning: each.meaning,
      factory: each.factory,
    }))
  const { id, name, form, unit, notes } = setting
  const factory = positions.find((each) => each.factory)?.name ?? null
  return { id, name, form, unit, notes, positions, factory }
}

function bankOfPart(
  data: JobData,
  table: JobRecord<'partSettingTable'>,
  settingNames: readonly string[],
): BankOfPart {
  const rows = data.referring('partSettingTableRow', 'partSettingTableId', table.id).toSorted(byPosition)
  const named = new Set(rows.flatMap((row) => Object.keys(row.when)))
  return {
    id: table.id,
    name: table.name,
    settings: settingNames.filter((name) => named.has(name)),
    strangers: [...named].filter((name) => !settingNames.includes(name)).toSorted(),
    rows: rows.map(({ id, when, meaning }) => ({ id, when, meaning })),
  }
}
