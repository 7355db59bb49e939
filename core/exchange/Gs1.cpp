#include "core/exchange/Gs1.h"

#include "core/records/Gtin.h"

#include <algorithm>
#include <array>

namespace kitround::exchange {
namespace {

constexpr char kSeparator = '\x1d';

enum class Kind : std::uint8_t { Digits, CheckedDigits, Date, Text };
struct Format {
    std::string_view ai;
    Kind kind;
    std::size_t least, most; // characters of the value
    bool isFixed() const { return least == most; }
};
// GS1 General Specifications, figure 3.2-1: those that stand on boxes of medical supplies. AIs 91 to 99 are a
// company's own.
constexpr Format kFormats[] = {
    {"00", Kind::CheckedDigits, 18, 18}, // logistic unit
    {"01", Kind::CheckedDigits, 14, 14}, // GTIN
    {"02", Kind::CheckedDigits, 14, 14}, // GTIN of what is inside
    {"10", Kind::Text, 1, 20},           // lot
    {"11", Kind::Date, 6, 6},            // made
    {"12", Kind::Date, 6, 6},            // due
    {"13", Kind::Date, 6, 6},            // packed
    {"15", Kind::Date, 6, 6},            // best before
    {"16", Kind::Date, 6, 6},            // sell by
    {"17", Kind::Date, 6, 6},            // expiry
    {"20", Kind::Digits, 2, 2},          // variant
    {"21", Kind::Text, 1, 20},           // serial number
    {"22", Kind::Text, 1, 20},           // consumer variant
    {"30", Kind::Digits, 1, 8},          // count of items in one that varies
    {"37", Kind::Digits, 1, 8},          // count of items inside a logistic unit
    {"90", Kind::Text, 1, 30},
    {"240", Kind::Text, 1, 30}, // additional item number
    {"241", Kind::Text, 1, 30}, // customer's part number
    {"250", Kind::Text, 1, 30}, // secondary serial number
    {"400", Kind::Text, 1, 30}, // customer's order number
};
constexpr Format kOwn = {"91", Kind::Text, 1, 90};

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}
bool areDigits(std::string_view text) {
    return std::ranges::all_of(text, isDigit);
}
// Character set 82 (figure 7.11-1).
bool isAllowed(char c) {
    static constexpr std::string_view kSigns = "!\"%&'()*+,-./:;<=>?_";
    return isDigit(c) || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') ||
           kSigns.find(c) != std::string_view::npos;
}

std::optional<Format> formatAt(std::string_view text) {
    for (const Format &format : kFormats)
        if (text.starts_with(format.ai))
            return format;
    if (text.size() >= 2 && text[0] == '9' && text[1] >= '1' && text[1] <= '9')
        return Format{text.substr(0, 2), kOwn.kind, kOwn.least, kOwn.most};
    return std::nullopt;
}

unsigned lastDayOf(int year, unsigned month) {
    const std::chrono::year_month_day_last last{std::chrono::year{year},
                                                std::chrono::month_day_last{std::chrono::month{month}}};
    return unsigned(last.day());
}

class Reader {
public:
    Reader(std::string_view text, int currentYear) : text_(text), year_(currentYear) {}

    Result<ScannedLabel> read() {
        if (auto wrong = readStart())
            return *wrong;
        while (!failed_ && at_ < text_.size())
            if (isPrinted_)
                readPrinted();
            else
                readScanned();
        if (failed_)
            return *failed_;
        if (label_.elements.empty())
            return fault({}, ProblemCode::Missing);
        fill();
        return std::move(label_);
    }

private:
    static Problem fault(std::vector<std::string> args, ProblemCode code = ProblemCode::Conflict) {
        Problem p;
        p.code = code;
        p.field = "scan";
        p.args = std::move(args);
        return p;
    }
    void fail(const char *word, std::size_t at, std::vector<std::string> more = {}) {
        std::vector<std::string> args{word, std::to_string(at + 1)};
        args.insert(args.end(), more.begin(), more.end());
        failed_ = fault(std::move(args));
    }

    // Blanks around, the symbology identifier, and whether it is the printed form.
    std::optional<Problem> readStart() {
        while (!text_.empty() && (text_.back() == ' ' || text_.back() == '\r' || text_.back() == '\n'))
            text_.remove_suffix(1);
        while (at_ < text_.size() && text_[at_] == ' ')
            ++at_;
        if (at_ < text_.size() && text_[at_] == ']') {
            const std::string_view id = text_.substr(at_, 3);
            static constexpr std::array<std::string_view, 5> kGs1 = {"]C1", "]d2", "]e0", "]Q3", "]J1"};
            if (std::ranges::find(kGs1, id) == kGs1.end())
                return fault({"scan_not_gs1", std::to_string(at_ + 1), std::string(id)});
            at_ += 3;
        }
        isPrinted_ = at_ < text_.size() && text_[at_] == '(';
        return std::nullopt;
    }

    void readScanned() {
        if (text_[at_] == kSeparator) {
            ++at_;
            return;
        }
        const auto format = formatAt(text_.substr(at_));
        if (!format)
            return fail("scan_unknown_ai", at_, {std::string(text_.substr(at_, 2))});
        const std::string ai(format->ai);
        at_ += ai.size();
        const std::size_t end = std::min(text_.find(kSeparator, at_), text_.size());
        const std::size_t length = format->isFixed() ? std::min(format->most, end - at_) : end - at_;
        take(*format, at_, text_.substr(at_, length));
        at_ += length;
    }

    // A value ends where the next known AI stands in brackets: a lot may hold brackets of its own.
    void readPrinted() {
        if (text_[at_] == ' ' || text_[at_] == kSeparator) {
            ++at_;
            return;
        }
        const std::size_t length = bracketed(at_);
        if (text_[at_] != '(' || text_.find(')', at_) == std::string_view::npos)
            return fail("scan_bracket", at_);
        if (length == 0)
            return fail("scan_unknown_ai", at_ + 1,
                        {std::string(text_.substr(at_ + 1, text_.find(')', at_) - at_ - 1))});
        const auto format = formatAt(text_.substr(at_ + 1));
        at_ += length;
        std::size_t end = at_;
        while (end < text_.size() && bracketed(end) == 0)
            ++end;
        std::string_view value = text_.substr(at_, end - at_);
        const std::size_t from = at_ + std::min(value.find_first_not_of(' '), value.size());
        while (!value.empty() && (value.back() == ' ' || value.back() == kSeparator))
            value.remove_suffix(1);
        value.remove_prefix(std::min(from - at_, value.size()));
        take(*format, from, value);
        at_ = end;
    }
    // Characters of "(ai)" with a known AI at this place; 0: there is none.
    std::size_t bracketed(std::size_t at) const {
        if (at >= text_.size() || text_[at] != '(')
            return 0;
        const auto format = formatAt(text_.substr(at + 1));
        const std::size_t close = format ? at + 1 + format->ai.size() : 0;
        return format && close < text_.size() && text_[close] == ')' ? format->ai.size() + 2 : 0;
    }

    void take(const Format &format, std::size_t at, std::string_view value) {
        const std::string ai(format.ai);
        if (value.size() < format.least)
            return fail("scan_too_short", at + value.size(), {ai, std::to_string(format.least)});
        if (value.size() > format.most)
            return fail("scan_too_long", at + format.most, {ai, std::to_string(format.most)});
        for (std::size_t i = 0; i < value.size(); ++i)
            if (format.kind != Kind::Text && !isDigit(value[i]))
                return fail("scan_not_digit", at + i, {ai});
            else if (!isAllowed(value[i]))
                return fail("scan_bad_char", at + i, {ai});
        if (format.kind == Kind::CheckedDigits)
            if (const char right = gs1CheckDigit(value.substr(0, value.size() - 1)); right != value.back())
                return fail("scan_check_digit", at + value.size() - 1, {ai, std::string(1, right)});
        if (format.kind == Kind::Date && !gs1Date(value, year_))
            return fail("scan_bad_date", at, {ai, std::string(value)});
        const auto same = std::ranges::find(label_.elements, ai, &Element::ai);
        if (same == label_.elements.end())
            label_.elements.push_back({ai, std::string(value)});
        else if (same->value != value)
            fail("scan_twice", at, {ai});
    }

    std::string valueOf(std::string_view ai) const {
        const auto found = std::ranges::find(label_.elements, ai, &Element::ai);
        return found == label_.elements.end() ? std::string() : found->value;
    }
    std::optional<Date> dateOf(std::string_view ai) const {
        const std::string value = valueOf(ai);
        return value.empty() ? std::nullopt : gs1Date(value, year_);
    }

    void fill() {
        label_.gtin = valueOf("01").empty() ? valueOf("02") : valueOf("01");
        label_.lot = valueOf("10");
        label_.serial = valueOf("21");
        label_.madeOn = dateOf("11");
        label_.expiresOn = dateOf("17");
        const std::string count = valueOf("30").empty() ? valueOf("37") : valueOf("30");
        if (!count.empty())
            label_.count = std::stoll(count); // eight digits at most
        const std::string &lot = label_.lot;
        label_.mayLackSeparator = !label_.expiresOn && lot.size() > 8 &&
                                  lot.substr(lot.size() - 8, 2) == "17" &&
                                  gs1Date(std::string_view(lot).substr(lot.size() - 6), year_);
    }

    std::string_view text_;
    int year_;
    std::size_t at_ = 0;
    bool isPrinted_ = false;
    ScannedLabel label_;
    std::optional<Problem> failed_;
};

} // namespace

std::optional<Date> gs1Date(std::string_view yymmdd, int currentYear) {
    if (yymmdd.size() != 6 || !areDigits(yymmdd))
        return std::nullopt;
    const auto two = [&](std::size_t at) { return (yymmdd[at] - '0') * 10 + (yymmdd[at + 1] - '0'); };
    const int ahead = two(0) - currentYear % 100;
    int year = currentYear - currentYear % 100 + two(0);
    if (ahead >= 51)
        year -= 100;
    else if (ahead <= -50)
        year += 100;
    const auto month = static_cast<unsigned>(two(2));
    if (month < 1 || month > 12)
        return std::nullopt;
    const unsigned last = lastDayOf(year, month);
    const auto day = static_cast<unsigned>(two(4));
    if (day > last)
        return std::nullopt;
    return Date::of(year, month, day == 0 ? last : day);
}

Result<ScannedLabel> readElementStrings(std::string_view text, int currentYear) {
    return Reader(text, currentYear).read();
}

} // namespace kitround::exchange
