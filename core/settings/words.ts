// Small words and figures that the sentences of this folder share.
import type { Stage } from '../job/index.ts'

/** What is missing, as a person would ask it, and who can usually answer. */
export interface SettingQuestion {
  readonly words: string
  readonly whoCanSay: string
}

/** One line of a working: what is worked out, how, with which result and from where. */
export interface Step {
  readonly what: string
  readonly working: string
  readonly result: string
  /** The published source, or null for plain arithmetic. */
  readonly source: string | null
}

/** Up to this many significant figures, without trailing zeros. */
export const figure = (value: number, digits = 4): string => String(Number(value.toPrecision(digits)))

/** As a meter shows it: tenths below 1000 ohm, whole ohms above. */
export const ohmsText = (ohms: number): string =>
  `${ohms < 1000 ? Number(ohms.toFixed(1)) : Math.round(ohms)} ohm`

export const ohmsRangeText = (low: number, high: number): string =>
  ohmsText(low) === ohmsText(high)
    ? ohmsText(low)
    : `${ohmsText(low).replace(' ohm', '')} to ${ohmsText(high)}`

/** "2 s, 5 s or 10 s". */
export const eitherOf = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} or ${names.at(-1) ?? ''}`

/** " on 2026-01-20 by Bench 2", as far as it is known. The day is UTC's. */
export const whenAndWho = (noted: { readonly at: string | null; readonly who: string | null }): string =>
  `${noted.at === null ? '' : ` on ${noted.at.slice(0, 10)}`}${noted.who === null ? '' : ` by ${noted.who}`}`

export const stageWords: Readonly<Record<Stage, string>> = {
  designed: 'designed at',
  set: 'set to',
  found: 'found at',
}
