#include "core/exchange/Csv.h"

#include "core/exchange/Utf8.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace kitround::exchange {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

// Sign, digits, one point, exponent: what a spreadsheet takes as a number and never runs.
bool isNumber(std::string_view s) {
    std::size_t i = !s.empty() && (s[0] == '+' || s[0] == '-') ? 1 : 0;
    const auto digits = [&] {
        const std::size_t from = i;
        while (i < s.size() && isDigit(s[i]))
            ++i;
        return i - from;
    };
    std::size_t mantissa = digits();
    if (i < s.size() && s[i] == '.') {
        ++i;
        mantissa += digits();
    }
    if (mantissa == 0)
        return false;
    if (i < s.size() && (s[i] == 'e' || s[i] == 'E')) {
        ++i;
        if (i < s.size() && (s[i] == '+' || s[i] == '-'))
            ++i;
        if (digits() == 0)
            return false;
    }
    return i == s.size();
}

bool looksLikeFormula(std::string_view cell) {
    return !cell.empty() && std::string_view("=+-@\t\r").find(cell[0]) != std::string_view::npos &&
           !isNumber(cell);
}

// Apostrophes before a formula count too, so that guarding can be undone without loss.
bool isGuardable(std::string_view cell) {
    const std::size_t first = cell.find_first_not_of('\'');
    return first != std::string_view::npos && looksLikeFormula(cell.substr(first));
}

char separatorOf(std::string_view text) {
    const std::string_view head = text.substr(0, text.find('\n'));
    return std::ranges::count(head, ';') > std::ranges::count(head, ',') ? ';' : ',';
}

class Reader {
public:
    Reader(std::string_view text, const CsvRead &how)
        : text_(text), how_(how), separator_(how.separator.value_or(separatorOf(text))),
          cellEnds_(std::string(1, separator_) + "\r\n") {}

    Result<CsvTable> read() {
        if (Problems found = encodingProblems(); !found.empty())
            return joined(std::move(found));
        if (text_.starts_with(kByteOrderMark))
            at_ = kByteOrderMark.size();
        CsvTable table;
        bool hasHead = false;
        while (at_ < text_.size()) {
            if (how_.allowComments && skipsLine())
                continue;
            const int startedOn = line_;
            std::vector<std::string> cells;
            if (!readRow(cells))
                return *problem_;
            if (!std::exchange(hasHead, true)) {
                table.head = std::move(cells);
                continue;
            }
            if (cells.size() != table.head.size() && !how_.keepsRagged)
                return wrongLength(cells.size(), table.head.size(), startedOn);
            table.rows.push_back(std::move(cells));
            table.lines.push_back(startedOn);
        }
        if (!hasHead)
            return Problem{ProblemCode::Missing, "head", {}, 1, 1, {}};
        return table;
    }

private:
    Problems encodingProblems() const {
        if (text_.starts_with("\xFF\xFE") || text_.starts_with("\xFE\xFF"))
            return {
                Problem{ProblemCode::FileCorrupt, "csv", {"the text is UTF-16, not UTF-8", "0"}, 1, 1, {}}};
        const std::size_t bad = std::min(firstInvalidUtf8(text_), text_.find('\0'));
        if (bad == std::string_view::npos)
            return {};
        const auto line =
            1 + std::count(text_.begin(), text_.begin() + static_cast<std::ptrdiff_t>(bad), '\n');
        return {Problem{ProblemCode::FileCorrupt,
                        "csv",
                        {"not UTF-8 text", std::to_string(bad)},
                        static_cast<int>(line),
                        0,
                        {}}};
    }

    // A comment or a blank line; only ever asked where a row could start.
    bool skipsLine() {
        const char c = text_[at_];
        if (c != '#' && c != '\n' && !text_.substr(at_).starts_with("\r\n"))
            return false;
        const std::size_t end = text_.find('\n', at_);
        at_ = end == std::string_view::npos ? text_.size() : end + 1;
        ++line_;
        return true;
    }

    bool readRow(std::vector<std::string> &cells) {
        rowLine_ = line_;
        while (true) {
            column_ = static_cast<int>(cells.size()) + 1;
            std::string cell;
            const bool isQuoted = at_ < text_.size() && text_[at_] == '"';
            if (!(isQuoted ? readQuoted(cell) : readBare(cell)))
                return false;
            if (how_.undoGuard && cell.starts_with('\'') && isGuardable(cell))
                cell.erase(0, 1);
            cells.push_back(std::move(cell));
            if (at_ >= text_.size())
                return true;
            if (text_[at_] == separator_) {
                ++at_;
                continue;
            }
            return endLine();
        }
    }

    bool endLine() {
        if (text_[at_] == '\r')
            ++at_;
        if (at_ >= text_.size() || text_[at_] != '\n')
            return refuse("a carriage return without a line feed");
        ++at_;
        ++line_;
        return true;
    }

    bool readBare(std::string &cell) {
        const std::size_t end = std::min(text_.find_first_of(bareEnds_, at_), text_.size());
        cell = text_.substr(at_, end - at_);
        at_ = end;
        return end == text_.size() || text_[end] != '"' || refuse("a quote inside a cell without quotes");
    }

    bool readQuoted(std::string &cell) {
        ++at_;
        while (true) {
            const std::size_t end = text_.find('"', at_);
            if (end == std::string_view::npos)
                return refuse("a quote that is never closed");
            cell += text_.substr(at_, end - at_);
            line_ += static_cast<int>(std::ranges::count(text_.substr(at_, end - at_), '\n'));
            at_ = end + 1;
            if (at_ >= text_.size() || text_[at_] != '"')
                break;
            cell += '"';
            ++at_;
        }
        const bool isEnded = at_ >= text_.size() || cellEnds_.find(text_[at_]) != std::string::npos;
        return isEnded || refuse("text after a closing quote");
    }

    bool refuse(const char *what) {
        problem_ =
            Problem{ProblemCode::FileCorrupt, "csv", {what, std::to_string(at_)}, rowLine_, column_, {}};
        return false;
    }

    static Problem wrongLength(std::size_t cells, std::size_t wanted, int line) {
        const std::string most = std::to_string(wanted);
        const std::size_t firstWrong = std::min(cells, wanted) + 1;
        return {ProblemCode::OutOfRange,      "csv", {std::to_string(cells), most, most}, line,
                static_cast<int>(firstWrong), {}};
    }

    std::string_view text_;
    CsvRead how_;
    char separator_;
    std::string cellEnds_;
    std::string bareEnds_ = cellEnds_ + '"';
    std::size_t at_ = 0;
    int line_ = 1;
    int rowLine_ = 1;
    int column_ = 1;
    std::optional<Problem> problem_;
};

void writeCell(std::string &out, std::string_view cell, const CsvWrite &how) {
    const bool isGuarded = how.guardFormulas && isGuardable(cell);
    if (cell.find_first_of(",\"\r\n") == std::string_view::npos) {
        if (isGuarded)
            out += '\'';
        out += cell;
        return;
    }
    out += '"';
    if (isGuarded)
        out += '\'';
    for (const char c : cell) {
        if (c == '"')
            out += '"';
        out += c;
    }
    out += '"';
}

void writeRow(std::string &out, const std::vector<std::string> &cells, const CsvWrite &how) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (i > 0)
            out += ',';
        writeCell(out, cells[i], how);
    }
    out += "\r\n";
}

} // namespace

Result<CsvTable> readCsv(std::string_view text, const CsvRead &how) {
    return Reader(text, how).read();
}

std::string writeCsv(const CsvTable &table, const CsvWrite &how) {
    std::string out;
    writeRow(out, table.head, how);
    for (const auto &row : table.rows)
        writeRow(out, row, how);
    return out;
}

} // namespace kitround::exchange
