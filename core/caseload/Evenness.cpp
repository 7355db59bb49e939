#include "core/caseload/Evenness.h"

#include <algorithm>
#include <vector>

namespace kitround::caseload {

double gini(std::span<const double> values) {
    std::vector<double> x(values.begin(), values.end());
    std::ranges::sort(x);
    const double n = static_cast<double>(x.size());
    double sum = 0;
    double weighted = 0; // sum of (2i - n - 1) x_i is half the sum of all |x_i - x_j|
    for (std::size_t i = 0; i < x.size(); ++i) {
        sum += x[i];
        weighted += (2 * static_cast<double>(i + 1) - n - 1) * x[i];
    }
    return sum > 0 ? weighted / (n * sum) : 0;
}

double jain(std::span<const double> values) {
    double sum = 0;
    double squares = 0;
    for (const double x : values) {
        sum += x;
        squares += x * x;
    }
    return squares > 0 ? sum * sum / (static_cast<double>(values.size()) * squares) : 1;
}

} // namespace kitround::caseload
