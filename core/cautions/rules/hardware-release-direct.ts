import { isArranged } from '../arrangement.ts'
import { no, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { contactSteps, notWorkedOut, outOpensIn, wayOut, type OpeningView } from '../view.ts'

export const hardwareReleaseDirect: Rule = {
  key: 'hardware-release-direct',
  sentence:
    'Working the hardware breaks the power itself and frees the door immediately, whatever the controller does.',
  severity: 'can trap someone',
  citations: [ibcSections.hardwareRelease, nfpa101Sections.hardwareRelease],
  content: readIn('S6', 'S15', 'S47'),
  leftToReader: [
    'Whether the switch in the hardware acts before the latch is drawn: seen on site.',
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: ({ arrangement }) => isArranged(arrangement, 'release by hardware'),
  asks: (view) => [
    breaksByItself(view),
    outOpensIn(view, 'controller silent', 'With a silent controller the hardware does not free the door.'),
  ],
}

/** A switch in the hardware that only asks the controller is no direct break, even where the controller answers. */
function breaksByItself({ conditions }: OpeningView): Check {
  const [secured] = conditions.get('secured') ?? []
  if (secured === undefined) return notWorkedOut('secured')
  const steps = contactSteps(wayOut(secured))
  return steps.some(({ because }) => because.why === 'motion')
    ? yes
    : no('The switch in the hardware only asks the controller; it does not break the power itself.')
}
