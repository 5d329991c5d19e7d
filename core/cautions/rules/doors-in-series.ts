import type { Facts } from '../answers.ts'
import { all, lacks, no, says, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const doorsInSeries: Rule = {
  key: 'doors-in-series',
  sentence:
    'Two doors in series stand at least 48 in. apart, plus the width of a leaf that swings between them.',
  severity: 'breaks a rule',
  citations: [ibcSections.doorsInSeries],
  content: readBut('The section number is from memory.', 'S5'),
  leftToReader: [
    'Doors of dwelling units and storm doors; accessibility asks for turning space.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: ({ facts }) => says(facts, 'doors-in-series', 'No second door follows.'),
  asks: ({ facts }) => [isFarEnough(facts)],
}

function isFarEnough(facts: Facts): Check {
  const space = facts.answer('series-clear-space')
  const swing = facts.answer('series-swing')
  if (space.known && space.value < 48)
    return no(`The doors are ${space.value} in. apart; at least 48 in. expected.`)
  if (!space.known)
    return swing.known ? lacks('series-clear-space') : all(lacks('series-clear-space'), lacks('series-swing'))
  if (!swing.known) return lacks('series-swing')
  const wanted = 48 + swing.value
  return space.value >= wanted
    ? yes
    : no(
        `The doors are ${space.value} in. apart; at least ${wanted} in. expected with a leaf of ${swing.value} in. between.`,
      )
}
