#pragma once
// What a refill call has to ask and to tell: the rules a day breaks, what nobody counted, and who was called
// today already.
#include "core/records/Snapshot.h"
#include "core/supply/PromisedDay.h"

#include <QString>
#include <QStringList>

#include <span>
#include <string>

namespace kitround::desk {

// "Against the rules: ...; ...."; empty where none is broken.
QString rulesText(std::span<const supply::TrialBreak> breaks);
// How the reason for such a day is written down.
std::string dayAgainstRules(std::span<const supply::TrialBreak> breaks, const std::string &why);

// Whoever answered is asked what was set aside of a recalled lot.
bool mustTellRecalled(RefillAnswer answer);
// Items of these lines that nobody counted in the call, nor earlier today.
QStringList notCounted(const SnapshotIndex &agency, std::span<const DeliveryLine> lines,
                       std::span<const HomeCount> counts);

// The newest call of today; nothing where the home was not called.
const RefillContact *calledToday(const SnapshotIndex &agency, PatientId patient);
// That call said it needs nothing: the home is not called again today.
bool saidNoToday(const SnapshotIndex &agency, PatientId patient);
// "10:15: no, nothing now"; empty where it was not called today.
QString calledTodayText(const SnapshotIndex &agency, PatientId patient);

} // namespace kitround::desk
