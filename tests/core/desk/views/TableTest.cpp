#include "core/desk/Table.h"
#include "core/exchange/Csv.h"

#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <gtest/gtest.h>

namespace kitround::desk {
namespace {

Table homes() {
    Table t;
    t.title = "Homes";
    t.key = "homes";
    t.columns = {{"Patient", "patient", Align::Left, false, {}},
                 {"On hand", "on_hand", Align::Right, true, {}},
                 {"Only copies", "copy", Align::Left, false, ShownIn::CopiesOnly},
                 {"Only text", "text", Align::Left, false, ShownIn::TextOnly},
                 {"Why", "why", Align::Left, false, {}}};
    t.rows = {{"Q-1", "12", "c1", "t1", "counted on Monday"},
              {"Q-22", "", "c2", "t2", "unknown, \"ask\"\nfirst"}};
    t.notes = {"A note."};
    return t;
}

TEST(TableTest, TextIsAlignedAndShowsOnlyItsColumns) {
    EXPECT_EQ(asText(homes(), 80), "Homes\n\n"
                                   "Patient  On hand  Only text  Why\n"
                                   "-------  -------  ---------  --------------------\n"
                                   "Q-1           12  t1         counted on Monday\n"
                                   "Q-22              t2         unknown, \"ask\" first\n"
                                   "\nA note.\n");
}

TEST(TableTest, WhatPeopleReadHasNoColumnOfTheCopies) {
    const Table read = asRead(homes());
    ASSERT_EQ(read.columns.size(), 4U);
    EXPECT_EQ(read.columns[2].key, "text");
    EXPECT_EQ(read.rows[1], (std::vector<std::string>{"Q-22", "", "t2", "unknown, \"ask\"\nfirst"}));
}

TEST(TableTest, TextWrapsTheWidestColumnToTheWidth) {
    Table t = homes();
    t.rows[0][4] = "a long reason that goes on for many words until it has to be broken";
    const std::string text = asText(t, 50);
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = text.find('\n', at);
        EXPECT_LE(end - at, 50U) << text;
        at = end + 1;
    }
    EXPECT_NE(text.find("broken"), std::string::npos);
}

TEST(TableTest, DatesAndNumbersAreNeverCutHoweverNarrow) {
    Table t;
    t.columns = {{"Run out (1 in 10)", "d", Align::Left, false, {}},
                 {"Some number", "n", Align::Right, true, {}}};
    t.rows = {{"2026-12-03", "123456789"}};
    const std::string text = asText(t, 20);
    EXPECT_NE(text.find("2026-12-03"), std::string::npos) << text;
    EXPECT_NE(text.find("123456789"), std::string::npos) << text;
}

TEST(TableTest, AnEmptyTableSaysSo) {
    Table t = homes();
    t.rows.clear();
    EXPECT_NE(asText(t, 80).find("(nothing)"), std::string::npos);
}

TEST(TableTest, CsvReadsBackToTheSameCells) {
    const Table t = homes();
    const auto read = exchange::readCsv(asCsv(t));
    ASSERT_TRUE(read) << debugText(read.error());
    EXPECT_EQ(read->head, (std::vector<std::string>{"patient", "on_hand", "copy", "why"}));
    ASSERT_EQ(read->rows.size(), 2U);
    EXPECT_EQ(read->rows[1], (std::vector<std::string>{"Q-22", "", "c2", "unknown, \"ask\"\nfirst"}));
}

TEST(TableTest, CopiesLeaveTheSumOut) {
    Table t = homes();
    t.rows.push_back({"Sum", "12", "", "", ""});
    t.endsWithSum = true;
    EXPECT_EQ(asCsv(t), asCsv(homes()));
    EXPECT_EQ(asJson({t}, "v", ""), asJson({homes()}, "v", ""));
    EXPECT_NE(asText(t, 80).find("Sum"), std::string::npos);
    t.rows.clear();
    EXPECT_EQ(asCsv(t).find("Sum"), std::string::npos);
}

TEST(TableTest, JsonIsValidWithNumbersNullsAndColumnOrder) {
    const std::string text = asJson({homes()}, "forecast", "2026-03-02");
    QJsonParseError error;
    const QJsonDocument doc = QJsonDocument::fromJson(QByteArray::fromStdString(text), &error);
    ASSERT_EQ(error.error, QJsonParseError::NoError) << text;
    EXPECT_EQ(doc[QStringLiteral("verb")].toString(), QStringLiteral("forecast"));
    EXPECT_EQ(doc[QStringLiteral("as_of")].toString(), QStringLiteral("2026-03-02"));
    const QJsonArray rows =
        doc[QStringLiteral("tables")][QStringLiteral("homes")][QStringLiteral("rows")].toArray();
    ASSERT_EQ(rows.size(), 2);
    EXPECT_EQ(rows[0][QStringLiteral("on_hand")].toInt(-1), 12);
    EXPECT_TRUE(rows[1][QStringLiteral("on_hand")].isNull());
    EXPECT_EQ(rows[1][QStringLiteral("why")].toString(), QStringLiteral("unknown, \"ask\"\nfirst"));
    EXPECT_FALSE(rows[0].toObject().contains(QStringLiteral("text")));
    EXPECT_LT(text.find("\"patient\""), text.find("\"on_hand\""));
    EXPECT_EQ(text, asJson({homes()}, "forecast", "2026-03-02"));
}

TEST(TableTest, JsonStaysValidWhateverTheCellsHold) {
    for (const std::string &nasty :
         {std::string("\x01\x1f\\\"/"), std::string("\xff\xfe"), std::string("\0x", 2), std::string("é€😀")}) {
        Table t = homes();
        t.rows[0][0] = nasty;
        for (const char *number : {"01", "1.", "-", "1e", "+1", "NaN", "0x1", " 1"}) {
            t.rows[0][1] = number;
            const std::string text = asJson({t}, "v", "");
            QJsonParseError error;
            const QJsonDocument doc = QJsonDocument::fromJson(QByteArray::fromStdString(text), &error);
            EXPECT_EQ(error.error, QJsonParseError::NoError) << text;
            EXPECT_TRUE(doc[QStringLiteral("tables")][QStringLiteral("homes")][QStringLiteral("rows")][0]
                           [QStringLiteral("on_hand")]
                               .isString())
                << number;
        }
    }
}

TEST(TableTest, NumbersOfEveryFormStayNumbers) {
    for (const char *number : {"0", "-0.5", "12", "1e9", "1.25E-3"}) {
        Table t = homes();
        t.rows[0][1] = number;
        const auto doc = QJsonDocument::fromJson(QByteArray::fromStdString(asJson({t}, "v", "")));
        EXPECT_TRUE(doc[QStringLiteral("tables")][QStringLiteral("homes")][QStringLiteral("rows")][0]
                       [QStringLiteral("on_hand")]
                           .isDouble())
            << number;
    }
}

} // namespace
} // namespace kitround::desk
