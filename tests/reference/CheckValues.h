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

// The number after `key=` in the row's parameters ("h=1;p=9"); a failure where there is none.
double after(const CheckRow &row, const std::string &key);
// "key=[1, 2, 3]"
std::vector<double> listAfter(const CheckRow &row, const std::string &key);
bool has(const CheckRow &row, const std::string &column, const std::string &part);
double expected(const CheckRow &row);
double tolerance(const CheckRow &row); // absolute

} // namespace kitround::test
