#pragma once
// Calendar dates without a time of day, weekdays and half-open ranges. Engines see local dates and minutes
// after local midnight; UTC instants and zones are turned into these at the border
// (core/calendar/LocalTime.h).
#include "core/base/Quantity.h"

#include <array>
#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace kitround {

// ISO 8601 order starts at Monday; ours starts at Sunday because the trade's visit week does (common
// practice).
enum class Weekday : std::uint8_t { Sunday, Monday, Tuesday, Wednesday, Thursday, Friday, Saturday };

inline constexpr std::array<Weekday, 7> kAllWeekdays = {
    Weekday::Sunday,   Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday,
    Weekday::Thursday, Weekday::Friday, Weekday::Saturday};

class Date {
public:
    constexpr Date() = default; // 1970-01-01
    static constexpr Date fromDayNumber(std::int64_t daysSince1970) { return Date(daysSince1970); }
    // Precondition: the civil date exists (use fromIso for untrusted text).
    static constexpr Date of(int year, unsigned month, unsigned day) {
        const std::chrono::year_month_day ymd{std::chrono::year{year}, std::chrono::month{month},
                                              std::chrono::day{day}};
        assert(ymd.ok());
        return Date(std::chrono::sys_days{ymd}.time_since_epoch().count());
    }
    // Strict YYYY-MM-DD, years 1900 to 2199; nothing else.
    static std::optional<Date> fromIso(std::string_view text);

    constexpr std::int64_t dayNumber() const { return day_; } // days since 1970-01-01
    std::string toIso() const;
    constexpr int year() const { return int(ymd().year()); }
    constexpr unsigned month() const { return unsigned(ymd().month()); }
    constexpr unsigned dayOfMonth() const { return unsigned(ymd().day()); }
    constexpr Weekday weekday() const { return Weekday(((day_ + 4) % 7 + 7) % 7); }

    friend constexpr auto operator<=>(Date, Date) = default;
    friend constexpr Date operator+(Date d, Days n) { return Date(d.day_ + n.count()); }
    friend constexpr Date operator-(Date d, Days n) { return Date(d.day_ - n.count()); }
    friend constexpr Days operator-(Date a, Date b) { return Days::of(a.day_ - b.day_); }
    constexpr Date plusDays(std::int64_t n) const { return Date(day_ + n); }
    constexpr Date &operator++() { return ++day_, *this; }

private:
    constexpr explicit Date(std::int64_t day) : day_(day) {}
    constexpr std::chrono::year_month_day ymd() const {
        return std::chrono::year_month_day{std::chrono::sys_days{std::chrono::days{day_}}};
    }
    std::int64_t day_ = 0;
};

// A set of weekdays; empty means what the field that holds it says (usually "any").
class WeekdaySet {
public:
    constexpr WeekdaySet() = default;
    constexpr WeekdaySet(std::initializer_list<Weekday> days) {
        for (Weekday d : days)
            insert(d);
    }
    static constexpr WeekdaySet fromBits(unsigned bits) {
        WeekdaySet s;
        s.bits_ = static_cast<std::uint8_t>(bits & 0x7fU);
        return s;
    }
    static constexpr WeekdaySet all() { return fromBits(0x7f); }
    static constexpr WeekdaySet mondayToFriday() { return fromBits(0x3e); }
    constexpr unsigned bits() const { return bits_; } // bit 0 is Sunday
    constexpr bool contains(Weekday d) const { return (bits_ >> unsigned(d)) & 1U; }
    constexpr void insert(Weekday d) { bits_ = static_cast<std::uint8_t>(bits_ | (1U << unsigned(d))); }
    constexpr void erase(Weekday d) { bits_ = static_cast<std::uint8_t>(bits_ & ~(1U << unsigned(d))); }
    constexpr bool isEmpty() const { return bits_ == 0; }
    constexpr int size() const {
        int n = 0;
        for (Weekday d : kAllWeekdays)
            n += contains(d) ? 1 : 0;
        return n;
    }
    friend constexpr bool operator==(WeekdaySet, WeekdaySet) = default;

private:
    std::uint8_t bits_ = 0;
};

// Half-open [from, to). An empty range is allowed.
struct DateRange {
    Date from;
    Date to;
    constexpr bool contains(Date d) const { return from <= d && d < to; }
    constexpr Days length() const { return to - from; }
    friend constexpr bool operator==(const DateRange &, const DateRange &) = default;
};

// A local wall-clock moment without a zone: what a home log or a visit says.
struct LocalTime {
    Date date;
    Minutes minute; // after local midnight, 0..1439
    friend constexpr auto operator<=>(const LocalTime &, const LocalTime &) = default;
};
std::string toIso(LocalTime time); // YYYY-MM-DDTHH:MM
std::optional<LocalTime>
localTimeFromIso(std::string_view text);                     // the same; a blank instead of T is read too
std::string clockText(Minutes minuteOfDay);                  // HH:MM
std::optional<Minutes> clockFromText(std::string_view text); // HH:MM, 00:00..24:00
std::optional<Minutes> clockAsTyped(std::string_view text);  // by a person: also 9:30, 0930 and 930

// A moment in UTC, whole seconds since 1970-01-01T00:00:00Z.
class Instant {
public:
    constexpr Instant() = default;
    static constexpr Instant fromUnixSeconds(std::int64_t s) { return Instant(s); }
    constexpr std::int64_t unixSeconds() const { return seconds_; }
    friend constexpr auto operator<=>(Instant, Instant) = default;
    friend constexpr Instant operator+(Instant i, Minutes m) { return Instant(i.seconds_ + 60 * m.count()); }
    std::string toIso() const; // YYYY-MM-DDTHH:MM:SSZ
    static std::optional<Instant> fromIso(std::string_view text);

private:
    constexpr explicit Instant(std::int64_t s) : seconds_(s) {}
    std::int64_t seconds_ = 0;
};

} // namespace kitround

template <>
struct std::hash<kitround::Date> {
    std::size_t operator()(kitround::Date d) const noexcept {
        return std::hash<std::int64_t>{}(d.dayNumber());
    }
};
