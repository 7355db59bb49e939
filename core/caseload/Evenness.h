#pragma once
// Gini (1912): sum |x_i - x_j| / (2 n^2 mean), 0 = even. Jain, Chiu and Hawe (1984): (sum x)^2 / (n sum x^2),
// 1 = even. Empty input or all zero: even.
#include <span>

namespace kitround::caseload {

double gini(std::span<const double> values);
double jain(std::span<const double> values);

} // namespace kitround::caseload
