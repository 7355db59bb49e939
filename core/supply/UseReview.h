#pragma once
// Kits used as logged, against the drains the order plans: over-use and under-use go to a nurse. Under-use is
// never a saving by itself: drains may be missed.
#include "core/records/Snapshot.h"

#include <vector>

namespace kitround::supply {

enum class UseVerdict : std::uint8_t { AsOrdered, Over, Under };
struct UseLine {
    PatientId patient;
    CatheterId catheter;
    ItemId item;              // the kit
    std::int64_t planned = 0; // drains on the order's plan in the time, holds left out
    std::int64_t logged = 0;  // drains done
    double used = 0;          // kits, opened or lost
    std::optional<Date> lastEntry;
    UseVerdict verdict = UseVerdict::AsOrdered;
    std::int64_t missed() const { return planned > logged ? planned - logged : 0; }
};
// The last `weeks` whole weeks before the as-of date, or as long as the catheter's log is loaded. Over: more
// than a fifth and at least two kits above the plan; under: likewise below (assumed). As-needed orders plan
// nothing and are not judged; nor are homes in service for less than two weeks. Over and under first, widest
// first.
std::vector<UseLine> useReview(const SnapshotIndex &agency, int weeks = 4);

} // namespace kitround::supply
