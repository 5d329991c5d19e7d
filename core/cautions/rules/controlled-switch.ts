import { isArranged, mustLetGo } from '../arrangement.ts'
import { all, says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'
import { breaksItself } from '../view.ts'

export const controlledSwitch: Rule = {
  key: 'controlled-switch',
  sentence:
    'A switch at the fire command centre, a nursing station or another approved place breaks the power of the lock itself.',
  severity: 'can trap someone',
  citations: [ibcSections.controlledEgress],
  content: readIn('S5', 'S32', 'S33'),
  leftToReader: ['Which places are approved.', localAmendments],
  gives: allVerdicts,
  applies: (view) => all(isArranged(view.arrangement, 'staff-controlled'), mustLetGo(view)),
  asks: (view) => [
    ...(view.conditions.get('staff release') ?? []).map((result) =>
      breaksItself(
        result,
        result.condition.of?.id ?? '',
        `${result.condition.of?.name ?? 'The switch'} only asks; it does not break the power itself.`,
      ),
    ),
    says(view.facts, 'staff-switch-approved-place', 'The switch is not at an approved place.'),
  ],
}
