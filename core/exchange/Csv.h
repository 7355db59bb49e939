#pragma once
// Comma-separated values by RFC 4180, section 2: quotes doubled, line breaks inside quotes, CRLF or LF read,
// CRLF written. Text is UTF-8; a byte order mark is skipped. Cells that a spreadsheet would run as a formula
// (= + - @ at the start, numbers excepted) are written with a leading apostrophe where asked, and reading
// takes it off again.
#include "core/base/Result.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace kitround::exchange {

struct CsvTable {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows; // each as long as the head, unless kept ragged
    std::vector<int> lines;                     // 1-based line on which each row starts
    friend bool operator==(const CsvTable &, const CsvTable &) = default;
};
struct CsvRead {
    bool allowComments =
        false;             // lines that start with '#', and blank lines, are skipped: for text kept by hand
    bool undoGuard = true; // the other half of CsvWrite::guardFormulas
    // Nothing: comma or semicolon, whichever the first line has more of; spreadsheets of countries with a
    // decimal comma write the semicolon.
    std::optional<char> separator = ',';
    // Rows of another length than the head are given as they are, for who tells all faults of a list at once.
    bool keepsRagged = false;
};
// Problems, with row = line on which the row starts and column = cell, both from 1:
//   Missing (field "head")   nothing in it
//   OutOfRange               a row of another length; args {cells, cells of the head, the same}
//   FileCorrupt              a quote not closed, a stray quote, text after a closing quote, a lone carriage
//   return,
//                            bytes that are not UTF-8, another encoding; args {what, byte offset}
Result<CsvTable> readCsv(std::string_view text, const CsvRead &how = {});

struct CsvWrite {
    bool guardFormulas = true;
};
std::string writeCsv(const CsvTable &table, const CsvWrite &how = {});

} // namespace kitround::exchange
