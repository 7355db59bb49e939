#include "core/desk/views/ReferralPlaces.h"

#include "core/base/Index.h"
#include "core/calendar/Deadlines.h"
#include "core/calendar/Zone.h"
#include "core/caseload/Load.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/SkillMatrix.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/EventsDue.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr std::int64_t kNewDays = 14;        // a start this young still takes more time (common practice)
constexpr std::int64_t kFirstWeeksDays = 28; // whose nurse is to be there: the home learns in them (assumed)

// Leave in the patient's first weeks, decided or asked for: who is named then makes the second visit by
// somebody else.
QStringList leaveInFirstWeeks(const Agency &agency, NurseId nurse) {
    const Date today = agency.today();
    std::vector<const TimeOff *> away;
    for (const TimeOff &off : agency.snapshot().timeOff)
        if (off.nurse == nurse &&
            (off.status == LeaveStatus::Approved || off.status == LeaveStatus::Requested) && off.to > today &&
            off.from < today.plusDays(kFirstWeeksDays))
            away.push_back(&off);
    std::ranges::sort(away, {}, [](const TimeOff *off) { return off->from; });
    QStringList texts;
    for (const TimeOff *off : away) {
        const Date last = off->to.plusDays(-1);
        const QString days =
            off->from == last ? dayText(last) : Text::tr("%1 to %2").arg(dayText(off->from), dayText(last));
        texts << (off->status == LeaveStatus::Approved ? Text::tr("Away %1.").arg(days)
                                                       : Text::tr("Asks to be away %1.").arg(days));
    }
    return texts;
}

// The agency with one visit to place in both weeks, in the stead of the first visit it would owe anyway.
AgencyPtr withOneVisit(const Agency &agency, const Patient &patient, VisitKind kind, DateRange days,
                       VisitId &id) {
    Snapshot copy = agency.snapshot();
    copy.settings = agency.settings();
    std::int64_t most = 0;
    for (const Visit &visit : copy.visits)
        most = std::max(most, visit.id.value());
    if (kind == VisitKind::StartOfCare)
        std::erase_if(copy.visits, [&](const Visit &v) {
            return v.patient == patient.id && v.kind == kind && v.status != VisitStatus::Done &&
                   v.status != VisitStatus::Missed && v.status != VisitStatus::Cancelled;
        });
    Visit visit = rounds::blankVisit(agency.index(), patient, kind, days);
    visit.id = id = VisitId(most + 1);
    visit.status = VisitStatus::Due;
    copy.visits.push_back(visit);
    return std::make_shared<const Agency>(std::move(copy));
}

class Ranking {
public:
    Ranking(ReferralAnswer &answer, const Agency &agency) : answer_(answer) {
        const Date today = agency.today();
        for (const Nurse &nurse : agency.snapshot().nurses) {
            if (!nurse.isActive)
                continue;
            ReferralPlace place;
            place.nurse = nurse.id;
            place.name = personName(nurse);
            for (const Patient &p : agency.snapshot().patients) {
                if (!isOnService(p.status) || p.primaryNurse != nurse.id)
                    continue;
                ++place.ownPatients;
                place.newStarts += !p.startOfCare || p.startOfCare->plusDays(kNewDays) > today ? 1 : 0;
            }
            answer_.places.push_back(std::move(place));
        }
    }

    // A week in which the visit cannot be made at all is compared by its load too.
    caseload::LoadReview addLoads(const WeekPicture &week) {
        caseload::LoadReview review = loadReview(week);
        for (const caseload::NurseLoad &load : review.nurses)
            weeks_[load.nurse].push_back({week.week, load});
        return review;
    }

    void addWeek(const WeekPicture &week, std::int32_t job) {
        const rounds::Job &j = week.problem.jobs[at(job)];
        // Beside leaving the visit out, which is no choice here.
        const double leftOut = week.problem.weights.unplaced[static_cast<std::size_t>(j.priority)];
        const caseload::LoadReview review = addLoads(week);
        for (const rounds::Alternative &a : rounds::alternatives(week.problem, week.plan, job)) {
            const rounds::Duty &duty = week.problem.duties[at(a.duty)];
            const NurseId nurse = week.problem.nurses[at(duty.nurse)].id;
            const auto found = std::ranges::find(answer_.places, nurse, &ReferralPlace::nurse);
            if (found == answer_.places.end())
                continue;
            hasDuty_.insert(nurse);
            if (!a.broken.empty()) {
                noteBlocked(week, nurse, a);
                continue;
            }
            ReferralSlot slot;
            slot.on = week.week.from.plusDays(duty.day);
            slot.start = Minutes::of(a.start);
            slot.addedCost = a.addedCost + leftOut;
            slot.isInTime = !answer_.deadline || LocalTime{slot.on, slot.start} <= *answer_.deadline;
            const auto when = [](const ReferralSlot &s) { return std::tuple(s.on, s.start); };
            const auto cost = [](const ReferralSlot &s) { return std::tuple(!s.isInTime, s.addedCost); };
            if (!found->first || when(slot) < when(*found->first))
                found->first = slot;
            if (!found->cheapest || cost(slot) < cost(*found->cheapest)) {
                found->cheapest = slot;
                const auto load = std::ranges::find(review.nurses, nurse, &caseload::NurseLoad::nurse);
                const double capacity = static_cast<double>(load->capacity.count());
                found->shareBefore = load->share;
                found->shareAfter = load->share + (capacity > 0 ? (j.length + j.notes) / capacity : 0);
            }
        }
    }

    void finish(const Agency &agency, const Patient &patient) {
        for (ReferralPlace &place : answer_.places) {
            const Nurse &nurse = *agency.index().nurse(place.nurse);
            fillWeeks(place, agency.settings());
            QStringList notes; // who may go and who is there come first
            if (!place.isPossible())
                notes << whyNot(agency, patient, nurse);
            for (const SkillGrant &grant : nurse.skills)
                if (place.isPossible() && grant.expiresOn && *grant.expiresOn < answer_.days.to.plusDays(28))
                    notes << Text::tr("The skill %1.").arg(skillEndText(grant, agency.today()));
            if (place.isPossible()) {
                notes << leaveInFirstWeeks(agency, place.nurse);
                if (!place.cheapest->isInTime)
                    notes << Text::tr("Not within the deadline.");
                noteOverFull(place, notes);
            }
            if (place.hasManyStarts())
                notes << Text::tr("%1 new starts within two weeks: others first.").arg(place.newStarts);
            place.note = notes.join(u' ');
        }
        std::ranges::stable_sort(answer_.places, {}, [](const ReferralPlace &p) {
            return std::tuple(!p.isPossible(), p.isPossible() && !p.cheapest->isInTime,
                              p.isPossible() && p.isOverFull, p.isPossible() && p.hasManyStarts(),
                              p.isPossible() ? p.cheapest->addedCost : 0.0, p.name);
        });
    }

private:
    void fillWeeks(ReferralPlace &place, const AgencySettings &settings) const {
        const auto found = weeks_.find(place.nurse);
        if (found == weeks_.end())
            return;
        const std::int64_t most = settings[SettingKey::RedLoadPercent];
        for (const auto &[days, load] : found->second) {
            ReferralWeek week{.week = days, .load = load, .shareAfter = load.share};
            week.hasVisit = place.isPossible() && days.contains(place.cheapest->on);
            if (week.hasVisit)
                week.shareAfter = place.shareAfter;
            week.isOverFull = load.sign == caseload::LoadSign::Red ||
                              (week.hasVisit && std::llround(100 * week.shareAfter) > most);
            place.isOverFull = place.isOverFull || week.isOverFull;
            place.weeks.push_back(week);
        }
    }

    static void noteOverFull(const ReferralPlace &place, QStringList &notes) {
        for (const ReferralWeek &week : place.weeks) {
            if (!week.isOverFull)
                continue;
            // Full by the visits of one day it is with or without this one.
            const bool isByVisit =
                week.hasVisit && (week.load.sign != caseload::LoadSign::Red || !week.load.isByDay);
            notes << (isByVisit
                          ? Text::tr("Over full with this visit: %1 % in the week of %2.")
                                .arg(std::lround(100 * week.shareAfter))
                                .arg(dayText(week.week.from))
                          : Text::tr("Week of %1: %2.").arg(dayText(week.week.from), loadText(week.load)));
        }
    }

    // The best of the blocked days: the one with the fewest rules in the way.
    void noteBlocked(const WeekPicture &week, NurseId nurse, const rounds::Alternative &a) {
        std::set<rounds::Rule> rules;
        for (const rounds::RuleBreak &b : a.broken)
            rules.insert(b.rule);
        const bool isOnlyTheDay = rules == std::set{rounds::Rule::Day};
        const auto rank = static_cast<int>(rules.size()) + (isOnlyTheDay ? 100 : 0);
        const auto found = blocked_.find(nurse);
        if (found != blocked_.end() && found->second.first <= rank)
            return;
        QStringList texts;
        for (const rounds::RuleBreak &b : a.broken)
            texts << reason(b, week.problem, week.agency->index(), PatientNamed::InFull);
        texts.removeDuplicates();
        blocked_[nurse] = {rank, texts.join(u' ')};
    }

    QString whyNot(const Agency &agency, const Patient &patient, const Nurse &nurse) const {
        if (std::ranges::find(patient.barredNurses, nurse.id) != patient.barredNurses.end())
            return Text::tr("Barred from visiting this patient.");
        if (!hasDuty_.contains(nurse.id))
            return Text::tr("No shift in these days.");
        const SkillSet needs = rounds::skillsFor(answer_.kind, agency.index(), patient.id);
        QStringList lacking;
        for (int k = 0; k < kSkillCount; ++k) {
            const auto skill = static_cast<Skill>(k);
            if (!needs.contains(skill) || skillsOn(nurse, agency.today()).contains(skill))
                continue;
            const auto grant = std::ranges::find(nurse.skills, skill, &SkillGrant::skill);
            lacking << (grant == nurse.skills.end() || !grant->expiresOn
                            ? words(skill)
                            : skillEndText(*grant, agency.today()));
        }
        if (!lacking.isEmpty())
            return Text::tr("Lacks the skill: %1.").arg(lacking.join(QStringLiteral(", ")));
        const auto found = blocked_.find(nurse.id);
        return found == blocked_.end() ? Text::tr("No day fits.") : found->second.second;
    }

    ReferralAnswer &answer_;
    std::set<NurseId> hasDuty_;
    std::map<NurseId, std::pair<int, QString>> blocked_;
    std::map<NurseId, std::vector<std::pair<DateRange, caseload::NurseLoad>>> weeks_;
};

} // namespace

QString weekShareText(const ReferralWeek &week) {
    if (week.load.capacity.isZero())
        return words(week.load.sign);
    const auto before = std::lround(100 * week.load.share), after = std::lround(100 * week.shareAfter);
    const QString share =
        week.hasVisit ? Text::tr("%1 to %2 %").arg(before).arg(after) : Text::tr("%1 %").arg(before);
    return week.isOverFull ? Text::tr("%1, over full").arg(share) : share;
}

std::optional<NurseId> backupFor(const ReferralAnswer &answer, NurseId main) {
    for (const ReferralPlace &place : answer.places)
        if (place.isPossible() && place.nurse != main)
            return place.nurse;
    return std::nullopt;
}

QString assignmentReason(const ReferralPlace &main, const QString &backup, const ReferralAnswer &answer) {
    if (!main.isPossible())
        return {};
    const auto rank = 1 + std::ranges::count_if(answer.places, [&](const ReferralPlace &p) {
                          return p.isPossible() && p.cheapest->addedCost < main.cheapest->addedCost;
                      });
    QString text = Text::tr("Number %1 of %2 by added weighted minutes (%3), %4 %5; load %6 to %7 %, %8, "
                            "%9.")
                       .arg(rank)
                       .arg(std::ranges::count_if(answer.places, &ReferralPlace::isPossible))
                       .arg(std::lround(main.cheapest->addedCost))
                       .arg(dayText(main.cheapest->on), timeText(main.cheapest->start))
                       .arg(std::lround(100 * main.shareBefore))
                       .arg(std::lround(100 * main.shareAfter))
                       .arg(counted(main.ownPatients, Text::tr("1 own patient"), Text::tr("%1 own patients")),
                            counted(main.newStarts, Text::tr("1 new start"), Text::tr("%1 new starts")));
    if (!backup.isEmpty())
        text += Text::tr(" Backup: %1, the next best.").arg(backup);
    return text;
}

QString firstVisitOpenText(const ReferralAnswer &answer) {
    return answer.deadline
               ? Text::tr("The first visit is not planned yet; it is due by %1.")
                     .arg(momentText(*answer.deadline))
               : Text::tr("The first visit is not planned yet; by when it is due is not known: enter the "
                          "referral time.");
}

WeekPicturePtr withFirstVisit(const WeekPicture &week, PatientId patient, NurseId nurse,
                              const ReferralSlot &slot) {
    if (!hasStoredPlan(week) || !week.week.contains(slot.on))
        return nullptr;
    const auto due = std::ranges::find_if(week.due, [&](const rounds::DueVisit &d) {
        return d.visit.patient == patient && d.visit.kind == VisitKind::StartOfCare;
    });
    const auto job = static_cast<std::int32_t>(due - week.due.begin());
    if (due == week.due.end() || week.plan.placements[at(job)].isPlaced() ||
        week.problem.jobs[at(job)].twoNurses)
        return nullptr;
    for (const rounds::Alternative &a : rounds::alternatives(week.problem, week.plan, job)) {
        const rounds::Duty &duty = week.problem.duties[at(a.duty)];
        if (!a.broken.empty() || week.problem.nurses[at(duty.nurse)].id != nurse ||
            week.week.from.plusDays(duty.day) != slot.on)
            continue;
        std::vector<rounds::Placement> placements = week.plan.placements;
        placements[at(job)] = {a.duty, -1, a.start};
        return withLocks(*withPlacements(week, std::move(placements)), job, {.day = true, .nurse = true});
    }
    return nullptr;
}

Result<ReferralAnswer> whoCanTake(const AgencyPtr &agency, PatientId id,
                                  const std::vector<supply::RefillProposal> *refills,
                                  const rounds::SolveOptions &options, std::stop_token stop,
                                  const ProgressSink &progress) {
    const Patient *patient = agency->index().patient(id);
    if (!patient || !isOnService(patient->status))
        return Problem{ProblemCode::UnknownRecord, "patient_id", {"patient", std::to_string(id.value())}};
    ReferralAnswer answer;
    answer.patient = id;
    const Date next = nextWeek(*agency);
    answer.days = {agency->today(), next.plusDays(7)};
    const bool isReferral = patient->status == CareStatus::Referred;
    answer.kind = isReferral ? VisitKind::StartOfCare : VisitKind::Routine;
    const auto zone = calendar::Zone::named(agency->settings().timeZone);
    if (isReferral && zone)
        if (const auto due = calendar::firstVisitDue(*patient, agency->settings()))
            answer.deadline = zone->toLocal(*due);
    VisitId visit;
    const AgencyPtr asked = withOneVisit(*agency, *patient, answer.kind, answer.days, visit);
    Ranking ranking(answer, *agency);
    for (const Date day : {agency->today(), next}) {
        const double done = day == next ? 0.5 : 0;
        if (progress)
            progress({done, "search", 0, 0});
        auto week = openWeek(asked, day, refills);
        if (!week)
            return week.error();
        const bool isPlanned =
            hasStoredPlan(**week) || (*week)->due.size() >= 2 * unplacedJobs(**week).size();
        if (!isPlanned) {
            week = planWeek(**week, options, stop, {});
            if (!week)
                return week.error();
            answer.notes << Text::tr(
                                "The week of %1 has no plan yet; it was planned on a copy to answer this.")
                                .arg(dayText((*week)->week.from));
        }
        if (stop.stop_requested())
            return Problem{ProblemCode::Cancelled, "referral", {}};
        const auto due = std::ranges::find_if((*week)->due,
                                              [&](const rounds::DueVisit &d) { return d.visit.id == visit; });
        if (due == (*week)->due.end()) { // on hold all week
            ranking.addLoads(**week);
            continue;
        }
        const auto job = static_cast<std::int32_t>(due - (*week)->due.begin());
        rounds::WeekPlan without = (*week)->plan;
        without.placements[at(job)] = {};
        std::ranges::replace(without.riderJob, job, -1);
        ranking.addWeek(*withPlan(**week, std::move(without)), job);
    }
    ranking.finish(*agency, *patient);
    if (QString guess = guessedDrivingText(*patient); !guess.isEmpty()) {
        guess[0] = guess[0].toUpper();
        answer.notes << guess + u'.';
    }
    if (isReferral)
        if (const IntakeClosure *closure = closureOf(*agency, patient->address.area, agency->today()))
            answer.notes << closedText(*closure);
    if (answer.deadline && *answer.deadline < agency->snapshot().now)
        answer.notes << Text::tr("The first visit was due by %1 and is late: take the first free place.")
                            .arg(momentText(*answer.deadline));
    return answer;
}

} // namespace kitround::desk
