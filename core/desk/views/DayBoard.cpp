#include "core/desk/views/DayBoard.h"

#include "core/base/Index.h"
#include "core/desk/views/PlanCautions.h"
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

// Who made or missed a visit that day and has no duty on it any more, as on a day gone by.
void addRoundsOver(const WeekPicture &week, const std::vector<const Visit *> &over, DayBoard &board) {
    for (const Visit *visit : over)
        for (const std::optional<NurseId> &nurse : {visit->nurse, visit->secondNurse}) {
            if (!nurse || std::ranges::find(board.rounds, *nurse, &DayRound::nurse) != board.rounds.end())
                continue;
            DayRound round;
            round.nurse = *nurse;
            round.name = nurseNameIn(week, *nurse);
            round.hasDuty = false;
            round.past = pastCards(week, over, *nurse, board.on);
            round.from = round.leave = round.back = round.past.front().start;
            round.to = std::ranges::max(round.past, {}, &VisitCard::end).end;
            board.rounds.push_back(std::move(round));
        }
}

// Whole hours around all that stands on the day.
void setHours(DayBoard &board) {
    constexpr std::int64_t kMidnight = 24 * 60;
    std::int64_t from = 8 * 60, to = 17 * 60;
    for (const DayRound &round : board.rounds) {
        from = std::min({from, round.from.count(), round.leave.count()});
        to = std::max({to, round.to.count(), round.back.count()});
        for (const VisitCard &card : round.past) {
            from = std::min(from, card.start.count());
            to = std::max(to, std::min(kMidnight, card.end.count()));
        }
    }
    board.from = Minutes::of(from / 60 * 60);
    board.to = Minutes::of((to + 59) / 60 * 60);
}

} // namespace

DayBoard dayBoardOf(const WeekPicture &week, Date on) {
    KITROUND_REQUIRE(week.week.contains(on));
    DayBoard board;
    board.on = on;
    board.unit = week.agency->settings().distanceUnit;
    QStringList notes{dayNote(on), dayMarks(week, {on, on.plusDays(1)}).front().mark};
    notes.removeAll(QString());
    board.note = notes.join(QStringLiteral(", "));
    const std::vector<const Visit *> over = visitsOver(week, {on, on.plusDays(1)});
    for (std::size_t d = 0; d < week.problem.duties.size(); ++d) {
        const auto duty = static_cast<std::int32_t>(d);
        if (dayOfDuty(week, duty) != on)
            continue;
        board.rounds.push_back(roundOf(week, duty));
        board.rounds.back().past = pastCards(week, over, board.rounds.back().nurse, on);
    }
    addRoundsOver(week, over, board);
    setHours(board);
    std::ranges::stable_sort(board.rounds, {},
                             [](const DayRound &round) { return std::pair(!round.hasDuty, round.name); });
    for (const rounds::NurseInfo &nurse : week.problem.nurses)
        if (const QString why = absenceOn(week.agency->snapshot(), nurse.id, on); !why.isEmpty())
            board.away << Text::tr("%1: %2").arg(nurseNameIn(week, nurse.id), why);
    board.away.sort();
    const std::int64_t ahead = (on - week.problem.firstDay).count();
    for (const std::int32_t job : unplacedJobs(week)) {
        board.hasUnplaced = true;
        const std::vector<bool> &allowed = week.problem.jobs[at(job)].allowedDays;
        if (allowed.empty() || allowed[static_cast<std::size_t>(ahead)])
            board.tray.push_back(visitCard(week, job));
    }
    return board;
}

} // namespace kitround::desk
