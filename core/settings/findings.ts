// What is not as it should be about settings, over the whole job. Nothing is a finding for not being known.
import type { JobData, JobRecord } from '../job/index.ts'
import type { SettingDifference } from './differences.ts'
import { partBook, type PartBook } from './part-settings.ts'
import { fittingSettings, type FittingSettings, type PlaceOfFitting } from './settings-of.ts'

export interface SettingFinding {
  readonly form:
    | 'differs'
    | 'no such value'
    | 'no such combination'
    /** Values are kept for another part than the one that is there. */
    | 'another part'
  readonly openingId: string | null
  readonly mark: string | null
  readonly fittingId: string | null
  readonly typicalFittingId: string | null
  readonly tag: string
  readonly settingId: string | null
  readonly bankId: string | null
  /** As a person would say it; the mark is not in it. */
  readonly words: string
  /** What banks that read this setting make of it. */
  readonly consequences: readonly string[]
  readonly since: SettingDifference['since'] | null
  readonly whoCanSettle: string
}

/**
 * Every finding of the job: by mark and tag, those of typicals last and once for each typical. Looks only at fittings
 * for which somebody noted a value, so a large job costs no more than what was noted.
 */
export function settingFindings(data: JobData, book: PartBook = partBook(data)): SettingFinding[] {
  const fittingIds = new Set<string>()
  const slotIds = new Set<string>()
  for (const { fittingId, typicalFittingId } of data.all('settingValue')) {
    if (fittingId !== null) fittingIds.add(fittingId)
    if (typicalFittingId !== null) slotIds.add(typicalFittingId)
  }
  const found: SettingFinding[] = []
  for (const id of fittingIds) {
    const fitting = data.get('fitting', id)
    const place = fitting === undefined ? null : placeOf(data, fitting)
    if (place !== null) found.push(...findingsOf(data, fittingSettings(data, book, place)))
  }
  for (const id of slotIds) {
    const slot = data.get('typicalFitting', id)
    if (slot === undefined) continue
    const { tag, partId } = slot
    const place = { openingId: null, fittingId: null, typicalFittingId: id, tag, partId, serial: null }
    found.push(...findingsOf(data, fittingSettings(data, book, place)))
  }
  return found.toSorted(inOrder)
}

/** The findings of the fittings of one opening, such as `settingsOf` gives them. */
export const findingsOfFittings = (data: JobData, fittings: readonly FittingSettings[]): SettingFinding[] =>
  fittings.flatMap((each) => findingsOf(data, each)).toSorted(inOrder)

/** As `effectiveFittings` sees this fitting, without the rest of its opening; null where it is left out. */
function placeOf(data: JobData, fitting: JobRecord<'fitting'>): PlaceOfFitting | null {
  if (fitting.leftOut) return null
  const opening = data.get('opening', fitting.openingId)
  const slot = data.get('typicalFitting', fitting.typicalFittingId ?? '')
  const follows = slot !== undefined && slot.typicalId === opening?.typicalId
  return {
    openingId: fitting.openingId,
    fittingId: fitting.id,
    typicalFittingId: follows ? slot.id : null,
    tag: fitting.tag ?? slot?.tag ?? '?',
    partId: fitting.partId ?? slot?.partId ?? null,
    serial: fitting.serial,
  }
}

function findingsOf(data: JobData, of: FittingSettings): SettingFinding[] {
  const { openingId, fittingId, typicalFittingId, tag } = of
  const core = {
    openingId,
    mark: openingId === null ? null : (data.get('opening', openingId)?.mark ?? null),
    fittingId,
    typicalFittingId,
    tag,
    settingId: null,
    bankId: null,
    consequences: [],
    since: null,
  }
  const found: SettingFinding[] = []
  for (const { setting, differences, designed, set, foundStands, found: asFound } of of.settings) {
    for (const { words, since, whoCanSettle } of differences) {
      const consequences = of.banks.flatMap(({ bank, differs }) =>
        differs !== null && bank.settings.includes(setting.name) ? [differs] : [],
      )
      found.push({
        ...core,
        form: 'differs',
        settingId: setting.id,
        words,
        since,
        whoCanSettle,
        consequences,
      })
    }
    // The typical's own finding says it once for all of its openings.
    const fromTypical = designed.known && designed.from === 'typical' && fittingId !== null
    for (const value of [fromTypical ? null : designed, set, foundStands ? asFound : null]) {
      if (value === null || !value.known || value.problem === null) continue
      found.push({
        ...core,
        form: 'no such value',
        settingId: setting.id,
        words: `${setting.name} of ${tag}: ${value.problem}`,
        whoCanSettle: value === designed ? 'the project manager' : (value.who ?? 'the project manager'),
      })
    }
  }
  for (const { bank, readings } of of.banks) {
    const said = new Set<string>()
    for (const stage of ['designed', 'standing'] as const) {
      const reading = readings[stage]
      if (reading.state !== 'no such combination' && reading.state !== 'two meanings') continue
      if (stage === 'designed' && fittingId !== null && isAllTypical(of, bank.settings)) continue
      if (said.has(reading.words)) continue
      said.add(reading.words)
      found.push({
        ...core,
        form: 'no such combination',
        bankId: bank.id,
        words: `${tag}: ${reading.words}`,
        whoCanSettle: 'the project manager, with the part’s instructions',
      })
    }
  }
  for (const stray of of.strays)
    found.push({
      ...core,
      form: 'another part',
      words: `${tag}: ${stray.settingName} is noted at ${stray.value} for ${stray.partName ?? 'a part that is gone'}; ${of.partName === null ? 'no part is chosen' : `the part here is ${of.partName}`}.`,
      whoCanSettle: 'the project manager',
    })
  return found
}

const isAllTypical = (of: FittingSettings, names: readonly string[]): boolean =>
  of.settings.every(
    ({ setting, designed }) =>
      !names.includes(setting.name) || (designed.known && designed.from === 'typical'),
  )

/** Marks as people count them: 9 before 10. Those without a mark, the typicals', last. */
function inOrder(one: SettingFinding, other: SettingFinding): number {
  if ((one.mark === null) !== (other.mark === null)) return one.mark === null ? 1 : -1
  return (
    comparer.compare(one.mark ?? '', other.mark ?? '') ||
    compared(one.openingId ?? '', other.openingId ?? '') ||
    comparer.compare(one.tag, other.tag) ||
    compared(one.typicalFittingId ?? '', other.typicalFittingId ?? '') ||
    compared(one.fittingId ?? '', other.fittingId ?? '') ||
    compared(
      `${one.settingId} ${one.bankId} ${one.words}`,
      `${other.settingId} ${other.bankId} ${other.words}`,
    )
  )
}

const comparer = new Intl.Collator('en', { numeric: true })
const compared = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)
