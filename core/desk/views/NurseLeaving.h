#pragma once
// A nurse who stops working here: what is still hers, said before the record is saved, marked at her
// patients, and kept under Today until it is handed over. Pure.
#include "core/desk/Desk.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace kitround::desk {

struct NurseAhead {
    std::int64_t published = 0; // visits from today on that people were told of
    std::int64_t drafted = 0;   // that only a draft gives her
    std::int64_t turns = 0;     // on call, of single days from today on
    std::int64_t second = 0;    // patients on service whose second nurse she is
    Eaches inCar;
    std::vector<PatientId> mainOf; // on service, whose main nurse she is
    bool isNothing() const {
        return published + drafted + turns + second == 0 && inCar.isZero() && mainOf.empty();
    }
};
NurseAhead nurseAhead(const Agency &agency, NurseId nurse);
// "3 published visits", "main nurse of 12 patients", ...: what there is, the most urgent first.
QStringList aheadLines(const NurseAhead &ahead);
// Asked before somebody who works here is marked as gone. Empty where nothing is hers.
QString leavingQuestion(const Agency &agency, const Nurse &nurse);
// "Marsh, Owen (no longer works here)".
QString nurseWithState(const Nurse &nurse);

} // namespace kitround::desk
