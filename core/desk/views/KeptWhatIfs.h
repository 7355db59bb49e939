#pragma once
// Questions kept under a name: made from an answer, and opened again on today's records. Only the question is
// kept, with the line that was the answer then.
#include "core/desk/views/WhatIf.h"

namespace kitround::desk {

// What the two plans differ in, in one line: "Not placed 0 to 3; over full 1 to 2; ..."
QString saidText(const WhatIfAnswer &answer);
KeptWhatIf keptOf(const WhatIfAnswer &answer, const QString &name, Date today);

// The name proposed for it: the title, numbered where one of that name is kept already.
QString freeKeptName(const Agency &agency, const QString &title);

struct ReopenedWhatIf {
    WhatIfQuestion question;
    Date week;            // any day of the week to ask about
    bool isMoved = false; // the week it was kept for is over: it is asked of next week, day for day
};
// Errors: UnknownChoice at "setting" for a setting this program does not know.
Result<ReopenedWhatIf> reopened(const KeptWhatIf &kept, const Agency &agency);

} // namespace kitround::desk
