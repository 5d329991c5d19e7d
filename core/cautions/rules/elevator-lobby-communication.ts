import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const elevatorLobbyCommunication: Rule = {
  key: 'elevator-lobby-communication',
  sentence: 'There is two-way communication in the elevator lobby.',
  severity: 'can trap someone',
  citations: [ibcSections.elevatorLobby, nfpa101Sections.elevatorLobby],
  content: readBut(
    'That it reaches a point where somebody always is, and its place in the 2024 IBC, are from memory.',
    'S49',
    'S38',
    'S21',
  ),
  leftToReader: ['Who answers, and when.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'elevator lobby'),
  asks: ({ facts }) => [
    says(facts, 'lobby-communication', 'There is no two-way communication in the lobby.'),
  ],
}
