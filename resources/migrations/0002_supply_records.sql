-- What the storeroom and the clerk keep beside the ledger.

-- The courier's own number, once the parcel has left.
ALTER TABLE delivery ADD COLUMN tracking_number TEXT NOT NULL DEFAULT '';

-- One try to reach a home that received a lot; the newest stands.
CREATE TABLE recall_outcome (
  id INTEGER PRIMARY KEY,
  lot_id INTEGER NOT NULL REFERENCES lot(id),
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  told_by TEXT NOT NULL,
  spoke_with TEXT NOT NULL,
  answer TEXT NOT NULL CHECK (
    answer = 'no_answer' OR answer = 'message_left' OR answer = 'set_aside' OR answer = 'none_left' OR
    answer = 'declined'),
  set_aside INTEGER NOT NULL CHECK (set_aside >= 0),
  replaced INTEGER NOT NULL CHECK (replaced >= 0),
  note TEXT NOT NULL
) STRICT;
CREATE INDEX recall_outcome_lot ON recall_outcome(lot_id, catheter_id);

CREATE TABLE substitution (
  id INTEGER PRIMARY KEY,
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  item_id INTEGER NOT NULL REFERENCES item(id),
  stand_in_item_id INTEGER NOT NULL REFERENCES item(id),
  approver TEXT NOT NULL CHECK (approver = 'prescriber' OR approver = 'nurse'),
  approved_by TEXT NOT NULL,
  approved_on TEXT NOT NULL CHECK (date(approved_on) IS approved_on),
  taught_by TEXT NOT NULL,
  taught_on TEXT NOT NULL CHECK (date(taught_on) IS taught_on),
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  revert_on TEXT NOT NULL CHECK (date(revert_on) IS revert_on),
  reverted_on TEXT CHECK (date(reverted_on) IS reverted_on),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE INDEX substitution_catheter ON substitution(catheter_id);

CREATE TABLE shortage_action (
  id INTEGER PRIMARY KEY,
  item_id INTEGER NOT NULL REFERENCES item(id),
  catheter_id INTEGER REFERENCES catheter(id),
  action TEXT NOT NULL,
  owner TEXT NOT NULL,
  opened_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', opened_at) IS opened_at),
  outcome TEXT NOT NULL,
  closed_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', closed_at) IS closed_at),
  row_version INTEGER NOT NULL
) STRICT;

-- What became of stock in a home; its movement stands in the ledger.
CREATE TABLE home_return (
  id INTEGER PRIMARY KEY,
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  item_id INTEGER NOT NULL REFERENCES item(id),
  lot_id INTEGER,
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  quantity INTEGER NOT NULL CHECK (quantity > 0),
  sealed INTEGER NOT NULL CHECK (sealed BETWEEN 0 AND quantity),
  disposition TEXT NOT NULL CHECK (
    disposition = 'destroyed' OR disposition = 'donated' OR disposition = 'kept_by_home' OR
    disposition = 'supplier_credit'),
  write_off_minor INTEGER NOT NULL CHECK (write_off_minor >= 0),
  decided_by TEXT NOT NULL,
  note TEXT NOT NULL,
  FOREIGN KEY (lot_id, item_id) REFERENCES lot(id, item_id)
) STRICT;
CREATE INDEX home_return_at ON home_return(at);

CREATE TABLE car_par (
  id INTEGER PRIMARY KEY,
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  item_id INTEGER NOT NULL REFERENCES item(id),
  par INTEGER NOT NULL CHECK (par >= 0),
  row_version INTEGER NOT NULL,
  UNIQUE (nurse_id, item_id)
) STRICT;
