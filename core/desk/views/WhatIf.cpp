#include "core/desk/views/WhatIf.h"

#include "core/base/Index.h"
#include "core/calendar/Weeks.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr int kLeastCover = 2; // nurses a day who may drain a site; below it one absence stops care (assumed)

// The plan of one picture on the duties and jobs of another. What has no counterpart there is left out.
rounds::WeekPlan carriedOver(const WeekPicture &from, const WeekPicture &to) {
    const auto jobKey = [](const rounds::DueVisit &d) {
        return std::tuple(d.visit.patient, d.visit.order.value_or(VisitOrderId{}), d.visit.kind, d.visit.id,
                          d.ordinal);
    };
    const auto dutyKey = [](const WeekPicture &week, const rounds::Duty &d) {
        return std::pair(week.problem.nurses[at(d.nurse)].id, d.day);
    };
    std::map<std::pair<NurseId, std::int32_t>, std::int32_t> duties;
    for (std::size_t d = 0; d < to.problem.duties.size(); ++d)
        duties[dutyKey(to, to.problem.duties[d])] = static_cast<std::int32_t>(d);
    const auto dutyThere = [&](std::int32_t duty) {
        if (duty < 0)
            return -1;
        const auto found = duties.find(dutyKey(from, from.problem.duties[at(duty)]));
        return found == duties.end() ? -1 : found->second;
    };
    std::map<decltype(jobKey(from.due.front())), std::int32_t> jobs; // of `from`
    for (std::size_t j = 0; j < from.due.size(); ++j)
        jobs[jobKey(from.due[j])] = static_cast<std::int32_t>(j);
    rounds::WeekPlan plan;
    plan.placements.resize(to.due.size());
    plan.riderJob.assign(to.problem.riders.size(), -1);
    std::map<std::int32_t, std::int32_t> jobThere;
    for (std::size_t j = 0; j < to.due.size(); ++j) {
        const auto found = jobs.find(jobKey(to.due[j]));
        if (found == jobs.end())
            continue;
        jobThere[found->second] = static_cast<std::int32_t>(j);
        const rounds::Placement &was = from.plan.placements[at(found->second)];
        const std::int32_t duty = dutyThere(was.duty), second = dutyThere(was.secondDuty);
        if (duty >= 0 && (second >= 0) == (was.secondDuty >= 0))
            plan.placements[j] = {duty, second, was.start};
    }
    const std::size_t riders = std::min(plan.riderJob.size(), from.plan.riderJob.size());
    for (std::size_t r = 0; r < riders; ++r) {
        const bool isSame = to.problem.riders[r].patient == from.problem.riders[r].patient &&
                            to.problem.riders[r].delivery == from.problem.riders[r].delivery;
        const auto job = jobThere.find(from.plan.riderJob[r]);
        if (isSame && job != jobThere.end() && plan.placements[at(job->second)].isPlaced())
            plan.riderJob[r] = job->second;
    }
    return plan;
}

bool hasVisits(const WeekPicture &week, NurseId nurse) {
    return std::ranges::any_of(placedJobs(week), [&](const PlacedJob &placed) {
        return week.problem.nurses[at(week.problem.duties[at(placed.duty)].nurse)].id == nurse;
    });
}

// A nurse more is more freedom. Where the search found nothing for that nurse to do, what else it moved is
// chance: the plan without the nurse stands. The copy appends the one added.
bool isUnneededNurse(const WhatIfQuestion &question, const WeekPicture &after) {
    return question.kind == WhatIfKind::NurseAdded &&
           !hasVisits(after, after.agency->snapshot().nurses.back().id);
}

// A nurse who has no hours that week: asking what happens without them asks nothing.
bool isAwayAnyway(const WhatIfAnswer &answer) {
    const auto was =
        std::ranges::find(answer.reviewBefore.nurses, answer.question.nurse, &caseload::NurseLoad::nurse);
    return answer.question.kind == WhatIfKind::NurseAway && was != answer.reviewBefore.nurses.end() &&
           was->capacity.isZero() && was->visits == 0;
}

void addSameNotes(QStringList &notes, const WhatIfAnswer &answer, bool isUnneeded) {
    if (isUnneeded)
        notes << Text::tr(
            "The new nurse was not needed: no visit goes better to this nurse, so the plan is the "
            "one without.");
    if (isAwayAnyway(answer))
        notes << Text::tr(
            "This nurse has no hours that week as it is, so nothing changes. Choose another nurse or "
            "another week.");
}

ProgressSink part(const ProgressSink &sink, double from, double share) {
    if (!sink)
        return {};
    return [sink, from, share](Progress p) {
        p.share = from + share * std::clamp(p.share, 0.0, 1.0);
        sink(p);
    };
}

const Skill kDrainSkills[] = {Skill::DrainChest, Skill::DrainAbdomen};

std::vector<Shift> shiftsOf(const Agency &agency, DateRange week) {
    const Snapshot &s = agency.snapshot();
    return shiftsIn(week, s.nurses, s.shiftPatterns, s.extraShifts, s.timeOff);
}

std::int64_t atWorkWith(Skill skill, Date day, const std::vector<Shift> &shifts, const Agency &agency) {
    return std::ranges::count_if(shifts, [&](const Shift &shift) {
        const Nurse *nurse = agency.index().nurse(shift.nurse);
        return shift.on == day && !shift.isOnCall && nurse && skillsOn(*nurse, day).contains(skill);
    });
}

// Leave is covered by people, not by totals: who else is off, and on which days too few may drain a site.
void addCoverNotes(QStringList &notes, const Agency &now, const Agency &changed, DateRange week,
                   NurseId away) {
    const Snapshot &s = changed.snapshot();
    const Nurse *nurse = changed.index().nurse(away);
    QStringList alsoOff;
    for (const TimeOff &off : s.timeOff) {
        const Nurse *other = changed.index().nurse(off.nurse);
        if (!other || !other->isActive || other->id == away || off.status != LeaveStatus::Approved ||
            off.from >= week.to || off.to <= week.from)
            continue;
        const bool sharesSkill = std::ranges::any_of(kDrainSkills, [&](Skill skill) {
            return skillsOn(*nurse, week.from).contains(skill) && skillsOn(*other, week.from).contains(skill);
        });
        if (!sharesSkill)
            continue;
        QString text = personName(*other);
        if (other->base.area == nurse->base.area)
            text += Text::tr(" (same kind of area)");
        alsoOff << text;
    }
    alsoOff.removeDuplicates();
    if (!alsoOff.isEmpty())
        notes << Text::tr("Also off that week, with the same drain skills: %1.")
                     .arg(alsoOff.join(QStringLiteral("; ")));
    const std::vector<Shift> shifts = shiftsOf(changed, week), shiftsNow = shiftsOf(now, week);
    for (const Skill skill : kDrainSkills) {
        QStringList thin;
        for (Date day = week.from; day < week.to; ++day) {
            if (!rounds::isVisitingDay(s.settings, day))
                continue;
            const auto count = atWorkWith(skill, day, shifts, changed);
            // A day that is as thin without the change says nothing about it.
            if (count < kLeastCover && count < atWorkWith(skill, day, shiftsNow, now))
                thin << Text::tr("%1 (%2)").arg(words(day.weekday())).arg(count);
        }
        if (!thin.isEmpty())
            notes << Text::tr("Fewer than %1 nurses at work with the skill \"%2\": %3.")
                         .arg(QString::number(kLeastCover), words(skill), thin.join(QStringLiteral(", ")));
    }
}

// "Over full" stands before them: by what, is told.
QString overFullBy(const caseload::NurseLoad &load) {
    return load.isByDay || load.capacity.isZero() ? shareText(load)
                                                  : Text::tr("%1 %").arg(std::llround(100 * load.share));
}

// An average hides the one overloaded nurse.
void addTooMuchNote(QStringList &notes, const WhatIfAnswer &answer) {
    constexpr qsizetype kNamedNurses = 5;
    QStringList red;
    for (const caseload::NurseLoad &load : overloadedFirst(answer.reviewAfter))
        if (hasTooMuch(load, *answer.after))
            if (const Nurse *nurse = answer.after->agency->index().nurse(load.nurse))
                red << Text::tr("%1 at %2").arg(personName(*nurse), overFullBy(load));
    if (red.isEmpty())
        return;
    const qsizetype more = red.size() - kNamedNurses;
    notes << Text::tr("Over full after the change: %1%2.")
                 .arg(red.mid(0, kNamedNurses).join(QStringLiteral("; ")),
                      more > 0 ? Text::tr(" and %1 more in the table").arg(more) : QString());
}

void addLoadNotes(QStringList &notes, const WhatIfAnswer &answer) {
    addTooMuchNote(notes, answer);
    QStringList left;
    for (const std::int32_t job : unplacedJobs(*answer.after)) {
        const Visit &visit = answer.after->due[at(job)].visit;
        const Patient *real = answer.before->agency->index().patient(visit.patient);
        const Patient *drawn = answer.after->agency->index().patient(visit.patient);
        left << QStringLiteral("%1 %2").arg(
            real || !drawn ? fromStd(patientOf(answer.after->agency->index(), visit.patient,
                                               PatientNamed::Initials)) // the notes leave the house
                           : Text::tr("invented referral %1,").arg(fromStd(drawn->givenName)),
            words(visit.kind));
    }
    constexpr qsizetype kNamed = 8;
    const qsizetype count = left.size();
    if (count > 0)
        notes << Text::tr("Without a place after the change: %1%2.")
                     .arg(left.mid(0, kNamed).join(QStringLiteral("; ")),
                          count > kNamed ? Text::tr("; and %1 more").arg(count - kNamed) : QString());
}

} // namespace

// What is made already is no plan's doing: who has nothing left to do that week is not over full.
bool hasTooMuch(const caseload::NurseLoad &load, const WeekPicture &week) {
    return load.sign == caseload::LoadSign::Red && hasVisits(week, load.nurse);
}

int nursesWithTooMuch(const caseload::LoadReview &review, const WeekPicture &week) {
    return static_cast<int>(std::ranges::count_if(
        review.nurses, [&](const caseload::NurseLoad &load) { return hasTooMuch(load, week); }));
}

Result<WhatIfAnswer> askWhatIf(const AgencyPtr &agency, Date anyDay,
                               const std::vector<supply::RefillProposal> *refills,
                               const WhatIfQuestion &question, const rounds::SolveOptions &options,
                               std::stop_token stop, const ProgressSink &progress) {
    const Problem cancelled{ProblemCode::Cancelled, "what_if", {}};
    if (stop.stop_requested()) // left while it still waited for its turn
        return cancelled;
    const DateRange week = calendar::weekOf(anyDay, agency->settings().weekStart);
    const auto changed = changedAgency(*agency, week, question);
    if (!changed)
        return changed.error();
    const auto open = openWeek(agency, anyDay, refills);
    if (!open)
        return open.error();
    const auto before = planWeek(**open, options, stop, part(progress, 0, 0.4));
    if (!before)
        return before.error();
    if (stop.stop_requested())
        return cancelled;
    const auto again = planWeek(**before, options, stop, part(progress, 0.4, 0.3));
    if (!again)
        return again.error();
    if (stop.stop_requested())
        return cancelled;
    const auto fresh = openWeek(*changed, anyDay, refills);
    if (!fresh)
        return fresh.error();
    const WeekPicturePtr carried = withPlan(**fresh, carriedOver(**before, **fresh));
    const auto after = planWeek(*carried, options, stop, part(progress, 0.7, 0.3));
    if (!after)
        return after.error();
    if (stop.stop_requested())
        return cancelled;
    const bool isUnneeded = carried->broken.empty() && isUnneededNurse(question, **after);
    WhatIfAnswer answer;
    answer.question = question;
    answer.title = whatIfTitle(question, *agency);
    answer.before = *before;
    answer.after = isUnneeded ? carried : *after;
    answer.again = *again;
    answer.reviewBefore = loadReview(**before);
    answer.reviewAgain = loadReview(**again);
    answer.reviewAfter = loadReview(*answer.after);
    addSameNotes(answer.notes, answer, isUnneeded);
    if (question.kind == WhatIfKind::NurseAway)
        addCoverNotes(answer.notes, *agency, **changed, week, question.nurse);
    addLoadNotes(answer.notes, answer);
    if (const QString turn = whatIfTurnNote(answer); !turn.isEmpty())
        answer.notes << turn;
    return answer;
}

QString shiftNowText(const Agency &agency, NurseId nurse, Date on) {
    QStringList hours;
    for (const Shift &shift : shiftsOf(agency, {on, on.plusDays(1)}))
        if (shift.nurse == nurse && shift.on == on && !shift.isOnCall)
            hours << Text::tr("%1 to %2").arg(timeText(shift.from), timeText(shift.to));
    return hours.isEmpty() ? Text::tr("now no shift")
                           : Text::tr("now %1").arg(hours.join(QStringLiteral(", ")));
}

} // namespace kitround::desk
