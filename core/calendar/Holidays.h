#pragma once
// United States federal holidays by rule: 5 U.S.C. 6103(a), observed days by 6103(b) and Executive Order
// 11582 for Monday-to-Friday staff. Inauguration Day (6103(c)) is local and left out. A planning hint only.
#include "core/base/Date.h"

#include <optional>
#include <string_view>
#include <vector>

namespace kitround::calendar {

enum class FederalHoliday : std::uint8_t {
    NewYear,
    MartinLutherKing,
    Washington,
    Memorial,
    Juneteenth,
    Independence,
    Labor,
    Columbus,
    Veterans,
    Thanksgiving,
    Christmas
};
struct Holiday {
    FederalHoliday which = FederalHoliday::NewYear;
    Date on;
    Date observed; // may be in the year before (1 January on a Saturday)
    friend bool operator==(const Holiday &, const Holiday &) = default;
};
// The eleven of a year (by their own date), in order. Years from 2021 (Juneteenth is law since then) to 2199;
// empty outside.
std::vector<Holiday> federalHolidays(int year);
// The holiday that falls on the day, else the one observed on it.
std::optional<Holiday> holidayOn(Date date);
std::string_view englishName(FederalHoliday holiday);

} // namespace kitround::calendar
