-- What the migrations add up to. Written by tests/electron/store/tables.test.ts; not run by anything.

CREATE TABLE schema_migration (
  number INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  applied_at TEXT NOT NULL
) STRICT;

CREATE TABLE change (
  seq INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  who TEXT NOT NULL,
  at TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'dropped')),
  turned_by TEXT,
  turned_at TEXT,
  revision INTEGER NOT NULL,
  edits TEXT NOT NULL CHECK (json_valid(edits))
) STRICT;

CREATE INDEX change_state ON change (state, seq);

CREATE INDEX change_revision ON change (revision);

CREATE TABLE attachment (
  sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
  bytes BLOB NOT NULL
) STRICT;

CREATE TABLE job (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  number TEXT,
  client TEXT,
  address TEXT,
  prepared_by TEXT,
  units TEXT NOT NULL CHECK (units IN ('imperial', 'metric')),
  date_form TEXT NOT NULL CHECK (date_form IN ('iso', 'local')),
  building_code TEXT,
  loading_limit_percent INTEGER NOT NULL,
  schedule_issue TEXT,
  schedule_date TEXT,
  notes TEXT,
  created_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE contact (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  company TEXT,
  role TEXT,
  email TEXT,
  phone TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE building (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  address TEXT,
  source_id TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE level (
  id TEXT PRIMARY KEY NOT NULL,
  building_id TEXT NOT NULL REFERENCES building (id),
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  elevation_metres REAL,
  source_id TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX level_building_id ON level (building_id);

CREATE TABLE space (
  id TEXT PRIMARY KEY NOT NULL,
  level_id TEXT NOT NULL REFERENCES level (id),
  number TEXT NOT NULL,
  name TEXT,
  source_id TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX space_level_id ON space (level_id);

CREATE TABLE part (
  id TEXT PRIMARY KEY NOT NULL,
  kind TEXT NOT NULL,
  name TEXT NOT NULL,
  model TEXT,
  description TEXT,
  minimum_volts REAL,
  maximum_volts REAL,
  load_form TEXT CHECK (load_form IN ('current', 'power', 'resistance')),
  holding_amps REAL,
  inrush_amps REAL,
  inrush_seconds REAL,
  warranty_months INTEGER,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE part_setting (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  form TEXT NOT NULL CHECK (form IN ('jumper', 'switch', 'dial', 'parameter')),
  unit TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX part_setting_part_id ON part_setting (part_id);

CREATE TABLE part_position (
  id TEXT PRIMARY KEY NOT NULL,
  part_setting_id TEXT NOT NULL REFERENCES part_setting (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  meaning TEXT,
  factory INTEGER NOT NULL CHECK (factory IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE INDEX part_position_part_setting_id ON part_position (part_setting_id);

CREATE TABLE part_setting_table (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX part_setting_table_part_id ON part_setting_table (part_id);

CREATE TABLE part_setting_table_row (
  id TEXT PRIMARY KEY NOT NULL,
  part_setting_table_id TEXT NOT NULL REFERENCES part_setting_table (id),
  position INTEGER NOT NULL,
  "when" TEXT NOT NULL CHECK (json_valid("when")),
  meaning TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX part_setting_table_row_part_setting_table_id ON part_setting_table_row (part_setting_table_id);

CREATE TABLE part_contact (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  form TEXT NOT NULL CHECK (form IN ('normally open', 'normally closed', 'changeover')),
  terminals TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX part_contact_part_id ON part_contact (part_id);

CREATE TABLE part_contact_state (
  id TEXT PRIMARY KEY NOT NULL,
  part_contact_id TEXT NOT NULL REFERENCES part_contact (id),
  circumstance TEXT NOT NULL,
  closed INTEGER NOT NULL CHECK (closed IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE INDEX part_contact_state_part_contact_id ON part_contact_state (part_contact_id);

CREATE TABLE part_pattern (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  substrate TEXT NOT NULL CHECK (substrate IN ('hollow metal', 'solid wood', 'aluminium', 'glass')),
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX part_pattern_part_id ON part_pattern (part_id);

CREATE TABLE part_hole (
  id TEXT PRIMARY KEY NOT NULL,
  part_pattern_id TEXT NOT NULL REFERENCES part_pattern (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  datum TEXT NOT NULL,
  across_micrometres INTEGER NOT NULL,
  along_micrometres INTEGER NOT NULL,
  diameter_micrometres INTEGER,
  depth_micrometres INTEGER,
  face TEXT,
  fastener TEXT,
  drilled_with TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX part_hole_part_pattern_id ON part_hole (part_pattern_id);

CREATE TABLE typical (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  description TEXT,
  position INTEGER NOT NULL,
  furnished_by TEXT,
  fitted_by TEXT,
  wired_by TEXT,
  terminated_by TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE typical_fitting (
  id TEXT PRIMARY KEY NOT NULL,
  typical_id TEXT NOT NULL REFERENCES typical (id),
  position INTEGER NOT NULL,
  tag TEXT NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  furnished_by TEXT,
  fitted_by TEXT,
  wired_by TEXT,
  terminated_by TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX typical_fitting_typical_id ON typical_fitting (typical_id);

CREATE INDEX typical_fitting_part_id ON typical_fitting (part_id);

CREATE TABLE opening (
  id TEXT PRIMARY KEY NOT NULL,
  level_id TEXT NOT NULL REFERENCES level (id),
  mark TEXT NOT NULL,
  where_text TEXT,
  to_space_id TEXT REFERENCES space (id),
  from_space_id TEXT REFERENCES space (id),
  width_micrometres INTEGER,
  height_micrometres INTEGER,
  thickness_micrometres INTEGER,
  hand TEXT CHECK (hand IN ('LH', 'RH', 'LHR', 'RHR')),
  door_type TEXT,
  frame_material TEXT,
  fire_label_minutes INTEGER,
  fire_label_class TEXT CHECK (fire_label_class IN ('A', 'B', 'C', 'D', 'E')),
  hardware_set TEXT,
  typical_id TEXT REFERENCES typical (id),
  furnished_by TEXT,
  fitted_by TEXT,
  wired_by TEXT,
  terminated_by TEXT,
  serial TEXT,
  asset_tag TEXT,
  installed_on TEXT,
  notes TEXT,
  source_id TEXT,
  source TEXT CHECK (json_valid(source))
) STRICT, WITHOUT ROWID;

CREATE INDEX opening_level_id ON opening (level_id);

CREATE INDEX opening_to_space_id ON opening (to_space_id);

CREATE INDEX opening_from_space_id ON opening (from_space_id);

CREATE INDEX opening_typical_id ON opening (typical_id);

CREATE TABLE leaf (
  id TEXT PRIMARY KEY NOT NULL,
  opening_id TEXT NOT NULL REFERENCES opening (id),
  position INTEGER NOT NULL,
  role TEXT NOT NULL CHECK (role IN ('only', 'active', 'inactive')),
  width_micrometres INTEGER,
  material TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX leaf_opening_id ON leaf (opening_id);

CREATE TABLE fitting (
  id TEXT PRIMARY KEY NOT NULL,
  opening_id TEXT NOT NULL REFERENCES opening (id),
  leaf_id TEXT REFERENCES leaf (id),
  typical_fitting_id TEXT REFERENCES typical_fitting (id),
  position INTEGER NOT NULL,
  tag TEXT,
  part_id TEXT REFERENCES part (id),
  left_out INTEGER NOT NULL CHECK (left_out IN (0, 1)),
  furnished_by TEXT,
  fitted_by TEXT,
  wired_by TEXT,
  terminated_by TEXT,
  serial TEXT,
  installed_on TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX fitting_opening_id ON fitting (opening_id);

CREATE INDEX fitting_leaf_id ON fitting (leaf_id);

CREATE INDEX fitting_typical_fitting_id ON fitting (typical_fitting_id);

CREATE INDEX fitting_part_id ON fitting (part_id);

CREATE TABLE visit (
  id TEXT PRIMARY KEY NOT NULL,
  opening_id TEXT REFERENCES opening (id),
  reported_by TEXT,
  reported_at TEXT,
  symptom TEXT,
  found TEXT,
  done TEXT,
  who TEXT,
  at TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX visit_opening_id ON visit (opening_id);

CREATE TABLE setting_value (
  id TEXT PRIMARY KEY NOT NULL,
  typical_fitting_id TEXT REFERENCES typical_fitting (id),
  fitting_id TEXT REFERENCES fitting (id),
  part_setting_id TEXT NOT NULL REFERENCES part_setting (id),
  stage TEXT NOT NULL CHECK (stage IN ('designed', 'set', 'found')),
  value TEXT NOT NULL,
  who TEXT,
  at TEXT,
  visit_id TEXT REFERENCES visit (id),
  CHECK ((typical_fitting_id IS NULL) <> (fitting_id IS NULL))
) STRICT, WITHOUT ROWID;

CREATE INDEX setting_value_typical_fitting_id ON setting_value (typical_fitting_id);

CREATE INDEX setting_value_fitting_id ON setting_value (fitting_id);

CREATE INDEX setting_value_part_setting_id ON setting_value (part_setting_id);

CREATE INDEX setting_value_visit_id ON setting_value (visit_id);

CREATE TABLE supply (
  id TEXT PRIMARY KEY NOT NULL,
  mark TEXT NOT NULL,
  position INTEGER NOT NULL,
  part_id TEXT REFERENCES part (id),
  space_id TEXT REFERENCES space (id),
  where_text TEXT,
  rated_volts REAL,
  rated_amps REAL,
  battery_volts REAL,
  battery_amp_hours REAL,
  standby_hours REAL,
  alarm_minutes REAL,
  battery_installed_on TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX supply_part_id ON supply (part_id);

CREATE INDEX supply_space_id ON supply (space_id);

CREATE TABLE output (
  id TEXT PRIMARY KEY NOT NULL,
  supply_id TEXT NOT NULL REFERENCES supply (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  rated_volts REAL,
  rated_amps REAL,
  fuse_amps REAL,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX output_supply_id ON output (supply_id);

CREATE TABLE controller (
  id TEXT PRIMARY KEY NOT NULL,
  mark TEXT NOT NULL,
  position INTEGER NOT NULL,
  part_id TEXT REFERENCES part (id),
  space_id TEXT REFERENCES space (id),
  where_text TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX controller_part_id ON controller (part_id);

CREATE INDEX controller_space_id ON controller (space_id);

CREATE TABLE run (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  from_output_id TEXT REFERENCES output (id),
  from_fitting_id TEXT REFERENCES fitting (id),
  from_controller_id TEXT REFERENCES controller (id),
  to_output_id TEXT REFERENCES output (id),
  to_fitting_id TEXT REFERENCES fitting (id),
  to_controller_id TEXT REFERENCES controller (id),
  cable TEXT,
  length_metres REAL,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX run_from_output_id ON run (from_output_id);

CREATE INDEX run_from_fitting_id ON run (from_fitting_id);

CREATE INDEX run_from_controller_id ON run (from_controller_id);

CREATE INDEX run_to_output_id ON run (to_output_id);

CREATE INDEX run_to_fitting_id ON run (to_fitting_id);

CREATE INDEX run_to_controller_id ON run (to_controller_id);

CREATE TABLE conductor (
  id TEXT PRIMARY KEY NOT NULL,
  run_id TEXT NOT NULL REFERENCES run (id),
  position INTEGER NOT NULL,
  colour TEXT,
  size TEXT,
  stranded INTEGER CHECK (stranded IN (0, 1)),
  purpose TEXT,
  from_terminal TEXT,
  to_terminal TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX conductor_run_id ON conductor (run_id);

CREATE TABLE point (
  id TEXT PRIMARY KEY NOT NULL,
  controller_id TEXT NOT NULL REFERENCES controller (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  direction TEXT NOT NULL CHECK (direction IN ('input', 'output')),
  fitting_id TEXT REFERENCES fitting (id),
  part_contact_id TEXT REFERENCES part_contact (id),
  loop TEXT CHECK (loop IN ('plain', 'one resistor', 'two resistors')),
  series_ohms REAL,
  parallel_ohms REAL,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX point_controller_id ON point (controller_id);

CREATE INDEX point_fitting_id ON point (fitting_id);

CREATE INDEX point_part_contact_id ON point (part_contact_id);

CREATE TABLE link (
  id TEXT PRIMARY KEY NOT NULL,
  typical_id TEXT REFERENCES typical (id),
  opening_id TEXT REFERENCES opening (id),
  from_typical_fitting_id TEXT REFERENCES typical_fitting (id),
  to_typical_fitting_id TEXT REFERENCES typical_fitting (id),
  from_fitting_id TEXT REFERENCES fitting (id),
  to_fitting_id TEXT REFERENCES fitting (id),
  part_contact_id TEXT REFERENCES part_contact (id),
  does TEXT NOT NULL CHECK (does IN ('breaks feed of', 'asks', 'watches')),
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX link_typical_id ON link (typical_id);

CREATE INDEX link_opening_id ON link (opening_id);

CREATE INDEX link_from_typical_fitting_id ON link (from_typical_fitting_id);

CREATE INDEX link_to_typical_fitting_id ON link (to_typical_fitting_id);

CREATE INDEX link_from_fitting_id ON link (from_fitting_id);

CREATE INDEX link_to_fitting_id ON link (to_fitting_id);

CREATE INDEX link_part_contact_id ON link (part_contact_id);

CREATE TABLE fact_answer (
  id TEXT PRIMARY KEY NOT NULL,
  fact TEXT NOT NULL,
  level_id TEXT REFERENCES level (id),
  typical_id TEXT REFERENCES typical (id),
  opening_id TEXT REFERENCES opening (id),
  value TEXT NOT NULL,
  who TEXT,
  at TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX fact_answer_level_id ON fact_answer (level_id);

CREATE INDEX fact_answer_typical_id ON fact_answer (typical_id);

CREATE INDEX fact_answer_opening_id ON fact_answer (opening_id);

CREATE TABLE proof (
  id TEXT PRIMARY KEY NOT NULL,
  opening_id TEXT NOT NULL REFERENCES opening (id),
  fitting_id TEXT REFERENCES fitting (id),
  step TEXT NOT NULL,
  condition TEXT,
  expected TEXT NOT NULL,
  result TEXT NOT NULL CHECK (result IN ('passed', 'failed', 'not done')),
  reading REAL,
  unit TEXT,
  notes TEXT,
  who TEXT,
  at TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX proof_opening_id ON proof (opening_id);

CREATE INDEX proof_fitting_id ON proof (fitting_id);

CREATE TABLE finding (
  id TEXT PRIMARY KEY NOT NULL,
  opening_id TEXT REFERENCES opening (id),
  fitting_id TEXT REFERENCES fitting (id),
  proof_id TEXT REFERENCES proof (id),
  visit_id TEXT REFERENCES visit (id),
  words TEXT NOT NULL,
  owner TEXT,
  state TEXT NOT NULL CHECK (state IN ('open', 'closed')),
  raised_at TEXT,
  closed_at TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX finding_opening_id ON finding (opening_id);

CREATE INDEX finding_fitting_id ON finding (fitting_id);

CREATE INDEX finding_proof_id ON finding (proof_id);

CREATE INDEX finding_visit_id ON finding (visit_id);

CREATE TABLE issue (
  id TEXT PRIMARY KEY NOT NULL,
  form TEXT NOT NULL CHECK (form IN ('schedule', 'handover')),
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  who TEXT,
  at TEXT,
  twin_sha256 TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE document (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  form TEXT,
  media_type TEXT,
  sha256 TEXT,
  byte_count INTEGER,
  reference TEXT,
  part_id TEXT REFERENCES part (id),
  opening_id TEXT REFERENCES opening (id),
  fitting_id TEXT REFERENCES fitting (id),
  proof_id TEXT REFERENCES proof (id),
  visit_id TEXT REFERENCES visit (id),
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX document_part_id ON document (part_id);

CREATE INDEX document_opening_id ON document (opening_id);

CREATE INDEX document_fitting_id ON document (fitting_id);

CREATE INDEX document_proof_id ON document (proof_id);

CREATE INDEX document_visit_id ON document (visit_id);

CREATE TABLE part_contact_timing (
  id TEXT PRIMARY KEY NOT NULL,
  part_contact_id TEXT NOT NULL REFERENCES part_contact (id),
  lasts TEXT NOT NULL CHECK (lasts IN ('as long as its cause', 'until reset', 'seconds')),
  seconds REAL CHECK (seconds >= 0)
) STRICT, WITHOUT ROWID;

CREATE INDEX part_contact_timing_part_contact_id ON part_contact_timing (part_contact_id);

CREATE TABLE part_behaviour (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  worked_as TEXT CHECK (worked_as IN ('exit', 'manual release', 'credential', 'key', 'staff')),
  worked_with TEXT,
  how_worked TEXT CHECK (how_worked IN ('approach', 'press', 'hardware', 'key', 'credential', 'staff')),
  listed_as TEXT CHECK (json_valid(listed_as)),
  power TEXT CHECK (power IN ('none', 'from a supply', 'from the fire alarm', 'from the mains')),
  shuts_leaf INTEGER NOT NULL CHECK (shuts_leaf IN (0, 1)),
  opens_leaf INTEGER NOT NULL CHECK (opens_leaf IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE INDEX part_behaviour_part_id ON part_behaviour (part_id);

CREATE TABLE part_hardware (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  side TEXT NOT NULL CHECK (side IN ('keyed', 'egress')),
  motion TEXT NOT NULL CHECK (motion IN ('lever', 'exit device', 'push pad', 'thumb turn', 'push on the leaf', 'pull on the leaf', 'key'))
) STRICT, WITHOUT ROWID;

CREATE INDEX part_hardware_part_id ON part_hardware (part_id);

CREATE TABLE part_element (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  grip TEXT NOT NULL CHECK (grip IN ('holds the leaf', 'blocks hardware', 'latches', 'keeps a latch', 'holds the leaf open')),
  engaged TEXT CHECK (engaged IN ('always', 'by hand', 'while the active leaf is shut', 'while fed', 'while not fed')),
  drawn_by TEXT NOT NULL CHECK (json_valid(drawn_by)),
  blocks TEXT NOT NULL CHECK (json_valid(blocks)),
  delay_started_by TEXT NOT NULL CHECK (json_valid(delay_started_by)),
  delay_seconds REAL CHECK (delay_seconds >= 0),
  relatches INTEGER CHECK (relatches IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE INDEX part_element_part_id ON part_element (part_id);

CREATE TABLE setting_effect (
  id TEXT PRIMARY KEY NOT NULL,
  part_position_id TEXT REFERENCES part_position (id),
  part_setting_table_row_id TEXT REFERENCES part_setting_table_row (id),
  part_contact_id TEXT REFERENCES part_contact (id),
  part_element_id TEXT REFERENCES part_element (id),
  changes TEXT NOT NULL CHECK (changes IN ('turned round', 'without power', 'engaged', 'delay seconds', 'lasts seconds')),
  value TEXT NOT NULL,
  CHECK ((part_position_id IS NULL) <> (part_setting_table_row_id IS NULL)),
  CHECK ((part_contact_id IS NULL) <> (part_element_id IS NULL))
) STRICT, WITHOUT ROWID;

CREATE INDEX setting_effect_part_position_id ON setting_effect (part_position_id);

CREATE INDEX setting_effect_part_setting_table_row_id ON setting_effect (part_setting_table_row_id);

CREATE INDEX setting_effect_part_contact_id ON setting_effect (part_contact_id);

CREATE INDEX setting_effect_part_element_id ON setting_effect (part_element_id);

CREATE TABLE typical_fitting_leaf (
  id TEXT PRIMARY KEY NOT NULL,
  typical_fitting_id TEXT NOT NULL REFERENCES typical_fitting (id),
  leaf TEXT NOT NULL CHECK (leaf IN ('active', 'inactive'))
) STRICT, WITHOUT ROWID;

CREATE INDEX typical_fitting_leaf_typical_fitting_id ON typical_fitting_leaf (typical_fitting_id);

CREATE TABLE leaf_overlap (
  id TEXT PRIMARY KEY NOT NULL,
  leaf_id TEXT NOT NULL REFERENCES leaf (id),
  opens_after_active INTEGER NOT NULL CHECK (opens_after_active IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE INDEX leaf_overlap_leaf_id ON leaf_overlap (leaf_id);

CREATE TABLE job_terms (
  id TEXT PRIMARY KEY NOT NULL,
  job_id TEXT NOT NULL REFERENCES job (id),
  standby_hours REAL,
  alarm_minutes REAL,
  fire_alarm_standby_hours REAL,
  ageing_percent REAL,
  coolest_celsius REAL,
  warmest_celsius REAL,
  cable_waste_percent REAL
) STRICT, WITHOUT ROWID;

CREATE INDEX job_terms_job_id ON job_terms (job_id);

CREATE TABLE local_rule (
  id TEXT PRIMARY KEY NOT NULL,
  position INTEGER NOT NULL,
  sentence TEXT NOT NULL,
  citation TEXT NOT NULL,
  question TEXT NOT NULL,
  answered_by TEXT NOT NULL,
  wanted TEXT NOT NULL CHECK (wanted IN ('yes', 'no')),
  severity TEXT NOT NULL,
  applies_to TEXT NOT NULL CHECK (applies_to IN ('every opening', 'openings where', 'ways out')),
  fact TEXT,
  fact_is TEXT,
  arrangement TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE part_load (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  part_position_id TEXT REFERENCES part_position (id),
  stated_volts REAL,
  minimum_volts REAL,
  maximum_volts REAL,
  holding_amps REAL,
  inrush_amps REAL,
  inrush_seconds REAL,
  draws TEXT CHECK (draws IN ('all the time', 'while it holds', 'while it is released', 'only when worked'))
) STRICT, WITHOUT ROWID;

CREATE INDEX part_load_part_id ON part_load (part_id);

CREATE INDEX part_load_part_position_id ON part_load (part_position_id);

CREATE TABLE part_network_feed (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  feed_class INTEGER CHECK (feed_class BETWEEN 0 AND 8),
  watts REAL
) STRICT, WITHOUT ROWID;

CREATE INDEX part_network_feed_part_id ON part_network_feed (part_id);

CREATE TABLE part_body (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  width_micrometres INTEGER,
  height_micrometres INTEGER,
  depth_micrometres INTEGER,
  clear_micrometres INTEGER,
  clear_side TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX part_body_part_id ON part_body (part_id);

CREATE TABLE part_pattern_fit (
  id TEXT PRIMARY KEY NOT NULL,
  part_pattern_id TEXT NOT NULL REFERENCES part_pattern (id),
  part_body_id TEXT REFERENCES part_body (id),
  goes_on TEXT NOT NULL CHECK (goes_on IN ('frame', 'door')),
  swing TEXT CHECK (swing IN ('pull side', 'push side')),
  leaves TEXT CHECK (leaves IN ('single', 'pair', 'either')),
  edge_micrometres INTEGER
) STRICT, WITHOUT ROWID;

CREATE INDEX part_pattern_fit_part_pattern_id ON part_pattern_fit (part_pattern_id);

CREATE INDEX part_pattern_fit_part_body_id ON part_pattern_fit (part_body_id);

CREATE TABLE spare (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT NOT NULL REFERENCES part (id),
  count INTEGER NOT NULL CHECK (count >= 0),
  where_kept TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX spare_part_id ON spare (part_id);

CREATE TABLE placement (
  id TEXT PRIMARY KEY NOT NULL,
  part_id TEXT REFERENCES part (id),
  typical_fitting_id TEXT REFERENCES typical_fitting (id),
  fitting_id TEXT REFERENCES fitting (id),
  place TEXT CHECK (place IN ('frame head', 'frame strike jamb', 'frame hinge jamb', 'leaf', 'leaf strike edge', 'leaf hinge edge', 'wall', 'ceiling', 'elsewhere')),
  side TEXT CHECK (side IN ('keyed', 'egress')),
  height_micrometres INTEGER,
  across_micrometres INTEGER,
  CHECK ((part_id IS NOT NULL) + (typical_fitting_id IS NOT NULL) + (fitting_id IS NOT NULL) = 1)
) STRICT, WITHOUT ROWID;

CREATE INDEX placement_part_id ON placement (part_id);

CREATE INDEX placement_typical_fitting_id ON placement (typical_fitting_id);

CREATE INDEX placement_fitting_id ON placement (fitting_id);

CREATE TABLE firing_group (
  id TEXT PRIMARY KEY NOT NULL,
  fitting_id TEXT NOT NULL REFERENCES fitting (id),
  name TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE INDEX firing_group_fitting_id ON firing_group (fitting_id);

CREATE TABLE visit_part (
  id TEXT PRIMARY KEY NOT NULL,
  visit_id TEXT NOT NULL REFERENCES visit (id),
  fitting_id TEXT REFERENCES fitting (id),
  part_id TEXT REFERENCES part (id),
  old_serial TEXT,
  new_serial TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX visit_part_visit_id ON visit_part (visit_id);

CREATE INDEX visit_part_fitting_id ON visit_part (fitting_id);

CREATE INDEX visit_part_part_id ON visit_part (part_id);

CREATE TABLE supply_terms (
  id TEXT PRIMARY KEY NOT NULL,
  supply_id TEXT NOT NULL REFERENCES supply (id),
  has_battery INTEGER CHECK (has_battery IN (0, 1)),
  own_amps REAL,
  efficiency_percent REAL,
  charging_amps REAL,
  battery_celsius REAL,
  lowest_volts REAL,
  highest_volts REAL
) STRICT, WITHOUT ROWID;

CREATE INDEX supply_terms_supply_id ON supply_terms (supply_id);

CREATE TABLE output_terms (
  id TEXT PRIMARY KEY NOT NULL,
  output_id TEXT NOT NULL REFERENCES output (id),
  lowest_volts REAL,
  highest_volts REAL,
  has_fuse INTEGER CHECK (has_fuse IN (0, 1)),
  class_two TEXT CHECK (class_two IN ('none', 'inherent', 'by overcurrent device'))
) STRICT, WITHOUT ROWID;

CREATE INDEX output_terms_output_id ON output_terms (output_id);

CREATE TABLE conductor_use (
  id TEXT PRIMARY KEY NOT NULL,
  conductor_id TEXT NOT NULL REFERENCES conductor (id),
  role TEXT NOT NULL CHECK (role IN ('feed', 'return', 'signal', 'shield', 'spare'))
) STRICT, WITHOUT ROWID;

CREATE INDEX conductor_use_conductor_id ON conductor_use (conductor_id);

CREATE TABLE cable_kind (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  conductor_count INTEGER NOT NULL CHECK (conductor_count >= 1),
  size TEXT,
  stranded INTEGER CHECK (stranded IN (0, 1)),
  colours TEXT NOT NULL CHECK (json_valid(colours)),
  used_for TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE route_length (
  id TEXT PRIMARY KEY NOT NULL,
  level_id TEXT NOT NULL REFERENCES level (id),
  supply_id TEXT REFERENCES supply (id),
  controller_id TEXT REFERENCES controller (id),
  metres REAL NOT NULL CHECK (metres >= 0)
) STRICT, WITHOUT ROWID;

CREATE INDEX route_length_level_id ON route_length (level_id);

CREATE INDEX route_length_supply_id ON route_length (supply_id);

CREATE INDEX route_length_controller_id ON route_length (controller_id);

CREATE TABLE network_switch (
  id TEXT PRIMARY KEY NOT NULL,
  mark TEXT NOT NULL,
  position INTEGER NOT NULL,
  space_id TEXT REFERENCES space (id),
  where_text TEXT,
  budget_watts REAL,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX network_switch_space_id ON network_switch (space_id);

CREATE TABLE network_port (
  id TEXT PRIMARY KEY NOT NULL,
  network_switch_id TEXT NOT NULL REFERENCES network_switch (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  feed_type INTEGER CHECK (feed_type BETWEEN 1 AND 4),
  fitting_id TEXT REFERENCES fitting (id),
  controller_id TEXT REFERENCES controller (id),
  cable_size TEXT,
  stranded INTEGER CHECK (stranded IN (0, 1)),
  length_metres REAL
) STRICT, WITHOUT ROWID;

CREATE INDEX network_port_network_switch_id ON network_port (network_switch_id);

CREATE INDEX network_port_fitting_id ON network_port (fitting_id);

CREATE INDEX network_port_controller_id ON network_port (controller_id);

CREATE TABLE point_terms (
  id TEXT PRIMARY KEY NOT NULL,
  point_id TEXT NOT NULL REFERENCES point (id),
  normally TEXT CHECK (normally IN ('open', 'closed')),
  wired_to TEXT CHECK (wired_to IN ('normally open', 'normally closed')),
  tolerance_percent REAL,
  closed_below_ohms REAL,
  resistor_tolerance_percent REAL
) STRICT, WITHOUT ROWID;

CREATE INDEX point_terms_point_id ON point_terms (point_id);

CREATE TABLE point_relay (
  id TEXT PRIMARY KEY NOT NULL,
  point_id TEXT NOT NULL REFERENCES point (id),
  contact TEXT CHECK (contact IN ('normally open', 'normally closed')),
  energised TEXT CHECK (energised IN ('to release', 'to hold')),
  released_in_open_hours INTEGER CHECK (released_in_open_hours IN (0, 1)),
  unlock_seconds REAL
) STRICT, WITHOUT ROWID;

CREATE INDEX point_relay_point_id ON point_relay (point_id);

CREATE TABLE issue_document (
  id TEXT PRIMARY KEY NOT NULL,
  issue_id TEXT NOT NULL REFERENCES issue (id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  media_type TEXT NOT NULL,
  sha256 TEXT NOT NULL,
  byte_count INTEGER NOT NULL CHECK (byte_count >= 0)
) STRICT, WITHOUT ROWID;

CREATE INDEX issue_document_issue_id ON issue_document (issue_id);

CREATE TABLE signature (
  id TEXT PRIMARY KEY NOT NULL,
  issue_id TEXT REFERENCES issue (id),
  position INTEGER NOT NULL,
  signs_for TEXT NOT NULL CHECK (signs_for IN ('training', 'acceptance')),
  name TEXT NOT NULL,
  company TEXT,
  role TEXT,
  signed_on TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX signature_issue_id ON signature (issue_id);

CREATE TABLE maintenance_task (
  id TEXT PRIMARY KEY NOT NULL,
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  every_months INTEGER CHECK (every_months >= 1),
  part_id TEXT REFERENCES part (id),
  opening_id TEXT REFERENCES opening (id),
  supply_id TEXT REFERENCES supply (id),
  next_on TEXT,
  notes TEXT
) STRICT, WITHOUT ROWID;

CREATE INDEX maintenance_task_part_id ON maintenance_task (part_id);

CREATE INDEX maintenance_task_opening_id ON maintenance_task (opening_id);

CREATE INDEX maintenance_task_supply_id ON maintenance_task (supply_id);

CREATE TABLE part_cut_out (
  id TEXT PRIMARY KEY NOT NULL,
  part_hole_id TEXT NOT NULL REFERENCES part_hole (id),
  width_micrometres INTEGER,
  height_micrometres INTEGER
) STRICT, WITHOUT ROWID;

CREATE INDEX part_cut_out_part_hole_id ON part_cut_out (part_hole_id);

CREATE TABLE opening_frame (
  id TEXT PRIMARY KEY NOT NULL,
  opening_id TEXT NOT NULL REFERENCES opening (id),
  head_soffit_micrometres INTEGER
) STRICT, WITHOUT ROWID;

CREATE INDEX opening_frame_opening_id ON opening_frame (opening_id);
