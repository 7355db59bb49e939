#pragma once
// Sentences with numbers for what the engines propose: each line explains itself.
#include "core/desk/words/Words.h"
#include "core/records/Snapshot.h"
#include "core/rounds/explain/Explain.h"
#include "core/supply/Refills.h"
#include "core/supply/Reorders.h"

#include <QString>
#include <QStringList>

#include <cstdint>

namespace kitround::desk {

QString reason(const supply::RefillProposal &proposal, const SnapshotIndex &agency);
QString reason(const supply::RefillLine &line, const SnapshotIndex &agency);
QString reason(const supply::ReorderLine &line, const SnapshotIndex &agency);
QString reason(const rounds::RuleBreak &rule, const rounds::WeekProblem &problem, const SnapshotIndex &agency,
               PatientNamed named = PatientNamed::Initials);
QString reason(const rounds::UnplacedReason &why, const rounds::WeekProblem &problem,
               const SnapshotIndex &agency, PatientNamed named = PatientNamed::Initials);
// Beside a tip that has the cost, the sentence goes without.
enum class CostSaid : std::uint8_t { Here, InTip };
QString reason(const rounds::WayOut &way, const rounds::WeekProblem &problem, const SnapshotIndex &agency,
               CostSaid said = CostSaid::Here);
// What plans are weighed by, called the same wherever a person reads it.
QString weightedMinutesText(double minutes); // "738 weighted minutes"
QString addedMinutesText(double minutes);    // "adds 1 weighted minute"; what rounds to nothing has no number
// A change is told as what lies between the two totals as they are told, so that a person who subtracts them
// finds the same.
std::int64_t wholeChange(double before, double after);
QString addedMinutesText(double before, double after); // of two plans' totals
QString weightedMinutesMeaning();
// "412 weighted minutes: travel 300, ..."; parts that are nil left out.
QString costText(const rounds::CostParts &parts);
struct CostLine {
    std::string key; // stable, snake_case
    QString name;
    double minutes = 0; // weighted
};
std::vector<CostLine> costLines(const rounds::CostParts &parts); // all parts, in the order of the formula
struct CostChange {
    QString name;
    std::int64_t was = 0, is = 0;
};
// The parts that differ, in the order of the formula, in whole numbers whose changes add up to that of the
// totals.
std::vector<CostChange> costChanges(const rounds::CostParts &before, const rounds::CostParts &after);
QString words(rounds::Rule rule); // what the rule says: "the nurse's hours"
QString words(rounds::WayOutKind kind);
QString words(rounds::Priority priority);
QString words(supply::RefillLimit limit);
QString words(supply::ReorderCause cause);
// Of a line that is needed anyhow, what was added to reach the minimum; empty for none.
QString toppedUpText(const supply::ReorderLine &line);
QString words(supply::ReorderFlag flag);

} // namespace kitround::desk
