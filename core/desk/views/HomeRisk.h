#pragma once
// Why a home stands where it does in the list of homes.
#include "core/desk/views/StockView.h"

namespace kitround::desk {

// AtRisk: the chance of running dry within 7 days is above the agency's target, or nothing is left.
enum class HomeRisk : std::uint8_t { AtRisk, Unknown, Enough, OnHold };
HomeRisk riskOf(const HomeRow &row, const AgencySettings &settings);

} // namespace kitround::desk
