// What several switches together choose, read from the bank's table.
import type { BankOfPart, RowOfBank } from './part-settings.ts'
import { eitherOf } from './words.ts'

export type BankReading =
  | { readonly state: 'chosen'; readonly meaning: string; readonly rowId: string }
  /** Every switch is known, and no row of the table has this combination. */
  | { readonly state: 'no such combination'; readonly words: string }
  /** Several rows have this combination and do not say the same. */
  | { readonly state: 'two meanings'; readonly words: string }
  /** Some switches are not known; what the others leave open. */
  | { readonly state: 'not known'; readonly missing: readonly string[]; readonly possible: readonly string[] }

/** A value by the name of its setting; null or left out is not known. Values are position names as the part has them. */
export type ValueOf = (setting: string) => string | null | undefined

/** Reads a bank. A row that leaves a switch out holds for each of its positions. */
export function readBank(bank: BankOfPart, valueOf: ValueOf): BankReading {
  const fits = (row: RowOfBank, whenMissing: boolean): boolean =>
    Object.entries(row.when).every(([name, wanted]) => {
      const value = bank.strangers.includes(name) ? null : valueOf(name)
      return value == null ? whenMissing : value === wanted
    })
  const sure = bank.rows.filter((row) => fits(row, false))
  const missing = bank.settings.filter((name) => valueOf(name) == null)
  const [row] = sure
  const meanings = [...new Set(sure.map((each) => each.meaning))]
  if (meanings.length > 1)
    return {
      state: 'two meanings',
      words: `The table of ${bank.name} says both ${meanings.join(' and ')} for ${combination(bank, valueOf)}.`,
    }
  // A row that fits for certain decides alone only when no other row could fit with the missing switches told.
  const open = bank.rows.filter((each) => fits(each, true))
  const possible = [...new Set(open.map((each) => each.meaning))]
  if (row !== undefined && possible.length === 1)
    return { state: 'chosen', meaning: row.meaning, rowId: row.id }
  if (missing.length > 0 || bank.strangers.length > 0)
    return { state: 'not known', missing: [...missing, ...bank.strangers], possible }
  return {
    state: 'no such combination',
    words: `The table of ${bank.name} has no row for ${combination(bank, valueOf)}.`,
  }
}

const combination = (bank: BankOfPart, valueOf: ValueOf): string =>
  bank.settings.map((name) => `${name} ${valueOf(name) ?? 'not known'}`).join(' and ')

/** The reading in a few words. */
export function bankWords(reading: BankReading): string {
  switch (reading.state) {
    case 'chosen':
      return reading.meaning
    case 'no such combination':
    case 'two meanings':
      return reading.words
    case 'not known':
      return `Not known without ${eitherOf(reading.missing).replace(' or ', ' and ')}.`
  }
}
