-- That a nurse was told, written down wrongly, is taken back with a reason; the record itself stays.

ALTER TABLE plan_told ADD COLUMN taken_back_at TEXT CHECK (
  strftime('%Y-%m-%dT%H:%M', taken_back_at) IS taken_back_at);
ALTER TABLE plan_told ADD COLUMN taken_back_by_id INTEGER REFERENCES user(id);
ALTER TABLE plan_told ADD COLUMN taken_back_why TEXT NOT NULL DEFAULT '';
