#pragma once
// Too short a rest before work, said where a shift is entered. A flag: whoever enters it decides.
#include "core/desk/Desk.h"

#include <QString>
#include <QStringList>

namespace kitround::desk {

// What the nurse's next four weeks, from today or the shift's first day, would hold with this shift in place
// of the stored one of its id; a sentence each, three at most. What the shift itself brings comes first.
QStringList restFlags(const Agency &agency, const ShiftPattern &shift);
QStringList restFlags(const Agency &agency, const ExtraShift &shift);

} // namespace kitround::desk
