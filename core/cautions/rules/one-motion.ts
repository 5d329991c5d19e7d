import { no, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { notWorkedOut, unknownPassage, wayOut, type OpeningView } from '../view.ts'

export const oneMotion: Rule = {
  key: 'one-motion',
  sentence: 'One motion lets people out.',
  severity: 'can trap someone',
  citations: [ibcSections.unlatching, nfpa101Sections.unlatching],
  content: readIn('S5', 'S23', 'S7'),
  leftToReader: [
    'Dwelling and sleeping units, permitted bolts, and a second motion on some existing classroom doors.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: (view) => needsHardware(view),
  asks: (view) => [isOneMotion(view)],
}

function needsHardware({ conditions }: OpeningView): Check {
  const [secured] = conditions.get('secured') ?? []
  if (secured === undefined) return notWorkedOut('secured')
  const out = wayOut(secured)
  if (out.form === 'not known')
    return out.atBest.form === 'free' || out.atWorst.form === 'held' ? unknownPassage(out) : yes
  return out.form === 'free' || out.form === 'held' ? no('No hardware is worked to get out.') : yes
}

function isOneMotion({ conditions }: OpeningView): Check {
  const [secured] = conditions.get('secured') ?? []
  if (secured === undefined) return notWorkedOut('secured')
  const out = wayOut(secured)
  if (out.form === 'not known') return unknownPassage(out)
  if (out.form === 'free' || out.form === 'held' || out.by.length <= 1) return yes
  return no(`Getting out takes ${out.by.length} motions: ${out.by.map(({ name }) => name).join(', ')}.`)
}
