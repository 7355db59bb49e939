#include "core/caseload/VisitsMade.h"

#include "core/base/Index.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/rounds/travel/Travel.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>
#include <utility>

namespace kitround::caseload {
namespace {

// The planner's own rule, for one way.
Minutes wayOnMap(const Address &from, const Address &to, const AgencySettings &settings) {
    if (!from.point || !to.point)
        return {};
    return Minutes::of(
        rounds::travelTable({{from.point, from.area}, {to.point, to.area}}, settings).minutesBetween(0, 1));
}

LocalTime momentOf(const VisitMade &made) {
    return made.visit->startedAt.value_or(LocalTime{made.on, made.visit->startAt.value_or(Minutes())});
}

std::set<std::pair<NurseId, Date>> daysWithMoreToCome(const rounds::WeekProblem &problem,
                                                      const rounds::WeekPlan &plan) {
    std::set<std::pair<NurseId, Date>> days;
    for (const rounds::Placement &placement : plan.placements)
        for (const std::int32_t d : {placement.duty, placement.secondDuty})
            if (d >= 0) {
                const rounds::Duty &duty = problem.duties[at(d)];
                days.emplace(problem.nurses[at(duty.nurse)].id, problem.firstDay.plusDays(duty.day));
            }
    return days;
}

class RoadFinder {
public:
    RoadFinder(const SnapshotIndex &agency, std::set<std::pair<NurseId, Date>> moreToCome)
        : agency_(agency), s_(agency.snapshot()), moreToCome_(std::move(moreToCome)) {}

    void addRoads(std::vector<VisitMade> &made) const {
        for (std::size_t i = 0; i < made.size(); ++i) {
            const bool isFirst = i == 0 || !isSameDay(made[i - 1], made[i]);
            const bool isLast = i + 1 == made.size() || !isSameDay(made[i], made[i + 1]);
            made[i].road = roadOf(made[i], isFirst ? nullptr : &made[i - 1], isLast);
        }
    }

private:
    static bool isSameDay(const VisitMade &a, const VisitMade &b) {
        return a.nurse == b.nurse && a.on == b.on;
    }

    Minutes roadOf(const VisitMade &made, const VisitMade *before, bool isLast) const {
        const Patient *patient = agency_.patient(made.visit->patient);
        const Nurse *nurse = agency_.nurse(made.nurse);
        if (!patient || !nurse || made.visit->kind == VisitKind::Phone)
            return {};
        if (made.visit->driven && !made.isSecond)
            return roadFromMiles(s_.settings, *made.visit->driven, patient->address.area);
        Minutes road = wayTo(*patient, *nurse, before);
        if (isLast && !moreToCome_.contains({made.nurse, made.on}))
            road += wayOnMap(patient->address, nurse->base, s_.settings);
        return road;
    }

    Minutes wayTo(const Patient &patient, const Nurse &nurse, const VisitMade *before) const {
        const Patient *from = before ? agency_.patient(before->visit->patient) : nullptr;
        if (from)
            return from->id == patient.id ? Minutes() : wayOnMap(from->address, patient.address, s_.settings);
        return wayOnMap(nurse.startsAtStoreroom ? s_.settings.storeroom : nurse.base, patient.address,
                        s_.settings);
    }

    const SnapshotIndex &agency_;
    const Snapshot &s_;
    std::set<std::pair<NurseId, Date>> moreToCome_;
};

} // namespace

Minutes roadFromMiles(const AgencySettings &settings, Metres driven, AreaKind area) {
    const SettingKey speed = area == AreaKind::Urban   ? SettingKey::SpeedUrban
                             : area == AreaKind::Rural ? SettingKey::SpeedRural
                                                       : SettingKey::SpeedSuburban;
    return Minutes::of(std::llround(60 * inMiles(driven) / static_cast<double>(settings[speed])) +
                       settings[SettingKey::StopMinutes]);
}

std::vector<VisitMade> visitsMade(const SnapshotIndex &agency, DateRange days,
                                  const std::vector<rounds::DueVisit> &due,
                                  const rounds::WeekProblem &problem, const rounds::WeekPlan &plan) {
    std::set<VisitId> planned;
    for (const rounds::DueVisit &d : due)
        if (d.visit.id.isSet())
            planned.insert(d.visit.id);
    std::vector<VisitMade> made;
    for (const Visit &visit : agency.snapshot().visits) {
        const Date on = visit.day().value_or(visit.dueFrom);
        const bool isWork =
            visit.status == VisitStatus::Done || rounds::isUnrecorded(agency.snapshot(), visit);
        if (!isWork || !days.contains(on) || planned.contains(visit.id))
            continue;
        for (const auto &[id, isSecond] :
             {std::pair(visit.nurse, false), std::pair(visit.secondNurse, true)}) {
            const Nurse *nurse = id ? agency.nurse(*id) : nullptr;
            if (!nurse || !nurse->isActive)
                continue;
            const Metres driven = isSecond ? Metres() : visit.driven.value_or(Metres());
            made.push_back(
                {&visit, *id, on, isSecond, visit.lasted().value_or(visit.length), Minutes(), driven});
        }
    }
    std::ranges::stable_sort(made, {}, [](const VisitMade &m) {
        const LocalTime moment = momentOf(m);
        return std::tuple(m.nurse, m.on, moment.date, moment.minute);
    });
    RoadFinder(agency, daysWithMoreToCome(problem, plan)).addRoads(made);
    return made;
}

} // namespace kitround::caseload
