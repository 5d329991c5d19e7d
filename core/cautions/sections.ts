// The sections that rules cite, subject by subject, so that a number stands in one place only.
import { fromMemory, ibc, inferred, nfpa101, noSection, standard, verified } from './citations.ts'

export const ibcSections = {
  doorOperations: ibc(
    'door operations',
    verified('1010.1.9', 'S8'),
    verified('1010.2', 'S8'),
    fromMemory('1010.2'),
  ),
  unlatching: ibc(
    'unlatching',
    verified('1010.1.9.6', 'S5'),
    verified('1010.2.1', 'S7', 'S9'),
    fromMemory('1010.2.1'),
  ),
  hardware: ibc('hardware', fromMemory('1010.1.9.1'), verified('1010.2.2', 'S9'), fromMemory('1010.2.2')),
  hardwareHeight: ibc(
    'hardware height',
    fromMemory('1010.1.9.2'),
    verified('1010.2.3', 'S7'),
    fromMemory('1010.2.3'),
  ),
  stairDoors: ibc(
    'stairway doors',
    verified('1010.1.9.12', 'S5'),
    verified('1010.2.7', 'S8'),
    inferred('1010.2.6'),
  ),
  highRiseStairs: ibc(
    'high-rise stair doors',
    verified('403.5.3', 'S5'),
    fromMemory('403.5.3'),
    fromMemory('403.5.3'),
  ),
  panicHardware: ibc(
    'panic and fire exit hardware',
    verified('1010.1.10', 'S5'),
    verified('1010.2.9', 'S10', 'S7'),
    verified('1010.2.8', 'S11'),
  ),
  // The 2018 and 2024 rooms were read; the subsection numbers of 2018 and 2021 were not.
  electricalRooms: ibc(
    'panic hardware at electrical rooms',
    verified('1010.1.10', 'S5'),
    fromMemory('1010.2.9'),
    verified('1010.2.8.2', 'S11'),
  ),
  hardwareRelease: ibc(
    'door hardware release',
    verified('1010.1.9.10', 'S1', 'S6'),
    verified('1010.2.11', 'S7'),
    inferred('1010.2.10'),
  ),
  sensorRelease: ibc(
    'sensor release',
    verified('1010.1.9.9', 'S1'),
    verified('1010.2.12', 'S7'),
    inferred('1010.2.11'),
  ),
  delayedEgress: ibc(
    'delayed egress',
    verified('1010.1.9.8', 'S1', 'S4'),
    verified('1010.2.13', 'S7', 'S8', 'S9'),
    inferred('1010.2.12'),
  ),
  controlledEgress: ibc(
    'controlled egress',
    verified('1010.1.9.7', 'S1'),
    verified('1010.2.14', 'S12'),
    inferred('1010.2.13'),
  ),
  elevatorLobby: ibc(
    'elevator lobby exit access doors',
    noSection('S13', 'S38'),
    noSection('S13', 'S38'),
    verified('1010.2.14', 'S12', 'S13'),
  ),
  // Read in the 2018 text, under a number that was not kept.
  doorsInSeries: ibc(
    'doors in series',
    fromMemory('1010.1.8'),
    fromMemory('1010.1.8'),
    fromMemory('1010.1.8'),
  ),
} as const

const sameFromMemory = (subject: string, section: string) =>
  nfpa101(subject, fromMemory(section), fromMemory(section), fromMemory(section))

export const nfpa101Sections = {
  delayedEgress: nfpa101(
    'delayed-egress electrical locking',
    verified('7.2.1.6.1', 'S39', 'S43', 'S44'),
    fromMemory('7.2.1.6.1'),
    fromMemory('7.2.1.6.1'),
  ),
  sensorRelease: nfpa101(
    'sensor release of electrical locking',
    verified('7.2.1.6.2', 'S39'),
    fromMemory('7.2.1.6.2'),
    fromMemory('7.2.1.6.2'),
  ),
  hardwareRelease: sameFromMemory('electrically controlled egress doors', '7.2.1.5.6'),
  // Read in older editions (S38, S49, S50); the years offered here were not.
  elevatorLobby: sameFromMemory('elevator lobby exit access doors', '7.2.1.6.3'),
  stairReEntry: sameFromMemory('stair re-entry', '7.2.1.5.8'),
  panicHardware: sameFromMemory('panic and fire exit hardware', '7.2.1.7'),
  unlatching: sameFromMemory('releasing hardware', '7.2.1.5.10'),
} as const

export const standardSections = {
  activeLatch: standard('NFPA 80', 'active latchbolt', [
    'as the building code names it',
    verified('6.4.4', 'S28', 'S53'),
  ]),
  labelledHardware: standard('NFPA 80', 'labelled locks and latches', [
    'as the building code names it',
    verified('6.4.4.1', 'S54', 'S24'),
  ]),
  holdOpen: standard('NFPA 80', 'doors held open', ['as the building code names it', fromMemory('4.7')]),
  powerOperators: standard('NFPA 80', 'power operated fire doors', [
    'as the building code names it',
    fromMemory('6.4.4'),
  ]),
  jobSiteHoles: standard(
    'NFPA 80',
    'job-site preparation',
    ['2013', verified('4.1.3', 'S56')],
    ['2016', verified('4.1.3', 'S56')],
    ['2022', verified('5.1.5.2', 'S56')],
  ),
  doorUnlocking: standard('NFPA 72', 'electrically locked doors', [
    '2010 and later',
    verified('21.9.1 and 21.9.2', 'S67'),
  ]),
  doorUnlockingPower: standard('NFPA 72', 'electrically locked doors, loss of power', [
    '2010 and later',
    fromMemory('21.9.3'),
  ]),
  adaHardware: standard('ADA', 'door hardware', ['2010 Standards', verified('404.2.7', 'S127')]),
  adaReach: standard('ADA', 'reach ranges', ['2010 Standards', fromMemory('308.2')]),
  necEgress: standard('NEC', 'entrance to and egress from working space', [
    '2014 and later',
    verified('110.26', 'S26'),
  ]),
} as const
