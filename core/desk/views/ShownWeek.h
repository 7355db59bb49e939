#pragma once
// What the calendar shows first, what its head counts, and which visit of a newer picture is the one that was
// chosen in the picture before.
#include "core/desk/views/WeekView.h"

#include <QString>

namespace kitround::desk {

// The first day of the week to open with: today's where a planned visit of today is still to be made, else
// the next one.
Date firstWeek(const Agency &agency);
// "41 visits"; where some are over already "33 to do, 59 made, 2 missed". What has no place is not among
// them.
QString visitsCountText(const WeekPicture &week);
// "3 not placed"; of a week that is over "3 were not planned".
QString notPlacedText(const WeekPicture &week, std::int64_t visits);
// Of a plan whose cost the bound proves to be the least; while a visit has no place nobody calls that the
// best.
QString provenText(bool isWhole);
// The same visit in another picture, whatever number it has there: by its record, else by its order, its
// place in its week and where it stands; -1 where the picture has none that is certainly it.
std::int32_t sameJob(const WeekPicture &before, std::int32_t job, const WeekPicture &after);

} // namespace kitround::desk
