#pragma once
// What a person moved by hand in a week's plan: how a move is named, what it means beside its weighted
// minutes, and how such visits keep their places when the rest is planned anew. Pure.
#include "core/desk/views/WeekBoard.h"

#include <QString>
#include <QStringList>

#include <cstdint>
#include <vector>

namespace kitround::desk {

QString visitMark(const WeekPicture &week, std::int32_t job); // "P.J. Q-146", short enough for the foot line
// "P.J. Q-146 from Mon 23 Nov 09:10, Marsh, Owen to Tue 24 Nov 10:00, Bell, Ada"; without a place before "...
// on ...", without one after "... from ...".
QString moveName(const WeekPicture &before, const WeekPicture &after, std::int32_t job);
// "Lock P.J. Q-146: day, nurse"; "Unlock P.J. Q-146".
QString lockName(const WeekPicture &week, std::int32_t job, Locks locks);
// "re-times 3 other visits (2 of them told)"; empty where none starts at another time.
QString retimedText(const WeekPicture &before, const rounds::WeekPlan &after, std::int32_t job);
// What an allowed offer means for people: "+12 min driving, adds 9 weighted minutes, not the main nurse,
// re-times 3 other visits (2 of them told), 7 visits on that day". A visit that had no place is told as the
// cards of free places tell it: that it gets one at all is worth the same at each. Else what it breaks.
QString moveText(const WeekPicture &before, std::int32_t job, const MoveOffer &offer);

// What an exchange of two nurses' days means, a line each: the driving and the weighted minutes; how many
// visits change, and how many of them people were told of; who loses the main nurse by it, and who gets her
// back. Where it may not be done, what stands in the way.
QStringList swapLines(const WeekPicture &before, const MoveOffer &offer);

// Planning can leave the visit where it stands: it has a place, and its hour is to come.
bool canBeHeld(const WeekPicture &week, std::int32_t job);
// These visits held where they stand, whatever is locked of them on record; only to plan with. Those that
// cannot be held are planned anew.
WeekPicturePtr heldInPlace(const WeekPicture &week, const std::vector<std::int32_t> &jobs);
// What was planned, locked as before. Precondition: a plan of the same visits.
WeekPicturePtr withLocksOf(const WeekPicture &planned, const WeekPicture &before);
// How many of them stand elsewhere in another plan of the same visits.
std::int64_t standElsewhere(const WeekPicture &before, const WeekPicture &after,
                            const std::vector<std::int32_t> &jobs);
// The visits that stand with another nurse or on another day in the second plan, and have a place there.
std::vector<std::int32_t> movedToOtherRounds(const WeekPicture &before, const WeekPicture &after);
constexpr bool isSameRound(const rounds::Placement &one, const rounds::Placement &other) {
    return one.duty == other.duty && one.secondDuty == other.secondDuty;
}
constexpr bool isSameSpot(const rounds::Placement &one, const rounds::Placement &other) {
    return isSameRound(one, other) && one.start == other.start;
}

// Which visit of the week, read anew once the plan in hand was stored, is which of the plan in hand. Empty
// where the records hold another plan, other visits or other shifts than that.
std::vector<std::int32_t> jobsAsStored(const WeekPicture &hand, const WeekPicture &fresh);
// An earlier state of that plan, with its seed, on the records as they are now. `jobs`: where each of its
// visits is among those of `fresh`. What has begun stays as it is on record.
WeekPicturePtr laidOnto(const WeekPicture &earlier, const WeekPicture &fresh,
                        const std::vector<std::int32_t> &jobs);

} // namespace kitround::desk
