#include "core/base/Random.h"
#include "core/calendar/Deadlines.h"
#include "core/calendar/Holidays.h"
#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Weeks.h"
#include "sample-db/History.h"

#include <algorithm>
#include <map>
#include <set>

namespace kitround::sample {
namespace {

// Loose days on purpose: the past is a record of what was done, not a tight plan.
constexpr std::size_t kMostVisitsANurse = 5;
constexpr std::int64_t kMinutesBetweenVisits = 30;

class VisitMaker {
public:
    VisitMaker(Scenario &scenario, const HistoryPlan &plan)
        : s_(scenario), thisWeek_(calendar::weekStartOf(scenario.today, scenario.settings.weekStart)),
          first_(thisWeek_.plusDays(-7 * plan.visitWeeksBack)), random_(plan.seed),
          recertRandom_(plan.seed + 56) {
        for (const Shift &shift : shiftsIn({first_, thisWeek_.plusDays(7)}, s_.nurses, s_.shiftPatterns,
                                           s_.extraShifts, s_.timeOff))
            if (!shift.isOnCall)
                shifts_[shift.on].push_back(shift);
        for (const Hold &hold : s_.holds)
            holds_[hold.patient].push_back(&hold);
    }

    void make() {
        for (Date week = first_; week <= thisWeek_; week = week.plusDays(7)) {
            const std::size_t from = s_.visits.size();
            for (const Patient &patient : s_.patients)
                makeRecertification(patient, {week, week.plusDays(7)});
            for (const VisitOrder &order : s_.visitOrders)
                makeOfOrder(order, {week, week.plusDays(7)});
            if (week == thisWeek_)
                publish(from);
        }
    }

    // How care began where the weeks hold it: the first visit on its day, and the home taught in the
    // fortnight after, some too late and some not yet. On top of what stands: no visit leaves its day or its
    // nurse.
    void makeBeginnings() {
        for (const Visit &visit : s_.visits)
            keepFree(visit);
        isBeginning_ = true;
        for (const Patient &patient : s_.patients)
            if (patient.startOfCare && *patient.startOfCare >= first_ && *patient.startOfCare < thisWeek_)
                makeBeginning(patient, *patient.startOfCare);
    }

private:
    void keepFree(const Visit &visit) {
        if (!visit.on || !visit.startAt || !visit.nurse)
            return;
        const std::pair busy{visit.startAt->count(), (*visit.startAt + visit.length).count()};
        booked_[{*visit.nurse, *visit.on}].push_back(busy);
        if (visit.secondNurse)
            booked_[{*visit.secondNurse, *visit.on}].push_back(busy);
        visitedOn_.insert({visit.patient, *visit.on});
    }

    void makeBeginning(const Patient &patient, Date start) {
        const auto there = std::ranges::find_if(s_.visits, [&](const Visit &visit) {
            return visit.patient == patient.id && visit.on == start && visit.status == VisitStatus::Done;
        });
        VisitOrder first; // of no order: the referral asks for it
        first.patient = patient.id;
        first.kind = VisitKind::StartOfCare;
        first.needs = {Skill::Assess};
        if (there == s_.visits.end())
            makeOne(first, {start, start.plusDays(1)}, start);
        else
            makeFirst(*there, patient);
        const bool isOrdered = std::ranges::any_of(s_.visitOrders, [&](const VisitOrder &order) {
            return order.patient == patient.id && order.kind == VisitKind::Teaching;
        });
        const double chance = random_.uniform();
        if (isOrdered || chance < 0.08)
            return;
        VisitOrder teaching;
        teaching.patient = patient.id;
        teaching.kind = VisitKind::Teaching;
        teaching.needs = {Skill::Teach};
        // By day 14, the start being day 1, is in time.
        const Date from = start.plusDays(chance < 0.2 ? 15 : 3);
        const DateRange days{from, std::min(from.plusDays(7), thisWeek_)};
        if (days.from < days.to)
            makeOne(teaching, days, from.plusDays(patient.id.value() % 5));
    }

    // The visit of that day was the start of care, where its nurse assesses and had the time for it.
    void makeFirst(Visit &visit, const Patient &patient) {
        const Date on = *visit.on;
        const Nurse &nurse = s_.nurses[static_cast<std::size_t>(visit.nurse->value()) - 1];
        const auto shift = std::ranges::find(shifts_[on], nurse.id, &Shift::nurse);
        if (visit.secondNurse || !skillsOn(nurse, on).contains(Skill::Assess) || shift == shifts_[on].end())
            return;
        auto &day = booked_[{nurse.id, on}];
        const std::pair was{visit.startAt->count(), (*visit.startAt + visit.length).count()};
        std::erase(day, was);
        const Minutes length = visitLength(s_.settings, VisitKind::StartOfCare);
        const auto begins = isFree(*shift, on, was.first, length) ? std::optional(was.first)
                                                                  : freeStart(patient, *shift, on, length);
        if (!begins) {
            day.push_back(was);
            return;
        }
        day.emplace_back(*begins, *begins + length.count());
        visit.kind = VisitKind::StartOfCare;
        visit.order.reset();
        visit.length = length;
        visit.needs.insert(Skill::Assess);
        visit.startAt = Minutes::of(*begins);
        const std::int64_t began = *begins + random_.between(-5, 12);
        visit.startedAt = LocalTime{on, Minutes::of(began)};
        visit.endedAt = LocalTime{on, Minutes::of(began + length.count() + random_.between(-10, 14))};
    }

    static const Patient &patientOf(const Scenario &s, const VisitOrder &order) {
        return s.patients[static_cast<std::size_t>(order.patient.value()) - 1];
    }

    void makeOfOrder(const VisitOrder &order, DateRange week) {
        for (const calendar::WeekOwed &owed : calendar::weeksOwed(order, week, s_.settings.weekStart)) {
            const int count = owed.least;
            for (int k = 0; k < count; ++k)
                makeOne(order, owed.days, usualDay(order, week.from, k, count));
        }
    }

    // Made in its window, but for one in ten a little late; a window that is not over yet is still owed.
    void makeRecertification(const Patient &patient, DateRange week) {
        if (!patient.startOfCare || *patient.startOfCare >= week.to)
            return;
        const Date last = week.to.plusDays(-1);
        const DateRange window =
            calendar::certificationPeriod(*patient.startOfCare, last, s_.settings).recertWindow;
        if (!week.contains(window.from) || window.to > s_.today)
            return;
        VisitOrder visit; // of no order: the certification asks for it
        visit.patient = patient.id;
        visit.kind = VisitKind::Recertification;
        visit.needs = {Skill::Assess};
        const DateRange late{window.to, std::min(window.to.plusDays(4), s_.today)};
        const bool isLate = recertRandom_.chance(0.1);
        if (isLate || !makeOne(visit, window, window.from.plusDays(patient.id.value() % 5)))
            makeOne(visit, late, late.from);
    }

    // Even over the working week; who comes on which days stays the same from week to week.
    static Date usualDay(const VisitOrder &order, Date week, int k, int count) {
        const auto lean = static_cast<int>(order.id.value() % 5);
        const int day = count >= 5 ? 1 + k % 7 : 1 + (lean + k * 5 / count) % 5;
        const auto shift = static_cast<int>(week.weekday()); // the week may start on a Monday
        return week.plusDays((day - shift + 7) % 7);
    }

    bool isPossible(const VisitOrder &order, Date on) const {
        const Patient &patient = patientOf(s_, order);
        if (calendar::holidayOn(on) && !s_.settings.holidaysAreWorked)
            return false;
        if (!order.allowedDays.isEmpty() && !order.allowedDays.contains(on.weekday()))
            return false;
        if (patient.exitedAt && *patient.exitedAt < Instant::fromUnixSeconds((on.dayNumber() + 1) * 86400))
            return false;
        const auto at = holds_.find(patient.id);
        return at == holds_.end() || std::ranges::none_of(at->second, [&](const Hold *hold) {
                   return hold->from <= on && (!hold->to || on < *hold->to);
               });
    }

    struct Slot {
        const Shift *shift = nullptr;
        std::int64_t start = 0;
    };

    bool makeOne(const VisitOrder &order, DateRange days, Date usual) {
        for (std::int64_t step = 0; step < 7; ++step) {
            const Date on = days.from.plusDays(((usual - days.from).count() + step + 7) % 7);
            if (!days.contains(on) || !isPossible(order, on) || visitedOn_.contains({order.patient, on}))
                continue;
            const Minutes length = order.length.value_or(visitLength(s_.settings, order.kind));
            const bool two = order.twoNurses || patientOf(s_, order).needsTwoNurses;
            if (const Slot slot = slotFor(order, on, length, {}); slot.shift) {
                Slot second;
                if (two && !(second = slotFor(order, on, length, slot)).shift)
                    continue;
                add(order, days, on, length, slot, second);
                return true;
            }
        }
        return false;
    }

    bool mayVisit(const VisitOrder &order, const Nurse &nurse, Date on) const {
        const Patient &p = patientOf(s_, order);
        return skillsOn(nurse, on).covers(order.needs) &&
               std::ranges::find(p.barredNurses, nurse.id) == p.barredNurses.end();
    }

    // The primary nurse where there is room, then the backup, then whoever has least that day.
    Slot slotFor(const VisitOrder &order, Date on, Minutes length, const Slot &besides) const {
        const Patient &patient = patientOf(s_, order);
        Slot best;
        std::pair<int, std::size_t> bestRank{};
        const auto at = shifts_.find(on);
        if (at == shifts_.end())
            return best;
        for (const Shift &shift : at->second) {
            const Nurse &nurse = s_.nurses[static_cast<std::size_t>(shift.nurse.value()) - 1];
            if (!mayVisit(order, nurse, on) || (besides.shift && besides.shift->nurse == shift.nurse))
                continue;
            const auto day = booked_.find({shift.nurse, on});
            const std::size_t had = day == booked_.end() ? 0 : day->second.size();
            if (had >= kMostVisitsANurse)
                continue;
            const auto start = besides.shift ? sharedStart(shift, on, length, besides.start)
                                             : freeStart(patient, shift, on, length);
            if (!start)
                continue;
            const int favour = patient.primaryNurse == shift.nurse  ? 0
                               : patient.backupNurse == shift.nurse ? 1
                                                                    : 2;
            if (!best.shift || std::pair(favour, had) < bestRank) {
                best = {&shift, *start};
                bestRank = {favour, had};
            }
        }
        return best;
    }

    bool isFree(const Shift &shift, Date on, std::int64_t start, Minutes length) const {
        const std::int64_t end = start + length.count();
        if (start < shift.from.count() + kMinutesBetweenVisits ||
            end + kMinutesBetweenVisits > shift.to.count())
            return false;
        if (shift.breakLength.count() > 0 && start < shift.breakTo.count() && end > shift.breakFrom.count())
            return false;
        const auto day = booked_.find({shift.nurse, on});
        return day == booked_.end() || std::ranges::all_of(day->second, [&](const auto &busy) {
                   return end + kMinutesBetweenVisits <= busy.first ||
                          busy.second + kMinutesBetweenVisits <= start;
               });
    }
    std::optional<std::int64_t> sharedStart(const Shift &shift, Date on, Minutes length,
                                            std::int64_t start) const {
        return isFree(shift, on, start, length) ? std::optional(start) : std::nullopt;
    }
    std::optional<std::int64_t> freeStart(const Patient &patient, const Shift &shift, Date on,
                                          Minutes length) const {
        for (std::int64_t start = shift.from.count() + kMinutesBetweenVisits; start < shift.to.count();
             start += 15)
            if (isFree(shift, on, start, length) && isInWindow(patient, on, start))
                return start;
        return std::nullopt;
    }
    static bool isInWindow(const Patient &patient, Date on, std::int64_t start) {
        bool hasHard = false;
        for (const VisitWindow &w : patient.windows) {
            if (!w.isHard)
                continue;
            hasHard = true;
            if (w.weekday == on.weekday() && w.from.count() <= start && start < w.to.count())
                return true;
        }
        return !hasHard;
    }

    void add(const VisitOrder &order, DateRange days, Date on, Minutes length, const Slot &slot,
             const Slot &second) {
        Visit visit;
        visit.patient = order.patient;
        if (order.id.isSet())
            visit.order = order.id;
        visit.kind = order.kind;
        visit.dueFrom = days.from;
        visit.dueTo = days.to;
        visit.length = length;
        visit.needs = order.needs;
        visit.twoNurses = second.shift != nullptr;
        visit.on = on;
        visit.startAt = Minutes::of(slot.start);
        visit.nurse = slot.shift->nurse;
        if (second.shift)
            visit.secondNurse = second.shift->nurse;
        visit.status = on < s_.today ? VisitStatus::Done : VisitStatus::Published;
        const std::pair busy{slot.start, slot.start + length.count()};
        booked_[{slot.shift->nurse, on}].push_back(busy);
        if (second.shift)
            booked_[{second.shift->nurse, on}].push_back(busy);
        visitedOn_.insert({order.patient, on});
        if (visit.status == VisitStatus::Done)
            happen(visit);
        added(s_.visits, std::move(visit));
    }

    // One in forty was missed; the rest began near their time and took about as long as meant.
    void happen(Visit &visit) {
        if (random_.chance(0.025) && !isBeginning_) {
            visit.status = VisitStatus::Missed;
            visit.missReason = random_.chance(0.5) ? MissReason::NotHome : MissReason::Refused;
            visit.prescriberToldAt = LocalTime{*visit.on, Minutes::of(17 * 60)};
            return;
        }
        const std::int64_t start = visit.startAt->count() + random_.between(-5, 12);
        const std::int64_t took = std::max<std::int64_t>(15, visit.length.count() + random_.between(-10, 14));
        visit.startedAt = LocalTime{*visit.on, Minutes::of(start)};
        visit.endedAt = LocalTime{*visit.on, Minutes::of(start + took)};
        visit.driven = Metres::of(random_.between(12, 90) * 100);
    }

    void publish(std::size_t from) {
        Plan plan;
        plan.weekStart = thisWeek_;
        plan.status = PlanStatus::Published;
        plan.publishedAt = Instant::fromUnixSeconds((thisWeek_.dayNumber() - 3) * 86400 + 20 * 3600);
        plan.publishedBy = UserId(1);
        plan.seed = 1;
        for (std::size_t i = from; i < s_.visits.size(); ++i) {
            const Visit &v = s_.visits[i];
            plan.visits.push_back({v.id, *v.on, *v.startAt, *v.nurse, v.secondNurse, Minutes::of(15), {}});
        }
        if (!plan.visits.empty())
            added(s_.plans, std::move(plan));
    }

    Scenario &s_;
    Date thisWeek_;
    Date first_;
    Random random_, recertRandom_;
    std::map<Date, std::vector<Shift>> shifts_;
    std::map<PatientId, std::vector<const Hold *>> holds_;
    std::map<std::pair<NurseId, Date>, std::vector<std::pair<std::int64_t, std::int64_t>>> booked_;
    std::set<std::pair<PatientId, Date>> visitedOn_;
    bool isBeginning_ = false;
};

} // namespace

void addVisits(Scenario &scenario, const HistoryPlan &plan) {
    VisitMaker(scenario, plan).make();
}

void addBeginnings(Scenario &scenario, const HistoryPlan &plan) {
    VisitMaker(scenario, plan).makeBeginnings();
}

} // namespace kitround::sample
