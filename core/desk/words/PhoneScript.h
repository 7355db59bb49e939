#pragma once
// What to say and ask in a refill call, in order. It asks, notes and passes on; it gives no clinical advice.
#include "core/records/Snapshot.h"
#include "core/supply/Refills.h"

#include <QString>

#include <vector>

namespace kitround::desk {

struct ScriptStep {
    QString say;  // to the home, word for word
    QString note; // to the caller: what to write down, what to leave out; may be empty
};
// For one proposal, with its items and days. "By our record" stands in the note: a home that hears the number
// first repeats it.
std::vector<ScriptStep> phoneScript(const supply::RefillProposal &proposal, const SnapshotIndex &agency);
// The same without a home: for the paper that lies beside the telephone.
std::vector<ScriptStep> phoneScript(const AgencySettings &settings);

// "Phone 555-0182.", or that none is on record.
QString phoneLine(const Patient &patient);
// The agency's own words on used bottles, or that it has named none; never a rule of ours.
QString usedBottleText(const AgencySettings &settings);

} // namespace kitround::desk
