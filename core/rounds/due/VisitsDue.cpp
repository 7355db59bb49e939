#include "core/rounds/due/VisitsDue.h"

#include "core/calendar/Deadlines.h"
#include "core/calendar/Holidays.h"
#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Zone.h"
#include "core/rounds/due/EventsDue.h"

#include <algorithm>

namespace kitround::rounds {
namespace {

// Neighbouring visits further off than this cannot matter to the spacing of a week.
constexpr std::int64_t kNeighbourDays = 21;

class OrderWeek {
public:
    // `all`: the weeks that are planned together, this one among them.
    OrderWeek(const SnapshotIndex &agency, const Patient &patient, const VisitOrder &order, DateRange week,
              DateRange all)
        : agency_(agency), patient_(patient), order_(order), week_(week), all_(all),
          now_(agency.snapshot().asOf),
          series_(calendar::ordersInSeries(order, agency.visitOrdersOf(patient.id),
                                           agency.snapshot().settings.weekStart)) {}

    void addTo(std::vector<DueVisit> &due) const {
        const Weekday weekStart = agency_.snapshot().settings.weekStart;
        std::vector<DueVisit> mine;
        int counted = 0;
        int owed = 0;
        std::optional<int> together;
        DateRange days = week_;
        bool hasWeek = false;
        for (const calendar::WeekOwed &w :
             calendar::weeksOwed(order_, agency_.visitOrdersOf(patient_.id), week_, weekStart)) {
            owed += w.least;
            if (w.together > 0)
                together = w.together;
            days = hasWeek ? DateRange{days.from, w.days.to} : w.days;
            hasWeek = true;
        }
        for (const Visit *visit : agency_.visitsOf(patient_.id)) {
            if (visit->order != order_.id)
                continue;
            if (countsAlready(*visit, week_, now_))
                ++counted;
            else if (const auto kept = existing(agency_, *visit, week_))
                mine.push_back(*kept);
        }
        const auto stored = static_cast<int>(mine.size());
        const DateRange free = narrowed(agency_, patient_.id, days);
        const int dropped = droppedIn(order_.id);
        // Called off is what there was to be called off: what a hold leaves of the week.
        int missing = withoutHold(owed - counted - stored, free, mine) - dropped;
        if (together) // what the order before made beyond its part is not made again
            missing = std::min(missing, *together - inSeries() - droppedIn(std::nullopt));
        if (hasWeek)
            addOwed(mine, missing, free);
        const int ofWeek = std::max(owed - dropped, counted + static_cast<int>(mine.size()));
        finish(mine, {counted, ofWeek, std::max(ofWeek, together.value_or(0))}, days);
        std::ranges::move(mine, std::back_inserter(due));
    }

private:
    // Visits called off for good in the week; nothing: of all orders of the kind.
    int droppedIn(std::optional<VisitOrderId> order) const {
        int dropped = 0;
        for (const Visit *visit : agency_.visitsOf(patient_.id))
            dropped += visit->isDropped && visit->order && (!order || visit->order == order) &&
                               visit->kind == order_.kind && week_.contains(visit->dueFrom)
                           ? 1
                           : 0;
        return dropped;
    }
    // Made or meant in the week under all orders of the kind.
    int inSeries() const {
        int count = 0;
        for (const Visit *visit : agency_.visitsOf(patient_.id)) {
            if (!visit->order || visit->kind != order_.kind)
                continue;
            count += countsAlready(*visit, week_, now_) || existing(agency_, *visit, week_) ? 1 : 0;
        }
        return count;
    }

    // Days in hospital are not owed: no more visits than fit into what the hold leaves beside those that
    // stand there.
    int withoutHold(int missing, DateRange days, const std::vector<DueVisit> &mine) const {
        if (!holdTouches(agency_, patient_.id, week_))
            return missing;
        std::vector<Date> open = openDays(days);
        std::erase_if(open, [&](Date day) { return standsOn(day); });
        const auto undated = std::ranges::count_if(mine, [](const DueVisit &d) { return !d.visit.on; });
        return std::min(missing, most(open, 1) - static_cast<int>(undated));
    }
    bool standsOn(Date day) const {
        return std::ranges::any_of(agency_.visitsOf(patient_.id), [&](const Visit *visit) {
            const bool stands = visit->status == VisitStatus::Done || visit->status == VisitStatus::Drafted ||
                                visit->status == VisitStatus::Published;
            return stands && visit->order == order_.id && dayOf(*visit) == day;
        });
    }

    void addOwed(std::vector<DueVisit> &mine, int missing, DateRange days) const {
        if (missing <= 0 || days.from >= days.to)
            return;
        for (int k = 0; k < missing; ++k) {
            DueVisit d;
            d.visit = blankVisit(agency_, patient_, order_.kind, days);
            d.visit.order = order_.id;
            d.visit.length = order_.length.value_or(d.visit.length);
            d.visit.needs = SkillSet::fromBits(d.visit.needs.bits() | order_.needs.bits());
            d.visit.twoNurses = patient_.needsTwoNurses || order_.twoNurses;
            mine.push_back(d);
        }
    }

    std::vector<Date> openDays(DateRange days) const {
        std::vector<Date> open;
        for (Date day = days.from; day < days.to; ++day)
            if (!agency_.holdOn(patient_.id, day) && isVisitingDay(agency_.snapshot().settings, day) &&
                (order_.allowedDays.isEmpty() || order_.allowedDays.contains(day.weekday())))
                open.push_back(day);
        return open;
    }
    // How many visits fit on the days at least `gap` apart and as far from the fixed ones.
    static int most(const std::vector<Date> &open, std::int64_t gap, const std::vector<Date> &fixed = {}) {
        int count = 0;
        std::optional<Date> last;
        for (const Date day : open) {
            const bool isNearFixed = std::ranges::any_of(fixed, [&](Date f) {
                const std::int64_t apart = day > f ? (day - f).count() : (f - day).count();
                return apart < gap;
            });
            if (isNearFixed || (last && (day - *last).count() < gap))
                continue;
            last = day;
            ++count;
        }
        return count;
    }

    bool isOfSeries(const Visit &visit) const {
        return visit.order && std::ranges::find(series_, *visit.order) != series_.end();
    }
    // What stands of the series outside the weeks that are planned, or is made.
    std::vector<Date> neighbours() const {
        std::vector<Date> days;
        for (const Visit *visit : agency_.visitsOf(patient_.id)) {
            const std::optional<Date> on = dayOf(*visit);
            if (!isOfSeries(*visit) || !on || visit->status == VisitStatus::Missed ||
                visit->status == VisitStatus::Cancelled || visit->status == VisitStatus::Due)
                continue;
            const bool isOutside = !all_.contains(*on) && on->plusDays(kNeighbourDays) >= week_.from &&
                                   *on < week_.to.plusDays(kNeighbourDays);
            if (isOutside || countsAlready(*visit, week_, now_))
                days.push_back(*on);
        }
        std::ranges::sort(days);
        return days;
    }
    // And what the other orders of the series have planned in these weeks, which may stay where it is.
    std::vector<Date> withOthers(std::vector<Date> fixed) const {
        for (const Visit *visit : agency_.visitsOf(patient_.id)) {
            const bool isPlanned =
                visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published;
            if (isOfSeries(*visit) && visit->order != order_.id && isPlanned && visit->on &&
                all_.contains(*visit->on))
                fixed.push_back(*visit->on);
        }
        return fixed;
    }

    struct WeekCount {
        int counted = 0;  // made or planned for a day gone by
        int ofWeek = 1;   // under the order
        int together = 1; // and under the orders that share the week
    };
    // `days`: the part of the week in which the order is in force.
    void finish(std::vector<DueVisit> &mine, const WeekCount &count, DateRange days) const {
        if (mine.empty())
            return;
        const std::vector<Date> fixed = neighbours(), near = withOthers(fixed);
        const calendar::Spacing usual = calendar::usualSpacing(std::max(1, count.together));
        Days least = order_.leastGap.value_or(usual.least);
        Days mostGap = order_.mostGap.value_or(usual.most);
        if (!order_.leastGap) {
            // The even spacing is our wish, not the order's: it gives way where the days left are too few.
            const std::vector<Date> open = openDays(narrowed(agency_, patient_.id, days));
            while (least.count() > 1 && most(open, least.count(), near) < static_cast<int>(mine.size()))
                least -= Days::of(1);
        }
        mostGap = std::max(mostGap, least);
        // By day where they have one, so that numbers run on when a day is over.
        std::ranges::stable_sort(
            mine, {}, [](const DueVisit &d) { return std::pair(!d.visit.on, d.visit.on.value_or(Date{})); });
        int ordinal = count.counted;
        for (DueVisit &d : mine) {
            d.ordinal = ++ordinal;
            d.ofWeek = count.ofWeek;
            d.leastGap = least;
            d.mostGap = mostGap;
            d.fixedNeighbours = fixed;
        }
    }

    const SnapshotIndex &agency_;
    const Patient &patient_;
    const VisitOrder &order_;
    DateRange week_, all_;
    Date now_;
    std::vector<VisitOrderId> series_; // the orders that take over from one another
};

std::vector<DateRange> weeksOf(DateRange days) {
    std::vector<DateRange> weeks;
    for (Date from = days.from; from < days.to; from = from.plusDays(7))
        weeks.push_back({from, std::min(from.plusDays(7), days.to)});
    return weeks;
}

// What the next week owes comes to what the weeks before it owe. A stored visit that both may hold, or a
// recertification window that begins in one and ends in the other, is one visit with the days of both; one
// count of the home's stock is enough.
void addWeek(std::vector<DueVisit> &mine, std::vector<DueVisit> &&next) {
    for (DueVisit &d : next) {
        const auto same = std::ranges::find_if(mine, [&](const DueVisit &earlier) {
            if (d.visit.id.isSet() || earlier.visit.id.isSet())
                return d.visit.id == earlier.visit.id;
            return d.cause == earlier.cause &&
                   (d.cause == DueCause::Recertification || d.cause == DueCause::SupplyCount);
        });
        if (same == mine.end())
            mine.push_back(std::move(d));
        else if (d.cause != DueCause::SupplyCount)
            same->visit.dueTo = std::max(same->visit.dueTo, d.visit.dueTo);
    }
}

} // namespace

bool isVisitingDay(const AgencySettings &settings, Date on) {
    if (!settings.visitingDays.contains(on.weekday()))
        return false;
    if (std::ranges::find(settings.ownHolidays, on) != settings.ownHolidays.end())
        return false;
    return settings.holidaysAreWorked || !calendar::holidayOn(on);
}

bool isUnderWay(const Snapshot &agency, const Visit &visit) {
    return visit.status == VisitStatus::Published && visit.on == agency.asOf && visit.startAt &&
           *visit.startAt <= agency.now.minute;
}

bool isGoneBy(const Snapshot &agency, const Visit &visit) {
    const std::optional<Date> on = visit.day();
    return visit.status == VisitStatus::Published && on && *on < agency.asOf;
}

bool isUnrecorded(const Snapshot &agency, const Visit &visit) {
    return visit.kind != VisitKind::Phone && isGoneBy(agency, visit);
}

SkillSet skillsFor(VisitKind kind, const SnapshotIndex &agency, PatientId patient) {
    SkillSet needs;
    const auto needDraining = [&] {
        for (const Catheter *catheter : agency.cathetersOf(patient))
            if (agency.isInService(*catheter))
                needs.insert(catheter->site == CavitySite::Chest ? Skill::DrainChest : Skill::DrainAbdomen);
    };
    switch (kind) {
    case VisitKind::StartOfCare:
    case VisitKind::Resumption:
    case VisitKind::SymptomFollowUp:
        needDraining();
        needs.insert(Skill::Assess);
        break;
    case VisitKind::Recertification:
    case VisitKind::Discharge:
    case VisitKind::Supervisory:
        needs.insert(Skill::Assess);
        break;
    case VisitKind::Teaching:
        needDraining();
        needs.insert(Skill::Teach);
        break;
    case VisitKind::Routine:
    case VisitKind::DrainOnly:
    case VisitKind::AsNeeded:
        needDraining();
        break;
    case VisitKind::DressingCheck:
        needs.insert(Skill::SiteCare);
        break;
    case VisitKind::SupplyCount:
    case VisitKind::Phone:
        break;
    }
    return needs;
}

std::vector<DueVisit> visitsDue(const SnapshotIndex &agency, DateRange days) {
    const std::vector<DateRange> weeks = weeksOf(days);
    std::vector<const Patient *> patients;
    for (const Patient &patient : agency.snapshot().patients)
        if (isOnService(patient.status))
            patients.push_back(&patient);
    std::ranges::stable_sort(patients, {}, [](const Patient *p) { return p->id; });
    std::vector<DueVisit> due;
    for (const Patient *patient : patients) {
        std::vector<DueVisit> mine;
        std::vector<const VisitOrder *> orders(agency.visitOrdersOf(patient->id).begin(),
                                               agency.visitOrdersOf(patient->id).end());
        std::ranges::stable_sort(orders, {}, [](const VisitOrder *o) { return o->id; });
        for (const DateRange &week : weeks) {
            std::vector<DueVisit> owed;
            for (const VisitOrder *order : orders)
                if (order->kind != VisitKind::Phone)
                    OrderWeek(agency, *patient, *order, week, days).addTo(owed);
            addEvents(agency, *patient, week, owed);
            addWeek(mine, std::move(owed));
        }
        std::ranges::move(mine, std::back_inserter(due));
    }
    return due;
}

} // namespace kitround::rounds
