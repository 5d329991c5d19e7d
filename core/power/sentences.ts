// Questions, steps, findings and remedies in sentences, for the margin and for paper. Nothing is worked out here.
import type { Units } from '../job/index.ts'
import type { BatteryLasts, BatteryNeed, BatterySizing } from './battery.ts'
import type { ClassTwoFinding } from './class-two.ts'
import type { Asked, Question } from './facts.ts'
import type { Fault, LoadForm } from './network.ts'
import type { PoeFinding } from './poe.ts'
import type { SupplyRemedy } from './power.ts'
import type { Remedy } from './remedies.ts'
import type { Condition, Outcome, Scenario } from './scenarios.ts'
import type { FuseFinding } from './supply.ts'
import { writeWireSize } from './wire.ts'
import type { Step } from './working.ts'

/** A figure with so many decimals, without the sign of a zero. */
export function figure(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return Number(text) === 0 ? text.replace('-', '') : text
}

export const voltWords = (volts: number): string => `${figure(volts, 2)} V`
export const ampWords = (amps: number): string => `${figure(amps, amps < 0.1 ? 4 : 3)} A`
const ohmWords = (ohms: number): string => `${figure(ohms, 4)} ohm`
const metresPerFoot = 0.3048
/** A length of cable in the job's units: "70 ft", "21.3 m". */
export function cableWords(metres: number, units: Units): string {
  if (units === 'metric') return `${figure(metres, 1)} m`
  const feet = metres / metresPerFoot
  return `${figure(feet, Math.abs(feet - Math.round(feet)) < 0.05 ? 0 : 1)} ft`
}
export const hourWords = (hours: number): string =>
  hours === Infinity ? 'no end of hours' : `${figure(hours, 1)} h`

const questions: Readonly<Record<Asked, (thing: string) => string>> = {
  length: (thing) => `How long is ${thing}?`,
  'wire size': (thing) => `What size are the conductors of ${thing}?`,
  stranding: (thing) => `Are the conductors of ${thing} solid or stranded?`,
  conductors: (thing) => `Which conductors of ${thing} carry the feed, and which its return?`,
  feed: (thing) => `What feeds ${thing}?`,
  return: (thing) => `Which conductor brings the current of ${thing} back to its output?`,
  'load form': (thing) =>
    `Does ${thing} draw the same current, the same power, or a current in proportion to its volts?`,
  'holding current': (thing) => `What current does ${thing} draw while it works?`,
  'in-rush current': (thing) => `Does ${thing} draw more for a moment when it fires, and how much?`,
  'stated volts': (thing) => `At what volts is the current of ${thing} stated?`,
  'working window': (thing) => `Between what volts does ${thing} work?`,
  'voltage setting': (thing) => `To what voltage is ${thing} set?`,
  'drawing at rest': (thing) => `Does ${thing} draw current while its door is secured?`,
  'drawing on alarm': (thing) => `Does ${thing} draw current while the fire alarm lasts?`,
  'nominal volts': (thing) => `What volts does ${thing} give?`,
  'lowest volts': (thing) => `What is the lowest that ${thing} is rated to give on mains?`,
  'highest volts': (thing) => `What is the highest that ${thing} is rated to give?`,
  'rated current': (thing) => `What current is ${thing} rated for?`,
  fuse: (thing) => `What fuse does ${thing} have, if any?`,
  'class 2': (thing) => `Is ${thing} wired as Class 2, and how is its current limited?`,
  'own current': (thing) => `What does ${thing} draw for itself and the boards in its case?`,
  efficiency: (thing) => `What is the efficiency of ${thing}?`,
  battery: (thing) => `What battery does ${thing} have, if any?`,
  'battery temperature': (thing) => `How cold does the battery of ${thing} get? (-15 to 40 °C)`,
  'standby hours': (thing) => `For how many hours must the battery of ${thing} hold?`,
  'alarm minutes': (thing) => `For how many minutes of alarm must the battery of ${thing} last after that?`,
  'charging current': (thing) => `What current does ${thing} charge its battery with?`,
  'power at device': (thing) => `What power does ${thing} draw at most?`,
  'type and class': (thing) => `What power over Ethernet type and class is ${thing}?`,
  budget: (thing) => `How many ports has ${thing}, and what may they give together?`,
}

/** A missing fact as a question to a person. */
export const questionSentence = ({ about, thing }: Question): string => questions[about](thing)

const cablePuller = 'whoever pulls the cable, or the drawings'
const partData = 'the data sheet of the part'
const supplyData = 'the data sheet of the supply'
const specification = 'the specification, or the authority that decides'

const answeredBy: Readonly<Record<Asked, string>> = {
  length: cablePuller,
  'wire size': cablePuller,
  stranding: cablePuller,
  conductors: cablePuller,
  feed: cablePuller,
  return: cablePuller,
  'load form': partData,
  'holding current': partData,
  'in-rush current': partData,
  'stated volts': partData,
  'working window': partData,
  'voltage setting': 'whoever sets it on the bench',
  'drawing at rest': 'whoever designed the typical',
  'drawing on alarm': 'whoever designed the typical',
  'nominal volts': supplyData,
  'lowest volts': supplyData,
  'highest volts': supplyData,
  'rated current': supplyData,
  fuse: supplyData,
  'class 2': supplyData,
  'own current': supplyData,
  efficiency: supplyData,
  battery: 'whoever fits the supply',
  'battery temperature': 'whoever knows the room it stands in',
  'standby hours': specification,
  'alarm minutes': specification,
  'charging current': supplyData,
  'power at device': partData,
  'type and class': partData,
  budget: 'whoever keeps the network',
}

/** Who can answer a question. */
export const whoCanAnswer = ({ about }: Question): string => answeredBy[about]

const conditionWords: Readonly<Record<Condition, string>> = {
  nominal: 'at nominal volts',
  'lowest output': 'at the lowest rated output',
  'end of discharge': 'on battery at the end of discharge',
  'highest output': 'at the highest rated output',
}

/** Holding on battery at the end of discharge, cable at 50 °C. */
export const scenarioWords = ({ condition, moment, celsius }: Scenario): string =>
  `${moment === 'holding' ? 'holding' : 'worst moment'} ${conditionWords[condition]}, cable at ${celsius} °C`

const outcomes: Readonly<Record<Outcome, string>> = {
  solved: 'Solved.',
  'cannot be fed': 'Cannot be fed: over this wire no voltage satisfies what the devices draw.',
  'failed its check': 'No figure: the solution failed its own check of current and power. Please report it.',
  'not known': 'Not known: facts are missing.',
  'wrong network': 'No figure: the runs are not joined as a tree.',
  'does not apply': 'Does not apply: there is no battery behind this output.',
}
export const outcomeSentence = (outcome: Outcome): string => outcomes[outcome]

/** `nameOf` gives the name of a run or a device by its id. */
export function faultSentence(fault: Fault, nameOf: (id: string) => string): string {
  switch (fault.code) {
    case 'fed two ways':
      return `${nameOf(fault.run)} closes a ring: its far end is fed another way already (${fault.side === 'out' ? 'feed' : 'return'}); expected a tree.`
    case 'ends where it starts':
      return `${nameOf(fault.run)} ends where it starts; expected two places.`
    case 'negative length':
      return `${nameOf(fault.run)}: the length is below zero; expected metres from 0 up.`
    case 'negative current':
      return `${nameOf(fault.load)}: the current is below zero; expected amps from 0 up.`
    case 'volts out of order':
      return `${nameOf(fault.load)}: the volts are out of order; expected a minimum below the maximum, and stated volts above 0.`
  }
}

const formWords: Readonly<Record<LoadForm, string>> = {
  current: 'the same current at any volts',
  power: 'the same power at any volts',
  resistance: 'a current in proportion to its volts',
}

/** One step of a working. The figures are rounded for reading; the steps themselves keep them whole. */
export function stepSentence(step: Step, units: Units = 'metric'): string {
  switch (step.step) {
    case 'source':
      return `${step.output} gives ${voltWords(step.volts)} ${conditionWords[step.condition]}.`
    case 'draw': {
      const stated = `${ampWords(step.statedAmps)}${step.statedVolts === null ? '' : ` at ${voltWords(step.statedVolts)}`}`
      const firing = step.firing === null ? '' : ` as ${step.firing} fires`
      return `${step.load} draws ${ampWords(step.amps)}${firing}: ${stated}, ${formWords[step.form]}.`
    }
    case 'wire': {
      const wires = step.conductors.join(' beside ')
      const warm = step.celsius === 20 ? '' : `, ${ohmWords(step.ohms)} at ${step.celsius} °C`
      return `${step.run}, ${step.side === 'out' ? 'out' : 'back'}: ${cableWords(step.lengthMetres, units)} of ${wires}, ${ohmWords(step.ohms20)} at 20 °C${warm}.`
    }
    case 'drop':
      return `${step.run}, ${step.side === 'out' ? 'out' : 'back'}: ${ampWords(step.amps)} x ${ohmWords(step.ohms)} = ${voltWords(step.volts)} lost.`
    case 'device':
      return `${step.load} has ${voltWords(step.volts)}: ${voltWords(step.dropVolts)} are lost on the way.`
    case 'window': {
      const set = step.setting === null ? '' : ` set to ${step.setting}`
      const range = `${voltWords(step.minimumVolts)} to ${voltWords(step.maximumVolts)}`
      return step.marginVolts >= 0
        ? `${step.load}${set} works from ${range}: ${voltWords(step.marginVolts)} to spare.`
        : `${step.load}${set} works from ${range}: ${voltWords(-step.marginVolts)} outside.`
    }
    case 'checked':
      return `Check: ${figure(step.powerInWatts, 3)} W given = ${figure(step.usedWatts, 3)} W used + ${figure(step.lostWatts, 3)} W lost in the cable.`
  }
}

/** What a remedy does and gives. `nameOf` gives the name of a run or a device by its id. */
export function remedySentence(
  remedy: Remedy,
  nameOf: (id: string) => string,
  units: Units = 'metric',
): string {
  return `${remedyDeed(remedy, nameOf, units)}: ${remedyGives(remedy, nameOf)}.`
}

/** What a remedy gives: the lowest volts then, and whether that is enough. */
export function remedyGives(remedy: Remedy, nameOf: (id: string) => string): string {
  const gives =
    remedy.volts === null || remedy.marginVolts === null
      ? 'it still cannot be fed'
      : `the lowest is then ${voltWords(remedy.volts)} at ${nameOf(remedy.load)}, ${voltWords(Math.abs(remedy.marginVolts))} ${remedy.marginVolts >= 0 ? 'to spare' : 'outside'}`
  return `${gives}${remedy.works ? '' : ' (not enough alone)'}`
}

/** Runs that are named one by one. */
const mostNamed = 4

/** What is to be done: "Pull 210 feed in 18 AWG, 95 ft". */
export function remedyDeed(
  { change, newCableMetres }: Remedy,
  nameOf: (id: string) => string,
  units: Units = 'metric',
): string {
  const metreWords = (metres: number): string => cableWords(metres, units)
  switch (change.change) {
    case 'thicker': {
      const [only] = change.sizes
      if (only !== undefined && change.sizes.length === 1)
        return `Pull ${nameOf(only.run)} in ${writeWireSize(only.size)}, ${metreWords(newCableMetres)}`
      const each = change.sizes.map(({ run, size }) => `${nameOf(run)} in ${writeWireSize(size)}`)
      const named =
        each.length > mostNamed
          ? `${each.length} runs, ${[...new Set(change.sizes.map(({ size }) => writeWireSize(size)))].join(', ')}`
          : `${each.slice(0, -1).join(', ')} and ${each.at(-1)}`
      return `Pull ${named}, ${metreWords(newCableMetres)} in all`
    }
    case 'double':
      return change.usesSpare
        ? `Double ${nameOf(change.run)} with its spare conductors`
        : `Pull a second cable beside ${nameOf(change.run)}, ${metreWords(newCableMetres)}`
    case 'split':
      return `Take ${nameOf(change.run)} off the chain and feed its far end by its own run from the output, ${metreWords(change.lengthMetres)}`
    case 'move':
      return `Move the feed to ${change.toName}, ${metreWords(change.lengthMetres)} away`
  }
}

export function supplyRemedySentence(remedy: SupplyRemedy): string {
  switch (remedy.change) {
    case 'bigger supply':
      return `Fit a supply rated for ${figure(remedy.neededAmps, 2)} A or more: it holds ${ampWords(remedy.holdingAmps)}.`
    case 'bigger battery': {
      const count = remedy.inParallel === 1 ? '' : ` x ${remedy.inParallel} in parallel`
      return `Fit a battery of ${remedy.ampHours} Ah${count}: it lasts ${hourWords(remedy.standbyHours)} before the alarm.`
    }
  }
}

export function fuseSentence(finding: FuseFinding): string {
  switch (finding.code) {
    case 'holding over the fuse':
      return `It holds ${ampWords(finding.holdingAmps)}, more than its fuse of ${finding.fuseAmps} A carries.`
    case 'holding over the loading limit of the fuse':
      return `It holds ${ampWords(finding.holdingAmps)}, over the loading limit of its fuse of ${finding.fuseAmps} A.`
    case 'in-rush over the fuse': {
      const time = finding.seconds === null ? 'for a time that is not known' : `for ${finding.seconds} s`
      return `At the worst moment it gives ${ampWords(finding.amps)} ${time} through a fuse of ${finding.fuseAmps} A; the curve of the fuse decides.`
    }
    case 'fuse over the rating of the output':
      return `The fuse of ${finding.fuseAmps} A is more than the output's rating of ${finding.ratedAmps} A.`
  }
}

export function classTwoSentence(finding: ClassTwoFinding): string {
  switch (finding.code) {
    case 'current over the nameplate limit':
      return `Rated ${figure(finding.amps, 2)} A at ${voltWords(finding.volts)}; Class 2 is at most ${figure(finding.limitAmps, 2)} A (NEC chapter 9 table 11(B)).`
    case 'fuse over the limit':
      return `Its fuse is ${finding.amps} A at ${voltWords(finding.volts)}; Class 2 is at most ${figure(finding.limitAmps, 2)} A (NEC chapter 9 table 11(B)).`
    case 'no overcurrent device':
      return `It has no fuse; Class 2 asks for one of at most ${figure(finding.limitAmps, 2)} A (NEC chapter 9 table 11(B)).`
    case 'volts over the table':
      return `${voltWords(finding.volts)} is above the 60 V up to which Class 2 is judged here.`
  }
}

export function poeSentence(finding: PoeFinding, units: Units = 'metric'): string {
  switch (finding.code) {
    case 'cannot be fed':
      return `${figure(finding.watts, 1)} W cannot be fed over this cable: no voltage satisfies it.`
    case 'draws more than its class':
      return `It draws ${figure(finding.watts, 2)} W; its class allows ${finding.limitWatts} W at the device.`
    case 'port gives more than its class':
      return `The port would give ${figure(finding.watts, 2)} W; its class allows ${finding.limitWatts} W.`
    case 'channel too long':
      return `The cable is ${cableWords(finding.lengthMetres, units)}; the longest channel is ${units === 'metric' ? '100 m' : '328 ft'} (from memory).`
    case 'more ohms than the standard allows':
      return `The cable has ${figure(finding.ohms, 2)} ohm; the standard allows ${finding.limitOhms} ohm.`
    case 'port of a lesser type':
      return `It needs a port of type ${finding.needs}; the switch has type ${finding.has}.`
  }
}

/** The working of a battery's size, line by line. */
export function batterySizingSentences(need: BatteryNeed, sizing: BatterySizing): readonly string[] {
  if (
    !need.standbyAmps.known ||
    !need.standbyHours.known ||
    !need.alarmAmps.known ||
    !need.alarmMinutes.known
  )
    return []
  const lines = [
    `Standby: ${ampWords(need.standbyAmps.value)} x ${need.standbyHours.value} h = ${figure(sizing.standbyAmpHours, 3)} Ah.`,
    `Alarm: ${ampWords(need.alarmAmps.value)} x ${need.alarmMinutes.value} min = ${figure(sizing.alarmAmpHours, 3)} Ah.`,
    `Together ${figure(sizing.plainAmpHours, 3)} Ah.`,
  ]
  if (sizing.atRateAmpHours > sizing.plainAmpHours)
    lines.push(
      `Faster than the 20 h rate a battery gives less (Peukert, exponent ${need.rateExponent}): ${figure(sizing.atRateAmpHours, 3)} Ah.`,
    )
  if (sizing.temperatureShare < 1)
    lines.push(
      `In the cold it gives ${figure(sizing.temperatureShare * 100, 0)} % of its rating: divided by ${figure(sizing.temperatureShare, 3)}.`,
    )
  lines.push(`Ageing x ${sizing.ageingFactor}: ${figure(sizing.requiredAmpHours, 2)} Ah required.`)
  lines.push(
    sizing.stockAmpHours === null
      ? `More than the largest size sold: ${sizing.inParallel} sets of 55 Ah in parallel.`
      : `Next size sold: ${sizing.stockAmpHours} Ah.`,
  )
  return lines
}

export const batteryLastsSentence = (lasts: BatteryLasts): string =>
  `At the end of its life it gives ${figure(lasts.countedAmpHours, 2)} Ah: ${hourWords(lasts.standbyHours)} of standby with the alarm after it, ${hourWords(lasts.withoutAlarmHours)} without.`
