#include "sample-db/TextTable.h"

#include "core/calendar/Weeks.h"

#include <algorithm>
#include <charconv>

namespace kitround::sample {
namespace {

template <class Number>
std::optional<Number> numberIn(std::string_view text) {
    if (text.starts_with('+'))
        text.remove_prefix(1);
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size())
        return std::nullopt;
    return value;
}

} // namespace

std::vector<std::string> words(std::string_view text, char separator) {
    std::vector<std::string> found;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(separator), text.size());
        std::string_view word = text.substr(0, end);
        while (word.starts_with(' '))
            word.remove_prefix(1);
        while (word.ends_with(' '))
            word.remove_suffix(1);
        if (!word.empty())
            found.emplace_back(word);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return found;
}

std::optional<Weekday> weekdayNamed(std::string_view name) {
    static constexpr std::string_view kNames[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
    const auto *found = std::ranges::find(kNames, name);
    if (found == std::end(kNames))
        return std::nullopt;
    return Weekday(found - std::begin(kNames));
}

std::optional<Date> relativeDate(std::string_view text, Date today) {
    if (text.starts_with('w')) {
        const auto parts = words(text.substr(1));
        if (parts.size() != 2)
            return std::nullopt;
        const auto week = numberIn<std::int64_t>(parts[0]);
        const auto day = weekdayNamed(parts[1]);
        if (!week || !day)
            return std::nullopt;
        return calendar::weekStartOf(today, Weekday::Sunday).plusDays(7 * *week + static_cast<int>(*day));
    }
    if (const auto days = numberIn<std::int64_t>(text))
        return today.plusDays(*days);
    return Date::fromIso(text);
}

void TextTable::read(std::string_view text) {
    auto table = exchange::readCsv(text, {.allowComments = true});
    if (table) {
        table_ = std::move(*table);
        return;
    }
    Problem problem = table.error();
    problem.field = name_ + ":" + problem.field;
    problems_->push_back(std::move(problem));
}

std::vector<TextRow> TextTable::rows() const {
    std::vector<TextRow> rows;
    for (std::size_t i = 0; i < table_.rows.size(); ++i)
        rows.emplace_back(*this, i);
    return rows;
}

const std::string &TextRow::text(std::string_view column) const {
    static const std::string kNothing;
    const auto &head = table_->table_.head;
    const auto found = std::ranges::find(head, column);
    if (found == head.end()) {
        fault(ProblemCode::Missing, column, "");
        return kNothing;
    }
    return table_->table_.rows[row_][static_cast<std::size_t>(found - head.begin())];
}

bool TextRow::yes(std::string_view column) const {
    const std::string &word = text(column);
    if (word != "yes" && word != "no" && !word.empty())
        fault(ProblemCode::UnknownChoice, column, word);
    return word == "yes";
}

std::int64_t TextRow::number(std::string_view column, std::int64_t preset) const {
    if (!has(column))
        return preset;
    const auto value = numberIn<std::int64_t>(text(column));
    if (!value)
        fault(ProblemCode::NotANumber, column, text(column));
    return value.value_or(preset);
}

double TextRow::real(std::string_view column, double preset) const {
    if (!has(column))
        return preset;
    const auto value = numberIn<double>(text(column));
    if (!value)
        fault(ProblemCode::NotANumber, column, text(column));
    return value.value_or(preset);
}

std::optional<Date> TextRow::maybeDate(std::string_view column) const {
    if (!has(column))
        return std::nullopt;
    const auto date = relativeDate(text(column), today());
    if (!date)
        fault(ProblemCode::NotADate, column, text(column));
    return date;
}

Date TextRow::date(std::string_view column) const {
    if (!has(column))
        fault(ProblemCode::Missing, column, "");
    return maybeDate(column).value_or(today());
}

LocalTime TextRow::time(std::string_view column) const {
    const std::string &word = text(column);
    const std::size_t blank = word.rfind(' ');
    if (blank != std::string::npos) {
        const auto date = relativeDate(std::string_view(word).substr(0, blank), today());
        const auto clock = clockFromText(std::string_view(word).substr(blank + 1));
        if (date && clock)
            return {*date, *clock};
    }
    fault(ProblemCode::NotATime, column, word);
    return {today(), {}};
}

std::optional<Instant> TextRow::maybeInstant(std::string_view column) const {
    if (!has(column))
        return std::nullopt;
    return table_->zone_.toUtc(time(column));
}

Minutes TextRow::clock(std::string_view column) const {
    if (!has(column))
        return {};
    const auto minutes = clockFromText(text(column));
    if (!minutes)
        fault(ProblemCode::NotATime, column, text(column));
    return minutes.value_or(Minutes{});
}

WeekdaySet TextRow::days(std::string_view column) const {
    WeekdaySet set;
    for (const std::string &word : list(column)) {
        if (word == "Mon-Fri") {
            set = WeekdaySet::fromBits(set.bits() | WeekdaySet::mondayToFriday().bits());
        } else if (word == "all") {
            set = WeekdaySet::all();
        } else if (const auto day = weekdayNamed(word)) {
            set.insert(*day);
        } else {
            fault(ProblemCode::UnknownChoice, column, word);
        }
    }
    return set;
}

void TextRow::fault(ProblemCode code, std::string_view column, const std::string &word) const {
    const auto &lines = table_->table_.lines;
    Problem problem;
    problem.code = code;
    problem.field = table_->name_ + ":" + std::string(column);
    problem.args = {word};
    problem.row = row_ < lines.size() ? lines[row_] : 0;
    table_->problems_->push_back(std::move(problem));
}

} // namespace kitround::sample
