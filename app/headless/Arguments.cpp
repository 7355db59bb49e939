#include "app/headless/Arguments.h"

#include "core/desk/views/ImportPreview.h"
#include "core/desk/views/WeekView.h"

#include <QCommandLineParser>

#include <algorithm>
#include <array>
#include <limits>

namespace kitround::headless {
namespace {

constexpr std::int64_t kMostIterations = 1'000'000'000;

enum Option : unsigned {
    kAsOf = 1,
    kTables = 2, // --format, --out, --table
    kWeek = 4,   // --week, --weeks, --seed, --iterations, --replan
    kTo = 8,
    kOutDir = 16,
    kMonth = 32,
    kImport = 64, // --list, --from, --check
};

struct Verb {
    const char *name;
    const char *does;
    unsigned options;
    std::array<const char *, 4> tables; // main one first
};
constexpr Verb kVerbs[] = {
    {"sample", "makes the invented sample agency as a new file at --agency", kAsOf, {}},
    {"forecast",
     "homes by run-out risk: stock, use of the next four weeks, run-out dates",
     kAsOf | kTables,
     {"forecast"}},
    {"refills", "which homes to call, and what to offer them", kAsOf | kTables, {"refills"}},
    {"reorders", "what to order for the storeroom, and why", kAsOf | kTables, {"reorders", "storeroom"}},
    {"expiry", "lots that fall due, what of them will be lost, and what to do", kAsOf | kTables, {"expiry"}},
    {"starts",
     "first deliveries of new catheters, and what is missing for them",
     kAsOf | kTables,
     {"starts"}},
    {"month", "the supply books of a month, tied to the ledger", kAsOf | kTables | kMonth, {"month"}},
    {"week",
     "the week's visits by day and nurse; planned where nothing is stored, never saved",
     kAsOf | kTables | kWeek,
     {"week", "unplaced", "cost", "broken"}},
    {"caseload",
     "the load of each nurse in a week, who sees whom, visits by two nurses, and decisions of the review",
     kAsOf | kTables | kWeek,
     {"load", "continuity", "joint_visits", "decisions"}},
    {"incidents",
     "what went wrong, open ones first, with the day of a report that leaves the agency",
     kAsOf | kTables,
     {"incidents"}},
    {"attention", "what needs doing today, ordered by harm", kAsOf | kTables, {"attention"}},
    {"backtest",
     "how good past forecasts were on the agency's own log, beside simple ones; takes seconds",
     kAsOf | kTables,
     {"coverage", "methods", "kinds", "in_service"}},
    {"check", "looks for faults in the file; exit code 1 where there are some", kTables, {"check"}},
    {"import",
     "brings a list from a spreadsheet in, or tells its faults and writes nothing",
     kAsOf | kTables | kImport,
     {"import"}},
    {"backup", "writes a consistent copy of the file to --to", kTo, {}},
    {"papers", "draws the papers as PDF into --out-dir", kAsOf | kWeek | kOutDir, {}},
};

const Verb *verbNamed(const QString &name) {
    const auto *const found =
        std::ranges::find_if(kVerbs, [&](const Verb &v) { return name == QLatin1String(v.name); });
    return found == std::end(kVerbs) ? nullptr : found;
}

constexpr auto kExitCodes =
    "Exit codes: 0 done, 1 what was checked has faults, 2 wrong use, 3 a file or the disk said no.\n";

QString mainHelp() {
    QString text = QStringLiteral(
        "Usage: kitround-headless VERB --agency FILE [options]\n\n"
        "Kitround without windows: reads an agency file and prints what the desktop shows.\n\nVerbs:\n");
    for (const Verb &v : kVerbs)
        text += QStringLiteral("  %1 %2\n").arg(QLatin1String(v.name), -10).arg(QLatin1String(v.does));
    return text + QStringLiteral("\n\"kitround-headless VERB --help\" tells the options of a verb.\n") +
           QLatin1String(kExitCodes);
}

Stop wrongUse(const QString &what) {
    return {ExitCode::WrongUse, QStringLiteral("%1 See kitround-headless --help.").arg(what)};
}

void addOptions(QCommandLineParser &parser, const Verb &verb) {
    parser.setApplicationDescription(QLatin1String(verb.does));
    parser.addOption({{QStringLiteral("h"), QStringLiteral("help")}, QStringLiteral("This help.")});
    parser.addOption({QStringLiteral("agency"), QStringLiteral("The agency file."), QStringLiteral("FILE")});
    if (verb.options & kAsOf)
        parser.addOption(
            {QStringLiteral("as-of"),
             QStringLiteral("Today, as year-month-day; else the sample's own day, else the real one."),
             QStringLiteral("DATE")});
    if (verb.options & kTables) {
        parser.addOption({QStringLiteral("format"), QStringLiteral("table, csv or json; default table."),
                          QStringLiteral("NAME")});
        parser.addOption(
            {QStringLiteral("out"),
             QStringLiteral("Write to this file. With csv and several tables the main one goes to FILE, each "
                            "other to a file with its key before the suffix (week-unplaced.csv)."),
             QStringLiteral("FILE")});
        parser.addOption({QStringLiteral("table"),
                          QStringLiteral("Only this table: %1.")
                              .arg(tablesOf(QLatin1String(verb.name)).join(QStringLiteral(", "))),
                          QStringLiteral("KEY")});
    }
    if (verb.options & kWeek) {
        parser.addOption({QStringLiteral("week"),
                          QStringLiteral("The week that holds this day; default next week."),
                          QStringLiteral("DATE")});
        parser.addOption(
            {QStringLiteral("weeks"),
             QStringLiteral("So many weeks planned together, from that one on: 1 to %1; default 1.")
                 .arg(desk::kMostWeeks),
             QStringLiteral("N")});
        parser.addOption({QStringLiteral("seed"),
                          QStringLiteral("Plan anew with this seed; the same seed gives the same plan."),
                          QStringLiteral("N")});
        parser.addOption({QStringLiteral("iterations"),
                          QStringLiteral("Plan anew with this much work; default 20000."),
                          QStringLiteral("N")});
        parser.addOption(
            {QStringLiteral("replan"), QStringLiteral("Plan anew even where a plan is stored.")});
    }
    if (verb.options & kMonth)
        parser.addOption({QStringLiteral("month"),
                          QStringLiteral("The month that holds this day; default the one that ended last."),
                          QStringLiteral("DATE")});
    if (verb.options & kImport) {
        parser.addOption({QStringLiteral("list"),
                          QStringLiteral("What is in it: items, nurses, patients or counts."),
                          QStringLiteral("KIND")});
        parser.addOption({QStringLiteral("from"),
                          QStringLiteral("The list: CSV in UTF-8 with a row of column names. A copy of the "
                                         "agency is kept beside it before anything is written."),
                          QStringLiteral("FILE")});
        parser.addOption(
            {QStringLiteral("check"), QStringLiteral("Only tell the faults; nothing is written.")});
    }
    if (verb.options & kTo)
        parser.addOption(
            {QStringLiteral("to"), QStringLiteral("Where the copy goes."), QStringLiteral("FILE")});
    if (verb.options & kOutDir)
        parser.addOption({QStringLiteral("out-dir"),
                          QStringLiteral("The folder for the papers; made where it is missing."),
                          QStringLiteral("DIR")});
}

QString verbHelp(const QCommandLineParser &parser, const Verb &verb) {
    QString text = parser.helpText();
    // The parser writes the program's file name; ours is fixed and the verb belongs to it.
    const qsizetype end = text.indexOf(u'\n');
    text.replace(
        0, end,
        QStringLiteral("Usage: kitround-headless %1 --agency FILE [options]").arg(QLatin1String(verb.name)));
    if (verb.tables[0] && verb.tables[1])
        text += QStringLiteral("\nWith --format csv choose one table with --table, or give --out.\n");
    return text + u'\n' + QLatin1String(kExitCodes);
}

class Reader {
public:
    explicit Reader(const QCommandLineParser &parser) : parser_(parser) {}

    QString text(const char *name, bool isRequired = false) {
        const QString option = QLatin1String(name);
        if (!parser_.isSet(option)) {
            if (isRequired)
                fail(QStringLiteral("--%1 is missing.").arg(option));
            return {};
        }
        if (parser_.values(option).size() > 1)
            fail(QStringLiteral("--%1 is given more than once.").arg(option));
        const QString value = parser_.value(option);
        if (value.isEmpty())
            fail(QStringLiteral("--%1 needs a value.").arg(option));
        return value;
    }
    std::optional<Date> date(const char *name) {
        const QString value = text(name);
        if (value.isEmpty())
            return std::nullopt;
        const auto date = Date::fromIso(value.toStdString());
        if (!date)
            fail(QStringLiteral("--%1: \"%2\" is not a date; write it as 2026-12-07.")
                     .arg(QLatin1String(name), value));
        return date;
    }
    std::optional<std::int64_t> number(const char *name, std::int64_t least, std::int64_t most) {
        const QString value = text(name);
        if (value.isEmpty())
            return std::nullopt;
        bool isNumber = false;
        const std::int64_t number = value.toLongLong(&isNumber);
        if (!isNumber || number < least || number > most)
            fail(QStringLiteral("--%1: \"%2\" is not a whole number from %3 to %4.")
                     .arg(QLatin1String(name), value, QString::number(least), QString::number(most)));
        return number;
    }
    void fail(const QString &what) {
        if (!stop_)
            stop_ = wrongUse(what);
    }
    const std::optional<Stop> &stop() const { return stop_; }

private:
    const QCommandLineParser &parser_;
    std::optional<Stop> stop_;
};

std::variant<Arguments, Stop> readValues(const QCommandLineParser &parser, const Verb &verb) {
    Arguments a;
    a.verb = QLatin1String(verb.name);
    Reader reader(parser);
    a.agency = reader.text("agency", true);
    if (verb.options & kAsOf)
        a.asOf = reader.date("as-of");
    if (verb.options & kTables) {
        const QString format =
            parser.isSet(QStringLiteral("format")) ? reader.text("format") : QStringLiteral("table");
        if (format == QStringLiteral("csv"))
            a.format = Format::Csv;
        else if (format == QStringLiteral("json"))
            a.format = Format::Json;
        else if (format != QStringLiteral("table"))
            reader.fail(QStringLiteral("--format: \"%1\" is not table, csv or json.").arg(format));
        a.out = reader.text("out");
        a.table = reader.text("table");
        const QStringList tables = tablesOf(a.verb);
        if (!a.table.isEmpty() && !tables.contains(a.table))
            reader.fail(QStringLiteral("--table: \"%1\" is not one of %2.")
                            .arg(a.table, tables.join(QStringLiteral(", "))));
        if (a.format == Format::Csv && a.out.isEmpty() && a.table.isEmpty() && tables.size() > 1)
            reader.fail(QStringLiteral(
                            "%1 gives several tables: with csv choose one with --table (%2), or give --out.")
                            .arg(a.verb, tables.join(QStringLiteral(", "))));
    }
    if (verb.options & kWeek) {
        a.week = reader.date("week");
        a.weeks = static_cast<int>(reader.number("weeks", 1, desk::kMostWeeks).value_or(1));
        if (const auto seed = reader.number("seed", 0, std::numeric_limits<std::int64_t>::max()))
            a.seed = static_cast<std::uint64_t>(*seed);
        a.iterations = reader.number("iterations", 1, kMostIterations);
        a.replan = parser.isSet(QStringLiteral("replan")) || a.seed || a.iterations;
    }
    if (verb.options & kMonth)
        a.month = reader.date("month");
    if (verb.options & kImport) {
        a.list = reader.text("list", true);
        if (!a.list.isEmpty() && !exchange::listNamed(a.list.toStdString()))
            reader.fail(
                QStringLiteral("--list: \"%1\" is not items, nurses, patients or counts.").arg(a.list));
        a.from = reader.text("from", true);
        a.checkOnly = parser.isSet(QStringLiteral("check"));
    }
    if (verb.options & kTo)
        a.to = reader.text("to", true);
    if (verb.options & kOutDir)
        a.outDir = reader.text("out-dir", true);
    if (reader.stop())
        return *reader.stop();
    return a;
}

} // namespace

QStringList tablesOf(const QString &verb) {
    QStringList keys;
    if (const Verb *found = verbNamed(verb))
        for (const char *key : found->tables)
            if (key)
                keys << QLatin1String(key);
    return keys;
}

std::variant<Arguments, Stop> readArguments(const QStringList &words) {
    if (words.isEmpty())
        return wrongUse(QStringLiteral("No verb is given."));
    const QString &first = words.first();
    if (first == QStringLiteral("--help") || first == QStringLiteral("-h") || first == QStringLiteral("help"))
        return Stop{ExitCode::Done, mainHelp()};
    if (first == QStringLiteral("--version"))
        return Stop{ExitCode::Done,
                    QStringLiteral("kitround-headless %1\n").arg(QStringLiteral(KITROUND_VERSION))};
    const Verb *verb = verbNamed(first);
    if (!verb)
        return wrongUse(first.startsWith(u'-')
                            ? QStringLiteral("The verb comes first, before \"%1\".").arg(first)
                            : QStringLiteral("\"%1\" is not a verb.").arg(first));
    QCommandLineParser parser; // parse(), not process(): that one would end the program with codes of its own
    addOptions(parser, *verb);
    const bool parsed = parser.parse(words);
    if (parser.isSet(QStringLiteral("help")))
        return Stop{ExitCode::Done, verbHelp(parser, *verb)};
    if (!parsed)
        return wrongUse(parser.errorText());
    if (!parser.positionalArguments().isEmpty())
        return wrongUse(
            QStringLiteral("\"%1\" is not expected here.").arg(parser.positionalArguments().first()));
    return readValues(parser, *verb);
}

} // namespace kitround::headless
