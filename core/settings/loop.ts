// The resistance a point's input sees, in every circumstance of its contact and with its cable cut or shorted.
import type { JobRecord } from '../job/index.ts'
import {
  conductorOhms,
  inSeries,
  onceEach,
  type CableCelsius,
  type CableOhms,
  type Conductor,
} from './cable.ts'
import type { SettingFact } from './effects.ts'
import { tellApart, type ToldApart } from './told-apart.ts'
import { figure, ohmsRangeText, ohmsText, type SettingQuestion, type Step } from './words.ts'

export type ContactState = 'closed' | 'open'
export type LoopForm = NonNullable<JobRecord<'point'>['loop']>

/** What a point expects. Null is not known. */
export interface LoopPoint {
  readonly name: string
  readonly loop: LoopForm | null
  /** In line with the contact. */
  readonly seriesOhms: number | null
  /** Across the contact. */
  readonly parallelOhms: number | null
  /** The state of the contact that the input is set to take as normal. */
  readonly normally: ContactState | null
  /** How far a reading may lie from the marked resistance. */
  readonly tolerancePercent: number | null
  /** For a plain loop: up to how many ohms the input takes it as closed. */
  readonly closedBelowOhms: number | null
  readonly resistorTolerancePercent: number | null
}

export interface LoopContact {
  readonly name: string
  readonly form: JobRecord<'partContact'>['form']
  /** Which side of a changeover contact is in the loop. No matter for others. */
  readonly wiredTo: 'normally open' | 'normally closed' | null
  /** As the part says; a changeover contact by its normally open side. */
  readonly states: readonly { readonly circumstance: string; readonly closed: boolean }[]
  /** A jumper turns rest and change round, but never what it does without power. */
  readonly turnedRound: SettingFact<boolean>
}

/** One length of cable with the two conductors that carry the loop. */
export interface LoopLeg {
  readonly name: string
  readonly lengthMetres: number | null
  readonly out: Conductor
  readonly back: Conductor
}

export type LoopCable =
  | { readonly known: true; readonly legs: readonly LoopLeg[]; readonly celsius: CableCelsius }
  | { readonly known: false; readonly question: SettingQuestion }

export type LoopReading =
  | {
      readonly form: 'ohms'
      /** Marked resistors without cable. */
      readonly markedOhms: number
      readonly lowOhms: number
      readonly highOhms: number
    }
  | { readonly form: 'open circuit' }
  | { readonly form: 'not known'; readonly questions: readonly SettingQuestion[] }

/** What the reading stands for. `cut` and `short` are faults of the cable. */
export type LoopMeaning = 'normal' | 'active' | 'cut' | 'short' | 'not known'

export interface LoopState {
  /** "door shut", or "cable cut", "cable shorted". */
  readonly circumstance: string
  readonly meaning: LoopMeaning
  readonly contact: ContactState | null
  readonly reading: LoopReading
  readonly words: string
  readonly steps: readonly Step[]
}

export interface LoopDisagreement {
  readonly code:
    | 'resistor across a contact that is closed while normal'
    | 'resistor in line with a contact that is open while normal'
    | 'normal is taken for active'
    | 'contact never changes'
    | 'resistor not asked for'
    | 'no resistance'
  readonly words: string
}

export interface LoopStates {
  readonly states: readonly LoopState[]
  /** The reading while the contact is closed and while it is open, whatever that stands for. */
  readonly whenClosed: LoopReading
  readonly whenOpen: LoopReading
  readonly toldApart: ToldApart
  readonly disagreements: readonly LoopDisagreement[]
  readonly questions: readonly SettingQuestion[]
}

/** Circumstances in which all is as it should be; every other is judged against them. */
const usualCircumstances: ReadonlySet<string> = new Set(['at rest', 'door shut', 'bolt thrown'])
const withoutPower = 'no power'

/** Contact circuits of the loop: which resistor is where. Null is not known. */
export interface Resistors {
  readonly inLine: number | null
  /** Infinity: nothing across the contact. */
  readonly across: number | null
}

/**
 * Expected resistance at the controller in every circumstance. Ohms; the cable counts out and back. A missing fact makes
 * what rests on it not known, with its question, and nothing else.
 */
export function loopStates(point: LoopPoint, contact: LoopContact | null, cable: LoopCable): LoopStates {
  const questions: SettingQuestion[] = []
  const disagreements: LoopDisagreement[] = []
  const resistors = resistorsOf(point, questions, disagreements)
  const wire = cableOhms(cable)
  if (!wire.known) questions.push(...wire.questions)

  const inState = (state: ContactState): Worked => worked(point, resistors, state, wire)
  const contactStates = contact === null ? [] : statesOf(contact, questions)
  if (contact === null)
    questions.push({
      words: `Which contact is in the loop of ${point.name}?`,
      whoCanSay: 'the wiring drawing, or whoever terminates it',
    })
  const normal = normalState(point, contact, contactStates, questions)
  const states: LoopState[] = contactStates.map(({ circumstance, state }) => {
    const meaning: LoopMeaning =
      normal === null || state === null ? 'not known' : state === normal ? 'normal' : 'active'
    const { reading, steps } = state === null ? notKnownContact(contact, circumstance) : inState(state)
    return stateOf(circumstance, meaning, state, reading, steps)
  })
  const cut: LoopReading = { form: 'open circuit' }
  states.push(
    stateOf('cable cut', 'cut', null, cut, [
      { what: 'Cable cut', working: 'no way round', result: 'open circuit', source: null },
    ]),
  )
  const shorted = shortReading(wire)
  states.push(stateOf('cable shorted', 'short', null, shorted.reading, shorted.steps))

  addDisagreements(point, contact, contactStates, normal, disagreements)
  const [whenClosed, whenOpen] = [inState('closed').reading, inState('open').reading]
  const toldApart = tellApart(point, resistors, { whenClosed, whenOpen, shorted: shorted.reading }, normal)
  return {
    states,
    whenClosed,
    whenOpen,
    toldApart,
    disagreements,
    questions: onceEach([...questions, ...toldApart.questions]),
  }
}

interface Worked {
  readonly reading: LoopReading
  readonly steps: readonly Step[]
}

const resistorQuestion = (point: LoopPoint, which: string): SettingQuestion => ({
  words: `How many ohms is the resistor ${which} of ${point.name}?`,
  whoCanSay: 'the controller’s instructions, or its programming',
})

/** The resistors as the point tells them, or what is missing. Where both are told for one, nobody knows which is fitted. */
function resistorsOf(
  point: LoopPoint,
  questions: SettingQuestion[],
  disagreements: LoopDisagreement[],
): Resistors {
  const told = (ohms: number | null, which: string): number | null => {
    if (ohms === null || ohms > 0) return ohms
    disagreements.push({
      code: 'no resistance',
      words: `${point.name}: ${figure(ohms)} ohm ${which} is no resistor.`,
    })
    return null
  }
  const inLine = told(point.seriesOhms, 'in line')
  const across = told(point.parallelOhms, 'across the contact')
  switch (point.loop) {
    case 'plain':
      if (point.seriesOhms !== null || point.parallelOhms !== null)
        disagreements.push({
          code: 'resistor not asked for',
          words: `${point.name} expects a plain loop, but a resistor is told.`,
        })
      return { inLine: 0, across: Infinity }
    case 'one resistor':
      if (inLine !== null && across === null && point.parallelOhms === null)
        return { inLine, across: Infinity }
      if (across !== null && inLine === null && point.seriesOhms === null) return { inLine: 0, across }
      if (inLine !== null && across !== null)
        disagreements.push({
          code: 'resistor not asked for',
          words: `${point.name} expects one resistor, but two are told.`,
        })
      questions.push({
        words: `Is the one resistor of ${point.name} in line with the contact or across it, and how many ohms?`,
        whoCanSay: 'the controller’s instructions, or a look at the contact',
      })
      return { inLine: null, across: null }
    case 'two resistors':
      if (inLine === null) questions.push(resistorQuestion(point, 'in line with the contact'))
      if (across === null) questions.push(resistorQuestion(point, 'across the contact'))
      return { inLine, across }
    case null:
      questions.push({
        words: `Which loop does ${point.name} expect: plain, one resistor or two?`,
        whoCanSay: 'the controller’s programming',
      })
      return { inLine: null, across: null }
  }
}

function cableOhms(cable: LoopCable): CableOhms {
  if (!cable.known) return { known: false, questions: [cable.question] }
  return inSeries(
    cable.legs.flatMap(({ name, lengthMetres, out, back }) => [
      conductorOhms({ name: `${name}, out`, lengthMetres, ...out }, cable.celsius),
      conductorOhms({ name: `${name}, back`, lengthMetres, ...back }, cable.celsius),
    ]),
  )
}

/** The loop with its contact in one state. */
function worked(
  point: LoopPoint,
  { inLine, across }: Resistors,
  state: ContactState,
  wire: CableOhms,
): Worked {
  // Nothing across an open contact is an open circuit whatever else is not known.
  if (state === 'open' && across === Infinity)
    return {
      reading: { form: 'open circuit' },
      steps: [{ what: 'Contact open', working: 'nothing across it', result: 'open circuit', source: null }],
    }
  const marked = state === 'closed' ? inLine : inLine === null || across === null ? null : inLine + across
  if (marked === null)
    return { reading: { form: 'not known', questions: [missingResistor(point)] }, steps: [] }
  if (!wire.known) return { reading: { form: 'not known', questions: wire.questions }, steps: [] }
  const spread = marked * ((point.resistorTolerancePercent ?? 0) / 100)
  const [lowOhms, highOhms] = [marked - spread + wire.lowOhms, marked + spread + wire.highOhms]
  const sum =
    state === 'closed'
      ? `${ohmsText(inLine ?? 0)} in line`
      : `${ohmsText(inLine ?? 0)} in line + ${ohmsText(across ?? 0)} across the contact`
  const around =
    point.resistorTolerancePercent === null ? ', as marked' : ` ± ${figure(point.resistorTolerancePercent)} %`
  return {
    reading: { form: 'ohms', markedOhms: marked, lowOhms, highOhms },
    steps: [
      ...wire.steps,
      { what: 'Cable, out and back', working: 'sum of the conductors', result: spanText(wire), source: null },
      { what: `Contact ${state}`, working: `${sum}${around}`, result: ohmsText(marked), source: null },
      {
        what: 'At the controller',
        working: `${ohmsText(marked)}${around} + cable`,
        result: ohmsRangeText(lowOhms, highOhms),
        source: null,
      },
    ],
  }
}

const missingResistor = (point: LoopPoint): SettingQuestion => ({
  words: `Which resistors has the loop of ${point.name}?`,
  whoCanSay: 'the controller’s instructions, or a look at the contact',
})

const spanText = (wire: { readonly lowOhms: number; readonly highOhms: number }): string =>
  ohmsRangeText(wire.lowOhms, wire.highOhms)

/** A short may lie anywhere from the controller's terminals to the device. */
function shortReading(wire: CableOhms): Worked {
  if (!wire.known) return { reading: { form: 'not known', questions: wire.questions }, steps: [] }
  return {
    reading: { form: 'ohms', markedOhms: 0, lowOhms: 0, highOhms: wire.highOhms },
    steps: [
      ...wire.steps,
      {
        what: 'Cable shorted',
        working: 'from the controller’s terminals to the far end',
        result: ohmsRangeText(0, wire.highOhms),
        source: null,
      },
    ],
  }
}

interface CircumstanceState {
  readonly circumstance: string
  readonly state: ContactState | null
}

/** Each circumstance by name, turned by the changeover's side and by a jumper. */
function statesOf(contact: LoopContact, questions: SettingQuestion[]): CircumstanceState[] {
  const { form, wiredTo, turnedRound } = contact
  if (form === 'changeover' && wiredTo === null)
    questions.push({
      words: `Which side of ${contact.name} is in the loop, normally open or normally closed?`,
      whoCanSay: 'the wiring drawing, or whoever terminates it',
    })
  if (!turnedRound.known)
    questions.push({
      words: `How is ${turnedRound.question.setting} of ${turnedRound.question.thing} set?`,
      whoCanSay: 'whoever set it on the bench, or a look under the cover',
    })
  const rank = (name: string): number => (usualCircumstances.has(name) ? 0 : name === withoutPower ? 2 : 1)
  return contact.states
    .map(({ circumstance, closed }): CircumstanceState => {
      if (form === 'changeover' && wiredTo === null) return { circumstance, state: null }
      let isClosed = form === 'changeover' && wiredTo === 'normally closed' ? !closed : closed
      if (circumstance !== withoutPower) {
        if (!turnedRound.known) return { circumstance, state: null }
        if (turnedRound.value) isClosed = !isClosed
      }
      return { circumstance, state: isClosed ? 'closed' : 'open' }
    })
    .toSorted(
      (one, other) =>
        rank(one.circumstance) - rank(other.circumstance) || (one.circumstance < other.circumstance ? -1 : 1),
    )
}

/** The contact's state while all is as it should be; null with a question where the part does not say, or says two things. */
function normalState(
  point: LoopPoint,
  contact: LoopContact | null,
  states: readonly CircumstanceState[],
  questions: SettingQuestion[],
): ContactState | null {
  const usual = states.filter(({ circumstance }) => usualCircumstances.has(circumstance))
  const told = new Set(usual.map(({ state }) => state))
  const [only = null] = told
  if (told.size === 1) return only
  if (contact !== null)
    questions.push({
      words: `Is ${contact.name} of ${point.name} open or closed while all is as it should be?`,
      whoCanSay: 'the part’s instructions, or a meter at the contact',
    })
  return null
}

const notKnownContact = (contact: LoopContact | null, circumstance: string): Worked => ({
  reading: {
    form: 'not known',
    questions: [
      {
        words: `Is ${contact?.name ?? 'the contact'} open or closed when: ${circumstance}?`,
        whoCanSay: 'the part’s instructions, or a meter at the contact',
      },
    ],
  },
  steps: [],
})

function stateOf(
  circumstance: string,
  meaning: LoopMeaning,
  contact: ContactState | null,
  reading: LoopReading,
  steps: readonly Step[],
): LoopState {
  return { circumstance, meaning, contact, reading, steps, words: readingWords(reading) }
}

/** "1001 to 1004 ohm", "open circuit", "not known". */
export const readingWords = (reading: LoopReading): string =>
  reading.form === 'ohms' ? ohmsRangeText(reading.lowOhms, reading.highOhms) : reading.form

function addDisagreements(
  point: LoopPoint,
  contact: LoopContact | null,
  states: readonly CircumstanceState[],
  normal: ContactState | null,
  disagreements: LoopDisagreement[],
): void {
  if (contact === null || normal === null) return
  const usual = states.find(({ circumstance }) => usualCircumstances.has(circumstance))?.circumstance ?? ''
  const isOne = point.loop === 'one resistor'
  if (isOne && point.parallelOhms !== null && point.seriesOhms === null && normal === 'closed')
    disagreements.push({
      code: 'resistor across a contact that is closed while normal',
      words: `${point.name}: ${contact.name} is closed when: ${usual}, so the resistor across it is never seen while all is well, and a short looks normal.`,
    })
  if (isOne && point.seriesOhms !== null && point.parallelOhms === null && normal === 'open')
    disagreements.push({
      code: 'resistor in line with a contact that is open while normal',
      words: `${point.name}: ${contact.name} is open when: ${usual}, so the resistor in line is never seen while all is well, and a cut looks normal.`,
    })
  if (point.normally !== null && point.normally !== normal)
    disagreements.push({
      code: 'normal is taken for active',
      words: `${point.name} takes a contact that is ${point.normally} as normal, but ${contact.name} is ${normal} when: ${usual}.`,
    })
  const told = states.filter(({ circumstance }) => circumstance !== withoutPower)
  if (told.length > 1 && told.every(({ state }) => state === normal))
    disagreements.push({
      code: 'contact never changes',
      words: `${point.name}: ${contact.name} is ${normal} in every circumstance that its part tells.`,
    })
}
