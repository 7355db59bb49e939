#pragma once
// Reads a table of published values: lines with # give the source, the next line names the columns.
#include <map>
#include <string>
#include <vector>

namespace kitround::test {

using CheckRow = std::map<std::string, std::string>; // by column
// Rows of tests/reference/values/<file>. Throws where the file is missing, empty or ragged, so that no test
// can pass on nothing.
std::vector<CheckRow> checkValues(const std::string &file);

} // namespace kitround::test
