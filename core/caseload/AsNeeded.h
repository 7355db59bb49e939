#pragma once
// How many as-needed visits an order in force still allows: its total less the as-needed visits of the
// patient since its start that were made or are still meant.
#include "core/records/Snapshot.h"

#include <optional>

namespace kitround::caseload {

struct AsNeededLeft {
    VisitOrderId order;
    int allowed = 0;
    int used = 0;
    std::string reason; // for what, as ordered
    int left() const { return allowed - used; }
};
// Of the latest order in force on the day that allows any; nothing: none does. An order without an end lasts
// as long as its weeks, or, where it has none, until it is ended.
std::optional<AsNeededLeft> asNeededLeft(const SnapshotIndex &agency, PatientId patient, Date on);

} // namespace kitround::caseload
