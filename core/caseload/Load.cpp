#include "core/caseload/Load.h"

#include "core/base/Index.h"
#include "core/caseload/Capacity.h"
#include "core/caseload/Evenness.h"
#include "core/caseload/VisitsMade.h"
#include "core/rounds/problem/CostModel.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace kitround::caseload {
namespace {

constexpr std::int64_t kLookBackDays = 60; // continuity counts what the patient has seen of late (assumed)

class Reviewer {
public:
    Reviewer(const SnapshotIndex &agency, DateRange week, const std::vector<rounds::DueVisit> &due,
             const rounds::WeekProblem &problem, const rounds::WeekPlan &plan)
        : agency_(agency), s_(agency.snapshot()), due_(due), problem_(problem), plan_(plan),
          evaluation_(rounds::evaluate(problem, plan)) {
        review_.week = week;
    }

    LoadReview run() {
        addNurses();
        addPlannedDuties();
        addPlannedVisits();
        addDoneVisits();
        for (auto &[id, load] : loads_)
            finish(load);
        addInNameOrder();
        addContinuity();
        addEvenness();
        return std::move(review_);
    }

private:
    struct Tally {
        NurseLoad load;
        const Nurse *nurse = nullptr;
        std::map<Date, int> visitsByDay;
        std::set<PatientId> patients;
        double points = 0;
    };

    void addNurses() {
        for (const Nurse &nurse : s_.nurses) {
            if (!nurse.isActive)
                continue;
            Tally &tally = loads_[nurse.id];
            tally.nurse = &nurse;
            tally.load.nurse = nurse.id;
            tally.load.primaryPatients =
                static_cast<int>(std::ranges::count_if(s_.patients, [&](const Patient &p) {
                    return isOnService(p.status) && p.primaryNurse == nurse.id;
                }));
        }
        const std::map<NurseId, Minutes> capacity = capacityIn(s_, review_.week);
        const std::map<NurseId, double> atWork = shareAtWork(s_, review_.week);
        for (auto &[id, tally] : loads_) {
            tally.load.capacity = capacity.at(id);
            const double fullTime = 40.0 * 60.0;
            tally.load.pointsCapacity = static_cast<double>(s_.settings[SettingKey::PointsPerWeek]) *
                                        static_cast<double>(tally.nurse->contractPerWeek.count()) / fullTime *
                                        atWork.at(id);
        }
    }

    Tally *tallyOf(std::optional<NurseId> id) {
        const auto found = id ? loads_.find(*id) : loads_.end();
        return found == loads_.end() ? nullptr : &found->second;
    }
    Tally *tallyOfDuty(std::int32_t duty) {
        return tallyOf(problem_.nurses[at(problem_.duties[at(duty)].nurse)].id);
    }

    void addPlannedDuties() {
        for (std::size_t d = 0; d < problem_.duties.size(); ++d) {
            const rounds::DutyTimes &times = evaluation_.duties[d];
            Tally *tally = tallyOfDuty(static_cast<std::int32_t>(d));
            const Date on = problem_.firstDay.plusDays(problem_.duties[d].day);
            if (!tally || times.stops.empty() || !review_.week.contains(on))
                continue;
            tally->load.direct += Minutes::of(times.direct);
            tally->load.travel += Minutes::of(times.travel);
            tally->load.waiting += Minutes::of(times.wait);
            tally->load.notes += Minutes::of(times.notes);
            tally->load.driven += Metres::of(times.metres);
            for (const auto &stop : times.stops) {
                const rounds::Job &job = problem_.jobs[at(stop.job)];
                countVisit(*tally, on, job.patient, job.kind, job.points);
            }
        }
    }

    void countVisit(Tally &tally, Date on, PatientId patient, VisitKind kind, double points) {
        ++tally.load.visits;
        tally.load.starts += kind == VisitKind::StartOfCare ? 1 : 0;
        ++tally.visitsByDay[on];
        tally.patients.insert(patient);
        tally.points += points;
    }

    // An unplaced visit belongs to the week in which its days begin.
    bool isInWeek(std::size_t i) const {
        const rounds::Placement &placement = plan_.placements[i];
        return review_.week.contains(placement.isPlaced()
                                         ? problem_.firstDay.plusDays(problem_.duties[at(placement.duty)].day)
                                         : due_[i].visit.dueFrom);
    }

    void addPlannedVisits() {
        for (std::size_t i = 0; i < due_.size(); ++i) {
            const rounds::Placement &placement = plan_.placements[i];
            if (!isInWeek(i))
                continue;
            placement.isPlaced() ? ++review_.placed : ++review_.unplaced;
            if (!placement.isPlaced()) {
                const Visit &visit = due_[i].visit;
                review_.left.push_back(
                    {.patient = visit.patient, .kind = visit.kind, .days = {visit.dueFrom, visit.dueTo}});
                review_.notMade += visit.dueTo <= s_.asOf ? 1 : 0;
            }
            if (placement.isPlaced() && problem_.jobs[i].twoNurses)
                ++review_.twoNurse;
        }
    }

    // What the week already holds beside the plan: visits done, those nobody recorded, and those missed.
    void addDoneVisits() {
        std::set<VisitId> planned;
        for (const rounds::DueVisit &due : due_)
            if (due.visit.id.isSet())
                planned.insert(due.visit.id);
        for (const Visit &visit : s_.visits) {
            const std::optional<Date> on = visit.day();
            const Date day = on.value_or(visit.dueFrom);
            if (!review_.week.contains(day) || planned.contains(visit.id))
                continue;
            if (visit.status == VisitStatus::Missed) {
                ++review_.missed;
                review_.left.push_back({.patient = visit.patient,
                                        .kind = visit.kind,
                                        .days = {day, day.plusDays(1)},
                                        .isMissed = true,
                                        .reason = visit.missReason,
                                        .prescriberTold = visit.prescriberToldAt.has_value()});
            }
            if (visit.status != VisitStatus::Done && !rounds::isUnrecorded(s_, visit))
                continue;
            ++review_.placed;
            if (visit.twoNurses)
                ++review_.twoNurse;
        }
        for (const VisitMade &made : visitsMade(agency_, review_.week, due_, problem_, plan_))
            addMade(made);
        std::ranges::stable_sort(review_.left, {}, [](const LeftVisit &left) {
            return std::tuple(!left.isMissed, left.days.from, left.patient);
        });
    }

    void addMade(const VisitMade &made) {
        Tally *tally = tallyOf(made.nurse);
        if (!tally)
            return;
        const VisitKind kind = made.visit->kind;
        tally->load.direct += made.inHome;
        tally->load.travel += made.road;
        tally->load.notes += notesLength(s_.settings, kind);
        tally->load.driven += made.driven;
        countVisit(*tally, made.on, made.visit->patient, kind, visitPoints(s_.settings, kind));
    }

    void finish(Tally &tally) {
        NurseLoad &load = tally.load;
        const Minutes paid = load.direct + load.travel + load.waiting + load.notes;
        const std::int64_t contract =
            tally.nurse->contractPerWeek.count() * review_.week.length().count() / 7;
        if (!tally.nurse->overtimeExempt)
            load.overtime = Minutes::of(std::max<std::int64_t>(0, paid.count() - contract));
        load.beyondCapacity = Minutes::of(std::max<std::int64_t>(0, (paid - load.capacity).count()));
        load.share = load.capacity.count() > 0
                         ? static_cast<double>(paid.count()) / static_cast<double>(load.capacity.count())
                         : 0;
        const double miles = inMiles(load.driven);
        load.points = tally.points + miles / static_cast<double>(s_.settings[SettingKey::MilesPerPoint]);
        load.mileage = mileagePaid(s_.settings, load.driven);
        load.patients = static_cast<int>(tally.patients.size());
        for (const auto &[day, visits] : tally.visitsByDay)
            load.mostVisitsInADay = std::max(load.mostVisitsInADay, visits);
        load.sign = signOf(load);
        NurseLoad even = load; // as if its visits were spread over more days
        even.mostVisitsInADay = 0;
        load.isByDay = signOf(even) != load.sign;
        review_.overtime += load.overtime;
        review_.beyondCapacity += load.beyondCapacity;
        review_.mileage += load.mileage;
    }

    LoadSign signOf(const NurseLoad &load) const {
        const double percent = std::round(load.share * 100); // as people read it: 100 % is not above 100 %
        const auto above = [&](SettingKey percentKey, SettingKey visitsKey) {
            return percent > static_cast<double>(s_.settings[percentKey]) ||
                   load.mostVisitsInADay > s_.settings[visitsKey];
        };
        // Work without any capacity is overload whatever the share says.
        if (above(SettingKey::RedLoadPercent, SettingKey::RedVisitsADay) ||
            (load.capacity.isZero() && load.visits > 0))
            return LoadSign::Red;
        if (above(SettingKey::AmberLoadPercent, SettingKey::AmberVisitsADay))
            return LoadSign::Amber;
        if (load.visits > 0)
            return load.share < kUsualFrom ? LoadSign::Light : LoadSign::Usual;
        if (!load.capacity.isZero())
            return LoadSign::Free;
        return isOffInWeek(load.nurse) ? LoadSign::Away : LoadSign::NoShifts;
    }

    bool isOffInWeek(NurseId nurse) const {
        return std::ranges::any_of(s_.timeOff, [&](const TimeOff &off) {
            if (off.nurse == nurse)
                for (Date on = review_.week.from; on < review_.week.to; on = on.plusDays(1))
                    if (off.coversDay(on))
                        return true;
            return false;
        });
    }

    void addInNameOrder() {
        std::vector<const Tally *> order;
        for (const auto &[id, tally] : loads_)
            order.push_back(&tally);
        std::ranges::stable_sort(order, {}, [](const Tally *t) {
            return std::tuple(t->nurse->familyName, t->nurse->givenName, t->nurse->id);
        });
        for (const Tally *tally : order)
            review_.nurses.push_back(tally->load);
    }

    // Visits of the look-back that were done, and those of the week as planned.
    void addContinuity() {
        std::map<PatientId, std::map<NurseId, int>> seen;
        std::map<PatientId, int> visits;
        const auto see = [&](PatientId patient, std::optional<NurseId> nurse) {
            if (!nurse)
                return;
            ++seen[patient][*nurse];
            ++visits[patient];
        };
        for (const Visit &visit : s_.visits) {
            const std::optional<Date> on = visit.day();
            if (visit.status == VisitStatus::Done && on && continuityDays(review_.week).contains(*on))
                see(visit.patient, visit.nurse);
        }
        for (std::size_t i = 0; i < due_.size(); ++i)
            if (plan_.placements[i].isPlaced() && isInWeek(i))
                see(due_[i].visit.patient,
                    problem_.nurses[at(problem_.duties[at(plan_.placements[i].duty)].nurse)].id);
        double sum = 0;
        for (const auto &[patient, byNurse] : seen) {
            const Patient *record = agency_.patient(patient);
            if (!record || !isOnService(record->status))
                continue;
            Continuity c;
            c.patient = patient;
            c.visits = visits[patient];
            c.nurses = static_cast<int>(byNurse.size());
            for (const auto &[nurse, count] : byNurse)
                c.byNurse.push_back({nurse, count});
            std::ranges::stable_sort(c.byNurse, std::ranges::greater(), &NurseVisits::visits);
            setMain(c, *record);
            sum += c.mainShare;
            review_.continuity.push_back(c);
        }
        std::ranges::stable_sort(review_.continuity, {},
                                 [](const Continuity &c) { return std::tuple(c.mainShare, -c.nurses); });
        if (!review_.continuity.empty())
            review_.meanMainShare = sum / static_cast<double>(review_.continuity.size());
    }

    // Who is named makes the main visits, also where others come more often.
    static void setMain(Continuity &c, const Patient &patient) {
        c.isMainNamed = patient.primaryNurse.has_value();
        c.mainNurse = patient.primaryNurse.value_or(c.byNurse.front().nurse);
        const auto by = std::ranges::find(c.byNurse, c.mainNurse, &NurseVisits::nurse);
        c.mainShare = by == c.byNurse.end() ? 0 : static_cast<double>(by->visits) / c.visits;
    }

    void addEvenness() {
        std::vector<double> points;
        for (const NurseLoad &load : review_.nurses)
            if (load.capacity.count() > 0)
                points.push_back(load.points);
        review_.gini = gini(points);
        review_.jain = jain(points);
    }

    const SnapshotIndex &agency_;
    const Snapshot &s_;
    const std::vector<rounds::DueVisit> &due_;
    const rounds::WeekProblem &problem_;
    const rounds::WeekPlan &plan_;
    rounds::Evaluation evaluation_;
    std::map<NurseId, Tally> loads_;
    LoadReview review_;
};

} // namespace

DateRange continuityDays(DateRange week) {
    return {week.from.plusDays(-kLookBackDays), week.to};
}

LoadReview reviewLoad(const SnapshotIndex &agency, DateRange week, const std::vector<rounds::DueVisit> &due,
                      const rounds::WeekProblem &problem, const rounds::WeekPlan &plan) {
    return Reviewer(agency, week, due, problem, plan).run();
}

} // namespace kitround::caseload
