#pragma once
// Weeks here run Sunday to Saturday. Sunday 2026-11-01 is the first day of the first one; Thanksgiving is
// Thursday 2026-11-26 (fourth Thursday, 5 U.S.C. 6103(a)).
#include "core/rounds/problem/WeekBuilder.h"

#include <gtest/gtest.h>

namespace kitround::rounds {

class DueTest : public ::testing::Test {
protected:
    static constexpr Date kSunday = Date::of(2026, 11, 1);
    static DateRange week(int n) { return {kSunday.plusDays(7 * n), kSunday.plusDays(7 * n + 7)}; }

    DueTest() {
        s.asOf = kSunday;
        s.now = {kSunday, Minutes::of(7 * 60)};
        s.logFrom = kSunday.plusDays(-90);
        Patient p;
        p.id = PatientId(1);
        p.status = CareStatus::Active;
        p.address.point = GeoPoint{40.0, -75.0};
        s.patients.push_back(p);
        Catheter c;
        c.id = CatheterId(1);
        c.patient = p.id;
        c.site = CavitySite::Chest;
        s.catheters.push_back(c);
        // Stock is known, so that no count is due.
        DrainOrder order;
        order.id = DrainOrderId(1);
        order.catheter = c.id;
        order.start = kSunday.plusDays(-30);
        order.kit = ItemId(1);
        s.drainOrders.push_back(order);
        HomeCount count;
        count.id = HomeCountId(1);
        count.catheter = c.id;
        count.item = ItemId(1);
        count.at = {kSunday.plusDays(-2), Minutes::of(600)};
        s.homeCounts.push_back(count);
        Nurse nurse;
        nurse.id = NurseId(1);
        nurse.base.point = GeoPoint{40.05, -75.05};
        for (int k = 0; k < kSkillCount; ++k)
            nurse.skills.push_back({Skill(k), std::nullopt});
        s.nurses.push_back(nurse);
        for (const Weekday day : kAllWeekdays) {
            ShiftPattern shift;
            shift.id = ShiftPatternId(1 + int(day));
            shift.nurse = nurse.id;
            shift.weekday = day;
            shift.from = Minutes::of(480);
            shift.to = Minutes::of(1020);
            shift.validFrom = kSunday.plusDays(-365);
            s.shiftPatterns.push_back(shift);
        }
    }

    VisitOrder &order(std::vector<VisitSegment> segments, Date start) {
        VisitOrder o;
        o.id = VisitOrderId(static_cast<std::int64_t>(s.visitOrders.size()) + 1);
        o.patient = PatientId(1);
        o.kind = VisitKind::Routine;
        o.start = start;
        o.segments = std::move(segments);
        s.visitOrders.push_back(o);
        return s.visitOrders.back();
    }
    static VisitSegment segment(int perWeek, int weeks) {
        VisitSegment seg;
        seg.leastPerWeek = seg.mostPerWeek = perWeek;
        seg.weeks = weeks;
        return seg;
    }
    Visit &stored(VisitStatus status, Date on, std::optional<VisitOrderId> of = VisitOrderId(1)) {
        Visit v;
        v.id = VisitId(static_cast<std::int64_t>(s.visits.size()) + 1);
        v.patient = PatientId(1);
        v.order = of;
        v.status = status;
        v.dueFrom = on;
        v.dueTo = on.plusDays(1);
        v.length = Minutes::of(45);
        v.on = on;
        v.startAt = Minutes::of(600);
        v.nurse = NurseId(1);
        s.visits.push_back(v);
        return s.visits.back();
    }
    std::vector<DueVisit> due(DateRange days) {
        const SnapshotIndex index(s);
        return visitsDue(index, days);
    }
    Result<WeekProblem> problem(DateRange days) {
        const SnapshotIndex index(s);
        return buildWeek(index, days, visitsDue(index, days), {});
    }
    void hold(HoldKind kind, Date from, std::optional<Date> to) {
        Hold h;
        h.id = HoldId(static_cast<std::int64_t>(s.holds.size()) + 1);
        h.patient = PatientId(1);
        h.kind = kind;
        h.from = from;
        h.to = to;
        s.holds.push_back(h);
    }

    Snapshot s;
};

} // namespace kitround::rounds
