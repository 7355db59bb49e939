#include "core/desk/views/DayBoard.h"

#include "core/base/Index.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"

#include <algorithm>

namespace kitround::desk {
namespace {

std::vector<TimeSpan> hardWindows(const std::vector<rounds::TimeWindow> &windows) {
    std::vector<TimeSpan> spans;
    for (const rounds::TimeWindow &window : windows)
        if (window.isHard)
            spans.push_back({Minutes::of(window.from), Minutes::of(window.to)});
    return spans;
}

DayRound roundOf(const WeekPicture &week, std::int32_t duty) {
    const rounds::Duty &d = week.problem.duties[at(duty)];
    const rounds::DutyTimes &times = week.evaluation.duties[at(duty)];
    const auto pointOf = [&](std::int32_t place) { return week.problem.places[at(place)].point; };
    DayRound round;
    round.nurse = nurseOfDuty(week, duty);
    round.name = nurseNameIn(week, round.nurse);
    round.isOnCall = d.isOnCall;
    round.from = Minutes::of(d.from);
    round.to = Minutes::of(d.to);
    if (times.breakStart >= 0)
        round.breakTime =
            TimeSpan{Minutes::of(times.breakStart), Minutes::of(times.breakStart + d.breakLength)};
    for (const rounds::TimeWindow &blocked : d.blocked)
        round.blocked.push_back({Minutes::of(blocked.from), Minutes::of(blocked.to)});
    for (const rounds::DutyTimes::Stop &stop : times.stops) {
        const rounds::Job &job = week.problem.jobs[at(stop.job)];
        round.stops.push_back(
            {placedCard(week, stop, duty), hardWindows(job.windows[at(d.day)]), pointOf(job.place)});
    }
    round.leave = Minutes::of(times.stops.empty() ? d.from : times.leave);
    round.back = Minutes::of(times.stops.empty() ? d.from : times.back);
    round.travel = Minutes::of(times.travel);
    round.distance = Metres::of(times.metres);
    round.start = pointOf(d.startPlace);
    round.end = pointOf(d.endPlace);
    return round;
}

} // namespace

DayBoard dayBoardOf(const WeekPicture &week, Date on) {
    KITROUND_REQUIRE(week.week.contains(on));
    DayBoard board;
    board.on = on;
    board.unit = week.agency->settings().distanceUnit;
    board.note = dayNote(on);
    std::int64_t from = 8 * 60, to = 17 * 60;
    for (std::size_t d = 0; d < week.problem.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        if (dayOfDuty(week, duty) != on)
            continue;
        board.rounds.push_back(roundOf(week, duty));
        const DayRound &round = board.rounds.back();
        from = std::min({from, round.from.count(), round.leave.count()});
        to = std::max({to, round.to.count(), round.back.count()});
    }
    board.from = Minutes::of(from / 60 * 60);
    board.to = Minutes::of((to + 59) / 60 * 60);
    std::ranges::stable_sort(board.rounds, {}, &DayRound::name);
    for (const rounds::NurseInfo &nurse : week.problem.nurses)
        if (const QString why = absenceOn(week.agency->snapshot(), nurse.id, on); !why.isEmpty())
            board.away << Text::tr("%1: %2").arg(nurseNameIn(week, nurse.id), why);
    board.away.sort();
    const std::int64_t ahead = (on - week.problem.firstDay).count();
    for (const std::int32_t job : unplacedJobs(week)) {
        const std::vector<bool> &allowed = week.problem.jobs[at(job)].allowedDays;
        if (allowed.empty() || allowed[static_cast<std::size_t>(ahead)])
            board.tray.push_back(visitCard(week, job));
    }
    return board;
}

} // namespace kitround::desk
