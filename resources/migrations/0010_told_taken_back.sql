-- A call to a home that was written down wrongly is taken back with a reason; the call itself stays.

ALTER TABLE patient_told ADD COLUMN taken_back_at TEXT CHECK (
  strftime('%Y-%m-%dT%H:%M', taken_back_at) IS taken_back_at);
ALTER TABLE patient_told ADD COLUMN taken_back_by_id INTEGER REFERENCES user(id);
ALTER TABLE patient_told ADD COLUMN taken_back_why TEXT NOT NULL DEFAULT '';
