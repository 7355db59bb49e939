#include "core/exchange/ListRow.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace kitround::exchange {
namespace {

template <class Number>
std::optional<Number> wholeText(std::string_view text) {
    Number value{};
    const char *const end = text.data() + text.size();
    const auto [stopped, error] = std::from_chars(text.data(), end, value);
    return error == std::errc() && stopped == end ? std::optional(value) : std::nullopt;
}

template <class Records, class Key>
void keepByKey(const Records &records,
               std::unordered_map<std::string, const typename Records::value_type *> &by, Key key) {
    by.reserve(records.size());
    for (const auto &record : records)
        by.emplace(record.*key, &record);
}

} // namespace

std::string trimmed(std::string_view text) {
    constexpr std::string_view kBlanks = " \t\r\n";
    const std::size_t first = text.find_first_not_of(kBlanks);
    if (first == std::string_view::npos)
        return {};
    return std::string(text.substr(first, text.find_last_not_of(kBlanks) - first + 1));
}

std::string asChoice(std::string_view text) {
    std::string word = trimmed(text);
    for (char &c : word) {
        if (c >= 'A' && c <= 'Z')
            c = static_cast<char>(c - 'A' + 'a');
        else if (c == ' ' || c == '-')
            c = '_';
    }
    return word;
}

ListLookups::ListLookups(const SnapshotIndex &agency) {
    const Snapshot &s = agency.snapshot();
    keepByKey(s.patients, patients, &Patient::code);
    keepByKey(s.nurses, nurses, &Nurse::code);
    keepByKey(s.items, items, &Item::code);
    keepByKey(s.suppliers, suppliers, &Supplier::code);
    keepByKey(s.payers, payers, &Payer::name);
}

std::string ListRow::text(std::string_view column) const {
    const auto at = heads_->find(column);
    return at == heads_->end() || at->second >= cells_->size() ? std::string()
                                                               : trimmed((*cells_)[at->second]);
}

bool ListRow::hasAny(std::initializer_list<std::string_view> columns) const {
    return std::ranges::any_of(columns, [this](std::string_view column) { return has(column); });
}

std::string ListRow::needed(std::string_view column) {
    std::string read = text(column);
    if (read.empty())
        fault(ProblemCode::Missing, column);
    return read;
}

std::optional<std::int64_t> ListRow::number(std::string_view column) {
    const std::string read = text(column);
    if (read.empty())
        return std::nullopt;
    const auto value = wholeText<std::int64_t>(read);
    if (!value)
        fault(ProblemCode::NotANumber, column, {read});
    return value;
}

int ListRow::smallNumber(std::string_view column, int preset) {
    const auto value = number(column);
    return value ? static_cast<int>(std::clamp<std::int64_t>(*value, -1'000'000, 1'000'000)) : preset;
}

std::optional<double> ListRow::real(std::string_view column) {
    const std::string read = text(column);
    if (read.empty())
        return std::nullopt;
    const auto value = wholeText<double>(read);
    if (value && std::isfinite(*value))
        return value;
    fault(ProblemCode::NotANumber, column, {read, "decimals"});
    return std::nullopt;
}

std::optional<Money> ListRow::money(std::string_view column) {
    const std::string read = text(column);
    if (read.empty())
        return std::nullopt;
    const std::size_t point = std::min(read.find('.'), read.size());
    std::string cents = point < read.size() ? read.substr(point + 1) : "00";
    const auto whole = wholeText<std::int64_t>(std::string_view(read).substr(0, point));
    if (cents.size() == 1)
        cents += '0';
    const bool areDigits = std::ranges::all_of(cents, [](char c) { return c >= '0' && c <= '9'; });
    const auto part = cents.size() == 2 && areDigits ? wholeText<std::int64_t>(cents) : std::nullopt;
    if (!whole || !part || read.front() == '-' || *whole > 1'000'000'000) {
        fault(ProblemCode::NotANumber, column, {read, "decimals"});
        return std::nullopt;
    }
    return Money::of(*whole * 100 + *part);
}

std::optional<Date> ListRow::date(std::string_view column) {
    const std::string read = text(column);
    if (read.empty())
        return std::nullopt;
    const auto day = Date::fromIso(read);
    if (!day)
        fault(ProblemCode::NotADate, column, {read});
    return day;
}

Date ListRow::neededDate(std::string_view column) {
    (void)needed(column);
    return date(column).value_or(Date());
}

std::optional<Date> ListRow::pastDate(std::string_view column, Date today) {
    const auto day = date(column);
    if (day && *day > today)
        fault(ProblemCode::NotAllowed, column, {"day_to_come", day->toIso(), today.toIso()});
    return day;
}

std::optional<Minutes> ListRow::clock(std::string_view column) {
    const std::string read = text(column);
    if (read.empty())
        return std::nullopt;
    const auto minute = clockAsTyped(read);
    if (!minute)
        fault(ProblemCode::NotATime, column, {read});
    return minute;
}

bool ListRow::yes(std::string_view column, bool preset) {
    const std::string word = asChoice(text(column));
    if (word.empty())
        return preset;
    if (std::ranges::find(kYesNo, word) == std::end(kYesNo))
        fault(ProblemCode::UnknownChoice, column, {text(column), "yes, no"});
    return word == kYesNo[0];
}

std::vector<std::string> ListRow::parts(std::string_view column) const {
    std::vector<std::string> read;
    const std::string whole = text(column);
    for (std::size_t from = 0; from <= whole.size();) {
        const std::size_t end = std::min(whole.find(';', from), whole.size());
        if (std::string part = trimmed(std::string_view(whole).substr(from, end - from)); !part.empty())
            read.push_back(std::move(part));
        from = end + 1;
    }
    return read;
}

Address ListRow::address() {
    Address read;
    read.street = text("street");
    read.town = text("town");
    read.postalCode = text("postal_code");
    read.accessNotes = text("access_notes");
    read.area = choice<AreaKind>("area").value_or(read.area);
    if (!hasAny({"latitude", "longitude"}))
        return read;
    (void)needed("latitude");
    (void)needed("longitude");
    const auto latitude = real("latitude"), longitude = real("longitude");
    if (latitude && longitude)
        read.point = GeoPoint{*latitude, *longitude};
    read.quality = neededChoice("point_quality", read.quality);
    return read;
}

void ListRow::fault(ProblemCode code, std::string_view column, std::vector<std::string> args) {
    const auto at = heads_->find(column);
    const int place = at == heads_->end() ? 0 : static_cast<int>(at->second) + 1;
    faults_->push_back({code, std::string(column), std::move(args), row_, place, {}});
    faulty_.emplace(column);
}

void ListRow::newCode(std::string_view column, const std::string &code, bool isOnRecord,
                      std::unordered_map<std::string, int> &seen) {
    if (code.empty())
        return;
    if (isOnRecord)
        fault(ProblemCode::Duplicate, column, {code});
    else if (const auto [first, isNew] = seen.emplace(code, row_); !isNew)
        fault(ProblemCode::Conflict, column, {"list_twice", code, std::to_string(first->second)});
}

void ListRow::take(Problems found, std::initializer_list<FieldColumn> names) {
    for (Problem &problem : found) {
        const auto *const named =
            std::ranges::find(names, std::string_view(problem.field), &FieldColumn::field);
        const std::string column = named == names.end() ? problem.field : std::string(named->column);
        if (!faulty_.contains(column))
            fault(problem.code, column, std::move(problem.args));
    }
}

} // namespace kitround::exchange
