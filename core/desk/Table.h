#pragma once
// A plain table of text: what the headless program prints, what CSV and JSON copies hold, and what papers are
// made of. Made by desk/views and desk/paper; no rule lives here.
#include <string>
#include <vector>

namespace kitround::desk {

enum class Align : unsigned char { Left, Right };
enum class ShownIn : unsigned char { All, CopiesOnly, TextOnly }; // copies: CSV and JSON
struct Column {
    std::string name; // for people: "Run out (1 in 10)"
    std::string key;  // stable, snake_case, for CSV and JSON
    Align align = Align::Left;
    bool isNumber = false; // JSON writes it without quotes; an empty cell is null
    ShownIn shownIn = ShownIn::All;
};
struct Table {
    std::string title;
    std::string key; // JSON member name
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;
    std::vector<std::string> notes; // lines under the table (cautions, totals)
    // The last row sums up the others: it stays last, however they are sorted, and copies leave it out.
    bool endsWithSum = false;
};

// Without the columns that only copies hold: what people read.
Table asRead(const Table &table);

// Columns parted by two blanks; where they do not fit `width` characters, the widest are wrapped at blanks.
// Numbers, dates and words of up to 22 characters are never cut, so a table of many columns may be wider.
std::string asText(const Table &table, int width);
// The keys as head, RFC 4180; cells that a spreadsheet would run are guarded. Title and notes are left out.
std::string asCsv(const Table &table);
// {"verb": ..., "as_of": ..., "tables": {key: {"title": ..., "rows": [{column key: value}, ...], "notes":
// [...]}}} Members in the order of tables and columns; text that is not UTF-8 is repaired, so the JSON is
// always valid.
std::string asJson(const std::vector<Table> &tables, const std::string &verb, const std::string &asOf);

} // namespace kitround::desk
