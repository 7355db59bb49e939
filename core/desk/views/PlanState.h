#pragma once
// How the plan of a week stands between a change by hand and the version that people go by, for the head of
// the calendar and for the foot of a paper. Pure.
#include "core/desk/views/WeekBoard.h"

#include <QString>
#include <QStringList>

namespace kitround::desk {

// "not saved"; "draft saved, not published"; "published, version 3, 10:42"; "no plan saved yet".
QStringList planStateTexts(const WeekPicture &week, Date weekStart, bool isChanged);
// "plan 3 of the week of Sun 22 Nov, published Fri 20 Nov 16:40"; where the day stands otherwise in the
// picture than in that plan, or none was published, that it is a draft.
QString planOnPaperText(const WeekPicture &week, Date on);

// Of a week in which nothing is due: what is entered first, and where. Empty where there is any visit.
QString whatToEnterFirst(const WeekBoard &board);

} // namespace kitround::desk
