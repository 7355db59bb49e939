#pragma once
// What the team keeps together: questions asked of the planner under a name, areas closed to referrals, what
// a week's review decided, what one shift hands to the next, patients somebody keeps an eye on.
#include "core/base/Date.h"
#include "core/records/Ids.h"
#include "core/records/People.h"

#include <optional>
#include <string>
#include <vector>

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

// What the weekly look at the caseload decided, kept with its week: open until somebody says what came of it,
// never thrown away.
enum class DecisionKind : std::uint8_t { Rebalance, IntakeFrozen, PerDiem, Hire, Other };
struct DecisionNote {
    DecisionNoteId id;
    Date weekStart; // of the week that was looked at
    DecisionKind kind = DecisionKind::Rebalance;
    std::string text; // what was decided, and why
    UserId by;
    LocalTime at;
    std::optional<Date> closedOn;
    std::string outcome;
    std::int64_t rowVersion = 0;
    friend bool operator==(const DecisionNote &, const DecisionNote &) = default;
};

// What one shift hands to the next, written down: a line waits until somebody else accepts it by name.
enum class HandOverTopic : std::uint8_t { Call, Stock, Clock, Hold, Change };
struct HandOverItem {
    HandOverTopic topic = HandOverTopic::Call;
    std::string subject; // what it is about, the same as long as it is about the same
    std::optional<PatientId> patient;
    std::string what; // as it was told then
    std::optional<UserId> acceptedBy;
    std::optional<Instant> acceptedAt;
    friend bool operator==(const HandOverItem &, const HandOverItem &) = default;
};
struct HandOver {
    HandOverId id;
    UserId handedBy;
    Instant handedAt;
    std::string note;
    std::vector<HandOverItem> items;
    std::int64_t rowVersion = 0;
    friend bool operator==(const HandOver &, const HandOver &) = default;
};

// A patient on the watch list, from when somebody took the watch to its outcome. Why a patient is on the list
// is found anew every day; here stands who sees to it.
struct WatchEntry {
    WatchEntryId id;
    PatientId patient;
    LocalTime since;
    std::vector<std::string> known; // subjects of the reasons it was last decided on: a new one ends a snooze
    std::optional<UserId> ownerUser; // the owner: a user or a nurse
    std::optional<NurseId> ownerNurse;
    std::string nextStep;
    std::optional<Date> nextOn;
    std::optional<Date> snoozedTo; // first day it shows again
    std::string snoozeReason;
    std::optional<LocalTime> closedAt;
    std::string outcome;
    std::int64_t rowVersion = 0;
    friend bool operator==(const WatchEntry &, const WatchEntry &) = default;
};

} // namespace kitround
