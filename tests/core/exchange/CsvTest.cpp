// Check values: tests/core/exchange/csv (RFC 4180, section 2; see the README there).
#include "core/exchange/Csv.h"

#include "core/base/Random.h"
#include "core/exchange/Utf8.h"

#include <gtest/gtest.h>

#include <QFile>
#include <QJsonArray>
#include <QJsonDocument>
#include <QJsonObject>

namespace kitround::exchange {
namespace {

using Rows = std::vector<std::vector<std::string>>;

QJsonArray casesOf(const char *name) {
    QFile file(QStringLiteral(KITROUND_SOURCE_DIR "/tests/core/exchange/csv/") + QString::fromLatin1(name));
    EXPECT_TRUE(file.open(QIODevice::ReadOnly)) << name;
    const QJsonArray cases =
        QJsonDocument::fromJson(file.readAll()).object()[QStringLiteral("cases")].toArray();
    EXPECT_FALSE(cases.isEmpty());
    return cases;
}

Rows rowsOf(const QJsonValue &value) {
    Rows rows;
    for (const auto &row : value.toArray()) {
        rows.emplace_back();
        for (const auto &cell : row.toArray())
            rows.back().push_back(cell.toString().toStdString());
    }
    return rows;
}

CsvTable tableOf(Rows rows) {
    CsvTable table;
    table.head = rows.front();
    table.rows.assign(rows.begin() + 1, rows.end());
    return table;
}

Rows allRows(const CsvTable &table) {
    Rows rows{table.head};
    rows.insert(rows.end(), table.rows.begin(), table.rows.end());
    return rows;
}

TEST(Csv, ReadsEveryPublishedCaseOrRefusesItWithAPlace) {
    int refused = 0;
    for (const auto &value : casesOf("read.json")) {
        const QJsonObject c = value.toObject();
        SCOPED_TRACE(c[QStringLiteral("id")].toString().toStdString());
        const QByteArray bytes = QByteArray::fromHex(c[QStringLiteral("bytes_hex")].toString().toLatin1());
        const auto read = readCsv(bytes.toStdString());
        if (c[QStringLiteral("rows")].isNull()) {
            ++refused;
            ASSERT_FALSE(read);
            EXPECT_EQ(read.error().code, ProblemCode::FileCorrupt);
            EXPECT_EQ(read.error().row, 1);
            continue;
        }
        ASSERT_TRUE(read) << debugText(read.error());
        EXPECT_EQ(allRows(*read), rowsOf(c[QStringLiteral("rows")]));
    }
    EXPECT_GE(refused, 4);
}

TEST(Csv, TheSeparatorIsFoundByTheFirstLineAndRaggedRowsAreKeptWhereAsked) {
    CsvRead how;
    how.separator.reset();
    how.keepsRagged = true;
    const auto read = readCsv("a;b\r\n1,5;\"x;y\"\r\n3\r\n", how);
    ASSERT_TRUE(read) << debugText(read.error());
    EXPECT_EQ(read->rows, (Rows{{"1,5", "x;y"}, {"3"}}));
    EXPECT_EQ(readCsv("a,b\n1,2\n", how)->rows, (Rows{{"1", "2"}}));
    EXPECT_FALSE(readCsv("a,b\n3\n")) << "elsewhere a row that is too short is refused";
}

TEST(Csv, WritesEveryPublishedCaseByteForByte) {
    for (const auto &value : casesOf("write.json")) {
        const QJsonObject c = value.toObject();
        SCOPED_TRACE(c[QStringLiteral("id")].toString().toStdString());
        EXPECT_EQ(writeCsv(tableOf(rowsOf(c[QStringLiteral("rows")])), {.guardFormulas = false}),
                  c[QStringLiteral("bytes_text")].toString().toStdString());
    }
}

TEST(Csv, NamesTheByteThatIsNotUtf8) {
    EXPECT_EQ(firstInvalidUtf8("a,\xFF"), 2U);
    EXPECT_EQ(firstInvalidUtf8("\xC0\x80"), 0U);         // overlong
    EXPECT_EQ(firstInvalidUtf8("x\xED\xA0\x80"), 1U);    // surrogate
    EXPECT_EQ(firstInvalidUtf8("\xF4\x90\x80\x80"), 0U); // above U+10FFFF
    EXPECT_EQ(firstInvalidUtf8("\xE2\x82"), 0U);         // cut short
    EXPECT_EQ(firstInvalidUtf8("\xE2\x82\xAC \xF0\x9F\x99\x82"), std::string_view::npos);
    const auto read = readCsv("id,n\r\n1,\xFF\r\n");
    ASSERT_FALSE(read);
    EXPECT_EQ(read.error().row, 2);
    EXPECT_EQ(read.error().args.at(1), "8");
}

TEST(Csv, PlacesAFaultAtItsLineAndCell) {
    const auto shortRow = readCsv("a,b,c\n1,2,3\n\"x\ny\",2,3\n4,5\n");
    ASSERT_FALSE(shortRow);
    EXPECT_EQ(shortRow.error().code, ProblemCode::OutOfRange);
    EXPECT_EQ(shortRow.error().row, 5); // the quoted cell above takes two lines
    EXPECT_EQ(shortRow.error().column, 3);
    const auto open = readCsv("a,b\n1,\"2\n");
    ASSERT_FALSE(open);
    EXPECT_EQ(open.error().row, 2);
    EXPECT_EQ(open.error().column, 2);
    EXPECT_FALSE(readCsv("a\rb\r"));
    EXPECT_FALSE(readCsv(std::string_view("a\0b\n", 4)));
}

TEST(Csv, RefusesATextWithNothingInIt) {
    for (const std::string_view text : {"", "\xEF\xBB\xBF"}) {
        const auto read = readCsv(text);
        ASSERT_FALSE(read);
        EXPECT_EQ(read.error().code, ProblemCode::Missing);
    }
    EXPECT_FALSE(readCsv("# only a remark\n\n", {.allowComments = true}));
}

TEST(Csv, SkipsRemarksOnlyWhereAsked) {
    const char *text = "# invented\nid,note\n\n1,# not a remark\n#2,gone\n3,\"a\n# still a cell\"\n";
    const auto read = readCsv(text, {.allowComments = true});
    ASSERT_TRUE(read) << debugText(read.error());
    EXPECT_EQ(read->rows, (Rows{{"1", "# not a remark"}, {"3", "a\n# still a cell"}}));
    EXPECT_EQ(read->lines, (std::vector<int>{4, 6}));
    EXPECT_FALSE(readCsv(text));
}

TEST(Csv, GuardsFormulasButNotNumbers) {
    const CsvTable table = tableOf({{"=1+2", "-5", "+1.5e3", "-", "@x", "-2+3"}});
    EXPECT_EQ(writeCsv(table), "'=1+2,-5,+1.5e3,'-,'@x,'-2+3\r\n");
}

TEST(Csv, ReadsBackExactlyWhatItWroteWhateverTheCellsHold) {
    Random random(20261125);
    const std::string letters = "ab,\"\r\n'=+-@1. #\t";
    for (int round = 0; round < 2000; ++round) {
        const std::size_t width = 1 + random.below(4);
        Rows rows(1 + random.below(5), std::vector<std::string>(width));
        for (auto &row : rows)
            for (auto &cell : row)
                for (std::uint64_t n = random.below(6); n > 0; --n)
                    cell += letters[random.below(letters.size())];
        const bool guard = random.chance(0.5);
        const std::string text = writeCsv(tableOf(rows), {.guardFormulas = guard});
        const auto read = readCsv(text, {.allowComments = false, .undoGuard = guard});
        ASSERT_TRUE(read) << text << debugText(read.error());
        ASSERT_EQ(allRows(*read), rows) << text;
    }
}

TEST(Csv, NeverFailsHardOnArbitraryBytes) {
    Random random(7);
    int understood = 0;
    for (int round = 0; round < 5000; ++round) {
        std::string text;
        for (std::uint64_t n = random.below(24); n > 0; --n)
            text += random.chance(0.7) ? "a,\"\n\r"[random.below(5)] : static_cast<char>(random.below(256));
        understood += readCsv(text, {.allowComments = random.chance(0.5)}) ? 1 : 0;
    }
    EXPECT_GT(understood, 100);
    EXPECT_LT(understood, 4900);
}

} // namespace
} // namespace kitround::exchange
