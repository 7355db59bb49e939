-- Visits that come after others, ordered visits called off for good, and what nurses were told of a changed day.

ALTER TABLE visit_order ADD COLUMN after_order_id INTEGER REFERENCES visit_order(id);
ALTER TABLE visit_order ADD COLUMN after_unit TEXT NOT NULL DEFAULT 'days' CHECK (
  after_unit = 'minutes' OR after_unit = 'days');
ALTER TABLE visit_order ADD COLUMN after_least INTEGER NOT NULL DEFAULT 0 CHECK (after_least >= 0);
ALTER TABLE visit_order ADD COLUMN after_most INTEGER NOT NULL DEFAULT 0 CHECK (after_most >= 0);
ALTER TABLE visit_order ADD COLUMN after_by_another INTEGER NOT NULL DEFAULT 0 CHECK (after_by_another IN (0, 1));

ALTER TABLE visit ADD COLUMN after_order_id INTEGER REFERENCES visit_order(id);
ALTER TABLE visit ADD COLUMN after_visit_id INTEGER REFERENCES visit(id);
ALTER TABLE visit ADD COLUMN after_unit TEXT NOT NULL DEFAULT 'days' CHECK (
  after_unit = 'minutes' OR after_unit = 'days');
ALTER TABLE visit ADD COLUMN after_least INTEGER NOT NULL DEFAULT 0 CHECK (after_least >= 0);
ALTER TABLE visit ADD COLUMN after_most INTEGER NOT NULL DEFAULT 0 CHECK (after_most >= 0);
ALTER TABLE visit ADD COLUMN after_by_another INTEGER NOT NULL DEFAULT 0 CHECK (after_by_another IN (0, 1));
ALTER TABLE visit ADD COLUMN is_dropped INTEGER NOT NULL DEFAULT 0 CHECK (is_dropped IN (0, 1));

CREATE TABLE plan_told (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  told_for_on TEXT NOT NULL CHECK (date(told_for_on) IS told_for_on),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  told_by TEXT NOT NULL,
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE INDEX plan_told_day ON plan_told(told_for_on);
CREATE TABLE plan_told_visit (
  plan_told_id INTEGER NOT NULL REFERENCES plan_told(id),
  position INTEGER NOT NULL,
  visit_id INTEGER NOT NULL REFERENCES visit(id),
  start_min INTEGER NOT NULL CHECK (start_min BETWEEN 0 AND 1440),
  PRIMARY KEY (plan_told_id, position)
) STRICT, WITHOUT ROWID;
