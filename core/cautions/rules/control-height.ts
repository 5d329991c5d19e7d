import { anyOf, no, unknown, within, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, remembered, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import { noFittings, type OpeningView } from '../view.ts'

export const controlHeight: Rule = {
  key: 'control-height',
  sentence: 'Readers and buttons are 15 to 48 in. above the floor.',
  severity: 'ask',
  citations: [standardSections.adaReach],
  content: remembered('Reach without anything in the way.'),
  leftToReader: [
    'Reach over an obstruction is less; the manual release of a sensor release has limits of its own.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: (view) => hasControls(view),
  asks: ({ facts }) => [
    within(
      facts,
      'control-height',
      { atLeast: 15, atMost: 48 },
      (inches) => `A reader or button is ${inches} in. above the floor; 15 to 48 in. expected (from memory).`,
    ),
  ],
}

function hasControls({ fittings }: OpeningView): Check {
  if (fittings === null) return noFittings
  const checks = fittings.map(({ name, worked }) => {
    if (worked === 'not known') return unknown({ about: 'trait', fitting: name, trait: 'how it is worked' })
    return worked === 'press' || worked === 'credential' || worked === 'key' ? yes : no('no')
  })
  return anyOf('It has no reader and no button.', ...checks)
}
