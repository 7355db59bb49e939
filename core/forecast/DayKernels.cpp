#include "core/forecast/DayKernels.h"

#include "core/forecast/CappedSessions.h"

#include <algorithm>

namespace kitround::forecast {
namespace {

std::vector<double> tapsOf(const Pmf &pmf) {
    return {pmf.values().begin(), pmf.values().end()};
}

const Pmf &levelOf(const ItemUse &use, std::size_t level) {
    return use.levels.empty() ? use.perSession : use.levels[level].perSession;
}

// Of the first order whose use of the item has levels, else of the first that uses it.
const ItemUse *useWithLevels(const HomeQuestion &home, ItemId item) {
    const ItemUse *found = nullptr;
    for (const auto &[order, items] : home.unitsByOrder)
        for (const ItemUse &use : items)
            if (use.item == item && (!found || (found->levels.empty() && !use.levels.empty())))
                found = &use;
    return found;
}

std::vector<Branch> plannedBranches(const HomeQuestion &home, const JointPoint &point, const Pmf &units,
                                    bool isOffered) {
    const Pmf planned = isOffered ? units.thinned(point.habit.adherence) : Pmf();
    const double beyond = home.model.extraPerDay;
    return {Branch{0, tapsOf(beyond > 0 ? planned.plus(units.thinned(beyond)) : planned)}};
}

// Sessions of an as-needed day from one layer.
std::vector<Branch> asNeededBranches(const JointPoint &point, const Pmf &units, int most,
                                     bool hasWeeklyMost) {
    const std::vector<double> sessions = cappedPoisson(point.habit.perDay, most);
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
    return branches;
}

} // namespace

std::vector<JointPoint> habitPoints(const HomeQuestion &home) {
    std::vector<JointPoint> points;
    for (const HabitPoint &habit : habitsOf(home))
        points.push_back({habit.weight, habit, 0});
    return points;
}

std::vector<JointPoint> jointPoints(const HomeQuestion &home, ItemId item) {
    const ItemUse *use = useWithLevels(home, item);
    if (!use || use->levels.empty())
        return habitPoints(home);
    std::vector<JointPoint> points;
    for (const HabitPoint &habit : habitsOf(home))
        for (std::size_t level = 0; level < use->levels.size(); ++level)
            points.push_back({habit.weight * use->levels[level].weight, habit, level});
    return points;
}

const Pmf &unitsAt(const HomeQuestion &home, ItemId item, std::size_t level) {
    static const Pmf none;
    const ItemUse *use = useWithLevels(home, item);
    return use ? levelOf(*use, level) : none;
}

DayKernels::DayKernels(const HomeQuestion &home, std::span<const JointPoint> points,
                       std::optional<ItemId> item) {
    byDay_.reserve(home.timeline.days.size());
    for (const DayPlan &day : home.timeline.days) {
        byDay_.push_back(indexOf(home, points, item, day));
        mostUnits_ += byDay_.back() < 0 ? 0 : kinds_[static_cast<std::size_t>(byDay_.back())].mostUnits;
    }
}

int DayKernels::indexOf(const HomeQuestion &home, std::span<const JointPoint> points,
                        std::optional<ItemId> item, const DayPlan &day) {
    if (!day.order)
        return -1;
    const ItemUse *use = item ? home.unitsOf(day.order, *item) : nullptr;
    const bool isUsed = !item || use;
    if (!day.isAsNeeded() && (!isUsed || (!day.isOffered && home.model.extraPerDay <= 0)))
        return -1;
    for (std::size_t i = 0; i < kinds_.size(); ++i)
        if (kinds_[i].order == day.order && kinds_[i].isOffered == day.isOffered &&
            kinds_[i].mostToday == day.mostToday)
            return static_cast<int>(i);
    const Pmf one = Pmf::certain(1), none;
    Kind kind{day.order, day.isOffered, day.mostToday, 0, {}};
    for (const JointPoint &point : points) {
        // Of an item the order does not use nothing is taken: the sessions of the week still count.
        const Pmf &units = !item ? one : use ? levelOf(*use, point.level) : none;
        std::vector<std::vector<Branch>> layers;
        for (std::size_t layer = 0; layer < home.layers(); ++layer) {
            if (!day.isAsNeeded()) {
                layers.push_back(plannedBranches(home, point, units, day.isOffered));
                continue;
            }
            const bool hasWeeklyMost = day.order->pattern.mostPerWeek.has_value();
            const int left = hasWeeklyMost ? home.weeklyMost - static_cast<int>(layer) : day.mostToday;
            layers.push_back(asNeededBranches(point, units, std::min(day.mostToday, left), hasWeeklyMost));
        }
        kind.kernel.branches.push_back(std::move(layers));
    }
    for (const auto &layers : kind.kernel.branches)
        for (const auto &branches : layers)
            for (const Branch &b : branches)
                kind.mostUnits = std::max(kind.mostUnits, b.taps.size() - 1);
    kinds_.push_back(std::move(kind));
    return static_cast<int>(kinds_.size()) - 1;
}

void startAt(UseRecursion &recursion, const HomeQuestion &home, std::span<const JointPoint> points,
             std::size_t day) {
    const std::size_t layer = home.layerOn(day);
    std::vector<double> active(recursion.lanes(), 0.0), paused(recursion.lanes(), 0.0);
    for (std::size_t i = 0; i < points.size(); ++i)
        active[i * home.layers() + layer] = points[i].weight;
    recursion.begin(active, paused);
}

void stepDay(UseRecursion &recursion, const HomeQuestion &home, const DayKernels &kernels,
             std::size_t index) {
    const DayPlan &today = home.day(index);
    if (home.weeklyMost > 0 && today.on.weekday() == home.agency->snapshot().settings.weekStart)
        recursion.startWeek();
    if (today.isPauseStart)
        recursion.pauseAll();
    if (const DayKernel *kernel = kernels.on(index))
        recursion.use(*kernel);
}

} // namespace kitround::forecast
