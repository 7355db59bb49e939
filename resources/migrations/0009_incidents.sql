-- An incident from the first word to the outcome: what it is, whom it harmed, where the piece is, who was told.

ALTER TABLE incident ADD COLUMN kind TEXT NOT NULL DEFAULT 'other' CHECK (
  kind = 'device' OR kind = 'infection' OR kind = 'injury' OR kind = 'exposure' OR kind = 'privacy' OR kind = 'other');
ALTER TABLE incident ADD COLUMN harm TEXT NOT NULL DEFAULT 'not_known' CHECK (
  harm = 'not_known' OR harm = 'none' OR harm = 'slight' OR harm = 'serious' OR harm = 'death');
-- The day from which the clock of an external report runs; of older records the day it happened.
ALTER TABLE incident ADD COLUMN learned_on TEXT NOT NULL DEFAULT '1970-01-01' CHECK (date(learned_on) IS learned_on);
UPDATE incident SET learned_on = date(at);
ALTER TABLE incident ADD COLUMN device TEXT NOT NULL DEFAULT '';
ALTER TABLE incident ADD COLUMN kept_place TEXT NOT NULL DEFAULT '';
ALTER TABLE incident ADD COLUMN prescriber_told_on TEXT CHECK (date(prescriber_told_on) IS prescriber_told_on);
ALTER TABLE incident ADD COLUMN supplier_told_on TEXT CHECK (date(supplier_told_on) IS supplier_told_on);
ALTER TABLE incident ADD COLUMN told TEXT NOT NULL DEFAULT '';
ALTER TABLE incident ADD COLUMN owner TEXT NOT NULL DEFAULT '';
ALTER TABLE incident ADD COLUMN closed_on TEXT CHECK (date(closed_on) IS closed_on);
ALTER TABLE incident ADD COLUMN outcome TEXT NOT NULL DEFAULT '';
