import { all, anyOf, not, says, within } from '../checks.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { nfpa101Sections } from '../sections.ts'
import { inOpensIn } from '../view.ts'

export const stairWayInNfpa101: Rule = {
  key: 'stair-way-in-nfpa-101',
  sentence:
    'Where a stair serves more than 4 stories, people can come back onto the floor, or the fire alarm unlocks its doors, or selected re-entry is accepted.',
  severity: 'can trap someone',
  citations: [nfpa101Sections.stairReEntry],
  content: readBut('The terms of selected re-entry are from memory.', 'S50', 'S24', 'S35'),
  leftToReader: ['Selected re-entry: which floors, and the signs at them.', localAmendments],
  gives: allVerdicts,
  applies: ({ facts }) =>
    all(
      says(facts, 'stair-door', 'It is no stair door.'),
      not(says(facts, 'stair-discharge', 'no'), 'It is the door through which the stair lets people out.'),
      // A stair cannot serve more stories than the building has; one answer then spares the question for each stair.
      within(
        facts,
        'stories',
        { above: 4 },
        (stories) => `The building has ${stories} stories, not more than 4.`,
      ),
      within(
        facts,
        'stair-stories',
        { above: 4 },
        (stories) => `The stair serves ${stories} stories, not more than 4.`,
      ),
    ),
  asks: (view) => [
    anyOf(
      'The stair side stays locked on fire alarm.',
      inOpensIn(view, 'secured', 'no'),
      inOpensIn(view, 'fire alarm', 'no'),
      says(view.facts, 'stair-selected-re-entry', 'no'),
    ),
  ],
}
