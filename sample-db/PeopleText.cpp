#include "sample-db/TextParts.h"

namespace kitround::sample {
namespace {

constexpr std::pair<std::string_view, Gender> kGenders[] = {
    {"f", Gender::Female}, {"m", Gender::Male}, {"x", Gender::Other}};
constexpr std::pair<std::string_view, AreaKind> kAreas[] = {
    {"urban", AreaKind::Urban}, {"suburban", AreaKind::Suburban}, {"rural", AreaKind::Rural}};
constexpr std::pair<std::string_view, PointQuality> kQualities[] = {{"exact", PointQuality::Exact},
                                                                    {"street", PointQuality::StreetCentre},
                                                                    {"area", PointQuality::PostalAreaCentre}};
constexpr std::pair<std::string_view, Credential> kCredentials[] = {
    {"RN", Credential::RegisteredNurse}, {"LPN", Credential::PracticalNurse}, {"aide", Credential::Aide}};
constexpr std::pair<std::string_view, UserRole> kRoles[] = {{"coordinator", UserRole::Coordinator},
                                                            {"clerk", UserRole::SupplyClerk},
                                                            {"manager", UserRole::NurseManager},
                                                            {"nurse", UserRole::Nurse}};
constexpr std::pair<std::string_view, CareStatus> kStatuses[] = {{"referred", CareStatus::Referred},
                                                                 {"active", CareStatus::Active},
                                                                 {"discharged", CareStatus::Discharged},
                                                                 {"transferred", CareStatus::Transferred},
                                                                 {"deceased", CareStatus::Deceased}};
constexpr std::pair<std::string_view, Competence> kCompetences[] = {{"none", Competence::None},
                                                                    {"shown", Competence::Shown},
                                                                    {"helped", Competence::Helped},
                                                                    {"alone", Competence::Alone}};
constexpr std::pair<std::string_view, Acuity> kAcuities[] = {
    {"low", Acuity::Low}, {"medium", Acuity::Medium}, {"high", Acuity::High}};
constexpr std::pair<std::string_view, EmergencyPriority> kPriorities[] = {
    {"1", EmergencyPriority::First}, {"2", EmergencyPriority::Second}, {"3", EmergencyPriority::Third}};
constexpr std::pair<std::string_view, TimeOffKind> kTimeOffKinds[] = {{"leave", TimeOffKind::Leave},
                                                                      {"sick", TimeOffKind::Sick},
                                                                      {"training", TimeOffKind::Training},
                                                                      {"other", TimeOffKind::Other}};
constexpr std::pair<std::string_view, LeaveStatus> kLeaveStatuses[] = {{"requested", LeaveStatus::Requested},
                                                                       {"approved", LeaveStatus::Approved},
                                                                       {"declined", LeaveStatus::Declined}};

constexpr const char *kTown = "Quillbrook (invented)";

Address addressOf(const TextRow &row) {
    Address address;
    address.street = row.text("street");
    address.town = kTown;
    address.postalCode = "00000"; // no such code is in use
    if (row.has("x") && row.has("y"))
        address.point = pointOnGrid(row.real("x"), row.real("y"));
    address.area = row.choice<AreaKind>("area", kAreas, AreaKind::Suburban);
    return address;
}

void readAgency(TextReading &r) {
    AgencySettings &settings = r.parts.scenario.settings;
    settings.isInvented = true;
    settings.demoToday = r.today;
    const TextTable table = r.table("agency.csv");
    for (const TextRow &row : table.rows()) {
        settings.agencyName = row.text("name");
        settings.phone = row.text("phone");
        settings.orderContact = row.text("order_contact");
        settings.storeroom = addressOf(row);
        settings.usedBottleRules = row.text("used_bottle_rules");
    }
    const TextTable numbers = r.table("settings.csv");
    for (const TextRow &row : numbers.rows()) {
        if (const auto key = settingNamed(row.text("setting")))
            settings.set(*key, row.number("value"));
        else
            row.fault(ProblemCode::UnknownChoice, "setting", row.text("setting"));
    }
    const TextTable users = r.table("users.csv");
    for (const TextRow &row : users.rows()) {
        User user;
        user.name = row.text("name");
        user.role = row.choice<UserRole>("role", kRoles, UserRole::Coordinator);
        const User &kept = added(r.parts.scenario.users, std::move(user));
        r.users[kept.name] = kept.id;
    }
    const TextTable payers = r.table("payers.csv");
    for (const TextRow &row : payers.rows()) {
        Payer payer;
        payer.name = row.text("name");
        payer.refillRuleApplies = row.yes("refill_rule");
        payer.contactAtMostBefore = Days::of(row.number("contact_days", 30));
        payer.deliverAtMostBefore = Days::of(row.number("deliver_days", 10));
        payer.mostDaysHeld = Days::of(row.number("days_held", 30));
        r.payers[row.text("code")] = added(r.parts.scenario.payers, std::move(payer)).id;
    }
}

void readSkills(const TextRow &row, Nurse &nurse) {
    for (const std::string &word : row.list("skills")) {
        const auto parts = words(word, '@');
        SkillGrant grant;
        grant.skill = row.choiceOf<Skill>(parts.at(0), "skills", kSkills, Skill::SiteCare);
        if (parts.size() > 1) {
            grant.expiresOn = relativeDate(parts[1], row.today());
            if (!grant.expiresOn)
                row.fault(ProblemCode::NotADate, "skills", word);
        }
        nurse.skills.push_back(grant);
    }
}

void readNurses(TextReading &r) {
    const TextTable table = r.table("nurses.csv");
    for (const TextRow &row : table.rows()) {
        Nurse nurse;
        nurse.code = row.text("code");
        nurse.familyName = row.text("family");
        nurse.givenName = row.text("given");
        nurse.phone = row.text("phone");
        nurse.credential = row.choice<Credential>("credential", kCredentials, Credential::RegisteredNurse);
        if (row.has("gender"))
            nurse.gender = row.choice<Gender>("gender", kGenders, Gender::Other);
        nurse.languages = row.list("languages");
        readSkills(row, nurse);
        nurse.base = addressOf(row);
        nurse.startsAtStoreroom = row.yes("from_storeroom");
        nurse.contractPerWeek = Minutes::of(row.number("contract_hours", 40) * 60);
        nurse.mostVisitsADay = static_cast<int>(row.number("most_visits", 7));
        nurse.carSpaceMl = row.number("car_litres") * 1000;
        nurse.overtimeExempt = row.yes("exempt");
        const std::string code = nurse.code;
        r.nurses[code] = added(r.parts.scenario.nurses, std::move(nurse)).id;
    }
}

void readHours(TextReading &r) {
    const TextTable shifts = r.table("shifts.csv");
    for (const TextRow &row : shifts.rows()) {
        const WeekdaySet days = row.days("days");
        for (const Weekday day : kAllWeekdays) {
            if (!days.contains(day))
                continue;
            ShiftPattern shift;
            shift.nurse = row.ref(r.nurses, "nurse");
            shift.weekday = day;
            shift.from = row.clock("from");
            shift.to = row.clock("to");
            shift.breakLength = Minutes::of(row.number("break_min"));
            shift.breakFrom = row.clock("break_from");
            shift.breakTo = row.clock("break_to");
            shift.isOnCall = row.yes("on_call");
            shift.validFrom = r.today.plusDays(-365);
            added(r.parts.scenario.shiftPatterns, shift);
        }
    }
    const TextTable extras = r.table("extra_shifts.csv");
    for (const TextRow &row : extras.rows()) {
        ExtraShift shift;
        shift.nurse = row.ref(r.nurses, "nurse");
        shift.on = row.date("on");
        shift.from = row.clock("from");
        shift.to = row.clock("to");
        shift.replacesPattern = row.yes("replaces");
        shift.isOnCall = row.yes("on_call");
        added(r.parts.scenario.extraShifts, shift);
    }
    const TextTable off = r.table("time_off.csv");
    for (const TextRow &row : off.rows()) {
        TimeOff time;
        time.nurse = row.ref(r.nurses, "nurse");
        time.kind = row.choice<TimeOffKind>("kind", kTimeOffKinds, TimeOffKind::Other);
        time.from = row.date("from");
        time.to = row.date("to");
        time.note = row.text("note");
        time.status = row.choice<LeaveStatus>("status", kLeaveStatuses, LeaveStatus::Approved);
        if (time.status == LeaveStatus::Requested)
            time.askedOn = r.parts.scenario.today.plusDays(-3);
        added(r.parts.scenario.timeOff, std::move(time));
    }
}

// "Mon-Fri 09:00-12:00; ~Sat 10:00-14:00": hard, and soft after a tilde.
void readWindows(const TextRow &row, Patient &patient) {
    for (std::string text : row.list("windows", ';')) {
        const bool isSoft = text.starts_with('~');
        if (isSoft)
            text.erase(0, 1);
        const auto parts = words(text);
        const auto hours = parts.size() == 2 ? words(parts[1], '-') : std::vector<std::string>{};
        const auto from = hours.size() == 2 ? clockFromText(hours[0]) : std::nullopt;
        const auto to = hours.size() == 2 ? clockFromText(hours[1]) : std::nullopt;
        if (!from || !to) {
            row.fault(ProblemCode::NotATime, "windows", text);
            continue;
        }
        WeekdaySet days;
        if (parts[0] == "Mon-Fri")
            days = WeekdaySet::mondayToFriday();
        else if (parts[0] == "all")
            days = WeekdaySet::all();
        else if (const auto day = weekdayNamed(parts[0]))
            days.insert(*day);
        else
            row.fault(ProblemCode::UnknownChoice, "windows", text);
        for (const Weekday day : kAllWeekdays)
            if (days.contains(day))
                patient.windows.push_back({day, *from, *to, !isSoft});
    }
}

void readCourse(TextReading &r, const TextRow &row, Patient &patient) {
    patient.payer = row.ref(r.payers, "payer");
    patient.status = row.choice<CareStatus>("status", kStatuses, CareStatus::Active);
    patient.referredAt = row.maybeInstant("referred");
    patient.homeFrom = row.maybeInstant("home_from");
    patient.startOfCare = row.maybeDate("start_of_care");
    patient.exitedAt = row.maybeInstant("exited");
    patient.exitReason = row.text("exit_reason");
    patient.primaryNurse = row.maybeRef(r.nurses, "primary");
    patient.backupNurse = row.maybeRef(r.nurses, "backup");
    for (const std::string &code : row.list("barred"))
        patient.barredNurses.push_back(row.known(r.nurses, code, "barred"));
}

void readPatients(TextReading &r) {
    const TextTable table = r.table("patients.csv");
    for (const TextRow &row : table.rows()) {
        Patient patient;
        patient.code = row.text("code");
        patient.familyName = row.text("family");
        patient.givenName = row.text("given");
        patient.bornOn = row.maybeDate("born");
        if (row.has("gender"))
            patient.gender = row.choice<Gender>("gender", kGenders, Gender::Other);
        patient.phone = row.text("phone");
        patient.address = addressOf(row);
        patient.address.quality = row.choice<PointQuality>("quality", kQualities, PointQuality::Exact);
        patient.address.accessNotes = row.text("access");
        patient.languages = row.list("languages");
        if (row.has("nurse_wish"))
            patient.nurseGenderWish = row.choice<Gender>("nurse_wish", kGenders, Gender::Other);
        readCourse(r, row, patient);
        for (const std::string &word : row.list("allergies"))
            patient.allergies.push_back(
                row.choiceOf<Material>(word, "allergies", kMaterials, Material::Latex));
        patient.patientCompetence = row.choice<Competence>("patient_drains", kCompetences, Competence::None);
        patient.caregiverCompetence =
            row.choice<Competence>("caregiver_drains", kCompetences, Competence::None);
        patient.noAllergiesOn = row.maybeDate("no_allergies");
        if (row.has("acuity"))
            patient.acuity = row.choice<Acuity>("acuity", kAcuities, Acuity::Low);
        if (row.has("emergency"))
            patient.emergencyPriority =
                row.choice<EmergencyPriority>("emergency", kPriorities, EmergencyPriority::Third);
        patient.needsTwoNurses = row.yes("two_nurses");
        patient.allowsCourier = !row.has("courier") || row.yes("courier");
        readWindows(row, patient);
        patient.notes = row.text("notes");
        const std::string code = patient.code;
        r.patients[code] = added(r.parts.scenario.patients, std::move(patient)).id;
    }
}

} // namespace

void readPeople(TextReading &reading) {
    readAgency(reading);
    readNurses(reading);
    readHours(reading);
    readPatients(reading);
}

} // namespace kitround::sample
