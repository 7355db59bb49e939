// Check values: tests/core/exchange/gs1 (each row names its source; see the README there).
#include "core/exchange/Gs1.h"
#include "core/exchange/Csv.h"

#include <gtest/gtest.h>

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

namespace kitround::exchange {
namespace {

constexpr int kYear = 2026;

QByteArray fileOf(const char *name) {
    QFile file(QStringLiteral(KITROUND_SOURCE_DIR "/tests/core/exchange/gs1/") + QString::fromLatin1(name));
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << name;
    return file.readAll();
}

void expectElements(const std::string &id, const std::string &text, const QJsonObject &wanted) {
    const auto read = readElementStrings(text, kYear);
    ASSERT_TRUE(read) << id << " " << debugText(read.error());
    EXPECT_EQ(read->elements.size(), static_cast<std::size_t>(wanted.size())) << id;
    for (const Element &element : read->elements)
        EXPECT_EQ(element.value, wanted[QString::fromStdString(element.ai)].toString().toStdString()) << id;
}

TEST(Gs1Test, PublishedAndDerivedLabelsAreRead) {
    const QJsonArray cases =
        QJsonDocument::fromJson(fileOf("element-strings.json")).object()[QStringLiteral("cases")].toArray();
    ASSERT_GE(cases.size(), 15);
    for (const auto &value : cases) {
        const QJsonObject one = value.toObject();
        const std::string id = one[QStringLiteral("id")].toString().toStdString();
        const std::string scan = one[QStringLiteral("scan")].toString().toStdString();
        if (one[QStringLiteral("expect")].isNull()) {
            const auto read = readElementStrings(scan, kYear);
            ASSERT_FALSE(read) << id;
            EXPECT_EQ(read.error().field, "scan") << id;
            continue;
        }
        const QJsonObject wanted = one[QStringLiteral("expect")].toObject();
        expectElements(id, scan, wanted);
        if (const QString printed = one[QStringLiteral("hri")].toString(); !printed.isEmpty())
            expectElements(id + " printed", printed.toStdString(), wanted);
    }
}

TEST(Gs1Test, DatesFollowTheCenturyRuleAndDayNoughtIsTheMonthsLast) {
    const auto table = readCsv(fileOf("dates.csv").toStdString());
    ASSERT_TRUE(table);
    ASSERT_GE(table->rows.size(), 20U);
    for (const auto &row : table->rows) { // id, yymmdd, current_year, iso_date
        const auto date = gs1Date(row[1], std::stoi(row[2]));
        EXPECT_EQ(date ? date->toIso() : "invalid", row[3]) << row[0];
    }
}

// The FDA's plain-text example (source in element-strings.json).
TEST(Gs1Test, TheLabelsFieldsAreFilledIn) {
    const auto read = readElementStrings("0151022222233336111412311715070710A213B1\x1d"
                                         "211234",
                                         kYear);
    ASSERT_TRUE(read);
    EXPECT_EQ(read->gtin, "51022222233336");
    EXPECT_EQ(read->lot, "A213B1");
    EXPECT_EQ(read->serial, "1234");
    EXPECT_EQ(read->madeOn, Date::of(2014, 12, 31));
    EXPECT_EQ(read->expiresOn, Date::of(2015, 7, 7));
    EXPECT_FALSE(read->count);
    EXPECT_FALSE(read->mayLackSeparator);
    const auto inside = readElementStrings("02095212340000063725", kYear);
    ASSERT_TRUE(inside);
    EXPECT_EQ(inside->gtin, "09521234000006");
    EXPECT_EQ(inside->count, 25);
}

TEST(Gs1Test, AProblemPointsAtTheCharacter) {
    struct Bad {
        const char *text;
        std::vector<std::string> args;
    };
    const Bad bads[] = {
        {"]C00109521234000006", {"scan_not_gs1", "1", "]C0"}},
        {"010952123400000605123", {"scan_unknown_ai", "17", "05"}},
        {"019521234000", {"scan_too_short", "13", "01", "14"}},
        {"0109521234000007", {"scan_check_digit", "16", "01", "6"}},
        {"01095212340X0006", {"scan_not_digit", "12", "01"}},
        {"010952123400000617271301", {"scan_bad_date", "19", "17", "271301"}},
        {"0109521234000006"
         "10A B",
         {"scan_bad_char", "20", "10"}},
        {"0109521234000006"
         "10ABCDEFGHIJKLMNOPQRSTU",
         {"scan_too_long", "39", "10", "20"}},
        {"0109521234000006"
         "10A\x1d"
         "10B",
         {"scan_twice", "23", "10"}},
        {"(01)09521234000006(1717270430", {"scan_too_long", "19", "01", "14"}},
        {"(01 09521234000006", {"scan_bracket", "1"}},
        {"(05)1", {"scan_unknown_ai", "2", "05"}},
    };
    for (const Bad &bad : bads) {
        const auto read = readElementStrings(bad.text, kYear);
        ASSERT_FALSE(read) << bad.text;
        EXPECT_EQ(read.error().code, ProblemCode::Conflict) << bad.text;
        EXPECT_EQ(read.error().args, bad.args) << bad.text;
    }
    for (const char *nothing : {"", "  ", "]C1", "\x1d"}) {
        const auto read = readElementStrings(nothing, kYear);
        ASSERT_FALSE(read);
        EXPECT_EQ(read.error().code, ProblemCode::Missing);
    }
}

TEST(Gs1Test, ALotMayHoldBracketsInThePrintedForm) {
    const auto read = readElementStrings(" (01) 09521234000006 (10)A(1)B (17)270400 ", kYear);
    ASSERT_TRUE(read) << debugText(read.error());
    EXPECT_EQ(read->lot, "A(1)B");
    EXPECT_EQ(read->expiresOn, Date::of(2027, 4, 30));
}

TEST(Gs1Test, ALotThatSwallowedTheExpiryIsSuspected) {
    const auto read = readElementStrings("010952123400000610LOT7A17270430", kYear);
    ASSERT_TRUE(read);
    EXPECT_TRUE(read->mayLackSeparator);
    const auto good = readElementStrings("01095212340000061727043010LOT7A17270430", kYear);
    ASSERT_TRUE(good);
    EXPECT_FALSE(good->mayLackSeparator) << "the expiry is there: the lot is just like that";
}

} // namespace
} // namespace kitround::exchange
