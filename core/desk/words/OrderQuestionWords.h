#pragma once
// What is said of an order that may be out of date.
#include "core/safety/OrderQuestions.h"

#include <QString>

namespace kitround::desk {

// "The order of Mon 2 Mar (chest, right) is older than the catheter change of Wed 4 Mar: confirm with the
// prescriber ..."; of a maximum above the common one: "... allows at most 2,500 mL in one session, above the
// common limit ...: have it read back". Nobody is told to change it.
QString questionText(const safety::OrderQuestion &question, const SnapshotIndex &agency);
// The last answer to a question about the order, or empty: "Confirmed Mon 2 Mar 09:10 by ..., read back,
// taken by ..."
QString answerText(DrainOrderId order, const SnapshotIndex &agency);

// What the order leaves open: "Not complete. Ask for: prescriber; signed." Empty where it says all.
QString unsaidText(const DrainOrder &order);

} // namespace kitround::desk
