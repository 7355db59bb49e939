#include "tests/reference/CheckValues.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <sstream>
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

double after(const CheckRow &row, const std::string &key) {
    const std::string text = ";" + row.at("parameters"); // names begin after a semicolon or a blank
    for (const char before : {';', ' '}) {
        const std::size_t at = text.find(before + key + "=");
        if (at != std::string::npos)
            return std::strtod(text.c_str() + at + key.size() + 2, nullptr);
    }
    ADD_FAILURE() << key << " in " << text;
    return 0;
}

std::vector<double> listAfter(const CheckRow &row, const std::string &key) {
    const std::string text = ";" + row.at("parameters");
    std::vector<double> values;
    const std::size_t at = text.find(";" + key + "=[");
    if (at == std::string::npos) {
        ADD_FAILURE() << key << " in " << text;
        return values;
    }
    std::istringstream in(text.substr(at + key.size() + 3));
    for (double value = 0; in >> value; in.ignore())
        values.push_back(value);
    return values;
}

bool has(const CheckRow &row, const std::string &column, const std::string &part) {
    return row.at(column).find(part) != std::string::npos;
}

double expected(const CheckRow &row) {
    return std::stod(row.at("expected"));
}

double tolerance(const CheckRow &row) {
    const double size = std::stod(row.at("tolerance"));
    return row.at("tol_kind") == "rel" ? size * std::abs(expected(row)) : size;
}

} // namespace kitround::test
