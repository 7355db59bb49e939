#include "core/records/Checks.h"

#include <algorithm>
#include <cstdio>

namespace kitround {
namespace {

constexpr std::int64_t kDay = 1440;

bool isBlank(const std::string &text) {
    return text.find_first_not_of(" \t\r\n") == std::string::npos;
}

std::size_t characters(const std::string &text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](char c) { return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U; }));
}

std::string plain(double value) {
    char text[64];
    std::snprintf(text, sizeof text, "%g", value);
    std::ranges::replace(text, ',', '.'); // whatever the locale writes
    return text;
}

std::string clock(Minutes minute) {
    return minute.isNegative() ? std::to_string(minute.count()) : clockText(minute);
}

bool isLanguageTag(const std::string &tag) { // the shape of BCP 47, not its registry
    if (tag.size() < 2 || tag.size() > 35)
        return false;
    return std::ranges::all_of(tag, [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
    });
}

} // namespace

void Checks::add(ProblemCode code, std::string_view field, std::vector<std::string> args) {
    found_.push_back({code, std::string(field), std::move(args), row_, 0, {}});
}

void Checks::text(std::string_view field, const std::string &value, std::size_t most) {
    if (characters(value) > most)
        add(ProblemCode::TooLong, field, {std::to_string(most)});
}

void Checks::requiredText(std::string_view field, const std::string &value, std::size_t most) {
    notEmpty(field, isBlank(value));
    text(field, value, most);
}

void Checks::range(std::string_view field, std::int64_t value, std::int64_t least, std::int64_t most) {
    if (value < least || value > most)
        add(ProblemCode::OutOfRange, field,
            {std::to_string(value), std::to_string(least), std::to_string(most)});
}

void Checks::countTo(std::string_view field, std::int64_t value, std::int64_t most) {
    if (value < 0)
        add(ProblemCode::Negative, field, {std::to_string(value)});
    else
        range(field, value, 0, most);
}

void Checks::real(std::string_view field, double value, double least, double most) {
    if (!(value >= least && value <= most)) // so that not-a-number fails too
        add(ProblemCode::OutOfRange, field, {plain(value), plain(least), plain(most)});
}

void Checks::minuteOfDay(std::string_view field, Minutes minute) {
    if (minute.count() < 0 || minute.count() >= kDay)
        add(ProblemCode::OutOfRange, field, {clock(minute), "00:00", "23:59"});
}

void Checks::moment(std::string_view field, const std::optional<LocalTime> &at) {
    if (at)
        minuteOfDay(field, at->minute);
}

void Checks::stretch(std::string_view fromField, Minutes from, std::string_view toField, Minutes to) {
    minuteOfDay(fromField, from);
    if (to.count() < 0 || to.count() > kDay)
        add(ProblemCode::OutOfRange, toField, {clock(to), "00:00", "24:00"});
    else if (to <= from)
        add(ProblemCode::EndBeforeStart, toField, {clock(from), clock(to)});
}

void Checks::notEmpty(std::string_view field, bool isEmpty) {
    if (isEmpty)
        add(ProblemCode::Missing, field);
}

void Checks::endNotBefore(std::string_view field, Date start, const std::optional<Date> &end) {
    if (end && *end < start)
        add(ProblemCode::EndBeforeStart, field, {start.toIso(), end->toIso()});
}

void Checks::endAfter(std::string_view field, Date start, Date end) {
    if (end <= start)
        add(ProblemCode::EndBeforeStart, field, {start.toIso(), end.toIso()});
}

void Checks::endNotBefore(std::string_view field, LocalTime start, const std::optional<LocalTime> &end) {
    if (end && *end < start)
        add(ProblemCode::EndBeforeStart, field, {toIso(start), toIso(*end)});
}

void Checks::languages(const std::vector<std::string> &tags) {
    each(tags, [&](const std::string &tag) {
        if (!isLanguageTag(tag))
            add(ProblemCode::UnknownChoice, "languages", {tag, "en, es, zh, ..."});
    });
    noTwice("languages", tags);
}

void Checks::address(const Address &address) {
    text("street", address.street, 200);
    text("town", address.town, 200);
    text("postal_code", address.postalCode, 20);
    text("access_notes", address.accessNotes, 4000);
    if (address.point) {
        real("latitude", address.point->latitude, -90, 90);
        real("longitude", address.point->longitude, -180, 180);
    }
}

} // namespace kitround
