#include "core/rounds/due/EventsDue.h"

#include "core/calendar/Deadlines.h"
#include "core/calendar/LocalDay.h"
#include "core/calendar/Zone.h"
#include "core/rounds/due/Recertification.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// A return from hospital older than this was missed long ago; a call, not a clock, is what it needs.
constexpr std::int64_t kRecentReturnDays = 7;
constexpr std::int64_t kAtOnceDays = 3; // a recertification whose window has passed (assumed)

bool isStillMeant(const Visit &visit) {
    return visit.status == VisitStatus::Due || visit.status == VisitStatus::Drafted ||
           visit.status == VisitStatus::Published;
}

class Events {
public:
    Events(const SnapshotIndex &agency, const Patient &patient, DateRange week, std::vector<DueVisit> &mine)
        : agency_(agency), s_(agency.snapshot()), patient_(patient), week_(week), mine_(mine) {}

    void add() {
        addStored();
        if (week_.to <= s_.asOf)
            return; // the past has no new events
        startOfCare();
        resumption();
        recertification();
        symptomFollowUp();
        dressingCheck();
        supplyCount();
    }

private:
    void addStored() {
        for (const Visit *visit : agency_.visitsOf(patient_.id)) {
            if (visit->order || countsAlready(*visit, week_, s_.asOf))
                continue;
            if (auto kept = existing(agency_, *visit, week_))
                mine_.push_back(*kept);
        }
    }

    // Done, or still meant, on or after the day (due visits by the end of their range).
    bool hasVisit(VisitKind kind, Date since) const {
        return std::ranges::any_of(agency_.visitsOf(patient_.id), [&](const Visit *v) {
            if (v->kind != kind || (v->status != VisitStatus::Done && !isStillMeant(*v)))
                return false;
            const std::optional<Date> on = dayOf(*v);
            return on ? *on >= since : v->dueTo > since;
        });
    }

    void push(VisitKind kind, DueCause cause, DateRange days,
              std::optional<Instant> deadline = std::nullopt) {
        days.from = std::max(days.from, week_.from);
        days.to = std::min(days.to, week_.to);
        days = narrowed(agency_, patient_.id, days);
        if (days.from >= days.to)
            return;
        DueVisit d;
        d.visit = blankVisit(agency_, patient_, kind, days);
        d.cause = cause;
        d.ordinal = 1;
        d.deadline = deadline;
        mine_.push_back(d);
    }

    Date localDay(Instant at) const { return calendar::localDayOf(s_.settings, at); }

    // A 48-hour clock belongs to the week that holds its last day, or today where that is over.
    void clocked(VisitKind kind, DueCause cause, Date since, Instant deadline) {
        const Date lastDay = localDay(deadline);
        if (!week_.contains(std::max(lastDay, s_.asOf)))
            return;
        const bool isOver = lastDay < s_.asOf;
        push(kind, cause, {since, isOver ? s_.asOf.plusDays(2) : lastDay.plusDays(1)}, deadline);
    }

    void startOfCare() {
        if (patient_.status != CareStatus::Referred || hasVisit(VisitKind::StartOfCare, Date{}))
            return;
        if (const auto deadline = calendar::firstVisitDue(patient_, s_.settings)) {
            const Instant from =
                std::max(patient_.referredAt.value_or(Instant{}), patient_.homeFrom.value_or(Instant{}));
            clocked(VisitKind::StartOfCare, DueCause::StartOfCare, localDay(from), *deadline);
        } else if (week_.contains(s_.asOf)) {
            push(VisitKind::StartOfCare, DueCause::StartOfCare, week_);
        }
    }

    void resumption() {
        if (patient_.status != CareStatus::Active)
            return;
        const Hold *last = nullptr;
        for (const Hold *hold : agency_.holdsOf(patient_.id))
            if (hold->kind == HoldKind::Hospital && hold->to && *hold->to > hold->from)
                last = hold;
        if (!last || last->to->plusDays(kRecentReturnDays) < s_.asOf ||
            hasVisit(VisitKind::Resumption, *last->to))
            return;
        // Only the day of return is known, so the clock starts with it: rather early than late.
        const LocalTime home{*last->to, Minutes::of(0)};
        const Minutes allowed = Minutes::of(60 * s_.settings[SettingKey::FirstVisitHours]);
        const Result<calendar::Zone> zone = calendar::Zone::named(s_.settings.timeZone);
        const Instant start =
            zone ? zone->toUtc(home) : Instant::fromUnixSeconds(home.date.dayNumber() * 86400);
        const Instant deadline = start + allowed;
        // Midnight belongs to the day before.
        const Date lastDay = localDay(Instant::fromUnixSeconds(deadline.unixSeconds() - 1));
        if (!week_.contains(std::max(lastDay, s_.asOf)))
            return;
        const Date end = lastDay < s_.asOf ? s_.asOf.plusDays(2) : lastDay.plusDays(1);
        push(VisitKind::Resumption, DueCause::Resumption, {*last->to, end}, deadline);
    }

    void recertification() {
        if (patient_.status != CareStatus::Active || !patient_.startOfCare)
            return;
        // At once; as the first days of next week are planned while this one is under way, there too. A later
        // week owes what its own window asks for.
        if (const auto missed = missedRecertification(agency_, patient_);
            missed && week_.from.plusDays(-7) <= s_.asOf &&
            !hasVisit(VisitKind::Recertification, missed->recertWindow.from)) {
            const Date from = std::max(week_.from, s_.asOf);
            push(VisitKind::Recertification, DueCause::Recertification, {from, from.plusDays(kAtOnceDays)});
            return;
        }
        const Date lastDay = week_.to.plusDays(-1);
        if (lastDay < *patient_.startOfCare)
            return;
        for (const Date on : {std::max(week_.from, *patient_.startOfCare), lastDay}) {
            const DateRange window =
                calendar::certificationPeriod(*patient_.startOfCare, on, s_.settings).recertWindow;
            const bool overlaps = window.from < week_.to && week_.from < window.to;
            if (!overlaps)
                continue;
            if (!hasVisit(VisitKind::Recertification, window.from))
                push(VisitKind::Recertification, DueCause::Recertification, window);
            return;
        }
    }

    void symptomFollowUp() {
        if (!week_.contains(s_.asOf))
            return;
        for (const CallItem &item : s_.callItems) {
            const bool asksForNurse =
                item.kind == CautionKind::SymptomNow || item.kind == CautionKind::SymptomToday ||
                item.kind == CautionKind::SuddenDrop || item.kind == CautionKind::SharpChange;
            if (item.patient != patient_.id || item.status != CallItemStatus::Open || !asksForNurse ||
                (item.urgency != CautionUrgency::Now && item.urgency != CautionUrgency::Today))
                continue;
            const bool isSeen = std::ranges::any_of(agency_.visitsOf(patient_.id), [&](const Visit *v) {
                const std::optional<Date> on = dayOf(*v);
                const bool isDone =
                    v->status == VisitStatus::Done && v->endedAt && *v->endedAt >= item.raisedAt;
                const bool isMeant = v->kind == VisitKind::SymptomFollowUp && isStillMeant(*v) &&
                                     (!on || *on >= item.raisedAt.date);
                return isDone || isMeant;
            });
            if (isSeen)
                continue;
            push(VisitKind::SymptomFollowUp, DueCause::SymptomFollowUp, {s_.asOf, s_.asOf.plusDays(2)});
            return; // one visit looks after all of them
        }
    }

    bool hasCatheter() const {
        return std::ranges::any_of(agency_.cathetersOf(patient_.id),
                                   [&](const Catheter *c) { return agency_.isInService(*c); });
    }
    bool isSeenThisWeek() const {
        return !mine_.empty() || std::ranges::any_of(agency_.visitsOf(patient_.id), [&](const Visit *v) {
            const std::optional<Date> on = dayOf(*v);
            return on && week_.contains(*on) && (v->status == VisitStatus::Done || isStillMeant(*v));
        });
    }

    void dressingCheck() {
        if (patient_.status != CareStatus::Active || !hasCatheter() || isSeenThisWeek())
            return;
        std::optional<Date> last;
        for (const Visit *v : agency_.visitsOf(patient_.id)) {
            const std::optional<Date> on = dayOf(*v);
            const bool isSeen = v->status == VisitStatus::Done || (isStillMeant(*v) && v->on);
            if (on && isSeen && *on < week_.from && v->kind != VisitKind::Phone && (!last || *last < *on))
                last = on;
        }
        const Days every = Days::of(s_.settings[SettingKey::DressingCheckDays]);
        DateRange days = week_;
        if (last && *last + every >= week_.to)
            return;
        if (last && *last + every >= std::max(week_.from, s_.asOf))
            days.to = *last + every + Days::of(1);
        push(VisitKind::DressingCheck, DueCause::DressingCheck, days);
    }

    void supplyCount() {
        if (patient_.status != CareStatus::Active || isSeenThisWeek())
            return;
        for (const Catheter *catheter : agency_.cathetersOf(patient_.id)) {
            if (!agency_.isInService(*catheter))
                continue;
            const DrainOrder *order = agency_.orderInForce(catheter->id, std::max(week_.from, s_.asOf));
            if (!order || agency_.lastCount(catheter->id, order->kit))
                continue;
            const bool wasDelivered =
                std::ranges::any_of(agency_.deliveriesOf(patient_.id), [&](const Delivery *d) {
                    return d->status == DeliveryStatus::Delivered &&
                           std::ranges::any_of(d->lines, [&](const DeliveryLine &line) {
                               return line.catheter == catheter->id && line.item == order->kit &&
                                      !line.arrived().isZero();
                           });
                });
            if (wasDelivered)
                continue;
            push(VisitKind::SupplyCount, DueCause::SupplyCount, week_);
            return;
        }
    }

    const SnapshotIndex &agency_;
    const Snapshot &s_;
    const Patient &patient_;
    DateRange week_;
    std::vector<DueVisit> &mine_;
};

} // namespace

std::optional<Date> dayOf(const Visit &visit) {
    if (visit.startedAt)
        return visit.startedAt->date;
    return visit.on;
}

bool countsAlready(const Visit &visit, DateRange week, Date today) {
    const std::optional<Date> on = dayOf(visit);
    // Without a day it was given up because none was left for it: asked for again, nobody could place it
    // either.
    if (!on && visit.status == VisitStatus::Missed)
        return week.contains(visit.dueFrom);
    if (!on || !week.contains(*on))
        return false;
    switch (visit.status) {
    case VisitStatus::Done:
        return true;
    case VisitStatus::Missed:
        return visit.missReason == MissReason::Hospital;
    case VisitStatus::Drafted:
    case VisitStatus::Published:
        return *on < today;
    default:
        return false;
    }
}

std::optional<DueVisit> existing(const SnapshotIndex &agency, const Visit &visit, DateRange week) {
    if (!isStillMeant(visit) || visit.kind == VisitKind::Phone)
        return std::nullopt;
    const std::optional<Date> on = visit.status == VisitStatus::Due ? std::nullopt : visit.on;
    if (on ? !week.contains(*on) : !(visit.dueFrom < week.to && week.from < visit.dueTo))
        return std::nullopt;
    DateRange days{std::max(visit.dueFrom, week.from), std::min(visit.dueTo, week.to)};
    if (on) { // where somebody put it by hand outside its range, that day is allowed as well
        days.from = std::min(days.from, *on);
        days.to = std::max(days.to, on->plusDays(1));
    }
    days = narrowed(agency, visit.patient, days);
    if (isUnderWay(agency.snapshot(), visit))
        days = days.from < days.to ? DateRange{std::min(days.from, *on), std::max(days.to, on->plusDays(1))}
                                   : DateRange{*on, on->plusDays(1)};
    if (days.from >= days.to)
        return std::nullopt;
    DueVisit d;
    d.visit = visit;
    d.visit.dueFrom = days.from;
    d.visit.dueTo = days.to;
    d.cause = DueCause::Existing;
    d.ordinal = 1;
    return d;
}

DateRange narrowed(const SnapshotIndex &agency, PatientId patient, DateRange days) {
    const Date today = agency.snapshot().asOf;
    if (today < days.to)
        days.from = std::max(days.from, today);
    while (days.from < days.to && agency.holdOn(patient, days.from))
        days.from = days.from.plusDays(1);
    while (days.from < days.to && agency.holdOn(patient, days.to.plusDays(-1)))
        days.to = days.to.plusDays(-1);
    return days;
}

bool holdTouches(const SnapshotIndex &agency, PatientId patient, DateRange days) {
    for (Date day = days.from; day < days.to; ++day)
        if (agency.holdOn(patient, day))
            return true;
    return false;
}

Visit blankVisit(const SnapshotIndex &agency, const Patient &patient, VisitKind kind, DateRange days) {
    Visit visit;
    visit.patient = patient.id;
    visit.kind = kind;
    visit.dueFrom = days.from;
    visit.dueTo = days.to;
    visit.length = visitLength(agency.snapshot().settings, kind);
    visit.needs = skillsFor(kind, agency, patient.id);
    visit.twoNurses = patient.needsTwoNurses;
    return visit;
}

void addEvents(const SnapshotIndex &agency, const Patient &patient, DateRange week,
               std::vector<DueVisit> &mine) {
    Events(agency, patient, week, mine).add();
}

} // namespace kitround::rounds
