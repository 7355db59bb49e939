-- Version 1: the whole of one agency. Names: _on a date, ISO text; _at a moment, YYYY-MM-DDTHH:MM by the local
-- clock, or with seconds and Z in UTC; _min minutes, a length or after local midnight; _ml millilitres; _m metres;
-- _minor the smallest coin. Words stand where the program has an enumeration; sets of weekdays and skills are
-- bits, the first in bit 0. Child rows keep their order in `position`. The words are checked by OR, not by IN:
-- SQLite builds a table of its own for every longer IN at every insert.

CREATE TABLE user (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  role TEXT NOT NULL CHECK (
    role = 'coordinator' OR role = 'supply_clerk' OR role = 'nurse_manager' OR role = 'nurse'),
  password_hash TEXT NOT NULL,
  is_active INTEGER NOT NULL CHECK (is_active IN (0, 1)),
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE agency_settings (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  agency_name TEXT NOT NULL,
  time_zone TEXT NOT NULL,
  week_start TEXT NOT NULL CHECK (
    week_start = 'sunday' OR week_start = 'monday' OR week_start = 'tuesday' OR week_start = 'wednesday' OR
    week_start = 'thursday' OR week_start = 'friday' OR week_start = 'saturday'),
  currency TEXT NOT NULL,
  holidays_are_worked INTEGER NOT NULL CHECK (holidays_are_worked IN (0, 1)),
  visiting_days INTEGER NOT NULL CHECK (visiting_days BETWEEN 0 AND 127),
  street TEXT NOT NULL,
  town TEXT NOT NULL,
  postal_code TEXT NOT NULL,
  access_notes TEXT NOT NULL,
  latitude REAL CHECK (latitude BETWEEN -90 AND 90),
  longitude REAL CHECK (longitude BETWEEN -180 AND 180),
  point_quality TEXT NOT NULL CHECK (
    point_quality = 'exact' OR point_quality = 'street_centre' OR point_quality = 'postal_area_centre'),
  area TEXT NOT NULL CHECK (
    area = 'urban' OR area = 'suburban' OR area = 'rural'),
  is_invented INTEGER NOT NULL CHECK (is_invented IN (0, 1)),
  demo_today_on TEXT CHECK (date(demo_today_on) IS demo_today_on),
  row_version INTEGER NOT NULL,
  CHECK ((latitude IS NULL) = (longitude IS NULL))
) STRICT;
CREATE TABLE agency_holiday (
  agency_settings_id INTEGER NOT NULL REFERENCES agency_settings(id),
  position INTEGER NOT NULL,
  holiday_on TEXT NOT NULL CHECK (date(holiday_on) IS holiday_on),
  PRIMARY KEY (agency_settings_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE setting (
  agency_settings_id INTEGER NOT NULL REFERENCES agency_settings(id),
  position INTEGER NOT NULL,
  name TEXT NOT NULL UNIQUE,
  value INTEGER NOT NULL,
  PRIMARY KEY (agency_settings_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE payer (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE,
  refill_rule_applies INTEGER NOT NULL CHECK (refill_rule_applies IN (0, 1)),
  contact_at_most_before_days INTEGER NOT NULL,
  deliver_at_most_before_days INTEGER NOT NULL,
  most_days_held INTEGER NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE nurse (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  family_name TEXT NOT NULL,
  given_name TEXT NOT NULL,
  phone TEXT NOT NULL,
  credential TEXT NOT NULL CHECK (
    credential = 'registered_nurse' OR credential = 'practical_nurse' OR credential = 'aide'),
  gender TEXT CHECK (
    gender = 'female' OR gender = 'male' OR gender = 'other'),
  street TEXT NOT NULL,
  town TEXT NOT NULL,
  postal_code TEXT NOT NULL,
  access_notes TEXT NOT NULL,
  latitude REAL CHECK (latitude BETWEEN -90 AND 90),
  longitude REAL CHECK (longitude BETWEEN -180 AND 180),
  point_quality TEXT NOT NULL CHECK (
    point_quality = 'exact' OR point_quality = 'street_centre' OR point_quality = 'postal_area_centre'),
  area TEXT NOT NULL CHECK (
    area = 'urban' OR area = 'suburban' OR area = 'rural'),
  starts_at_storeroom INTEGER NOT NULL CHECK (starts_at_storeroom IN (0, 1)),
  contract_min INTEGER NOT NULL CHECK (contract_min >= 0),
  most_visits_a_day INTEGER NOT NULL,
  car_space_ml INTEGER NOT NULL CHECK (car_space_ml >= 0),
  overtime_exempt INTEGER NOT NULL CHECK (overtime_exempt IN (0, 1)),
  is_active INTEGER NOT NULL CHECK (is_active IN (0, 1)),
  user_id INTEGER REFERENCES user(id),
  row_version INTEGER NOT NULL,
  CHECK ((latitude IS NULL) = (longitude IS NULL))
) STRICT;
CREATE TABLE nurse_language (
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  position INTEGER NOT NULL,
  language TEXT NOT NULL,
  PRIMARY KEY (nurse_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE nurse_skill (
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  position INTEGER NOT NULL,
  skill TEXT NOT NULL CHECK (
    skill = 'drain_chest' OR skill = 'drain_abdomen' OR skill = 'teach' OR skill = 'assess' OR
    skill = 'site_care' OR skill = 'draw_blood'),
  expires_on TEXT CHECK (date(expires_on) IS expires_on),
  PRIMARY KEY (nurse_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE shift_pattern (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  weekday TEXT NOT NULL CHECK (
    weekday = 'sunday' OR weekday = 'monday' OR weekday = 'tuesday' OR weekday = 'wednesday' OR
    weekday = 'thursday' OR weekday = 'friday' OR weekday = 'saturday'),
  from_min INTEGER NOT NULL CHECK (from_min BETWEEN 0 AND 1440),
  to_min INTEGER NOT NULL CHECK (to_min BETWEEN 0 AND 1440),
  break_min INTEGER NOT NULL CHECK (break_min BETWEEN 0 AND 1440),
  break_from_min INTEGER NOT NULL CHECK (break_from_min BETWEEN 0 AND 1440),
  break_to_min INTEGER NOT NULL CHECK (break_to_min BETWEEN 0 AND 1440),
  is_on_call INTEGER NOT NULL CHECK (is_on_call IN (0, 1)),
  valid_from_on TEXT NOT NULL CHECK (date(valid_from_on) IS valid_from_on),
  valid_to_on TEXT CHECK (date(valid_to_on) IS valid_to_on),
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE extra_shift (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  shift_on TEXT NOT NULL CHECK (date(shift_on) IS shift_on),
  from_min INTEGER NOT NULL CHECK (from_min BETWEEN 0 AND 1440),
  to_min INTEGER NOT NULL CHECK (to_min BETWEEN 0 AND 1440),
  replaces_pattern INTEGER NOT NULL CHECK (replaces_pattern IN (0, 1)),
  is_on_call INTEGER NOT NULL CHECK (is_on_call IN (0, 1)),
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE time_off (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  kind TEXT NOT NULL CHECK (
    kind = 'leave' OR kind = 'sick' OR kind = 'training' OR kind = 'other'),
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  to_on TEXT NOT NULL CHECK (date(to_on) IS to_on),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE patient (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  family_name TEXT NOT NULL,
  given_name TEXT NOT NULL,
  born_on TEXT CHECK (date(born_on) IS born_on),
  gender TEXT CHECK (
    gender = 'female' OR gender = 'male' OR gender = 'other'),
  phone TEXT NOT NULL,
  street TEXT NOT NULL,
  town TEXT NOT NULL,
  postal_code TEXT NOT NULL,
  access_notes TEXT NOT NULL,
  latitude REAL CHECK (latitude BETWEEN -90 AND 90),
  longitude REAL CHECK (longitude BETWEEN -180 AND 180),
  point_quality TEXT NOT NULL CHECK (
    point_quality = 'exact' OR point_quality = 'street_centre' OR point_quality = 'postal_area_centre'),
  area TEXT NOT NULL CHECK (
    area = 'urban' OR area = 'suburban' OR area = 'rural'),
  nurse_gender_wish TEXT CHECK (
    nurse_gender_wish = 'female' OR nurse_gender_wish = 'male' OR nurse_gender_wish = 'other'),
  payer_id INTEGER REFERENCES payer(id),
  status TEXT NOT NULL CHECK (
    status = 'referred' OR status = 'active' OR status = 'discharged' OR status = 'transferred' OR
    status = 'deceased'),
  referred_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', referred_at) IS referred_at),
  home_from_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', home_from_at) IS home_from_at),
  start_of_care_on TEXT CHECK (date(start_of_care_on) IS start_of_care_on),
  exited_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', exited_at) IS exited_at),
  exit_reason TEXT NOT NULL,
  primary_nurse_id INTEGER REFERENCES nurse(id),
  backup_nurse_id INTEGER REFERENCES nurse(id),
  patient_competence TEXT NOT NULL CHECK (
    patient_competence = 'none' OR patient_competence = 'shown' OR patient_competence = 'helped' OR
    patient_competence = 'alone'),
  caregiver_competence TEXT NOT NULL CHECK (
    caregiver_competence = 'none' OR caregiver_competence = 'shown' OR caregiver_competence = 'helped' OR
    caregiver_competence = 'alone'),
  competence_on TEXT CHECK (date(competence_on) IS competence_on),
  acuity TEXT NOT NULL CHECK (
    acuity = 'low' OR acuity = 'medium' OR acuity = 'high'),
  emergency_priority TEXT NOT NULL CHECK (
    emergency_priority = 'first' OR emergency_priority = 'second' OR emergency_priority = 'third'),
  needs_two_nurses INTEGER NOT NULL CHECK (needs_two_nurses IN (0, 1)),
  allows_courier INTEGER NOT NULL CHECK (allows_courier IN (0, 1)),
  notes TEXT NOT NULL,
  row_version INTEGER NOT NULL,
  CHECK ((latitude IS NULL) = (longitude IS NULL))
) STRICT;
CREATE TABLE patient_language (
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  position INTEGER NOT NULL,
  language TEXT NOT NULL,
  PRIMARY KEY (patient_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE patient_barred_nurse (
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  position INTEGER NOT NULL,
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  PRIMARY KEY (patient_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE patient_allergy (
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  position INTEGER NOT NULL,
  material TEXT NOT NULL CHECK (
    material = 'latex' OR material = 'adhesive' OR material = 'chlorhexidine' OR material = 'iodine'),
  PRIMARY KEY (patient_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE patient_window (
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  position INTEGER NOT NULL,
  weekday TEXT NOT NULL CHECK (
    weekday = 'sunday' OR weekday = 'monday' OR weekday = 'tuesday' OR weekday = 'wednesday' OR
    weekday = 'thursday' OR weekday = 'friday' OR weekday = 'saturday'),
  from_min INTEGER NOT NULL CHECK (from_min BETWEEN 0 AND 1440),
  to_min INTEGER NOT NULL CHECK (to_min BETWEEN 0 AND 1440),
  is_hard INTEGER NOT NULL CHECK (is_hard IN (0, 1)),
  PRIMARY KEY (patient_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE catheter (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  site TEXT NOT NULL CHECK (site IN ('chest', 'abdomen')),
  side TEXT NOT NULL CHECK (
    side = 'left' OR side = 'right' OR side = 'midline'),
  connector TEXT NOT NULL,
  inserted_on TEXT CHECK (date(inserted_on) IS inserted_on),
  removed_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', removed_at) IS removed_at),
  removal_reason TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE authorisation (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  reference TEXT NOT NULL,
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  to_on TEXT NOT NULL CHECK (date(to_on) IS to_on),
  visits_allowed INTEGER NOT NULL CHECK (visits_allowed >= 0),
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE hold (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  kind TEXT NOT NULL CHECK (
    kind = 'hospital' OR kind = 'facility' OR kind = 'travel' OR kind = 'other'),
  from_on TEXT NOT NULL CHECK (date(from_on) IS from_on),
  expected_return_on TEXT CHECK (date(expected_return_on) IS expected_return_on),
  to_on TEXT CHECK (date(to_on) IS to_on),
  still_draining INTEGER NOT NULL CHECK (still_draining IN (0, 1)),
  reason TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE item (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (
    kind = 'kit' OR kind = 'bottle' OR kind = 'dressing' OR kind = 'other'),
  bottle_volume_ml INTEGER CHECK (bottle_volume_ml > 0),
  gtin TEXT NOT NULL,
  connector TEXT NOT NULL,
  eaches_per_case INTEGER NOT NULL CHECK (eaches_per_case > 0),
  send_whole_cases INTEGER NOT NULL CHECK (send_whole_cases IN (0, 1)),
  unit_volume_ml INTEGER NOT NULL CHECK (unit_volume_ml >= 0),
  shelf_life_days INTEGER CHECK (shelf_life_days > 0),
  least_life_on_receipt_days INTEGER NOT NULL CHECK (least_life_on_receipt_days >= 0),
  least_life_to_home_days INTEGER NOT NULL CHECK (least_life_to_home_days >= 0),
  stock_class TEXT NOT NULL CHECK (
    stock_class = 'a' OR stock_class = 'b' OR stock_class = 'c'),
  service_level_permille INTEGER CHECK (service_level_permille BETWEEN 1 AND 999),
  is_active INTEGER NOT NULL CHECK (is_active IN (0, 1)),
  row_version INTEGER NOT NULL
) STRICT;
CREATE UNIQUE INDEX item_gtin ON item(gtin) WHERE gtin <> '';
CREATE TABLE item_material (
  item_id INTEGER NOT NULL REFERENCES item(id),
  position INTEGER NOT NULL,
  material TEXT NOT NULL CHECK (
    material = 'latex' OR material = 'adhesive' OR material = 'chlorhexidine' OR material = 'iodine'),
  PRIMARY KEY (item_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE item_content (
  item_id INTEGER NOT NULL REFERENCES item(id),
  position INTEGER NOT NULL,
  content_item_id INTEGER NOT NULL REFERENCES item(id),
  count INTEGER NOT NULL CHECK (count > 0),
  PRIMARY KEY (item_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE item_substitute (
  item_id INTEGER NOT NULL REFERENCES item(id),
  position INTEGER NOT NULL,
  substitute_item_id INTEGER NOT NULL REFERENCES item(id),
  per INTEGER NOT NULL CHECK (per > 0),
  PRIMARY KEY (item_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE lot (
  id INTEGER PRIMARY KEY,
  item_id INTEGER NOT NULL REFERENCES item(id),
  number TEXT NOT NULL,
  expires_on TEXT CHECK (date(expires_on) IS expires_on),
  state TEXT NOT NULL CHECK (
    state = 'usable' OR state = 'quarantined' OR state = 'recalled'),
  state_reason TEXT NOT NULL,
  row_version INTEGER NOT NULL,
  UNIQUE (item_id, number),
  UNIQUE (id, item_id)
) STRICT;

CREATE TABLE supplier (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  contact TEXT NOT NULL,
  promised_lead_days INTEGER NOT NULL CHECK (promised_lead_days >= 0),
  promised_lead_spread_days INTEGER NOT NULL CHECK (promised_lead_spread_days >= 0),
  order_days INTEGER NOT NULL CHECK (order_days BETWEEN 0 AND 127),
  cut_off_min INTEGER NOT NULL CHECK (cut_off_min BETWEEN 0 AND 1440),
  least_order_minor INTEGER NOT NULL CHECK (least_order_minor >= 0),
  is_active INTEGER NOT NULL CHECK (is_active IN (0, 1)),
  row_version INTEGER NOT NULL
) STRICT;
CREATE TABLE supplier_closed_day (
  supplier_id INTEGER NOT NULL REFERENCES supplier(id),
  position INTEGER NOT NULL,
  closed_on TEXT NOT NULL CHECK (date(closed_on) IS closed_on),
  PRIMARY KEY (supplier_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE supplier_item (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  supplier_id INTEGER NOT NULL REFERENCES supplier(id),
  item_id INTEGER NOT NULL REFERENCES item(id),
  supplier_code TEXT NOT NULL,
  eaches_per_case INTEGER NOT NULL CHECK (eaches_per_case > 0),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  least_line_cases INTEGER NOT NULL CHECK (least_line_cases >= 0),
  is_preferred INTEGER NOT NULL CHECK (is_preferred IN (0, 1)),
  backordered_until_on TEXT CHECK (date(backordered_until_on) IS backordered_until_on),
  is_discontinued INTEGER NOT NULL CHECK (is_discontinued IN (0, 1)),
  row_version INTEGER NOT NULL,
  UNIQUE (supplier_id, item_id, supplier_code)
) STRICT;
CREATE TABLE supplier_item_break (
  supplier_item_id INTEGER NOT NULL REFERENCES supplier_item(id),
  position INTEGER NOT NULL,
  break_from_cases INTEGER NOT NULL CHECK (break_from_cases > 0),
  break_price_minor INTEGER NOT NULL CHECK (break_price_minor >= 0),
  PRIMARY KEY (supplier_item_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE visit_order (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  kind TEXT NOT NULL CHECK (
    kind = 'start_of_care' OR kind = 'resumption' OR kind = 'recertification' OR kind = 'discharge' OR
    kind = 'routine' OR kind = 'teaching' OR kind = 'drain_only' OR kind = 'dressing_check' OR
    kind = 'supply_count' OR kind = 'symptom_follow_up' OR kind = 'as_needed' OR kind = 'supervisory' OR
    kind = 'phone'),
  start_on TEXT NOT NULL CHECK (date(start_on) IS start_on),
  end_on TEXT CHECK (date(end_on) IS end_on),
  allowed_days INTEGER NOT NULL CHECK (allowed_days BETWEEN 0 AND 127),
  length_min INTEGER CHECK (length_min > 0),
  needs_skills INTEGER NOT NULL CHECK (needs_skills BETWEEN 0 AND 63),
  least_gap_days INTEGER CHECK (least_gap_days >= 0),
  most_gap_days INTEGER CHECK (most_gap_days >= 0),
  two_nurses INTEGER NOT NULL CHECK (two_nurses IN (0, 1)),
  prescriber TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE TABLE visit_order_segment (
  visit_order_id INTEGER NOT NULL REFERENCES visit_order(id),
  position INTEGER NOT NULL,
  least_per_week INTEGER NOT NULL CHECK (least_per_week >= 0),
  most_per_week INTEGER NOT NULL CHECK (most_per_week >= 0),
  weeks INTEGER NOT NULL CHECK (weeks >= 0),
  is_as_needed INTEGER NOT NULL CHECK (is_as_needed IN (0, 1)),
  reason TEXT NOT NULL,
  PRIMARY KEY (visit_order_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE visit (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  visit_order_id INTEGER REFERENCES visit_order(id),
  kind TEXT NOT NULL CHECK (
    kind = 'start_of_care' OR kind = 'resumption' OR kind = 'recertification' OR kind = 'discharge' OR
    kind = 'routine' OR kind = 'teaching' OR kind = 'drain_only' OR kind = 'dressing_check' OR
    kind = 'supply_count' OR kind = 'symptom_follow_up' OR kind = 'as_needed' OR kind = 'supervisory' OR
    kind = 'phone'),
  status TEXT NOT NULL CHECK (
    status = 'due' OR status = 'drafted' OR status = 'published' OR status = 'done' OR status = 'missed' OR
    status = 'cancelled'),
  due_from_on TEXT NOT NULL CHECK (date(due_from_on) IS due_from_on),
  due_to_on TEXT NOT NULL CHECK (date(due_to_on) IS due_to_on),
  length_min INTEGER NOT NULL CHECK (length_min >= 0),
  needs_skills INTEGER NOT NULL CHECK (needs_skills BETWEEN 0 AND 63),
  two_nurses INTEGER NOT NULL CHECK (two_nurses IN (0, 1)),
  planned_on TEXT CHECK (date(planned_on) IS planned_on),
  start_min INTEGER CHECK (start_min BETWEEN 0 AND 1440),
  nurse_id INTEGER REFERENCES nurse(id),
  second_nurse_id INTEGER REFERENCES nurse(id),
  day_is_locked INTEGER NOT NULL CHECK (day_is_locked IN (0, 1)),
  nurse_is_locked INTEGER NOT NULL CHECK (nurse_is_locked IN (0, 1)),
  time_is_locked INTEGER NOT NULL CHECK (time_is_locked IN (0, 1)),
  started_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', started_at) IS started_at),
  ended_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', ended_at) IS ended_at),
  driven_m INTEGER CHECK (driven_m >= 0),
  miss_reason TEXT NOT NULL CHECK (
    miss_reason = 'none' OR miss_reason = 'refused' OR miss_reason = 'not_home' OR miss_reason = 'hospital' OR
    miss_reason = 'nurse_away' OR miss_reason = 'weather' OR miss_reason = 'other'),
  prescriber_told_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', prescriber_told_at) IS prescriber_told_at),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE INDEX visit_due ON visit(due_to_on);
CREATE INDEX visit_planned ON visit(planned_on);

CREATE TABLE drain_order (
  id INTEGER PRIMARY KEY,
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  pattern TEXT NOT NULL CHECK (
    pattern = 'every_n_days' OR pattern = 'times_a_week' OR pattern = 'as_needed'),
  every_days INTEGER NOT NULL,
  anchor_on TEXT NOT NULL CHECK (date(anchor_on) IS anchor_on),
  times_a_week INTEGER NOT NULL,
  weekdays INTEGER NOT NULL CHECK (weekdays BETWEEN 0 AND 127),
  most_per_day INTEGER CHECK (most_per_day > 0),
  most_per_week INTEGER CHECK (most_per_week > 0),
  start_on TEXT NOT NULL CHECK (date(start_on) IS start_on),
  end_on TEXT CHECK (date(end_on) IS end_on),
  most_per_session_ml INTEGER CHECK (most_per_session_ml > 0),
  kit_id INTEGER NOT NULL REFERENCES item(id),
  extra_bottle_item_id INTEGER REFERENCES item(id),
  allows_substitute INTEGER NOT NULL CHECK (allows_substitute IN (0, 1)),
  prescriber TEXT NOT NULL,
  is_verbal INTEGER NOT NULL CHECK (is_verbal IN (0, 1)),
  signed_on TEXT CHECK (date(signed_on) IS signed_on),
  call_parameters TEXT NOT NULL,
  replaces_id INTEGER REFERENCES drain_order(id),
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE drain_entry (
  id INTEGER PRIMARY KEY,
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  time_is_known INTEGER NOT NULL CHECK (time_is_known IN (0, 1)),
  outcome TEXT NOT NULL CHECK (
    outcome = 'drained' OR outcome = 'dry' OR outcome = 'not_done'),
  volume_ml INTEGER CHECK (volume_ml >= 0),
  source TEXT NOT NULL CHECK (
    source = 'home_log' OR source = 'nurse' OR source = 'phone' OR source = 'import'),
  visit_id INTEGER REFERENCES visit(id),
  note TEXT NOT NULL,
  corrects_id INTEGER REFERENCES drain_entry(id),
  is_void INTEGER NOT NULL CHECK (is_void IN (0, 1)),
  row_version INTEGER NOT NULL
) STRICT;
CREATE INDEX drain_entry_at ON drain_entry(at);
CREATE INDEX drain_entry_catheter ON drain_entry(catheter_id, at);
CREATE TABLE drain_supply (
  drain_entry_id INTEGER NOT NULL REFERENCES drain_entry(id),
  position INTEGER NOT NULL,
  item_id INTEGER NOT NULL REFERENCES item(id),
  used INTEGER NOT NULL CHECK (used >= 0),
  lost INTEGER NOT NULL CHECK (lost >= 0),
  lot_id INTEGER,
  FOREIGN KEY (lot_id, item_id) REFERENCES lot(id, item_id),
  PRIMARY KEY (drain_entry_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE drain_symptom (
  drain_entry_id INTEGER NOT NULL REFERENCES drain_entry(id),
  position INTEGER NOT NULL,
  symptom TEXT NOT NULL CHECK (
    symptom = 'worse_breathlessness' OR symptom = 'severe_pain' OR symptom = 'collapse' OR
    symptom = 'heavy_bleeding' OR symptom = 'fever' OR symptom = 'redness' OR symptom = 'swelling' OR
    symptom = 'pus_or_smell' OR symptom = 'cloudy_fluid' OR symptom = 'new_blood' OR
    symptom = 'colour_change' OR symptom = 'leak' OR symptom = 'wet_dressing' OR symptom = 'tube_moved' OR
    symptom = 'cuff_showing' OR symptom = 'tube_damaged' OR symptom = 'no_flow' OR symptom = 'sudden_fall' OR
    symptom = 'pain_on_drain' OR symptom = 'cough' OR symptom = 'light_headed' OR symptom = 'confusion' OR
    symptom = 'low_urine' OR symptom = 'fast_weight_loss'),
  PRIMARY KEY (drain_entry_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE home_count (
  id INTEGER PRIMARY KEY,
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  item_id INTEGER NOT NULL REFERENCES item(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  counted INTEGER NOT NULL CHECK (counted >= 0),
  source TEXT NOT NULL CHECK (
    source = 'home_log' OR source = 'nurse' OR source = 'phone' OR source = 'import'),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE INDEX home_count_line ON home_count(catheter_id, item_id, at);
CREATE INDEX home_count_at ON home_count(at);

CREATE TABLE refill_contact (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  answered_by TEXT NOT NULL,
  answer TEXT NOT NULL CHECK (
    answer = 'confirmed' OR answer = 'declined' OR answer = 'no_answer'),
  reason_for_need TEXT NOT NULL,
  note TEXT NOT NULL
) STRICT;
CREATE INDEX refill_contact_at ON refill_contact(at);

CREATE TABLE delivery (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  status TEXT NOT NULL CHECK (
    status = 'promised' OR status = 'picked' OR status = 'in_transit' OR status = 'delivered' OR
    status = 'cancelled'),
  way TEXT NOT NULL CHECK (way IN ('courier', 'with_visit')),
  carried_by_nurse_id INTEGER REFERENCES nurse(id),
  visit_id INTEGER REFERENCES visit(id),
  promised_for_on TEXT NOT NULL CHECK (date(promised_for_on) IS promised_for_on),
  deliver_by_on TEXT CHECK (date(deliver_by_on) IS deliver_by_on),
  shipped_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', shipped_at) IS shipped_at),
  delivered_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', delivered_at) IS delivered_at),
  received_by TEXT NOT NULL,
  receiver_relation TEXT NOT NULL,
  cancel_reason TEXT NOT NULL,
  refill_contact_id INTEGER REFERENCES refill_contact(id),
  row_version INTEGER NOT NULL
) STRICT;
CREATE TABLE delivery_line (
  delivery_id INTEGER NOT NULL REFERENCES delivery(id),
  position INTEGER NOT NULL,
  catheter_id INTEGER NOT NULL REFERENCES catheter(id),
  item_id INTEGER NOT NULL REFERENCES item(id),
  lot_id INTEGER,
  quantity INTEGER NOT NULL CHECK (quantity >= 0),
  FOREIGN KEY (lot_id, item_id) REFERENCES lot(id, item_id),
  PRIMARY KEY (delivery_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE purchase_order (
  id INTEGER PRIMARY KEY,
  number TEXT NOT NULL,
  supplier_id INTEGER NOT NULL REFERENCES supplier(id),
  status TEXT NOT NULL CHECK (
    status = 'draft' OR status = 'sent' OR status = 'partly_received' OR status = 'received' OR
    status = 'cancelled'),
  ordered_on TEXT CHECK (date(ordered_on) IS ordered_on),
  expected_on TEXT CHECK (date(expected_on) IS expected_on),
  note TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
CREATE UNIQUE INDEX purchase_order_number ON purchase_order(number) WHERE number <> '';
CREATE TABLE purchase_line (
  purchase_order_id INTEGER NOT NULL REFERENCES purchase_order(id),
  position INTEGER NOT NULL,
  item_id INTEGER NOT NULL REFERENCES item(id),
  cases INTEGER NOT NULL CHECK (cases >= 0),
  eaches_per_case INTEGER NOT NULL CHECK (eaches_per_case > 0),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  received INTEGER NOT NULL CHECK (received >= 0),
  backordered_until_on TEXT CHECK (date(backordered_until_on) IS backordered_until_on),
  reason TEXT NOT NULL,
  PRIMARY KEY (purchase_order_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE receipt (
  id INTEGER PRIMARY KEY,
  purchase_order_id INTEGER REFERENCES purchase_order(id),
  supplier_id INTEGER NOT NULL REFERENCES supplier(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  packing_slip TEXT NOT NULL
) STRICT;
CREATE INDEX receipt_at ON receipt(at);
CREATE TABLE receipt_line (
  receipt_id INTEGER NOT NULL REFERENCES receipt(id),
  position INTEGER NOT NULL,
  item_id INTEGER NOT NULL REFERENCES item(id),
  lot_id INTEGER NOT NULL,
  quantity INTEGER NOT NULL CHECK (quantity >= 0),
  damaged INTEGER NOT NULL CHECK (damaged >= 0),
  FOREIGN KEY (lot_id, item_id) REFERENCES lot(id, item_id),
  PRIMARY KEY (receipt_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE stock_movement (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  item_id INTEGER NOT NULL REFERENCES item(id),
  lot_id INTEGER,
  quantity INTEGER NOT NULL CHECK (quantity > 0),
  from_kind TEXT NOT NULL CHECK (
    from_kind = 'supplier' OR from_kind = 'storeroom' OR from_kind = 'quarantine' OR from_kind = 'car' OR
    from_kind = 'transit' OR from_kind = 'home' OR from_kind = 'used' OR from_kind = 'wasted' OR
    from_kind = 'returned' OR from_kind = 'variance'),
  from_ref INTEGER NOT NULL,
  to_kind TEXT NOT NULL CHECK (
    to_kind = 'supplier' OR to_kind = 'storeroom' OR to_kind = 'quarantine' OR to_kind = 'car' OR
    to_kind = 'transit' OR to_kind = 'home' OR to_kind = 'used' OR to_kind = 'wasted' OR
    to_kind = 'returned' OR to_kind = 'variance'),
  to_ref INTEGER NOT NULL,
  reason TEXT NOT NULL CHECK (
    reason = 'opening' OR reason = 'receipt' OR reason = 'issue' OR reason = 'handover' OR reason = 'use' OR
    reason = 'waste' OR reason = 'count' OR reason = 'return' OR reason = 'quarantine' OR
    reason = 'correction'),
  delivery_id INTEGER REFERENCES delivery(id),
  receipt_id INTEGER REFERENCES receipt(id),
  undoes_id INTEGER REFERENCES stock_movement(id),
  note TEXT NOT NULL,
  FOREIGN KEY (lot_id, item_id) REFERENCES lot(id, item_id)
) STRICT;
-- Both cover the balance: sums by place, item and lot read the index alone.
CREATE INDEX stock_movement_from ON stock_movement(from_kind, from_ref, item_id, lot_id, at, quantity);
CREATE INDEX stock_movement_to ON stock_movement(to_kind, to_ref, item_id, lot_id, at, quantity);
CREATE INDEX stock_movement_lot ON stock_movement(lot_id) WHERE lot_id IS NOT NULL;
CREATE INDEX stock_movement_delivery ON stock_movement(delivery_id) WHERE delivery_id IS NOT NULL;

-- A place's number means another table by its kind, which a foreign key cannot say.
CREATE TRIGGER stock_movement_from_exists BEFORE INSERT ON stock_movement WHEN
  CASE NEW.from_kind
    WHEN 'home' THEN NOT EXISTS (SELECT 1 FROM catheter WHERE id = NEW.from_ref)
    WHEN 'used' THEN NEW.from_ref <> 0 AND NOT EXISTS (SELECT 1 FROM drain_entry WHERE id = NEW.from_ref)
    WHEN 'transit' THEN NOT EXISTS (SELECT 1 FROM delivery WHERE id = NEW.from_ref)
    WHEN 'car' THEN NOT EXISTS (SELECT 1 FROM nurse WHERE id = NEW.from_ref)
    WHEN 'supplier' THEN NEW.from_ref <> 0 AND NOT EXISTS (SELECT 1 FROM supplier WHERE id = NEW.from_ref)
    WHEN 'wasted' THEN NEW.from_ref <> 0 AND NOT EXISTS (SELECT 1 FROM drain_entry WHERE id = NEW.from_ref)
    WHEN 'storeroom' THEN NEW.from_ref <> 0
    WHEN 'quarantine' THEN NEW.from_ref <> 0
    ELSE 0
  END
BEGIN
  SELECT RAISE(ABORT, 'unknown place: from_place');
END;
CREATE TRIGGER stock_movement_to_exists BEFORE INSERT ON stock_movement WHEN
  CASE NEW.to_kind
    WHEN 'home' THEN NOT EXISTS (SELECT 1 FROM catheter WHERE id = NEW.to_ref)
    WHEN 'used' THEN NEW.to_ref <> 0 AND NOT EXISTS (SELECT 1 FROM drain_entry WHERE id = NEW.to_ref)
    WHEN 'transit' THEN NOT EXISTS (SELECT 1 FROM delivery WHERE id = NEW.to_ref)
    WHEN 'car' THEN NOT EXISTS (SELECT 1 FROM nurse WHERE id = NEW.to_ref)
    WHEN 'supplier' THEN NEW.to_ref <> 0 AND NOT EXISTS (SELECT 1 FROM supplier WHERE id = NEW.to_ref)
    WHEN 'wasted' THEN NEW.to_ref <> 0 AND NOT EXISTS (SELECT 1 FROM drain_entry WHERE id = NEW.to_ref)
    WHEN 'storeroom' THEN NEW.to_ref <> 0
    WHEN 'quarantine' THEN NEW.to_ref <> 0
    ELSE 0
  END
BEGIN
  SELECT RAISE(ABORT, 'unknown place: to_place');
END;
CREATE TRIGGER stock_movement_no_update BEFORE UPDATE ON stock_movement
BEGIN
  SELECT RAISE(ABORT, 'append-only: stock_movement');
END;
CREATE TRIGGER stock_movement_no_delete BEFORE DELETE ON stock_movement
BEGIN
  SELECT RAISE(ABORT, 'append-only: stock_movement');
END;

CREATE TABLE plan (
  id INTEGER PRIMARY KEY,
  week_start_on TEXT NOT NULL CHECK (date(week_start_on) IS week_start_on),
  version INTEGER NOT NULL CHECK (version > 0),
  status TEXT NOT NULL CHECK (
    status = 'draft' OR status = 'published' OR status = 'superseded'),
  published_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', published_at) IS published_at),
  published_by_user_id INTEGER REFERENCES user(id),
  seed INTEGER NOT NULL,
  cost REAL NOT NULL,
  row_version INTEGER NOT NULL,
  UNIQUE (week_start_on, version)
) STRICT;
CREATE TABLE planned_visit (
  plan_id INTEGER NOT NULL REFERENCES plan(id),
  position INTEGER NOT NULL,
  visit_id INTEGER NOT NULL REFERENCES visit(id),
  planned_on TEXT NOT NULL CHECK (date(planned_on) IS planned_on),
  start_min INTEGER NOT NULL CHECK (start_min BETWEEN 0 AND 1440),
  nurse_id INTEGER NOT NULL REFERENCES nurse(id),
  second_nurse_id INTEGER REFERENCES nurse(id),
  travel_min INTEGER NOT NULL CHECK (travel_min >= 0),
  carries_delivery_id INTEGER REFERENCES delivery(id),
  PRIMARY KEY (plan_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE call_item (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER NOT NULL REFERENCES patient(id),
  catheter_id INTEGER REFERENCES catheter(id),
  kind TEXT NOT NULL CHECK (
    kind = 'over_prescribed_maximum' OR kind = 'over_common_maximum' OR kind = 'too_soon' OR
    kind = 'low_output_run' OR kind = 'sudden_drop' OR kind = 'sharp_change' OR kind = 'symptom_emergency' OR
    kind = 'symptom_today' OR kind = 'symptom_now' OR kind = 'silence' OR kind = 'no_maximum_on_order' OR
    kind = 'no_order' OR kind = 'recalled_lot_at_home'),
  urgency TEXT NOT NULL CHECK (
    urgency = 'emergency' OR urgency = 'now' OR urgency = 'today' OR urgency = 'soon'),
  subject TEXT NOT NULL,
  raised_at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', raised_at) IS raised_at),
  status TEXT NOT NULL CHECK (status IN ('open', 'closed')),
  owner TEXT NOT NULL,
  closed_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', closed_at) IS closed_at),
  outcome TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;
-- The same thing is not raised twice while it stands open.
CREATE UNIQUE INDEX call_item_open ON call_item(patient_id, kind, subject) WHERE status = 'open' AND subject <> '';
CREATE TABLE call_item_evidence (
  call_item_id INTEGER NOT NULL REFERENCES call_item(id),
  position INTEGER NOT NULL,
  evidence TEXT NOT NULL,
  PRIMARY KEY (call_item_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE phone_call (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER REFERENCES patient(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  caller TEXT NOT NULL,
  topic TEXT NOT NULL CHECK (
    topic = 'clinical' OR topic = 'supply' OR topic = 'schedule'),
  words TEXT NOT NULL,
  owner TEXT NOT NULL,
  closed_at TEXT CHECK (strftime('%Y-%m-%dT%H:%M', closed_at) IS closed_at),
  outcome TEXT NOT NULL,
  row_version INTEGER NOT NULL
) STRICT;

CREATE TABLE incident (
  id INTEGER PRIMARY KEY,
  patient_id INTEGER REFERENCES patient(id),
  lot_id INTEGER REFERENCES lot(id),
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M', at) IS at),
  facts TEXT NOT NULL,
  report_due_on TEXT CHECK (date(report_due_on) IS report_due_on),
  reported_on TEXT CHECK (date(reported_on) IS reported_on),
  row_version INTEGER NOT NULL
) STRICT;

-- Who changed what. Each entry's chain is a hash over itself and the chain before; the head is kept apart, so that
-- entries cut off at the end show too.
CREATE TABLE audit_entry (
  number INTEGER PRIMARY KEY,
  at TEXT NOT NULL CHECK (strftime('%Y-%m-%dT%H:%M:%SZ', at) IS at),
  user_id INTEGER NOT NULL REFERENCES user(id),
  action TEXT NOT NULL CHECK (
    action = 'insert' OR action = 'update' OR action = 'delete' OR action = 'view' OR action = 'print' OR
    action = 'export'),
  table_name TEXT NOT NULL,
  record_id INTEGER NOT NULL,
  before TEXT NOT NULL,
  after TEXT NOT NULL,
  chain TEXT NOT NULL
) STRICT;
CREATE INDEX audit_entry_record ON audit_entry(table_name, record_id);
CREATE TRIGGER audit_entry_no_update BEFORE UPDATE ON audit_entry
BEGIN
  SELECT RAISE(ABORT, 'append-only: audit_entry');
END;
CREATE TRIGGER audit_entry_no_delete BEFORE DELETE ON audit_entry
BEGIN
  SELECT RAISE(ABORT, 'append-only: audit_entry');
END;

CREATE TABLE audit_head (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  number INTEGER NOT NULL,
  chain TEXT NOT NULL
) STRICT;
INSERT INTO audit_head (id, number, chain) VALUES (1, 0, '');
