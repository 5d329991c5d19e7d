// The nouns of a job file, each a flat record. The store's tables, the text twin and the edits all follow these shapes.
import { z } from 'zod'
import type { Id } from './ids.ts'

/** What happens to a record when the one it refers to goes: it goes too, it forgets, or the removal is refused. */
export type WhenGone = 'together' | 'cleared' | 'refused'

const idText = z.string().min(1).max(64)
const id = <K extends string>(kind: K) =>
  idText.meta({ identifies: kind }) as unknown as z.ZodType<Id<K>, string>
const ref = <K extends string>(kind: K, whenGone: WhenGone) =>
  idText.meta({ refersTo: kind, whenGone }) as unknown as z.ZodType<Id<K>, string>
const refOrNull = <K extends string>(kind: K, whenGone: WhenGone) => ref(kind, whenGone).nullable()

const name = z.string().min(1).max(400)
const words = z.string().max(20_000)
const wordsOrNull = words.nullable()
const order = z.int().min(0)
/** ISO 8601, UTC, whole seconds or milliseconds. */
const instant = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$/)
const instantOrNull = instant.nullable()
const dayOrNull = z
  .string()
  .regex(/^\d{4}-\d\d-\d\d$/)
  .nullable()
const micrometresOrNull = z.int().min(0).max(1_000_000_000).nullable()
const amountOrNull = z.number().nullable()
const names = z.array(z.string().min(1).max(400)).max(50)

export const hands = ['LH', 'RH', 'LHR', 'RHR'] as const
/** Judged standing at the keyed side, facing the door. */
export type Hand = (typeof hands)[number]
export const labelClasses = ['A', 'B', 'C', 'D', 'E'] as const
export type LabelClass = (typeof labelClasses)[number]
export const stages = ['designed', 'set', 'found'] as const
/** Settings are kept as designed, as set on the bench, and as found on a visit. */
export type Stage = (typeof stages)[number]

/** In which condition a person works a device. */
export const workedAs = ['exit', 'manual release', 'credential', 'key', 'staff'] as const
/** How a person works a device. */
export const howWorked = ['approach', 'press', 'hardware', 'key', 'credential', 'staff'] as const
/** One ordinary motion of a hand. */
export const motions = [
  'lever',
  'exit device',
  'push pad',
  'thumb turn',
  'push on the leaf',
  'pull on the leaf',
] as const
/** How something holds a leaf. */
export const grips = [
  'holds the leaf',
  'blocks hardware',
  'latches',
  'keeps a latch',
  'holds the leaf open',
] as const

/** Where a fitting goes on a doorway, or beside it. */
export const fittingPlaces = [
  'frame head',
  'frame strike jamb',
  'frame hinge jamb',
  'leaf',
  'leaf strike edge',
  'leaf hinge edge',
  'wall',
  'ceiling',
  'elsewhere',
] as const
export type FittingPlace = (typeof fittingPlaces)[number]
/** What a conductor is for. */
export const conductorRoles = ['feed', 'return', 'signal', 'shield', 'spare'] as const
export type ConductorRole = (typeof conductorRoles)[number]

/** Who furnishes, fits, wires and terminates; null means not known, or as the typical says. */
const trades = {
  furnishedBy: wordsOrNull,
  fittedBy: wordsOrNull,
  wiredBy: wordsOrNull,
  terminatedBy: wordsOrNull,
}

/** Where a taken-in opening came from: the file, its place, the cells as read, and what was understood then. */
export const openingSource = z.strictObject({
  file: words,
  place: words,
  cells: z.record(z.string(), z.string()),
  understood: z.record(z.string(), z.string()),
})
export type OpeningSource = z.infer<typeof openingSource>

export const records = {
  job: z.strictObject({
    id: id('job'),
    name,
    number: wordsOrNull,
    client: wordsOrNull,
    address: wordsOrNull,
    preparedBy: wordsOrNull,
    units: z.enum(['imperial', 'metric']),
    dateForm: z.enum(['iso', 'local']),
    buildingCode: wordsOrNull,
    loadingLimitPercent: z.int().min(1).max(100),
    scheduleIssue: wordsOrNull,
    scheduleDate: dayOrNull,
    notes: wordsOrNull,
    createdAt: instant,
  }),
  /** What holds for the whole job unless a supply or a run says otherwise. */
  jobTerms: z.strictObject({
    id: id('jobTerms'),
    jobId: ref('job', 'together'),
    standbyHours: amountOrNull,
    alarmMinutes: amountOrNull,
    /** How long the fire alarm system, whose relays the doors rest on, runs on its own battery. */
    fireAlarmStandbyHours: amountOrNull,
    ageingPercent: amountOrNull,
    coolestCelsius: amountOrNull,
    warmestCelsius: amountOrNull,
    cableWastePercent: amountOrNull,
  }),
  /** A rule of the job's own, for a local amendment: asked of whom, and what answer is wanted. */
  localRule: z.strictObject({
    id: id('localRule'),
    position: order,
    sentence: words,
    citation: words,
    question: words,
    answeredBy: name,
    wanted: z.enum(['yes', 'no']),
    severity: name,
    appliesTo: z.enum(['every opening', 'openings where', 'ways out']),
    /** With 'openings where': the fact and its value. */
    fact: wordsOrNull,
    factIs: wordsOrNull,
    /** With 'ways out': the arrangement behind the way out. */
    arrangement: wordsOrNull,
  }),
  contact: z.strictObject({
    id: id('contact'),
    name,
    company: wordsOrNull,
    role: wordsOrNull,
    email: wordsOrNull,
    phone: wordsOrNull,
    notes: wordsOrNull,
  }),
  building: z.strictObject({
    id: id('building'),
    name,
    position: order,
    address: wordsOrNull,
    sourceId: wordsOrNull,
    notes: wordsOrNull,
  }),
  level: z.strictObject({
    id: id('level'),
    buildingId: ref('building', 'refused'),
    name,
    position: order,
    elevationMetres: amountOrNull,
    sourceId: wordsOrNull,
  }),
  space: z.strictObject({
    id: id('space'),
    levelId: ref('level', 'together'),
    number: name,
    name: wordsOrNull,
    sourceId: wordsOrNull,
  }),
  part: z.strictObject({
    id: id('part'),
    kind: name,
    name,
    model: wordsOrNull,
    description: wordsOrNull,
    minimumVolts: amountOrNull,
    maximumVolts: amountOrNull,
    loadForm: z.enum(['current', 'power', 'resistance']).nullable(),
    holdingAmps: amountOrNull,
    inrushAmps: amountOrNull,
    inrushSeconds: amountOrNull,
    warrantyMonths: z.int().min(0).nullable(),
    notes: wordsOrNull,
  }),
  partSetting: z.strictObject({
    id: id('partSetting'),
    partId: ref('part', 'together'),
    position: order,
    name,
    form: z.enum(['jumper', 'switch', 'dial', 'parameter']),
    unit: wordsOrNull,
    notes: wordsOrNull,
  }),
  partPosition: z.strictObject({
    id: id('partPosition'),
    partSettingId: ref('partSetting', 'together'),
    position: order,
    name,
    meaning: wordsOrNull,
    factory: z.boolean(),
  }),
  /** What a part draws and needs, in one position of its voltage setting or in all; its load form stands on the part. */
  partLoad: z.strictObject({
    id: id('partLoad'),
    partId: ref('part', 'together'),
    /** Null holds for every position. */
    partPositionId: refOrNull('partPosition', 'together'),
    /** The volts at which the currents are stated. */
    statedVolts: amountOrNull,
    minimumVolts: amountOrNull,
    maximumVolts: amountOrNull,
    holdingAmps: amountOrNull,
    /** 0 is known to have no in-rush. */
    inrushAmps: amountOrNull,
    inrushSeconds: amountOrNull,
    /** When it draws; null follows what the doorway does. */
    draws: z.enum(['all the time', 'while it holds', 'while it is released', 'only when worked']).nullable(),
  }),
  /** What a part asks of a port that feeds over the network cable. */
  partNetworkFeed: z.strictObject({
    id: id('partNetworkFeed'),
    partId: ref('part', 'together'),
    feedClass: z.int().min(0).max(8).nullable(),
    watts: amountOrNull,
  }),
  /** A bank: several switches together choose one meaning. */
  partSettingTable: z.strictObject({
    id: id('partSettingTable'),
    partId: ref('part', 'together'),
    position: order,
    name,
  }),
  partSettingTableRow: z.strictObject({
    id: id('partSettingTableRow'),
    partSettingTableId: ref('partSettingTable', 'together'),
    position: order,
    /** Setting name to position name. */
    when: z.record(z.string(), z.string()),
    meaning: words,
  }),
  partContact: z.strictObject({
    id: id('partContact'),
    partId: ref('part', 'together'),
    position: order,
    name,
    form: z.enum(['normally open', 'normally closed', 'changeover']),
    terminals: wordsOrNull,
  }),
  /** Whether a contact is closed in one physical circumstance; no row means not known. */
  partContactState: z.strictObject({
    id: id('partContactState'),
    partContactId: ref('partContact', 'together'),
    circumstance: name,
    closed: z.boolean(),
  }),
  /** How long a contact stays changed; no row is not known. */
  partContactTiming: z.strictObject({
    id: id('partContactTiming'),
    partContactId: ref('partContact', 'together'),
    lasts: z.enum(['as long as its cause', 'until reset', 'seconds']),
    /** Null where a setting decides. */
    seconds: z.number().min(0).nullable(),
  }),
  /** One row for each part whose doings were declared; a part without one may hold anything, and is a question. */
  partBehaviour: z.strictObject({
    id: id('partBehaviour'),
    partId: ref('part', 'together'),
    workedAs: z.enum(workedAs).nullable(),
    /** The hardware of this part that works its switches. */
    workedWith: wordsOrNull,
    /** Whether it senses somebody coming, is pressed, and so on; null is not known. */
    howWorked: z.enum(howWorked).nullable(),
    /** Standards it is listed to; empty is known to bear none, null is not known. */
    listedAs: names.nullable(),
    power: z.enum(['none', 'from a supply', 'from the fire alarm', 'from the mains']).nullable(),
    shutsLeaf: z.boolean(),
    opensLeaf: z.boolean(),
  }),
  /** Something of a part that a hand works. */
  partHardware: z.strictObject({
    id: id('partHardware'),
    partId: ref('part', 'together'),
    position: order,
    name,
    side: z.enum(['keyed', 'egress']),
    motion: z.enum([...motions, 'key']),
  }),
  /** Something of a part that holds. Hardware is named as the same part declares it. */
  partElement: z.strictObject({
    id: id('partElement'),
    partId: ref('part', 'together'),
    position: order,
    name,
    grip: z.enum(grips),
    /** Null where a setting decides, or nobody told. */
    engaged: z
      .enum(['always', 'by hand', 'while the active leaf is shut', 'while fed', 'while not fed'])
      .nullable(),
    drawnBy: names,
    blocks: names,
    delayStartedBy: names,
    delaySeconds: z.number().min(0).nullable(),
    relatches: z.boolean().nullable(),
  }),
  /** What one position, or one row of a bank, changes: exactly one of the first two and one of the next two. */
  settingEffect: z
    .strictObject({
      id: id('settingEffect'),
      partPositionId: refOrNull('partPosition', 'together'),
      partSettingTableRowId: refOrNull('partSettingTableRow', 'together'),
      partContactId: refOrNull('partContact', 'together'),
      partElementId: refOrNull('partElement', 'together'),
      changes: z.enum(['turned round', 'without power', 'engaged', 'delay seconds', 'lasts seconds']),
      value: words,
    })
    .refine((each) => (each.partPositionId === null) !== (each.partSettingTableRowId === null), {
      error: 'expected either a position of a setting or a row of a table',
    })
    .refine((each) => (each.partContactId === null) !== (each.partElementId === null), {
      error: 'expected either a contact or something that holds',
    }),
  partPattern: z.strictObject({
    id: id('partPattern'),
    partId: ref('part', 'together'),
    position: order,
    name,
    substrate: z.enum(['hollow metal', 'solid wood', 'aluminium', 'glass']),
    notes: wordsOrNull,
  }),
  partHole: z.strictObject({
    id: id('partHole'),
    partPatternId: ref('partPattern', 'together'),
    position: order,
    name,
    datum: name,
    acrossMicrometres: z.int(),
    alongMicrometres: z.int(),
    diameterMicrometres: micrometresOrNull,
    /** Null is a through hole. */
    depthMicrometres: micrometresOrNull,
    face: wordsOrNull,
    fastener: wordsOrNull,
    drilledWith: wordsOrNull,
  }),
  /** How big one body of a part is, and what must stay free beside it. */
  partBody: z.strictObject({
    id: id('partBody'),
    partId: ref('part', 'together'),
    position: order,
    name,
    widthMicrometres: micrometresOrNull,
    heightMicrometres: micrometresOrNull,
    /** Away from the surface it stands on. */
    depthMicrometres: micrometresOrNull,
    clearMicrometres: micrometresOrNull,
    /** On which side: "frame edge". */
    clearSide: wordsOrNull,
  }),
  /** Where a pattern goes and what it needs. */
  partPatternFit: z.strictObject({
    id: id('partPatternFit'),
    partPatternId: ref('partPattern', 'together'),
    partBodyId: refOrNull('partBody', 'cleared'),
    goesOn: z.enum(['frame', 'door']),
    /** Null fits either. */
    swing: z.enum(['pull side', 'push side']).nullable(),
    /** Null is not known. */
    leaves: z.enum(['single', 'pair', 'either']).nullable(),
    /** The least from the middle of a hole to an edge. */
    edgeMicrometres: micrometresOrNull,
  }),
  /** A hole that is no round one: how wide and how high it is cut. */
  partCutOut: z.strictObject({
    id: id('partCutOut'),
    partHoleId: ref('partHole', 'together'),
    widthMicrometres: micrometresOrNull,
    heightMicrometres: micrometresOrNull,
  }),
  /** How many of a part are kept as spares, and where. */
  spare: z.strictObject({
    id: id('spare'),
    partId: ref('part', 'together'),
    count: z.int().min(0).max(100_000),
    whereKept: wordsOrNull,
    notes: wordsOrNull,
  }),
  typical: z.strictObject({
    id: id('typical'),
    name,
    description: wordsOrNull,
    position: order,
    ...trades,
    notes: wordsOrNull,
  }),
  /** One fitting of a typical: every opening built from it has one, unless it was left out there on purpose. */
  typicalFitting: z.strictObject({
    id: id('typicalFitting'),
    typicalId: ref('typical', 'together'),
    position: order,
    tag: name,
    partId: ref('part', 'refused'),
    ...trades,
    notes: wordsOrNull,
  }),
  /** On which leaf of a pair a fitting of a typical goes. */
  typicalFittingLeaf: z.strictObject({
    id: id('typicalFittingLeaf'),
    typicalFittingId: ref('typicalFitting', 'together'),
    leaf: z.enum(['active', 'inactive']),
  }),
  opening: z.strictObject({
    id: id('opening'),
    levelId: ref('level', 'refused'),
    mark: name,
    /** What people call the place, when the rooms alone do not say it. */
    whereText: wordsOrNull,
    toSpaceId: refOrNull('space', 'cleared'),
    fromSpaceId: refOrNull('space', 'cleared'),
    widthMicrometres: micrometresOrNull,
    heightMicrometres: micrometresOrNull,
    thicknessMicrometres: micrometresOrNull,
    hand: z.enum(hands).nullable(),
    doorType: wordsOrNull,
    frameMaterial: wordsOrNull,
    /** Null is not known; 0 is known to bear no label. */
    fireLabelMinutes: z.int().min(0).max(480).nullable(),
    fireLabelClass: z.enum(labelClasses).nullable(),
    hardwareSet: wordsOrNull,
    typicalId: refOrNull('typical', 'cleared'),
    ...trades,
    serial: wordsOrNull,
    assetTag: wordsOrNull,
    installedOn: dayOrNull,
    notes: wordsOrNull,
    sourceId: wordsOrNull,
    source: openingSource.nullable(),
  }),
  leaf: z.strictObject({
    id: id('leaf'),
    openingId: ref('opening', 'together'),
    position: order,
    role: z.enum(['only', 'active', 'inactive']),
    /** Null shares the opening's width evenly. */
    widthMicrometres: micrometresOrNull,
    material: wordsOrNull,
  }),
  /** More of an opening's frame. */
  openingFrame: z.strictObject({
    id: id('openingFrame'),
    openingId: ref('opening', 'together'),
    /** The flat depth of the head, from the stop. */
    headSoffitMicrometres: micrometresOrNull,
  }),
  /** Whether an inactive leaf can open only after the active one; no row is not known. */
  leafOverlap: z.strictObject({
    id: id('leafOverlap'),
    leafId: ref('leaf', 'together'),
    opensAfterActive: z.boolean(),
  }),
  /** A part on an opening. With a typicalFittingId, null fields are as the typical says and others differ on purpose. */
  fitting: z.strictObject({
    id: id('fitting'),
    openingId: ref('opening', 'together'),
    leafId: refOrNull('leaf', 'cleared'),
    typicalFittingId: refOrNull('typicalFitting', 'cleared'),
    position: order,
    tag: wordsOrNull,
    partId: refOrNull('part', 'refused'),
    leftOut: z.boolean(),
    ...trades,
    serial: wordsOrNull,
    installedOn: dayOrNull,
    notes: wordsOrNull,
  }),
  /** Where a part, a typical's fitting or a fitting goes; the nearest of the three says. Exactly one of them. */
  placement: z
    .strictObject({
      id: id('placement'),
      partId: refOrNull('part', 'together'),
      typicalFittingId: refOrNull('typicalFitting', 'together'),
      fittingId: refOrNull('fitting', 'together'),
      place: z.enum(fittingPlaces).nullable(),
      side: z.enum(['keyed', 'egress']).nullable(),
      /** Its middle above the finished floor. */
      heightMicrometres: micrometresOrNull,
      /** Its middle from the strike edge of the leaf. */
      acrossMicrometres: micrometresOrNull,
    })
    .refine((each) => [each.partId, each.typicalFittingId, each.fittingId].filter(Boolean).length === 1, {
      error: 'expected a part, a fitting of a typical or a fitting of an opening, and only one of them',
    }),
  /** Fittings of one name draw their in-rush at the same moment. */
  firingGroup: z.strictObject({
    id: id('firingGroup'),
    fittingId: ref('fitting', 'together'),
    name,
  }),
  visit: z.strictObject({
    id: id('visit'),
    openingId: refOrNull('opening', 'cleared'),
    reportedBy: wordsOrNull,
    reportedAt: instantOrNull,
    symptom: wordsOrNull,
    found: wordsOrNull,
    done: wordsOrNull,
    who: wordsOrNull,
    at: instantOrNull,
  }),
  /** A part that a visit changed. */
  visitPart: z.strictObject({
    id: id('visitPart'),
    visitId: ref('visit', 'together'),
    fittingId: refOrNull('fitting', 'cleared'),
    partId: refOrNull('part', 'cleared'),
    oldSerial: wordsOrNull,
    newSerial: wordsOrNull,
    notes: wordsOrNull,
  }),
  /** Of a typical's fitting or of one on an opening: exactly one of typicalFittingId and fittingId. */
  settingValue: z
    .strictObject({
      id: id('settingValue'),
      typicalFittingId: refOrNull('typicalFitting', 'together'),
      fittingId: refOrNull('fitting', 'together'),
      partSettingId: ref('partSetting', 'together'),
      stage: z.enum(stages),
      value: words,
      who: wordsOrNull,
      at: instantOrNull,
      visitId: refOrNull('visit', 'cleared'),
    })
    .refine((value) => (value.typicalFittingId === null) !== (value.fittingId === null), {
      error: 'expected either a fitting of a typical or a fitting of an opening',
    }),
  supply: z.strictObject({
    id: id('supply'),
    mark: name,
    position: order,
    partId: refOrNull('part', 'refused'),
    spaceId: refOrNull('space', 'cleared'),
    whereText: wordsOrNull,
    ratedVolts: amountOrNull,
    ratedAmps: amountOrNull,
    batteryVolts: amountOrNull,
    batteryAmpHours: amountOrNull,
    standbyHours: amountOrNull,
    alarmMinutes: amountOrNull,
    batteryInstalledOn: dayOrNull,
    notes: wordsOrNull,
  }),
  output: z.strictObject({
    id: id('output'),
    supplyId: ref('supply', 'together'),
    position: order,
    name,
    ratedVolts: amountOrNull,
    ratedAmps: amountOrNull,
    fuseAmps: amountOrNull,
    notes: wordsOrNull,
  }),
  /** More of a supply: what it takes itself, what its battery stands in. */
  supplyTerms: z.strictObject({
    id: id('supplyTerms'),
    supplyId: ref('supply', 'together'),
    hasBattery: z.boolean().nullable(),
    ownAmps: amountOrNull,
    efficiencyPercent: amountOrNull,
    chargingAmps: amountOrNull,
    batteryCelsius: amountOrNull,
    lowestVolts: amountOrNull,
    highestVolts: amountOrNull,
  }),
  /** More of an output; null volts are the supply's. */
  outputTerms: z.strictObject({
    id: id('outputTerms'),
    outputId: ref('output', 'together'),
    lowestVolts: amountOrNull,
    highestVolts: amountOrNull,
    hasFuse: z.boolean().nullable(),
    classTwo: z.enum(['none', 'inherent', 'by overcurrent device']).nullable(),
  }),
  controller: z.strictObject({
    id: id('controller'),
    mark: name,
    position: order,
    partId: refOrNull('part', 'refused'),
    spaceId: refOrNull('space', 'cleared'),
    whereText: wordsOrNull,
    notes: wordsOrNull,
  }),
  /** A length of cable; each end is at one of the three places, or not known yet. */
  run: z.strictObject({
    id: id('run'),
    name,
    position: order,
    fromOutputId: refOrNull('output', 'cleared'),
    fromFittingId: refOrNull('fitting', 'cleared'),
    fromControllerId: refOrNull('controller', 'cleared'),
    toOutputId: refOrNull('output', 'cleared'),
    toFittingId: refOrNull('fitting', 'cleared'),
    toControllerId: refOrNull('controller', 'cleared'),
    cable: wordsOrNull,
    lengthMetres: amountOrNull,
    notes: wordsOrNull,
  }),
  conductor: z.strictObject({
    id: id('conductor'),
    runId: ref('run', 'together'),
    position: order,
    colour: wordsOrNull,
    size: wordsOrNull,
    stranded: z.boolean().nullable(),
    purpose: wordsOrNull,
    fromTerminal: wordsOrNull,
    toTerminal: wordsOrNull,
  }),
  conductorUse: z.strictObject({
    id: id('conductorUse'),
    conductorId: ref('conductor', 'together'),
    role: z.enum(conductorRoles),
  }),
  /** A cable of this job's convention: its conductors, their colours in order, and what it is used for. */
  cableKind: z.strictObject({
    id: id('cableKind'),
    name,
    position: order,
    conductorCount: z.int().min(1).max(200),
    size: wordsOrNull,
    stranded: z.boolean().nullable(),
    colours: names,
    usedFor: wordsOrNull,
    notes: wordsOrNull,
  }),
  /** The usual length of a run from a supply or a controller to the openings of a level; neither is any of them. */
  routeLength: z.strictObject({
    id: id('routeLength'),
    levelId: ref('level', 'together'),
    supplyId: refOrNull('supply', 'together'),
    controllerId: refOrNull('controller', 'together'),
    metres: z.number().min(0),
  }),
  /** Something whose ports feed over the network cable. */
  networkSwitch: z.strictObject({
    id: id('networkSwitch'),
    mark: name,
    position: order,
    spaceId: refOrNull('space', 'cleared'),
    whereText: wordsOrNull,
    budgetWatts: amountOrNull,
    notes: wordsOrNull,
  }),
  networkPort: z.strictObject({
    id: id('networkPort'),
    networkSwitchId: ref('networkSwitch', 'together'),
    position: order,
    name,
    /** 1 to 4, of IEEE 802.3. */
    feedType: z.int().min(1).max(4).nullable(),
    fittingId: refOrNull('fitting', 'cleared'),
    controllerId: refOrNull('controller', 'cleared'),
    cableSize: wordsOrNull,
    stranded: z.boolean().nullable(),
    lengthMetres: amountOrNull,
  }),
  point: z.strictObject({
    id: id('point'),
    controllerId: ref('controller', 'together'),
    position: order,
    name,
    direction: z.enum(['input', 'output']),
    fittingId: refOrNull('fitting', 'cleared'),
    partContactId: refOrNull('partContact', 'cleared'),
    loop: z.enum(['plain', 'one resistor', 'two resistors']).nullable(),
    seriesOhms: amountOrNull,
    parallelOhms: amountOrNull,
    notes: wordsOrNull,
  }),
  /** What an input reckons with. */
  pointTerms: z.strictObject({
    id: id('pointTerms'),
    pointId: ref('point', 'together'),
    normally: z.enum(['open', 'closed']).nullable(),
    /** Which side of a changeover contact is in the loop. */
    wiredTo: z.enum(['normally open', 'normally closed']).nullable(),
    tolerancePercent: amountOrNull,
    closedBelowOhms: amountOrNull,
    resistorTolerancePercent: amountOrNull,
  }),
  /** What an output of a controller does with its relay. */
  pointRelay: z.strictObject({
    id: id('pointRelay'),
    pointId: ref('point', 'together'),
    contact: z.enum(['normally open', 'normally closed']).nullable(),
    energised: z.enum(['to release', 'to hold']).nullable(),
    releasedInOpenHours: z.boolean().nullable(),
    unlockSeconds: amountOrNull,
  }),
  /** What a fitting does to another, on a typical (between its fittings) or on one opening. */
  link: z.strictObject({
    id: id('link'),
    typicalId: refOrNull('typical', 'together'),
    openingId: refOrNull('opening', 'together'),
    fromTypicalFittingId: refOrNull('typicalFitting', 'together'),
    toTypicalFittingId: refOrNull('typicalFitting', 'together'),
    fromFittingId: refOrNull('fitting', 'together'),
    toFittingId: refOrNull('fitting', 'together'),
    partContactId: refOrNull('partContact', 'cleared'),
    does: z.enum(['breaks feed of', 'asks', 'watches']),
    notes: wordsOrNull,
  }),
  /** Answers once, for the job (all null), a level, a typical or one opening. */
  factAnswer: z.strictObject({
    id: id('factAnswer'),
    fact: name,
    levelId: refOrNull('level', 'together'),
    typicalId: refOrNull('typical', 'together'),
    openingId: refOrNull('opening', 'together'),
    value: words,
    who: wordsOrNull,
    at: instantOrNull,
    notes: wordsOrNull,
  }),
  proof: z.strictObject({
    id: id('proof'),
    openingId: ref('opening', 'together'),
    fittingId: refOrNull('fitting', 'cleared'),
    step: name,
    condition: wordsOrNull,
    expected: words,
    result: z.enum(['passed', 'failed', 'not done']),
    reading: amountOrNull,
    unit: wordsOrNull,
    notes: wordsOrNull,
    who: wordsOrNull,
    at: instantOrNull,
  }),
  finding: z.strictObject({
    id: id('finding'),
    openingId: refOrNull('opening', 'together'),
    fittingId: refOrNull('fitting', 'cleared'),
    proofId: refOrNull('proof', 'cleared'),
    visitId: refOrNull('visit', 'cleared'),
    words: words,
    owner: wordsOrNull,
    state: z.enum(['open', 'closed']),
    raisedAt: instantOrNull,
    closedAt: instantOrNull,
  }),
  /** A sealed state of the job. The twin is kept as an attachment, found by its hash. */
  issue: z.strictObject({
    id: id('issue'),
    form: z.enum(['schedule', 'handover']),
    name,
    position: order,
    who: wordsOrNull,
    at: instantOrNull,
    twinSha256: wordsOrNull,
    notes: wordsOrNull,
  }),
  /** A document that went out with an issue, kept as an attachment by its hash. */
  issueDocument: z.strictObject({
    id: id('issueDocument'),
    issueId: ref('issue', 'together'),
    position: order,
    name,
    mediaType: name,
    sha256: name,
    byteCount: z.int().min(0),
  }),
  /** Who signs for training or takes over. */
  signature: z.strictObject({
    id: id('signature'),
    issueId: refOrNull('issue', 'cleared'),
    position: order,
    signsFor: z.enum(['training', 'acceptance']),
    name,
    company: wordsOrNull,
    role: wordsOrNull,
    signedOn: dayOrNull,
    notes: wordsOrNull,
  }),
  /** Something to be done again and again after handover. */
  maintenanceTask: z.strictObject({
    id: id('maintenanceTask'),
    position: order,
    name,
    everyMonths: z.int().min(1).max(1200).nullable(),
    partId: refOrNull('part', 'cleared'),
    openingId: refOrNull('opening', 'cleared'),
    supplyId: refOrNull('supply', 'cleared'),
    nextOn: dayOrNull,
    notes: wordsOrNull,
  }),
  /** Bytes are kept once, by hash, as an attachment; or the document is only referred to. */
  document: z.strictObject({
    id: id('document'),
    name,
    form: wordsOrNull,
    mediaType: wordsOrNull,
    sha256: wordsOrNull,
    byteCount: z.int().min(0).nullable(),
    reference: wordsOrNull,
    partId: refOrNull('part', 'cleared'),
    openingId: refOrNull('opening', 'cleared'),
    fittingId: refOrNull('fitting', 'cleared'),
    proofId: refOrNull('proof', 'cleared'),
    visitId: refOrNull('visit', 'cleared'),
    notes: wordsOrNull,
  }),
} as const

export type RecordKind = keyof typeof records
export type JobRecord<K extends RecordKind> = z.infer<(typeof records)[K]>
/** Every kind, parents before the kinds that refer to them. */
export const recordKinds = Object.keys(records) as readonly RecordKind[]

export type Job = JobRecord<'job'>
export type Building = JobRecord<'building'>
export type Level = JobRecord<'level'>
export type Space = JobRecord<'space'>
export type Part = JobRecord<'part'>
export type Typical = JobRecord<'typical'>
export type TypicalFitting = JobRecord<'typicalFitting'>
export type Opening = JobRecord<'opening'>
export type Leaf = JobRecord<'leaf'>
export type Fitting = JobRecord<'fitting'>

/** One field that refers to another record. */
export interface Reference {
  readonly from: RecordKind
  readonly field: string
  readonly to: RecordKind
  readonly whenGone: WhenGone
  readonly optional: boolean
}

function referencesOf(kind: RecordKind): Reference[] {
  const found: Reference[] = []
  for (const [field, schema] of Object.entries(records[kind].shape)) {
    const optional = schema instanceof z.ZodNullable
    const meta = (optional ? (schema.unwrap() as z.ZodType) : (schema as z.ZodType)).meta()
    if (meta?.['refersTo'] === undefined) continue
    found.push({
      from: kind,
      field,
      to: meta['refersTo'] as RecordKind,
      whenGone: meta['whenGone'] as WhenGone,
      optional,
    })
  }
  return found
}

/** Every reference between kinds, read from the record shapes. */
export const references: readonly Reference[] = recordKinds.flatMap(referencesOf)
