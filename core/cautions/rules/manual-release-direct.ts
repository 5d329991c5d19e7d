import { isArranged } from '../arrangement.ts'
import { no, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { breaksItself, opensAtOnce, wayOut, type OpeningView } from '../view.ts'

export const manualReleaseDirect: Rule = {
  key: 'manual-release-direct',
  sentence: 'A manual release breaks the power of the lock itself, with no other electronics between.',
  severity: 'can trap someone',
  citations: [ibcSections.sensorRelease, nfpa101Sections.sensorRelease],
  content: readIn('S5', 'S2', 'S3'),
  leftToReader: [
    'A relay between button and lock is judged here as part of the button; an inspector may judge otherwise.',
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: ({ arrangement }) => isArranged(arrangement, 'sensor release'),
  asks: (view) => breaksDirectly(view),
}

function breaksDirectly(view: OpeningView): readonly Check[] {
  const results = view.conditions.get('manual release') ?? []
  if (results.length === 0) return [no('No manual release is fitted.')]
  return results.map((result) => {
    const name = result.condition.of?.name ?? 'The manual release'
    const opens = opensAtOnce(wayOut(result), `${name} does not free the way out.`)
    if (opens.is !== 'yes') return opens
    return breaksItself(
      result,
      result.condition.of?.id ?? '',
      `${name} only asks; it does not break the power itself.`,
    )
  })
}
