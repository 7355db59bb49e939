-- The month's close and what the clerk decides beside it: an approver, a lot to give out first, the agency's own
-- words on used bottles.
ALTER TABLE agency_settings ADD COLUMN used_bottle_rules TEXT NOT NULL DEFAULT '';
ALTER TABLE purchase_order ADD COLUMN approved_by TEXT NOT NULL DEFAULT '';
ALTER TABLE lot ADD COLUMN is_picked_first INTEGER NOT NULL DEFAULT 0 CHECK (is_picked_first IN (0, 1));

CREATE TABLE month_close (
  id INTEGER PRIMARY KEY,
  month_on TEXT NOT NULL UNIQUE CHECK (date(month_on, 'start of month') IS month_on),
  is_closed INTEGER NOT NULL CHECK (is_closed IN (0, 1)),
  closed_by TEXT NOT NULL,
  closed_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', closed_at) IS closed_at),
  reopen_reason TEXT NOT NULL,
  patient_days INTEGER NOT NULL CHECK (patient_days >= 0),
  row_version INTEGER NOT NULL
) STRICT;
CREATE TABLE month_close_line (
  month_close_id INTEGER NOT NULL REFERENCES month_close(id),
  position INTEGER NOT NULL,
  item_id INTEGER NOT NULL REFERENCES item(id),
  opening INTEGER NOT NULL,
  received INTEGER NOT NULL,
  returned INTEGER NOT NULL,
  issued INTEGER NOT NULL,
  used INTEGER NOT NULL,
  wasted INTEGER NOT NULL,
  adjusted INTEGER NOT NULL,
  closing INTEGER NOT NULL,
  expired INTEGER NOT NULL,
  home_used INTEGER NOT NULL,
  home_wasted INTEGER NOT NULL,
  expired_on_hand INTEGER NOT NULL,
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  eaches_per_case INTEGER NOT NULL CHECK (eaches_per_case > 0),
  price_source TEXT NOT NULL CHECK (
    price_source = 'none' OR price_source = 'last_paid' OR price_source = 'offer'),
  PRIMARY KEY (month_close_id, position),
  CHECK (opening + received - returned - issued - used - wasted + adjusted = closing)
) STRICT, WITHOUT ROWID;

-- What a closed month said stays true: stock no longer moves on its days.
CREATE TRIGGER stock_movement_month_is_open BEFORE INSERT ON stock_movement WHEN
  NEW.at < (SELECT date(max(month_on), '+1 month') FROM month_close WHERE is_closed = 1)
BEGIN
  SELECT RAISE(ABORT, 'month closed: at');
END;
-- A month's flows are read by time.
CREATE INDEX stock_movement_at ON stock_movement(at);
