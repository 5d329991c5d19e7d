// Openings that keep every rule, one per arrangement; each row changes what it is about.
import { judge, judgeAll, known, type Device, type Doorway } from '../../../core/behaviour/index.ts'
import {
  alarmInOpenHours,
  factsFrom,
  judgeOpening,
  traitsOf,
  type Caution,
  type DeclaredTraits,
  type LocalRule,
  type OpeningToJudge,
  type ReadFacts,
} from '../../../core/cautions/index.ts'
import {
  actsWhen,
  alarmRelay,
  arrange,
  controller,
  delayedExitDevice,
  electricBolt,
  electrifiedLever,
  exitButton,
  exitDevice,
  exitSensor,
  holdOpen,
  latchRetraction,
  magnet,
  manualRelease,
  operator,
  parallel,
  passageLever,
  reader,
  staffSwitch,
  storeroomLever,
  strike,
  switchIn,
  thumbTurnBolt,
  through,
  type Piece,
} from '../behaviour/arrangements.ts'

const access = [reader('R1'), controller('CP1', { asks: ['R1'] })]
const alarm = alarmRelay('F1')

/** A manual release that keeps its contact open for so many seconds, or only while it is pressed. */
const releaseOf = (seconds: number | null): Piece => ({
  devices: (manualRelease('B1').devices ?? []).map((device): Device => ({
    ...device,
    needsPower: false,
    contacts: device.contacts.map((contact) => ({
      ...contact,
      changes: contact.changes.map((change) => ({
        ...change,
        lasting:
          seconds === null ? { form: 'as long as its cause' } : { form: 'seconds', seconds: known(seconds) },
      })),
    })),
  })),
})

/** A strike keeps a lever's latch; the lever always lets people out. */
export const doorways = {
  'lever, fail-secure strike': arrange(
    strike('K1', 'fail secure', through('CP1.D1/closes')),
    storeroomLever('L1', { keeper: 'K1' }),
    ...access,
  ),
  'lever, fail-safe strike': arrange(
    strike('K1', 'fail safe', through('F1', 'CP1.D1/opens')),
    storeroomLever('L1', { keeper: 'K1' }),
    alarm,
    ...access,
  ),
  'lever, strike of unknown mode': arrange(
    strike('K1', null, through('CP1.D1/closes')),
    storeroomLever('L1', { keeper: 'K1' }),
    ...access,
  ),
  'passage lever alone': arrange(passageLever('L1')),
  'nothing on the leaf': arrange(),
  'exit device': arrange(exitDevice('X1')),
  'lever and thumb turn': arrange(storeroomLever('L1'), thumbTurnBolt('Z1')),
  'lever and a bolt perhaps thrown': arrange(storeroomLever('L1'), thumbTurnBolt('Z1', null)),
  'magnet, sensor, release, alarm': arrange(
    magnet('M1', through('S1', 'B1', 'F1', 'CP1.D1/opens')),
    exitSensor('S1'),
    manualRelease('B1'),
    alarm,
    ...access,
  ),
  'magnet and lever, sensor, release, alarm': arrange(
    magnet('M1', through('S1', 'B1', 'F1', 'CP1.D1/opens')),
    passageLever('L1'),
    exitSensor('S1'),
    manualRelease('B1'),
    alarm,
    ...access,
  ),
  'magnet, sensor without release': arrange(
    magnet('M1', through('S1', 'F1', 'CP1.D1/opens')),
    exitSensor('S1'),
    alarm,
    ...access,
  ),
  'magnet, sensor that keeps its contact without power': arrange(
    magnet('M1', through('S1', 'B1', 'F1')),
    exitSensor('S1', { powerLost: 'keeps the feed' }),
    manualRelease('B1'),
    alarm,
  ),
  'magnet, sensor whose jumper is not known': arrange(
    magnet('M1', through('S1', 'B1', 'F1')),
    exitSensor('S1', { powerLost: null }),
    manualRelease('B1'),
    alarm,
  ),
  'magnet, sensor turned round': arrange(
    magnet('M1', through('B1', 'F1', 'CP1.D1/opens')),
    exitSensor('S1'),
    manualRelease('B1'),
    alarm,
    ...access,
  ),
  'magnet, release that only asks': arrange(
    magnet('M1', through('S1', 'F1', 'CP1.D1/opens')),
    exitSensor('S1'),
    manualRelease('B1'),
    alarm,
    reader('R1'),
    controller('CP1', { asks: ['R1', 'B1/signal'] }),
  ),
  'magnet, sensor, release, no alarm contact': arrange(
    magnet('M1', through('S1', 'B1', 'CP1.D1/opens')),
    exitSensor('S1'),
    manualRelease('B1'),
    ...access,
  ),
  'magnet, exit button that only asks': arrange(
    magnet('M1', through('CP1.D1/opens')),
    exitButton('B2'),
    reader('R1'),
    controller('CP1', { asks: ['R1', 'B2/signal'] }),
  ),
  'magnet, switch in the lever': arrange(
    magnet('M1', through('W1', 'CP1.D1/opens')),
    passageLever('L1'),
    switchIn('W1', 'L1 inner'),
    ...access,
  ),
  'magnet, switch in the exit device': arrange(
    magnet('M1', through('W1', 'CP1.D1/opens')),
    exitDevice('X1'),
    switchIn('W1', 'X1 inner'),
    ...access,
  ),
  'magnet, switch in the lever that only asks': arrange(
    magnet('M1', through('CP1.D1/closes')),
    passageLever('L1'),
    switchIn('W1', 'L1 inner'),
    reader('R1'),
    controller('CP1', { asks: ['R1', 'W1/signal'], energised: known('while secured') }),
  ),
  'delayed exit device, 15 s': arrange(delayedExitDevice('D1', through('F1'), 15), alarm),
  'delayed exit device, 30 s': arrange(delayedExitDevice('D1', through('F1'), 30), alarm),
  'delayed exit device, 45 s': arrange(delayedExitDevice('D1', through('F1'), 45), alarm),
  'delayed exit device, seconds not known': arrange(delayedExitDevice('D1', through('F1'), null), alarm),
  'delayed exit device, no alarm contact': arrange(delayedExitDevice('D1', through(), 15)),
  'magnet, staff switch, alarm': arrange(
    magnet('M1', through('T1', 'F1', 'CP1.D1/opens')),
    staffSwitch('T1'),
    alarm,
    ...access,
  ),
  'magnet, staff switch that only asks': arrange(
    magnet('M1', through('F1', 'CP1.D1/opens')),
    staffSwitch('T1'),
    alarm,
    reader('R1'),
    controller('CP1', { asks: ['R1', 'T1/signal'] }),
  ),
  'magnet, staff switch, no alarm contact': arrange(
    magnet('M1', through('T1', 'CP1.D1/opens')),
    staffSwitch('T1'),
    ...access,
  ),
  'magnet, sensor, release of 15 s': arrange(
    magnet('M1', through('S1', 'B1', 'F1')),
    exitSensor('S1'),
    releaseOf(15),
    alarm,
  ),
  'magnet, sensor, momentary release': arrange(
    magnet('M1', through('S1', 'B1', 'F1')),
    exitSensor('S1'),
    releaseOf(null),
    alarm,
  ),
  'bolt that holds without power, staff switch, alarm': arrange(
    electricBolt('E1', 'fail secure', through(parallel('T1/signal', 'F1/signal'))),
    staffSwitch('T1'),
    alarm,
  ),
  'lobby magnet, alarm': arrange(magnet('M1', through('F1', 'CP1.D1/opens')), alarm, ...access),
  'fail-safe lever lock, alarm': arrange(electrifiedLever('L1', 'fail safe', through('F1')), alarm),
  'fail-secure lever lock': arrange(
    electrifiedLever('L1', 'fail secure', through('CP1.D1/closes')),
    ...access,
  ),
  'lever lock of unknown mode': arrange(electrifiedLever('L1', null, through('CP1.D1/closes')), ...access),
  'exit device, latch drawn by power, no alarm contact': arrange(
    latchRetraction('X1', through('CP1.D1/closes')),
    ...access,
  ),
  'exit device, latch drawn by power, alarm': arrange(
    latchRetraction('X1', through('F1', 'CP1.D1/closes')),
    alarm,
    ...access,
  ),
  'held open, alarm': arrange(holdOpen('H1', through('F1')), passageLever('L1'), alarm),
  'held open, no alarm contact': arrange(holdOpen('H1', through()), passageLever('L1')),
  'operator stopped on alarm': arrange(
    passageLever('L1'),
    operator('O1', { asks: ['CP1.D1'], stoppedBy: [actsWhen('closed', 'F1/signal')] }),
    alarm,
    ...access,
  ),
  'operator that works on': arrange(passageLever('L1'), operator('O1', { asks: ['CP1.D1'] }), ...access),
} as const satisfies Readonly<Record<string, Doorway>>

export type DoorwayName = keyof typeof doorways

const workedBy = (id: string): DeclaredTraits => ({
  worked: id.startsWith('S') ? 'approach' : id.startsWith('W') ? 'hardware' : 'press',
})

/** Everything answered, and answered well. */
export const goodFacts = {
  'ibc-edition': '2021',
  'nfpa-101-edition': '2021',
  'occupancy-groups': ['B'],
  sprinklered: true,
  'fire-detection': true,
  'fire-alarm': true,
  'high-rise': false,
  stories: 3,
  'sprinkler-unlocks': true,
  'unlocked-until-reset': true,
  'lock-supply-independent': true,
  'unlocks-within-10-minutes': true,
  'required-way-out': true,
  'occupant-load': 30,
  'high-hazard-people': 0,
  'main-entrance': false,
  swings: true,
  classroom: false,
  courtroom: false,
  'stair-door': false,
  'stair-stories': 3,
  'stair-discharge': false,
  'stair-remote-unlock': true,
  'stair-selected-re-entry': false,
  'stair-telephones': true,
  'elevator-lobby-door': false,
  'doors-in-series': false,
  'series-clear-space': 90,
  'series-swing': 36,
  'electrical-room': 'no',
  'equipment-amps': 400,
  'equipment-over-600-volts': false,
  'equipment-over-6-feet': false,
  'working-space-distance': 10,
  'fire-label-minutes': 0,
  'strike-labelled': true,
  'magnet-labelled': true,
  'field-holes': 'none',
  'largest-field-hole': 0.5,
  'field-change-approved': false,
  'field-raceway': 'none',
  'raceway-permitted': false,
  'hardware-height': 40,
  'hardware-one-hand': true,
  'hardware-obvious': true,
  'control-height': 42,
  'listed-ul-294': true,
  'panic-hardware-listed': true,
  'panic-half-width': true,
  'panic-unlatching-force': 12,
  'emergency-lighting': true,
  'manual-release-height': 44,
  'manual-release-distance': 3,
  'manual-release-seconds': 30,
  'manual-release-ready': true,
  'manual-release-sign': 'PUSH TO EXIT',
  'delay-chapter-permits': true,
  'delay-30-approved': false,
  'delay-effort-seconds': 1,
  'delay-effort-force': 10,
  'delay-irreversible': true,
  'delay-audible': true,
  'delay-relock-by-hand': true,
  'delay-remote-off': true,
  'delayed-doors-in-path': 1,
  'delay-seconds-in-path': 15,
  'delay-sign': '15 SECONDS',
  'delay-sign-distance': 6,
  'delay-sign-letters': 1,
  'clinical-need': true,
  'care-exempt-area': false,
  'controlled-doors-in-path': 1,
  'release-in-emergency-plan': true,
  'staff-carry-release': true,
  'staff-switch-approved-place': true,
  'lobby-chapter-permits': true,
  'lobby-smoke-detection': true,
  'lobby-sprinklers-supervised': true,
  'lobby-not-by-pull-station': true,
  'lobby-communication': true,
} as const satisfies ReadFacts

const behaviours = new Map<Doorway, OpeningToJudge['behaviour']>()
export function behaviourOf(doorway: Doorway): OpeningToJudge['behaviour'] {
  const found = behaviours.get(doorway) ?? [...judgeAll(doorway), judge(doorway, alarmInOpenHours)]
  behaviours.set(doorway, found)
  return found
}

export const fittingsOf = (doorway: Doorway): NonNullable<OpeningToJudge['fittings']> =>
  traitsOf(
    doorway,
    new Map(
      doorway.devices
        .filter(({ workedAs, workedWith }) => workedAs === 'exit' && workedWith === null)
        .map(({ id }) => [id, workedBy(id)]),
    ),
  )

/** The opening with its answers changed; a fact patched with null is unanswered. */
export function opening(name: DoorwayName, patch: ReadFacts = {}): OpeningToJudge {
  const doorway: Doorway = doorways[name]
  return {
    facts: factsFrom({ ...goodFacts, ...patch }),
    behaviour: behaviourOf(doorway),
    fittings: fittingsOf(doorway),
  }
}

export const nothingKnown: OpeningToJudge = { facts: factsFrom({}), behaviour: [], fittings: null }

export function cautionFor(
  rule: string,
  judged: OpeningToJudge,
  localRules: readonly LocalRule[] = [],
): Caution {
  const found = judgeOpening(judged, localRules).find((caution) => caution.rule.key === rule)
  if (found === undefined) throw new Error(`no rule ${rule}`)
  return found
}
