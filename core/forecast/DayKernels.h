#pragma once
// What each day adds, as the recursion takes it: one kernel for each kind of day, made once.
#include "core/forecast/HomeQuestion.h"
#include "core/forecast/UseRecursion.h"

#include <vector>

namespace kitround::forecast {

// One point of the joint belief: a habit and a level of units a session.
struct JointPoint {
    double weight = 1;
    HabitPoint habit;
    std::size_t level = 0;
};
// Habits alone, or every habit with every level of the item (of the first order that uses it).
std::vector<JointPoint> habitPoints(const HomeQuestion &home);
std::vector<JointPoint> jointPoints(const HomeQuestion &home, ItemId item);
// Units of the item a session at a level of a point, under the order that the levels were taken from.
const Pmf &unitsAt(const HomeQuestion &home, ItemId item, std::size_t level);

class DayKernels {
public:
    // Units of an item a session; without an item each session counts as one.
    DayKernels(const HomeQuestion &home, std::span<const JointPoint> points, std::optional<ItemId> item);

    const DayKernel *on(std::size_t day) const { // nullptr: nothing is added
        return byDay_[day] < 0 ? nullptr : &kinds_[static_cast<std::size_t>(byDay_[day])].kernel;
    }
    std::size_t mostUnits() const { return mostUnits_; } // over all days

private:
    struct Kind {
        const DrainOrder *order;
        bool isOffered;
        int mostToday;
        std::size_t mostUnits;
        DayKernel kernel;
    };
    int indexOf(const HomeQuestion &home, std::span<const JointPoint> points, std::optional<ItemId> item,
                const DayPlan &day);
    std::vector<Kind> kinds_;
    std::vector<int> byDay_;
    std::size_t mostUnits_ = 0;
};

// One day of a home in service, without the night's chance to leave; `return` of the paused included.
void stepDay(UseRecursion &recursion, const HomeQuestion &home, const DayKernels &kernels, std::size_t day);
void startAt(UseRecursion &recursion, const HomeQuestion &home, std::span<const JointPoint> points,
             std::size_t day);

} // namespace kitround::forecast
