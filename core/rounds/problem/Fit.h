#pragma once
// Whether a duty may take a job whatever else is planned, and what the pairing of nurse and patient costs.
// The second nurse of a two-nurse visit is there for safety: she must not be barred, but need not hold the
// skills.
#include "core/rounds/problem/CostModel.h"

#include <optional>

namespace kitround::rounds {

enum class Role : std::uint8_t { First, Second };

// Every standing rule the pairing breaks, in a fixed order; times are not looked at.
std::vector<Rule> standingRules(const WeekProblem &problem, std::int32_t job, std::int32_t duty, Role role);
// Whether there is none, without listing them.
bool mayStand(const WeekProblem &problem, std::int32_t job, std::int32_t duty, Role role);

struct FitCost {
    double continuity = 0, wishes = 0, changes = 0;
    double total() const { return continuity + wishes + changes; }
};
// `second` is -1 for one nurse. Continuity and wishes are met when either nurse meets them. Changes: nurse or
// day other than published (the change of time is the clock's part).
FitCost fitCost(const WeekProblem &problem, std::int32_t job, std::int32_t first, std::int32_t second);
// How far two placed visits are from following one another as ordered: days or minutes off, 0 where only the
// day (in minutes) or the nurse is wrong; -1 where all is well or one of them has no place.
std::int32_t offFollow(const WeekProblem &problem, const Follow &follow,
                       const std::vector<Placement> &placements);
bool hasAnyDay(const Job &job); // on which it may be
// Published on this very duty: then a start more than kStillMinutes away counts as a change.
bool standsWherePublished(const Job &job, const Duty &duty);
inline constexpr Minute kStillMinutes = 30;

} // namespace kitround::rounds
