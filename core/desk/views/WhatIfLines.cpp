// What the two plans of a what-if are measured by, side by side, and what chance alone would do to it.
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/WhatIf.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

double sumOf(const caseload::LoadReview &review, Minutes caseload::NurseLoad::*minutes) {
    double sum = 0;
    for (const caseload::NurseLoad &load : review.nurses)
        sum += static_cast<double>((load.*minutes).count());
    return sum;
}

double meanShare(const caseload::LoadReview &review) {
    const double capacity = sumOf(review, &caseload::NurseLoad::capacity);
    const double paid =
        sumOf(review, &caseload::NurseLoad::direct) + sumOf(review, &caseload::NurseLoad::travel) +
        sumOf(review, &caseload::NurseLoad::waiting) + sumOf(review, &caseload::NurseLoad::notes);
    return capacity > 0 ? paid / capacity : 0;
}

enum class Good { Less, More, Neither };

QString pointsOfPercent(const QString &number) {
    return number == QStringLiteral("1") ? Text::tr("1 %-point") : Text::tr("%1 %-points").arg(number);
}

WhatIfLine differenceLine(const QString &what, double before, double after, int decimals, Good good,
                          const QString &unit = {}) {
    const auto text = [&](double value) {
        return QString::number(value, 'f', decimals) + (unit.isEmpty() ? QString() : u' ' + unit);
    };
    WhatIfLine l{what, text(before), text(after), {}, Turn::Same};
    const double step = std::pow(10.0, -decimals);
    const double change = std::round(after / step) * step - std::round(before / step) * step;
    if (std::abs(change) < step / 2)
        return l;
    // The difference of two percentages is told in percentage points: 13 % of what would be anybody's guess,
    // and bare points are what visits weigh.
    const QString size = unit == QStringLiteral("%")
                             ? pointsOfPercent(QString::number(std::abs(change), 'f', decimals))
                             : text(std::abs(change));
    l.change = (change > 0 ? QStringLiteral("+") : QStringLiteral("\u2212")) + size;
    if (good != Good::Neither)
        l.turn = (change < 0) == (good == Good::Less) ? Turn::Better : Turn::Worse;
    return l;
}

// What one side of the comparison is measured by.
struct PlanSide {
    const caseload::LoadReview &review;
    const WeekPicture &week;
};
struct PlanMeasure {
    QString what;
    double (*of)(const PlanSide &);
    int decimals = 0;
    Good good = Good::Less;
    QString unit{};
};

double countOf(Minutes minutes) {
    return static_cast<double>(minutes.count());
}
double amountOf(Money money) {
    return static_cast<double>(money.count()) / 100;
}

std::vector<PlanMeasure> workMeasures(const QString &currency, bool paysOvertime) {
    const QString min = Text::tr("min");
    std::vector<PlanMeasure> measures{
        {Text::tr("Visits placed"), [](const PlanSide &s) -> double { return s.review.placed; }, 0,
         Good::Neither},
        {Text::tr("Visits not placed"), [](const PlanSide &s) -> double { return s.review.unplaced; }},
        {Text::tr("Overtime"), [](const PlanSide &s) { return countOf(s.review.overtime); }, 0, Good::Less,
         min},
    };
    if (paysOvertime)
        measures.push_back({Text::tr("Overtime pay"),
                            [](const PlanSide &s) {
                                return amountOf(overtimePaid(s.week.agency->settings(), s.review.overtime));
                            },
                            2, Good::Less, currency});
    const std::vector<PlanMeasure> more{
        {Text::tr("Beyond capacity"), [](const PlanSide &s) { return countOf(s.review.beyondCapacity); }, 0,
         Good::Less, min},
        {Text::tr("With patients"),
         [](const PlanSide &s) { return sumOf(s.review, &caseload::NurseLoad::direct); }, 0, Good::Neither,
         min},
        {Text::tr("Travel"), [](const PlanSide &s) { return sumOf(s.review, &caseload::NurseLoad::travel); },
         0, Good::Less, min},
        {Text::tr("Notes"), [](const PlanSide &s) { return sumOf(s.review, &caseload::NurseLoad::notes); }, 0,
         Good::Neither, min},
        {Text::tr("Mileage"), [](const PlanSide &s) { return amountOf(s.review.mileage); }, 2, Good::Less,
         currency},
    };
    measures.insert(measures.end(), more.begin(), more.end());
    return measures;
}

std::vector<PlanMeasure> shareMeasures(bool isSameMeasure) {
    const QString percent = QStringLiteral("%");
    return {
        {Text::tr("Share of capacity"), [](const PlanSide &s) { return 100 * meanShare(s.review); }, 0,
         Good::Less, percent},
        {Text::tr("Highest share"), [](const PlanSide &s) { return 100 * highestShare(s.review); }, 0,
         Good::Less, percent},
        {Text::tr("Nurses over full"),
         [](const PlanSide &s) -> double { return nursesWithTooMuch(s.review, s.week); }},
        {Text::tr("Gini of points (0 is even)"), [](const PlanSide &s) { return s.review.gini; }, 2,
         Good::Less},
        {Text::tr("Jain of points (1 is even)"), [](const PlanSide &s) { return s.review.jain; }, 2,
         Good::More},
        {Text::tr("By the main nurse"), [](const PlanSide &s) { return 100 * s.review.meanMainShare; }, 0,
         Good::More, percent},
        {Text::tr("Plan, weighted minutes"),
         [](const PlanSide &s) { return s.week.evaluation.parts.total(); }, 0,
         isSameMeasure ? Good::Less : Good::Neither},
    };
}

QString byChanceText() {
    return Text::tr("chance");
}
QString lessCapacityText() {
    return Text::tr("less capacity");
}

// What the same search changes by itself in the week as it is, any difference may be.
bool isChance(double before, double again, double after) {
    const auto [low, high] = std::minmax(before, again);
    const double width = high - low;
    return width > 0 && after >= low - width && after <= high + width;
}

WhatIfLine measuredLine(const PlanMeasure &measure, const WhatIfAnswer &answer) {
    const double before = measure.of({answer.reviewBefore, *answer.before});
    const double after = measure.of({answer.reviewAfter, *answer.after});
    WhatIfLine made =
        differenceLine(measure.what, before, after, measure.decimals, measure.good, measure.unit);
    if (made.turn == Turn::Same)
        return made;
    if (answer.again && isChance(before, measure.of({answer.reviewAgain, *answer.again}), after)) {
        made.turn = Turn::Same;
        made.why = byChanceText();
    } else if (made.turn == Turn::Better && takesCapacity(answer)) {
        made.turn = Turn::Same;
        made.why = lessCapacityText();
    }
    return made;
}

// Two measures of one thing: where they part, neither is called better or worse.
void settleEvenness(std::vector<WhatIfLine> &lines) {
    const auto gini = std::ranges::find_if(
        lines, [](const WhatIfLine &l) { return l.what == Text::tr("Gini of points (0 is even)"); });
    if (gini == lines.end() || gini + 1 == lines.end())
        return;
    WhatIfLine &jain = *(gini + 1);
    if (gini->turn == Turn::Same || jain.turn == Turn::Same || gini->turn == jain.turn)
        return;
    for (WhatIfLine *l : {&*gini, &jain}) {
        l->turn = Turn::Same;
        l->why = Text::tr("unclear");
    }
}

} // namespace

bool takesCapacity(const WhatIfAnswer &answer) {
    return sumOf(answer.reviewAfter, &caseload::NurseLoad::capacity) <
           sumOf(answer.reviewBefore, &caseload::NurseLoad::capacity);
}

double highestShare(const caseload::LoadReview &review) {
    double most = 0;
    for (const caseload::NurseLoad &load : review.nurses)
        most = std::max(most, load.share);
    return most;
}

std::vector<WhatIfLine> whatIfLines(const WhatIfAnswer &answer) {
    const AgencySettings &was = answer.before->agency->settings(), &is = answer.after->agency->settings();
    // Other weights, or the work spread over one nurse more, make the total another measure.
    const bool isSameMeasure =
        answer.question.kind != WhatIfKind::Setting && answer.question.kind != WhatIfKind::NurseAdded;
    const bool paysOvertime = was[SettingKey::OvertimeHourMinor] > 0 || is[SettingKey::OvertimeHourMinor] > 0;
    std::vector<WhatIfLine> lines;
    for (const auto &measures :
         {workMeasures(fromStd(is.currency), paysOvertime), shareMeasures(isSameMeasure)})
        for (const PlanMeasure &measure : measures)
            lines.push_back(measuredLine(measure, answer));
    settleEvenness(lines);
    return lines;
}

QString whatIfTurnNote(const WhatIfAnswer &answer) {
    const std::vector<WhatIfLine> lines = whatIfLines(answer);
    const auto says = [&](const QString &why) {
        return std::ranges::any_of(lines, [&](const WhatIfLine &l) { return l.why == why; });
    };
    QStringList notes;
    if (says(byChanceText()))
        notes << Text::tr("\"Chance\": no more than the search changes by itself in the week as it is.");
    if (says(lessCapacityText()))
        notes << Text::tr("\"Less capacity\": with hours taken away, less is not called better.");
    return notes.join(u' ');
}

namespace {

QString withoutCapacity(const caseload::NurseLoad &load) {
    return words(load.sign == caseload::LoadSign::NoShifts ? load.sign : caseload::LoadSign::Away);
}

} // namespace

std::vector<WhatIfLine> whatIfNurseLines(const WhatIfAnswer &answer) {
    std::vector<WhatIfLine> lines;
    for (const caseload::NurseLoad &after : answer.reviewAfter.nurses) {
        const auto was =
            std::ranges::find(answer.reviewBefore.nurses, after.nurse, &caseload::NurseLoad::nurse);
        const bool isNew = was == answer.reviewBefore.nurses.end();
        const Nurse *nurse = answer.after->agency->index().nurse(after.nurse);
        WhatIfLine l = differenceLine(nurse ? personName(*nurse) : QString(), isNew ? 0 : 100 * was->share,
                                      100 * after.share, 0, Good::Neither, QStringLiteral("%"));
        if (isNew)
            l.before = Text::tr("not there");
        else if (was->capacity.isZero())
            l.before = withoutCapacity(*was);
        if (after.capacity.isZero())
            l.after = withoutCapacity(after);
        if (hasTooMuch(after, *answer.after)) {
            l.turn = Turn::Worse;
            l.why = after.isByDay ? Text::tr("%1 on one day").arg(after.mostVisitsInADay) : words(after.sign);
        }
        lines.push_back(std::move(l));
    }
    return lines;
}

Table whatIfTable(const WhatIfAnswer &answer) {
    Table table;
    table.title = Text::tr("What if: %1").arg(answer.title).toStdString();
    table.key = "what_if";
    table.columns = {textColumn(Text::tr("What"), "what"),
                     textColumn(Text::tr("As it is, planned anew"), "before"),
                     textColumn(Text::tr("What if"), "after"), textColumn(Text::tr("Change"), "change")};
    for (const auto &lines : {whatIfLines(answer), whatIfNurseLines(answer)})
        for (const WhatIfLine &l : lines)
            table.rows.push_back({cell(l.what), cell(l.before), cell(l.after),
                                  cell(l.change.isEmpty() || l.why.isEmpty()
                                           ? l.change + l.why
                                           : QStringLiteral("%1, %2").arg(l.change, l.why))});
    for (const QString &note : answer.notes)
        table.notes.push_back(note.toStdString());
    table.notes.push_back(overtimeCountsText().toStdString());
    table.notes.push_back(Text::tr("Both sides planned by the same search with the same work; nothing was "
                                   "changed in the agency.")
                              .toStdString());
    return table;
}

} // namespace kitround::desk
