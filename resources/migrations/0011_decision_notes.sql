-- What a week's review of the caseload decided, and what came of it.

CREATE TABLE decision_note (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  week_start_on TEXT NOT NULL CHECK (date(week_start_on) IS week_start_on),
  kind TEXT NOT NULL CHECK (
    kind = 'rebalance' OR kind = 'intake_frozen' OR kind = 'per_diem' OR kind = 'hire' OR kind = 'other'),
  text TEXT NOT NULL,
  noted_by_id INTEGER NOT NULL REFERENCES user(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  closed_on TEXT CHECK (date(closed_on) IS closed_on),
  outcome TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
