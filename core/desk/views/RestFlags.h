#pragma once
// Too short a rest before work, said where a shift is entered. A flag: whoever enters it decides.
#include "core/caseload/OnCall.h"
#include "core/desk/Desk.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace kitround::desk {

// What the nurse's next four weeks, from today or the shift's first day, would hold with this shift in place
// of the stored one of its id; a sentence each, three at most. What the shift itself brings comes first.
QStringList restFlags(const Agency &agency, const ShiftPattern &shift);
// Of several that are entered at once, all of one nurse; none where there are none.
QStringList restFlags(const Agency &agency, const std::vector<ShiftPattern> &week);
QStringList restFlags(const Agency &agency, const ExtraShift &shift);
// What came before the rest: "the turn on call of Mon 23 Nov".
QString workBeforeText(const caseload::ShortRest &rest);

} // namespace kitround::desk
