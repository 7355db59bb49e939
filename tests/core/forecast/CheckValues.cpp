#include "tests/core/forecast/CheckValues.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace kitround::test {
namespace {

std::vector<std::string> cellsOf(const std::string &line) {
    std::vector<std::string> cells(1);
    bool isQuoted = false;
    for (char c : line) {
        if (c == '"')
            isQuoted = !isQuoted;
        else if (c == ',' && !isQuoted)
            cells.emplace_back();
        else if (c != '\r')
            cells.back() += c;
    }
    return cells;
}

std::vector<double> numbersOf(const std::string &text) {
    std::istringstream in(text);
    std::vector<double> values;
    for (double value = 0; in >> value; in.ignore())
        values.push_back(value);
    return values;
}

} // namespace

std::vector<CheckRow> checkRows(const std::string &file, const std::string &prefix) {
    std::ifstream in(std::string(KITROUND_SOURCE_DIR) + "/tests/core/forecast/" + file);
    std::string line;
    std::getline(in, line);
    const std::vector<std::string> head = cellsOf(line);
    std::vector<CheckRow> rows;
    while (std::getline(in, line)) {
        const std::vector<std::string> cells = cellsOf(line);
        if (cells.front().rfind(prefix, 0) != 0)
            continue;
        CheckRow row;
        for (std::size_t i = 0; i < head.size() && i < cells.size(); ++i)
            row[head[i]] = cells[i];
        rows.push_back(row);
    }
    EXPECT_FALSE(rows.empty()) << file << " has no rows " << prefix;
    return rows;
}

double numberAfter(const std::string &text, const std::string &key) {
    const std::size_t at = text.find(key);
    EXPECT_NE(at, std::string::npos) << key << " in " << text;
    return at == std::string::npos ? 0.0 : std::strtod(text.c_str() + at + key.size(), nullptr);
}

std::vector<double> pmfAfter(const std::string &text, const std::string &key) {
    const std::size_t at = text.find(key);
    EXPECT_NE(at, std::string::npos) << key << " in " << text;
    std::istringstream in(text.substr(at + key.size(), text.find(';', at) - at - key.size()));
    std::vector<double> p;
    std::size_t value = 0;
    char colon = 0;
    double chance = 0;
    while (in >> value >> colon >> chance) {
        if (p.size() <= value)
            p.resize(value + 1, 0.0);
        p[value] = chance;
    }
    return p;
}

std::vector<double> seriesIn(const CheckRow &row) {
    const std::string &text = row.at("parameters");
    const std::size_t y = text.find("y="), series = text.find("series=");
    if (series != std::string::npos) {
        const std::string name = text.substr(series + 7, text.find(';', series) - series - 7);
        return numbersOf(checkRows("series.csv", "SER-" + name).front().at("values"));
    }
    if (y != std::string::npos)
        return numbersOf(text.substr(y + 2, text.find(';', y) - y - 2));
    const std::string &source = row.at("source"); // the handbook's observations stand there
    const std::size_t at = source.find("observations ") + 13;
    return numbersOf(source.substr(at, source.find(';', at) - at));
}

double tolerance(const CheckRow &row) {
    const double size = std::stod(row.at("tolerance"));
    return row.at("tol_kind") == "rel" ? size * std::stod(row.at("expected")) : size;
}

} // namespace kitround::test
