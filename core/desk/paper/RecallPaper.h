#pragma once
// The call list of a recalled lot: everybody who received it, with room for what they said.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/RecallView.h"

namespace kitround::desk {

Paper recallPaper(const Agency &agency, const RecallView &view);

} // namespace kitround::desk
