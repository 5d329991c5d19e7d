-- What power, placing, points, handover and service need beyond the first tables; and rules of the job's own.

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
