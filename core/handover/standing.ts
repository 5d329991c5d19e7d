import { counted } from '../job/index.ts'
// What stands between a job as it is now and a sealed issue, in sentences. Nothing is worked out here.

export interface OpeningNamed {
  readonly id: string
  readonly mark: string
}

export interface StandingFacts {
  readonly openings: number
  readonly notProved: readonly OpeningNamed[]
  readonly failed: readonly OpeningNamed[]
  readonly stale: readonly OpeningNamed[]
  /** Steps that cannot be passed, because facts are missing. */
  readonly cannotBeProved: readonly OpeningNamed[]
  readonly canTrap: readonly OpeningNamed[]
  readonly breaksRule: readonly OpeningNamed[]
  /** Questions that rules wait for, each counted once however many openings wait. */
  readonly questions: number
  /** Devices outside the volts they work with: "118 M1". */
  readonly lowDevices: readonly { readonly name: string; readonly openingId: string | null }[]
  /** Supplies whose volts, load or battery are not met. */
  readonly suppliesNotMet: readonly { readonly id: string; readonly mark: string }[]
  /** Outputs and batteries that cannot be worked out for want of facts. */
  readonly suppliesNotKnown: readonly { readonly id: string; readonly mark: string }[]
  readonly openFindings: readonly { readonly words: string; readonly mark: string | null }[]
  readonly serialsMissing: { readonly fittings: number; readonly openings: readonly OpeningNamed[] }
  readonly installedNotKnown: readonly OpeningNamed[]
  /** What nobody is named to sign for yet. */
  readonly signaturesMissing: readonly ('training' | 'acceptance')[]
  /** People named to sign who have not. */
  readonly unsigned: readonly string[]
  readonly buildingCode: string | null
  /** Whether anybody bears an e-mail address: the open workbook names who made it by one. */
  readonly hasEmail: boolean
}

/** The sheet of the program that mends it. */
export type StandingSheet = 'proving' | 'cautions' | 'power' | 'schedule' | 'handover' | 'job'

export interface StandingLine {
  readonly key: string
  /** `stop`: somebody could be hurt, or a test failed; sealing asks first. */
  readonly weight: 'stop' | 'question' | 'told'
  readonly sentence: string
  readonly openings: readonly OpeningNamed[]
  readonly sheet: StandingSheet
}

const openingsWords = (list: readonly unknown[], one: string, many: string): string =>
  counted(list.length, `opening ${one}`, `openings ${many}`)

/** What could hurt somebody first. Empty where nothing stands in the way. */
export function standingLines(facts: StandingFacts): readonly StandingLine[] {
  const lines: StandingLine[] = []
  const say = (
    key: string,
    weight: StandingLine['weight'],
    sheet: StandingSheet,
    sentence: string,
    openings: readonly OpeningNamed[] = [],
  ): void => {
    lines.push({ key, weight, sheet, sentence, openings })
  }
  const about = (
    list: readonly OpeningNamed[],
    key: string,
    weight: StandingLine['weight'],
    sheet: StandingSheet,
    one: string,
    many: string,
  ): void => {
    if (list.length > 0) say(key, weight, sheet, `${openingsWords(list, one, many)}.`, list)
  }
  about(facts.canTrap, 'can trap', 'stop', 'cautions', 'can trap someone', 'can trap someone')
  about(facts.failed, 'failed', 'stop', 'proving', 'has a failed step', 'have failed steps')
  about(facts.breaksRule, 'breaks', 'question', 'cautions', 'breaks a rule', 'break a rule')
  if (facts.lowDevices.length > 0) {
    const names = facts.lowDevices.map(({ name }) => name)
    const shown = names.slice(0, 6).join(', ')
    const more = names.length > 6 ? ` and ${names.length - 6} more` : ''
    say(
      'volts',
      'question',
      'power',
      `${counted(names.length, 'device does', 'devices do')} not have the volts to work with in the worst case: ${shown}${more}.`,
    )
  }
  const marks = (list: readonly { readonly mark: string }[]): string =>
    list.map(({ mark }) => mark).join(', ')
  if (facts.suppliesNotMet.length > 0)
    say(
      'supplies',
      'question',
      'power',
      `Volts, load or battery of ${marks(facts.suppliesNotMet)} are not met.`,
    )
  if (facts.suppliesNotKnown.length > 0)
    say(
      'supplies not known',
      'question',
      'power',
      `${marks(facts.suppliesNotKnown)} cannot be worked out in full; facts are missing.`,
    )
  about(
    facts.stale,
    'stale',
    'question',
    'proving',
    'is no longer as it was proved',
    'are no longer as they were proved',
  )
  about(facts.notProved, 'not proved', 'question', 'proving', 'is not proved', 'are not proved')
  about(
    facts.cannotBeProved,
    'cannot be proved',
    'question',
    'proving',
    'has steps that wait for facts',
    'have steps that wait for facts',
  )
  if (facts.openFindings.length > 0)
    say(
      'findings',
      'question',
      'proving',
      `${counted(facts.openFindings.length, 'finding is', 'findings are')} open.`,
    )
  if (facts.questions > 0)
    say(
      'questions',
      'question',
      'cautions',
      `${counted(facts.questions, 'question is', 'questions are')} open.`,
    )
  if (facts.buildingCode === null)
    say('code', 'question', 'cautions', 'Nobody has said which building code is in force.')
  const { fittings, openings } = facts.serialsMissing
  if (fittings > 0)
    say(
      'serials',
      'told',
      'schedule',
      `${counted(fittings, 'fitting has', 'fittings have')} no serial number.`,
      openings,
    )
  about(
    facts.installedNotKnown,
    'installed',
    'told',
    'schedule',
    'has no day of installation, so its warranties have no end',
    'have no day of installation, so their warranties have no end',
  )
  for (const what of facts.signaturesMissing)
    say(`signature ${what}`, 'told', 'handover', `Nobody is named to sign for ${what}.`)
  if (facts.unsigned.length > 0)
    say('unsigned', 'told', 'handover', `Not signed yet: ${facts.unsigned.join(', ')}.`)
  if (!facts.hasEmail)
    say(
      'e-mail',
      'told',
      'job',
      'No contact has an e-mail address. The open workbook names who made it by one, so it is left out.',
    )
  return lines
}

/** What has to be asked before sealing. */
export const mustAsk = (lines: readonly StandingLine[]): readonly string[] =>
  lines.filter(({ weight }) => weight === 'stop').map(({ sentence }) => sentence)
