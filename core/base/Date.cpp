#include "core/base/Date.h"

#include <cstdio>

namespace kitround {
namespace {

// Reads exactly `digits` decimal digits at `at`.
std::optional<int> number(std::string_view text, std::size_t at, std::size_t digits) {
    if (at + digits > text.size())
        return std::nullopt;
    int value = 0;
    for (std::size_t i = at; i < at + digits; ++i) {
        if (text[i] < '0' || text[i] > '9')
            return std::nullopt;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

} // namespace

std::optional<Date> Date::fromIso(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-')
        return std::nullopt;
    const auto y = number(text, 0, 4), m = number(text, 5, 2), d = number(text, 8, 2);
    if (!y || !m || !d || *y < 1900 || *y > 2199)
        return std::nullopt;
    const std::chrono::year_month_day ymd{std::chrono::year{*y}, std::chrono::month{unsigned(*m)},
                                          std::chrono::day{unsigned(*d)}};
    if (!ymd.ok())
        return std::nullopt;
    return Date(std::chrono::sys_days{ymd}.time_since_epoch().count());
}

std::string Date::toIso() const {
    char text[32];
    std::snprintf(text, sizeof text, "%04d-%02u-%02u", year(), month(), dayOfMonth());
    return text;
}

std::string clockText(Minutes minuteOfDay) {
    char text[48];
    std::snprintf(text, sizeof text, "%02lld:%02lld", static_cast<long long>(minuteOfDay.count() / 60),
                  static_cast<long long>(minuteOfDay.count() % 60));
    return text;
}

std::optional<Minutes> clockFromText(std::string_view text) {
    if (text.size() != 5 || text[2] != ':')
        return std::nullopt;
    const auto h = number(text, 0, 2), m = number(text, 3, 2);
    if (!h || !m || *m > 59 || *h * 60 + *m > 1440)
        return std::nullopt;
    return Minutes::of(*h * 60 + *m);
}

std::optional<Minutes> clockAsTyped(std::string_view text) {
    std::string typed(text);
    const bool hasColon = typed.find(':') != std::string::npos;
    if (!hasColon && (typed.size() == 3 || typed.size() == 4))
        typed.insert(typed.size() - 2, 1, ':');
    return clockFromText(typed.size() == 4 ? "0" + typed : typed);
}

std::string toIso(LocalTime time) {
    return time.date.toIso() + "T" + clockText(time.minute);
}

std::optional<LocalTime> localTimeFromIso(std::string_view text) {
    if (text.size() != 16 || (text[10] != 'T' && text[10] != ' '))
        return std::nullopt;
    const auto date = Date::fromIso(text.substr(0, 10));
    const auto minute = clockFromText(text.substr(11));
    if (!date || !minute || minute->count() >= 1440)
        return std::nullopt;
    return LocalTime{*date, *minute};
}

std::string Instant::toIso() const {
    std::int64_t day = seconds_ / 86400, rest = seconds_ % 86400;
    if (rest < 0) {
        rest += 86400;
        --day;
    }
    char text[32];
    std::snprintf(text, sizeof text, "T%02d:%02d:%02dZ", int(rest / 3600), int(rest / 60 % 60),
                  int(rest % 60));
    return Date::fromDayNumber(day).toIso() + text;
}

std::optional<Instant> Instant::fromIso(std::string_view text) {
    if (text.size() != 20 || text[10] != 'T' || text[13] != ':' || text[16] != ':' || text[19] != 'Z')
        return std::nullopt;
    const auto date = Date::fromIso(text.substr(0, 10));
    const auto h = number(text, 11, 2), m = number(text, 14, 2), s = number(text, 17, 2);
    if (!date || !h || !m || !s || *h > 23 || *m > 59 || *s > 59)
        return std::nullopt;
    return fromUnixSeconds(date->dayNumber() * 86400 + *h * 3600 + *m * 60 + *s);
}

} // namespace kitround
