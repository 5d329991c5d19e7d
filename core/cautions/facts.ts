// What the rules ask. The register is closed: a rule can read no fact that has no question here.

/** Who can usually answer. `fire marshal` stands for the authority having jurisdiction. */
export const answerers = [
  'architect',
  'fire marshal',
  'owner',
  'door supplier',
  'fire alarm contractor',
  'integrator on site',
] as const
export type Answerer = (typeof answerers)[number]

/** Where a fact usually belongs. An answer may stand at any wider place and is overridden nearer the opening. */
export type FactPlace = 'job' | 'level' | 'typical' | 'opening' | 'fitting'

export type FactUnit = 'in.' | 'ft' | 's' | 'lbf' | 'A' | 'people' | 'stories' | 'minutes' | 'doors'

export type FactForm =
  | { readonly form: 'yes or no' }
  | { readonly form: 'number'; readonly unit: FactUnit }
  | { readonly form: 'one of'; readonly of: readonly string[] }
  | { readonly form: 'some of'; readonly of: readonly string[] }

export interface FactQuestion {
  readonly question: string
  readonly answer: FactForm
  readonly belongsTo: FactPlace
  readonly answeredBy: Answerer
}

export const years = ['2018', '2021', '2024'] as const
export type Year = (typeof years)[number]
const editions = ['none', ...years] as const

/** Occupancy groups of the IBC. A plain I is left out: its subgroups are treated too differently. */
export const occupancyGroups = [
  'A',
  'A-1',
  'A-2',
  'A-3',
  'A-4',
  'A-5',
  'B',
  'E',
  'F',
  'F-1',
  'F-2',
  'H',
  'H-1',
  'H-2',
  'H-3',
  'H-4',
  'H-5',
  'I-1',
  'I-2',
  'I-3',
  'I-4',
  'M',
  'R',
  'R-1',
  'R-2',
  'R-3',
  'R-4',
  'S',
  'S-1',
  'S-2',
  'U',
] as const
export type OccupancyGroup = (typeof occupancyGroups)[number]

const yesOrNo = { form: 'yes or no' } as const
const number = <U extends FactUnit>(unit: U) => ({ form: 'number', unit }) as const
const oneOf = <const T extends readonly string[]>(...of: T) => ({ form: 'one of', of }) as const
const ask = <F extends FactForm>(
  belongsTo: FactPlace,
  answeredBy: Answerer,
  answer: F,
  question: string,
): FactQuestion & { readonly answer: F } => ({ question, answer, belongsTo, answeredBy })

export const facts = {
  // The code and the building.
  'ibc-edition': ask('job', 'architect', oneOf(...editions), 'Which edition of the IBC applies, if any?'),
  'nfpa-101-edition': ask(
    'job',
    'fire marshal',
    oneOf(...editions),
    'Does NFPA 101 apply too, and which edition?',
  ),
  'occupancy-groups': ask(
    'level',
    'architect',
    { form: 'some of', of: occupancyGroups },
    'Which occupancy groups does this door serve?',
  ),
  sprinklered: ask('job', 'architect', yesOrNo, 'Is the building sprinklered throughout?'),
  'fire-detection': ask(
    'job',
    'architect',
    yesOrNo,
    'Has the building approved automatic smoke or heat detection throughout?',
  ),
  'fire-alarm': ask('job', 'architect', yesOrNo, 'Has the building a fire alarm system?'),
  'high-rise': ask('job', 'architect', yesOrNo, 'Is the building a high-rise?'),
  stories: ask('job', 'architect', number('stories'), 'How many stories has the building?'),
  'sprinkler-unlocks': ask(
    'job',
    'fire alarm contractor',
    yesOrNo,
    'Does sprinkler flow or automatic fire detection free the locks, through the fire alarm or directly?',
  ),
  'unlocked-until-reset': ask(
    'job',
    'fire alarm contractor',
    yesOrNo,
    'Do locks freed by the fire alarm stay free until the alarm is reset by hand?',
  ),
  'lock-supply-independent': ask(
    'job',
    'integrator on site',
    yesOrNo,
    'Are the lock supplies independent of the fire alarm, used for locks and access only, and do their locks let go without power?',
  ),
  'unlocks-within-10-minutes': ask(
    'job',
    'fire alarm contractor',
    yesOrNo,
    'Does the fire alarm control unit free the locks within 10 minutes of losing its primary power?',
  ),

  // The opening's place in the way out.
  'required-way-out': ask('opening', 'architect', yesOrNo, 'Is this door in a required way out?'),
  'occupant-load': ask('opening', 'architect', number('people'), 'How many people does this door serve?'),
  'high-hazard-people': ask(
    'opening',
    'architect',
    number('people'),
    'How many people are in high-hazard contents behind this door? 0 where there are none.',
  ),
  'main-entrance': ask('opening', 'architect', yesOrNo, 'Is this the main entrance?'),
  swings: ask('opening', 'architect', yesOrNo, 'Does this door swing (not slide, fold or roll)?'),
  classroom: ask('opening', 'architect', yesOrNo, 'Does this door serve a classroom?'),
  courtroom: ask('opening', 'architect', yesOrNo, 'Does this door serve a courtroom?'),
  'stair-door': ask('opening', 'architect', yesOrNo, 'Does this door lead from a floor into a stair?'),
  'stair-stories': ask('opening', 'architect', number('stories'), 'How many stories does this stair serve?'),
  'stair-discharge': ask(
    'opening',
    'architect',
    yesOrNo,
    'Is this the door through which the stair lets people out?',
  ),
  'stair-remote-unlock': ask(
    'opening',
    'integrator on site',
    yesOrNo,
    'Does one signal from the fire command centre, or from one place inside the main entrance where there is none, unlock all doors of this stair at once without drawing their latches?',
  ),
  'stair-selected-re-entry': ask(
    'opening',
    'fire marshal',
    yesOrNo,
    'Is this stair accepted as one with selected re-entry?',
  ),
  'stair-telephones': ask(
    'opening',
    'architect',
    yesOrNo,
    'Has this stair a two-way communication point at least at every fifth floor?',
  ),
  'elevator-lobby-door': ask(
    'opening',
    'architect',
    yesOrNo,
    'Is this the door from an elevator lobby that people would pass to reach an exit?',
  ),
  'doors-in-series': ask(
    'opening',
    'architect',
    yesOrNo,
    'Do people pass a second door right after this one?',
  ),
  'series-clear-space': ask(
    'opening',
    'architect',
    number('in.'),
    'How far apart are the two doors in series?',
  ),
  'series-swing': ask(
    'opening',
    'architect',
    number('in.'),
    'How wide is the leaf that swings into the space between the two doors? 0 where none does.',
  ),
  'electrical-room': ask(
    'opening',
    'architect',
    oneOf(
      'no',
      'electrical equipment',
      'battery or energy storage',
      'transformer vault',
      'modular data centre',
    ),
    'Does this door serve an electrical room, and of what kind?',
  ),
  'equipment-amps': ask(
    'opening',
    'architect',
    number('A'),
    'What is the largest rating of the equipment in that room?',
  ),
  'equipment-over-600-volts': ask(
    'opening',
    'architect',
    yesOrNo,
    'Is any equipment in that room rated 600 V or more?',
  ),
  'equipment-over-6-feet': ask('opening', 'architect', yesOrNo, 'Is that equipment more than 6 ft wide?'),
  'working-space-distance': ask(
    'opening',
    'architect',
    number('ft'),
    'How far is this door from the working space at that equipment?',
  ),

  // The fire door.
  'fire-label-minutes': ask(
    'opening',
    'architect',
    number('minutes'),
    'What fire label does this door bear, in minutes? 0 where it bears none.',
  ),
  'strike-labelled': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Is the electric strike listed for fire doors?',
  ),
  'magnet-labelled': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Is the magnet labelled for use on fire doors?',
  ),
  'field-holes': ask(
    'opening',
    'integrator on site',
    oneOf('none', 'round holes', 'function holes', 'larger holes allowed by both listings', 'cut pockets'),
    'What was or will be drilled or cut into the labelled door or frame on site?',
  ),
  'largest-field-hole': ask(
    'opening',
    'integrator on site',
    number('in.'),
    'How wide is the largest round hole drilled on site, cylinders apart?',
  ),
  'field-change-approved': ask(
    'opening',
    'fire marshal',
    yesOrNo,
    'Has the listing laboratory approved the change to the labelled door or frame beforehand?',
  ),
  'field-raceway': ask(
    'opening',
    'door supplier',
    oneOf('none', 'prepared by the door maker', 'drilled on site'),
    'How does the wire get through the leaf or frame?',
  ),
  'raceway-permitted': ask(
    'opening',
    'door supplier',
    yesOrNo,
    'Does the listing laboratory permit that raceway to be drilled on site?',
  ),

  // Hardware and controls.
  'hardware-height': ask(
    'typical',
    'door supplier',
    number('in.'),
    'How high above the floor is the hardware that opens the door?',
  ),
  'hardware-one-hand': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Can the hardware be worked with one hand, without tight grip, pinch or twist of the wrist?',
  ),
  'hardware-obvious': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Is it obvious how to work the hardware, in all lighting conditions?',
  ),
  'control-height': ask(
    'typical',
    'integrator on site',
    number('in.'),
    'How high above the floor are the reader and the buttons (the highest one)?',
  ),
  'listed-ul-294': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Is the electric locking of this door listed to UL 294?',
  ),
  'panic-hardware-listed': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Is the panic hardware listed to UL 305 (on a fire door also to UL 10C, as fire exit hardware)?',
  ),
  'panic-half-width': ask(
    'typical',
    'door supplier',
    yesOrNo,
    'Is the part that people push at least half as wide as the leaf?',
  ),
  'panic-unlatching-force': ask(
    'typical',
    'integrator on site',
    number('lbf'),
    'How much force unlatches the panic hardware?',
  ),
  'emergency-lighting': ask(
    'opening',
    'architect',
    yesOrNo,
    'Is there emergency lighting on the egress side of this door?',
  ),

  // The manual release of a sensor release.
  'manual-release-height': ask(
    'opening',
    'integrator on site',
    number('in.'),
    'How high above the floor is the manual release?',
  ),
  'manual-release-distance': ask(
    'opening',
    'integrator on site',
    number('ft'),
    'How far is the manual release from the door it frees?',
  ),
  'manual-release-seconds': ask(
    'typical',
    'integrator on site',
    number('s'),
    'For how many seconds does the manual release keep the door free once pressed?',
  ),
  'manual-release-ready': ask(
    'opening',
    'integrator on site',
    yesOrNo,
    'Can people reach the manual release at once, with nothing in front of it?',
  ),
  'manual-release-sign': ask(
    'opening',
    'integrator on site',
    oneOf('PUSH TO EXIT', 'other words', 'none'),
    'What does the sign at the manual release say?',
  ),

  // Delayed egress.
  'delay-chapter-permits': ask(
    'level',
    'fire marshal',
    yesOrNo,
    'Does the occupancy chapter of NFPA 101 permit delayed egress here?',
  ),
  'delay-30-approved': ask(
    'opening',
    'fire marshal',
    yesOrNo,
    'Is a delay of 30 seconds approved for this door?',
  ),
  'delay-effort-seconds': ask(
    'opening',
    'integrator on site',
    number('s'),
    'For how many seconds must a person push before the delay starts?',
  ),
  'delay-effort-force': ask(
    'opening',
    'integrator on site',
    number('lbf'),
    'How hard must a person push to start the delay?',
  ),
  'delay-irreversible': ask(
    'opening',
    'integrator on site',
    yesOrNo,
    'Once started, does the release go on to the end whatever the person does?',
  ),
  'delay-audible': ask(
    'opening',
    'integrator on site',
    yesOrNo,
    'Does a signal near the door sound when the delay starts?',
  ),
  'delay-relock-by-hand': ask(
    'opening',
    'integrator on site',
    yesOrNo,
    'Can the delay be set again only by hand, at the door?',
  ),
  'delay-remote-off': ask(
    'opening',
    'integrator on site',
    yesOrNo,
    'Can the delay be taken off from the fire command centre or another approved place?',
  ),
  'delayed-doors-in-path': ask(
    'opening',
    'architect',
    number('doors'),
    'How many delayed doors does a person pass on the way out, this one included?',
  ),
  'delay-seconds-in-path': ask(
    'opening',
    'architect',
    number('s'),
    'How long do the delays on that way out take together?',
  ),
  'delay-sign': ask(
    'opening',
    'integrator on site',
    oneOf('15 SECONDS', '30 SECONDS', 'other words', 'none'),
    'Which sign is on the door: PUSH (or PULL) UNTIL ALARM SOUNDS, DOOR CAN BE OPENED IN how many seconds?',
  ),
  'delay-sign-distance': ask(
    'opening',
    'integrator on site',
    number('in.'),
    'How far above the hardware is that sign?',
  ),
  'delay-sign-letters': ask(
    'opening',
    'integrator on site',
    number('in.'),
    'How high are the letters of that sign?',
  ),

  // Staff-controlled egress.
  'clinical-need': ask(
    'opening',
    'owner',
    yesOrNo,
    'Do the clinical needs of people in care here require that they be kept in?',
  ),
  'care-exempt-area': ask(
    'opening',
    'owner',
    yesOrNo,
    'Is this a psychiatric or cognitive treatment area, or one with a listed system against the abduction of children?',
  ),
  'controlled-doors-in-path': ask(
    'opening',
    'architect',
    number('doors'),
    'How many staff-controlled doors does a person pass before an exit, this one included?',
  ),
  'release-in-emergency-plan': ask(
    'job',
    'owner',
    yesOrNo,
    'Are the steps to free these doors in the approved emergency plan?',
  ),
  'staff-carry-release': ask(
    'job',
    'owner',
    yesOrNo,
    'Does every member of the clinical staff carry the key, code or credential that frees these doors?',
  ),
  'staff-switch-approved-place': ask(
    'opening',
    'fire marshal',
    yesOrNo,
    'Is the switch that frees this door at the fire command centre, a nursing station or another approved place?',
  ),

  // Elevator lobby.
  'lobby-chapter-permits': ask(
    'level',
    'fire marshal',
    yesOrNo,
    'Does the occupancy chapter of NFPA 101 permit the elevator lobby door to be locked?',
  ),
  'lobby-smoke-detection': ask(
    'level',
    'fire alarm contractor',
    yesOrNo,
    'Is there supervised smoke detection in the elevator lobby that starts the alarm?',
  ),
  'lobby-sprinklers-supervised': ask(
    'job',
    'fire alarm contractor',
    yesOrNo,
    'Are the sprinklers supervised, and does water flow start the alarm?',
  ),
  'lobby-not-by-pull-station': ask(
    'level',
    'fire alarm contractor',
    yesOrNo,
    'Is the lobby door freed by every alarm other than a manual pull station?',
  ),
  'lobby-communication': ask(
    'level',
    'architect',
    yesOrNo,
    'Is there two-way communication in the elevator lobby?',
  ),
} as const satisfies Readonly<Record<string, FactQuestion>>

export type FactKey = keyof typeof facts
export const factKeys = Object.keys(facts) as readonly FactKey[]
export const isFactKey = (text: string): text is FactKey => Object.hasOwn(facts, text)

type ValueOfForm<F> = F extends { readonly form: 'yes or no' }
  ? boolean
  : F extends { readonly form: 'number' }
    ? number
    : F extends { readonly form: 'one of'; readonly of: readonly (infer T)[] }
      ? T
      : F extends { readonly form: 'some of'; readonly of: readonly (infer T)[] }
        ? readonly T[]
        : never
/** What the answer to a fact looks like: a yes is `true`, a figure is in the fact's own unit. */
export type ValueOf<K extends FactKey> = ValueOfForm<(typeof facts)[K]['answer']>
export type FactValue = boolean | number | string | readonly string[]
