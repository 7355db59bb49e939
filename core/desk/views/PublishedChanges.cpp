// What changed since people were told: homes by the baseline of who is to be phoned, nurses by the plan in
// force.
#include "core/base/Index.h"
#include "core/desk/views/HomesTold.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PlanChangeParts.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/PublishNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <iterator>
#include <unordered_set>
#include <utility>

namespace kitround::desk {
namespace {

using parts::joinedNotes;
using parts::moveNote;
using parts::planChangeAt;
using parts::sortPlanChanges;

QString toTellText(const WeekPicture &week, const VisitPlace &place) {
    QStringList told;
    for (const std::optional<NurseId> &id : {place.nurse, place.secondNurse})
        if (const Nurse *nurse = id ? week.agency->index().nurse(*id) : nullptr)
            told << (nurse->phone.empty()
                         ? personName(*nurse)
                         : QStringLiteral("%1 (%2)").arg(personName(*nurse), fromStd(nurse->phone)));
    return Text::tr("Tell %1").arg(told.join(Text::tr(" and ")));
}

QString whereGoneText(const WeekPicture &week, const Visit &visit, Date toldOn) {
    if (visit.status == VisitStatus::Drafted && !week.week.contains(*visit.on))
        return placeText(week, plannedPlace(visit));
    if (const VisitPlace now = week.agency->index().toldPlace(visit);
        now.isSet() && !week.week.contains(*now.on))
        return placeText(week, now);
    return week.agency->index().holdOn(visit.patient, toldOn) ? Text::tr("taken out: on hold that day")
                                                              : Text::tr("taken out of the plan");
}

// A visit the week does not hold any more, though somebody was told of it.
struct GoneVisit {
    const Visit *visit = nullptr;
    VisitPlace told;     // as its home expects it, else as its nurse does
    VisitPlace nursesTo; // where a nurse still drives to; not set: nowhere
};

// `due`: the visits the week holds.
std::optional<GoneVisit> goneVisit(const WeekPicture &week, const HomesTold &homes,
                                   const std::unordered_set<VisitId> &due, const Visit &visit) {
    if (due.contains(visit.id) || visit.status == VisitStatus::Done || visit.status == VisitStatus::Missed ||
        visit.kind == VisitKind::Phone)
        return std::nullopt;
    const SnapshotIndex &index = week.agency->index();
    const auto liesAhead = [&](const VisitPlace &place) {
        return place.isSet() && week.week.contains(*place.on) && *place.on >= week.agency->today();
    };
    const VisitPlace inForce = index.toldPlace(visit);
    const VisitPlace &home = homes.expected(visit.id, inForce);
    const Patient *patient = index.patient(visit.patient);
    // By the rules of who is phoned: who is away, or left, waits for nobody.
    const bool isAwaited = liesAhead(home) && !isAsAgreed(home, inForce) && patient &&
                           isOnService(patient->status) && !index.holdOn(visit.patient, *home.on);
    if (!isAwaited && !liesAhead(inForce))
        return std::nullopt;
    return GoneVisit{&visit, liesAhead(home) ? home : inForce, liesAhead(inForce) ? inForce : VisitPlace{}};
}

std::vector<PlanChange> goneSincePublished(const WeekPicture &week, const HomesTold &homes) {
    const Agency &agency = *week.agency;
    std::unordered_set<VisitId> due;
    for (const rounds::DueVisit &one : week.due)
        due.insert(one.visit.id);
    std::vector<GoneVisit> gone;
    for (const Visit &visit : agency.snapshot().visits)
        if (auto one = goneVisit(week, homes, due, visit))
            gone.push_back(*std::move(one));
    std::ranges::stable_sort(gone, {},
                             [](const GoneVisit &g) { return std::pair(g.told.on, g.told.startAt); });
    std::vector<PlanChange> changes;
    for (const GoneVisit &g : gone) {
        PlanChange change = planChangeOf(agency, *g.visit);
        change.isGone = true;
        change.was = placeText(week, g.told);
        change.now = whereGoneText(week, *g.visit, *g.told.on);
        change.note = joinedNotes({g.nursesTo.isSet() ? toTellText(week, g.nursesTo) : QString(),
                                   parcelText(agency.index(), *g.visit, {})});
        changes.push_back(std::move(change));
    }
    return changes;
}

// What people were told of a visit, and where it stands.
struct ToldAndNow {
    VisitPlace home;    // as the home expects it
    VisitPlace inForce; // as its nurse has it
    VisitPlace now;
    bool isOver(Date today) const { // nobody is phoned about what has been
        return now.isSet() && *now.on < today && isSamePlace(inForce, now);
    }
};

std::optional<PlanChange> newSincePublished(const WeekPicture &week, const HomesTold &homes, std::int32_t job,
                                            const ToldAndNow &visit) {
    if (week.due[at(job)].visit.kind == VisitKind::Phone || *visit.now.on < week.agency->today() ||
        !homes.wasPublished(*visit.now.on))
        return std::nullopt;
    PlanChange change = planChangeAt(week, job);
    change.isNew = true;
    change.was = Text::tr("not expected");
    change.now = placeText(week, visit.now);
    change.note = moveNote(week, job, {});
    return change;
}

// Where the visit stands elsewhere than its home expects it, or than the plan has it that is in force.
std::optional<PlanChange> changeSinceTold(const WeekPicture &week, const HomesTold &homes, std::int32_t job) {
    const Visit &stored = week.due[at(job)].visit;
    ToldAndNow visit;
    visit.now = placeIn(week, week.plan.placements[at(job)]);
    visit.inForce = week.agency->index().toldPlace(stored);
    visit.home = homes.expected(stored.id, visit.now);
    if (visit.isOver(week.agency->today()))
        return std::nullopt;
    if (!visit.home.isSet() && visit.now.isSet())
        if (auto fresh = newSincePublished(week, homes, job, visit))
            return fresh;
    const VisitPlace &was =
        visit.home.isSet() && !isSamePlace(visit.home, visit.now) ? visit.home : visit.inForce;
    if (!was.isSet() || isSamePlace(was, visit.now))
        return std::nullopt;
    PlanChange change = planChangeAt(week, job);
    change.was = placeText(week, was);
    change.now = placeText(week, visit.now);
    change.isUnplaced = !visit.now.isSet();
    change.isSmall = isAsAgreed(was, visit.now);
    change.note = change.isSmall ? shiftText(was, visit.now) : moveNote(week, job, was);
    if (!change.isSmall && visit.home.isSet() && isSamePlace(visit.home, visit.now)) {
        change.isSmall = true; // the way back to where it is expected
        change.note = Text::tr("back where its home expects it");
    }
    return change;
}

// By the rules of publishing (desk/views/PublishNews): a visit that only changed places with another of its
// kind, a phone visit, a home that is away.
void noteNoCalls(const WeekPicture &week, std::vector<PlanChange> &changes) {
    const auto homes = homesToPhone(week);
    if (!homes)
        return; // the plan cannot be published as it stands, and says so there
    for (PlanChange &change : changes)
        if (!change.isSmall && !homes->contains(change.patient))
            change.note = joinedNotes({change.note, Text::tr("no call needed")});
}

} // namespace

bool wasEverPublished(const WeekPicture &week) {
    return std::ranges::any_of(week.agency->snapshot().firstPublished,
                               [&](const Plan &plan) { return week.week.contains(plan.weekStart); });
}

std::vector<PlanChange> changesSincePublished(const WeekPicture &week) {
    const HomesTold homes(*week.agency);
    std::vector<PlanChange> changes;
    for (std::size_t j = 0; j < week.due.size(); ++j)
        if (auto change = changeSinceTold(week, homes, static_cast<std::int32_t>(j)))
            changes.push_back(*std::move(change));
    if (!changes.empty())
        noteNoCalls(week, changes);
    sortPlanChanges(week, changes);
    std::vector<PlanChange> gone = goneSincePublished(week, homes);
    const auto small = std::ranges::find(changes, true, &PlanChange::isSmall);
    changes.insert(small, std::make_move_iterator(gone.begin()), std::make_move_iterator(gone.end()));
    return changes;
}

QString changesText(const WeekPicture &week, const std::vector<PlanChange> &changes) {
    // What was published of a week that is over is not at hand any more.
    if (changes.empty() && !wasEverPublished(week) && week.week.to > week.agency->today())
        return Text::tr("This week is not published yet: nobody was told of a visit that could change.");
    if (changes.empty())
        return Text::tr("Every visit stands as people were told. Who has to be told of what changed by "
                        "publishing again stands under Today until it is recorded as told.");
    const auto small = std::ranges::count(changes, true, &PlanChange::isSmall);
    const auto gone = std::ranges::count(changes, true, &PlanChange::isGone);
    const auto open = std::ranges::count(changes, true, &PlanChange::isUnplaced);
    const auto fresh = std::ranges::count(changes, true, &PlanChange::isNew);
    const auto moved = static_cast<std::int64_t>(changes.size()) - small - gone - open - fresh;
    QStringList sentences;
    if (moved > 0)
        sentences << counted(moved, Text::tr("1 visit has another nurse, day or time than people were told."),
                             Text::tr("%1 visits have another nurse, day or time than people were told."));
    if (fresh > 0)
        sentences << counted(fresh, Text::tr("1 visit is new: its home does not expect it."),
                             Text::tr("%1 visits are new: their homes do not expect them."));
    if (open > 0)
        sentences << counted(open, Text::tr("1 visit has no place any more."),
                             Text::tr("%1 visits have no place any more."));
    if (gone > 0)
        sentences << counted(
            gone, Text::tr("1 visit is taken out: tell who would still drive there or wait for it."),
            Text::tr("%1 visits are taken out: tell those who would still drive there or wait for them."));
    if (small > 0)
        sentences << asAgreedText(small);
    return sentences.join(u' ');
}

WeekPicturePtr publishedPicture(const WeekPicture &week) {
    std::vector<rounds::Placement> placements(week.due.size());
    bool wasPublished = false;
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const VisitPlace told = week.agency->index().toldPlace(week.due[j].visit);
        if (!told.isSet())
            continue;
        wasPublished = true;
        // A day gone by has no duties left: the visit stays where it is, so that nothing is made of it.
        placements[j] = *told.on < week.agency->today()
                            ? week.plan.placements[j]
                            : placementAt(week, static_cast<std::int32_t>(j), told);
    }
    return wasPublished ? withPlacements(week, std::move(placements)) : nullptr;
}

} // namespace kitround::desk
