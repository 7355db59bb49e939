#include "core/supply/JointOrders.h"

#include "core/base/Require.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {

JointPlan jointPlan(double perOrder, std::span<const JointItem> items, std::vector<std::int64_t> every) {
    KITROUND_REQUIRE(every.size() == items.size());
    double ordering = perOrder, holding = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const auto m = static_cast<double>(every[i]);
        ordering += items[i].perLine / m;
        holding += m * items[i].holding * items[i].rate;
    }
    return {std::move(every), std::sqrt(2 * ordering / holding), std::sqrt(2 * ordering * holding)};
}

JointPlan silverPlan(double perOrder, std::span<const JointItem> items) {
    KITROUND_REQUIRE(!items.empty());
    const auto ratio = [](const JointItem &item) { return item.perLine / (item.holding * item.rate); };
    const JointItem &first = *std::ranges::min_element(items, {}, ratio);
    const double scale = first.holding * first.rate / (perOrder + first.perLine);
    std::vector<std::int64_t> every;
    for (const JointItem &item : items)
        every.push_back(
            &item == &first ? 1 : std::max<std::int64_t>(1, std::llround(std::sqrt(ratio(item) * scale))));
    return jointPlan(perOrder, items, std::move(every));
}

JointPlan cheapestJointPlan(double perOrder, std::span<const JointItem> items,
                            std::span<const std::int64_t> choices) {
    KITROUND_REQUIRE(!items.empty() && !choices.empty());
    std::vector<std::size_t> at(items.size(), 0);
    JointPlan best;
    for (bool isLast = false; !isLast;) {
        std::vector<std::int64_t> every;
        for (const std::size_t choice : at)
            every.push_back(choices[choice]);
        JointPlan plan = jointPlan(perOrder, items, std::move(every));
        if (best.every.empty() || plan.cost < best.cost)
            best = std::move(plan);
        std::size_t digit = 0; // counts through all choices
        while (digit < at.size() && ++at[digit] == choices.size())
            at[digit++] = 0;
        isLast = digit == at.size();
    }
    return best;
}

DoublingCycle doublingCycle(double perOrder, double holding, double rate, double base, int leastExponent) {
    DoublingCycle found;
    found.freeCycle = std::sqrt(2 * perOrder / (holding * rate));
    const auto ratio = [&](int exponent) {
        const double stretch = base * std::exp2(exponent) / found.freeCycle;
        return (stretch + 1 / stretch) / 2;
    };
    // The cost is convex in the time, so that the first exponent that the next does not better is best.
    found.exponent = leastExponent;
    while (ratio(found.exponent + 1) < ratio(found.exponent))
        ++found.exponent;
    found.costRatio = ratio(found.exponent);
    return found;
}

} // namespace kitround::supply
