#pragma once
// Holds as the forecast takes them: those with an end as they are; an open one as a pause that ends by
// chance, day by day, with the mean that its guess says.
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::forecast {

struct HoldOutlook {
    std::vector<Hold> known;      // draining stops, with an end
    std::vector<Hold> forPlain;   // the same with the guess in place of the end
    std::optional<Date> openFrom; // an open hold: from then on paused, back by chance
    double returnChance = 0;      // a day

    static std::vector<const Hold *> pointers(const std::vector<Hold> &holds);
};
HoldOutlook holdOutlookOf(const SnapshotIndex &agency, PatientId patient);

} // namespace kitround::forecast
