#include "core/forecast/ItemForecaster.h"

#include "core/forecast/Summaries.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {
namespace {

constexpr std::int64_t kNoon = 12 * 60;
// Below this a chance to have run dry before a parcel comes moves no figure.
constexpr double kNoChance = 1e-13;
constexpr double kSurely = 1;

std::int64_t medianOf(RowTable::Row row) {
    double sum = 0;
    for (std::size_t i = 0; i < row.p.size(); ++i) {
        sum += row.p[i];
        if (sum >= 0.5 - 1e-12)
            return static_cast<std::int64_t>(row.least + i);
    }
    return static_cast<std::int64_t>(row.end()) - 1;
}

} // namespace

// The first day whose use is not in what the ledger starts from.
Date ItemForecaster::ledgerSince(const ItemForecast &f) const {
    if (f.countedAt) // what was counted in the morning was counted before the day's drain
        return f.countedAt->date.plusDays(f.countedAt->minute.count() < kNoon ? 0 : 1);
    return stock_.firstDelivered.value_or(home_.day(0).on);
}

// The first day of which neither the ledger nor the log knows: after the last entry, and after the count.
std::size_t ItemForecaster::silentSince(const ItemForecast &f) const {
    const Date from = std::max(home_.day(0).on, ledgerSince(f));
    const std::int64_t index = (from - home_.day(0).on).count();
    return std::min(static_cast<std::size_t>(index), home_.timeline.today);
}

void ItemForecaster::knowUnrecorded(const ItemForecast &f) {
    unrecordedRow(f.knowledge == StockKnowledge::Unknown
                      ? UnrecordedSessions{}
                      : unrecordedSince(home_, f.item, ledgerSince(f), f.countedAt),
                  home_.model.doneUnlogged, b_.unrecorded);
}

double ItemForecaster::leaves(std::size_t d) const {
    return home_.staying[d] > 0 ? 1.0 - home_.staying[d + 1] / home_.staying[d] : 0.0;
}

void ItemForecaster::keepDay(std::size_t d, std::span<const double> total, ItemForecast &f) const {
    summariseDay(total, f.days[d]);
    if (options_.keepCumulated)
        f.cumulated.emplace_back(std::vector<double>(total.begin(), total.end()));
}

RowTable::Row ItemForecaster::unitsOf(std::size_t countsRow) {
    if (b_.unitRow.size() <= countsRow)
        b_.unitRow.resize(countsRow + 1, -1);
    std::ptrdiff_t &at = b_.unitRow[countsRow];
    if (at < 0) {
        at = static_cast<std::ptrdiff_t>(b_.sessionUnits.addMix(b_.counts.rows()[countsRow], b_.units));
    }
    return b_.units[static_cast<std::size_t>(at)];
}

// P(n sessions use more than `beyondStock_` units) for n below `end`. What some sessions surely exceed, more
// of them do: their units need not be known.
void ItemForecaster::knowAbove(std::size_t end) {
    while (b_.above.size() < end) {
        const std::size_t n = b_.above.size();
        if (n > 0 && b_.above.back() == kSurely) {
            b_.above.resize(end, kSurely);
            break;
        }
        const RowTable::Row units = b_.sessionUnits.row(n);
        b_.above.push_back(static_cast<std::int64_t>(units.least) > beyondStock_
                               ? kSurely
                               : chanceAbove(units, beyondStock_));
    }
}

// P(more than `stock` units in the sessions of a row and the unrecorded ones), from the chances of each
// number of sessions.
double ItemForecaster::chanceBeyond(std::size_t countsRow, std::int64_t stock) {
    if (stock != beyondStock_) {
        b_.above.clear();
        b_.beyond.clear();
        beyondStock_ = stock;
    }
    const RowTable::Row counts = b_.counts.rows()[countsRow];
    knowAbove(counts.end() - 1 + b_.unrecorded.size());
    while (b_.beyond.size() < counts.end())
        b_.beyond.push_back(dot(b_.unrecorded, b_.above.data() + b_.beyond.size()));
    return dot(counts.p, b_.beyond.data() + counts.least);
}

// A home that leaves keeps what it has used until then. Days that add nothing show what the day before them
// shows: leaving moves nobody's use.
void ItemForecaster::cumulate(ItemForecast &f) {
    b_.left.clear();
    for (std::size_t d = 0, next = 0; d < horizon_; d = next) {
        const std::size_t row = b_.counts.upTo(d);
        for (next = d + 1; next < horizon_ && b_.counts.upTo(next) == row;)
            ++next;
        addLeaving(b_.left, b_.total, unitsOf(row), home_.staying[d], home_.staying[d] - home_.staying[next]);
        keepDay(d, b_.total, f);
        std::fill(f.days.begin() + static_cast<std::ptrdiff_t>(d) + 1,
                  f.days.begin() + static_cast<std::ptrdiff_t>(next), f.days[d]);
        if (options_.keepCumulated)
            f.cumulated.insert(f.cumulated.end(), next - d - 1, Pmf(f.cumulated.back()));
    }
}

void ItemForecaster::sumWeeks(ItemForecast &f) {
    for (std::size_t w = 0; 7 * (w + 1) <= horizon_; ++w) {
        b_.total.assign(1, 1.0 - home_.staying[7 * w]);
        double leaving = 0; // since the row last changed
        for (std::size_t i = 0; i < 7; ++i) {
            const std::size_t d = 7 * w + i;
            leaving += home_.staying[d] - (i == 6 ? 0.0 : home_.staying[d + 1]);
            if (i < 6 && b_.counts.inWeek(w, i + 1) == b_.counts.inWeek(w, i))
                continue;
            addScaled(b_.total, unitsOf(b_.counts.inWeek(w, i)), leaving);
            leaving = 0;
        }
        f.weeks.push_back(weekOf(f.dayOf(7 * w), b_.total));
    }
}

// A parcel parts those that ran dry before it from those that did not; where nobody will have, the stock of
// the day alone decides.
bool ItemForecaster::canRunDryBeforeAnArrival() const {
    for (std::size_t d = 1; d < horizon_; ++d)
        if (stock_.onDay[d] > stock_.onDay[d - 1] && b_.chanceDry[d - 1] > kNoChance)
            return true;
    return false;
}

void ItemForecaster::runDry(std::size_t silentFrom, ItemForecast &f) {
    b_.counts.buildSince(silentFrom, b_.recursion);
    const RowTable::Row sessions =
        sumOf(b_.counts.rows()[b_.counts.silent()], {0, b_.unrecorded}, b_.withUnrecorded);
    f.unloggedP50 = Eaches::of(medianOf(b_.units[b_.sessionUnits.addMix(sessions, b_.units)]));
    double dryAndLeft = 0;
    for (std::size_t d = 0; d < horizon_; ++d) {
        const double above = chanceBeyond(b_.counts.sinceSilent(d), stock_.onDay[d]);
        b_.chanceDry[d] = dryAndLeft + home_.staying[d] * above;
        dryAndLeft += (home_.staying[d] - home_.staying[d + 1]) * above;
    }
    if (stock_.arrivesLater && canRunDryBeforeAnArrival())
        firstPassage(silentFrom, f);
}

void ItemForecaster::convert(const ItemUse &use, std::size_t silentFrom, ItemForecast &f) {
    beyondStock_ = -1;
    b_.units.clear();
    b_.unitRow.clear();
    b_.sessionUnits.begin(use);
    cumulate(f);
    sumWeeks(f);
    if (f.knowledge != StockKnowledge::Unknown)
        runDry(silentFrom, f);
}

void ItemForecaster::nightAfter(std::size_t day) {
    const double leave = leaves(day - home_.timeline.today);
    b_.recursion.change({.activeToLeft = leave,
                         .pausedToActive = std::min(home_.day(day).returnChance, 1.0 - leave),
                         .pausedToLeft = leave});
}

// With what the unrecorded sessions have used, at each point's own level: made once a level, which every
// habit meets in turn (jointPoints).
void ItemForecaster::startSilent(std::span<const JointPoint> points, const DayKernels &kernels,
                                 std::size_t silentFrom, ItemId item) {
    std::vector<Pmf> used; // by level
    for (const JointPoint &point : points)
        if (point.level == used.size())
            used.push_back(unitsOfSessions(b_.unrecorded, unitsAt(home_, item, point.level)));
    std::size_t most = 0;
    for (const Pmf &units : used)
        most = std::max(most, units.size() - 1);
    b_.recursion.reserve(points.size(), home_.layers(), kernels.mostUnits() + most);
    startAt(b_.recursion, home_, points, silentFrom);
    for (std::size_t i = 0; i < points.size(); ++i)
        b_.recursion.startUsed(i, used[points[i].level].values());
}

// First passage: what ran dry before a parcel came stays counted as dry.
void ItemForecaster::firstPassage(std::size_t silentFrom, ItemForecast &f) {
    const std::vector<JointPoint> points = jointPoints(home_, f.item);
    const DayKernels kernels(home_, points, f.item);
    const std::size_t today = home_.timeline.today;
    startSilent(points, kernels, silentFrom, f.item);
    for (std::size_t day = silentFrom; day < today; ++day)
        stepDay(b_.recursion, home_, kernels, day);
    f.unloggedP50 = Eaches::of(medianOf({0, b_.recursion.total()}));
    double dry = 0;
    for (std::size_t d = 0; d < horizon_; ++d) {
        stepDay(b_.recursion, home_, kernels, today + d);
        dry += b_.recursion.absorbAbove(stock_.onDay[d]);
        b_.chanceDry[d] = dry;
        nightAfter(today + d);
    }
}

void ItemForecaster::recur(std::size_t silentFrom, ItemForecast &f) {
    const std::vector<JointPoint> points = jointPoints(home_, f.item);
    const DayKernels kernels(home_, points, f.item);
    const std::size_t today = home_.timeline.today;
    UseRecursion &recursion = b_.recursion;
    recursion.reserve(points.size(), home_.layers(), kernels.mostUnits());
    startAt(recursion, home_, points, today);
    const std::size_t weeks = horizon_ / 7;
    std::vector<std::vector<double>> active(weeks, std::vector<double>(recursion.lanes(), 0.0));
    auto paused = active;
    for (std::size_t d = 0; d < horizon_; ++d) {
        if (d % 7 == 0 && d / 7 < weeks)
            recursion.masses(active[d / 7], paused[d / 7]);
        stepDay(recursion, home_, kernels, today + d);
        keepDay(d, recursion.total(), f);
        nightAfter(today + d);
    }
    for (std::size_t w = 0; w < weeks; ++w) {
        recursion.begin(active[w], paused[w]);
        for (std::size_t d = 7 * w; d < 7 * w + 7; ++d) {
            stepDay(recursion, home_, kernels, today + d);
            nightAfter(today + d);
        }
        f.weeks.push_back(weekOf(f.dayOf(7 * w), recursion.total()));
    }
    if (f.knowledge != StockKnowledge::Unknown)
        firstPassage(silentFrom, f);
}

void ItemForecaster::runDown(ItemForecast &f) const {
    double most = 0;
    for (std::size_t d = 0; d < horizon_; ++d) {
        most = std::clamp(b_.chanceDry[d], most, 1.0); // rounding must not let it fall
        f.days[d].chanceDry = most;
        f.daysOfSupply += 1.0 - most;
    }
    const auto firstDay = [&](double level) -> std::optional<Date> {
        for (std::size_t d = 0; d < f.days.size(); ++d)
            if (f.days[d].chanceDry >= level - 1e-12)
                return f.dayOf(d);
        return std::nullopt;
    };
    f.runOutP10 = firstDay(0.10);
    f.runOutP50 = firstDay(0.50);
    f.runOutP90 = firstDay(0.90);
}

void ItemForecaster::plain(std::size_t silentFrom, ItemForecast &f) const {
    const Date today = home_.day(home_.timeline.today).on;
    std::vector<PlainSession> &sessions = b_.plainSessions;
    sessions.clear();
    double silent = 0;
    for (PlainSession session : home_.timeline.plainSessions) {
        const ItemUse *use = home_.unitsOf(session.order, f.item);
        if (!use || session.on < home_.day(silentFrom).on)
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
    question.memory = SharedBlock<std::int32_t>(b_.results);
    f.plain = plainRule(question);
}

ItemForecast ItemForecaster::run(const ItemUse &use) {
    ItemForecast f;
    f.catheter = home_.catheter->id;
    f.patient = home_.catheter->patient;
    f.item = use.item;
    f.asOf = home_.day(home_.timeline.today).on;
    f.model = home_.model;
    f.model.items.push_back({use.item, use.perSession, {}, use.plainPerSession});
    if (options_.keepCumulated)
        f.model.items.back().levels = use.levels;
    f.isOnHold = home_.agency->holdOn(f.patient, home_.agency->snapshot().asOf) != nullptr;
    stock_ = knowStock(*home_.agency, options_.horizon, f);

    const std::size_t silentFrom = silentSince(f);
    knowUnrecorded(f);
    f.weeks = BlockVector<WeekUse>(SharedBlock<WeekUse>(b_.results));
    f.weeks.reserve(horizon_ / 7);
    f.days = BlockVector<DayUse>(horizon_, SharedBlock<DayUse>(b_.results));
    if (options_.keepCumulated)
        f.cumulated.reserve(horizon_);
    b_.chanceDry.assign(horizon_, 0.0);
    if (home_.hasOneOrder())
        convert(use, silentFrom, f);
    else
        recur(silentFrom, f);
    if (f.knowledge != StockKnowledge::Unknown)
        runDown(f);
    plain(silentFrom, f);
    return f;
}

} // namespace kitround::forecast
