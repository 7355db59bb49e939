-- What the team writes down for one another: hand-overs and who accepted them, the watch list, a prescriber's
-- answer to a questioned order; how far was driven and how that is known.

CREATE TABLE hand_over (
  id INTEGER PRIMARY KEY,
  handed_by_id INTEGER NOT NULL REFERENCES user(id),
  handed_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', handed_at) IS handed_at),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE TABLE hand_over_item (
  hand_over_id INTEGER NOT NULL REFERENCES hand_over(id),
  position INTEGER NOT NULL,
  topic TEXT NOT NULL CHECK (
    topic = 'call' OR topic = 'stock' OR topic = 'clock' OR topic = 'hold' OR topic = 'change'),
  subject TEXT NOT NULL,
  patient_id INTEGER REFERENCES patient(id),
  what TEXT NOT NULL,
  accepted_by_id INTEGER REFERENCES user(id),
  accepted_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', accepted_at) IS accepted_at),
  PRIMARY KEY (hand_over_id, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX hand_over_item_open ON hand_over_item(hand_over_id) WHERE accepted_at IS NULL;

CREATE TABLE watch_entry (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  since_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', since_at) IS since_at),
  owner_user_id INTEGER REFERENCES user(id),
  owner_nurse_id INTEGER REFERENCES nurse(id),
  next_step TEXT NOT NULL,
  next_on TEXT CHECK (date(next_on) IS next_on),
  snoozed_to_on TEXT CHECK (date(snoozed_to_on) IS snoozed_to_on),
  snooze_reason TEXT NOT NULL,
  closed_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', closed_at) IS closed_at),
  outcome TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
-- One watch a patient at a time.
CREATE UNIQUE INDEX watch_entry_open ON watch_entry(patient_id) WHERE closed_at IS NULL;
CREATE TABLE watch_entry_known (
  watch_entry_id INTEGER NOT NULL REFERENCES watch_entry(id),
  position INTEGER NOT NULL,
  subject TEXT NOT NULL,
  PRIMARY KEY (watch_entry_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE order_answer (
  id INTEGER PRIMARY KEY,
  drain_order_id INTEGER NOT NULL REFERENCES drain_order(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  answered_by TEXT NOT NULL,
  words TEXT NOT NULL,
  was_read_back INTEGER NOT NULL CHECK (was_read_back = 1),
  taken_by_id INTEGER NOT NULL REFERENCES user(id),
  row_version INTEGER NOT NULL
) STRICT;

ALTER TABLE visit ADD COLUMN driven_is_estimated INTEGER NOT NULL DEFAULT 0 CHECK (driven_is_estimated IN (0, 1));
ALTER TABLE agency_settings ADD COLUMN distance_unit TEXT NOT NULL DEFAULT 'miles' CHECK (
  distance_unit = 'miles' OR distance_unit = 'kilometres');
