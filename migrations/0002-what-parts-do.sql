-- What parts do: what holds, what a hand works, how long contacts stay changed, and what settings change.

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
