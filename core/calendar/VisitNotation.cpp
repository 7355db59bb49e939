#include "core/calendar/VisitNotation.h"

#include "core/records/Validate.h"

#include <algorithm>
#include <optional>

namespace kitround::calendar {
namespace {

constexpr bool isBlank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}
constexpr bool isDigit(char c) {
    return c >= '0' && c <= '9';
}
constexpr char upper(char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}
// Bytes of UTF-8 that continue a character are not characters of their own.
constexpr bool startsCharacter(char c) {
    return (static_cast<unsigned char>(c) & 0xc0U) != 0x80U;
}

std::size_t characters(std::string_view text) {
    return static_cast<std::size_t>(std::ranges::count_if(text, startsCharacter));
}

struct Number {
    int value;
    std::size_t at;
};

// Recursive descent over the text; the first thing that does not fit is kept as the problem.
class Parser {
public:
    explicit Parser(std::string_view text) : text_(text) {}

    Result<std::vector<VisitSegment>> run() {
        std::vector<VisitSegment> segments;
        do {
            const std::optional<VisitSegment> segment = readSegment();
            if (!segment)
                return problem();
            segments.push_back(*segment);
        } while (moreFollows(segments.size()));
        if (!wanted_.empty())
            return problem();
        return segments;
    }

private:
    bool atEnd() const { return at_ == text_.size(); }
    void skipBlanks() {
        while (!atEnd() && isBlank(text_[at_]))
            ++at_;
    }
    std::nullopt_t fail(std::size_t at, std::string_view wanted) {
        wrongAt_ = at;
        wanted_ = wanted;
        return std::nullopt;
    }
    Problem problem() const {
        return {
            ProblemCode::BadNotation,
            "visit_order",
            {std::string(text_), std::to_string(characters(text_.substr(0, wrongAt_))), std::string(wanted_)},
            0,
            0,
            {}};
    }
    bool take(std::string_view word) {
        if (text_.size() - at_ < word.size())
            return false;
        for (std::size_t i = 0; i < word.size(); ++i)
            if (upper(text_[at_ + i]) != word[i])
                return false;
        at_ += word.size();
        return true;
    }

    // Numbers above every limit all read as 1000, so that no length of digits overflows.
    std::optional<Number> readNumber(std::string_view wanted) {
        skipBlanks();
        Number number{0, at_};
        while (!atEnd() && isDigit(text_[at_]))
            number.value = std::min(number.value * 10 + (text_[at_++] - '0'), 1000);
        if (at_ == number.at)
            return fail(at_, wanted);
        return number;
    }
    bool takeDash() {
        skipBlanks();
        return take("-") || take("\xe2\x80\x93"); // a pasted en dash
    }

    std::optional<VisitSegment> readSegment() {
        const std::optional<Number> first = readNumber(expected::kVisits);
        if (!first)
            return std::nullopt;
        if (takeDash())
            return readRange(*first);
        skipBlanks();
        if (take("W"))
            return readWeeks(*first, *first);
        if (take("PRN"))
            return readAsNeeded(*first);
        return fail(at_, expected::kLetter);
    }

    std::optional<VisitSegment> readRange(Number least) {
        const std::optional<Number> most = readNumber(expected::kUpperVisits);
        if (!most)
            return std::nullopt;
        skipBlanks();
        if (!take("W"))
            return fail(at_, expected::kWeek);
        if (most->value < least.value)
            return fail(most->at, expected::kUpperVisits);
        return readWeeks(least, *most);
    }

    std::optional<VisitSegment> readWeeks(Number least, Number most) {
        if (least.value < 1 || least.value > kMostVisitsAWeek)
            return fail(least.at, expected::kVisits);
        if (most.value > kMostVisitsAWeek)
            return fail(most.at, expected::kUpperVisits);
        const std::optional<Number> weeks = readNumber(expected::kWeeks);
        if (!weeks)
            return std::nullopt;
        if (weeks->value < 1 || weeks->value > kMostSegmentWeeks)
            return fail(weeks->at, expected::kWeeks);
        return VisitSegment{least.value, most.value, weeks->value, false, {}};
    }

    std::optional<VisitSegment> readAsNeeded(Number count) {
        if (count.value < 1 || count.value > kMostAsNeededVisits)
            return fail(count.at, expected::kAsNeeded);
        VisitSegment segment{0, count.value, 0, true, {}};
        const std::size_t afterWord = at_;
        skipBlanks();
        if (take("(")) {
            if (!readReason(segment.reason, ")"))
                return std::nullopt;
            if (!take(")"))
                return fail(at_, expected::kClose);
        } else if (at_ > afterWord && take("FOR")) {
            if (!atEnd() && !isBlank(text_[at_]))
                return fail(at_, expected::kReason);
            if (!readReason(segment.reason, ",;+"))
                return std::nullopt;
        } else {
            at_ = afterWord; // the blank may set the next segment apart
        }
        return segment;
    }

    bool readReason(std::string &reason, std::string_view stops) {
        skipBlanks();
        const std::size_t from = at_;
        while (!atEnd() && stops.find(text_[at_]) == std::string_view::npos) {
            const auto byte = static_cast<unsigned char>(text_[at_]);
            if (byte < 0x20U || byte == 0x7fU || byte == '(' || byte == ')')
                return fail(at_, expected::kReason), false;
            ++at_;
        }
        std::string_view words = text_.substr(from, at_ - from);
        while (!words.empty() && isBlank(words.back()))
            words.remove_suffix(1);
        if (words.empty() || characters(words) > kLongestLine)
            return fail(from, expected::kReason), false;
        reason = words;
        return true;
    }

    // Steps over what sets segments apart. False at the end and where something else stands there.
    bool moreFollows(std::size_t sofar) {
        const std::size_t before = at_;
        skipBlanks();
        const bool hasMark = take(",") || take(";") || take("+");
        skipBlanks();
        if (atEnd() && !hasMark)
            return false;
        if (sofar == kMostSegments)
            return fail(before, expected::kEnd), false;
        if (!hasMark && (at_ == before || !isDigit(text_[at_])))
            return fail(at_, expected::kSeparator), false;
        return true;
    }

    std::string_view text_;
    std::size_t at_ = 0;
    std::size_t wrongAt_ = 0;
    std::string_view wanted_; // empty: nothing is wrong so far
};

std::string printSegment(const VisitSegment &segment) {
    if (segment.isAsNeeded) {
        const std::string text = std::to_string(segment.mostPerWeek) + "PRN";
        return segment.reason.empty() ? text : text + " (" + segment.reason + ")";
    }
    std::string text = std::to_string(segment.leastPerWeek);
    if (segment.mostPerWeek != segment.leastPerWeek)
        text += "-" + std::to_string(segment.mostPerWeek);
    return text + "W" + std::to_string(segment.weeks);
}

} // namespace

Result<std::vector<VisitSegment>> parseVisitOrder(std::string_view text) {
    return Parser(text).run();
}

std::string printVisitOrder(const std::vector<VisitSegment> &segments) {
    std::string text;
    for (const VisitSegment &segment : segments)
        text.append(text.empty() ? "" : ", ").append(printSegment(segment));
    return text;
}

VisitTotals totals(const std::vector<VisitSegment> &segments) {
    VisitTotals sum;
    for (const VisitSegment &segment : segments) {
        if (segment.isAsNeeded) {
            sum.asNeeded += segment.mostPerWeek;
            continue;
        }
        sum.least += segment.leastPerWeek * segment.weeks;
        sum.most += segment.mostPerWeek * segment.weeks;
        sum.weeks += segment.weeks;
    }
    return sum;
}

} // namespace kitround::calendar
