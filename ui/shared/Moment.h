#pragma once
// The moment an entry is made: the clock's, which moves on while the snapshot in hand does not.
#include "core/desk/LocalNow.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

inline LocalTime momentNow(Session &session) {
    const auto now = desk::localNow(session.agency()->settings(), session.desk().asOf(), session.clock());
    return now ? *now : session.now();
}

} // namespace kitround::ui
