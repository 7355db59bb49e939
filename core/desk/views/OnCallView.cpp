// Who is on call in the weeks ahead, on which days nobody is, and how evenly the turns fall.
#include "core/desk/views/Cells.h"
#include "core/desk/views/ManagerReview.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <utility>

namespace kitround::desk {
namespace {

constexpr int kCallWeeksAhead = 4;
constexpr int kCallWeeksBack = 12; // turns are shared out over a season, not a month

QString unitsText(const Agency &agency, SettingKey key) {
    return QString::number(static_cast<double>(agency.settings()[key]) / 100, 'f', 2);
}

} // namespace

QString bareDaysText(const OnCallReview &review) {
    if (review.bare.empty() || review.duties.empty()) // nobody at all is said by itself
        return {};
    QStringList runs;
    for (auto from = review.bare.begin(); from != review.bare.end();) {
        auto last = from;
        while (last + 1 != review.bare.end() && *(last + 1) == last->plusDays(1))
            ++last;
        runs << (from == last ? dayText(*from) : Text::tr("%1 to %2").arg(dayText(*from), dayText(*last)));
        from = last + 1;
    }
    return counted(static_cast<int>(review.bare.size()), Text::tr("Nobody is on call on 1 day: %2."),
                   Text::tr("Nobody is on call on %1 days: %2."))
        .arg(runs.join(QStringLiteral("; ")));
}

QString words(caseload::CallKind kind) {
    switch (kind) {
    case caseload::CallKind::WeekdayNight:
        return Text::tr("weekday night");
    case caseload::CallKind::Weekend:
        return Text::tr("weekend");
    case caseload::CallKind::Holiday:
        return Text::tr("holiday");
    }
    return {};
}

QString tooShortRestText() {
    return Text::tr("TOO SHORT");
}

Table onCallTable(const OnCallReview &review, const Agency &agency) {
    const std::vector<caseload::CallDuty> &duties = review.duties;
    Table table;
    table.title = Text::tr("On call").toStdString();
    table.key = "on_call";
    table.columns = {textColumn(Text::tr("Day"), "day"),
                     textColumn(Text::tr("From"), "from"),
                     numberColumn(Text::tr("Hours"), "hours"),
                     textColumn(Text::tr("Kind"), "kind"),
                     numberColumn(Text::tr("Units"), "units"),
                     textColumn(Text::tr("Nurse"), "nurse"),
                     textColumn(Text::tr("Rest after"), "rest_after")};
    int tooShort = 0;
    for (const caseload::CallDuty &d : duties) {
        const double hours = static_cast<double>((d.to - d.from).count()) / 60;
        QString rest;
        if (d.restAfter)
            rest = Text::tr("%1 h").arg(shortNumber(static_cast<double>(d.restAfter->count()) / 60));
        if (d.restAfter && d.isTooShort)
            rest = Text::tr("%1: %2, works next day").arg(rest, tooShortRestText());
        tooShort += d.isTooShort ? 1 : 0;
        table.rows.push_back({cell(d.on), cell(timeText(d.from)), cell(hours, 1), cell(words(d.kind)),
                              cell(d.units, 2), nurseOf(agency.index(), d.nurse), cell(rest)});
    }
    table.notes.push_back(
        (duties.empty()
             ? Text::tr("Nobody is on call in these four weeks. Turns are entered as on-call shifts in the "
                        "nurse's record.")
             : counted(tooShort,
                       Text::tr("1 turn is followed by a day's work with less than %2 hours of rest. Units: "
                                "weekday night %3, weekend %4, holiday %5 (Settings)."),
                       Text::tr("%1 turns are followed by a day's work with less than %2 hours of rest. "
                                "Units: weekday night %3, weekend %4, holiday %5 (Settings)."))
                   .arg(numberText(agency.settings()[SettingKey::RestAfterCallHours]),
                        unitsText(agency, SettingKey::CallUnitsNight100),
                        unitsText(agency, SettingKey::CallUnitsWeekend100),
                        unitsText(agency, SettingKey::CallUnitsHoliday100)))
            .toStdString());
    if (const QString bare = bareDaysText(review); !bare.isEmpty())
        table.notes.insert(table.notes.begin(), bare.toStdString());
    return table;
}

Table callFairnessTable(const caseload::CallFairness &fairness, const Agency &agency) {
    Table table;
    table.title = Text::tr("On-call turns by nurse").toStdString();
    table.key = "on_call_fairness";
    table.columns = {textColumn(Text::tr("Nurse"), "nurse"),
                     numberColumn(Text::tr("Weekday nights"), "nights"),
                     numberColumn(Text::tr("Weekends"), "weekends"),
                     numberColumn(Text::tr("Holidays"), "holidays"),
                     numberColumn(Text::tr("Units"), "units"),
                     numberColumn(Text::tr("Beyond even"), "beyond_even"),
                     numberColumn(Text::tr("Too little rest"), "too_short")};
    for (const caseload::CallShare &s : fairness.shares)
        table.rows.push_back({nurseOf(agency.index(), s.nurse), cell(std::int64_t{s.nights}),
                              cell(std::int64_t{s.weekends}), cell(std::int64_t{s.holidays}),
                              cell(s.units, 2), cell(s.beyondEven, 2), cell(std::int64_t{s.tooShort})});
    const QString nobody = Text::tr("Nobody has taken a turn from %1 to %2.")
                               .arg(dayText(fairness.days.from), dayText(fairness.days.to.plusDays(-1)));
    if (fairness.evenShare <= 0) {
        table.notes.push_back(nobody.toStdString());
        return table;
    }
    table.notes.push_back(
        Text::tr("%1 to %2. Even share %3 units a nurse who takes turns; Gini %4 (0 is even).")
            .arg(dayText(fairness.days.from), dayText(fairness.days.to.plusDays(-1)),
                 QString::number(fairness.evenShare, 'f', 2), QString::number(fairness.gini, 'f', 2))
            .toStdString());
    QStringList without;
    for (const NurseId id : fairness.withoutTurns)
        without << fromStd(nurseOf(agency.index(), id));
    if (!without.isEmpty())
        table.notes.push_back(Text::tr("No turn: %1.").arg(without.join(QStringLiteral("; "))).toStdString());
    return table;
}

OnCallReview onCallReview(const Agency &agency) {
    const Date today = agency.today(), end = today.plusDays(7 * kCallWeeksAhead);
    std::vector<caseload::CallDuty> duties = caseload::callDuties(agency.snapshot(), {today, end});
    std::vector<Date> bare = caseload::daysWithoutCall(duties, {today, end});
    return {std::move(duties), std::move(bare),
            caseload::callFairness(agency.snapshot(), {today.plusDays(-7 * kCallWeeksBack), end})};
}

} // namespace kitround::desk
