// Words that the screen and paper share about cautions.
import type { CautionInFull, QuestionAsked, Severity } from '../cautions/index.ts'
import { expectedWords } from '../cautions/index.ts'

/** What hangs on a rule, as a heading. */
export const severityWords: Readonly<Record<Severity, string>> = {
  'can trap someone': 'Can trap someone',
  'breaks a rule': 'Breaks a rule',
  ask: 'Ask',
}

/** Marks in a row, cut short after so many: "101, 102, 103 and 37 more". */
export function marksWords(marks: readonly string[], most: number): string {
  const shown = marks.slice(0, most).join(', ')
  return marks.length > most ? `${shown} and ${marks.length - most} more` : shown
}

/** How a question is answered: its form, or that the drawing or the catalogue answers it. */
export const howAnswered = ({ answer }: Pick<QuestionAsked, 'answer'>): string =>
  answer === null
    ? 'answered by completing the fittings, parts or wiring'
    : expectedWords(answer).replace(/^expected /, '')

/** Why rules do not apply, each reason once with how many rules it spares. */
export function sparedBy(
  lines: readonly Pick<CautionInFull, 'verdict' | 'sentences'>[],
): readonly { readonly reason: string; readonly rules: number }[] {
  const found = new Map<string, number>()
  for (const { verdict, sentences } of lines)
    if (verdict === 'does not apply') {
      const reason = sentences.join(' ')
      found.set(reason, (found.get(reason) ?? 0) + 1)
    }
  return [...found]
    .map(([reason, rules]) => ({ reason, rules }))
    .toSorted((one, other) => other.rules - one.rules)
}

const editionWords = (code: string, edition: string | null): string =>
  edition === null
    ? `${code}: nobody has said`
    : edition === 'none'
      ? `${code} does not apply`
      : `${code} ${edition}`

/** The codes and editions in force, in few words: "IBC 2021; NFPA 101: nobody has said". */
export const codeWords = ({
  ibc,
  nfpa101,
}: {
  readonly ibc: string | null
  readonly nfpa101: string | null
}): string => `${editionWords('IBC', ibc)}; ${editionWords('NFPA 101', nfpa101)}`
