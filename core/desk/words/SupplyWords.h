#pragma once
// What of a recalled lot may stand in a home, and a promise beyond the offer, said the same way everywhere.
#include "core/safety/RecalledStock.h"
#include "core/supply/Refills.h"

#include <QString>
#include <QStringList>

#include <cstdint>
#include <optional>
#include <string>

namespace kitround::desk {

enum class CameBack : std::uint8_t; // core/desk/Parcels.h

// "up to 14 of recalled lot L1", "6 of recalled lot L1, set aside".
QString words(const safety::RecalledAtHome &recalled, const SnapshotIndex &agency);
// Of one item at a home's line, or of all its items; empty where there is none.
QString recalledText(const SnapshotIndex &agency, CatheterId home, std::optional<ItemId> item = std::nullopt);
// The same over all lines of a patient.
QString recalledText(const SnapshotIndex &agency, PatientId patient);
// "4 of lot L2, past its last day Wed 1 Jan 2025": of an item at a home's line and of what stands in for it;
// empty where there is none.
QString expiredText(const SnapshotIndex &agency, CatheterId home, ItemId item);
// The same over all that the lines of a patient hold.
QString expiredText(const SnapshotIndex &agency, PatientId patient);
// How what is past its last day is counted at a home, and how it goes off the books.
QString countPastDateText();
// "up to 3 of them of a recalled lot, 4 past their last day and not counted"; empty where all is counted.
QString notCountedText(Eaches recalled, Eaches expired);

// Where a parcel is whose delivery is cancelled after it had left the storeroom.
QString words(CameBack where);
// "arrived short by 3 of 10"; empty where all of it came whole.
QString arrivedShort(const Delivery &delivery);
// Of one line: "2 damaged, 1 missing"; empty likewise.
QString arrivedShort(const DeliveryLine &line);
// What may be a slip in an offer: a case that costs nothing, or is another than the item's own. A sentence
// each.
QStringList offerDoubts(const SupplierItem &offer, const SnapshotIndex &agency);
// What a home says to a refill: "yes, send it".
QString words(RefillAnswer answer);

// "Of these, 9 are for new referrals nobody knows yet (2 a week, assumed: see ...)."; empty where none are
// expected.
QString referralsText(double eaches, const SnapshotIndex &agency);

// "11 promised for Fri 20 Nov".
QString promisedText(Eaches units, Date on, Date today);
// The first day on which a refill may come, and what makes it the first: "Thu 19 Mar (the payer's first
// day)", "Tue 3 Mar (the first courier day)"; today, by which no payer sets a day, with nothing.
QString firstDayText(const supply::RefillProposal &proposal, Date today);
// "2 × Kit 500 for 1 × Kit 1000"
QString standInRatio(const SnapshotIndex &agency, ItemId ordered, ItemId standIn);
// "12 × Kit 500"; of what stands in with its ratio: "24 × Kit 500 (2 for each Kit 1000)".
QString offeredText(const supply::RefillLine &line, const SnapshotIndex &agency);
// Of a home that is served by another size that day: "2 × Kit 500 for 1 × Kit 1000 until Tue 1 Dec"; else
// empty.
QString servedByStandIn(const SnapshotIndex &agency, CatheterId home, ItemId ordered, Date on);
// "500 of Kit 500: 11 offered, at most 20 may be held, 105 free in the storeroom by that
// day." With only what it passes.
QString words(const supply::OverOffer &over, const SnapshotIndex &agency);
// How the reason for it is written down.
std::string moreThanOffered(const std::string &why);
// Of a count that with what was set aside beside it comes to more than the record had.
std::string moreThanRecorded(const std::string &why);
// Of a recalled lot: more set aside than was sent there, or at a home it was never sent to.
std::string beyondTheRecord(const std::string &why);
// The same of a first delivery that is not there before the first drain.
std::string afterFirstDrain(Date firstDrain, const std::string &why);

} // namespace kitround::desk
