#pragma once
// Published visits that are over, of which nobody has recorded what happened: by day under Today, and as the
// list from which they are recorded.
#include "core/desk/Desk.h"

#include <QString>

#include <vector>

namespace kitround::desk {

struct VisitToRecord {
    Visit visit;
    Date on;
    QString patient, nurse; // the nurse as planned; with the second one
};
// The oldest first.
std::vector<VisitToRecord> visitsToRecord(const Agency &agency);

} // namespace kitround::desk
