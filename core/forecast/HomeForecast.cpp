#include "core/forecast/HomeForecast.h"

#include "core/base/Require.h"
#include "core/calendar/Weeks.h"
#include "core/forecast/LogReading.h"
#include "core/forecast/OfferTable.h"
#include "core/forecast/PlainRule.h"
#include "core/forecast/Quadrature.h"
#include "core/forecast/UseRecursion.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kitround::forecast {
namespace {

// An open hold without a guess of its end: mean days until home again (assumed; hospital days over the rest
// of life have a median of 10, Thomas et al, AMPLE, JAMA 2017). Past its guessed end: soon (assumed).
constexpr std::int64_t kHoldDaysWithoutGuess = 10;
constexpr std::int64_t kHoldDaysPastGuess = 3;
// Sessions a day under an as-needed order that names no maximum a day (assumed).
constexpr int kMostPerDayWithoutMaximum = 3;
constexpr std::int64_t kNoon = 12 * 60;

struct DayPlan {
    Date on;
    const DrainOrder *order = nullptr; // nobody drains where there is none
    bool isOffered = false;            // a planned drain that no entry stands for
    int mostToday = 0;                 // as-needed
    bool isPauseStart = false;
    double returnChance = 0; // of a paused home, overnight

    bool isAsNeeded() const { return order && order->pattern.kind == DrainPatternKind::AsNeeded; }
};

// The days that are forecast, and before them those since the last entry, of which the log says nothing.
struct Timeline {
    std::vector<DayPlan> days;
    std::size_t today = 0;                   // index of the as-of day
    std::vector<PlainSession> plainSessions; // units still to be set item by item
    std::optional<Date> lastEntry;
};

struct Holds {
    std::vector<Hold> known;      // draining stops, with an end
    std::vector<Hold> forPlain;   // the same with the guess in place of the end
    std::optional<Date> openFrom; // an open hold: from then on paused, back by chance
    double returnChance = 0;

    static std::vector<const Hold *> pointers(const std::vector<Hold> &holds) {
        std::vector<const Hold *> p;
        for (const Hold &h : holds)
            p.push_back(&h);
        return p;
    }
};

Holds holdsOf(const SnapshotIndex &agency, PatientId patient) {
    const Date asOf = agency.snapshot().asOf;
    Holds holds;
    for (const Hold *hold : agency.holdsOf(patient)) {
        if (hold->stillDraining)
            continue;
        Hold known = *hold;
        if (!hold->to) {
            const Date from = std::max(hold->from, asOf);
            std::int64_t mean = kHoldDaysWithoutGuess;
            if (hold->expectedReturn)
                mean = *hold->expectedReturn > from ? (*hold->expectedReturn - from).count()
                                                    : kHoldDaysPastGuess;
            holds.openFrom = from;
            holds.returnChance = 1.0 / static_cast<double>(mean);
            known.to = from; // its past is known, what comes is carried by the recursion
            Hold plain = *hold;
            plain.to = from.plusDays(mean);
            holds.forPlain.push_back(plain);
        } else {
            holds.forPlain.push_back(known);
        }
        holds.known.push_back(known);
    }
    return holds;
}

int doneBetween(std::span<const DrainEntry> entries, Date from, Date to) {
    return static_cast<int>(std::ranges::count_if(
        entries, [&](const DrainEntry &e) { return isDone(e) && from <= e.at.date && e.at.date < to; }));
}

// Planned sessions, and as-needed ones at their maximum, as the trade's rule takes them: a hold ends as
// guessed.
std::vector<PlainSession> plainSessionsOf(const Timeline &timeline, const Holds &holds) {
    const std::vector<const Hold *> pauses = Holds::pointers(holds.forPlain);
    std::vector<PlainSession> sessions;
    double due = 0;
    for (const DayPlan &day : timeline.days) {
        if (!day.order || calendar::isDrainingPaused(pauses, day.on))
            continue;
        if (day.isOffered)
            sessions.push_back({day.on, day.order, 1});
        if (!day.isAsNeeded())
            continue;
        for (due += calendar::drainsPerDay(day.order->pattern); due >= 1.0 - 1e-9; due -= 1.0)
            sessions.push_back({day.on, day.order, 1});
    }
    return sessions;
}

Timeline timelineOf(const SnapshotIndex &agency, const Catheter &catheter, const LogReading &reading,
                    const Holds &holds, Days horizon) {
    const Snapshot &s = agency.snapshot();
    const std::span<const DrainEntry> entries = agency.entriesOf(catheter.id);
    const std::vector<const Hold *> known = Holds::pointers(holds.known);
    Timeline timeline;
    timeline.lastEntry = reading.lastEntry;
    Date from = learningRange(s).from;
    if (reading.lastEntry)
        from = std::clamp(reading.lastEntry->plusDays(1), from, s.asOf);
    if (catheter.insertedOn)
        from = std::clamp(*catheter.insertedOn, from, s.asOf);
    timeline.today = static_cast<std::size_t>((s.asOf - from).count());
    auto slot = reading.slots.begin();
    for (Date on = from; on < s.asOf + horizon; ++on) {
        DayPlan day;
        day.on = on;
        if (!calendar::isDrainingPaused(known, on))
            day.order = agency.orderInForce(catheter.id, on);
        while (slot != reading.slots.end() && slot->drain.on < on)
            ++slot;
        day.isOffered = day.order && slot != reading.slots.end() && slot->drain.on == on &&
                        slot->fate == SlotFate::NoEntry;
        if (day.isAsNeeded())
            day.mostToday = std::max(0, day.order->pattern.mostPerDay.value_or(kMostPerDayWithoutMaximum) -
                                            doneBetween(entries, on, on.plusDays(1)));
        if (holds.openFrom && on >= *holds.openFrom) {
            day.isPauseStart = on == *holds.openFrom;
            day.returnChance = holds.returnChance;
        }
        timeline.days.push_back(day);
    }
    timeline.plainSessions = plainSessionsOf(timeline, holds);
    return timeline;
}

// One point of the belief about the home.
struct Point {
    double weight = 1;
    double adherence = 1;
    double perDay = 0; // as-needed
};

// As many points as the spread of the belief over the days ahead asks for, beside the spread that a known
// parameter leaves: too few would show as bumps. Enough for exactness where the days are few.
int pointsFor(double ratioOfSpreads, double offers) {
    const int wished = ratioOfSpreads <= 1.0 ? 6 : ratioOfSpreads <= 3.0 ? 10 : 16;
    return std::clamp(static_cast<int>(offers / 2.0) + 1, 1, wished);
}

std::vector<Point> pointsOf(const UseModel &model, const Timeline &timeline) {
    std::vector<Point> points;
    const BetaBelief &a = model.adherence;
    if (!model.asNeeded) {
        const auto offers = static_cast<double>(std::ranges::count_if(timeline.days, &DayPlan::isOffered));
        for (const WeightedPoint &p : betaRule(a.a, a.b, pointsFor(offers / (a.a + a.b + 1.0), offers)))
            points.push_back({p.weight, p.at, 0});
        return points;
    }
    const RateBelief &rate = *model.asNeeded;
    const auto days = static_cast<double>(timeline.days.size());
    // The maximum of a day and a week cuts the spread, so half of the points do.
    constexpr int kMostForRates = 8;
    const int count = std::min(kMostForRates, pointsFor(days / rate.days, 2 * days));
    for (const WeightedPoint &p : gammaRule(rate.shape, rate.days, count))
        points.push_back({p.weight, a.mean(), p.at});
    return points;
}

// Sessions of a day: Poisson, all above the maximum counted at it.
std::vector<double> cappedPoisson(double mean, int most) {
    std::vector<double> p(static_cast<std::size_t>(most) + 1, 0.0);
    double term = std::exp(-mean), sum = 0;
    for (int k = 0; k < most; ++k) {
        p[static_cast<std::size_t>(k)] = term;
        sum += term;
        term *= mean / (k + 1);
    }
    p.back() = std::max(0.0, 1.0 - sum);
    return p;
}

std::vector<double> tapsOf(const Pmf &pmf) {
    return {pmf.values().begin(), pmf.values().end()};
}

// Everything of one catheter that its items share.
struct HomeQuestion {
    const SnapshotIndex *agency = nullptr;
    const Catheter *catheter = nullptr;
    Timeline timeline;
    UseModel model;
    std::vector<Point> points;
    // One planned order throughout, no hold without an end, nothing beyond the order: use depends on the
    // number of drains offered alone, and OfferTable gives it.
    bool isExchangeable = false;
    int weeklyMost = 0; // of an as-needed order with a maximum a week; 0: no such order
    std::vector<std::pair<const DrainOrder *, std::vector<ItemUse>>> unitsByOrder;

    std::size_t layers() const { return static_cast<std::size_t>(weeklyMost) + 1; }
    const ItemUse *unitsOf(const DrainOrder *order, ItemId item) const {
        for (const auto &[o, items] : unitsByOrder)
            if (o == order)
                for (const ItemUse &use : items)
                    if (use.item == item)
                        return &use;
        return nullptr;
    }
};

DayKernel plannedKernel(const HomeQuestion &home, const Pmf &units, bool isOffered) {
    DayKernel kernel;
    const Pmf beyond = units.thinned(home.model.extraPerDay);
    for (const Point &point : home.points) {
        const Pmf planned = isOffered ? units.thinned(point.adherence) : Pmf();
        const Branch branch{0, tapsOf(home.model.extraPerDay > 0 ? planned.plus(beyond) : planned)};
        kernel.branches.emplace_back(home.layers(), std::vector<Branch>{branch});
    }
    return kernel;
}

// `units` is surely zero for an item the order does not use: the sessions of the week still count.
DayKernel asNeededKernel(const HomeQuestion &home, const Pmf &units, int mostToday, bool hasWeeklyMost) {
    DayKernel kernel;
    for (const Point &point : home.points) {
        std::vector<std::vector<Branch>> layers;
        for (std::size_t layer = 0; layer < home.layers(); ++layer) {
            const int left = hasWeeklyMost ? home.weeklyMost - static_cast<int>(layer) : mostToday;
            const std::vector<double> sessions = cappedPoisson(point.perDay, std::min(mostToday, left));
            std::vector<Branch> branches;
            std::vector<double> taps;
            Pmf used;
            for (std::size_t k = 0; k < sessions.size(); ++k) {
                if (k > 0)
                    used = used.plus(units);
                if (hasWeeklyMost)
                    taps.clear();
                taps.resize(std::max(taps.size(), used.size()), 0.0);
                for (std::size_t u = 0; u < used.size(); ++u)
                    taps[u] += sessions[k] * used[u];
                if (hasWeeklyMost)
                    branches.push_back({k, taps});
            }
            if (!hasWeeklyMost)
                branches.push_back({0, taps});
            layers.push_back(std::move(branches));
        }
        kernel.branches.push_back(std::move(layers));
    }
    return kernel;
}

// The kernels of one item, made once for each kind of day.
class ItemKernels {
public:
    ItemKernels(const HomeQuestion &home, ItemId item) {
        for (const DayPlan &day : home.timeline.days) {
            byDay_.push_back(indexOf(home, item, day));
            mostUnits_ += byDay_.back() < 0 ? 0 : kinds_[static_cast<std::size_t>(byDay_.back())].mostUnits;
        }
    }
    const DayKernel *on(std::size_t day) const {
        return byDay_[day] < 0 ? nullptr : &kinds_[static_cast<std::size_t>(byDay_[day])].kernel;
    }
    std::size_t mostUnits() const { return mostUnits_; }

private:
    struct Kind {
        const DrainOrder *order;
        bool isOffered;
        int mostToday;
        std::size_t mostUnits;
        DayKernel kernel;
    };
    int indexOf(const HomeQuestion &home, ItemId item, const DayPlan &day) {
        if (!day.order)
            return -1;
        const ItemUse *use = home.unitsOf(day.order, item);
        if (!day.isAsNeeded() && (!use || (!day.isOffered && home.model.extraPerDay <= 0)))
            return -1;
        for (std::size_t i = 0; i < kinds_.size(); ++i)
            if (kinds_[i].order == day.order && kinds_[i].isOffered == day.isOffered &&
                kinds_[i].mostToday == day.mostToday)
                return static_cast<int>(i);
        const Pmf none;
        const Pmf &units = use ? use->perSession : none;
        Kind kind{day.order, day.isOffered, day.mostToday, 0, {}};
        kind.kernel = day.isAsNeeded() ? asNeededKernel(home, units, day.mostToday,
                                                        day.order->pattern.mostPerWeek.has_value())
                                       : plannedKernel(home, units, day.isOffered);
        for (const auto &layers : kind.kernel.branches)
            for (const auto &branches : layers)
                for (const Branch &b : branches)
                    kind.mostUnits = std::max(kind.mostUnits, b.taps.size() - 1);
        kinds_.push_back(std::move(kind));
        return static_cast<int>(kinds_.size()) - 1;
    }
    std::vector<Kind> kinds_;
    std::vector<int> byDay_;
    std::size_t mostUnits_ = 0;
};

// Buffers that live on from home to home.
struct Scratch {
    UseRecursion recursion;
    OfferTable offers;
    std::vector<double> left, total;
    std::vector<double> active, paused;
    std::vector<std::vector<double>> weekActive, weekPaused;
    std::vector<double> chanceDry;
};

struct Stock {
    std::vector<std::int64_t> onDay; // at hand or arrived, from the as-of day on
    bool arrivesLater = false;       // something arrives after the as-of day
};

class ItemRun {
public:
    ItemRun(const HomeQuestion &home, const ForecastOptions &options, Scratch &scratch)
        : home_(home), options_(options), scratch_(scratch),
          horizon_(static_cast<std::size_t>(options.horizon.count())) {}

    ItemForecast run(const ItemUse &use);

private:
    const DayPlan &day(std::size_t index) const { return home_.timeline.days[index]; }
    void knowStock(ItemForecast &f);
    std::size_t silentSince(const ItemForecast &f) const;
    void prepare(std::size_t mostUnits);
    void startAt(std::size_t index);
    void step(const ItemKernels &kernels, std::size_t index);
    void changeOvernight(std::size_t index);
    void recur(std::size_t silentFrom, ItemForecast &f);
    void cumulate(const ItemKernels &kernels, ItemForecast &f);
    void sumWeeks(const ItemKernels &kernels, ItemForecast &f);
    void absorb(const ItemKernels &kernels, std::size_t silentFrom, ItemForecast &f);
    void readOffers(const Pmf &perSession, std::size_t silentFrom, ItemForecast &f);
    void cumulateOffers(std::size_t silentOffers, ItemForecast &f);
    void sumWeeksOfOffers(ItemForecast &f);
    void runDown(ItemForecast &f) const;
    void dates(ItemForecast &f) const;
    void plain(std::size_t silentFrom, ItemForecast &f) const;

    const HomeQuestion &home_;
    const ForecastOptions &options_;
    Scratch &scratch_;
    std::size_t horizon_;
    Stock stock_;
    std::optional<Date> firstDelivered_;
};

void ItemRun::knowStock(ItemForecast &f) {
    const SnapshotIndex &agency = *home_.agency;
    const Date asOf = agency.snapshot().asOf;
    f.onHand = agency.balance(Place::home(f.catheter), f.item);
    std::vector<std::pair<Date, Eaches>> arrivals;
    bool isDelivered = !f.onHand.isNegative() && !f.onHand.isZero();
    for (const Delivery *delivery : agency.deliveriesOf(f.patient))
        for (const DeliveryLine &line : delivery->lines) {
            if (line.catheter != f.catheter || line.item != f.item)
                continue;
            switch (delivery->status) {
            case DeliveryStatus::Delivered: {
                isDelivered = true;
                const Date on = delivery->deliveredAt ? delivery->deliveredAt->date : delivery->promisedFor;
                firstDelivered_ = std::min(firstDelivered_.value_or(on), on);
                break;
            }
            case DeliveryStatus::Picked:
            case DeliveryStatus::InTransit:
                f.inTransit += line.quantity;
                arrivals.emplace_back(delivery->promisedFor < asOf ? asOf.plusDays(1) : delivery->promisedFor,
                                      line.quantity);
                break;
            case DeliveryStatus::Promised:
                f.promised += line.quantity;
                break;
            case DeliveryStatus::Cancelled:
                break;
            }
        }
    if (const HomeCount *count = agency.lastCount(f.catheter, f.item)) {
        f.knowledge = StockKnowledge::Counted;
        f.countedAt = count->at;
    } else if (isDelivered) {
        f.knowledge = StockKnowledge::DeliveredOnly;
    }
    std::int64_t atHand = std::max<std::int64_t>(f.onHand.count(), 0);
    for (std::size_t d = 0; d < horizon_; ++d) {
        for (const auto &[on, quantity] : arrivals)
            if (on == asOf.plusDays(static_cast<std::int64_t>(d))) {
                atHand += quantity.count();
                stock_.arrivesLater = stock_.arrivesLater || d > 0;
            }
        stock_.onDay.push_back(atHand);
    }
}

// The first day whose use the ledger cannot know: after the last entry, and after the count.
std::size_t ItemRun::silentSince(const ItemForecast &f) const {
    Date from = day(0).on;
    if (f.countedAt) // what was counted in the morning was counted before the day's drain
        from = std::max(from, f.countedAt->date.plusDays(f.countedAt->minute.count() < kNoon ? 0 : 1));
    else if (firstDelivered_)
        from = std::max(from, *firstDelivered_);
    const std::int64_t index = (from - day(0).on).count();
    return std::min(static_cast<std::size_t>(index), home_.timeline.today);
}

void ItemRun::prepare(std::size_t mostUnits) {
    scratch_.recursion.reserve(home_.points.size(), home_.layers(), mostUnits);
    scratch_.active.assign(scratch_.recursion.lanes(), 0.0);
    scratch_.paused.assign(scratch_.recursion.lanes(), 0.0);
    scratch_.weekActive.assign((horizon_ + 6) / 7, scratch_.active);
    scratch_.weekPaused.assign((horizon_ + 6) / 7, scratch_.paused);
    scratch_.chanceDry.assign(horizon_, 0.0);
}

void ItemRun::startAt(std::size_t index) {
    const SnapshotIndex &agency = *home_.agency;
    std::size_t layer = 0;
    if (home_.weeklyMost > 0) {
        const Date on = day(index).on;
        const Date week = calendar::weekStartOf(on, agency.snapshot().settings.weekStart);
        layer = static_cast<std::size_t>(std::min(
            home_.weeklyMost, doneBetween(agency.entriesOf(home_.catheter->id), week, on.plusDays(1))));
    }
    std::ranges::fill(scratch_.active, 0.0);
    std::ranges::fill(scratch_.paused, 0.0);
    for (std::size_t i = 0; i < home_.points.size(); ++i)
        scratch_.active[i * home_.layers() + layer] = home_.points[i].weight;
}

void ItemRun::step(const ItemKernels &kernels, std::size_t index) {
    const DayPlan &today = day(index);
    if (home_.weeklyMost > 0 && today.on.weekday() == home_.agency->snapshot().settings.weekStart)
        scratch_.recursion.startWeek();
    if (today.isPauseStart)
        scratch_.recursion.pauseAll();
    if (const DayKernel *kernel = kernels.on(index))
        scratch_.recursion.use(*kernel);
}

void ItemRun::changeOvernight(std::size_t index) {
    StateChange change;
    change.activeToLeft = change.pausedToLeft = home_.model.exitPerDay;
    change.pausedToActive = std::min(day(index).returnChance, 1.0 - change.pausedToLeft);
    scratch_.recursion.change(change);
}

// Mean and quantiles in one sweep.
void summarise(std::span<const double> p, double &mean, std::span<const double> levels,
               std::span<std::int64_t *const> quantiles) {
    double sum = 0;
    mean = 0;
    std::size_t next = 0;
    for (std::size_t u = 0; u < p.size(); ++u) {
        sum += p[u];
        mean += static_cast<double>(u) * p[u];
        for (; next < levels.size() && sum >= levels[next] - 1e-12; ++next)
            *quantiles[next] = static_cast<std::int64_t>(u);
    }
    for (; next < levels.size(); ++next)
        *quantiles[next] = static_cast<std::int64_t>(p.size()) - 1;
}

void summariseDay(std::span<const double> p, DayUse &use) {
    static constexpr std::array kLevels = {0.05, 0.25, 0.50, 0.75, 0.95};
    summarise(p, use.mean, kLevels,
              std::array<std::int64_t *, 5>{&use.p05, &use.p25, &use.p50, &use.p75, &use.p95});
}

WeekUse weekOf(Date from, std::span<const double> p) {
    static constexpr std::array kLevels = {0.10, 0.50, 0.90};
    WeekUse use;
    use.from = from;
    summarise(p, use.mean, kLevels, std::array<std::int64_t *, 3>{&use.p10, &use.p50, &use.p90});
    return use;
}

std::int64_t medianOf(std::span<const double> p) {
    double mean = 0;
    std::int64_t median = 0;
    summarise(p, mean, std::array{0.5}, std::array{&median});
    return median;
}

double tailAbove(std::span<const double> p, std::int64_t k) {
    double sum = 0;
    for (std::size_t u = p.size(); u-- > 0 && static_cast<std::int64_t>(u) > k;)
        sum += p[u];
    return sum;
}

void ItemRun::cumulate(const ItemKernels &kernels, ItemForecast &f) {
    startAt(home_.timeline.today);
    scratch_.recursion.begin(scratch_.active, scratch_.paused);
    f.days.resize(horizon_);
    for (std::size_t d = 0; d < horizon_; ++d) {
        const std::size_t index = home_.timeline.today + d;
        if (d % 7 == 0)
            scratch_.recursion.masses(scratch_.weekActive[d / 7], scratch_.weekPaused[d / 7]);
        step(kernels, index);
        const std::span<const double> total = scratch_.recursion.total();
        f.days[d].on = day(index).on;
        summariseDay(total, f.days[d]);
        scratch_.chanceDry[d] = tailAbove(total, stock_.onDay[d]);
        if (options_.keepCumulated)
            f.cumulated.emplace_back(std::vector<double>(total.begin(), total.end()));
        changeOvernight(index);
    }
}

// The use of a week is not a difference of cumulated figures: the recursion starts afresh from the week's
// states.
void ItemRun::sumWeeks(const ItemKernels &kernels, ItemForecast &f) {
    for (std::size_t week = 0; 7 * (week + 1) <= horizon_; ++week) {
        scratch_.recursion.begin(scratch_.weekActive[week], scratch_.weekPaused[week]);
        const std::size_t first = home_.timeline.today + 7 * week;
        for (std::size_t index = first; index < first + 7; ++index) {
            step(kernels, index);
            changeOvernight(index);
        }
        f.weeks.push_back(weekOf(day(first).on, scratch_.recursion.total()));
    }
}

// First passage: what ran dry before a parcel came stays counted as dry.
void ItemRun::absorb(const ItemKernels &kernels, std::size_t silentFrom, ItemForecast &f) {
    const std::size_t today = home_.timeline.today;
    startAt(silentFrom);
    scratch_.recursion.begin(scratch_.active, scratch_.paused, false);
    for (std::size_t index = silentFrom; index < today; ++index)
        step(kernels, index);
    if (silentFrom < today)
        f.unloggedP50 = Eaches::of(medianOf(scratch_.recursion.total()));
    double dry = 0;
    for (std::size_t d = 0; d < horizon_; ++d) {
        step(kernels, today + d);
        dry += scratch_.recursion.absorbAbove(stock_.onDay[d]);
        scratch_.chanceDry[d] = dry;
        changeOvernight(today + d);
    }
}

void ItemRun::recur(std::size_t silentFrom, ItemForecast &f) {
    const ItemKernels kernels(home_, f.item);
    prepare(kernels.mostUnits());
    cumulate(kernels, f);
    sumWeeks(kernels, f);
    if (f.knowledge != StockKnowledge::Unknown && (silentFrom < home_.timeline.today || stock_.arrivesLater))
        absorb(kernels, silentFrom, f);
}

// The recursion's work by the table. A home that leaves after m offers keeps what it has used until then.
void ItemRun::cumulateOffers(std::size_t silentOffers, ItemForecast &f) {
    const OfferTable &offers = scratch_.offers;
    const double leaves = home_.model.exitPerDay;
    double stays = 1, dryAndLeft = 0;
    std::size_t offered = 0;
    scratch_.left.clear();
    f.days.resize(horizon_);
    for (std::size_t d = 0; d < horizon_; ++d) {
        const DayPlan &today = day(home_.timeline.today + d);
        DayUse &use = f.days[d];
        offered += today.isOffered ? 1U : 0U;
        const std::span<const double> units = offers.unitsAfter(offered);
        if (today.isOffered || d == 0) {
            scratch_.total.assign(units.begin(), units.end());
            for (double &p : scratch_.total)
                p *= stays;
            scratch_.left.resize(std::max(scratch_.left.size(), units.size()), 0.0);
            for (std::size_t u = 0; u < scratch_.total.size(); ++u)
                scratch_.total[u] += scratch_.left[u];
            summariseDay(scratch_.total, use);
        } else {
            use = f.days[d - 1]; // leaving moves nobody's use
        }
        use.on = today.on;
        if (options_.keepCumulated)
            f.cumulated.emplace_back(scratch_.total);
        const double above = offers.chanceAbove(silentOffers + offered, stock_.onDay[d]);
        scratch_.chanceDry[d] = dryAndLeft + stays * above;
        dryAndLeft += stays * leaves * above;
        for (std::size_t u = 0; u < units.size(); ++u)
            scratch_.left[u] += stays * leaves * units[u];
        stays *= 1.0 - leaves;
    }
}

void ItemRun::sumWeeksOfOffers(ItemForecast &f) {
    const double leaves = home_.model.exitPerDay;
    double stays = 1;
    for (std::size_t week = 0; 7 * (week + 1) <= horizon_; ++week) {
        const std::size_t first = home_.timeline.today + 7 * week;
        scratch_.total.assign(1, 1.0 - stays);
        std::size_t offered = 0;
        const auto add = [&](double share) {
            const std::span<const double> units = scratch_.offers.unitsAfter(offered);
            scratch_.total.resize(std::max(scratch_.total.size(), units.size()), 0.0);
            for (std::size_t u = 0; u < units.size(); ++u)
                scratch_.total[u] += share * units[u];
        };
        for (std::size_t index = first; index < first + 7; ++index) {
            offered += day(index).isOffered ? 1U : 0U;
            add(stays * leaves);
            stays *= 1.0 - leaves;
        }
        add(stays);
        f.weeks.push_back(weekOf(day(first).on, scratch_.total));
    }
}

void ItemRun::readOffers(const Pmf &perSession, std::size_t silentFrom, ItemForecast &f) {
    const std::span days(home_.timeline.days);
    const auto offersIn = [](std::span<const DayPlan> some) {
        return static_cast<std::size_t>(std::ranges::count_if(some, &DayPlan::isOffered));
    };
    const std::size_t silent = offersIn(days.subspan(silentFrom, home_.timeline.today - silentFrom));
    scratch_.offers.build(home_.model.adherence, perSession,
                          silent + offersIn(days.subspan(home_.timeline.today)));
    scratch_.chanceDry.assign(horizon_, 0.0);
    cumulateOffers(silent, f);
    sumWeeksOfOffers(f);
    if (f.knowledge == StockKnowledge::Unknown)
        return;
    f.unloggedP50 = Eaches::of(medianOf(scratch_.offers.unitsAfter(silent)));
    if (!stock_.arrivesLater)
        return;
    const ItemKernels kernels(home_,
                              f.item); // what a parcel ends and what it does not is not a matter of counts
    prepare(kernels.mostUnits());
    absorb(kernels, silentFrom, f);
}

void ItemRun::runDown(ItemForecast &f) const {
    double most = 0;
    for (std::size_t d = 0; d < horizon_; ++d) {
        most = std::clamp(scratch_.chanceDry[d], most, 1.0); // rounding must not let it fall
        f.days[d].chanceDry = most;
        f.daysOfSupply += 1.0 - most;
    }
    dates(f);
}

void ItemRun::dates(ItemForecast &f) const {
    const auto firstDay = [&](double level) -> std::optional<Date> {
        for (const DayUse &use : f.days)
            if (use.chanceDry >= level - 1e-12)
                return use.on;
        return std::nullopt;
    };
    f.runOutP10 = firstDay(0.10);
    f.runOutP50 = firstDay(0.50);
    f.runOutP90 = firstDay(0.90);
}

void ItemRun::plain(std::size_t silentFrom, ItemForecast &f) const {
    const Date today = day(home_.timeline.today).on;
    std::vector<PlainSession> sessions;
    double silent = 0;
    for (PlainSession session : home_.timeline.plainSessions) {
        const ItemUse *use = home_.unitsOf(session.order, f.item);
        if (!use || session.on < day(silentFrom).on)
            continue;
        session.units = use->plainPerSession;
        if (session.on < today)
            silent += session.units;
        else
            sessions.push_back(session);
    }
    PlainQuestion question;
    question.sessions = sessions;
    question.days = {today, today + options_.horizon};
    question.weekStart = home_.agency->snapshot().settings.weekStart;
    const std::int64_t used = static_cast<std::int64_t>(std::ceil(silent - 1e-9));
    if (f.knowledge != StockKnowledge::Unknown)
        question.stockOn = [&](Date on) {
            const std::int64_t atHand = stock_.onDay[static_cast<std::size_t>((on - today).count())];
            return Eaches::of(std::max<std::int64_t>(atHand - used, 0));
        };
    f.plain = plainRule(question);
}

ItemForecast ItemRun::run(const ItemUse &use) {
    ItemForecast f;
    f.catheter = home_.catheter->id;
    f.patient = home_.catheter->patient;
    f.item = use.item;
    f.model = home_.model;
    f.isOnHold = home_.agency->holdOn(f.patient, home_.agency->snapshot().asOf) != nullptr;
    knowStock(f);

    const std::size_t silentFrom = silentSince(f);
    f.weeks.reserve(horizon_ / 7);
    if (options_.keepCumulated)
        f.cumulated.reserve(horizon_);
    if (home_.isExchangeable)
        readOffers(use.perSession, silentFrom, f);
    else
        recur(silentFrom, f);
    if (f.knowledge != StockKnowledge::Unknown)
        runDown(f);
    plain(silentFrom, f);
    return f;
}

// Nothing where there is no order, or nobody in service.
std::optional<HomeQuestion> questionOf(const SnapshotIndex &agency, const Catheter &catheter,
                                       const ForecastOptions &options) {
    const DrainOrder *order = orderToForecast(agency, catheter);
    if (!order || !agency.isInService(catheter))
        return std::nullopt;
    const Snapshot &s = agency.snapshot();
    const Holds holds = holdsOf(agency, catheter.patient);
    const DateRange range{learningRange(s).from, std::max(learningRange(s).to, s.asOf + options.horizon)};
    const LogReading reading = readLog(agency, catheter, Holds::pointers(holds.known), range);

    HomeQuestion home;
    home.agency = &agency;
    home.catheter = &catheter;
    home.model = learnUse(agency, catheter, *order, reading);
    home.timeline = timelineOf(agency, catheter, reading, holds, options.horizon);
    home.points = pointsOf(home.model, home.timeline);
    home.unitsByOrder.emplace_back(order, home.model.items);
    for (const DayPlan &day : home.timeline.days) {
        if (!day.order)
            continue;
        if (day.isAsNeeded() && day.order->pattern.mostPerWeek)
            home.weeklyMost = std::max(home.weeklyMost, *day.order->pattern.mostPerWeek);
        if (std::ranges::none_of(home.unitsByOrder, [&](const auto &u) { return u.first == day.order; }))
            home.unitsByOrder.emplace_back(day.order, unitsPerSession(agency, catheter, *day.order));
    }
    home.isExchangeable = !holds.openFrom && !home.model.asNeeded && home.model.extraPerDay <= 0 &&
                          home.unitsByOrder.size() == 1;
    return home;
}

void appendHome(const SnapshotIndex &agency, const Catheter &catheter, const ForecastOptions &options,
                Scratch &scratch, std::vector<ItemForecast> &to) {
    KITROUND_REQUIRE(options.horizon.count() > 0);
    const std::optional<HomeQuestion> home = questionOf(agency, catheter, options);
    if (!home)
        return;
    // Orders that ended are still read for the silent days, but their items are not forecast.
    const auto isAhead = [&](const DrainOrder *order) {
        const auto ahead = std::span(home->timeline.days).subspan(home->timeline.today);
        return order == home->unitsByOrder.front().first ||
               std::ranges::any_of(ahead, [&](const DayPlan &day) { return day.order == order; });
    };
    std::vector<const ItemUse *> items;
    for (const auto &[order, uses] : home->unitsByOrder)
        for (const ItemUse &use : uses)
            if (isAhead(order) &&
                std::ranges::none_of(items, [&](const ItemUse *i) { return i->item == use.item; }))
                items.push_back(&use);
    for (const ItemUse *use : items)
        to.push_back(ItemRun(*home, options, scratch).run(*use));
}

} // namespace

std::vector<ItemForecast> forecastHome(const SnapshotIndex &agency, const Catheter &catheter,
                                       const ForecastOptions &options) {
    Scratch scratch;
    std::vector<ItemForecast> forecasts;
    appendHome(agency, catheter, options, scratch, forecasts);
    return forecasts;
}

Result<std::vector<ItemForecast>> forecastAll(const SnapshotIndex &agency, const ForecastOptions &options,
                                              std::stop_token stop, const ProgressSink &progress) {
    constexpr std::size_t kHomesBetweenReports = 64;
    std::vector<const Catheter *> catheters;
    for (const Catheter &catheter : agency.snapshot().catheters)
        if (agency.isInService(catheter))
            catheters.push_back(&catheter);
    std::ranges::stable_sort(catheters, {}, &Catheter::id);

    Scratch scratch;
    std::vector<ItemForecast> forecasts;
    for (std::size_t i = 0; i < catheters.size(); ++i) {
        if (stop.stop_requested())
            return Problem{ProblemCode::Cancelled, "forecast", {}, 0, 0, {}};
        if (progress && i % kHomesBetweenReports == 0)
            progress({static_cast<double>(i) / static_cast<double>(catheters.size()), "forecast",
                      static_cast<double>(i), 0});
        const std::size_t first = forecasts.size();
        appendHome(agency, *catheters[i], options, scratch, forecasts);
        std::ranges::stable_sort(forecasts.begin() + static_cast<std::ptrdiff_t>(first), forecasts.end(), {},
                                 &ItemForecast::item);
    }
    if (progress)
        progress({1.0, "forecast", static_cast<double>(catheters.size()), 0});
    return forecasts;
}

} // namespace kitround::forecast
