#pragma once
// Four homes of two visits each in the week after the story's own, planned and published.
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {

struct PublishedWeek {
    static constexpr Date kFrom = Date::of(2026, 3, 8);

    Story s;
    WeekPicturePtr week;

    PublishedWeek() {
        for (const char *code : {"A", "B", "C", "D"}) {
            const auto home = s.addHome(code);
            s.order(home, test::everyDays(1, kMonday), kMonday, s.kit500);
            s.visits(home, 2, 4, kFrom);
        }
        week = store(*planned(*open()), true);
        if (!unplacedJobs(*week).empty() || !week->evaluation.broken.empty())
            throw std::runtime_error("the week to start from must be whole");
    }
    WeekPicturePtr open() const { return must(openWeek(s.agency(), kFrom, nullptr)); }
    static WeekPicturePtr planned(const WeekPicture &picture) {
        rounds::SolveOptions options;
        options.iterations = 500;
        return must(planWeek(picture, options, {}, {}));
    }
    // Saved as a draft or published, and opened again.
    WeekPicturePtr store(const WeekPicture &picture, bool publish) {
        must(s.desk().acceptPlan(kFrom, visitsOf(picture), 1, picture.plan.cost, publish));
        return open();
    }
    // Every home that waits is reached.
    void phoneEverybody() {
        for (const PatientCall &call : patientCalls(*s.agency())) {
            PatientTold told = call.toTell;
            told.reached = Reached::Patient;
            must(s.desk().tellPatient(told));
        }
    }
    // The first visit that an order owes.
    PlacedJob someVisit() const {
        const auto placed = placedJobs(*week);
        return *std::ranges::find_if(placed, [&](const PlacedJob &p) {
            return week->due[static_cast<std::size_t>(p.job)].visit.order.has_value();
        });
    }
    // With that visit given to the other nurse on its day.
    WeekPicturePtr moved(const PlacedJob &visit) const {
        const NurseId nurse = nurseOfDuty(*week, visit.duty);
        const auto offer = offerMove(*week, visit.job, nurse == s.nurse ? s.otherNurse : s.nurse,
                                     dayOfDuty(*week, visit.duty));
        if (!offer.isAllowed())
            throw std::runtime_error("the other nurse must be able to take the visit");
        return offer.after;
    }
    // The same visit in a picture that was opened again.
    std::int32_t jobOf(const WeekPicture &picture, const PlacedJob &visit) const {
        const VisitId id = week->due[static_cast<std::size_t>(visit.job)].visit.id;
        for (std::size_t j = 0; j < picture.due.size(); ++j)
            if (picture.due[j].visit.id == id)
                return static_cast<std::int32_t>(j);
        return -1;
    }
};

} // namespace kitround::desk
