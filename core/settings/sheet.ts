// The sheet a person has at the bench: every position of every setting, which one to choose, and a box to tick.
import type { JobData } from '../job/index.ts'
import { bankWords } from './banks.ts'
import { partBook, type PartBook } from './part-settings.ts'
import { settingsOf, type FittingSettings, type SettingState } from './settings-of.ts'
import { whenAndWho, type SettingQuestion } from './words.ts'

export interface SheetPosition {
  readonly name: string
  readonly meaning: string | null
  readonly factory: boolean
  readonly choose: boolean
}

export interface SheetLine {
  readonly settingId: string
  readonly setting: string
  readonly form: SettingState['setting']['form']
  readonly unit: string | null
  readonly notes: string | null
  readonly positions: readonly SheetPosition[]
  /** "5 s"; null is not known and the question stands in its place. */
  readonly choose: string | null
  /** A number that no position bears, or why the value cannot be chosen. */
  readonly remark: string | null
  readonly question: SettingQuestion | null
  /** "2 s on 2026-01-20 by Bench 2" where it was set already. */
  readonly asSet: string | null
  readonly asFound: string | null
}

export interface SheetBank {
  readonly name: string
  /** Every combination with its meaning. */
  readonly rows: readonly { readonly when: string; readonly meaning: string; readonly choose: boolean }[]
  /** What the chosen positions come to, or why that is not known. */
  readonly comesTo: string
}

export interface SheetFitting {
  readonly tag: string
  readonly part: string | null
  readonly model: string | null
  readonly serial: string | null
  readonly lines: readonly SheetLine[]
  readonly banks: readonly SheetBank[]
}

export interface SettingSheet {
  readonly openingId: string
  readonly mark: string
  /** Fittings that have something to set. */
  readonly fittings: readonly SheetFitting[]
  readonly questions: readonly SettingQuestion[]
}

/** The sheet of one opening, or null where the opening is gone. */
export function settingSheet(
  data: JobData,
  openingId: string,
  book: PartBook = partBook(data),
): SettingSheet | null {
  const opening = data.get('opening', openingId)
  if (opening === undefined) return null
  const fittings = settingsOf(data, { openingId }, book)
    .filter((each) => each.settings.length > 0)
    .map(sheetFitting)
  return {
    openingId,
    mark: opening.mark,
    fittings,
    questions: fittings.flatMap(({ lines }) => lines.flatMap(({ question }) => question ?? [])),
  }
}

const sheetFitting = (of: FittingSettings): SheetFitting => ({
  tag: of.tag,
  part: of.partName,
  model: of.partModel,
  serial: of.serial,
  lines: of.settings.map(sheetLine),
  banks: of.banks.map(({ bank, readings }) => ({
    name: bank.name,
    rows: bank.rows.map((row) => ({
      when: Object.entries(row.when)
        .map(([name, position]) => `${name} ${position}`)
        .join(', '),
      meaning: row.meaning,
      choose: readings.designed.state === 'chosen' && readings.designed.rowId === row.id,
    })),
    comesTo: bankWords(readings.designed),
  })),
})

function sheetLine({ setting, designed, set, found }: SettingState): SheetLine {
  const choose = designed.known && designed.problem === null ? designed.value : null
  const marked = setting.positions.some(({ name }) => name === choose)
  const remark = !designed.known
    ? null
    : (designed.problem ??
      (marked || setting.positions.length === 0 ? null : `Set to ${designed.value}, which has no mark.`))
  return {
    settingId: setting.id,
    setting: setting.name,
    form: setting.form,
    unit: setting.unit,
    notes: setting.notes,
    positions: setting.positions.map(({ name, meaning, factory }) => ({
      name,
      meaning,
      factory,
      choose: name === choose,
    })),
    choose,
    remark,
    question: designed.known ? null : designed.question,
    asSet: set.known ? `${set.value}${whenAndWho(set)}` : null,
    asFound: found.known ? `${found.value}${whenAndWho(found)}` : null,
  }
}
