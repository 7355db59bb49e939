-- What a home was told of a visit that changed after it was published, and calls about it that reached nobody.

CREATE TABLE patient_told (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  reached TEXT NOT NULL CHECK (
    reached = 'patient' OR reached = 'relative' OR reached = 'message_left' OR reached = 'nobody'),
  told_by_id INTEGER NOT NULL REFERENCES user(id),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE INDEX patient_told_at ON patient_told(at);
-- The place told: day, start and nurse, or none of them where there is no visit.
CREATE TABLE patient_told_visit (
  patient_told_id INTEGER NOT NULL REFERENCES patient_told(id),
  position INTEGER NOT NULL,
  visit_id INTEGER NOT NULL REFERENCES visit(id),
  told_on TEXT CHECK (date(told_on) IS told_on),
  start_min INTEGER CHECK (start_min BETWEEN 0 AND 1440),
  nurse_id INTEGER REFERENCES nurse(id),
  second_nurse_id INTEGER REFERENCES nurse(id),
  PRIMARY KEY (patient_told_id, position),
  CHECK ((told_on IS NULL) = (start_min IS NULL) AND (told_on IS NULL) = (nurse_id IS NULL)),
  CHECK (second_nurse_id IS NULL OR second_nurse_id <> nurse_id)
) STRICT, WITHOUT ROWID;
