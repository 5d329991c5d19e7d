import { isArranged } from '../arrangement.ts'
import { all, says, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { contactSteps, unknownPassage, wayOut, type OpeningView } from '../view.ts'

export const unlockedUntilReset: Rule = {
  key: 'unlocked-until-reset',
  sentence: 'What the fire alarm frees stays free until the alarm is reset.',
  severity: 'can trap someone',
  citations: [
    ibcSections.sensorRelease,
    nfpa101Sections.sensorRelease,
    nfpa101Sections.elevatorLobby,
    ibcSections.elevatorLobby,
  ],
  content: readIn('S5', 'S2', 'S49'),
  leftToReader: ['How the fire alarm control unit is programmed, and who may reset it.', localAmendments],
  gives: allVerdicts,
  applies: (view) =>
    all(
      says(view.facts, 'fire-alarm', 'The building has no fire alarm.'),
      isArranged(view.arrangement, 'sensor release', 'elevator lobby'),
    ),
  asks: (view) => [staysUntilReset(view)],
}

/** The relay itself may stay until reset; otherwise the fire alarm's programming decides. */
function staysUntilReset(view: OpeningView): Check {
  const outs = (view.conditions.get('fire alarm') ?? []).map(wayOut)
  const byItself = outs
    .flatMap(contactSteps)
    .some(({ because, howLong }) => because.why === 'fire alarm' && howLong === 'until reset')
  const notTold = outs.find(({ form }) => form === 'not known')
  if (!byItself && notTold !== undefined) return unknownPassage(notTold)
  return byItself
    ? yes
    : says(view.facts, 'unlocked-until-reset', 'The locks hold again before the alarm is reset.')
}
