import type { ConditionResult } from '../../behaviour/index.ts'
import { isArranged } from '../arrangement.ts'
import { all, no, within, yes, type Check } from '../checks.ts'
import { hasManualRelease } from '../held.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { contactSteps, unknownPassage, wayOut, type OpeningView } from '../view.ts'

export const manualReleaseTime: Rule = {
  key: 'manual-release-time',
  sentence: 'Once pressed, the manual release keeps the door free for at least 30 seconds.',
  severity: 'breaks a rule',
  citations: [ibcSections.sensorRelease, nfpa101Sections.sensorRelease],
  content: readIn('S5', 'S2', 'S3'),
  leftToReader: ['The time as set and as found on site.', localAmendments],
  gives: allVerdicts,
  applies: (view) => all(isArranged(view.arrangement, 'sensor release'), hasManualRelease(view)),
  asks: (view) =>
    (view.conditions.get('manual release') ?? []).map((result) => staysLongEnough(view, result)),
}

const leastSeconds = 30

function staysLongEnough({ facts }: OpeningView, result: ConditionResult): Check {
  const out = wayOut(result)
  // Whether it frees the door is not known, so neither is for how long.
  if (out.form === 'not known') return unknownPassage(out)
  const own = contactSteps(out).find(({ device }) => device.id === result.condition.of?.id)
  const howLong = own?.howLong ?? null
  if (howLong === 'until reset') return yes
  const words = (seconds: number): string =>
    `The door is free for ${seconds} s; at least ${leastSeconds} s expected.`
  if (howLong === null) return within(facts, 'manual-release-seconds', { atLeast: leastSeconds }, words)
  return howLong.seconds >= leastSeconds ? yes : no(words(howLong.seconds))
}
