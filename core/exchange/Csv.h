#pragma once
// Comma-separated values by RFC 4180, section 2: quotes doubled, line breaks inside quotes, CRLF or LF read, CRLF
// written. A UTF-8 byte order mark is skipped. Cells that a spreadsheet would run as a formula (= + - @ at the
// start, numbers excepted) are written with a leading apostrophe only where asked.
#include "core/base/Result.h"

#include <string>
#include <string_view>
#include <vector>

namespace kitround::exchange {

struct CsvTable {
    std::vector<std::string> head;
    std::vector<std::vector<std::string>> rows; // each as long as the head
    std::vector<int> lines;                     // 1-based line on which each row starts
};
struct CsvRead {
    bool allowComments = false; // lines that start with '#', for text kept by hand
};
// Problems: a quote not closed, text after a closing quote, a row of another length (row and column given).
Result<CsvTable> readCsv(std::string_view text, const CsvRead &how = {});

struct CsvWrite {
    bool guardFormulas = true;
};
std::string writeCsv(const CsvTable &table, const CsvWrite &how = {});

} // namespace kitround::exchange
