#pragma once
// What was asked for on the command line, checked before anything is opened.
#include "core/base/Date.h"

#include <QString>
#include <QStringList>

#include <optional>
#include <variant>

namespace kitround::headless {

// What the program says to who called it.
enum class ExitCode : int {
    Done = 0,
    AnswerIsNo = 1,  // what was checked has faults
    WrongUse = 2,    // the command line
    WorldSaidNo = 3, // a file missing, damaged, locked; a disk full
};

enum class Format { Text, Csv, Json };

struct Arguments {
    QString verb;
    QString agency; // path as typed
    std::optional<Date> asOf;
    Format format = Format::Text;
    QString out;    // file; empty = standard output
    QString table;  // key; empty = all tables of the verb
    QString to;     // backup
    QString outDir; // papers
    std::optional<Date> week;
    int weeks = 1;
    std::optional<Date> month;
    std::optional<std::uint64_t> seed;
    std::optional<std::int64_t> iterations;
    bool replan = false;
    QString list; // import: which
    QString from; // import: the file
    bool checkOnly = false;
};

// The run ends here: help was asked for, or the command line can't be used.
struct Stop {
    ExitCode code = ExitCode::Done;
    QString said; // to standard output where Done, else to standard error
};

// `words` without the program's own name.
std::variant<Arguments, Stop> readArguments(const QStringList &words);
// Keys of the tables a verb gives, the main one first; empty for verbs that give none.
QStringList tablesOf(const QString &verb);

} // namespace kitround::headless
