-- What nobody has asked or judged yet is told from an answer; how the agency itself is reached.

-- The day on which somebody asked and no allergy was known; empty and no material listed: nobody asked.
ALTER TABLE patient ADD COLUMN no_allergies_on TEXT CHECK (date(no_allergies_on) IS no_allergies_on);

-- Both may be empty now: not assessed yet.
ALTER TABLE patient ADD COLUMN acuity_judged TEXT CHECK (
  acuity_judged = 'low' OR acuity_judged = 'medium' OR acuity_judged = 'high');
UPDATE patient SET acuity_judged = acuity;
ALTER TABLE patient DROP COLUMN acuity;
ALTER TABLE patient RENAME COLUMN acuity_judged TO acuity;
ALTER TABLE patient ADD COLUMN emergency_judged TEXT CHECK (
  emergency_judged = 'first' OR emergency_judged = 'second' OR emergency_judged = 'third');
UPDATE patient SET emergency_judged = emergency_priority;
ALTER TABLE patient DROP COLUMN emergency_priority;
ALTER TABLE patient RENAME COLUMN emergency_judged TO emergency_priority;

ALTER TABLE agency_settings ADD COLUMN phone TEXT NOT NULL DEFAULT '';
ALTER TABLE agency_settings ADD COLUMN order_contact TEXT NOT NULL DEFAULT '';
