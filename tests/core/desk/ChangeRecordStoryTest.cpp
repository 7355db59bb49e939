// The record of changes as the manager reads it: what changed in the words of the forms, found by person,
// kind, days and words, page by page, and what of it leaves the house.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/ChangeRecord.h"
#include "tests/core/desk/Story.h"

namespace kitround::desk {
namespace {

ChangePage newest(Story &s, const ChangeFilter &filter = {}, std::size_t most = 200) {
    return must(changePage(s.desk(), filter, 0, most));
}
Patient stored(const Story &s, const Story::Home &home) {
    return *s.index().patient(home.patient);
}
void changePhone(Story &s, const Story::Home &home, const std::string &phone) {
    Patient patient = stored(s, home);
    patient.phone = phone;
    must(s.desk().save(patient));
}

TEST(ChangeRecordStory, AChangeIsReadAsFieldBeforeAndAfter) {
    Story s;
    const auto home = s.addHome("A");
    const std::string before = stored(s, home).phone;
    changePhone(s, home, "555-0199");
    const ChangePage page = newest(s);
    ASSERT_FALSE(page.rows.empty());
    const ChangeRow &row = page.rows.front();
    EXPECT_EQ(row.kind, QStringLiteral("Patient"));
    EXPECT_EQ(row.entry.action, AuditAction::Update);
    EXPECT_TRUE(row.about.contains(QStringLiteral("(A)"))) << row.about.toStdString();
    ASSERT_EQ(row.fields.size(), 1U) << "only what changed";
    EXPECT_EQ(row.fields[0].field, QStringLiteral("Phone"));
    EXPECT_EQ(row.fields[0].before,
              before.empty() ? QStringLiteral("(empty)") : QString::fromStdString(before));
    EXPECT_TRUE(summaryOf(row).endsWith(QStringLiteral("→ 555-0199"))) << summaryOf(row).toStdString();
    EXPECT_TRUE(wholeOf(row).join(u' ').contains(row.who));
    EXPECT_FALSE(summaryOf(row).contains(u'{')) << "no raw record";
}

TEST(ChangeRecordStory, ValuesAreToldAsTheFormsTellThem) {
    Story s;
    const auto home = s.addHome("A");
    s.order(home, test::everyDays(2, kMonday), kMonday, s.kit500);
    ChangeFilter filter;
    filter.table = "drain_order";
    const ChangePage page = newest(s, filter);
    ASSERT_FALSE(page.rows.empty());
    const QString whole = wholeOf(page.rows.front()).join(u'\n');
    EXPECT_TRUE(whole.contains(QStringLiteral("Most in one session: 1000 mL"))) << whole.toStdString();
    EXPECT_TRUE(whole.contains(QStringLiteral("Mon 2 Mar 2026"))) << whole.toStdString();
    EXPECT_FALSE(whole.contains(QStringLiteral("Row version")));
}

TEST(ChangeRecordStory, ItIsFoundByKindPersonDaysAndWords) {
    Story s;
    const auto home = s.addHome("A");
    s.addHome("B");
    changePhone(s, home, "555-0177");
    ChangeFilter filter;
    filter.words = QStringLiteral("phone 0177");
    ASSERT_EQ(newest(s, filter).rows.size(), 1U) << "each of the words, wherever it stands";
    filter.words.clear();
    filter.table = "patient";
    for (const ChangeRow &row : newest(s, filter).rows)
        EXPECT_EQ(row.entry.table, "patient");
    EXPECT_EQ(newest(s, filter).rows.size(), 3U);
    filter.user = UserId(99);
    EXPECT_TRUE(newest(s, filter).rows.empty());
    filter.user = s.desk().user();
    filter.from = kMonday;
    filter.to = kMonday;
    EXPECT_EQ(newest(s, filter).rows.size(), 3U);
    filter.from = kMonday.plusDays(1);
    filter.to.reset();
    EXPECT_TRUE(newest(s, filter).rows.empty());
    const auto kinds = must(changeKinds(s.desk()));
    EXPECT_NE(std::ranges::find(kinds, "patient", &std::pair<std::string, QString>::first), kinds.end());
}

TEST(ChangeRecordStory, OlderPagesGoOnWhereTheLastOneEndedAndMissNothing) {
    Story s;
    s.addHome("A");
    s.addHome("B");
    const std::size_t all = s.auditLength();
    std::vector<std::int64_t> numbers;
    ChangePage page;
    do {
        page = must(changePage(s.desk(), {}, page.before, 3));
        for (const ChangeRow &row : page.rows)
            numbers.push_back(row.entry.number);
    } while (!page.isEnd && numbers.size() <= all);
    ASSERT_EQ(numbers.size(), all);
    for (std::size_t i = 1; i < numbers.size(); ++i)
        EXPECT_EQ(numbers[i], numbers[i - 1] - 1);
}

TEST(ChangeRecordStory, CopiesAndPaperDoNotGiveAwayWhoSomebodyIs) {
    Story s;
    const auto home = s.addHome("A");
    changePhone(s, home, "555-0188");
    PhoneCall call;
    call.patient = home.patient;
    call.at = at(kMonday, 8);
    call.caller = "a neighbour";
    call.words = "her daughter Okafor is away";
    call.owner = "Robin";
    must(s.desk().save(call));
    const ChangePage page = newest(s);
    const Table table = changeTable(page.rows, *s.agency());
    EXPECT_EQ(asCsv(table).find("daughter"), std::string::npos) << "what a caller said may name people";
    EXPECT_EQ(table.columns.front().key, "number");
    const std::string csv = asCsv(table);
    EXPECT_TRUE(csv.starts_with("number,at,user,action,kind,table_name,record_id,about,change")) << csv;
    EXPECT_EQ(csv.find("555-0188"), std::string::npos);
    EXPECT_NE(csv.find("Phone: "), std::string::npos) << "that it changed is told";
    const std::string family = stored(s, home).familyName;
    if (!family.empty()) {
        EXPECT_EQ(csv.find(family + ","), std::string::npos) << csv;
    }
    const Paper paper = changesRecordPaper(table, {}, *s.agency());
    ASSERT_EQ(paper.sections.size(), 1U);
    ASSERT_TRUE(paper.sections.front().table.has_value());
    EXPECT_NE(paper.sections.front().table->rows.front()[1].find("2026"), std::string::npos);
}

} // namespace
} // namespace kitround::desk
