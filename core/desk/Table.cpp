#include "core/desk/Table.h"

#include "core/exchange/Csv.h"

#include <QString>
#include <QStringList>

#include <algorithm>
#include <cctype>
#include <numeric>

namespace kitround::desk {
namespace {

constexpr std::size_t kGap = 2;          // blanks between columns
constexpr std::size_t kNarrowest = 8;    // a text column is not squeezed below this
constexpr std::size_t kLongestWord = 22; // longer words are cut

std::size_t lengthOf(const QString &text) {
    return static_cast<std::size_t>(text.toUcs4().size());
}

QString filled(const QString &text, std::size_t width, Align align) {
    const std::size_t used = lengthOf(text);
    const QString blanks(static_cast<qsizetype>(width > used ? width - used : 0), u' ');
    return align == Align::Right ? blanks + text : text + blanks;
}

// Broken at blanks; a word longer than the width is cut.
QStringList wrapped(const QString &text, std::size_t width) {
    QStringList lines;
    QString line;
    for (QString word : text.simplified().split(u' ')) {
        if (!line.isEmpty() && lengthOf(line) + 1 + lengthOf(word) <= width) {
            line += u' ' + word;
            continue;
        }
        if (!line.isEmpty())
            lines << line;
        for (auto points = word.toUcs4(); static_cast<std::size_t>(points.size()) > width;
             points = word.toUcs4()) {
            const auto cut = static_cast<qsizetype>(width);
            lines << QString::fromUcs4(reinterpret_cast<const char32_t *>(points.constData()), cut);
            word = QString::fromUcs4(reinterpret_cast<const char32_t *>(points.constData()) + cut,
                                     points.size() - cut);
        }
        line = word;
    }
    lines << line;
    return lines;
}

using Cells = std::vector<QString>;

// The table with only the columns that are shown there.
Table reducedTo(const Table &table, ShownIn left) {
    Table reduced;
    reduced.title = table.title;
    reduced.key = table.key;
    reduced.notes = table.notes;
    reduced.endsWithSum = table.endsWithSum;
    reduced.rows.resize(table.rows.size());
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        if (table.columns[c].shownIn == left)
            continue;
        reduced.columns.push_back(table.columns[c]);
        for (std::size_t r = 0; r < table.rows.size(); ++r)
            reduced.rows[r].push_back(c < table.rows[r].size() ? table.rows[r][c] : std::string());
    }
    return reduced;
}

// A sum among the rows would be read as one record more.
Table asCopied(const Table &table) {
    Table copied = reducedTo(table, ShownIn::TextOnly);
    if (copied.endsWithSum && !copied.rows.empty())
        copied.rows.pop_back();
    copied.endsWithSum = false;
    return copied;
}

std::size_t longestWord(const QString &text) {
    std::size_t longest = 0;
    for (const QString &word : text.split(u' '))
        longest = std::max(longest, lengthOf(word));
    return longest;
}

// How far a column may be squeezed: never through a date or a name, unless it is longer than kLongestWord;
// numbers keep their width, their heads may wrap. Row 0 is the head.
std::size_t narrowest(const Column &column, const std::vector<Cells> &rows, std::size_t c) {
    std::size_t width = std::min(kNarrowest, longestWord(rows[0][c]));
    for (std::size_t r = 0; r < rows.size(); ++r)
        width = std::max(width, column.align == Align::Right && r > 0
                                    ? lengthOf(rows[r][c])
                                    : std::min(longestWord(rows[r][c]), kLongestWord));
    return width;
}

std::vector<std::size_t> columnWidths(const Table &table, const std::vector<Cells> &rows, std::size_t width) {
    std::vector<std::size_t> widths(table.columns.size(), 1), least;
    for (const Cells &row : rows)
        for (std::size_t c = 0; c < widths.size(); ++c)
            widths[c] = std::max(widths[c], lengthOf(row[c]));
    for (std::size_t c = 0; c < widths.size(); ++c)
        least.push_back(std::min(widths[c], narrowest(table.columns[c], rows, c)));
    const auto total = [&] {
        return std::accumulate(widths.begin(), widths.end(), std::size_t{0}) + kGap * (widths.size() - 1);
    };
    while (total() > width) { // the widest column gives way first
        auto widest = widths.end();
        for (auto w = widths.begin(); w != widths.end(); ++w) {
            const auto c = static_cast<std::size_t>(w - widths.begin());
            if (*w > least[c] && (widest == widths.end() || *w >= *widest))
                widest = w;
        }
        if (widest == widths.end())
            break;
        --*widest;
    }
    return widths;
}

QString withoutTrailingBlanks(QString line) {
    while (line.endsWith(u' '))
        line.chop(1);
    return line;
}

void writeRow(QString &out, const Table &table, const Cells &row, const std::vector<std::size_t> &widths) {
    std::vector<QStringList> parts;
    qsizetype height = 1;
    for (std::size_t c = 0; c < row.size(); ++c) {
        parts.push_back(wrapped(row[c], widths[c]));
        height = std::max(height, parts.back().size());
    }
    for (qsizetype k = 0; k < height; ++k) {
        QString line;
        for (std::size_t c = 0; c < row.size(); ++c) {
            if (c > 0)
                line += QString(static_cast<qsizetype>(kGap), u' ');
            line += filled(k < parts[c].size() ? parts[c][k] : QString(), widths[c], table.columns[c].align);
        }
        out += withoutTrailingBlanks(line) + u'\n';
    }
}

Cells asCells(const std::vector<std::string> &row, std::size_t columns) {
    Cells cells;
    for (std::size_t c = 0; c < columns; ++c)
        cells.push_back(c < row.size() ? QString::fromStdString(row[c]).simplified() : QString());
    return cells;
}

void appendQuoted(std::string &out, const std::string &text) {
    static constexpr char kHex[] = "0123456789abcdef";
    // Through QString, so that bytes that are not UTF-8 become the replacement character and the JSON stays
    // valid.
    const std::string clean = QString::fromStdString(text).toStdString();
    out += '"';
    for (const char c : clean) {
        const auto byte = static_cast<unsigned char>(c);
        switch (c) {
        case '"':
            out += "\\\"";
            break;
        case '\\':
            out += "\\\\";
            break;
        case '\n':
            out += "\\n";
            break;
        case '\r':
            out += "\\r";
            break;
        case '\t':
            out += "\\t";
            break;
        default:
            if (byte < 0x20) {
                out += "\\u00";
                out += kHex[byte >> 4];
                out += kHex[byte & 0xf];
            } else
                out += c;
        }
    }
    out += '"';
}

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

// A number by RFC 8259, section 6.
bool isJsonNumber(const std::string &text) {
    std::size_t at = 0;
    const auto digits = [&] {
        const std::size_t first = at;
        while (at < text.size() && isDigit(text[at]))
            ++at;
        return at - first;
    };
    if (at < text.size() && text[at] == '-')
        ++at;
    const bool leadingZero = at < text.size() && text[at] == '0';
    const std::size_t whole = digits();
    if (whole == 0 || (leadingZero && whole > 1))
        return false;
    if (at < text.size() && text[at] == '.') {
        ++at;
        if (digits() == 0)
            return false;
    }
    if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
        ++at;
        if (at < text.size() && (text[at] == '+' || text[at] == '-'))
            ++at;
        if (digits() == 0)
            return false;
    }
    return at == text.size();
}

void appendCell(std::string &out, const Column &column, const std::string &cell) {
    if (column.isNumber && cell.empty())
        out += "null";
    else if (column.isNumber && isJsonNumber(cell))
        out += cell;
    else
        appendQuoted(out, cell);
}

void appendTable(std::string &out, const Table &table) {
    out += "{\"title\": ";
    appendQuoted(out, table.title);
    out += ", \"rows\": [";
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
        out += r == 0 ? "\n      {" : ",\n      {";
        for (std::size_t c = 0; c < table.columns.size(); ++c) {
            if (c > 0)
                out += ", ";
            appendQuoted(out, table.columns[c].key);
            out += ": ";
            appendCell(out, table.columns[c], c < table.rows[r].size() ? table.rows[r][c] : std::string());
        }
        out += '}';
    }
    out += table.rows.empty() ? "], \"notes\": [" : "\n    ], \"notes\": [";
    for (std::size_t n = 0; n < table.notes.size(); ++n) {
        if (n > 0)
            out += ", ";
        appendQuoted(out, table.notes[n]);
    }
    out += "]}";
}

} // namespace

Table asRead(const Table &table) {
    return reducedTo(table, ShownIn::CopiesOnly);
}

std::string asText(const Table &whole, int width) {
    const Table table = asRead(whole);
    const std::size_t columns = table.columns.size();
    const std::size_t room = static_cast<std::size_t>(std::max(width, 20));
    QString out;
    if (!table.title.empty())
        out += QString::fromStdString(table.title) + QStringLiteral("\n\n");
    if (columns > 0) {
        std::vector<Cells> rows;
        Cells head;
        for (const Column &column : table.columns)
            head.push_back(QString::fromStdString(column.name));
        rows.push_back(head);
        for (const auto &row : table.rows)
            rows.push_back(asCells(row, columns));
        const auto widths = columnWidths(table, rows, room);
        writeRow(out, table, head, widths);
        Cells rule;
        for (const std::size_t w : widths)
            rule.push_back(QString(static_cast<qsizetype>(w), u'-'));
        writeRow(out, table, rule, widths);
        for (std::size_t r = 1; r < rows.size(); ++r)
            writeRow(out, table, rows[r], widths);
        if (table.rows.empty())
            out += QStringLiteral("(nothing)\n");
    }
    if (!table.notes.empty())
        out += u'\n';
    for (const std::string &note : table.notes)
        out += wrapped(QString::fromStdString(note), room).join(u'\n') + u'\n';
    return out.toStdString();
}

std::string asCsv(const Table &whole) {
    const Table table = asCopied(whole);
    exchange::CsvTable csv;
    for (const Column &column : table.columns)
        csv.head.push_back(column.key);
    for (const auto &row : table.rows) {
        csv.rows.push_back(row);
        csv.rows.back().resize(table.columns.size());
    }
    return exchange::writeCsv(csv);
}

std::string asJson(const std::vector<Table> &tables, const std::string &verb, const std::string &asOf) {
    std::string out = "{\n  \"verb\": ";
    appendQuoted(out, verb);
    out += ",\n  \"as_of\": ";
    appendQuoted(out, asOf);
    out += ",\n  \"tables\": {";
    for (std::size_t t = 0; t < tables.size(); ++t) {
        out += t == 0 ? "\n    " : ",\n    ";
        appendQuoted(out, tables[t].key);
        out += ": ";
        appendTable(out, asCopied(tables[t]));
    }
    out += tables.empty() ? "}\n}\n" : "\n  }\n}\n";
    return out;
}

} // namespace kitround::desk
