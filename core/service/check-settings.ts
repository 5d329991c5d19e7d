// Settings to look at: those that stand otherwise than designed first, then those that decide the symptom.
import { bankWords, numberIn, type BankState, type SettingState } from '../settings/index.ts'
import { bearsOn, isTime } from './bearing.ts'
import type { Draft, Evidence } from './check.ts'
import type { Scene, SettingsHere } from './scene.ts'
import type { Symptom } from './symptoms.ts'

export function settingDrafts({ settings }: Scene, symptom: Symptom): Draft[] {
  return settings.flatMap((here) => {
    const inBanks = new Set(here.fitting.banks.flatMap(({ bank }) => bank.settings))
    return [
      ...here.fitting.settings
        .filter(({ setting }) => !inBanks.has(setting.name))
        .flatMap((state) => settingDraft(here, state, symptom)),
      ...here.fitting.banks.flatMap((bank) => bankDraft(here, bank, symptom)),
    ]
  })
}

const formWords = { jumper: 'jumper', switch: 'switch', dial: 'dial', parameter: 'parameter' } as const

/** What matters where nothing differs: the times for what relocks late; else only what somebody must once have set. */
const usualPoints: Readonly<Record<Symptom, number>> = {
  'will not lock': 30,
  'will not release': 32,
  'relocks late': 60,
  'alarm when opened': 34,
  dead: 20,
  'weak hold': 42,
  'forced alarm': 26,
}

function settingDraft(here: SettingsHere, state: SettingState, symptom: Symptom): Draft[] {
  const { fitting } = here
  const { setting, designed, standing, differences } = state
  const bears = bearsOn(symptom, here, setting.name)
  const differs = differences.length > 0
  if (!bears && !differs) return []
  const unit = setting.unit
  const [now, then] = [standing, designed].map((each) => (each.known ? numberIn(each.value, unit) : null))
  const evidence: Evidence[] = []
  if (differs)
    evidence.push({
      points: bears ? 90 : 4,
      words: bears
        ? `${differences[0]?.words ?? ''} It bears on this.`
        : `${differences[0]?.words ?? ''} It is not known to bear on this.`,
    })
  const timed = symptom === 'relocks late' && isTime(here, setting.name)
  const seconds = now ?? then ?? null
  if (!differs && timed && seconds !== null) evidence.push(timeEvidence(here, seconds, unit))
  if (!standing.known && bears)
    evidence.push({ points: 8, words: `Nobody noted how ${setting.name} of ${fitting.tag} was set.` })
  const chosen = designed.known ? setting.positions.find(({ name }) => name === designed.value) : undefined
  return [
    {
      key: `setting ${fitting.tag} ${setting.id}`,
      form: 'setting',
      look: `Look at ${formWords[setting.form]} ${setting.name} of ${fitting.tag}${fitting.partName === null ? '' : `, ${fitting.partName}`}.`,
      at: `${fitting.tag}, ${formWords[setting.form]} ${setting.name}`,
      expected: designed.known
        ? [designed.value, chosen?.meaning].filter((each) => each != null).join(', ')
        : null,
      question: designed.known ? null : (designed.question?.words ?? null),
      last: standing.known ? `noted last ${standing.value}${noted(standing)}` : null,
      usual: {
        points: bears ? usualPoints[symptom] : 2,
        words: `${setting.name} of ${fitting.tag} decides here, and it stands as designed.`,
      },
      evidence,
      otherwise: designed.known
        ? `Note it as found. If it is meant to be so, ask for the design to follow; else put it back to ${designed.value} and try again.`
        : 'Note it as found, and ask the project manager where it should be.',
      fittingId: fitting.fittingId,
    },
  ]
}

/** A long time counts more; one that runs only after an emergency is seldom the one. */
function timeEvidence({ workedAs, fitting }: SettingsHere, seconds: number, unit: string | null): Evidence {
  const words = `It keeps the door released for ${seconds} ${unit ?? ''} by itself`
  return workedAs === 'manual release'
    ? { points: -20, words: `${words}, but only after ${fitting.tag} was pressed.` }
    : { points: Math.min(20, seconds), words: `${words}.` }
}

const noted = ({ who, at }: { readonly who: string | null; readonly at: string | null }): string => {
  const words = [who, at?.slice(0, 10)].filter((each) => each != null)
  return words.length === 0 ? '' : ` (${words.join(', ')})`
}

function bankDraft(here: SettingsHere, { bank, readings, differs }: BankState, symptom: Symptom): Draft[] {
  const { fitting } = here
  const bears = bearsOn(symptom, here, bank.name)
  if (!bears && differs === null) return []
  const { designed, standing } = readings
  const switches = bank.settings.join(' and ')
  const row = designed.state === 'chosen' ? bank.rows.find(({ id }) => id === designed.rowId) : undefined
  const positions = Object.entries(row?.when ?? {})
    .map(([name, position]) => `${name} ${position}`)
    .join(', ')
  const evidence: Evidence[] = []
  if (differs !== null)
    evidence.push({
      points: bears ? 90 : 4,
      words: `${differs} ${bears ? 'It bears on this.' : 'It is not known to bear on this.'}`,
    })
  else if (standing.state === 'not known')
    evidence.push({ points: 8, words: `Nobody noted how ${switches} of ${fitting.tag} were set.` })
  return [
    {
      key: `bank ${fitting.tag} ${bank.id}`,
      form: 'setting',
      look: `Look at ${switches} of ${fitting.tag}; together they choose ${bank.name}.`,
      at: `${fitting.tag}, ${switches}`,
      expected: designed.state === 'chosen' ? `${positions}: ${designed.meaning}` : null,
      question: designed.state === 'chosen' ? null : bankWords(designed),
      last: standing.state === 'chosen' ? `noted last: ${standing.meaning}` : null,
      usual: {
        points: bears ? usualPoints[symptom] + 2 : 2,
        words: `${bank.name} of ${fitting.tag} decides here, and it stands as designed.`,
      },
      evidence,
      otherwise: `Note each switch as found, then put them back${positions === '' ? '' : ` to ${positions}`} and try again.`,
      fittingId: fitting.fittingId,
    },
  ]
}
