#pragma once
// What the nurse manager keeps: questions asked of the planner under a name, and areas closed to referrals.
#include "core/base/Date.h"
#include "core/records/Ids.h"
#include "core/records/People.h"

#include <optional>
#include <string>

namespace kitround {

enum class WhatIfKind : std::uint8_t { NurseAway, NurseAdded, Referrals, Shift, Setting };

// The question is kept, not its answer: opened again it is answered by that day's records.
struct KeptWhatIf {
    KeptWhatIfId id;
    std::string name; // unique
    Date weekStart;   // of the week it asks about
    WhatIfKind kind = WhatIfKind::NurseAway;
    std::optional<NurseId> nurse;
    std::optional<Date> awayFrom, awayTo; // NurseAway, `awayTo` exclusive; none: the whole week
    int referrals = 0;                    // Referrals: how many
    std::int64_t seed = 0;                // Referrals: of the draw
    std::optional<Date> on;               // Shift
    std::optional<Minutes> from, to;      // Shift: the new hours; none: no work that day
    std::string setting;                  // Setting: its stable name
    std::int64_t value = 0;
    Date keptOn;
    std::string saidThen; // the answer of that day in one line
    std::int64_t rowVersion = 0;
    friend bool operator==(const KeptWhatIf &, const KeptWhatIf &) = default;
};

// While it lasts, referrals of that kind of area go on the wait list first.
struct IntakeClosure {
    IntakeClosureId id;
    AreaKind area = AreaKind::Suburban;
    Date from;
    std::optional<Date> to; // exclusive; none: until it is opened again
    std::string reason;
    std::int64_t rowVersion = 0;
    bool covers(Date day) const { return from <= day && (!to || day < *to); }
    friend bool operator==(const IntakeClosure &, const IntakeClosure &) = default;
};

} // namespace kitround
