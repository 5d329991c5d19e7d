import { isArranged } from '../arrangement.ts'
import { no, says, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { notWorkedOut, secondsOf, unknownPassage, wayOut, type OpeningView } from '../view.ts'

export const delayedTime: Rule = {
  key: 'delayed-time',
  sentence: 'The door opens within 15 seconds, or within 30 where that is approved.',
  severity: 'can trap someone',
  citations: [ibcSections.delayedEgress, nfpa101Sections.delayedEgress],
  content: readIn('S7', 'S4', 'S43', 'S44', 'S92'),
  leftToReader: ['The time as found, which a person must take on site.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: (view) => [waitsNoLonger(view)],
}

function waitsNoLonger({ facts, conditions }: OpeningView): Check {
  const [secured] = conditions.get('secured') ?? []
  if (secured === undefined) return notWorkedOut('secured')
  const seconds = secondsOf(secured)
  if (seconds === null) return unknownPassage(wayOut(secured))
  if (seconds <= 15) return yes
  if (seconds > 30) return no(`The delay is ${seconds} s; at most 15 s expected, or 30 s where approved.`)
  return says(facts, 'delay-30-approved', `The delay is ${seconds} s, and more than 15 s is not approved.`)
}
