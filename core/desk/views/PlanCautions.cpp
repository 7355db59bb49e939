#include "core/desk/views/PlanCautions.h"

#include "core/base/Index.h"
#include "core/caseload/OnCall.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/PublishNews.h"
#include "core/desk/views/RestFlags.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/problem/HomeVisits.h"

#include <algorithm>
#include <set>

namespace kitround::desk {
namespace {

struct EarlyRound {
    caseload::ShortRest rest;
    Minutes leave; // too early for the rest; a later round of the same shift would be none
};

std::vector<EarlyRound> earlyRounds(const WeekPicture &week, DateRange days) {
    const Snapshot &agency = week.agency->snapshot();
    const Minutes asked = Minutes::of(agency.settings[SettingKey::RestAfterCallHours] * 60);
    std::vector<EarlyRound> found;
    for (const caseload::ShortRest &rest : caseload::shortRests(agency, days)) {
        const std::int32_t duty =
            rest.work.on < agency.asOf ? -1 : dutyOf(week, rest.work.nurse, rest.work.on);
        if (duty < 0 || week.evaluation.duties[at(duty)].stops.empty())
            continue;
        const Minutes leave = Minutes::of(week.evaluation.duties[at(duty)].leave);
        const Minutes rested = rest.work.from - rest.rest + asked;
        if (leave < rested)
            found.push_back({rest, leave});
    }
    return found;
}

QString earlyText(const WeekPicture &week, const EarlyRound &early) {
    const Minutes rest = early.rest.rest + (early.leave - early.rest.work.from);
    return Text::tr(
               "Too short a rest: %1 leaves on %2 at %3, %4 h after %5 ends; %6 h of rest are asked for.")
        .arg(nurseNameIn(week, early.rest.work.nurse), dayText(early.rest.work.on), timeText(early.leave),
             shortNumber(static_cast<double>(rest.count()) / 60), workBeforeText(early.rest),
             numberText(week.agency->snapshot().settings[SettingKey::RestAfterCallHours]));
}

QString overFullText(const WeekPicture &week, DateRange one) {
    QStringList names;
    for (const caseload::NurseLoad &load : overloadedFirst(loadReview(week, one)))
        if (load.sign == caseload::LoadSign::Red && load.visits > 0)
            names << Text::tr("%1, %2").arg(nurseNameIn(week, load.nurse), loadText(load));
    if (names.isEmpty())
        return {};
    const QString head =
        counted(names.size(), Text::tr("1 nurse over full"), Text::tr("%1 nurses over full"));
    const QString all = Text::tr("%1: %2.").arg(head, names.join(QStringLiteral("; ")));
    return weeksIn(week) == 1 ? all : Text::tr("Week of %1: %2").arg(dayText(one.from), all);
}

QString thereText(const WeekPicture &week, const rounds::WeekPlan &plan, std::int32_t job) {
    const rounds::Minute start = plan.placements[at(job)].start;
    return Text::tr("%1 to %2")
        .arg(timeText(Minutes::of(start)), timeText(Minutes::of(start + week.problem.jobs[at(job)].length)));
}

QString nurseAtPlace(const WeekPicture &week, const rounds::Placement &place) {
    return nurseNameIn(week, nurseOfDuty(week, place.duty));
}

// Homes on no map that the plan drives to.
QString guessedPlacesText(const WeekPicture &week) {
    QStringList names;
    std::set<PatientId> homes;
    for (std::size_t j = 0; j < week.plan.placements.size(); ++j) {
        const Patient *patient = week.agency->index().patient(week.problem.jobs[j].patient);
        if (!week.plan.placements[j].isPlaced() || !patient || guessedDrivingText(*patient).isEmpty())
            continue;
        if (homes.insert(patient->id).second)
            names << personName(*patient);
    }
    if (names.isEmpty())
        return {};
    return Text::tr("Place unknown, driving is a guess: %1.").arg(fewNamesText(names));
}

// What is over is nobody's to mend.
bool isStillAhead(const WeekPicture &week, const rounds::Placement &place) {
    return week.problem.duties[at(place.duty)].day >= week.problem.nowDay;
}

QString meetingLine(const WeekPicture &week, std::int32_t one, std::int32_t other) {
    const rounds::Placement &first = week.plan.placements[at(one)], &second = week.plan.placements[at(other)];
    return Text::tr("Two nurses at one home at once: %1, %2, %3 (%4) and %5 (%6).")
        .arg(personName(*week.agency->index().patient(week.problem.jobs[at(one)].patient)),
             dayText(dayOfDuty(week, first.duty)), nurseAtPlace(week, first), thereText(week, week.plan, one),
             nurseAtPlace(week, second), thereText(week, week.plan, other));
}

} // namespace

QString meetingText(const WeekPicture &week, const rounds::WeekPlan &plan, std::int32_t job) {
    QStringList others;
    for (const auto &[one, other] : rounds::overlapsAtHome(week.problem, plan)) {
        if (one != job && other != job)
            continue;
        const std::int32_t met = one == job ? other : one;
        others << Text::tr("%1 is there %2")
                      .arg(nurseAtPlace(week, plan.placements[at(met)]), thereText(week, plan, met));
    }
    return others.isEmpty() ? QString()
                            : Text::tr("two nurses at once: %1").arg(others.join(QStringLiteral(", ")));
}

std::vector<DayMark> dayMarks(const WeekPicture &week, DateRange shown) {
    std::vector<std::vector<EarlyRound>> byDay(static_cast<std::size_t>(shown.length().count()));
    for (const EarlyRound &early : earlyRounds(week, shown))
        byDay[static_cast<std::size_t>((early.rest.work.on - shown.from).count())].push_back(early);
    std::vector<DayMark> marks;
    for (const std::vector<EarlyRound> &ofDay : byDay) {
        DayMark mark;
        if (!ofDay.empty())
            mark.mark = counted(static_cast<std::int64_t>(ofDay.size()), Text::tr("short rest"),
                                Text::tr("%1 short rests"));
        QStringList tips;
        for (const EarlyRound &early : ofDay)
            tips << earlyText(week, early);
        mark.tip = tips.join(u'\n');
        marks.push_back(std::move(mark));
    }
    return marks;
}

QStringList publishCautions(const WeekPicture &week) {
    QStringList lines;
    for (const EarlyRound &early : earlyRounds(week, week.week))
        lines << earlyText(week, early);
    for (const auto &[one, other] : rounds::overlapsAtHome(week.problem, week.plan))
        if (isStillAhead(week, week.plan.placements[at(one)]))
            lines << meetingLine(week, one, other);
    for (Date from = week.week.from; from < week.week.to; from = from.plusDays(7)) {
        const DateRange one{from, from.plusDays(7)};
        if (one.to > week.agency->today())
            lines << overFullText(week, one);
    }
    lines << guessedPlacesText(week);
    lines.removeAll(QString());
    return lines;
}

} // namespace kitround::desk
