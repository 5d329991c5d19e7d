// The tables of a job file as drizzle sees them: the types of rows and the names of columns, from which statements are
// written. A test holds them to the record shapes and to the SQL. Only these parts of drizzle are loaded: its driver and
// its query builder would double the time a command takes to start.
import { blob } from 'drizzle-orm/sqlite-core/columns/blob'
import { integer } from 'drizzle-orm/sqlite-core/columns/integer'
import { real } from 'drizzle-orm/sqlite-core/columns/real'
import { text } from 'drizzle-orm/sqlite-core/columns/text'
import { sqliteTable } from 'drizzle-orm/sqlite-core/table'
import type { Id, OpeningSource, RecordKind } from '../../core/job/index.ts'
import {
  conductorRoles,
  fittingPlaces,
  grips,
  hands,
  howWorked,
  labelClasses,
  motions,
  stages,
  workedAs,
} from '../../core/job/index.ts'

export const job = sqliteTable('job', {
  id: text('id').$type<Id<'job'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  number: text('number'),
  client: text('client'),
  address: text('address'),
  preparedBy: text('prepared_by'),
  units: text('units', { enum: ['imperial', 'metric'] }).notNull(),
  dateForm: text('date_form', { enum: ['iso', 'local'] }).notNull(),
  buildingCode: text('building_code'),
  loadingLimitPercent: integer('loading_limit_percent').notNull(),
  scheduleIssue: text('schedule_issue'),
  scheduleDate: text('schedule_date'),
  notes: text('notes'),
  createdAt: text('created_at').notNull(),
})

export const contact = sqliteTable('contact', {
  id: text('id').$type<Id<'contact'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  company: text('company'),
  role: text('role'),
  email: text('email'),
  phone: text('phone'),
  notes: text('notes'),
})

export const building = sqliteTable('building', {
  id: text('id').$type<Id<'building'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  position: integer('position').notNull(),
  address: text('address'),
  sourceId: text('source_id'),
  notes: text('notes'),
})

export const level = sqliteTable('level', {
  id: text('id').$type<Id<'level'>>().primaryKey().notNull(),
  buildingId: text('building_id')
    .$type<Id<'building'>>()
    .notNull()
    .references(() => building.id),
  name: text('name').notNull(),
  position: integer('position').notNull(),
  elevationMetres: real('elevation_metres'),
  sourceId: text('source_id'),
})

export const space = sqliteTable('space', {
  id: text('id').$type<Id<'space'>>().primaryKey().notNull(),
  levelId: text('level_id')
    .$type<Id<'level'>>()
    .notNull()
    .references(() => level.id),
  number: text('number').notNull(),
  name: text('name'),
  sourceId: text('source_id'),
})

export const part = sqliteTable('part', {
  id: text('id').$type<Id<'part'>>().primaryKey().notNull(),
  kind: text('kind').notNull(),
  name: text('name').notNull(),
  model: text('model'),
  description: text('description'),
  minimumVolts: real('minimum_volts'),
  maximumVolts: real('maximum_volts'),
  loadForm: text('load_form', { enum: ['current', 'power', 'resistance'] }),
  holdingAmps: real('holding_amps'),
  inrushAmps: real('inrush_amps'),
  inrushSeconds: real('inrush_seconds'),
  warrantyMonths: integer('warranty_months'),
  notes: text('notes'),
})

export const partSetting = sqliteTable('part_setting', {
  id: text('id').$type<Id<'partSetting'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  form: text('form', { enum: ['jumper', 'switch', 'dial', 'parameter'] }).notNull(),
  unit: text('unit'),
  notes: text('notes'),
})

export const partPosition = sqliteTable('part_position', {
  id: text('id').$type<Id<'partPosition'>>().primaryKey().notNull(),
  partSettingId: text('part_setting_id')
    .$type<Id<'partSetting'>>()
    .notNull()
    .references(() => partSetting.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  meaning: text('meaning'),
  factory: integer('factory', { mode: 'boolean' }).notNull(),
})

export const partSettingTable = sqliteTable('part_setting_table', {
  id: text('id').$type<Id<'partSettingTable'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
})

export const partSettingTableRow = sqliteTable('part_setting_table_row', {
  id: text('id').$type<Id<'partSettingTableRow'>>().primaryKey().notNull(),
  partSettingTableId: text('part_setting_table_id')
    .$type<Id<'partSettingTable'>>()
    .notNull()
    .references(() => partSettingTable.id),
  position: integer('position').notNull(),
  when: text('when', { mode: 'json' }).$type<Record<string, string>>().notNull(),
  meaning: text('meaning').notNull(),
})

export const partContact = sqliteTable('part_contact', {
  id: text('id').$type<Id<'partContact'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  form: text('form', { enum: ['normally open', 'normally closed', 'changeover'] }).notNull(),
  terminals: text('terminals'),
})

export const partContactState = sqliteTable('part_contact_state', {
  id: text('id').$type<Id<'partContactState'>>().primaryKey().notNull(),
  partContactId: text('part_contact_id')
    .$type<Id<'partContact'>>()
    .notNull()
    .references(() => partContact.id),
  circumstance: text('circumstance').notNull(),
  closed: integer('closed', { mode: 'boolean' }).notNull(),
})

export const partContactTiming = sqliteTable('part_contact_timing', {
  id: text('id').$type<Id<'partContactTiming'>>().primaryKey().notNull(),
  partContactId: text('part_contact_id')
    .$type<Id<'partContact'>>()
    .notNull()
    .references(() => partContact.id),
  lasts: text('lasts', { enum: ['as long as its cause', 'until reset', 'seconds'] }).notNull(),
  seconds: real('seconds'),
})

export const partBehaviour = sqliteTable('part_behaviour', {
  id: text('id').$type<Id<'partBehaviour'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  workedAs: text('worked_as', { enum: workedAs }),
  workedWith: text('worked_with'),
  howWorked: text('how_worked', { enum: howWorked }),
  listedAs: text('listed_as', { mode: 'json' }).$type<string[]>(),
  power: text('power', { enum: ['none', 'from a supply', 'from the fire alarm', 'from the mains'] }),
  shutsLeaf: integer('shuts_leaf', { mode: 'boolean' }).notNull(),
  opensLeaf: integer('opens_leaf', { mode: 'boolean' }).notNull(),
})

export const partHardware = sqliteTable('part_hardware', {
  id: text('id').$type<Id<'partHardware'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  side: text('side', { enum: ['keyed', 'egress'] }).notNull(),
  motion: text('motion', { enum: [...motions, 'key'] }).notNull(),
})

export const partElement = sqliteTable('part_element', {
  id: text('id').$type<Id<'partElement'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  grip: text('grip', { enum: grips }).notNull(),
  engaged: text('engaged', {
    enum: ['always', 'by hand', 'while the active leaf is shut', 'while fed', 'while not fed'],
  }),
  drawnBy: text('drawn_by', { mode: 'json' }).$type<string[]>().notNull(),
  blocks: text('blocks', { mode: 'json' }).$type<string[]>().notNull(),
  delayStartedBy: text('delay_started_by', { mode: 'json' }).$type<string[]>().notNull(),
  delaySeconds: real('delay_seconds'),
  relatches: integer('relatches', { mode: 'boolean' }),
})

export const settingEffect = sqliteTable('setting_effect', {
  id: text('id').$type<Id<'settingEffect'>>().primaryKey().notNull(),
  partPositionId: text('part_position_id')
    .$type<Id<'partPosition'>>()
    .references(() => partPosition.id),
  partSettingTableRowId: text('part_setting_table_row_id')
    .$type<Id<'partSettingTableRow'>>()
    .references(() => partSettingTableRow.id),
  partContactId: text('part_contact_id')
    .$type<Id<'partContact'>>()
    .references(() => partContact.id),
  partElementId: text('part_element_id')
    .$type<Id<'partElement'>>()
    .references(() => partElement.id),
  changes: text('changes', {
    enum: ['turned round', 'without power', 'engaged', 'delay seconds', 'lasts seconds'],
  }).notNull(),
  value: text('value').notNull(),
})

export const partPattern = sqliteTable('part_pattern', {
  id: text('id').$type<Id<'partPattern'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  substrate: text('substrate', { enum: ['hollow metal', 'solid wood', 'aluminium', 'glass'] }).notNull(),
  notes: text('notes'),
})

export const partHole = sqliteTable('part_hole', {
  id: text('id').$type<Id<'partHole'>>().primaryKey().notNull(),
  partPatternId: text('part_pattern_id')
    .$type<Id<'partPattern'>>()
    .notNull()
    .references(() => partPattern.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  datum: text('datum').notNull(),
  acrossMicrometres: integer('across_micrometres').notNull(),
  alongMicrometres: integer('along_micrometres').notNull(),
  diameterMicrometres: integer('diameter_micrometres'),
  depthMicrometres: integer('depth_micrometres'),
  face: text('face'),
  fastener: text('fastener'),
  drilledWith: text('drilled_with'),
})

export const typical = sqliteTable('typical', {
  id: text('id').$type<Id<'typical'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  description: text('description'),
  position: integer('position').notNull(),
  furnishedBy: text('furnished_by'),
  fittedBy: text('fitted_by'),
  wiredBy: text('wired_by'),
  terminatedBy: text('terminated_by'),
  notes: text('notes'),
})

export const typicalFitting = sqliteTable('typical_fitting', {
  id: text('id').$type<Id<'typicalFitting'>>().primaryKey().notNull(),
  typicalId: text('typical_id')
    .$type<Id<'typical'>>()
    .notNull()
    .references(() => typical.id),
  position: integer('position').notNull(),
  tag: text('tag').notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  furnishedBy: text('furnished_by'),
  fittedBy: text('fitted_by'),
  wiredBy: text('wired_by'),
  terminatedBy: text('terminated_by'),
  notes: text('notes'),
})

export const typicalFittingLeaf = sqliteTable('typical_fitting_leaf', {
  id: text('id').$type<Id<'typicalFittingLeaf'>>().primaryKey().notNull(),
  typicalFittingId: text('typical_fitting_id')
    .$type<Id<'typicalFitting'>>()
    .notNull()
    .references(() => typicalFitting.id),
  leaf: text('leaf', { enum: ['active', 'inactive'] }).notNull(),
})

export const opening = sqliteTable('opening', {
  id: text('id').$type<Id<'opening'>>().primaryKey().notNull(),
  levelId: text('level_id')
    .$type<Id<'level'>>()
    .notNull()
    .references(() => level.id),
  mark: text('mark').notNull(),
  whereText: text('where_text'),
  toSpaceId: text('to_space_id')
    .$type<Id<'space'>>()
    .references(() => space.id),
  fromSpaceId: text('from_space_id')
    .$type<Id<'space'>>()
    .references(() => space.id),
  widthMicrometres: integer('width_micrometres'),
  heightMicrometres: integer('height_micrometres'),
  thicknessMicrometres: integer('thickness_micrometres'),
  hand: text('hand', { enum: hands }),
  doorType: text('door_type'),
  frameMaterial: text('frame_material'),
  fireLabelMinutes: integer('fire_label_minutes'),
  fireLabelClass: text('fire_label_class', { enum: labelClasses }),
  hardwareSet: text('hardware_set'),
  typicalId: text('typical_id')
    .$type<Id<'typical'>>()
    .references(() => typical.id),
  furnishedBy: text('furnished_by'),
  fittedBy: text('fitted_by'),
  wiredBy: text('wired_by'),
  terminatedBy: text('terminated_by'),
  serial: text('serial'),
  assetTag: text('asset_tag'),
  installedOn: text('installed_on'),
  notes: text('notes'),
  sourceId: text('source_id'),
  source: text('source', { mode: 'json' }).$type<OpeningSource>(),
})

export const leaf = sqliteTable('leaf', {
  id: text('id').$type<Id<'leaf'>>().primaryKey().notNull(),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .notNull()
    .references(() => opening.id),
  position: integer('position').notNull(),
  role: text('role', { enum: ['only', 'active', 'inactive'] }).notNull(),
  widthMicrometres: integer('width_micrometres'),
  material: text('material'),
})

export const leafOverlap = sqliteTable('leaf_overlap', {
  id: text('id').$type<Id<'leafOverlap'>>().primaryKey().notNull(),
  leafId: text('leaf_id')
    .$type<Id<'leaf'>>()
    .notNull()
    .references(() => leaf.id),
  opensAfterActive: integer('opens_after_active', { mode: 'boolean' }).notNull(),
})

export const fitting = sqliteTable('fitting', {
  id: text('id').$type<Id<'fitting'>>().primaryKey().notNull(),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .notNull()
    .references(() => opening.id),
  leafId: text('leaf_id')
    .$type<Id<'leaf'>>()
    .references(() => leaf.id),
  typicalFittingId: text('typical_fitting_id')
    .$type<Id<'typicalFitting'>>()
    .references(() => typicalFitting.id),
  position: integer('position').notNull(),
  tag: text('tag'),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  leftOut: integer('left_out', { mode: 'boolean' }).notNull(),
  furnishedBy: text('furnished_by'),
  fittedBy: text('fitted_by'),
  wiredBy: text('wired_by'),
  terminatedBy: text('terminated_by'),
  serial: text('serial'),
  installedOn: text('installed_on'),
  notes: text('notes'),
})

export const visit = sqliteTable('visit', {
  id: text('id').$type<Id<'visit'>>().primaryKey().notNull(),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .references(() => opening.id),
  reportedBy: text('reported_by'),
  reportedAt: text('reported_at'),
  symptom: text('symptom'),
  found: text('found'),
  done: text('done'),
  who: text('who'),
  at: text('at'),
})

export const settingValue = sqliteTable('setting_value', {
  id: text('id').$type<Id<'settingValue'>>().primaryKey().notNull(),
  typicalFittingId: text('typical_fitting_id')
    .$type<Id<'typicalFitting'>>()
    .references(() => typicalFitting.id),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  partSettingId: text('part_setting_id')
    .$type<Id<'partSetting'>>()
    .notNull()
    .references(() => partSetting.id),
  stage: text('stage', { enum: stages }).notNull(),
  value: text('value').notNull(),
  who: text('who'),
  at: text('at'),
  visitId: text('visit_id')
    .$type<Id<'visit'>>()
    .references(() => visit.id),
})

export const supply = sqliteTable('supply', {
  id: text('id').$type<Id<'supply'>>().primaryKey().notNull(),
  mark: text('mark').notNull(),
  position: integer('position').notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  spaceId: text('space_id')
    .$type<Id<'space'>>()
    .references(() => space.id),
  whereText: text('where_text'),
  ratedVolts: real('rated_volts'),
  ratedAmps: real('rated_amps'),
  batteryVolts: real('battery_volts'),
  batteryAmpHours: real('battery_amp_hours'),
  standbyHours: real('standby_hours'),
  alarmMinutes: real('alarm_minutes'),
  batteryInstalledOn: text('battery_installed_on'),
  notes: text('notes'),
})

export const output = sqliteTable('output', {
  id: text('id').$type<Id<'output'>>().primaryKey().notNull(),
  supplyId: text('supply_id')
    .$type<Id<'supply'>>()
    .notNull()
    .references(() => supply.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  ratedVolts: real('rated_volts'),
  ratedAmps: real('rated_amps'),
  fuseAmps: real('fuse_amps'),
  notes: text('notes'),
})

export const controller = sqliteTable('controller', {
  id: text('id').$type<Id<'controller'>>().primaryKey().notNull(),
  mark: text('mark').notNull(),
  position: integer('position').notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  spaceId: text('space_id')
    .$type<Id<'space'>>()
    .references(() => space.id),
  whereText: text('where_text'),
  notes: text('notes'),
})

export const run = sqliteTable('run', {
  id: text('id').$type<Id<'run'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  position: integer('position').notNull(),
  fromOutputId: text('from_output_id')
    .$type<Id<'output'>>()
    .references(() => output.id),
  fromFittingId: text('from_fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  fromControllerId: text('from_controller_id')
    .$type<Id<'controller'>>()
    .references(() => controller.id),
  toOutputId: text('to_output_id')
    .$type<Id<'output'>>()
    .references(() => output.id),
  toFittingId: text('to_fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  toControllerId: text('to_controller_id')
    .$type<Id<'controller'>>()
    .references(() => controller.id),
  cable: text('cable'),
  lengthMetres: real('length_metres'),
  notes: text('notes'),
})

export const conductor = sqliteTable('conductor', {
  id: text('id').$type<Id<'conductor'>>().primaryKey().notNull(),
  runId: text('run_id')
    .$type<Id<'run'>>()
    .notNull()
    .references(() => run.id),
  position: integer('position').notNull(),
  colour: text('colour'),
  size: text('size'),
  stranded: integer('stranded', { mode: 'boolean' }),
  purpose: text('purpose'),
  fromTerminal: text('from_terminal'),
  toTerminal: text('to_terminal'),
})

export const point = sqliteTable('point', {
  id: text('id').$type<Id<'point'>>().primaryKey().notNull(),
  controllerId: text('controller_id')
    .$type<Id<'controller'>>()
    .notNull()
    .references(() => controller.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  direction: text('direction', { enum: ['input', 'output'] }).notNull(),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  partContactId: text('part_contact_id')
    .$type<Id<'partContact'>>()
    .references(() => partContact.id),
  loop: text('loop', { enum: ['plain', 'one resistor', 'two resistors'] }),
  seriesOhms: real('series_ohms'),
  parallelOhms: real('parallel_ohms'),
  notes: text('notes'),
})

export const link = sqliteTable('link', {
  id: text('id').$type<Id<'link'>>().primaryKey().notNull(),
  typicalId: text('typical_id')
    .$type<Id<'typical'>>()
    .references(() => typical.id),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .references(() => opening.id),
  fromTypicalFittingId: text('from_typical_fitting_id')
    .$type<Id<'typicalFitting'>>()
    .references(() => typicalFitting.id),
  toTypicalFittingId: text('to_typical_fitting_id')
    .$type<Id<'typicalFitting'>>()
    .references(() => typicalFitting.id),
  fromFittingId: text('from_fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  toFittingId: text('to_fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  partContactId: text('part_contact_id')
    .$type<Id<'partContact'>>()
    .references(() => partContact.id),
  does: text('does', { enum: ['breaks feed of', 'asks', 'watches'] }).notNull(),
  notes: text('notes'),
})

export const factAnswer = sqliteTable('fact_answer', {
  id: text('id').$type<Id<'factAnswer'>>().primaryKey().notNull(),
  fact: text('fact').notNull(),
  levelId: text('level_id')
    .$type<Id<'level'>>()
    .references(() => level.id),
  typicalId: text('typical_id')
    .$type<Id<'typical'>>()
    .references(() => typical.id),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .references(() => opening.id),
  value: text('value').notNull(),
  who: text('who'),
  at: text('at'),
  notes: text('notes'),
})

export const proof = sqliteTable('proof', {
  id: text('id').$type<Id<'proof'>>().primaryKey().notNull(),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .notNull()
    .references(() => opening.id),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  step: text('step').notNull(),
  condition: text('condition'),
  expected: text('expected').notNull(),
  result: text('result', { enum: ['passed', 'failed', 'not done'] }).notNull(),
  reading: real('reading'),
  unit: text('unit'),
  notes: text('notes'),
  who: text('who'),
  at: text('at'),
})

export const finding = sqliteTable('finding', {
  id: text('id').$type<Id<'finding'>>().primaryKey().notNull(),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .references(() => opening.id),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  proofId: text('proof_id')
    .$type<Id<'proof'>>()
    .references(() => proof.id),
  visitId: text('visit_id')
    .$type<Id<'visit'>>()
    .references(() => visit.id),
  words: text('words').notNull(),
  owner: text('owner'),
  state: text('state', { enum: ['open', 'closed'] }).notNull(),
  raisedAt: text('raised_at'),
  closedAt: text('closed_at'),
})

export const issue = sqliteTable('issue', {
  id: text('id').$type<Id<'issue'>>().primaryKey().notNull(),
  form: text('form', { enum: ['schedule', 'handover'] }).notNull(),
  name: text('name').notNull(),
  position: integer('position').notNull(),
  who: text('who'),
  at: text('at'),
  twinSha256: text('twin_sha256'),
  notes: text('notes'),
})

export const jobTerms = sqliteTable('job_terms', {
  id: text('id').$type<Id<'jobTerms'>>().primaryKey().notNull(),
  jobId: text('job_id')
    .$type<Id<'job'>>()
    .notNull()
    .references(() => job.id),
  standbyHours: real('standby_hours'),
  alarmMinutes: real('alarm_minutes'),
  fireAlarmStandbyHours: real('fire_alarm_standby_hours'),
  ageingPercent: real('ageing_percent'),
  coolestCelsius: real('coolest_celsius'),
  warmestCelsius: real('warmest_celsius'),
  cableWastePercent: real('cable_waste_percent'),
})

export const localRule = sqliteTable('local_rule', {
  id: text('id').$type<Id<'localRule'>>().primaryKey().notNull(),
  position: integer('position').notNull(),
  sentence: text('sentence').notNull(),
  citation: text('citation').notNull(),
  question: text('question').notNull(),
  answeredBy: text('answered_by').notNull(),
  wanted: text('wanted', { enum: ['yes', 'no'] }).notNull(),
  severity: text('severity').notNull(),
  appliesTo: text('applies_to', { enum: ['every opening', 'openings where', 'ways out'] }).notNull(),
  fact: text('fact'),
  factIs: text('fact_is'),
  arrangement: text('arrangement'),
})

export const partLoad = sqliteTable('part_load', {
  id: text('id').$type<Id<'partLoad'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  partPositionId: text('part_position_id')
    .$type<Id<'partPosition'>>()
    .references(() => partPosition.id),
  statedVolts: real('stated_volts'),
  minimumVolts: real('minimum_volts'),
  maximumVolts: real('maximum_volts'),
  holdingAmps: real('holding_amps'),
  inrushAmps: real('inrush_amps'),
  inrushSeconds: real('inrush_seconds'),
  draws: text('draws', {
    enum: ['all the time', 'while it holds', 'while it is released', 'only when worked'],
  }),
})

export const partNetworkFeed = sqliteTable('part_network_feed', {
  id: text('id').$type<Id<'partNetworkFeed'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  feedClass: integer('feed_class'),
  watts: real('watts'),
})

export const partBody = sqliteTable('part_body', {
  id: text('id').$type<Id<'partBody'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  widthMicrometres: integer('width_micrometres'),
  heightMicrometres: integer('height_micrometres'),
  depthMicrometres: integer('depth_micrometres'),
  clearMicrometres: integer('clear_micrometres'),
  clearSide: text('clear_side'),
})

export const partPatternFit = sqliteTable('part_pattern_fit', {
  id: text('id').$type<Id<'partPatternFit'>>().primaryKey().notNull(),
  partPatternId: text('part_pattern_id')
    .$type<Id<'partPattern'>>()
    .notNull()
    .references(() => partPattern.id),
  partBodyId: text('part_body_id')
    .$type<Id<'partBody'>>()
    .references(() => partBody.id),
  goesOn: text('goes_on', { enum: ['frame', 'door'] }).notNull(),
  swing: text('swing', { enum: ['pull side', 'push side'] }),
  leaves: text('leaves', { enum: ['single', 'pair', 'either'] }),
  edgeMicrometres: integer('edge_micrometres'),
})

export const partCutOut = sqliteTable('part_cut_out', {
  id: text('id').$type<Id<'partCutOut'>>().primaryKey().notNull(),
  partHoleId: text('part_hole_id')
    .$type<Id<'partHole'>>()
    .notNull()
    .references(() => partHole.id),
  widthMicrometres: integer('width_micrometres'),
  heightMicrometres: integer('height_micrometres'),
})

export const openingFrame = sqliteTable('opening_frame', {
  id: text('id').$type<Id<'openingFrame'>>().primaryKey().notNull(),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .notNull()
    .references(() => opening.id),
  headSoffitMicrometres: integer('head_soffit_micrometres'),
})

export const spare = sqliteTable('spare', {
  id: text('id').$type<Id<'spare'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .notNull()
    .references(() => part.id),
  count: integer('count').notNull(),
  whereKept: text('where_kept'),
  notes: text('notes'),
})

export const placement = sqliteTable('placement', {
  id: text('id').$type<Id<'placement'>>().primaryKey().notNull(),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  typicalFittingId: text('typical_fitting_id')
    .$type<Id<'typicalFitting'>>()
    .references(() => typicalFitting.id),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  place: text('place', { enum: fittingPlaces }),
  side: text('side', { enum: ['keyed', 'egress'] }),
  heightMicrometres: integer('height_micrometres'),
  acrossMicrometres: integer('across_micrometres'),
})

export const firingGroup = sqliteTable('firing_group', {
  id: text('id').$type<Id<'firingGroup'>>().primaryKey().notNull(),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .notNull()
    .references(() => fitting.id),
  name: text('name').notNull(),
})

export const visitPart = sqliteTable('visit_part', {
  id: text('id').$type<Id<'visitPart'>>().primaryKey().notNull(),
  visitId: text('visit_id')
    .$type<Id<'visit'>>()
    .notNull()
    .references(() => visit.id),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  oldSerial: text('old_serial'),
  newSerial: text('new_serial'),
  notes: text('notes'),
})

export const supplyTerms = sqliteTable('supply_terms', {
  id: text('id').$type<Id<'supplyTerms'>>().primaryKey().notNull(),
  supplyId: text('supply_id')
    .$type<Id<'supply'>>()
    .notNull()
    .references(() => supply.id),
  hasBattery: integer('has_battery', { mode: 'boolean' }),
  ownAmps: real('own_amps'),
  efficiencyPercent: real('efficiency_percent'),
  chargingAmps: real('charging_amps'),
  batteryCelsius: real('battery_celsius'),
  lowestVolts: real('lowest_volts'),
  highestVolts: real('highest_volts'),
})

export const outputTerms = sqliteTable('output_terms', {
  id: text('id').$type<Id<'outputTerms'>>().primaryKey().notNull(),
  outputId: text('output_id')
    .$type<Id<'output'>>()
    .notNull()
    .references(() => output.id),
  lowestVolts: real('lowest_volts'),
  highestVolts: real('highest_volts'),
  hasFuse: integer('has_fuse', { mode: 'boolean' }),
  classTwo: text('class_two', { enum: ['none', 'inherent', 'by overcurrent device'] }),
})

export const conductorUse = sqliteTable('conductor_use', {
  id: text('id').$type<Id<'conductorUse'>>().primaryKey().notNull(),
  conductorId: text('conductor_id')
    .$type<Id<'conductor'>>()
    .notNull()
    .references(() => conductor.id),
  role: text('role', { enum: conductorRoles }).notNull(),
})

export const cableKind = sqliteTable('cable_kind', {
  id: text('id').$type<Id<'cableKind'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  position: integer('position').notNull(),
  conductorCount: integer('conductor_count').notNull(),
  size: text('size'),
  stranded: integer('stranded', { mode: 'boolean' }),
  colours: text('colours', { mode: 'json' }).$type<string[]>().notNull(),
  usedFor: text('used_for'),
  notes: text('notes'),
})

export const routeLength = sqliteTable('route_length', {
  id: text('id').$type<Id<'routeLength'>>().primaryKey().notNull(),
  levelId: text('level_id')
    .$type<Id<'level'>>()
    .notNull()
    .references(() => level.id),
  supplyId: text('supply_id')
    .$type<Id<'supply'>>()
    .references(() => supply.id),
  controllerId: text('controller_id')
    .$type<Id<'controller'>>()
    .references(() => controller.id),
  metres: real('metres').notNull(),
})

export const networkSwitch = sqliteTable('network_switch', {
  id: text('id').$type<Id<'networkSwitch'>>().primaryKey().notNull(),
  mark: text('mark').notNull(),
  position: integer('position').notNull(),
  spaceId: text('space_id')
    .$type<Id<'space'>>()
    .references(() => space.id),
  whereText: text('where_text'),
  budgetWatts: real('budget_watts'),
  notes: text('notes'),
})

export const networkPort = sqliteTable('network_port', {
  id: text('id').$type<Id<'networkPort'>>().primaryKey().notNull(),
  networkSwitchId: text('network_switch_id')
    .$type<Id<'networkSwitch'>>()
    .notNull()
    .references(() => networkSwitch.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  feedType: integer('feed_type'),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  controllerId: text('controller_id')
    .$type<Id<'controller'>>()
    .references(() => controller.id),
  cableSize: text('cable_size'),
  stranded: integer('stranded', { mode: 'boolean' }),
  lengthMetres: real('length_metres'),
})

export const pointTerms = sqliteTable('point_terms', {
  id: text('id').$type<Id<'pointTerms'>>().primaryKey().notNull(),
  pointId: text('point_id')
    .$type<Id<'point'>>()
    .notNull()
    .references(() => point.id),
  normally: text('normally', { enum: ['open', 'closed'] }),
  wiredTo: text('wired_to', { enum: ['normally open', 'normally closed'] }),
  tolerancePercent: real('tolerance_percent'),
  closedBelowOhms: real('closed_below_ohms'),
  resistorTolerancePercent: real('resistor_tolerance_percent'),
})

export const pointRelay = sqliteTable('point_relay', {
  id: text('id').$type<Id<'pointRelay'>>().primaryKey().notNull(),
  pointId: text('point_id')
    .$type<Id<'point'>>()
    .notNull()
    .references(() => point.id),
  contact: text('contact', { enum: ['normally open', 'normally closed'] }),
  energised: text('energised', { enum: ['to release', 'to hold'] }),
  releasedInOpenHours: integer('released_in_open_hours', { mode: 'boolean' }),
  unlockSeconds: real('unlock_seconds'),
})

export const issueDocument = sqliteTable('issue_document', {
  id: text('id').$type<Id<'issueDocument'>>().primaryKey().notNull(),
  issueId: text('issue_id')
    .$type<Id<'issue'>>()
    .notNull()
    .references(() => issue.id),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  mediaType: text('media_type').notNull(),
  sha256: text('sha256').notNull(),
  byteCount: integer('byte_count').notNull(),
})

export const signature = sqliteTable('signature', {
  id: text('id').$type<Id<'signature'>>().primaryKey().notNull(),
  issueId: text('issue_id')
    .$type<Id<'issue'>>()
    .references(() => issue.id),
  position: integer('position').notNull(),
  signsFor: text('signs_for', { enum: ['training', 'acceptance'] }).notNull(),
  name: text('name').notNull(),
  company: text('company'),
  role: text('role'),
  signedOn: text('signed_on'),
  notes: text('notes'),
})

export const maintenanceTask = sqliteTable('maintenance_task', {
  id: text('id').$type<Id<'maintenanceTask'>>().primaryKey().notNull(),
  position: integer('position').notNull(),
  name: text('name').notNull(),
  everyMonths: integer('every_months'),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .references(() => opening.id),
  supplyId: text('supply_id')
    .$type<Id<'supply'>>()
    .references(() => supply.id),
  nextOn: text('next_on'),
  notes: text('notes'),
})

export const document = sqliteTable('document', {
  id: text('id').$type<Id<'document'>>().primaryKey().notNull(),
  name: text('name').notNull(),
  form: text('form'),
  mediaType: text('media_type'),
  sha256: text('sha256'),
  byteCount: integer('byte_count'),
  reference: text('reference'),
  partId: text('part_id')
    .$type<Id<'part'>>()
    .references(() => part.id),
  openingId: text('opening_id')
    .$type<Id<'opening'>>()
    .references(() => opening.id),
  fittingId: text('fitting_id')
    .$type<Id<'fitting'>>()
    .references(() => fitting.id),
  proofId: text('proof_id')
    .$type<Id<'proof'>>()
    .references(() => proof.id),
  visitId: text('visit_id')
    .$type<Id<'visit'>>()
    .references(() => visit.id),
  notes: text('notes'),
})

export const change = sqliteTable('change', {
  seq: integer('seq').primaryKey().notNull(),
  name: text('name').notNull(),
  who: text('who').notNull(),
  at: text('at').notNull(),
  state: text('state', { enum: ['done', 'undone', 'dropped'] }).notNull(),
  turnedBy: text('turned_by'),
  turnedAt: text('turned_at'),
  revision: integer('revision').notNull(),
  edits: text('edits').notNull(),
})

export const attachment = sqliteTable('attachment', {
  sha256: text('sha256').primaryKey().notNull(),
  bytes: blob('bytes', { mode: 'buffer' }).notNull(),
})

export const schemaMigration = sqliteTable('schema_migration', {
  number: integer('number').primaryKey().notNull(),
  name: text('name').notNull(),
  sha256: text('sha256').notNull(),
  appliedAt: text('applied_at').notNull(),
})

/** The table of each kind of record. */
export const recordTables = {
  job,
  jobTerms,
  localRule,
  contact,
  building,
  level,
  space,
  part,
  partSetting,
  partPosition,
  partLoad,
  partNetworkFeed,
  partSettingTable,
  partSettingTableRow,
  partContact,
  partContactState,
  partContactTiming,
  partBehaviour,
  partHardware,
  partElement,
  settingEffect,
  partPattern,
  partHole,
  partBody,
  partPatternFit,
  partCutOut,
  spare,
  typical,
  typicalFitting,
  typicalFittingLeaf,
  opening,
  leaf,
  openingFrame,
  leafOverlap,
  fitting,
  placement,
  firingGroup,
  visit,
  visitPart,
  settingValue,
  supply,
  output,
  supplyTerms,
  outputTerms,
  controller,
  run,
  conductor,
  conductorUse,
  cableKind,
  routeLength,
  networkSwitch,
  networkPort,
  point,
  pointTerms,
  pointRelay,
  link,
  factAnswer,
  proof,
  finding,
  issue,
  issueDocument,
  signature,
  maintenanceTask,
  document,
} as const satisfies Record<RecordKind, unknown>
