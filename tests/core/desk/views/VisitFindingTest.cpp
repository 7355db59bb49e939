// Which visits of the calendar a typed text finds, and what is told of it.
#include "core/desk/views/VisitFinding.h"

#include <gtest/gtest.h>

namespace kitround::desk {
namespace {

VisitCard cardOf(const char *name, const char *code, const char *initials, const char *kind) {
    VisitCard card;
    card.name = QString::fromUtf8(name);
    card.code = QString::fromUtf8(code);
    card.initials = QString::fromUtf8(initials);
    card.kind = QString::fromUtf8(kind);
    return card;
}

TEST(VisitFinding, APatientIsFoundByNameCodeOrInitials) {
    const VisitCard card = cardOf("Núñez, Pilar", "Q-146", "PN", "routine visit");
    const QString nurse = QStringLiteral("Marsh, Owen");
    for (const char *text : {"nunez", "NÚÑ", "pilar", "Q-146", "q146", "146", "pn", "P.N.", "marsh",
                             "routine", "pilar marsh", "  nunez   routine "})
        EXPECT_TRUE(isFoundBy(card, nurse, QString::fromUtf8(text))) << text;
    for (const char *text : {"", "  ", "147", "np", "pilar lindqvist", "start of care", "-", "."})
        EXPECT_FALSE(isFoundBy(card, nurse, QString::fromUtf8(text))) << text;
    EXPECT_FALSE(isFoundBy(card, {}, nurse)) << "in the tray no nurse has it";
    EXPECT_FALSE(isFoundBy(cardOf("Alder, Rosa", "", "", "routine visit"), {}, QStringLiteral("q")))
        << "nothing is found by a code that is not there";
}

TEST(VisitFinding, TheWeekCountsWhatIsOverAndWhatHasNoPlaceToo) {
    WeekBoard week;
    BoardRow row;
    row.name = QStringLiteral("Marsh, Owen");
    BoardDay day;
    day.past = {cardOf("Alder, Rosa", "Q-1", "RA", "routine visit")};
    day.cards = {cardOf("Alder, Rosa", "Q-1", "RA", "routine visit"),
                 cardOf("Birkett, Jo", "Q-2", "JB", "x")};
    row.days = {day};
    week.rows = {row};
    week.tray = {cardOf("Alder, Rosa", "Q-1", "RA", "routine visit")};
    EXPECT_EQ(foundInWeek(week, QStringLiteral("alder")), 3U);
    EXPECT_EQ(foundInWeek(week, QStringLiteral("marsh")), 3U);
    EXPECT_EQ(foundInWeek(week, QStringLiteral("cask")), 0U);
    EXPECT_EQ(foundInWeek(week, {}), 0U);
}

TEST(VisitFinding, WhatIsFoundIsToldInPlainWords) {
    const QString ada = QStringLiteral(" ada ");
    EXPECT_EQ(foundText({.at = 2, .of = 5}, ada), QStringLiteral("2 of 5"));
    EXPECT_EQ(foundText({.at = 0, .of = 5}, ada), QStringLiteral("5 found"));
    EXPECT_EQ(foundText({}, ada), QStringLiteral("no visit of \"ada\" this week"));
    EXPECT_EQ(foundText({.isDay = true, .inWeek = 3}, ada),
              QStringLiteral("no visit of \"ada\" on this day, 3 this week"));
    EXPECT_EQ(foundText({.isDay = true}, ada), QStringLiteral("no visit of \"ada\" this week"));
    EXPECT_EQ(foundText({.isDay = true, .inWeek = 3}, QStringLiteral("%2")),
              QStringLiteral("no visit of \"%2\" on this day, 3 this week"))
        << "whatever is typed";
    EXPECT_TRUE(foundText({}, QStringLiteral("  ")).isEmpty());
}

} // namespace
} // namespace kitround::desk
