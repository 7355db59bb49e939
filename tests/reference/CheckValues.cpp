#include "tests/reference/CheckValues.h"

#include <fstream>
#include <stdexcept>

namespace kitround::test {
namespace {

std::vector<std::string> fieldsOf(const std::string &line) {
    std::vector<std::string> fields(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"')
            quoted = !quoted;
        else if (c == ',' && !quoted)
            fields.emplace_back();
        else if (c != '\r')
            fields.back() += c;
    }
    return fields;
}

} // namespace

std::vector<CheckRow> checkValues(const std::string &file) {
    std::ifstream in(std::string(KITROUND_SOURCE_DIR) + "/tests/reference/values/" + file);
    std::vector<std::string> columns;
    std::vector<CheckRow> rows;
    for (std::string line; std::getline(in, line);) {
        if (line.empty() || line.front() == '#')
            continue;
        const std::vector<std::string> fields = fieldsOf(line);
        if (columns.empty()) {
            columns = fields;
            continue;
        }
        if (fields.size() != columns.size())
            throw std::runtime_error(file + ": ragged row: " + line);
        CheckRow row;
        for (std::size_t i = 0; i < columns.size(); ++i)
            row[columns[i]] = fields[i];
        rows.push_back(row);
    }
    if (rows.empty())
        throw std::runtime_error(file + ": no rows");
    return rows;
}

} // namespace kitround::test
