#include "core/desk/views/PlanComparison.h"

#include "core/base/Index.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

std::set<VisitId> dueIn(const WeekPicture &week) {
    std::set<VisitId> due;
    for (const rounds::DueVisit &d : week.due)
        if (d.visit.id.isSet())
            due.insert(d.visit.id);
    return due;
}

VisitPlace placeOr(const std::map<VisitId, VisitPlace> &places, VisitId visit) {
    const auto found = places.find(visit);
    return found == places.end() ? VisitPlace{} : found->second;
}

// Why a visit of a plan is not among those due.
QString notDueText(const Visit &visit, const VisitPlace &planned, DateRange weeks) {
    switch (visit.status) {
    case VisitStatus::Done:
        return Text::tr("made");
    case VisitStatus::Missed:
        return Text::tr("missed");
    case VisitStatus::Cancelled:
        return Text::tr("called off");
    default:
        break;
    }
    if (visit.on && !weeks.contains(*visit.on))
        return Text::tr("stands on %1 now").arg(dayText(*visit.on));
    return visit.on && visit.on == planned.on ? Text::tr("its day is over") : Text::tr("not due any more");
}

struct DifferingVisit {
    VisitPlace was, now;
    PlanChange change;
};

class Comparing {
public:
    Comparing(const LaidPlan &first, const LaidPlan &second)
        : first_(first), second_(second), week_(*first.week) {}

    PlanComparison run() {
        for (std::size_t j = 0; j < first_.places.size(); ++j)
            addDue(static_cast<std::int32_t>(j));
        std::set<VisitId> notDue;
        for (const LaidPlan *plan : {&first_, &second_})
            for (const auto &[visit, place] : plan->notDue)
                notDue.insert(visit);
        for (const VisitId visit : notDue)
            addNotDue(visit);
        std::ranges::stable_sort(differing_, {}, [](const DifferingVisit &d) {
            const VisitPlace &where = d.now.isSet() ? d.now : d.was;
            return std::tuple(d.change.isSmall, where.on, where.startAt);
        });
        made_.first = first_.name;
        made_.second = second_.name;
        for (DifferingVisit &d : differing_)
            made_.visits.push_back(std::move(d.change));
        addFigures();
        made_.summary = summary(static_cast<std::int64_t>(notDue.size()));
        return std::move(made_);
    }

private:
    void add(PlanChange change, const VisitPlace &was, const VisitPlace &now) {
        change.was = placeText(week_, was);
        change.now = placeText(week_, now);
        change.isUnplaced = !now.isSet();
        change.isSmall = isAsAgreed(was, now);
        if (change.isSmall && change.note.isEmpty())
            change.note = shiftText(was, now);
        differing_.push_back({was, now, std::move(change)});
    }

    void addDue(std::int32_t job) {
        const VisitPlace &was = first_.places[at(job)], &now = second_.places[at(job)];
        if (isSamePlace(was, now))
            return;
        PlanChange change = planChangeOf(*week_.agency, week_.due[at(job)].visit);
        change.job = job;
        add(std::move(change), was, now);
    }

    void addNotDue(VisitId id) {
        const VisitPlace was = placeOr(first_.notDue, id), now = placeOr(second_.notDue, id);
        const Visit *visit = week_.agency->index().visit(id);
        if (isSamePlace(was, now) || !visit)
            return;
        PlanChange change = planChangeOf(*week_.agency, *visit);
        change.isGone = true;
        change.note = notDueText(*visit, was.isSet() ? was : now, week_.week);
        add(std::move(change), was, now);
    }

    void addFigures() {
        const auto row = [&](const QString &name, auto of) {
            made_.figures.push_back({name, of(first_), of(second_)});
        };
        const auto placed = [](const LaidPlan &plan) {
            return static_cast<std::int64_t>(
                std::ranges::count_if(plan.week->plan.placements, &rounds::Placement::isPlaced));
        };
        const auto minutes = [](const LaidPlan &plan, rounds::Minute rounds::DutyTimes::*part) {
            std::int64_t sum = 0;
            for (const rounds::DutyTimes &duty : plan.week->evaluation.duties)
                sum += duty.*part;
            return sum;
        };
        row(Text::tr("Visits placed"), placed);
        row(Text::tr("Visits not placed"), [&](const LaidPlan &plan) {
            return static_cast<std::int64_t>(plan.week->due.size()) - placed(plan);
        });
        row(Text::tr("Rules broken"),
            [](const LaidPlan &plan) { return static_cast<std::int64_t>(plan.week->broken.size()); });
        row(Text::tr("Travel, minutes"),
            [&](const LaidPlan &plan) { return minutes(plan, &rounds::DutyTimes::travel); });
        row(Text::tr("Waiting, minutes"),
            [&](const LaidPlan &plan) { return minutes(plan, &rounds::DutyTimes::wait); });
        row(Text::tr("Overtime, minutes"),
            [](const LaidPlan &plan) { return loadReview(*plan.week).overtime.count(); });
        addCosts();
    }

    void addCosts() {
        const rounds::CostParts &one = first_.week->evaluation.parts, &other = second_.week->evaluation.parts;
        for (const CostChange &part : costChanges(one, other))
            made_.figures.push_back({Text::tr("Weighted minutes: %1").arg(part.name), part.was, part.is});
        made_.figures.push_back(
            {Text::tr("Weighted minutes in all"), std::llround(one.total()), std::llround(other.total())});
    }

    QString summary(std::int64_t notDue) const {
        QStringList lines;
        const auto differ = static_cast<std::int64_t>(made_.visits.size());
        lines << (differ == 0 ? Text::tr("Every visit stands at the same place in both plans.")
                              : counted(differ, Text::tr("1 visit differs."), Text::tr("%1 visits differ.")));
        if (notDue > 0)
            lines << counted(
                notDue,
                Text::tr("1 visit of these plans is made or not due any more: the figures leave "
                         "it out."),
                Text::tr("%1 visits of these plans are made or not due any more: the figures leave "
                         "them out."));
        std::set<QString> told; // a plan beside itself is one plan
        for (const LaidPlan *plan : {&first_, &second_})
            if (plan->unfit > 0 && told.insert(plan->name).second)
                lines << Text::tr("%1: %2 on rounds that are no more, which the figures count as not placed.")
                             .arg(plan->name, visitsText(plan->unfit));
        return lines.join(u' ');
    }

    const LaidPlan &first_, &second_;
    const WeekPicture &week_;
    std::vector<DifferingVisit> differing_;
    PlanComparison made_;
};

} // namespace

QString versionName(const Agency &agency, const Plan &version, std::optional<Instant> savedAt) {
    const auto moment = [&](Instant at) { return momentText(localTimeOf(agency, at)); };
    const QString name = Text::tr("Version %1").arg(version.version);
    if (version.status == PlanStatus::Draft)
        return savedAt ? Text::tr("%1, draft, %2").arg(name, moment(*savedAt))
                       : Text::tr("%1, draft").arg(name);
    const QString published = version.publishedAt
                                  ? Text::tr("%1, published %2").arg(name, moment(*version.publishedAt))
                                  : Text::tr("%1, published").arg(name);
    return version.status == PlanStatus::Published ? published
                                                   : Text::tr("%1, replaced since").arg(published);
}

LaidPlan planInHand(const WeekPicturePtr &hand, DateRange one, bool isSaved) {
    LaidPlan plan;
    plan.name = isSaved ? Text::tr("Plan in hand") : Text::tr("Plan in hand, not saved");
    plan.week = hand;
    for (const rounds::Placement &placement : hand->plan.placements)
        plan.places.push_back(placeIn(*hand, placement));
    // What is over is no part of the problem any more; it stands where it is on record.
    const std::set<VisitId> due = dueIn(*hand);
    for (const Visit &visit : hand->agency->snapshot().visits) {
        const bool stands = visit.status == VisitStatus::Done || visit.status == VisitStatus::Missed ||
                            visit.status == VisitStatus::Published;
        if (stands && visit.on && visit.startAt && visit.nurse && one.contains(*visit.on) &&
            visit.kind != VisitKind::Phone && !due.contains(visit.id))
            plan.notDue[visit.id] = plannedPlace(visit);
    }
    return plan;
}

LaidPlan planBeforeStep(const WeekPicturePtr &before, DateRange one, const QString &step) {
    LaidPlan plan = planInHand(before, one, false);
    plan.name = Text::tr("Before the last step (%1)").arg(step);
    return plan;
}

LaidPlan laidOver(const LaidPlan &hand, const Plan &version, std::optional<Instant> savedAt) {
    const WeekPicture &week = *hand.week;
    const DateRange one{version.weekStart, version.weekStart.plusDays(7)};
    LaidPlan plan;
    plan.name = versionName(*week.agency, version, savedAt);
    for (const PlannedVisit &visit : version.visits)
        plan.notDue[visit.visit] = plannedPlace(visit);
    std::vector<rounds::Placement> placements(week.due.size());
    plan.places.resize(week.due.size());
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const VisitPlace &inHand = hand.places[j];
        const auto planned = plan.notDue.find(week.due[j].visit.id);
        if (planned != plan.notDue.end()) {
            plan.places[j] = planned->second;
            placements[j] = placementAt(week, static_cast<std::int32_t>(j), planned->second);
            plan.unfit += placements[j].isPlaced() ? 0 : 1;
            plan.notDue.erase(planned);
        } else if (inHand.isSet() && !one.contains(*inHand.on)) {
            plan.places[j] = inHand;
            placements[j] = week.plan.placements[j];
        }
    }
    plan.week = withPlacements(week, std::move(placements));
    return plan;
}

PlanComparison comparePlans(const LaidPlan &first, const LaidPlan &second) {
    return Comparing(first, second).run();
}

Table comparisonTable(const PlanComparison &comparison, const Agency &agency) {
    Table table;
    table.title = Text::tr("Two plans compared").toStdString();
    table.key = "plan_comparison";
    table.columns = {textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"),
                     textColumn(Text::tr("Visit"), "kind"),
                     inCopies(textColumn(Text::tr("First plan"), "first_plan")),
                     textColumn(Text::tr("In the first plan"), "in_first"),
                     inCopies(textColumn(Text::tr("Second plan"), "second_plan")),
                     textColumn(Text::tr("In the second plan"), "in_second"),
                     textColumn(Text::tr("Note"), "note")};
    for (const PlanChange &change : comparison.visits)
        table.rows.push_back({codeOf(agency.index(), change.patient),
                              initialsOf(agency.index(), change.patient), cell(change.kind),
                              cell(comparison.first), cell(change.was), cell(comparison.second),
                              cell(change.now), cell(change.note)});
    table.notes = {cell(Text::tr("First plan: %1").arg(comparison.first)),
                   cell(Text::tr("Second plan: %1").arg(comparison.second)), cell(comparison.summary)};
    return table;
}

} // namespace kitround::desk
