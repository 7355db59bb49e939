#include "core/desk/views/RepairLoad.h"

#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <map>
#include <utility>

namespace kitround::desk {
namespace {

bool isWith(const WeekPicture &week, const rounds::Placement &placed, NurseId nurse) {
    return (placed.duty >= 0 && nurseOfDuty(week, placed.duty) == nurse) ||
           (placed.secondDuty >= 0 && nurseOfDuty(week, placed.secondDuty) == nurse);
}

// Visits of those days, by the nurse who has them now and had not before.
std::map<NurseId, std::int64_t> visitsTaken(const WeekPicture &before, const WeekPicture &after,
                                            DateRange days) {
    std::map<NurseId, std::int64_t> taken;
    for (std::size_t j = 0; j < after.plan.placements.size(); ++j) {
        const rounds::Placement &now = after.plan.placements[j];
        for (const std::int32_t duty : {now.duty, now.secondDuty})
            if (duty >= 0 && days.contains(dayOfDuty(after, duty)) &&
                !isWith(before, before.plan.placements[j], nurseOfDuty(after, duty)))
                ++taken[nurseOfDuty(after, duty)];
    }
    return taken;
}

const caseload::NurseLoad *loadAmong(const caseload::LoadReview &review, NurseId nurse) {
    const auto found = std::ranges::find(review.nurses, nurse, &caseload::NurseLoad::nurse);
    return found == review.nurses.end() ? nullptr : &*found;
}

QString overtimeText(const caseload::NurseLoad &was, const caseload::NurseLoad &is) {
    if (is.overtime.count() <= 0)
        return {};
    const QString text = Text::tr("; %1 min overtime").arg(is.overtime.count());
    return was.overtime.count() > 0 ? text + Text::tr(" (before: %1)").arg(was.overtime.count()) : text;
}

} // namespace

std::vector<TakerLoad> loadsOfTakers(const WeekPicture &before, const WeekPicture &after) {
    struct Line {
        double share;
        TakerLoad taker;
    };
    std::vector<Line> lines;
    const bool isOne = weeksIn(after) == 1;
    for (Date from = after.week.from; from < after.week.to; from = from.plusDays(7)) {
        const DateRange days{from, from.plusDays(7)};
        const caseload::LoadReview was = loadReview(before, days), is = loadReview(after, days);
        for (const auto &[nurse, visits] : visitsTaken(before, after, days)) {
            const caseload::NurseLoad *old = loadAmong(was, nurse), *now = loadAmong(is, nurse);
            if (!old || !now)
                continue;
            const QString name = nurseNameIn(after, nurse);
            const QString who = isOne ? name : Text::tr("%1, week of %2,").arg(name, dayText(from));
            const QString text =
                Text::tr("%1 gets %2: %3 (before: %4)%5.")
                    .arg(who, visitsText(visits), loadText(*now), loadText(*old), overtimeText(*old, *now));
            lines.push_back({now->share, {nurse, text, now->sign == caseload::LoadSign::Red}});
        }
    }
    std::ranges::stable_sort(lines, [](const Line &a, const Line &b) {
        return std::pair(!a.taker.isOverFull, -a.share) < std::pair(!b.taker.isOverFull, -b.share);
    });
    std::vector<TakerLoad> takers;
    for (Line &line : lines)
        takers.push_back(std::move(line.taker));
    return takers;
}

} // namespace kitround::desk
