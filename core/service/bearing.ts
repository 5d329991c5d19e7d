// Which settings bear on a symptom: by what they were declared to change, else by what they are called.
import type { SettingsHere } from './scene.ts'
import type { Symptom } from './symptoms.ts'

const byEffect: Readonly<Record<string, readonly Symptom[]>> = {
  'lasts seconds': ['relocks late', 'will not lock'],
  'delay seconds': ['will not release'],
  engaged: ['will not lock', 'will not release', 'dead'],
  'without power': ['will not lock', 'will not release', 'dead'],
  'turned round': ['will not lock', 'will not release', 'alarm when opened'],
}

/** Names of settings whose parts declare nothing for them. Common practice, no source. */
const byName: readonly (readonly [RegExp, readonly Symptom[]])[] = [
  [/relock|relatch|throw delay|unlock time|hold open/i, ['relocks late', 'will not lock']],
  [/voltage/i, ['weak hold', 'dead', 'will not lock']],
  [/return|rearm|reset|dogging/i, ['will not lock']],
  [/\b(tries|retry)\b/i, ['will not lock', 'forced alarm']],
  [/exit switch/i, ['alarm when opened']],
  [/^inputs?$/i, ['alarm when opened', 'forced alarm']],
  [/address|speaks/i, ['will not release', 'dead']],
  [/outputs on alarm/i, ['will not lock', 'dead']],
  [/spring|closing|latching/i, ['will not lock', 'relocks late', 'forced alarm']],
]

/** Whether a setting, or a bank of settings, bears on a symptom. */
export function bearsOn(symptom: Symptom, { effects }: SettingsHere, name: string): boolean {
  const declared = effects.filter(({ of }) => ('setting' in of ? of.setting : of.bank) === name)
  if (declared.length > 0)
    return declared.some(({ changes }) => byEffect[changes]?.includes(symptom) === true)
  return byName.some(([words, bearing]) => words.test(name) && bearing.includes(symptom))
}

/** Whether it says for how long something stays released. */
export const isTime = (here: SettingsHere, name: string): boolean => bearsOn('relocks late', here, name)
