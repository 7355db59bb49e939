#include "core/calendar/VisitNotation.h"
#include "core/calendar/Weeks.h"
#include "sample-db/TextParts.h"

#include <algorithm>
#include <charconv>

namespace kitround::sample {
namespace {

constexpr std::pair<std::string_view, CavitySite> kSites[] = {{"chest", CavitySite::Chest},
                                                              {"abdomen", CavitySite::Abdomen}};
constexpr std::pair<std::string_view, Side> kSides[] = {
    {"left", Side::Left}, {"right", Side::Right}, {"midline", Side::Midline}};
constexpr std::pair<std::string_view, HoldKind> kHolds[] = {{"hospital", HoldKind::Hospital},
                                                            {"facility", HoldKind::Facility},
                                                            {"travel", HoldKind::Travel},
                                                            {"other", HoldKind::Other}};
constexpr std::pair<std::string_view, VisitKind> kVisitKinds[] = {
    {"start", VisitKind::StartOfCare},        {"resumption", VisitKind::Resumption},
    {"recert", VisitKind::Recertification},   {"discharge", VisitKind::Discharge},
    {"routine", VisitKind::Routine},          {"teaching", VisitKind::Teaching},
    {"drain", VisitKind::DrainOnly},          {"dressing", VisitKind::DressingCheck},
    {"follow-up", VisitKind::SymptomFollowUp}};
constexpr std::pair<std::string_view, DrainOutcome> kOutcomes[] = {
    {"drained", DrainOutcome::Drained}, {"dry", DrainOutcome::Dry}, {"not-done", DrainOutcome::NotDone}};
constexpr std::pair<std::string_view, EntrySource> kSources[] = {
    {"home", EntrySource::HomeLog}, {"nurse", EntrySource::Nurse}, {"phone", EntrySource::Phone}};
constexpr std::pair<std::string_view, Symptom> kSymptoms[] = {{"breathless", Symptom::WorseBreathlessness},
                                                              {"redness", Symptom::Redness},
                                                              {"leak", Symptom::Leak},
                                                              {"wet-dressing", Symptom::WetDressing},
                                                              {"cough", Symptom::Cough},
                                                              {"pain", Symptom::PainOnDrain},
                                                              {"fever", Symptom::Fever},
                                                              {"no-flow", Symptom::NoFlow},
                                                              {"light-headed", Symptom::LightHeaded}};
constexpr std::pair<std::string_view, CallTopic> kTopics[] = {
    {"clinical", CallTopic::Clinical}, {"supply", CallTopic::Supply}, {"schedule", CallTopic::Schedule}};
constexpr std::pair<std::string_view, IncidentKind> kIncidentKinds[] = {
    {"device", IncidentKind::Device},   {"infection", IncidentKind::Infection},
    {"injury", IncidentKind::Injury},   {"exposure", IncidentKind::Exposure},
    {"privacy", IncidentKind::Privacy}, {"other", IncidentKind::Other}};
constexpr std::pair<std::string_view, DecisionKind> kDecisions[] = {
    {"rebalance", DecisionKind::Rebalance},
    {"intake-frozen", DecisionKind::IntakeFrozen},
    {"per-diem", DecisionKind::PerDiem},
    {"hire", DecisionKind::Hire},
    {"other", DecisionKind::Other}};
constexpr std::pair<std::string_view, IncidentHarm> kIncidentHarms[] = {{"not-known", IncidentHarm::NotKnown},
                                                                        {"none", IncidentHarm::None},
                                                                        {"slight", IncidentHarm::Slight},
                                                                        {"serious", IncidentHarm::Serious},
                                                                        {"death", IncidentHarm::Death}};

std::string labelOf(const TextRow &row) {
    return row.text("patient") + " " + row.text("catheter");
}

CatheterId catheterOf(const TextReading &r, const TextRow &row) {
    return row.known(r.catheters, labelOf(row), "catheter");
}

SkillSet skillsOf(const TextRow &row) {
    SkillSet skills;
    for (const std::string &word : row.list("needs"))
        skills.insert(row.choiceOf<Skill>(word, "needs", kSkills, Skill::SiteCare));
    return skills;
}

void readCatheters(TextReading &r) {
    const TextTable table = r.table("catheters.csv");
    for (const TextRow &row : table.rows()) {
        Catheter catheter;
        catheter.patient = row.ref(r.patients, "patient");
        catheter.site = row.choice<CavitySite>("site", kSites, CavitySite::Chest);
        catheter.side = row.choice<Side>("side", kSides, Side::Right);
        catheter.connector = row.text("connector");
        catheter.insertedOn = row.maybeDate("inserted");
        catheter.removedAt = row.maybeInstant("removed");
        catheter.removalReason = row.text("removal_reason");
        const CatheterId id = added(r.parts.scenario.catheters, std::move(catheter)).id;
        r.catheters[labelOf(row)] = id;

        HomePlan plan;
        plan.catheter = id;
        plan.meanMl = row.real("mean_ml", 400);
        plan.trendPercent = row.real("trend_percent");
        plan.spreadPercent = row.real("spread_percent", 20);
        plan.adherence = row.real("adherence", 0.93);
        plan.logShare = row.real("log_share", 0.95);
        plan.stockIsUnknown = row.yes("stock_unknown");
        plan.silentFrom = row.maybeDate("silent_from");
        plan.dropFrom = row.maybeDate("drop_from");
        plan.noRefillFrom = row.maybeDate("no_refill_from");
        r.parts.history.homes.push_back(plan);
    }
}

// "every 2", "3 a week", "3 a week Mon Wed Fri", "as needed 1/day 4/week".
DrainPattern patternOf(const TextRow &row, Date start) {
    DrainPattern pattern;
    const auto parts = row.list("pattern");
    const auto numberOf = [&](const std::string &word) {
        int value = 0;
        if (std::from_chars(word.data(), word.data() + word.size(), value).ec != std::errc{})
            row.fault(ProblemCode::BadNotation, "pattern", row.text("pattern"));
        return value;
    };
    if (parts.size() == 2 && parts[0] == "every") {
        pattern.everyDays = numberOf(parts[1]);
        pattern.anchor = row.maybeDate("anchor").value_or(start);
    } else if (parts.size() >= 3 && parts[1] == "a") {
        pattern.kind = DrainPatternKind::TimesAWeek;
        pattern.timesAWeek = numberOf(parts[0]);
        for (std::size_t i = 3; i < parts.size(); ++i)
            if (const auto day = weekdayNamed(parts[i]))
                pattern.weekdays.insert(*day);
    } else if (parts.size() >= 2 && parts[0] == "as") {
        pattern.kind = DrainPatternKind::AsNeeded;
        for (std::size_t i = 2; i < parts.size(); ++i)
            (parts[i].ends_with("/day") ? pattern.mostPerDay : pattern.mostPerWeek) = numberOf(parts[i]);
    } else {
        row.fault(ProblemCode::BadNotation, "pattern", row.text("pattern"));
    }
    return pattern;
}

void readOrders(TextReading &r) {
    const TextTable table = r.table("orders.csv");
    auto &orders = r.parts.scenario.drainOrders;
    for (const TextRow &row : table.rows()) {
        DrainOrder order;
        order.catheter = catheterOf(r, row);
        order.start = row.date("start");
        order.end = row.maybeDate("end");
        order.pattern = patternOf(row, order.start);
        if (row.has("most_ml"))
            order.mostPerSession = Millilitres::of(row.number("most_ml"));
        order.kit = row.ref(r.items, "kit");
        order.extraBottle = row.maybeRef(r.items, "extra");
        order.allowsSubstitute = row.yes("substitute");
        order.prescriber = row.text("prescriber");
        order.isVerbal = row.yes("verbal");
        order.signedOn = row.maybeDate("signed");
        order.callParameters = row.text("call");
        if (!orders.empty() && orders.back().catheter == order.catheter)
            order.replaces = orders.back().id;
        added(orders, std::move(order));
    }
}

void readVisitOrders(TextReading &r) {
    const TextTable table = r.table("visit_orders.csv");
    for (const TextRow &row : table.rows()) {
        VisitOrder order;
        order.patient = row.ref(r.patients, "patient");
        order.kind = row.choice<VisitKind>("kind", kVisitKinds, VisitKind::Routine);
        order.start = row.date("start");
        order.end = row.maybeDate("end");
        if (auto segments = calendar::parseVisitOrder(row.text("visits")))
            order.segments = std::move(*segments);
        else
            row.fault(ProblemCode::BadNotation, "visits", row.text("visits"));
        order.allowedDays = row.days("days");
        if (row.has("minutes"))
            order.length = Minutes::of(row.number("minutes"));
        order.needs = skillsOf(row);
        order.twoNurses = row.yes("two_nurses");
        order.prescriber = row.text("prescriber");
        added(r.parts.scenario.visitOrders, std::move(order));
    }
}

// The visit is one of those the patient's latest order owes in that week.
void followOrder(const TextReading &r, const TextRow &row, Visit &visit) {
    const auto &orders = r.parts.scenario.visitOrders;
    const auto found = std::find_if(orders.rbegin(), orders.rend(), [&](const VisitOrder &o) {
        return o.patient == visit.patient && o.kind == visit.kind && o.start <= *visit.on;
    });
    if (found == orders.rend()) {
        row.fault(ProblemCode::UnknownRecord, "of_order", row.text("patient"));
        return;
    }
    const Date week = calendar::weekStartOf(*visit.on, r.parts.scenario.settings.weekStart);
    visit.order = found->id;
    visit.needs = found->needs;
    visit.length = found->length.value_or(visitLength(r.parts.scenario.settings, visit.kind));
    visit.dueFrom = week;
    visit.dueTo = week.plusDays(7);
}

void readVisits(TextReading &r) {
    const TextTable table = r.table("visits.csv");
    for (const TextRow &row : table.rows()) {
        Visit visit;
        visit.patient = row.ref(r.patients, "patient");
        visit.kind = row.choice<VisitKind>("kind", kVisitKinds, VisitKind::Routine);
        visit.status = VisitStatus::Drafted;
        visit.on = row.date("on");
        visit.dueFrom = *visit.on;
        visit.dueTo = visit.on->plusDays(1);
        visit.startAt = row.clock("at");
        visit.nurse = row.ref(r.nurses, "nurse");
        visit.needs = skillsOf(row);
        visit.length = Minutes::of(row.number("minutes", 45));
        if (row.yes("of_order"))
            followOrder(r, row, visit);
        for (const std::string &word : row.list("locked")) {
            visit.dayIsLocked = visit.dayIsLocked || word == "day";
            visit.nurseIsLocked = visit.nurseIsLocked || word == "nurse";
            visit.timeIsLocked = visit.timeIsLocked || word == "time";
        }
        visit.note = row.text("note");
        added(r.parts.scenario.visits, std::move(visit));
    }
}

void readHolds(TextReading &r) {
    const TextTable table = r.table("holds.csv");
    for (const TextRow &row : table.rows()) {
        Hold hold;
        hold.patient = row.ref(r.patients, "patient");
        hold.kind = row.choice<HoldKind>("kind", kHolds, HoldKind::Other);
        hold.from = row.date("from");
        hold.expectedReturn = row.maybeDate("expected_return");
        hold.to = row.maybeDate("to");
        hold.stillDraining = row.yes("still_draining");
        hold.reason = row.text("reason");
        added(r.parts.scenario.holds, std::move(hold));
    }
}

void readLog(TextReading &r) {
    const TextTable table = r.table("log.csv");
    for (const TextRow &row : table.rows()) {
        LogRow entry;
        entry.catheter = catheterOf(r, row);
        entry.at = row.time("at");
        entry.outcome = row.choice<DrainOutcome>("outcome", kOutcomes, DrainOutcome::Drained);
        if (row.has("ml"))
            entry.volume = Millilitres::of(row.number("ml"));
        for (const std::string &word : row.list("symptoms"))
            entry.symptoms.push_back(row.choiceOf<Symptom>(word, "symptoms", kSymptoms, Symptom::Leak));
        entry.source = row.choice<EntrySource>("source", kSources, EntrySource::HomeLog);
        entry.note = row.text("note");
        r.parts.history.log.push_back(std::move(entry));
    }
}

void readDeliveries(TextReading &r) {
    const TextTable table = r.table("deliveries.csv");
    for (const TextRow &row : table.rows()) {
        OpenDelivery delivery;
        delivery.catheter = catheterOf(r, row);
        delivery.isPicked = row.yes("picked");
        delivery.carriedBy = row.maybeRef(r.nurses, "carried_by");
        delivery.way = delivery.carriedBy ? DeliveryWay::WithVisit : DeliveryWay::Courier;
        delivery.agreedOn = row.date("agreed");
        delivery.promisedFor = row.date("promised");
        for (const auto &[code, count] : countedWords(row, "lines"))
            delivery.lines.emplace_back(row.known(r.items, code, "lines"), Eaches::of(count));
        r.parts.history.openDeliveries.push_back(std::move(delivery));
    }
}

void readOffice(TextReading &r) {
    const TextTable calls = r.table("calls.csv");
    for (const TextRow &row : calls.rows()) {
        PhoneCall call;
        call.patient = row.maybeRef(r.patients, "patient");
        call.at = row.time("at");
        call.caller = row.text("caller");
        call.topic = row.choice<CallTopic>("topic", kTopics, CallTopic::Clinical);
        call.words = row.text("words");
        call.owner = row.text("owner");
        added(r.parts.scenario.phoneCalls, std::move(call));
    }
    const TextTable authorisations = r.table("authorisations.csv");
    for (const TextRow &row : authorisations.rows()) {
        Authorisation authorisation;
        authorisation.patient = row.ref(r.patients, "patient");
        authorisation.reference = row.text("reference");
        authorisation.from = row.date("from");
        authorisation.to = row.date("to");
        authorisation.visitsAllowed = row.number("visits");
        added(r.parts.scenario.authorisations, std::move(authorisation));
    }
}

void readIncidents(TextReading &r) {
    const TextTable table = r.table("incidents.csv");
    for (const TextRow &row : table.rows()) {
        Incident incident;
        incident.kind = row.choice<IncidentKind>("kind", kIncidentKinds, IncidentKind::Other);
        incident.harm = row.choice<IncidentHarm>("harm", kIncidentHarms, IncidentHarm::NotKnown);
        incident.patient = row.maybeRef(r.patients, "patient");
        incident.lot = row.maybeRef(r.lots, "lot");
        incident.device = row.text("device");
        incident.at = row.time("at");
        incident.learnedOn = row.date("learned");
        incident.facts = row.text("facts");
        incident.keptPlace = row.text("kept");
        incident.prescriberToldOn = row.maybeDate("prescriber_told");
        incident.supplierToldOn = row.maybeDate("supplier_told");
        incident.told = row.text("told");
        incident.owner = row.text("owner");
        incident.reportDueOn = row.maybeDate("report_due");
        incident.reportedOn = row.maybeDate("reported");
        incident.closedOn = row.maybeDate("closed");
        incident.outcome = row.text("outcome");
        added(r.parts.scenario.incidents, std::move(incident));
    }
}

void readDecisions(TextReading &r) {
    const TextTable table = r.table("decisions.csv");
    for (const TextRow &row : table.rows()) {
        DecisionNote note;
        note.weekStart = row.date("week");
        note.kind = row.choice<DecisionKind>("kind", kDecisions, DecisionKind::Other);
        note.text = row.text("decided");
        note.by = row.ref(r.users, "by");
        note.at = row.time("at");
        note.closedOn = row.maybeDate("closed");
        note.outcome = row.text("outcome");
        added(r.parts.scenario.decisionNotes, std::move(note));
    }
}

} // namespace

void readCare(TextReading &reading) {
    readCatheters(reading);
    readOrders(reading);
    readVisitOrders(reading);
    readVisits(reading);
    readHolds(reading);
    readLog(reading);
    readDeliveries(reading);
    readOffice(reading);
    readIncidents(reading);
    readDecisions(reading);
}

} // namespace kitround::sample
