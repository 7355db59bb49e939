#include "core/calendar/Weeks.h"
#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/SkillMatrix.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <set>
#include <utility>

namespace kitround::desk::parts {
namespace {

constexpr Days kSkillSoon = Days::of(7);
constexpr Days kLeaveSoon = Days::of(14); // a plan for it has to be made by then (assumed)

void addSkill(Items &items, const Agency &agency, const Nurse &nurse, const SkillGrant &grant) {
    const Date today = agency.today();
    if (!grant.expiresOn || *grant.expiresOn > today + kSkillNotice)
        return;
    AttentionItem item;
    item.kind = AttentionKind::SkillExpiring;
    item.harm = *grant.expiresOn <= today + kSkillSoon ? Harm::Soon : Harm::Tidy;
    item.nurse = nurse.id;
    item.dueOn = grant.expiresOn->plusDays(-1); // the last valid day, as everywhere
    item.title = Text::tr("%1: %2").arg(personName(nurse), words(grant.skill));
    item.detail =
        (*grant.expiresOn <= today
             ? Text::tr("%1. No visit that needs it is planned for this nurse; arrange the sign-off.")
             : Text::tr("%1. Arrange the sign-off in time."))
            .arg(skillEndText(grant, today));
    item.detail[0] = item.detail[0].toUpper();
    items.push_back(std::move(item));
}

void addPlan(Items &items, const Agency &agency, Date weekStart, bool isThisWeek) {
    const Snapshot &s = agency.snapshot();
    const bool isPublished =
        std::ranges::find(s.plansInForce, weekStart, &Plan::weekStart) != s.plansInForce.end();
    const bool hasDraft = std::ranges::any_of(s.plans, [&](const Plan &plan) {
        return plan.weekStart == weekStart && plan.status == PlanStatus::Draft;
    });
    if (isPublished && !hasDraft)
        return;
    AttentionItem item;
    item.kind = AttentionKind::PlanNotPublished;
    item.harm = isThisWeek || weekStart <= agency.today().plusDays(2) ? Harm::Today : Harm::Soon;
    item.dueOn = item.weekOf = weekStart;
    if (isThisWeek && s.plans.empty() && s.plansInForce.empty())
        item.dueOn = agency.today(); // who has only begun is not late since Monday
    item.title =
        (isPublished ? Text::tr("Publish the changed week of %1") : Text::tr("Publish the week of %1"))
            .arg(dayText(weekStart));
    item.detail = isPublished
                      ? Text::tr("A draft was saved after the plan was published: until it is published "
                                 "too, everybody keeps to the plan before.")
                  : isThisWeek ? Text::tr("This week has no published plan.")
                               : Text::tr("Next week has no published plan yet.");
    items.push_back(std::move(item));
}

// "Marsh, Owen, 555-0101": who is phoned about the round.
QString whoToTell(const Nurse *nurse) {
    if (!nurse)
        return Text::tr("the nurse");
    return nurse->phone.empty() ? Text::tr("%1 (no phone on record)").arg(personName(*nurse))
                                : QStringLiteral("%1 (%2)").arg(personName(*nurse), fromStd(nurse->phone));
}

void addPatientCalls(Items &items, const Agency &agency, const std::vector<PatientCall> &calls) {
    if (calls.empty())
        return;
    AttentionItem item;
    item.kind = AttentionKind::PatientsToPhone;
    item.dueOn = calls.front().first.date;
    item.harm = *item.dueOn <= agency.today().plusDays(1) ? Harm::Today : Harm::Soon;
    item.title = toPhoneText(calls.size());
    if (*item.dueOn == agency.today())
        item.title =
            Text::tr("%1, the first about %2 today").arg(item.title, timeText(calls.front().first.minute));
    item.detail =
        Text::tr("Visits of theirs moved, came in or went out after the plan was published. Open the "
                 "list, phone each home, and write down there who was reached: so no home is phoned "
                 "twice and none is forgotten.");
    if (const auto tried =
            std::ranges::count_if(calls, [](const PatientCall &call) { return !call.tried.isEmpty(); });
        tried > 0)
        item.detail += u' ' + counted(tried, Text::tr("1 was tried and not reached."),
                                      Text::tr("%1 were tried and not reached."));
    items.push_back(std::move(item));
}

void addNews(Items &items, const Agency &agency, const RoundNews &news,
             const std::vector<PatientCall> &calls) {
    AttentionItem item;
    item.kind = AttentionKind::PlanChanged;
    item.harm = news.toTell.on <= agency.today().plusDays(1) ? Harm::Today : Harm::Soon;
    item.nurse = news.toTell.nurse;
    item.dueOn = news.toTell.on;
    item.toTell = news.toTell;
    const Nurse *nurse = agency.index().nurse(news.toTell.nurse);
    item.title = Text::tr("Tell %1: the round of %2 changed")
                     .arg(nurse ? personName(*nurse) : Text::tr("a nurse"), dayText(news.toTell.on));
    QStringList homes;
    for (const PatientCall &call : calls)
        if (std::ranges::find(news.patients, call.patient) != news.patients.end())
            homes << shortName(agency, call.patient);
    const QString phone =
        homes.isEmpty()
            ? Text::tr("None of these patients waits for a call.")
            : Text::tr("On the list of patients to phone: %1.").arg(homes.join(QStringLiteral(", ")));
    item.detail = Text::tr("Since %1: %2 Tell %3. %4 A day sheet printed before is out of date.")
                      .arg(momentText(news.since), news.changes.join(u' '), whoToTell(nurse), phone);
    items.push_back(std::move(item));
}

void addUnplaced(Items &items, const Agency &agency, const WeekPicture &week, std::int32_t job) {
    const auto at = static_cast<std::size_t>(job);
    const Visit &visit = week.due[at].visit;
    AttentionItem item;
    item.kind = AttentionKind::VisitNotPlaced;
    item.harm = week.problem.jobs[at].priority >= rounds::Priority::High ? Harm::Today : Harm::Soon;
    item.patient = visit.patient;
    item.weekOf = week.week.from;
    item.dueOn = visit.dueTo.plusDays(-1);
    item.title = Text::tr("Not placed: %1, %2").arg(shortName(agency, visit.patient), words(visit.kind));
    item.detail = Text::tr("Due %1 to %2.").arg(dayText(visit.dueFrom), dayText(visit.dueTo.plusDays(-1)));
    items.push_back(std::move(item));
}

// A week nobody has planned yet is one line about its plan, not one for each visit.
bool isPlanned(const WeekPicture &week) {
    return hasStoredPlan(week) || 2 * unplacedJobs(week).size() < week.due.size();
}

// A week in which nothing is due, and of which nothing is kept, is not published; one that is not worked out
// yet may be.
bool mayBePublished(const WeekPicture *week) {
    return !week || !week->due.empty() || hasStoredPlan(*week);
}

// Nobody is to be visited in these weeks although people are looked after: where no order asks for a visit it
// is most likely not entered yet.
void addNothingDue(Items &items, const Agency &agency) {
    const bool hasOrder = std::ranges::any_of(agency.snapshot().visitOrders, [&](const VisitOrder &order) {
        return !order.end || agency.today() < *order.end;
    });
    if (hasOrder)
        return;
    AttentionItem item;
    item.kind = AttentionKind::UnknownFact;
    item.harm = Harm::Soon;
    item.workplace = "patients";
    item.title = Text::tr("No visits are due: enter the visit orders");
    item.detail =
        Text::tr("Nobody has a visit order in force, so there is no week to plan and publish. Under "
                 "Patients, enter what each prescriber ordered; or all as a list from a spreadsheet "
                 "(File menu).");
    items.push_back(std::move(item));
}

// What an event asks for this week may stand in the next one too, until it has a place.
class Unplaced {
public:
    explicit Unplaced(const WeekPicture &week) {
        for (const std::int32_t job : unplacedJobs(week)) {
            const rounds::DueVisit &due = week.due[static_cast<std::size_t>(job)];
            if (due.visit.id.isSet())
                stored_.insert(due.visit.id);
            asked_.emplace(due.cause, due.visit.patient);
        }
    }
    bool holds(const rounds::DueVisit &due) const {
        return due.visit.id.isSet() ? stored_.contains(due.visit.id)
                                    : !due.visit.order && asked_.contains({due.cause, due.visit.patient});
    }

private:
    std::set<VisitId> stored_;
    std::set<std::pair<rounds::DueCause, PatientId>> asked_;
};

void addAllUnplaced(Items &items, const Agency &agency, const WeekPicture *week,
                    const WeekPicture *thisWeek) {
    std::optional<Unplaced> before;
    if (thisWeek && isPlanned(*thisWeek)) {
        before.emplace(*thisWeek);
        for (const std::int32_t job : unplacedJobs(*thisWeek))
            addUnplaced(items, agency, *thisWeek, job);
    }
    if (!week || !isPlanned(*week))
        return;
    for (const std::int32_t job : unplacedJobs(*week))
        if (!before || !before->holds(week->due[static_cast<std::size_t>(job)]))
            addUnplaced(items, agency, *week, job);
}

void addLeave(Items &items, const Agency &agency, const TimeOff &off) {
    if (off.status != LeaveStatus::Requested || off.to <= agency.today())
        return;
    const Nurse *nurse = agency.index().nurse(off.nurse);
    AttentionItem item;
    item.kind = AttentionKind::LeaveWaiting;
    item.forRole = UserRole::NurseManager;
    item.harm = off.from <= agency.today() + kLeaveSoon ? Harm::Today : Harm::Soon;
    item.nurse = off.nurse;
    item.dueOn = off.from;
    item.title = Text::tr("Decide the leave of %1").arg(nurse ? personName(*nurse) : Text::tr("a nurse"));
    item.detail = Text::tr("Asked for from %1 to %2. See under Load review, Leave, who covers, and "
                           "approve or decline it.")
                      .arg(dayText(off.from), dayText(off.to.plusDays(-1)));
    if (off.askedOn)
        item.detail += u' ' + Text::tr("It has waited since %1.").arg(dayText(*off.askedOn, agency.today()));
    items.push_back(std::move(item));
}

} // namespace

void addTeam(Items &items, const Agency &agency, const WeekPicture *week, const WeekPicture *thisWeek) {
    for (const Nurse &nurse : agency.snapshot().nurses)
        if (nurse.isActive)
            for (const SkillGrant &grant : nurse.skills)
                addSkill(items, agency, nurse, grant);
    const std::vector<PatientCall> calls = patientCalls(agency);
    addPatientCalls(items, agency, calls);
    for (const RoundNews &news : roundNews(agency))
        addNews(items, agency, news, calls);
    for (const TimeOff &off : agency.snapshot().timeOff)
        addLeave(items, agency, off);
    const Date weekStart = calendar::weekStartOf(agency.today(), agency.settings().weekStart);
    const bool hasCare = std::ranges::any_of(agency.snapshot().patients,
                                             [](const Patient &p) { return isOnService(p.status); });
    if (hasCare) { // an agency that looks after nobody has nothing to publish
        if (mayBePublished(thisWeek))
            addPlan(items, agency, weekStart, true);
        if (mayBePublished(week))
            addPlan(items, agency, weekStart.plusDays(7), false);
        if (!mayBePublished(week) && !mayBePublished(thisWeek))
            addNothingDue(items, agency);
    }
    addAllUnplaced(items, agency, week, thisWeek);
}

} // namespace kitround::desk::parts
