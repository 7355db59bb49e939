#include "core/desk/views/VisitsToRecord.h"

#include "core/desk/views/AttentionParts.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/safety/WelfareCalls.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr Minutes kClearlyOver = Minutes::of(120); // after its planned end (assumed)
// Earlier days are one line.
constexpr Days kDayByDay = Days::of(14); // assumed
constexpr std::size_t kDaysByLine = 7; // more days than that, and the oldest are one line with those earlier

// Of today: what may still go on, or was made a moment ago, is not asked about.
bool isOverToday(const Snapshot &agency, const Visit &visit) {
    return rounds::isUnderWay(agency, visit) && visit.kind != VisitKind::Phone &&
           *visit.startAt + visit.length + kClearlyOver <= agency.now.minute;
}

QString nursesOf(const Agency &agency, const Visit &visit) {
    QStringList names;
    for (const std::optional<NurseId> &id : {visit.nurse, visit.secondNurse})
        if (const Nurse *nurse = id ? agency.index().nurse(*id) : nullptr)
            names << personName(*nurse);
    return names.join(QStringLiteral("; "));
}

AttentionItem unrecordedLine(Date from, std::int64_t visits, bool isEarlier, const Agency &agency) {
    AttentionItem item;
    item.kind = AttentionKind::VisitsUnrecorded;
    item.harm = from < agency.today() ? Harm::Today : Harm::Soon;
    item.dueOn = from;
    item.title =
        isEarlier
            ? Text::tr("%1 since %2: what happened?").arg(visitsText(visits), dayText(from, agency.today()))
            : Text::tr("%1 of %2: what happened?").arg(visitsText(visits), dayText(from));
    item.detail =
        Text::tr("Published, over, and not recorded. Open the list, and record each as done or missed; until "
                 "then it counts as work of its week.");
    return item;
}

void addMiss(parts::Items &items, const Agency &agency, const Visit &visit, Date on) {
    AttentionItem item;
    item.kind = AttentionKind::MissUntold;
    item.harm = Harm::Today; // it is no less for having waited
    item.patient = visit.patient;
    item.visit = visit.id;
    item.dueOn = on;
    item.title =
        Text::tr("Missed visit to %1: was the prescriber told?").arg(parts::shortName(agency, visit.patient));
    item.detail = Text::tr("%1, %2 (%3). A missed visit is told to the prescriber, and no such call is on "
                           "record. Record the day and time of it.")
                      .arg(words(visit.kind), dayText(on, agency.today()), words(visit.missReason));
    item.detail[0] = item.detail[0].toUpper();
    items.push_back(std::move(item));
}

// What is kept of the call once somebody was reached.
PhoneCall welfareRecord(const safety::WelfareCall &owed, const QString &when) {
    PhoneCall call;
    call.patient = owed.patient;
    call.at = owed.since; // at the earliest
    call.topic = CallTopic::Clinical;
    call.words = Text::tr("Welfare call: nobody was at home on %1.").arg(when).toStdString();
    return call;
}

void addWelfareCall(parts::Items &items, const Agency &agency, const safety::WelfareCall &call) {
    const Patient *patient = agency.index().patient(call.patient);
    const Visit *visit = agency.index().visit(call.visit);
    if (!patient || !visit)
        return;
    const QString when = visit->startAt ? momentText(call.since) : dayText(call.since.date);
    AttentionItem item;
    item.kind = AttentionKind::WelfareCall;
    item.harm = Harm::Today;
    item.patient = call.patient;
    item.visit = call.visit;
    item.dueOn = call.since.date;
    item.toLog = welfareRecord(call, when);
    item.title = Text::tr("Nobody at home at %1: welfare call").arg(parts::shortName(agency, call.patient));
    item.unnamed = Text::tr("Nobody at home on %1: welfare call").arg(when);
    item.detail =
        Text::tr("Nobody opened on %1 (%2), and nothing on record was heard of the home since. A fall, an "
                 "emergency or a hospital stay may be behind it. Phone the home today (%3); where nobody "
                 "answers, ask or send whom local policy says. This line stays until somebody was reached: "
                 "record who, and when.")
            .arg(when, words(visit->kind),
                 patient->phone.empty() ? Text::tr("no phone on record") : fromStd(patient->phone));
    items.push_back(std::move(item));
}

} // namespace

std::vector<VisitToRecord> visitsToRecord(const Agency &agency) {
    std::vector<VisitToRecord> rows;
    for (const Visit &visit : agency.snapshot().visits) {
        if (!rounds::isUnrecorded(agency.snapshot(), visit) && !isOverToday(agency.snapshot(), visit))
            continue;
        const Patient *patient = agency.index().patient(visit.patient);
        rows.push_back({visit, *visit.day(), patient ? personName(*patient, agency.index()) : QString(),
                        nursesOf(agency, visit)});
    }
    std::ranges::stable_sort(rows, {}, [](const VisitToRecord &row) {
        return std::tuple(row.on, row.visit.startAt.value_or(Minutes()), row.visit.id);
    });
    return rows;
}

void parts::addVisitsOver(Items &items, const Agency &agency) {
    std::map<Date, std::int64_t> byDay;
    std::int64_t earlier = 0;
    std::optional<Date> first; // of those earlier
    for (const VisitToRecord &row : visitsToRecord(agency)) {
        if (row.on >= agency.today() - kDayByDay) {
            ++byDay[row.on];
            continue;
        }
        ++earlier;
        if (!first)
            first = row.on;
    }
    for (; byDay.size() > kDaysByLine; byDay.erase(byDay.begin())) {
        earlier += byDay.begin()->second;
        if (!first)
            first = byDay.begin()->first;
    }
    if (first)
        items.push_back(unrecordedLine(*first, earlier, true, agency));
    for (const auto &[on, visits] : byDay)
        items.push_back(unrecordedLine(on, visits, false, agency));
    for (const Visit &visit : agency.snapshot().visits) {
        const Date on = visit.day().value_or(visit.dueFrom);
        const Patient *patient = agency.index().patient(visit.patient);
        const bool isUntold = visit.status == VisitStatus::Missed && !visit.prescriberToldAt;
        if (isUntold && patient && isOnService(patient->status))
            addMiss(items, agency, visit, on);
    }
}

void parts::addClosedDoors(Items &items, const Agency &agency) {
    for (const safety::WelfareCall &call : safety::welfareCalls(agency.index()))
        addWelfareCall(items, agency, call);
}

} // namespace kitround::desk
