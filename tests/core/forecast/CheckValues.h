#pragma once
// Rows of the check values beside these tests, by column name.
#include <map>
#include <string>
#include <vector>

namespace kitround::test {

using CheckRow = std::map<std::string, std::string>;
// Rows whose id starts with `prefix`; a test fails where there are none.
std::vector<CheckRow> checkRows(const std::string &file, const std::string &prefix);
// The number after `key` in a parameter text ("P(done)=0.9 independent").
double numberAfter(const std::string &text, const std::string &key);
// "1:0.8 2:0.2" after `key`, as probabilities by value.
std::vector<double> pmfAfter(const std::string &text, const std::string &key);
// The series of a row: named (series.csv), after "y=", or among the words of its source.
std::vector<double> seriesIn(const CheckRow &row);
double tolerance(const CheckRow &row); // absolute

} // namespace kitround::test
