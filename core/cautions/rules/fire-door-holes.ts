import type { Facts } from '../answers.ts'
import { anyOf, lacks, says, within, yes, type Check } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'

export const fireDoorHoles: Rule = {
  key: 'fire-door-holes',
  sentence:
    'On site a labelled door or frame takes holes for surface hardware, round holes of at most 1 in., and function holes; more needs the listing laboratory first.',
  severity: 'breaks a rule',
  citations: [standardSections.jobSiteHoles],
  content: readIn('S56', 'S57', 'S58', 'S59'),
  leftToReader: [listingDocuments, 'Cylinder holes may be of any size needed. Undercut at most 3/4 in.'],
  gives: allVerdicts,
  applies: ({ facts }) => within(facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
  asks: ({ facts }) => [isWithinJobSite(facts)],
}

function isWithinJobSite(facts: Facts): Check {
  const holes = facts.answer('field-holes')
  if (!holes.known) return lacks('field-holes')
  switch (holes.value) {
    case 'none':
    case 'function holes':
    case 'larger holes allowed by both listings':
      return yes
    case 'round holes':
      return anyOf(
        'A round hole of more than 1 in. was drilled on site without approval.',
        within(facts, 'largest-field-hole', { atMost: 1 }, () => 'no'),
        says(facts, 'field-change-approved', 'no'),
      )
    case 'cut pockets':
      return says(
        facts,
        'field-change-approved',
        'Cutting a pocket on site changes the labelled door or frame; the listing laboratory has not approved it.',
      )
  }
}
