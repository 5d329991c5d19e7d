import { isArranged } from '../arrangement.ts'
import { anyOf, isOne, within, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { notWorkedOut, secondsOf, unknownPassage, wayOut, type OpeningView } from '../view.ts'

export const delayedSign: Rule = {
  key: 'delayed-sign',
  sentence:
    'A sign above the hardware, within 12 in. of it, says to push (or pull) until the alarm sounds and names the seconds.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress, nfpa101Sections.delayedEgress],
  content: readBut('The 12 in. are of the IBC alone.', 'S5', 'S4', 'S43'),
  leftToReader: [
    'Visual characters to A117.1; in group I a clinical exception where approved.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: (view) => [
    saysSeconds(view),
    anyOf(
      'The sign is more than 12 in. above the hardware.',
      isOne(view.facts, 'ibc-edition', ['none'], 'no'),
      within(view.facts, 'delay-sign-distance', { atMost: 12 }, () => 'no'),
    ),
  ],
}

/** The sign must name the seconds that the door takes. */
function saysSeconds({ facts, conditions }: OpeningView): Check {
  const known = isOne(
    facts,
    'delay-sign',
    ['15 SECONDS', '30 SECONDS'],
    'The sign has other words, or there is none.',
  )
  if (known.is !== 'yes') return known
  const [secured] = conditions.get('secured') ?? []
  if (secured === undefined) return notWorkedOut('secured')
  const seconds = secondsOf(secured)
  if (seconds === null) return unknownPassage(wayOut(secured))
  const wanted = seconds <= 15 ? '15 SECONDS' : '30 SECONDS'
  return isOne(
    facts,
    'delay-sign',
    [wanted],
    `The sign does not say ${wanted}, as the delay of ${seconds} s asks.`,
  )
}
