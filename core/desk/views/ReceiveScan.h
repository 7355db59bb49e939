#pragma once
// Receiving before anything is booked: what a scanned label means in this agency's catalogue, and why a line
// of a packing slip may not be taken in. The desk refuses with the same problems.
#include "core/desk/Desk.h"

#include <QString>
#include <QStringList>

#include <span>

namespace kitround::desk {

struct ScanReading {
    std::string gtin;           // as scanned; empty: the label names no article
    std::optional<ItemId> item; // none: no item of the catalogue has this number
    std::string lotNumber;
    std::optional<Date> expiresOn;
    Eaches perUnit = Eaches::of(1); // what one box with this label holds, as far as the catalogue knows
    std::optional<Eaches> quantity; // the label's own count, in eaches
    std::optional<LotId> knownLot;
    QStringList remarks; // what to look at: an outer pack, an unknown article, a lost separator
};
// The label in GS1 form (core/exchange/Gs1.h, whose problems it passes on). An article number that differs
// from an item's in its first digit (1 to 8) and its check digit only is an outer pack of that item: by the
// GS1 rules another trade item, so that it is counted in the catalogue's cases and said.
Result<ScanReading> readScan(const Agency &agency, const std::string &text);
// The same where one item is in hand: the reading is of it. Conflict at "scan" besides, args
// {"label_of_other_item", the label's item, this one}, {"label_of_other_article", article number, this item}
// where the item's own number is on record, {"label_without_lot"}.
Result<ScanReading> readScanOf(const Agency &agency, ItemId item, const std::string &text);

// What speaks against a lot as its label has it, wherever it comes from: number missing, another expiry on
// file, a last day of use (the label's, else the record's) before `least`. At "lot_number" and "expires_on".
Problems lotLabelProblems(const Agency &agency, ItemId item, const std::string &number,
                          std::optional<Date> expiresOn, Date least);
// All that speaks against taking the line in on that day: no such item, quantity, lot number missing, lot
// recalled, another expiry on file, expired, too short-dated unless accepted. Fields as Desk::receive names
// them.
Problems receiveProblems(const Agency &agency, const ReceiveLine &line, Date on);

// How an item stands on an order while lines are still typed: to come, all of it on the other lines here,
// come in full before, or not on it.
enum class OrderStanding : unsigned char { Open, OnOtherLines, Complete, NotOrdered };
OrderStanding standingOn(std::span<const PurchaseLine> ordered, std::span<const ReceiveLine> others,
                         ItemId item);
QString orderStandingText(OrderStanding standing); // empty where it is open

// What goes beyond the order the record is for, each item once: to be asked before it is booked. Conflict at
// "quantity", args {"over_receipt", item name, eaches open before, eaches that came} or {"not_on_order", item
// name, order number}.
Problems beyondOrder(const Agency &agency, const ReceiveRecord &record);
// What looks as if cases were entered as eaches, each item once: to be asked before it is booked. Conflict at
// "quantity", args {"receipt_as_cases", item name, eaches entered, eaches of a case} where just so many cases
// are open, {"receipt_broken_case", ...} where it is less than is open and no whole cases.
Problems likelyWrongUnit(const Agency &agency, const ReceiveRecord &record);

// Of what was booked in: where from, how much, what of it is damaged, and what is still to come of its order.
// `agency`: as it was before.
QString bookedInText(const Agency &agency, const ReceiveRecord &record);
bool isStillOpen(const Agency &agency, const ReceiveRecord &record);

// The lot on file under that number of the item; blanks, hyphens and case do not matter. nullptr: none.
const Lot *lotNumbered(const Snapshot &agency, ItemId item, const std::string &number);
bool isSameLotNumber(const std::string &a, const std::string &b);

} // namespace kitround::desk
