#pragma once
// "The world said no", carried by value. Core names what is wrong (code, field, arguments); the words a
// person reads are made in one place, core/desk/Words. Validation collects every problem, not the first.
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace kitround {

enum class ProblemCode : std::uint8_t {
    // fields
    Missing,        // the field may not be empty
    NotADate,       // args: text as typed
    NotATime,       // args: text
    NotANumber,     // args: text, "decimals" where it need not be whole
    OutOfRange,     // args: value, least, most
    Negative,       // args: value
    TooLong,        // args: most characters
    UnknownChoice,  // args: text, allowed words separated by ", "
    UnknownRecord,  // args: kind of record, what was asked for
    Duplicate,      // args: what is there already
    EndBeforeStart, // args: start, end
    Conflict,       // args: what it conflicts with (a code word the Words know, or plain data)
    BadNotation,    // visit-order text; args: text, offset of the character (0-based), expected
    NotAllowed,     // the step is not possible in this state; args: state
    // the file
    FileMissing,
    FileNotReadable,
    FileReadOnly,
    FileLocked,
    FileCorrupt, // args: detail
    FileForeign, // a database, or a file, of something else
    FileTooNew,  // args: file's version, ours
    FileExists,
    DiskFull,
    StoreFailed,      // args: statement's purpose, driver's words
    ChangedMeanwhile, // another seat saved this record; args: kind
    // work
    Cancelled,
    Infeasible, // args: what cannot be met
};

struct Problem {
    ProblemCode code = ProblemCode::Missing;
    std::string field = {}; // machine name of the field or file, as in the CSV head or the schema
    std::vector<std::string> args = {};
    int row = 0; // 1-based row of an import, 0 where there is none
    int column = 0;
    std::vector<Problem> also = {}; // further problems found in the same pass

    friend bool operator==(const Problem &, const Problem &) = default;
};

using Problems = std::vector<Problem>;

// First problem with the rest hung behind it. Precondition: not empty.
Problem joined(Problems problems);
// The problem and all behind it, flat, in order.
Problems flattened(const Problem &problem);
// Plain words of the code for logs and test failures, not for users.
std::string debugText(const Problem &problem);

} // namespace kitround
