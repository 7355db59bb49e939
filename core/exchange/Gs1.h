#pragma once
// What a scanner reads from a GS1 symbol on a box: element strings, each an application identifier (AI) and
// its value, one after the other. Fixed-length ones follow without a sign between them; after a variable one
// stands FNC1, sent as GS (0x1D), unless it is the last. The printed form "(01)0952...(10)LOT7" is read as
// well. GS1 General Specifications, sections 3 (AI formats), 7.8 (processing), 7.11 (characters), 7.12
// (century of a date).
#include "core/base/Date.h"
#include "core/base/Result.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kitround::exchange {

struct Element {
    std::string ai; // "01"
    std::string value;
    friend bool operator==(const Element &, const Element &) = default;
};
struct ScannedLabel {
    std::vector<Element> elements;     // in the order of the label; a repeated equal one stands once
    std::string gtin;                  // (01), else (02): the item inside; 14 digits
    std::string lot;                   // (10)
    std::string serial;                // (21)
    std::optional<Date> madeOn;        // (11)
    std::optional<Date> expiresOn;     // (17): the last day of use
    std::optional<std::int64_t> count; // (30) or (37)
    // A lot that ends like a date of expiry while none is given: the scanner may have dropped the separator.
    bool mayLackSeparator = false;
};

// Symbology identifiers (]C1, ]d2, ]e0, ]Q3, ]J1) and separators at the start or the end are passed over.
// Problems, all at "scan": Missing for nothing; else Conflict with args {word, character from 1, ...}:
//   scan_not_gs1      {.., identifier}              scan_unknown_ai  {.., digits found}
//   scan_too_short    {.., ai, characters needed}   scan_too_long    {.., ai, characters allowed}
//   scan_not_digit    {.., ai}                      scan_bad_char    {.., ai}
//   scan_check_digit  {.., ai, right digit}         scan_bad_date    {.., ai, value}
//   scan_twice        {.., ai}: two different values of one AI
//   scan_bracket      {..}: the printed form lacks a bracket
Result<ScannedLabel> readElementStrings(std::string_view text, int currentYear);

// YYMMDD with the century that lies nearest: a year 51 to 99 ahead of the present one is of the last century,
// one 50 to 99 behind is of the next. Day 00: the last day of the month. Nothing where there is no such day.
std::optional<Date> gs1Date(std::string_view yymmdd, int currentYear);

} // namespace kitround::exchange
