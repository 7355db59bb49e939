// Patients with their catheter, the drain order in force and the visit order: what the forecast and the
// planner need of a new patient. Facts that nobody wrote down stay unknown; nothing clinical is filled in.
#include "core/calendar/VisitNotation.h"
#include "core/calendar/Zone.h"
#include "core/exchange/ListRow.h"
#include "core/records/Validate.h"

namespace kitround::exchange {
namespace {

constexpr ListColumn kPatientWho[] = {
    {"code", true}, {"family_name", true}, {"given_name"}, {"born_on"}, {"gender", false, kListWords<Gender>},
    {"phone"}};
constexpr ListColumn kPatientCare[] = {{"languages"},
                                       {"payer", true},
                                       {"status", true, kListWords<CareStatus>},
                                       {"referred_at"},
                                       {"start_of_care_on"},
                                       {"primary_nurse"},
                                       {"backup_nurse"},
                                       {"allergies", false, kListWords<Material>},
                                       {"no_allergies_on"},
                                       {"patient_competence", false, kListWords<Competence>},
                                       {"caregiver_competence", false, kListWords<Competence>},
                                       {"competence_on"},
                                       {"acuity", false, kListWords<Acuity>},
                                       {"emergency_priority", false, kListWords<EmergencyPriority>},
                                       {"needs_two_nurses", false, kYesNo},
                                       {"allows_courier", false, kYesNo},
                                       {"notes"},
                                       {"site", false, kListWords<CavitySite>},
                                       {"side", false, kListWords<Side>},
                                       {"connector"},
                                       {"inserted_on"},
                                       {"pattern", false, kListWords<DrainPatternKind>},
                                       {"every_days"},
                                       {"anchor_on"},
                                       {"times_a_week"},
                                       {"weekdays", false, kListWords<Weekday>},
                                       {"most_per_day"},
                                       {"most_per_week"},
                                       {"order_start_on"},
                                       {"most_per_session_ml"},
                                       {"kit"},
                                       {"extra_bottle"},
                                       {"allows_substitute", false, kYesNo},
                                       {"prescriber"},
                                       {"is_verbal", false, kYesNo},
                                       {"signed_on"},
                                       {"call_parameters"},
                                       {"visit_kind", false, kListWords<VisitKind>},
                                       {"visit_order"},
                                       {"visit_start_on"},
                                       {"needs_skills", false, kListWords<Skill>}};
constexpr auto kPatientColumns = joinedColumns(kPatientWho, kAddressColumns, kPatientCare);

// Stands for a record of the same row that has no id yet, so that the checks see it named.
template <class TypedId>
constexpr TypedId kOfThisRow = TypedId(1);

std::optional<Instant> readMoment(const ListWork &work, ListRow &row, std::string_view column) {
    const std::string text = row.text(column);
    if (text.empty())
        return std::nullopt;
    const auto local = localTimeFromIso(text);
    const auto zone = calendar::Zone::named(work.agency.snapshot().settings.timeZone);
    if (local && zone)
        return zone->toUtc(*local);
    row.fault(ProblemCode::Conflict, column, {"list_not_a_moment", text});
    return std::nullopt;
}

std::optional<NurseId> readNurse(const ListWork &work, ListRow &row, std::string_view column) {
    const Nurse *nurse = row.record(column, "nurse", work.known.nurses);
    return nurse ? std::optional(nurse->id) : std::nullopt;
}

void readJudged(ListRow &row, Patient &patient, Date today) {
    patient.languages = row.parts("languages");
    patient.allergies = row.choices<Material>("allergies");
    patient.noAllergiesOn = row.pastDate("no_allergies_on", today);
    patient.patientCompetence = row.choice<Competence>("patient_competence").value_or(Competence::None);
    patient.caregiverCompetence = row.choice<Competence>("caregiver_competence").value_or(Competence::None);
    patient.competenceOn = row.pastDate("competence_on", today);
    patient.acuity = row.choice<Acuity>("acuity");
    patient.emergencyPriority = row.choice<EmergencyPriority>("emergency_priority");
    patient.needsTwoNurses = row.yes("needs_two_nurses", false);
    patient.allowsCourier = row.yes("allows_courier", true);
    patient.notes = row.text("notes");
}

Patient readWho(ListWork &work, ListRow &row) {
    const Date today = work.agency.snapshot().asOf;
    Patient patient;
    patient.code = row.text("code");
    row.newCode("code", patient.code, work.known.patients.contains(patient.code), work.codes);
    patient.familyName = row.text("family_name");
    patient.givenName = row.text("given_name");
    patient.bornOn = row.pastDate("born_on", today);
    patient.gender = row.choice<Gender>("gender");
    patient.phone = row.text("phone");
    patient.address = row.address();
    (void)row.needed("payer");
    if (const Payer *payer = row.record("payer", "payer", work.known.payers))
        patient.payer = payer->id;
    patient.status = row.neededChoice("status", CareStatus::Active);
    patient.referredAt = readMoment(work, row, "referred_at");
    patient.startOfCare = row.date("start_of_care_on");
    patient.primaryNurse = readNurse(work, row, "primary_nurse");
    patient.backupNurse = readNurse(work, row, "backup_nurse");
    readJudged(row, patient, today);
    row.take(validate(patient), {{"start_of_care", "start_of_care_on"},
                                 {"primary_nurse_id", "primary_nurse"},
                                 {"backup_nurse_id", "backup_nurse"}});
    return patient;
}

Catheter readCatheter(ListWork &work, ListRow &row) {
    Catheter catheter;
    catheter.site = row.neededChoice("site", CavitySite::Chest);
    catheter.side = row.neededChoice("side", Side::Right);
    catheter.connector = row.text("connector");
    catheter.insertedOn = row.pastDate("inserted_on", work.agency.snapshot().asOf);
    catheter.patient = kOfThisRow<PatientId>;
    row.take(validate(catheter));
    catheter.patient = {};
    return catheter;
}

DrainPattern readPattern(ListRow &row) {
    DrainPattern pattern;
    pattern.kind = row.neededChoice("pattern", DrainPatternKind::EveryNDays);
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        if (row.has("pattern"))
            (void)row.needed("every_days");
        pattern.everyDays = row.smallNumber("every_days", 1);
        pattern.anchor = row.date("anchor_on").value_or(Date());
        break;
    case DrainPatternKind::TimesAWeek:
        (void)row.needed("times_a_week");
        pattern.timesAWeek = row.smallNumber("times_a_week", 1);
        for (const Weekday day : row.choices<Weekday>("weekdays"))
            pattern.weekdays.insert(day);
        break;
    case DrainPatternKind::AsNeeded:
        if (row.has("most_per_day"))
            pattern.mostPerDay = row.smallNumber("most_per_day", 1);
        if (row.has("most_per_week"))
            pattern.mostPerWeek = row.smallNumber("most_per_week", 1);
        break;
    }
    return pattern;
}

std::optional<ItemId> readItemOf(const ListWork &work, ListRow &row, std::string_view column, ItemKind kind) {
    const char *const what = kind == ItemKind::Kit ? "kit" : "bottle";
    const Item *item = row.record(column, what, work.known.items);
    if (item && item->kind != kind) {
        row.fault(ProblemCode::UnknownRecord, column, {what, item->code});
        return std::nullopt;
    }
    return item ? std::optional(item->id) : std::nullopt;
}

DrainOrder readDrainOrder(ListWork &work, ListRow &row) {
    DrainOrder order;
    order.pattern = readPattern(row);
    order.start = row.neededDate("order_start_on");
    if (const auto most = row.number("most_per_session_ml"))
        order.mostPerSession = Millilitres::of(*most);
    order.kit = readItemOf(work, row, "kit", ItemKind::Kit).value_or(ItemId());
    order.extraBottle = readItemOf(work, row, "extra_bottle", ItemKind::Bottle);
    order.allowsSubstitute = row.yes("allows_substitute", false);
    order.prescriber = row.text("prescriber");
    order.isVerbal = row.yes("is_verbal", false);
    order.signedOn = row.pastDate("signed_on", work.agency.snapshot().asOf);
    order.callParameters = row.text("call_parameters");
    order.catheter = kOfThisRow<CatheterId>;
    row.take(validate(order), {{"anchor", "anchor_on"}, {"kit_id", "kit"}});
    order.catheter = {};
    return order;
}

VisitOrder readVisitOrder(ListRow &row) {
    VisitOrder order;
    order.kind = row.choice<VisitKind>("visit_kind").value_or(VisitKind::Routine);
    order.start = row.neededDate("visit_start_on");
    order.prescriber = row.text("prescriber");
    for (const Skill skill : row.choices<Skill>("needs_skills"))
        order.needs.insert(skill);
    const std::string notation = row.needed("visit_order");
    if (notation.empty())
        return order;
    const auto segments = calendar::parseVisitOrder(notation);
    if (!segments) {
        row.take(flattened(segments.error()));
        return order;
    }
    order.segments = *segments;
    order.patient = kOfThisRow<PatientId>;
    row.take(validate(order));
    order.patient = {};
    return order;
}

} // namespace

std::span<const ListColumn> patientColumns() {
    return kPatientColumns;
}

void readPatientRow(ListWork &work, ListRow &row) {
    PatientEntry entry;
    entry.row = row.row();
    entry.patient = readWho(work, row);
    const bool hasOrder =
        row.hasAny({"pattern", "every_days", "anchor_on", "times_a_week", "weekdays", "most_per_day",
                    "most_per_week", "order_start_on", "most_per_session_ml", "kit", "extra_bottle",
                    "allows_substitute", "is_verbal", "signed_on", "call_parameters"});
    if (hasOrder || row.hasAny({"site", "side", "connector", "inserted_on"}))
        entry.catheter = readCatheter(work, row);
    if (hasOrder)
        entry.order = readDrainOrder(work, row);
    if (row.hasAny({"visit_kind", "visit_order", "visit_start_on", "needs_skills"}))
        entry.visits = readVisitOrder(row);
    work.list.patients.push_back(std::move(entry));
}

} // namespace kitround::exchange
