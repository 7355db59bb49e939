#include "core/desk/views/PlanState.h"

#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {
namespace {

// Every visit that is still to be made on the day, or was to be, stands as people were told.
bool isDayAsTold(const WeekPicture &week, Date on) {
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const VisitPlace is = placeIn(week, week.plan.placements[j]);
        const VisitPlace told = week.agency->index().toldPlace(week.due[j].visit);
        if ((is.on == on || told.on == on) && !isSamePlace(told, is))
            return false;
    }
    return true;
}

} // namespace

QStringList planStateTexts(const WeekPicture &week, Date weekStart, bool isChanged) {
    QStringList texts;
    if (isChanged)
        texts << Text::tr("not saved");
    if (const QString published = publishedText(*week.agency, weekStart, isChanged); !published.isEmpty())
        texts << published;
    if (!texts.isEmpty())
        return texts;
    const bool isStored = std::ranges::any_of(week.agency->snapshot().plans,
                                              [&](const Plan &plan) { return plan.weekStart == weekStart; });
    return {isStored ? Text::tr("draft saved, not published") : Text::tr("no plan saved yet")};
}

QString planOnPaperText(const WeekPicture &week, Date on) {
    if (!week.week.contains(on))
        return {};
    const Date weekStart = weekHolding(week, on).from;
    const std::vector<Plan> &plans = week.agency->snapshot().plansInForce;
    const auto plan = std::ranges::find(plans, weekStart, &Plan::weekStart);
    if (plan == plans.end() || !plan->publishedAt)
        return Text::tr("draft of the week of %1, not published").arg(dayText(weekStart));
    const QString inForce = Text::tr("plan %1 of the week of %2, published %3")
                                .arg(numberText(plan->version), dayText(weekStart),
                                     momentText(localTimeOf(*week.agency, *plan->publishedAt)));
    return isDayAsTold(week, on) ? inForce : Text::tr("draft, not published; in force: %1").arg(inForce);
}

QString whatToEnterFirst(const WeekBoard &board) {
    bool hasShift = false, hasVisit = !board.tray.empty();
    for (const BoardRow &row : board.rows)
        for (const BoardDay &day : row.days) {
            hasShift = hasShift || day.hasDuty;
            hasVisit = hasVisit || !day.cards.empty() || !day.past.empty();
        }
    if (hasVisit)
        return {};
    return hasShift
               ? Text::tr("No visit is due in this week: enter visit orders in the patients' records first.")
               : Text::tr("No visit is due and nobody works in this week: enter the nurses' shifts under "
                          "Nurses and visit orders in the patients' records first.");
}

} // namespace kitround::desk
