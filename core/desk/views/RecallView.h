#pragma once
// Where a lot went, for people: places and homes, with whom to ring. Patients on hold and discharged are on
// it.
#include "core/desk/Desk.h"

#include <QString>

#include <span>

namespace kitround::desk {

struct RecallStopRow {
    QString place;
    Eaches received, there;
};
struct RecallHomeRow {
    PatientId patient;
    QString name, phone, place, standing; // standing: "in service", "on hold", "has left"
    Eaches received, there, used;
    int drains = 0; // that name the lot
};
struct RecallView {
    LotId lot;
    QString number, itemName, state;
    std::vector<RecallStopRow> stops;
    std::vector<RecallHomeRow> homes; // by stock there, most first
};
// `movements`: all of the lot (Desk::movementsOfLot).
RecallView recallView(const Agency &agency, LotId lot, std::span<const StockMovement> movements);
// Lots a notice may mean: case, blanks and hyphens do not matter, and it may shorten the number.
std::vector<LotId> lotsNamed(const Agency &agency, const QString &number);

} // namespace kitround::desk
