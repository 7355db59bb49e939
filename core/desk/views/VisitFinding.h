#pragma once
// Which visits of the calendar a typed text finds, and how many are told. Pure.
#include "core/desk/views/WeekBoard.h"

#include <QString>

#include <cstddef>

namespace kitround::desk {

// Each word is part of the patient's name or code, of the nurse's name or of the kind of visit, or is the
// patient's initials. Capitals, accents and the points of initials do not matter; no word finds nothing.
bool isFoundBy(const VisitCard &card, const QString &nurse, const QString &text);
// Of all cards of the week, also those that are over and those without a place; a visit by two nurses counts
// for each.
std::size_t foundInWeek(const WeekBoard &week, const QString &text);

// What was found: the how manieth is chosen (0: none of them), of how many on what is shown.
struct Found {
    std::size_t at = 0, of = 0;
    bool isDay = false;     // one day is shown
    std::size_t inWeek = 0; // where the day has none
};
// "2 of 5"; "no visit of "ada" this week". Empty where nothing is sought.
QString foundText(const Found &found, const QString &text);

} // namespace kitround::desk
