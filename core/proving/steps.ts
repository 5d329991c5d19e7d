// The test of an opening, worked out: do this, expect that, within these limits. Nothing is typed in for a result.
import {
  easeWords,
  latchedWords,
  questionSentence,
  sentencesOf,
  type Condition,
  type ConditionName,
  type ConditionResult,
  type Passage,
  type Truth,
} from '../behaviour/index.ts'

/** What a step proves, in the order of the walk: nothing is tried before its settings and volts are right. */
export const proofParts = ['settings', 'volts', 'loops', 'behaviour', 'cautions'] as const
export type ProofPart = (typeof proofParts)[number]

/** What is read, and between which limits it passes; a limit that is null is none. */
export interface Measured {
  readonly unit: 'V' | 'ohm' | 's'
  readonly low: number | null
  readonly high: number | null
}

export interface ProofStep {
  /** The same for the same step of this opening, whatever is expected of it. */
  readonly key: string
  readonly part: ProofPart
  /** The condition it proves; null where it is none. */
  readonly condition: ConditionName | null
  readonly fittingId: string | null
  /** What to do, as one reads it at the door. */
  readonly does: string
  /** What must be seen. Null while facts are missing: such a step cannot be passed. */
  readonly expected: string | null
  readonly measured: Measured | null
  /** What could hurt somebody while it is done. */
  readonly caution: string | null
  /** Why it is expected, or which facts are missing. */
  readonly because: readonly string[]
}

/** A setting as it was designed. */
export interface SettingToProve {
  readonly fittingId: string | null
  readonly tag: string
  readonly setting: string
  readonly settingId: string
  /** Null: nobody designed it. */
  readonly designed: string | null
  readonly question: string | null
}

/** A device that is fed, with what it should have while it holds. */
export interface DeviceToProve {
  readonly fittingId: string
  readonly name: string
  /** Worked out, at nominal volts; null is not known. */
  readonly volts: number | null
  readonly window: { readonly minimumVolts: number; readonly maximumVolts: number } | null
  readonly questions: readonly string[]
}

/** What a point's input sees in one circumstance that somebody can bring about at the door. */
export interface LoopToProve {
  readonly pointId: string
  readonly pointName: string
  readonly controller: string
  readonly fittingId: string | null
  readonly circumstance: string
  readonly reading:
    | { readonly form: 'ohms'; readonly lowOhms: number; readonly highOhms: number }
    | { readonly form: 'open circuit' }
    | { readonly form: 'not known'; readonly questions: readonly string[] }
}

/** What the cautions were told about this opening, and can be seen there. */
export interface FactToProve {
  readonly key: string
  readonly question: string
  /** Null: nobody has answered it, and a rule waits for it. */
  readonly answer: string | null
}

export interface OpeningToProve {
  readonly settings: readonly SettingToProve[]
  readonly devices: readonly DeviceToProve[]
  readonly loops: readonly LoopToProve[]
  /** What the doorway does in each condition; none where it cannot be judged. */
  readonly results: readonly {
    readonly result: ConditionResult
    /** Whether a person cannot get out and no accepted arrangement covers it. */
    readonly trapped: Truth
  }[]
  readonly facts: readonly FactToProve[]
}

/** Every step of an opening's test, in the order of the walk. */
export const proofSteps = (opening: OpeningToProve): readonly ProofStep[] => [
  ...opening.settings.map(settingStep),
  ...opening.devices.map(deviceStep),
  ...opening.loops.map(loopStep),
  ...opening.results.map(conditionStep),
  ...opening.facts.map(factStep),
]

const plainStep = { condition: null, fittingId: null, measured: null, caution: null, because: [] } as const

const settingStep = ({
  fittingId,
  tag,
  setting,
  settingId,
  designed,
  question,
}: SettingToProve): ProofStep => ({
  ...plainStep,
  key: `setting ${tag} ${settingId}`,
  part: 'settings',
  fittingId,
  does: `Look at ${setting} of ${tag}.`,
  expected: designed,
  because: question === null ? [] : [question],
})

const twoDecimals = (value: number): string => String(Number(value.toFixed(2)))

function deviceStep({ fittingId, name, volts, window, questions }: DeviceToProve): ProofStep {
  const expected =
    window === null
      ? null
      : `between ${twoDecimals(window.minimumVolts)} and ${twoDecimals(window.maximumVolts)} V` +
        (volts === null ? '' : `; worked out ${twoDecimals(volts)} V`)
  return {
    ...plainStep,
    key: `volts ${name}`,
    part: 'volts',
    fittingId,
    does: `Measure the volts at the terminals of ${name} while it is fed, with everything on its output working.`,
    expected,
    measured: { unit: 'V', low: window?.minimumVolts ?? null, high: window?.maximumVolts ?? null },
    because: questions,
  }
}

const circumstanceDeeds: Readonly<Record<string, string>> = {
  'door shut': 'with the door shut',
  'door open': 'with the door open',
  'at rest': 'with nobody at the door',
  'cover off': 'with the cover off',
  'bolt thrown': 'with the bolt thrown',
  'exit asked': 'while somebody asks to leave',
  'fire alarm': 'while the fire alarm lasts',
  'key turned': 'with the key turned',
  'cable cut': 'with one conductor taken off at the device',
  'cable shorted': 'with the two conductors joined at the device',
}

function loopStep({
  pointId,
  pointName,
  controller,
  fittingId,
  circumstance,
  reading,
}: LoopToProve): ProofStep {
  const key = `loop ${pointId} ${circumstance}`
  const deed = circumstanceDeeds[circumstance] ?? `with ${circumstance}`
  const does = `Measure ${pointName} at the input of ${controller}, ${deed}.`
  const caution = 'Take the conductors off the input before they are measured.'
  const step = { ...plainStep, key, part: 'loops', fittingId, does, caution } as const
  switch (reading.form) {
    case 'ohms': {
      const { lowOhms, highOhms } = reading
      const [low, high] = [Math.round(lowOhms), Math.round(highOhms)]
      return {
        ...step,
        expected: low === high ? `${low} ohm` : `${low} to ${high} ohm`,
        measured: { unit: 'ohm', low: lowOhms, high: highOhms },
      }
    }
    case 'open circuit':
      return { ...step, expected: 'open circuit', measured: null }
    case 'not known':
      return { ...step, expected: null, measured: null, because: reading.questions }
  }
}

/** What to do to bring a condition about. */
function conditionDeed({ name, of }: Condition): string {
  const thing = of?.name ?? 'it'
  const bothSides = 'try the door from the keyed side, then from the egress side'
  switch (name) {
    case 'secured':
      return `With the door shut and nobody asking, ${bothSides}.`
    case 'open hours':
      return `With the controller in open hours, ${bothSides}.`
    case 'credential shown':
      return `Show a good credential at ${thing}; try the door from the keyed side.`
    case 'exit asked':
      return `Ask to leave at ${thing}; try the door from the egress side.`
    case 'manual release':
      return `Press ${thing}; try the door from the egress side.`
    case 'key turned':
      return `Turn ${thing} by key; ${bothSides}.`
    case 'staff release':
      return `Have ${thing} worked by the staff; ${bothSides}.`
    case 'other opening open':
      return `Hold ${thing} open; ${bothSides}.`
    case 'fire alarm':
      return `With the fire alarm contractor, bring the fire alarm on; ${bothSides}. Then reset it and see the door secure again.`
    case 'mains lost':
      return `Switch the mains of its supply off, the battery left on; ${bothSides}.`
    case 'no power':
      return `Take both mains and battery off its supply; ${bothSides}.`
    case 'sensor lost':
      return `Take the feed off ${thing}; try the door from the egress side.`
    case 'controller silent':
      return `Take the power off the controller; ${bothSides}.`
    case 'together':
      return `Bring these about together; ${bothSides}.`
  }
}

const cautionsOfConditions: Partial<Record<ConditionName, string>> = {
  'fire alarm':
    'Tell the building, the monitoring station and the fire alarm contractor before the alarm is brought on, and again when it is over.',
  'no power': 'Other openings on this supply lose their power too. Post somebody where that matters.',
  'mains lost':
    'Other openings on this supply go on battery too. Switch the mains back on before the battery is low.',
}

/** Conditions in which only one way is asked about. */
const onlyOut: ReadonlySet<ConditionName> = new Set(['exit asked', 'manual release', 'sensor lost'])
const onlyIn: ReadonlySet<ConditionName> = new Set(['credential shown'])

const nobodyGetsOut =
  'As it is designed, a person cannot get out in this condition. Put that right before it is proved, and do not put the opening into use.'

function conditionStep({ result, trapped }: OpeningToProve['results'][number]): ProofStep {
  const { condition } = result
  const { name, of } = condition
  const ways = [
    ...(onlyOut.has(name) ? [] : [['In', result.in] as const]),
    ...(onlyIn.has(name) ? [] : [['Out', result.out] as const]),
  ]
  const step = {
    ...plainStep,
    key: of === null ? `condition ${name}` : `condition ${name} ${of.id}`,
    part: 'behaviour',
    condition: name,
    does: conditionDeed(condition),
    caution: cautionsOfConditions[name] ?? null,
  } as const
  if (trapped === 'yes') return { ...step, expected: null, because: [nobodyGetsOut] }
  const missing = ways.flatMap(([, passage]) => (passage.form === 'not known' ? passage.missing : []))
  if (missing.length > 0)
    return { ...step, expected: null, because: [...new Set(missing.map(questionSentence))] }
  const latches = result.leaves.map(({ leaf, latched }) => {
    const whose = result.leaves.length === 1 ? '' : ` ${leaf.name}`
    return latched.form === 'not known' ? '' : `${capital(`${whose} ${latchedWords(latched)}`.trim())}.`
  })
  const told = ways.map(([way, passage]) => `${way} ${easeOf(passage)}.`)
  return {
    ...step,
    expected: [...told, ...latches].filter((each) => each !== '').join(' '),
    measured: waitOf(ways.map(([, passage]) => passage)),
    because: [...new Set(ways.flatMap(([, passage]) => sentencesOf(passage)))],
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const easeOf = (passage: Passage): string => (passage.form === 'not known' ? '' : easeWords(passage))

/** A delay is timed; it may be shorter than designed, never longer. */
function waitOf(passages: readonly Passage[]): Measured | null {
  const seconds = passages.flatMap((each) => (each.form === 'waits' ? [each.seconds] : []))
  return seconds.length === 0 ? null : { unit: 's', low: null, high: Math.max(...seconds) }
}

const factStep = ({ key, question, answer }: FactToProve): ProofStep => ({
  ...plainStep,
  key: `fact ${key}`,
  part: 'cautions',
  does: `See at the opening: ${question}`,
  expected: answer,
  because:
    answer === null
      ? ['Nobody has answered this yet. Answer it under Cautions, or on the opening’s page.']
      : [],
})
