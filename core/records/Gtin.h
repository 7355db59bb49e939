#pragma once
// Article numbers (GTIN) and their check digit.
#include <string_view>

namespace kitround {

// GS1 check digit of the digits before it: weights 3 and 1 from the right, to the next ten (GS1 General
// Specifications, "Check digit calculations", modulo 10). Precondition: digits only.
constexpr char gs1CheckDigit(std::string_view digits) {
    int sum = 0;
    for (std::size_t i = 0; i < digits.size(); ++i)
        sum += (digits[digits.size() - 1 - i] - '0') * (i % 2 == 0 ? 3 : 1);
    return static_cast<char>('0' + (10 - sum % 10) % 10);
}

} // namespace kitround
