// A COBie workbook while it is filled: rows by sheet, names that are used once, and what is missing.
import { saysNothing } from '../job/index.ts'
import {
  cobieColumns,
  cobieRequired,
  cobieSheetNames,
  ownSystem,
  type CobieColumn,
  type CobieOpenList,
  type CobieSheetName,
} from './cobie-out-template.ts'
import { sameKey } from './understanding.ts'

export type CobieCell = string | number

export interface CobieSheet {
  readonly name: string
  readonly headings: readonly string[]
  readonly rows: readonly (readonly CobieCell[])[]
}

/** Something COBie asks for that the job does not say, or that had to be said otherwise. */
export interface CobieProblem {
  readonly sheet: CobieSheetName
  /** As a spreadsheet counts, the headings being row 1; null where there is no row. */
  readonly row: number | null
  readonly field: string
  readonly sentence: string
}

export type CobieValues<S extends CobieSheetName> = {
  readonly [C in Exclude<CobieColumn<S>, 'CreatedBy' | 'CreatedOn'>]?: CobieCell | null
}

/** What stands where nothing is known. */
export const notGiven = 'n/a'

/** An ISO instant or day as the rules want it: YYYY-MM-DDTHH:MM:SS, in UTC. */
export const cobieTime = (text: string): string =>
  text.length === 10 ? `${text}T00:00:00` : text.slice(0, 19)

export class CobieBook {
  readonly problems: CobieProblem[] = []
  readonly #rows = new Map<CobieSheetName, CobieCell[][]>(cobieSheetNames.map((name) => [name, []]))
  readonly #taken = new Map<CobieSheetName, Set<string>>()
  readonly #used = new Map<CobieOpenList, Set<string>>()
  readonly #createdBy: string
  readonly #createdOn: string

  constructor(createdBy: string, createdOn: string) {
    this.#createdBy = createdBy
    this.#createdOn = cobieTime(createdOn)
  }

  /** Adds a row; what is left out or null becomes "n/a", and a problem where COBie wants more. Gives the row's number. */
  add<S extends CobieSheetName>(sheet: S, values: CobieValues<S>): number {
    const rows = this.#rows.get(sheet) ?? []
    const number = rows.length + 2
    const given = values as Readonly<Record<string, CobieCell | null | undefined>>
    const required = (cobieRequired[sheet] ?? {}) as Readonly<Record<string, string | undefined>>
    const named = given[sheet === 'Contact' ? 'Email' : 'Name'] ?? number
    rows.push(
      cobieColumns[sheet].map((column) => {
        if (column === 'CreatedBy') return this.#createdBy
        if (column === 'CreatedOn') return this.#createdOn
        const value = given[column]
        const text = typeof value === 'string' ? value.trim() : value
        if (text !== undefined && text !== null && text !== '' && text !== notGiven) return text
        const expected = required[column]
        if (expected !== undefined)
          this.say(sheet, number, column, `${sheet} "${named}", ${column}: not known; expected ${expected}.`)
        return notGiven
      }),
    )
    return number
  }

  say(sheet: CobieSheetName, row: number | null, field: string, sentence: string): void {
    this.problems.push({ sheet, row, field, sentence })
  }

  /**
   * A name that no other row of the sheet has, whatever the case: as wanted, else with a hint, else with a number. Names that
   * stand in lists hold no comma, for commas part the names of a list.
   */
  name(sheet: CobieSheetName, wanted: string, hint: string | null = null): string {
    const taken = this.#taken.get(sheet) ?? new Set()
    this.#taken.set(sheet, taken)
    const inLists = sheet === 'Space' || sheet === 'Component'
    const clean = (inLists ? wanted.replaceAll(',', ';') : wanted).trim().replace(/\s+/g, ' ')
    const empty = inLists ? saysNothing(clean) : clean === '' || sameKey(clean) === notGiven
    const base = empty ? `${sheet} ${clean}`.trim() : clean
    const hinted = hint === null ? base : `${base} (${inLists ? hint.replaceAll(',', ';') : hint})`
    let name = taken.has(sameKey(base)) ? hinted : base
    for (let copy = 2; taken.has(sameKey(name)); copy += 1) name = `${hinted} (${copy})`
    taken.add(sameKey(name))
    return name
  }

  /** A value of a list that the project chooses; the workbook lists it. */
  pick(list: CobieOpenList, value: string | null): string | null {
    if (value === null || value.trim() === '') return null
    const used = this.#used.get(list) ?? new Set()
    this.#used.set(list, used.add(value.trim()))
    return value.trim()
  }

  used(list: CobieOpenList): readonly string[] {
    return [...(this.#used.get(list) ?? [])]
  }

  sheet(name: CobieSheetName): CobieSheet {
    return { name, headings: cobieColumns[name], rows: this.#rows.get(name) ?? [] }
  }
}

/** The external columns of something that came in with an identifier, or that has only ours. */
export const externalOf = (
  object: string,
  sourceId: string | null,
  id: string,
): { ExtSystem: string | null; ExtObject: string; ExtIdentifier: string } => ({
  ExtSystem: sourceId === null ? ownSystem : null,
  ExtObject: object,
  ExtIdentifier: sourceId ?? id,
})
