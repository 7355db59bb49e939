#pragma once
// What each home was told last of its visits: first the first published version of its week, this one or a
// later one, then every call that reached somebody. A message that was left may lie unheard: the home knows
// what it heard before, or that. The one baseline of who is to be phoned (desk/views/PatientCalls) and of
// what changed since publishing (desk/views/WeekRepair). Pure.
#include "core/desk/Desk.h"

#include <optional>
#include <unordered_map>
#include <vector>

namespace kitround::desk {

class HomesTold {
public:
    explicit HomesTold(const Agency &agency);

    struct Told {
        std::vector<VisitPlace> places;   // never empty: what it heard for certain, then messages left since
        std::optional<LocalTime> heardAt; // of the first of them; none where no call told it
    };
    const Told &of(VisitId visit) const;
    // Where the home may expect the visit that stands there now: the first place that is not as agreed, else
    // what it heard for certain. Not set: it expects none.
    const VisitPlace &expected(VisitId visit, const VisitPlace &now) const;
    bool wasPublished(Date on) const; // the day's week, at least once

private:
    void hear(const ToldPlace &visit, const PatientTold &told);

    const Told nothing_{{VisitPlace{}}, std::nullopt};
    std::unordered_map<VisitId, Told> told_;
    std::vector<Date> weeks_; // published at least once
    Weekday weekStart_;
};

} // namespace kitround::desk
