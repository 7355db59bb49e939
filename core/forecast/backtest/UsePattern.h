#pragma once
// What kind of use a home's line has, so that a forecast can be judged where use is steady and where it is
// not: Syntetos, Boylan and Croston, "On the categorization of demand patterns", Journal of the Operational
// Research Society 56 (2005), by how often something is used and how unlike the amounts are.
#include <cstdint>
#include <span>

namespace kitround::forecast {

struct UseShape {
    std::int64_t uses = 0;    // periods in which something was used
    double interval = 0;      // periods a use, at least 1; infinite where nothing was used
    double sizeVariation = 0; // squared coefficient of variation of the amounts used, with n - 1; 0 below two
};
UseShape shapeOf(std::span<const double> series);

// The paper's cut-offs. On which side a value equal to one falls it leaves open: often, and alike, here.
inline constexpr double kLongestOftenInterval = 1.32;
inline constexpr double kMostAlikeVariation = 0.49;
enum class UsePattern : std::uint8_t {
    Smooth,       // often, alike
    Intermittent, // seldom, alike
    Erratic,      // often, unlike
    Lumpy,        // seldom, unlike
};
inline constexpr std::size_t kUsePatternCount = 4;
UsePattern patternOf(const UseShape &shape); // nothing used: seldom, alike

} // namespace kitround::forecast
