#pragma once
// The awkward cases sample-db/README.md promises, looked for in a snapshot.
#include "core/records/Snapshot.h"

#include <string>
#include <vector>

namespace kitround::sample {

struct AwkwardCase {
    std::string name;
    bool isThere = false;
};
// `week` is the one to be planned next.
std::vector<AwkwardCase> awkwardCases(const SnapshotIndex &agency, DateRange week);

} // namespace kitround::sample
