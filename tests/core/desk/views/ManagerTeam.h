#pragma once
// Two nurses and their homes: the tiny agency that the manager's questions are asked of.
#include "core/desk/views/WeekView.h"
#include "tests/support/SmallAgency.h"

#include <memory>
#include <vector>

namespace kitround::desk::managers {

using test::everyDays;
using test::Home;
using test::SmallAgency;

inline constexpr Date kToday = Date::of(2026, 3, 2); // a Monday; the next week starts on Sunday the 8th
inline constexpr NurseId kSecond{2};
inline const rounds::SolveOptions kSearch{.seed = 1, .iterations = 300, .seconds = 0, .keepPublished = true};

// Two nurses and twelve homes, two routine visits a week each.
struct Team {
    SmallAgency agency{kToday};
    std::vector<Home> homes;
    explicit Team(int count = 12) {
        for (int k = 0; k < count; ++k)
            homes.push_back(agency.addHome());
        for (const Home &home : homes)
            agency.order(home, everyDays(2, kToday));
        agency.edit([&](Snapshot &s) {
            Nurse nurse = s.nurses.front();
            nurse.id = kSecond;
            nurse.code = "N2";
            nurse.familyName = "Second";
            s.nurses.push_back(nurse);
            for (std::size_t k = 0, n = s.shiftPatterns.size(); k < n; ++k) {
                ShiftPattern shift = s.shiftPatterns[k];
                shift.id = ShiftPatternId(static_cast<std::int64_t>(s.shiftPatterns.size()) + 1);
                shift.nurse = kSecond;
                s.shiftPatterns.push_back(shift);
            }
            for (std::size_t k = 0; k < homes.size(); ++k) {
                s.patients[k].primaryNurse = k % 2 == 0 ? SmallAgency::kNurse : kSecond;
                VisitOrder order;
                order.id = VisitOrderId(static_cast<std::int64_t>(k) + 1);
                order.patient = homes[k].patient;
                order.start = kToday.plusDays(-14);
                VisitSegment segment;
                segment.leastPerWeek = segment.mostPerWeek = 2;
                segment.weeks = 4; // ends in the week of 8 March
                order.segments = {segment};
                s.visitOrders.push_back(order);
            }
        });
    }
    AgencyPtr build() const { return std::make_shared<const Agency>(agency.build()); }
};

// A referral that came in this morning; its first visit is due on Wednesday.
inline PatientId refer(Team &team) {
    const PatientId referred = team.agency.addHome().patient;
    team.agency.edit([](Snapshot &s) {
        Patient &patient = s.patients.back();
        patient.status = CareStatus::Referred;
        patient.startOfCare.reset();
        patient.primaryNurse.reset();
        patient.referredAt = Instant::fromUnixSeconds(kToday.dayNumber() * 86400 + 13 * 3600);
    });
    return referred;
}

} // namespace kitround::desk::managers
