// How every fitting of an opening, or one fitting of a typical, is set.
import { effectiveFittings, type JobData, type JobRecord, type Stage } from '../job/index.ts'
import { bankWords, readBank, type BankReading } from './banks.ts'
import { differencesOf, type SettingDifference } from './differences.ts'
import { partBook, type BankOfPart, type PartBook, type SettingOfPart } from './part-settings.ts'
import { threeStages, type ThreeStages } from './stages.ts'

type Kept = JobRecord<'settingValue'>

/** One setting with its three values and where they differ. */
export interface SettingState extends ThreeStages {
  readonly setting: SettingOfPart
  readonly differences: readonly SettingDifference[]
}

/** `standing` is as it stands: the later of set and found. */
export type StageOrStanding = Stage | 'standing'

/** One bank, read from the values of each stage. A stage never borrows a switch from another. */
export interface BankState {
  readonly bank: BankOfPart
  readonly readings: Readonly<Record<StageOrStanding, BankReading>>
  /** "Relock delay: designed relocks after 2 s, stands at relocks at once." Null where both agree or one is not known. */
  readonly differs: string | null
}

/** A value that was kept for a setting this part does not have: the part was exchanged since. */
export interface StrayValue {
  readonly id: string
  readonly stage: Stage
  readonly settingName: string
  readonly partName: string | null
  readonly value: string
}

export interface FittingSettings {
  readonly openingId: string | null
  readonly fittingId: string | null
  /** The fitting of the typical that it follows, or that it is. */
  readonly typicalFittingId: string | null
  readonly tag: string
  readonly partId: string | null
  readonly partName: string | null
  readonly partModel: string | null
  readonly serial: string | null
  readonly settings: readonly SettingState[]
  readonly banks: readonly BankState[]
  readonly strays: readonly StrayValue[]
}

/** Whose settings are asked for. */
export type SettingsOwner =
  | { readonly openingId: string }
  /** A fitting of a typical: only designed values have a meaning there. */
  | { readonly typicalFittingId: string }

/** The fittings with all that can be set on them; left-out fittings are not there. Empty where the owner is gone. */
export function settingsOf(
  data: JobData,
  owner: SettingsOwner,
  book: PartBook = partBook(data),
): FittingSettings[] {
  if ('typicalFittingId' in owner) {
    const slot = data.get('typicalFitting', owner.typicalFittingId)
    if (slot === undefined) return []
    const { tag, partId } = slot
    const place = { openingId: null, fittingId: null, typicalFittingId: slot.id, tag, partId, serial: null }
    return [fittingSettings(data, book, place)]
  }
  const opening = data.get('opening', owner.openingId)
  if (opening === undefined) return []
  return effectiveFittings(data, opening)
    .filter((each) => !each.leftOut)
    .map(({ slot, fitting, tag, part, serial }) =>
      fittingSettings(data, book, {
        openingId: opening.id,
        fittingId: fitting?.id ?? null,
        typicalFittingId: slot?.id ?? null,
        tag,
        partId: part?.id ?? null,
        serial,
      }),
    )
}

export type PlaceOfFitting = Pick<
  FittingSettings,
  'openingId' | 'fittingId' | 'typicalFittingId' | 'tag' | 'partId' | 'serial'
>

const noValues: readonly Kept[] = []

/** One fitting with all that can be set on it. */
export function fittingSettings(data: JobData, book: PartBook, place: PlaceOfFitting): FittingSettings {
  const part = place.partId === null ? undefined : data.get('part', place.partId)
  const { settings, banks } = part === undefined ? nothingToSet : book(part.id)
  const own =
    place.fittingId === null ? noValues : data.referring('settingValue', 'fittingId', place.fittingId)
  const usual =
    place.typicalFittingId === null
      ? noValues
      : data.referring('settingValue', 'typicalFittingId', place.typicalFittingId)
  const states = settings.map((setting): SettingState => {
    const ofSetting = (each: Kept): boolean => each.partSettingId === setting.id
    const stages = threeStages(setting, place.tag, own.filter(ofSetting), usual.filter(ofSetting))
    return { setting, ...stages, differences: differencesOf(setting, place.tag, stages) }
  })
  return {
    ...place,
    partName: part?.name ?? null,
    partModel: part?.model ?? null,
    settings: states,
    banks: banks.map((bank) => bankState(bank, states)),
    strays: own.filter((each) => !settings.some(({ id }) => id === each.partSettingId)).map(strayIn(data)),
  }
}

const nothingToSet = { settings: [], banks: [] }

const strayIn =
  (data: JobData) =>
  (kept: Kept): StrayValue => {
    const setting = data.get('partSetting', kept.partSettingId)
    return {
      id: kept.id,
      stage: kept.stage,
      settingName: setting?.name ?? 'a setting',
      partName: data.get('part', setting?.partId ?? '')?.name ?? null,
      value: kept.value,
    }
  }

/** The value of a setting in a stage, by the setting's name; null is not known. */
export const valueIn =
  (states: readonly SettingState[], stage: StageOrStanding) =>
  (name: string): string | null => {
    const value = states.find(({ setting }) => setting.name === name)?.[stage]
    return value?.known === true ? value.value : null
  }

function bankState(bank: BankOfPart, states: readonly SettingState[]): BankState {
  const reading = (stage: StageOrStanding): BankReading => readBank(bank, valueIn(states, stage))
  const readings = {
    designed: reading('designed'),
    set: reading('set'),
    found: reading('found'),
    standing: reading('standing'),
  }
  const { designed, standing } = readings
  const isKnown = designed.state !== 'not known' && standing.state !== 'not known'
  const [one, other] = [bankWords(designed), bankWords(standing)]
  const differs = isKnown && one !== other ? `${bank.name}: designed ${one}, stands at ${other}.` : null
  return { bank, readings, differs }
}
