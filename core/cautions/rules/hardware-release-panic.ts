import { isArranged } from '../arrangement.ts'
import { all, anyOf, no, yes, type Check } from '../checks.ts'
import { hasPanicHardware, panicRequiredByIbc, panicRequiredByNfpa101 } from '../panic.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { notWorkedOut, opensAtOnce, wayOut, type OpeningView } from '../view.ts'

export const hardwareReleasePanic: Rule = {
  key: 'hardware-release-panic',
  sentence: 'Where panic hardware is required, working it also releases the electric lock.',
  severity: 'can trap someone',
  citations: [ibcSections.hardwareRelease, nfpa101Sections.hardwareRelease],
  content: readIn('S6', 'S15'),
  leftToReader: ['Whether the panic hardware and its switch are listed together.', localAmendments],
  gives: allVerdicts,
  applies: (view) =>
    all(
      isArranged(view.arrangement, 'release by hardware'),
      anyOf('Panic hardware is not required here.', panicRequiredByIbc(view), panicRequiredByNfpa101(view)),
    ),
  asks: (view) => [hasPanicHardware(view), panicReleases(view)],
}

/** The motion that lets people out must be that of the exit device. */
function panicReleases(view: OpeningView): Check {
  const [secured] = view.conditions.get('secured') ?? []
  if (secured === undefined) return notWorkedOut('secured')
  const out = wayOut(secured)
  if (out.form !== 'free by hardware') return opensAtOnce(out, 'The way out is held.')
  return out.by.every(({ motion }) => motion === 'exit device')
    ? yes
    : no('The lock is released by other hardware than the panic hardware.')
}
