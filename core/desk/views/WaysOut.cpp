#include "core/desk/views/WaysOut.h"

#include "core/base/Index.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <iterator>
#include <optional>

namespace kitround::desk {
namespace {

constexpr int kLookedAt = 24; // ways, of which many ask for the same
constexpr std::size_t kTold = 3;

WayStep stepOf(rounds::WayOutKind kind) {
    switch (kind) {
    case rounds::WayOutKind::UnlockNurse:
    case rounds::WayOutKind::UnlockDay:
    case rounds::WayOutKind::UnlockTime:
    case rounds::WayOutKind::UnlockDayAndNurse:
    case rounds::WayOutKind::UnlockDayAndTime:
    case rounds::WayOutKind::UnlockNurseAndTime:
        return WayStep::Unlock;
    case rounds::WayOutKind::Overtime:
    case rounds::WayOutKind::OtherSkill:
    case rounds::WayOutKind::OneVisitMore:
        return WayStep::NurseRecord;
    case rounds::WayOutKind::OtherDay:
    case rounds::WayOutKind::WiderWindow:
        return WayStep::PatientRecord;
    }
    return WayStep::None;
}

const VisitOrder *orderOfVisit(const SnapshotIndex &index, const Visit &visit) {
    for (const VisitOrder *order : index.visitOrdersOf(visit.patient))
        if (visit.order == order->id)
            return order;
    return nullptr;
}

bool hasHardWindow(const Patient &patient, std::optional<Weekday> day = std::nullopt) {
    return std::ranges::any_of(patient.windows,
                               [&](const VisitWindow &w) { return w.isHard && (!day || w.weekday == *day); });
}

// From a quarter of an hour to one: nobody agrees on minutes.
QString spanText(Minutes from, Minutes to) {
    constexpr std::int64_t kQuarter = 15, kDay = 1440;
    const std::int64_t least = from.count() / kQuarter * kQuarter;
    const std::int64_t most = std::min(kDay - 1, (to.count() + kQuarter - 1) / kQuarter * kQuarter);
    return QStringLiteral("%1\u2013%2").arg(timeText(Minutes::of(least)), timeText(Minutes::of(most)));
}

Minutes endOfVisit(const WeekPicture &week, std::int32_t job, const rounds::WayOut &way) {
    return Minutes::of(way.start + week.problem.jobs[at(job)].length);
}

// The nearest of the patient's times that day, as wide as it would have to be; empty where it is wide enough.
QString windowChange(const WeekPicture &week, std::int32_t job, const rounds::WayOut &way,
                     const Patient &patient) {
    const Date on = dayOfDuty(week, way.duty);
    const Minutes from = Minutes::of(way.start), to = endOfVisit(week, job, way);
    const VisitWindow *nearest = nullptr;
    const auto beyond = [&](const VisitWindow &w) {
        return std::max<std::int64_t>(0, (w.from - from).count()) +
               std::max<std::int64_t>(0, (to - w.to).count());
    };
    for (const VisitWindow &w : patient.windows)
        if (w.isHard && w.weekday == on.weekday() && (!nearest || beyond(w) < beyond(*nearest)))
            nearest = &w;
    if (!nearest || beyond(*nearest) == 0)
        return {};
    return Text::tr("widen %1 %2\u2013%3 to %4")
        .arg(words(on.weekday()), timeText(nearest->from), timeText(nearest->to),
             spanText(std::min(nearest->from, from), std::max(nearest->to, to)));
}

// What keeps the visit from a day on which it is owed, and stands with the patient: the day itself, or the
// times of it. Empty where nothing does.
QString dayChange(const WeekPicture &week, std::int32_t job, const rounds::WayOut &way,
                  const Patient &patient) {
    const SnapshotIndex &index = week.agency->index();
    const Visit &visit = week.due[at(job)].visit;
    const Date on = dayOfDuty(week, way.duty);
    const bool isOwed = visit.dueFrom <= on && on < visit.dueTo;
    if (!isOwed || !rounds::isVisitingDay(week.agency->settings(), on) || index.holdOn(patient.id, on))
        return {};
    QStringList changes;
    const QString day = words(on.weekday());
    const VisitOrder *order = orderOfVisit(index, visit);
    if (order && !order->allowedDays.isEmpty() && !order->allowedDays.contains(on.weekday()))
        changes << Text::tr("allow %1 in the order %2").arg(day, visitOrderName(*order));
    if (hasHardWindow(patient) && !hasHardWindow(patient, on.weekday()))
        changes << Text::tr("add %1 %2 to the times the patient can be visited")
                       .arg(day, spanText(Minutes::of(way.start), endOfVisit(week, job, way)));
    else if (const QString wider = windowChange(week, job, way, patient); !wider.isEmpty())
        changes << wider;
    return changes.join(Text::tr(" and "));
}

QString placeOfWay(const WeekPicture &week, const rounds::WayOut &way) {
    return Text::tr("%1 %2 with %3")
        .arg(dayText(dayOfDuty(week, way.duty)), timeText(Minutes::of(way.start)),
             nurseNameIn(week, nurseOfDuty(week, way.duty)));
}

// Who has no times of their own is visited within the agency's day.
QString agencyDayText(const WeekPicture &week, const rounds::WayOut &way) {
    const AgencySettings &settings = week.agency->settings();
    return Text::tr("%1 is outside the agency's visiting hours, %2\u2013%3, which stand in the settings")
        .arg(placeOfWay(week, way), timeText(Minutes::of(settings[SettingKey::DayStart])),
             timeText(Minutes::of(settings[SettingKey::DayEnd])));
}

// False: nothing on record opens this way.
bool tellPatientChange(const WeekPicture &week, std::int32_t job, const rounds::WayOut &way,
                       const QString &cost, Suggestion &s) {
    const Patient *patient = week.agency->index().patient(week.due[at(job)].visit.patient);
    if (!patient || way.duty < 0 || way.start < 0)
        return false;
    if (way.kind == rounds::WayOutKind::WiderWindow && !hasHardWindow(*patient)) {
        s.step = WayStep::None;
        s.text = QStringLiteral("%1%2.").arg(agencyDayText(week, way), cost);
        return true;
    }
    s.change = way.kind == rounds::WayOutKind::OtherDay ? dayChange(week, job, way, *patient)
                                                        : windowChange(week, job, way, *patient);
    s.text = Text::tr("For %1: %2%3.").arg(placeOfWay(week, way), s.change, cost);
    return !s.change.isEmpty();
}

std::optional<Suggestion> wayOutSuggestion(const WeekPicture &week, std::int32_t job,
                                           const rounds::WayOut &way, CostSaid said) {
    Suggestion s;
    if (way.duty >= 0)
        s = suggestionOf(week, way.duty, way.start, way.addedCost);
    s.text = reason(way, week.problem, week.agency->index(), said);
    s.isAllowed = false;
    s.step = stepOf(way.kind);
    const QString cost =
        said == CostSaid::Here ? QStringLiteral("; ") + addedMinutesText(way.addedCost) : QString();
    if (s.step == WayStep::PatientRecord && !tellPatientChange(week, job, way, cost, s))
        return std::nullopt;
    const Visit &visit = week.due[at(job)].visit;
    const rounds::Unlocked unlocked = rounds::unlockedBy(way.kind);
    s.kept = {visit.dayIsLocked && !unlocked.day, visit.nurseIsLocked && !unlocked.nurse,
              visit.timeIsLocked && !unlocked.time};
    return s;
}

struct KnownWay {
    rounds::WayOut way;
    Suggestion told;
};

// The cheapest for each change, by cost.
std::vector<KnownWay> knownWays(const WeekPicture &week, std::int32_t job, CostSaid said) {
    std::vector<KnownWay> known;
    for (const rounds::WayOut &way : rounds::waysOut(week.problem, week.plan, job, kLookedAt)) {
        const auto told = wayOutSuggestion(week, job, way, said);
        const bool isNew = told && std::ranges::none_of(known, [&](const KnownWay &other) {
                               return !told->change.isEmpty() && other.told.change == told->change;
                           });
        if (isNew)
            known.push_back({way, *told});
    }
    return known;
}

} // namespace

std::vector<Suggestion> waysOutOf(const WeekPicture &week, std::int32_t job, CostSaid said) {
    std::vector<KnownWay> chosen, others;
    for (KnownWay &one : knownWays(week, job, said)) {
        const bool isNewKind = std::ranges::none_of(
            chosen, [&](const KnownWay &other) { return other.way.kind == one.way.kind; });
        (isNewKind ? chosen : others).push_back(std::move(one));
    }
    std::ranges::move(others, std::back_inserter(chosen));
    if (chosen.size() > kTold)
        chosen.resize(kTold);
    std::ranges::stable_sort(chosen, {}, [](const KnownWay &one) { return one.way.addedCost; });
    std::vector<Suggestion> ways;
    for (KnownWay &one : chosen)
        ways.push_back(std::move(one.told));
    return ways;
}

Suggestion suggestionOf(const WeekPicture &week, std::int32_t duty, rounds::Minute start, double cost) {
    Suggestion s;
    s.nurse = nurseOfDuty(week, duty);
    s.on = dayOfDuty(week, duty);
    if (start >= 0)
        s.start = Minutes::of(start);
    s.text = Text::tr("%1 on %2%3")
                 .arg(nurseNameIn(week, s.nurse), dayText(s.on),
                      start >= 0 ? Text::tr(" at %1").arg(timeText(Minutes::of(start))) : QString());
    s.tip = Text::tr("It %1. %2").arg(addedToPlan(week, cost), weightedMinutesMeaning());
    return s;
}

QString addedToPlan(const WeekPicture &week, double cost) {
    const double now = week.evaluation.parts.total();
    return addedMinutesText(now, now + cost);
}

} // namespace kitround::desk
