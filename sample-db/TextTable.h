#pragma once
// The sample's text: CSV with remarks, one file a family. Dates are relative to the sample's day ("-12",
// "+3"), or a weekday of a week counted from this one ("w1 Tue"), so that the sample never ages. Every fault
// is collected with its file, line and column; reading goes on with a default.
#include "core/base/Date.h"
#include "core/base/Result.h"
#include "core/calendar/Zone.h"
#include "core/exchange/Csv.h"

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace kitround::sample {

// "-12", "+3", "0", "w0 Sun", "w-1 Mon", or an ISO date.
std::optional<Date> relativeDate(std::string_view text, Date today);
std::vector<std::string> words(std::string_view text, char separator = ' '); // no empty ones
std::optional<Weekday> weekdayNamed(std::string_view name);                  // Sun, Mon, ...

class TextRow;

class TextTable {
public:
    TextTable(std::string name, Date today, calendar::Zone zone, Problems &problems)
        : name_(std::move(name)), today_(today), zone_(std::move(zone)), problems_(&problems) {}
    void read(std::string_view text);
    std::vector<TextRow> rows() const;

private:
    friend class TextRow;
    std::string name_;
    Date today_;
    calendar::Zone zone_;
    Problems *problems_;
    exchange::CsvTable table_;
};

// One row; borrows its table.
class TextRow {
public:
    TextRow(const TextTable &table, std::size_t row) : table_(&table), row_(row) {}

    const std::string &text(std::string_view column) const;
    bool has(std::string_view column) const { return !text(column).empty(); }
    bool yes(std::string_view column) const; // yes, no or empty
    std::int64_t number(std::string_view column, std::int64_t preset = 0) const;
    double real(std::string_view column, double preset = 0) const;
    Date date(std::string_view column) const;
    std::optional<Date> maybeDate(std::string_view column) const;
    LocalTime time(std::string_view column) const; // "-3 14:30"
    std::optional<Instant> maybeInstant(std::string_view column) const;
    Minutes clock(std::string_view column) const;
    std::vector<std::string> list(std::string_view column, char separator = ' ') const {
        return words(text(column), separator);
    }
    WeekdaySet days(std::string_view column) const; // "Mon Wed", "Mon-Fri", empty

    template <class Enum>
    Enum choice(std::string_view column, std::span<const std::pair<std::string_view, Enum>> names,
                Enum preset) const {
        return choiceOf(text(column), column, names, preset);
    }
    template <class Enum>
    Enum choiceOf(const std::string &word, std::string_view column,
                  std::span<const std::pair<std::string_view, Enum>> names, Enum preset) const {
        if (word.empty())
            return preset;
        for (const auto &[name, value] : names)
            if (name == word)
                return value;
        fault(ProblemCode::UnknownChoice, column, word);
        return preset;
    }
    template <class Id>
    Id known(const std::map<std::string, Id> &ids, const std::string &code, std::string_view column) const {
        const auto found = ids.find(code);
        if (found != ids.end())
            return found->second;
        fault(ProblemCode::UnknownRecord, column, code);
        return {};
    }
    template <class Id>
    Id ref(const std::map<std::string, Id> &ids, std::string_view column) const {
        return known(ids, text(column), column);
    }
    template <class Id>
    std::optional<Id> maybeRef(const std::map<std::string, Id> &ids, std::string_view column) const {
        return has(column) ? std::optional(ref(ids, column)) : std::nullopt;
    }
    void fault(ProblemCode code, std::string_view column, const std::string &word) const;
    Date today() const { return table_->today_; }

private:
    const TextTable *table_;
    std::size_t row_;
};

} // namespace kitround::sample
