import { anyOf, isOne, says, within } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'

export const fireDoorRaceway: Rule = {
  key: 'fire-door-raceway',
  sentence:
    'A raceway for wire is drilled into a labelled door on site only where the listing laboratory permits.',
  severity: 'breaks a rule',
  citations: [standardSections.jobSiteHoles],
  content: readIn('S58'),
  leftToReader: [listingDocuments, 'Doors prepared by their maker are not meant.'],
  gives: allVerdicts,
  applies: ({ facts }) => within(facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
  asks: ({ facts }) => [
    anyOf(
      'A raceway was drilled on site, and the listing laboratory does not permit it.',
      isOne(facts, 'field-raceway', ['none', 'prepared by the door maker'], 'no'),
      says(facts, 'raceway-permitted', 'no'),
    ),
  ],
}
