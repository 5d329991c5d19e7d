// Every rule, in the order in which people read them: the way out, the stair, panic hardware, the fire door, the rest.
import type { Rule } from './rule.ts'
import { alarmConnection } from './rules/alarm-connection.ts'
import { alarmPowerLoss } from './rules/alarm-power-loss.ts'
import { alarmRelease } from './rules/alarm-release.ts'
import { controlHeight } from './rules/control-height.ts'
import { controlledBuilding } from './rules/controlled-building.ts'
import { controlledOneDoor } from './rules/controlled-one-door.ts'
import { controlledPermitted } from './rules/controlled-permitted.ts'
import { controlledStaff } from './rules/controlled-staff.ts'
import { controlledSwitch } from './rules/controlled-switch.ts'
import { delayedBuilding } from './rules/delayed-building.ts'
import { delayedChapter } from './rules/delayed-chapter.ts'
import { delayedForce } from './rules/delayed-force.ts'
import { delayedOneInPath } from './rules/delayed-one-in-path.ts'
import { delayedPermitted } from './rules/delayed-permitted.ts'
import { delayedRelock } from './rules/delayed-relock.ts'
import { delayedRemote } from './rules/delayed-remote.ts'
import { delayedSign } from './rules/delayed-sign.ts'
import { delayedSignLetters } from './rules/delayed-sign-letters.ts'
import { delayedSignal } from './rules/delayed-signal.ts'
import { delayedStart } from './rules/delayed-start.ts'
import { delayedTime } from './rules/delayed-time.ts'
import { doorsInSeries } from './rules/doors-in-series.ts'
import { electricalRoomIbc } from './rules/electrical-room-ibc.ts'
import { electricalRoomNec } from './rules/electrical-room-nec.ts'
import { elevatorLobbyAlarm } from './rules/elevator-lobby-alarm.ts'
import { elevatorLobbyCommunication } from './rules/elevator-lobby-communication.ts'
import { elevatorLobbyPermitted } from './rules/elevator-lobby-permitted.ts'
import { emergencyLighting } from './rules/emergency-lighting.ts'
import { fireDoorHoles } from './rules/fire-door-holes.ts'
import { fireDoorLatchDrawn } from './rules/fire-door-latch-drawn.ts'
import { fireDoorLatches } from './rules/fire-door-latches.ts'
import { fireDoorMagnet } from './rules/fire-door-magnet.ts'
import { fireDoorOperator } from './rules/fire-door-operator.ts'
import { fireDoorRaceway } from './rules/fire-door-raceway.ts'
import { fireDoorStrike } from './rules/fire-door-strike.ts'
import { hardwareHeight } from './rules/hardware-height.ts'
import { hardwareReleaseDirect } from './rules/hardware-release-direct.ts'
import { hardwareReleaseMotion } from './rules/hardware-release-motion.ts'
import { hardwareReleasePanic } from './rules/hardware-release-panic.ts'
import { hardwareReleasePermitted } from './rules/hardware-release-permitted.ts'
import { holdOpenRelease } from './rules/hold-open-release.ts'
import { listing } from './rules/listing.ts'
import { lossOfPower } from './rules/loss-of-power.ts'
import { manualReleaseDirect } from './rules/manual-release-direct.ts'
import { manualReleasePlace } from './rules/manual-release-place.ts'
import { manualReleaseSign } from './rules/manual-release-sign.ts'
import { manualReleaseTime } from './rules/manual-release-time.ts'
import { oneMotion } from './rules/one-motion.ts'
import { panicHardwareFitted } from './rules/panic-hardware-fitted.ts'
import { panicHardwareIbc } from './rules/panic-hardware-ibc.ts'
import { panicHardwareNfpa101 } from './rules/panic-hardware-nfpa-101.ts'
import { sensorLoss } from './rules/sensor-loss.ts'
import { sensorReleasePanic } from './rules/sensor-release-panic.ts'
import { sensorReleasePermitted } from './rules/sensor-release-permitted.ts'
import { sensorUnlocks } from './rules/sensor-unlocks.ts'
import { sprinklerRelease } from './rules/sprinkler-release.ts'
import { stairHighRise } from './rules/stair-high-rise.ts'
import { stairWayIn } from './rules/stair-way-in.ts'
import { stairWayInNfpa101 } from './rules/stair-way-in-nfpa-101.ts'
import { unknownArrangement } from './rules/unknown-arrangement.ts'
import { unlockedUntilReset } from './rules/unlocked-until-reset.ts'

export const rules: readonly Rule[] = [
  unknownArrangement,
  lossOfPower,
  alarmRelease,
  sprinklerRelease,
  unlockedUntilReset,
  listing,
  emergencyLighting,
  sensorReleasePermitted,
  sensorReleasePanic,
  sensorUnlocks,
  sensorLoss,
  manualReleasePlace,
  manualReleaseSign,
  manualReleaseDirect,
  manualReleaseTime,
  hardwareReleasePermitted,
  hardwareReleaseMotion,
  hardwareReleaseDirect,
  hardwareReleasePanic,
  delayedPermitted,
  delayedChapter,
  delayedBuilding,
  delayedTime,
  delayedStart,
  delayedForce,
  delayedSignal,
  delayedRelock,
  delayedRemote,
  delayedOneInPath,
  delayedSign,
  delayedSignLetters,
  controlledPermitted,
  controlledBuilding,
  controlledSwitch,
  controlledOneDoor,
  controlledStaff,
  stairWayIn,
  stairWayInNfpa101,
  stairHighRise,
  elevatorLobbyPermitted,
  elevatorLobbyAlarm,
  elevatorLobbyCommunication,
  panicHardwareIbc,
  panicHardwareNfpa101,
  panicHardwareFitted,
  electricalRoomIbc,
  electricalRoomNec,
  fireDoorLatches,
  fireDoorLatchDrawn,
  fireDoorStrike,
  fireDoorMagnet,
  holdOpenRelease,
  fireDoorOperator,
  fireDoorHoles,
  fireDoorRaceway,
  hardwareHeight,
  controlHeight,
  alarmConnection,
  alarmPowerLoss,
  doorsInSeries,
  oneMotion,
]

export const ruleByKey: ReadonlyMap<string, Rule> = new Map(rules.map((rule) => [rule.key, rule]))
