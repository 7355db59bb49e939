#pragma once
// The call list of a recalled lot: everybody who received it and what they said, with room for the rest; and
// the reply to the supplier.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/RecallView.h"

namespace kitround::desk {

Paper recallPaper(const Agency &agency, const RecallView &view);

// What the supplier is told: counts only, nobody's name.
Paper recallReply(const Agency &agency, const RecallView &view);

} // namespace kitround::desk
