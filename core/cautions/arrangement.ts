// Which accepted arrangement stands behind the way out. Each asks for different things, so this comes first.
import type { AcceptedArrangement, Because, ConditionName, ConditionResult } from '../behaviour/index.ts'
import type { Facts } from './answers.ts'
import { all, anyOf, no, not, says, unknown, yes, type Check, type Missing } from './checks.ts'
import type { FittingTraits } from './traits.ts'
import {
  anyHold,
  conditionsByName,
  contactSteps,
  isHeld,
  noFittings,
  notWorkedOut,
  opensAtOnce,
  outOpensIn,
  waits,
  wayOut,
  type Conditions,
  type OpeningToJudge,
} from './view.ts'

export const arrangements = [
  'free hardware',
  'sensor release',
  'release by hardware',
  'delayed',
  'staff-controlled',
  'elevator lobby',
  'not recognised',
] as const
export type Arrangement = (typeof arrangements)[number]

export interface Recognition {
  readonly wayOut: Arrangement | 'not known'
  /** What stands beside it and asks for more. */
  readonly also: readonly ('stair re-entry' | 'hold-open')[]
  readonly reasons: readonly string[]
  readonly missing: readonly Missing[]
}

/** Recognises the arrangement from behaviour and declared traits; nothing is typed in. */
export function recogniseArrangement(opening: OpeningToJudge): Recognition {
  const conditions = conditionsByName(opening.behaviour)
  const found = recogniseWayOut(opening, conditions)
  return { ...found, also: alsoThere(opening, conditions) }
}

type Found = Omit<Recognition, 'also'>
const found = (wayOut: Arrangement, reason: string): Found => ({ wayOut, reasons: [reason], missing: [] })
const notKnown = (...checks: readonly Check[]): Found => {
  const whole = all(...checks)
  return {
    wayOut: 'not known',
    reasons: ['The way out cannot be recognised before the missing facts are answered.'],
    missing: whole.is === 'unknown' ? whole.missing : [],
  }
}

function recogniseWayOut(opening: OpeningToJudge, conditions: Conditions): Found {
  const [secured] = conditions.get('secured') ?? []
  if (secured === undefined) return notKnown(notWorkedOut('secured'))
  const out = wayOut(secured)
  const opens = opensAtOnce(out, 'held or delayed')
  if (opens.is === 'yes') return recogniseOpen(opening, conditions, secured)
  const isDelayed = waits(out, 'no delay')
  if (isDelayed.is === 'yes') return found('delayed', 'Secured, the way out waits before it lets go.')
  const held = isHeld(out, 'not held')
  if (held.is !== 'yes') return notKnown(opens.is === 'unknown' ? opens : held)
  return recogniseHeld(opening, conditions)
}

/** Secured, people get out at once. That must be so in every other condition too. */
function recogniseOpen(opening: OpeningToJudge, conditions: Conditions, secured: ConditionResult): Found {
  const doubts: Check[] = []
  for (const result of opening.behaviour) {
    const out = wayOut(result)
    if (waits(out, 'no delay').is === 'yes')
      return found('delayed', `The way out waits in the condition "${result.condition.name}".`)
    const opens = opensAtOnce(out, `Held in the condition "${result.condition.name}".`)
    if (opens.is === 'no')
      return found(
        'not recognised',
        `Free when secured, but held in the condition "${result.condition.name}".`,
      )
    doubts.push(opens)
  }
  for (const name of ['no power', 'fire alarm'] as const)
    if (!conditions.has(name)) doubts.push(notWorkedOut(name))
  const doubt = all(...doubts)
  if (doubt.is !== 'yes') return notKnown(doubt)
  if (contactSteps(wayOut(secured)).some(({ because }) => isByMotion(because)))
    return found('release by hardware', 'The motion of the hardware makes the lock let go.')
  if (wayOut(secured).form === 'free')
    return found('free hardware', 'Nothing holds the way out in any condition.')
  return found('free hardware', 'The hardware lets people out in every condition, with or without power.')
}

/** Secured, nothing but the motion of the hardware changes a contact or asks a controller. */
const isByMotion = (because: Because): boolean =>
  because.why === 'motion' ||
  (because.why === 'ordered' && because.by.some(({ order }) => order === 'device'))

function recogniseHeld(opening: OpeningToJudge, conditions: Conditions): Found {
  const sensor = hasSensor(opening, conditions)
  if (sensor.is === 'yes')
    return found('sensor release', 'The way out is held, and a sensor is there to free it for whoever comes.')
  const staff = freesBy(conditions, 'staff release')
  if (sensor.is === 'no' && staff.is === 'yes')
    return found('staff-controlled', 'The way out is held, and staff can free it.')
  const lobby = all(
    says(opening.facts, 'elevator-lobby-door', 'It is no elevator lobby door.'),
    outOpensIn({ conditions }, 'fire alarm', 'The fire alarm does not free it.'),
    outOpensIn({ conditions }, 'no power', 'It is held without power.'),
  )
  if (sensor.is === 'no' && staff.is === 'no' && lobby.is === 'yes')
    return found(
      'elevator lobby',
      'The way out of an elevator lobby is held, and alarm and loss of power free it.',
    )
  if (sensor.is === 'no' && staff.is === 'no' && lobby.is === 'no')
    return found(
      'not recognised',
      `The way out is held; no sensor, hardware, delay or staff release frees it. ${lobby.words}`,
    )
  return notKnown(...[sensor, staff, lobby].filter((check) => check.is === 'unknown'))
}

/** Whether one of the exit devices senses people. */
function hasSensor(opening: OpeningToJudge, conditions: Conditions): Check {
  if (opening.fittings === null) return noFittings
  const byId = new Map(opening.fittings.map((fitting) => [fitting.id, fitting]))
  const checks = (conditions.get('exit asked') ?? []).map(({ condition }) =>
    senses(
      condition.of === null ? undefined : byId.get(condition.of.id),
      condition.of?.name ?? 'exit device',
    ),
  )
  return anyOf('No exit sensor.', ...checks)
}

function senses(fitting: FittingTraits | undefined, name: string): Check {
  if (fitting === undefined || fitting.worked === 'not known' || fitting.worked === null)
    return unknown({ about: 'trait', fitting: fitting?.name ?? name, trait: 'how it is worked' })
  return fitting.worked === 'approach' ? yes : no('It senses nobody.')
}

function freesBy(conditions: Conditions, name: ConditionName): Check {
  const results = conditions.get(name) ?? []
  return anyOf('Nobody can free it.', ...results.map((result) => opensAtOnce(wayOut(result), 'held')))
}

function alsoThere(opening: OpeningToJudge, conditions: Conditions): Recognition['also'] {
  const [secured] = conditions.get('secured') ?? []
  const heldIn = secured !== undefined && isHeld(secured.in, 'not held').is === 'yes'
  const isStair = says(opening.facts, 'stair-door', 'It is no stair door.').is === 'yes'
  const holdsOpen = anyHold(opening, ({ grip }) => grip === 'holds the leaf open', 'no').is === 'yes'
  return [
    ...(heldIn && isStair ? (['stair re-entry'] as const) : []),
    ...(holdsOpen ? (['hold-open'] as const) : []),
  ]
}

/** Whether the recognised arrangement is one of these; not known while it is not known. */
export function isArranged(recognition: Recognition, ...wanted: readonly Arrangement[]): Check {
  if (recognition.wayOut === 'not known') return unknown(...recognition.missing)
  return wanted.includes(recognition.wayOut) ? yes : arrangedAs[recognition.wayOut]
}

const arrangedAs: Readonly<Record<Arrangement, Check>> = {
  'free hardware': no('The hardware gives a free way out.'),
  'sensor release': no('The way out is by sensor release.'),
  'release by hardware': no('The way out is by release through the hardware.'),
  delayed: no('The way out is delayed.'),
  'staff-controlled': no('Staff control the way out.'),
  'elevator lobby': no('The way out is that of an elevator lobby.'),
  'not recognised': no('No accepted arrangement was recognised.'),
}

const whileSecured: readonly ConditionName[] = [
  'secured',
  'open hours',
  'credential shown',
  'key turned',
  'other opening open',
  'mains lost',
  'controller silent',
]

/** In which conditions the arrangement may hold the way out, for marking who cannot get out. */
export function acceptedArrangement({ wayOut }: Recognition): AcceptedArrangement | null {
  switch (wayOut) {
    case 'free hardware':
    case 'release by hardware':
    case 'delayed':
      return { name: wayOut, mayHoldOutIn: [] }
    case 'sensor release':
      return { name: wayOut, mayHoldOutIn: [...whileSecured, 'staff release'] }
    case 'staff-controlled':
    case 'elevator lobby':
      return { name: wayOut, mayHoldOutIn: [...whileSecured, 'exit asked', 'sensor lost', 'manual release'] }
    case 'not recognised':
    case 'not known':
      return null
  }
}

/** Arrangements whose lock alarm and loss of power must free; areas of care that are exempt are left out. */
export function mustLetGo(
  view: {
    readonly facts: Facts
    readonly arrangement: Recognition
  },
  ...others: readonly Arrangement[]
): Check {
  const { arrangement } = view
  const plain = isArranged(arrangement, ...others)
  if (arrangement.wayOut !== 'staff-controlled') return plain
  return not(
    says(view.facts, 'care-exempt-area', 'no'),
    'Areas for psychiatric or cognitive treatment, or with a listed system against abduction, are exempt.',
  )
}
