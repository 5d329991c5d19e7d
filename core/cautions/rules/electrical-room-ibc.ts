import { hasPanicHardware, panicRequiredAtElectricalRoom } from '../panic.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const electricalRoomIbc: Rule = {
  key: 'electrical-room-ibc',
  sentence:
    'Doors of some electrical rooms have panic hardware: 1,200 A or more and over 6 ft wide; from 2024 800 A or more where the door is less than 25 ft away, and battery rooms, vaults and modular data centres always.',
  severity: 'can trap someone',
  citations: [ibcSections.electricalRooms],
  content: readBut('That 2021 is as 2018 is from memory.', 'S5', 'S11'),
  leftToReader: ['The door must also swing with the way out.', localAmendments],
  gives: allVerdicts,
  applies: (view) => panicRequiredAtElectricalRoom(view),
  asks: (view) => [hasPanicHardware(view)],
}
