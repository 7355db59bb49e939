-- What of a parcel did not reach the home whole: of each line, how many came damaged and how many were missing.

ALTER TABLE delivery_line ADD COLUMN damaged INTEGER NOT NULL DEFAULT 0 CHECK (damaged >= 0);
ALTER TABLE delivery_line ADD COLUMN missing INTEGER NOT NULL DEFAULT 0 CHECK (missing >= 0);
