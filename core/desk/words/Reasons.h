#pragma once
// Sentences with numbers for what the engines propose: each line explains itself.
#include "core/records/Snapshot.h"
#include "core/rounds/explain/Explain.h"
#include "core/supply/Refills.h"
#include "core/supply/Reorders.h"

#include <QString>

namespace kitround::desk {

QString reason(const supply::RefillProposal &proposal, const SnapshotIndex &agency);
QString reason(const supply::RefillLine &line, const SnapshotIndex &agency);
QString reason(const supply::ReorderLine &line, const SnapshotIndex &agency);
QString reason(const rounds::RuleBreak &rule, const rounds::WeekProblem &problem, const SnapshotIndex &agency);
QString reason(const rounds::UnplacedReason &why, const rounds::WeekProblem &problem, const SnapshotIndex &agency);
QString reason(const rounds::WayOut &way, const rounds::WeekProblem &problem, const SnapshotIndex &agency);
QString costText(const rounds::CostParts &parts);

} // namespace kitround::desk
