#pragma once
// A plain table of text: what the headless program prints, what CSV and JSON copies hold, and what papers are
// made of. Made by desk/views and desk/paper; no rule lives here.
#include <string>
#include <vector>

namespace kitround::desk {

enum class Align : unsigned char { Left, Right };
struct Column {
    std::string name;  // for people: "Run out (1 in 10)"
    std::string key;   // stable, snake_case, for CSV and JSON
    Align align = Align::Left;
    bool isNumber = false; // JSON writes it without quotes; an empty cell is null
};
struct Table {
    std::string title;
    std::string key; // JSON member name
    std::vector<Column> columns;
    std::vector<std::vector<std::string>> rows;
    std::vector<std::string> notes; // lines under the table (cautions, totals)
};

std::string asText(const Table &table, int width); // boxed by blanks, wrapped last column; width in characters
std::string asCsv(const Table &table);
// {"title": ..., "rows": [{key: value, ...}, ...], "notes": [...]}
std::string asJson(const std::vector<Table> &tables, const std::string &verb, const std::string &asOf);

} // namespace kitround::desk
