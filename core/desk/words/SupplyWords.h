#pragma once
// What of a recalled lot may stand in a home, and a promise beyond the offer, said the same way everywhere.
#include "core/safety/RecalledStock.h"
#include "core/supply/Refills.h"

#include <QString>

#include <optional>
#include <string>

namespace kitround::desk {

// "up to 14 of recalled lot L1", "6 of recalled lot L1, set aside".
QString words(const safety::RecalledAtHome &recalled, const SnapshotIndex &agency);
// Of one item at a home's line, or of all its items; empty where there is none.
QString recalledText(const SnapshotIndex &agency, CatheterId home, std::optional<ItemId> item = std::nullopt);
// The same over all lines of a patient.
QString recalledText(const SnapshotIndex &agency, PatientId patient);

// What a home says to a refill: "yes, send it".
QString words(RefillAnswer answer);

// "11 promised for Fri 20 Nov".
QString promisedText(Eaches units, Date on, Date today);
// "500 of Kit 500: 11 offered, at most 20 may be held, 105 free in the storeroom by that
// day." With only what it passes.
QString words(const supply::OverOffer &over, const SnapshotIndex &agency);
// How the reason for it is written down.
std::string moreThanOffered(const std::string &why);
// The same of a first delivery that is not there before the first drain.
std::string afterFirstDrain(Date firstDrain, const std::string &why);

} // namespace kitround::desk
