#include "core/calendar/VisitWeeks.h"

#include "core/calendar/Weeks.h"

#include <algorithm>
#include <functional>
#include <optional>
#include <tuple>

namespace kitround::calendar {
namespace {

// Visits that the days in force can hold at all: one on each day the order allows, two where more than 7 a
// week are ordered.
int roomFor(int visitsAWeek, DateRange days, WeekdaySet allowed) {
    int usable = 0;
    for (Date day = days.from; day < days.to; day = day.plusDays(1))
        usable += allowed.isEmpty() || allowed.contains(day.weekday()) ? 1 : 0;
    return usable * ((visitsAWeek + 6) / 7);
}

WeekOwed owedIn(DateRange week, const VisitOrder &order, const VisitSegment &segment) {
    WeekOwed owed{{std::max(week.from, order.start), order.end ? std::min(week.to, *order.end) : week.to},
                  segment.leastPerWeek,
                  segment.mostPerWeek,
                  false};
    owed.isPartial = owed.days != week;
    if (owed.isPartial) {
        owed.least = std::min(owed.least, roomFor(segment.leastPerWeek, owed.days, order.allowedDays));
        owed.most = std::min(owed.most, roomFor(segment.mostPerWeek, owed.days, order.allowedDays));
    }
    return owed;
}

// The numbers ordered for a whole week at the time: as the week would owe them were it not partial.
std::optional<std::pair<int, int>> wholeWeek(const VisitOrder &order, DateRange week, Weekday weekStart) {
    DateRange at = weekOf(order.start, weekStart);
    for (const VisitSegment &segment : order.segments) {
        if (segment.isAsNeeded)
            continue;
        for (int k = 0; k < segment.weeks; ++k, at = {at.to, at.to.plusDays(7)})
            if (at == week)
                return std::pair(segment.leastPerWeek, segment.mostPerWeek);
    }
    return std::nullopt;
}

// Largest remainder: each part's share of `number` a week.
void shareOut(std::vector<WeekPart> &parts, int WeekPart::*number, int WeekPart::*share) {
    std::int64_t sevenths = 0;
    int largest = 0;
    int given = 0;
    std::vector<std::pair<std::int64_t, std::size_t>> rests; // of seven, part
    const auto room = [&](const WeekPart &p) { return roomFor(p.*number, p.days, p.order->allowedDays); };
    for (std::size_t i = 0; i < parts.size(); ++i) {
        WeekPart &part = parts[i];
        const std::int64_t own = part.*number * part.days.length().count();
        sevenths += own;
        largest = std::max(largest, part.*number);
        part.*share = std::min(static_cast<int>(own / 7), room(part));
        given += part.*share;
        rests.emplace_back(own % 7, i);
    }
    const int together = std::min(largest, static_cast<int>((sevenths + 6) / 7));
    std::ranges::sort(rests, std::greater<>());
    for (bool isMore = true; isMore && given < together;) {
        isMore = false;
        for (const auto &[rest, i] : rests)
            if (given < together && parts[i].*share < room(parts[i])) {
                ++(parts[i].*share);
                ++given;
                isMore = true;
            }
    }
}

} // namespace

std::vector<WeekPart> sharedWeek(const VisitOrder &order, std::span<const VisitOrder *const> orders,
                                 DateRange week, Weekday weekStart) {
    std::vector<WeekPart> parts;
    const auto add = [&](const VisitOrder &one) {
        for (const WeekOwed &owed : weeksOwed(one, week, weekStart)) {
            const auto whole = wholeWeek(one, week, weekStart);
            const bool overlaps = std::ranges::any_of(parts, [&](const WeekPart &p) {
                return p.days.from < owed.days.to && owed.days.from < p.days.to;
            });
            if (whole && !overlaps)
                parts.push_back({&one, owed.days, whole->first, whole->second, 0, 0});
        }
    };
    add(order);
    if (parts.empty())
        return {};
    const std::vector<VisitOrderId> series = ordersInSeries(order, orders, weekStart);
    for (const VisitOrder *other : orders)
        if (other->id != order.id && std::ranges::find(series, other->id) != series.end())
            add(*other);
    if (parts.size() < 2)
        return {};
    std::ranges::stable_sort(parts, {}, [](const WeekPart &p) { return p.days.from; });
    shareOut(parts, &WeekPart::least, &WeekPart::leastShare);
    shareOut(parts, &WeekPart::most, &WeekPart::mostShare);
    for (WeekPart &part : parts)
        part.mostShare = std::max(part.mostShare, part.leastShare);
    return parts;
}

namespace {

std::int64_t weeksOrdered(const VisitOrder &order) {
    std::int64_t weeks = 0;
    for (const VisitSegment &segment : order.segments)
        weeks += segment.weeks;
    return weeks;
}

// First day on which the order is not in force any more.
Date endOf(const VisitOrder &order, Weekday weekStart) {
    const Date end = weekOf(order.start, weekStart).from.plusDays(7 * weeksOrdered(order));
    return order.end ? std::min(end, *order.end) : end;
}

// Which catheter the visits are for, as far as an order tells it.
SkillSet siteOf(const VisitOrder &order) {
    constexpr SkillSet kSites{Skill::DrainChest, Skill::DrainAbdomen};
    return SkillSet::fromBits(order.needs.bits() & kSites.bits());
}

// How badly an order follows `last`: the least is the one it takes over from; nothing where it does not.
using Takeover = std::tuple<bool, bool, std::int64_t>; // another site said, both in force, days apart
std::optional<Takeover> takeover(const VisitOrder &last, const VisitOrder &next, Weekday weekStart) {
    const Date end = endOf(last, weekStart);
    if (last.start >= next.start || end > next.start.plusDays(7))
        return std::nullopt;
    const SkillSet was = siteOf(last), is = siteOf(next);
    const SkillSet none;
    if (was != is && was != none && is != none)
        return std::nullopt; // the one catheter's order does not go on with the other's
    const std::int64_t apart = (next.start - end).count();
    return Takeover{was != is, apart < 0, apart < 0 ? -apart : apart};
}

} // namespace

std::vector<VisitOrderId> ordersInSeries(const VisitOrder &order, std::span<const VisitOrder *const> orders,
                                         Weekday weekStart) {
    if (weeksOrdered(order) == 0) // as needed
        return {order.id};
    std::vector<const VisitOrder *> alike{&order};
    for (const VisitOrder *other : orders)
        if (other->id != order.id && other->patient == order.patient && other->kind == order.kind &&
            weeksOrdered(*other) > 0)
            alike.push_back(other);
    std::ranges::sort(alike, {}, [](const VisitOrder *o) { return std::pair(o->start, o->id); });
    std::vector<std::vector<const VisitOrder *>> series;
    for (const VisitOrder *next : alike) {
        std::vector<const VisitOrder *> *before = nullptr;
        std::optional<Takeover> least;
        for (std::vector<const VisitOrder *> &one : series)
            if (const auto from = takeover(*one.back(), *next, weekStart);
                from && (!least || *from < *least)) {
                least = from;
                before = &one;
            }
        if (before)
            before->push_back(next);
        else
            series.push_back({next});
    }
    std::vector<VisitOrderId> ids;
    for (const std::vector<const VisitOrder *> &one : series)
        if (std::ranges::find(one, &order) != one.end())
            for (const VisitOrder *member : one)
                ids.push_back(member->id);
    return ids;
}

std::vector<WeekOwed> weeksOwed(const VisitOrder &order, std::span<const VisitOrder *const> orders,
                                DateRange range, Weekday weekStart) {
    std::vector<WeekOwed> weeks = weeksOwed(order, range, weekStart);
    for (WeekOwed &week : weeks) {
        if (!week.isPartial)
            continue;
        for (const WeekPart &part : sharedWeek(order, orders, weekOf(week.days.from, weekStart), weekStart)) {
            week.together += part.leastShare;
            if (part.order != &order)
                continue;
            week.least = part.leastShare;
            week.most = part.mostShare;
        }
    }
    return weeks;
}

std::vector<WeekOwed> weeksOwed(const VisitOrder &order, DateRange range, Weekday weekStart) {
    std::vector<WeekOwed> weeks;
    DateRange week = weekOf(order.start, weekStart);
    for (const VisitSegment &segment : order.segments) {
        if (segment.isAsNeeded)
            continue;
        for (int k = 0; k < segment.weeks; ++k) {
            if (week.from >= range.to || (order.end && week.from >= *order.end))
                return weeks;
            const WeekOwed owed = owedIn(week, order, segment);
            if (owed.days.from < owed.days.to && owed.days.to > range.from && owed.days.from < range.to)
                weeks.push_back(owed);
            week = {week.to, week.to.plusDays(7)};
        }
    }
    return weeks;
}

Spacing usualSpacing(int visitsAWeek) {
    static constexpr int kLeast[] = {4, 2, 2, 1, 1, 1, 1};
    static constexpr int kMost[] = {10, 5, 3, 3, 3, 2, 1};
    if (visitsAWeek > 7)
        return {Days::of(0), Days::of(1)};
    const std::size_t i = static_cast<std::size_t>(std::max(visitsAWeek, 1) - 1);
    return {Days::of(kLeast[i]), Days::of(kMost[i])};
}

} // namespace kitround::calendar
