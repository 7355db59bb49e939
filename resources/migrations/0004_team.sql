-- What the coordinator and the nurse manager keep: reasons, leave asked for, what-ifs, areas closed to referrals.

-- Time off written down before there were requests was agreed to.
ALTER TABLE time_off ADD COLUMN status TEXT NOT NULL DEFAULT 'approved' CHECK (
  status = 'requested' OR status = 'approved' OR status = 'declined');
ALTER TABLE time_off ADD COLUMN asked_on TEXT CHECK (date(asked_on) IS asked_on);
ALTER TABLE time_off ADD COLUMN decided_by_id INTEGER REFERENCES user(id);
ALTER TABLE time_off ADD COLUMN decided_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', decided_at) IS decided_at);
ALTER TABLE time_off ADD COLUMN decision_note TEXT NOT NULL DEFAULT '';

ALTER TABLE patient ADD COLUMN assignment_reason TEXT NOT NULL DEFAULT '';

CREATE TABLE kept_what_if (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  name TEXT NOT NULL UNIQUE,
  week_start_on TEXT NOT NULL CHECK (date(week_start_on) IS week_start_on),
  kind TEXT NOT NULL CHECK (
    kind = 'nurse_away' OR kind = 'nurse_added' OR kind = 'referrals' OR kind = 'shift' OR kind = 'setting'),
  nurse_id INTEGER REFERENCES nurse(id),
  away_from_on TEXT CHECK (date(away_from_on) IS away_from_on),
  away_to_on TEXT CHECK (date(away_to_on) IS away_to_on),
  referrals INTEGER NOT NULL CHECK (referrals >= 0),
  seed INTEGER NOT NULL,
  shift_on TEXT CHECK (date(shift_on) IS shift_on),
  from_min INTEGER CHECK (from_min BETWEEN 0 AND 1440),
  to_min INTEGER CHECK (to_min BETWEEN 0 AND 1440),
  setting TEXT NOT NULL,
  value INTEGER NOT NULL,
  kept_on TEXT NOT NULL CHECK (date(kept_on) IS kept_on),
  said_then TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE intake_closure (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  area TEXT NOT NULL CHECK (area = 'urban' OR area = 'suburban' OR area = 'rural'),
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  to_on TEXT CHECK (date(to_on) IS to_on),
  reason TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
