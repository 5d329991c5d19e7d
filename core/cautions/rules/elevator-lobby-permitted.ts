import { isArranged } from '../arrangement.ts'
import { anyOf, isOne, says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const elevatorLobbyPermitted: Rule = {
  key: 'elevator-lobby-permitted',
  sentence:
    'The door out of an elevator lobby may be locked only where the code has a section for it: the 2024 IBC, and NFPA 101 where the occupancy chapter permits.',
  severity: 'can trap someone',
  citations: [ibcSections.doorOperations, ibcSections.elevatorLobby, nfpa101Sections.elevatorLobby],
  content: readIn('S13', 'S12', 'S38', 'S49'),
  leftToReader: [
    'Before 2024 the lobby needs a free way out, or a delay where the group permits one.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'elevator lobby'),
  asks: ({ facts }) => [
    isOne(
      facts,
      'ibc-edition',
      ['none', '2024'],
      'The 2018 and 2021 IBC have no arrangement for a locked elevator lobby.',
    ),
    anyOf(
      'The occupancy chapter of NFPA 101 does not permit it here.',
      isOne(facts, 'nfpa-101-edition', ['none'], 'no'),
      says(facts, 'lobby-chapter-permits', 'no'),
    ),
  ],
}
