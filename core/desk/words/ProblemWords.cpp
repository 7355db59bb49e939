// What a Problem says: where, what is wrong, what to do.
#include "core/calendar/VisitNotation.h"
#include "core/desk/words/StateWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <QStringList>

#include <algorithm>
#include <iterator>
#include <string_view>

namespace kitround::desk {
namespace {

QString argument(const Problem &p, std::size_t k) {
    return k < p.args.size() && !p.args[k].empty() ? fromStd(p.args[k]) : Text::tr("(not given)");
}

QString spokenArgument(const Problem &p, std::size_t k) {
    return spoken(argument(p, k));
}

// Data or a code word of core: underscores are never shown.
QString plainly(QString text) {
    return text.replace(u'_', u' ');
}

QString ownName(const FieldNaming &named, const std::string &field) {
    return named && !field.empty() ? named(field) : QString();
}

// A field as the form at hand calls it, else data or a code word of core.
QString otherField(const Problem &p, const FieldNaming &named) {
    const QString own = ownName(named, p.args.empty() ? std::string() : p.args[0]);
    return own.isEmpty() ? plainly(spokenArgument(p, 0)) : QStringLiteral("“%1”").arg(own);
}

QString choices(const Problem &p) {
    return p.args.size() > 1 ? Text::tr("Choose one of: %1.").arg(argument(p, 1))
                             : Text::tr("Choose one of the words on the list.");
}

// What the notation expected at the character, by its code word.
QString expectedText(const QString &code) {
    namespace expected = calendar::expected;
    const std::string word = code.toStdString();
    if (word == expected::kVisits)
        return Text::tr("a number of visits from 1 to 14");
    if (word == expected::kUpperVisits)
        return Text::tr("a number from the first one up to 14");
    if (word == expected::kLetter)
        return Text::tr("W (weeks) or PRN (as needed)");
    if (word == expected::kWeek)
        return Text::tr("W (weeks)");
    if (word == expected::kWeeks)
        return Text::tr("a number of weeks from 1 to 26");
    if (word == expected::kAsNeeded)
        return Text::tr("a number of as-needed visits from 1 to 20");
    if (word == expected::kReason)
        return Text::tr("a short reason without brackets");
    if (word == expected::kClose)
        return Text::tr("a closing bracket");
    if (word == expected::kSeparator)
        return Text::tr("a comma or the end");
    if (word == expected::kEnd)
        return Text::tr("the end (20 parts at most)");
    return plainly(code);
}

// How often, how much and how many visits are the prescriber's to say: nobody is told to make it fit.
bool isPrescribed(const std::string &field) {
    constexpr std::string_view kPrescribed[] = {"most_per_session_ml", "every_days",    "times_a_week",
                                                "most_per_day",        "most_per_week", "segments",
                                                "least_gap_days",      "most_gap_days"};
    return std::ranges::find(kPrescribed, field) != std::end(kPrescribed);
}

// A limit that is kept elsewhere is told, and what was ordered stays: args {mL, "", limit, site}.
QString aboveCommonSentence(const Problem &p) {
    const CavitySite site = p.args[3] == "abdomen" ? CavitySite::Abdomen : CavitySite::Chest;
    return Text::tr("%1 mL is %2. Compare it with the written order and call the prescriber; it is entered "
                    "as prescribed.")
        .arg(numberText(argument(p, 0).toLongLong()),
             commonLimitText(Millilitres::of(argument(p, 2).toLongLong()), site));
}

QString bothEndsSentence(const Problem &p) {
    const QString what = spokenArgument(p, 0), least = spokenArgument(p, 1), most = spokenArgument(p, 2);
    if (isPrescribed(p.field))
        return Text::tr("%1 can't be entered: it has to lie between %2 and %3. Compare it with the written "
                        "order; where the order says so, call the prescriber.")
            .arg(what, least, most);
    if (p.field == "gtin")
        return Text::tr("it has %1 digits and should have %2. Compare it with the label.").arg(what, least);
    if (p.field == "csv")
        return Text::tr(
                   "the row has %1 cells and the head of the list has %2. Look for a comma or a quote too "
                   "many or too few.")
            .arg(what, least);
    return Text::tr("%1 is outside %2 to %3. Enter a value in that range.").arg(what, least, most);
}

// A range may have one end only: a date that may not lie in the future, an expiry that is too near.
QString rangeSentence(const Problem &p) {
    const auto isGiven = [&](std::size_t k) { return k < p.args.size() && !p.args[k].empty(); };
    if (isGiven(1) && isGiven(2))
        return bothEndsSentence(p);
    const QString what = spokenArgument(p, 0);
    const bool isDay = what != argument(p, 0); // days and moments are spoken otherwise than they are kept
    if (isGiven(1))
        return isDay ? Text::tr("%1 lies before %2. Enter that one or a later one.")
                           .arg(what, spokenArgument(p, 1))
                     : Text::tr("%1 is less than %2. Enter %2 or more.").arg(what, spokenArgument(p, 1));
    if (isGiven(2) && isPrescribed(p.field))
        return Text::tr(
                   "%1 is more than %2. Compare it with the written order; where the order says so, call "
                   "the prescriber.")
            .arg(what, spokenArgument(p, 2));
    if (isGiven(2))
        return isDay ? Text::tr("%1 lies after %2. Enter that one or an earlier one.")
                           .arg(what, spokenArgument(p, 2))
                     : Text::tr("%1 is more than %2. Enter %2 or less.").arg(what, spokenArgument(p, 2));
    return Text::tr("%1 is outside what is allowed. Enter another value.").arg(argument(p, 0));
}

// A blank that only a certain person can fill is asked of that person; nobody is invited to guess.
QString missingSentence(const Problem &p) {
    const std::string &field = p.field;
    if (p.args.size() > 1 && p.args[0] == "list_choices")
        return Text::tr("nothing is entered. Enter one of: %1. Where nobody knows, ask first.")
            .arg(argument(p, 1));
    if (field == "connector" && p.args.empty())
        return Text::tr("a kit or a bottle fits one class of catheter, or any. Enter the class as the label "
                        "has it, or say that it fits any.");
    if (field == "connector")
        return Text::tr("it is not known for this catheter, and the kit fits class %1 only. Look at the "
                        "catheter before anything is sent.")
            .arg(argument(p, 0));
    if (field == "most_per_session_ml" || field == "most_per_day")
        return Text::tr("the order names none. Ask the prescriber, and leave it empty until then.");
    if (field == "prescriber")
        return Text::tr("nobody is named. Ask who gave the order, and leave it empty until then.");
    if (field == "reported_on" && !p.args.empty())
        return Text::tr(
                   "a report is due by %1. Enter when it was made, or clear the due day where none is to "
                   "be made.")
            .arg(spokenArgument(p, 0));
    if (field == "referred_at")
        return Text::tr(
            "the day of the referral is not entered. The clock of the first visit starts with it: "
            "enter when the referral came.");
    if (field == "signed_on")
        return Text::tr("not signed yet. Ask the prescriber for it, and leave it empty until then.");
    if (field == "anchor" || field == "anchor_on")
        return Text::tr("no day is entered. Ask on which day a drain is due, and enter that one.");
    constexpr std::string_view kChosen[] = {"site", "side", "pattern", "quality"};
    if (std::ranges::find(kChosen, field) != std::end(kChosen))
        return Text::tr("nothing is chosen. Choose what is known of it; where nobody knows, ask first.");
    return Text::tr("nothing is entered. Fill it in.");
}

QString fieldSentence(const Problem &p, const FieldNaming &named) {
    switch (p.code) {
    case ProblemCode::Missing:
        return missingSentence(p);
    case ProblemCode::NotADate:
        return Text::tr("“%1” is not a date. Enter it as year-month-day, for example 2026-12-07.")
            .arg(argument(p, 0));
    case ProblemCode::NotATime:
        return Text::tr("“%1” is not a time. Enter hours and minutes, for example 09:30.")
            .arg(argument(p, 0));
    case ProblemCode::NotANumber:
        return argument(p, 1) == QLatin1String("decimals")
                   ? Text::tr("“%1” is not a number. Enter digits, with a point before the decimals, for "
                              "example 12.50.")
                         .arg(argument(p, 0))
                   : Text::tr("“%1” is not a whole number. Enter digits only.").arg(argument(p, 0));
    case ProblemCode::OutOfRange:
        return p.field == "most_per_session_ml" && p.args.size() > 3 ? aboveCommonSentence(p)
                                                                     : rangeSentence(p);
    case ProblemCode::Negative:
        return Text::tr("%1 is below zero. Enter zero or more.").arg(argument(p, 0));
    case ProblemCode::TooLong:
        return Text::tr("the text is longer than %1 characters. Shorten it.").arg(argument(p, 0));
    case ProblemCode::UnknownChoice:
        return Text::tr("“%1” is not one of the choices. %2").arg(argument(p, 0), choices(p));
    case ProblemCode::UnknownRecord:
        return Text::
            tr("there is no %1 “%2” in this agency's file. Check the spelling, or enter that record first.")
                .arg(plainly(argument(p, 0)), argument(p, 1));
    case ProblemCode::Duplicate:
        return Text::tr("“%1” is there already. Use another one, or change the record that has it.")
            .arg(spokenArgument(p, 0));
    case ProblemCode::EndBeforeStart:
        return Text::tr("the end (%2) is not after the start (%1). Correct one of the two.")
            .arg(spokenArgument(p, 0), spokenArgument(p, 1));
    case ProblemCode::Conflict:
        return Text::tr("this does not go together with %1. Change one of the two.")
            .arg(otherField(p, named));
    case ProblemCode::BadNotation:
        return Text::tr("“%1” can't be read at character %2: %3 was expected there. Write visit orders like "
                        "2W4, 1W5, 2PRN.")
            .arg(argument(p, 0), QString::number(argument(p, 1).toLongLong() + 1),
                 expectedText(argument(p, 2)));
    case ProblemCode::NotAllowed:
        return Text::tr(
                   "this step is not possible now (%1). Look at the record's state and reload it if another "
                   "seat may have changed it.")
            .arg(plainly(spokenArgument(p, 0)));
    default:
        return {};
    }
}

QString fileSentence(const Problem &p) {
    switch (p.code) {
    case ProblemCode::FileMissing:
        return Text::tr("the file was not found. Check the name and the folder.");
    case ProblemCode::FileNotReadable:
        return Text::tr(
            "the file can't be read. Check that it is a file, and that you have the right to read it.");
    case ProblemCode::FileReadOnly:
        return Text::tr("the file can't be written. Check that its folder exists, that you may write there, "
                        "and that the disk is not write-protected.");
    case ProblemCode::FileLocked:
        return Text::tr("another program holds the file. Close it there, or wait a moment and try again.");
    case ProblemCode::FileCorrupt:
        if (p.field == "csv") // a list that was brought, and no agency file
            return Text::tr(
                       "it can't be read as a list (%1). Save it from the spreadsheet again as CSV, UTF-8, "
                       "and open that.")
                .arg(argument(p, 0));
        return Text::tr("the file is damaged (%1). Keep it as it is, and work on with the newest backup.")
            .arg(argument(p, 0));
    case ProblemCode::FileForeign:
        return Text::tr("this is not an agency file. Choose a file that was made by this program.");
    case ProblemCode::FileTooNew:
        return Text::tr(
                   "the file is of version %1; this program knows versions up to %2. Use the newer program.")
            .arg(argument(p, 0), argument(p, 1));
    case ProblemCode::FileExists:
        return Text::tr(
            "there is a file of that name already. Choose another name; nothing was overwritten.");
    case ProblemCode::DiskFull:
        return Text::tr("the disk is full. Free some space and try again; the file is as it was before.");
    case ProblemCode::StoreFailed:
        return Text::tr("a step on the file failed, and nothing was changed by it. Check the file (File > "
                        "Check the file), and try again.");
    case ProblemCode::ChangedMeanwhile:
        return Text::
            tr("another seat has saved this record (%1) since you opened it. Reload it, look at the change, "
               "and enter yours again.")
                .arg(plainly(argument(p, 0)));
    case ProblemCode::Cancelled:
        return Text::tr("stopped before it was finished. Nothing was changed; start it again when you like.");
    case ProblemCode::Infeasible:
        return Text::tr("this can't be met: %1. Loosen one of the conditions.")
            .arg(plainly(spokenArgument(p, 0)));
    default:
        return {};
    }
}

bool isAboutPath(ProblemCode code) {
    return code >= ProblemCode::FileMissing && code <= ProblemCode::StoreFailed;
}

QString where(const Problem &p, const FieldNaming &named) {
    QStringList parts;
    if (p.row > 0)
        parts << Text::tr("row %1").arg(p.row);
    if (p.column > 0)
        parts << Text::tr("column %1").arg(p.column);
    if (!p.field.empty()) {
        if (p.field == "csv")
            parts << fieldName(p.field);
        else if (isAboutPath(p.code))
            parts << fromStd(p.field);
        else if (const QString own = ownName(named, p.field); !own.isEmpty())
            parts << own;
        else if (p.row > 0 && !named) // an import: as its head has it
            parts << QStringLiteral("%1 (%2)").arg(fieldName(p.field), fromStd(p.field));
        else
            parts << fieldName(p.field);
    }
    QString text = parts.join(QStringLiteral(", "));
    if (!text.isEmpty() && (!isAboutPath(p.code) || p.field == "csv"))
        text[0] = text[0].toUpper();
    return text;
}

} // namespace

QString commonLimitText(Millilitres limit, CavitySite site) {
    return Text::tr("above the common limit of %1 mL a session for the %2 (common practice)")
        .arg(numberText(limit.count()), words(site));
}

// A balance below zero, as the check of the file tells it: place, its number, item number, sum.
static QString ledgerSentence(const Problem &p) {
    return Text::tr("The ledger says %1 of item number %2 at: %3 (number %4). A delivery, a count or a "
                    "receipt was not "
                    "written down: count there, or enter it.")
        .arg(argument(p, 3), argument(p, 2), plainly(argument(p, 0)), argument(p, 1));
}

// A label's last day of use lies too near, or behind.
static QString expirySentence(const Problem &p, const FieldNaming &named) {
    const auto day = [&](std::size_t k) {
        const auto date = Date::fromIso(k < p.args.size() ? p.args[k] : std::string());
        return date ? QStringLiteral("%1 %2").arg(dayText(*date), QString::number(date->year()))
                    : argument(p, k);
    };
    const QString own = ownName(named, p.field);
    return Text::tr("%1: %2 lies before %3, the earliest last day of use that may be taken in. Set it aside "
                    "and tell the supplier.")
        .arg(own.isEmpty() ? fieldName(p.field) : own, day(0), day(1));
}

QString words(const Problem &problem) {
    return words(problem, FieldNaming());
}

QString words(const Problem &problem, const FieldNaming &named) {
    if (problem.code == ProblemCode::Duplicate && problem.field == "value" && problem.row == 0)
        return Text::tr("That is the value now. Enter another one to see what it would change.");
    if (problem.code == ProblemCode::OutOfRange && problem.field == "expires_on" && problem.row == 0 &&
        problem.args.size() >= 2 && !problem.args[1].empty())
        return expirySentence(problem, named);
    if (problem.code == ProblemCode::Negative && problem.field == "stock_movement" &&
        problem.args.size() >= 4)
        return ledgerSentence(problem);
    const bool mayHaveWord =
        problem.code == ProblemCode::Conflict || problem.code == ProblemCode::NotAllowed ||
        problem.code == ProblemCode::Infeasible || problem.code == ProblemCode::FileReadOnly ||
        (problem.code == ProblemCode::Missing &&
         (problem.field == "approved_by" || (!problem.args.empty() && problem.args[0] == "how_many")));
    QString sentence = mayHaveWord ? stateSentence(problem) : QString();
    if (sentence.isEmpty())
        sentence = fieldSentence(problem, named);
    if (sentence.isEmpty())
        sentence = fileSentence(problem);
    const QString place = where(problem, named);
    if (place.isEmpty())
        sentence[0] = sentence[0].toUpper();
    else
        sentence = QStringLiteral("%1: %2").arg(place, sentence);
    const auto more = static_cast<std::int64_t>(flattened(problem).size()) - 1;
    if (more > 0)
        sentence += u' ' + counted(more, Text::tr("One more problem was found."),
                                   Text::tr("%1 more problems were found."));
    return sentence;
}

QString spoken(const QString &argument) {
    const qsizetype size = argument.size();
    const bool isDay = size == 10, isUtc = size == 20 && argument.endsWith(u'Z');
    const bool isMoment = (size == 16 || isUtc) && argument[10] == u'T';
    const auto day = isDay || isMoment ? Date::fromIso(argument.left(10).toStdString()) : std::nullopt;
    if (!day)
        return argument;
    const QString text = dayText(*day) + u' ' + QString::number(day->year());
    if (isDay)
        return text;
    const QString moment = text + u' ' + argument.mid(11, 5);
    return isUtc ? Text::tr("%1 UTC").arg(moment) : moment; // where the agency's zone is not known
}

QString notUpToDateText(const Problem &problem, bool isSaved) {
    const bool isPlain = isAboutPath(problem.code) && problem.code != ProblemCode::StoreFailed &&
                         problem.code != ProblemCode::DiskFull;
    const QString cause = isPlain                     ? fileSentence(problem)
                          : isAboutPath(problem.code) ? Text::tr("the file could not be read just now.")
                                                      : words(problem);
    return isSaved
               ? Text::tr("Saved. The window could not be brought up to date: %1 What it shows is as it was "
                          "before; do not enter your change again. Read the file again.")
                     .arg(cause)
               : Text::tr("The window could not be brought up to date: %1 Nothing is lost; what it shows is "
                          "as it was read last. Read the file again.")
                     .arg(cause);
}

QString technicalDetail(const Problem &problem) {
    QStringList lines;
    for (const Problem &p : flattened(problem))
        if (p.code == ProblemCode::StoreFailed)
            for (const std::string &said : p.args)
                lines << fromStd(said);
    return lines.join(u'\n');
}

QStringList allWords(const Problem &problem) {
    QStringList lines;
    for (const Problem &p : flattened(problem))
        lines << words(p);
    return lines;
}

} // namespace kitround::desk
