import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const elevatorLobbyAlarm: Rule = {
  key: 'elevator-lobby-alarm',
  sentence:
    'Supervised sprinklers and lobby smoke detection start the alarm, and every alarm but a manual pull station frees the lobby door.',
  severity: 'can trap someone',
  citations: [ibcSections.elevatorLobby, nfpa101Sections.elevatorLobby],
  content: readBut(
    'The full list of the 2024 IBC was not read; it is expected to mirror NFPA 101.',
    'S49',
    'S38',
    'S21',
  ),
  leftToReader: ['How the fire alarm is programmed.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'elevator lobby'),
  asks: ({ facts }) => [
    says(facts, 'fire-alarm', 'The building has no fire alarm.'),
    says(
      facts,
      'lobby-sprinklers-supervised',
      'The sprinklers are not supervised, or their flow starts no alarm.',
    ),
    says(facts, 'lobby-smoke-detection', 'No supervised smoke detection in the lobby starts the alarm.'),
    says(
      facts,
      'lobby-not-by-pull-station',
      'Not every other alarm frees the lobby door, or a pull station does.',
    ),
  ],
}
