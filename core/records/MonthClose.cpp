#include "core/records/MonthClose.h"

namespace kitround {

std::optional<Date> firstOpenDay(std::span<const MonthClose> months) {
    std::optional<Date> open;
    for (const MonthClose &month : months)
        if (month.isClosed && (!open || month.month >= *open))
            open = monthAfter(month.month);
    return open;
}

Date monthOf(Date day) {
    return Date::of(day.year(), day.month(), 1);
}

Date monthAfter(Date day) {
    return monthOf(monthOf(day).plusDays(31)); // no month is longer
}

} // namespace kitround
