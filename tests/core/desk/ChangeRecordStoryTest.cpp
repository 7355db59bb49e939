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

TEST(ChangeRecordStory, APlanSaysItsWeekAndOfEachVisitWhoseItIsWhoMakesItAndWhen) {
    Story s;
    const auto home = s.addHome("A");
    const Visit visit = s.publishVisit(home, kMonday.plusDays(1), 9);
    ChangeFilter filter;
    filter.table = "plan";
    const ChangePage page = newest(s, filter);
    ASSERT_FALSE(page.rows.empty());
    const ChangeRow &row = page.rows.back();
    EXPECT_EQ(row.about, QStringLiteral("week of Sun 1 Mar 2026, version 1"));
    const QString name = nameWithCode(s.index(), home.patient) + QStringLiteral(" | routine visit");
    const auto told = std::ranges::find(row.fields, name, &FieldChange::field);
    ASSERT_NE(told, row.fields.end()) << wholeOf(row).join(u'\n').toStdString();
    const QString nurse = personName(*s.index().nurse(s.nurse));
    EXPECT_EQ(told->after, nurse + QStringLiteral(" | Tue 3 Mar 2026 09:00"));
    EXPECT_TRUE(told->before.isEmpty());
    EXPECT_FALSE(wholeOf(row).join(u' ').contains(QStringLiteral("number"))) << "no bare numbers";

    AuditEntry entry;
    entry.action = AuditAction::Update;
    entry.table = "plan";
    entry.record = row.entry.record;
    const QString side = QStringLiteral(
        R"({"week_start_on":"2026-03-01","version":2,"seed":5,"planned_visit":[{"visit_id":%1,"nurse_id":%2,)"
        R"("second_nurse_id":null,"planned_on":"%3","start_min":%4,"travel_min":%5,"carries_delivery_id":null}%6]})");
    const auto sideOf = [&](const char *day, int start, int travel, const char *more) {
        return side.arg(visit.id.value())
            .arg(s.nurse.value())
            .arg(QLatin1String(day))
            .arg(start)
            .arg(travel)
            .arg(QLatin1String(more))
            .toStdString();
    };
    entry.before = sideOf("2026-03-03", 540, 9, R"(,{"visit_id":999,"planned_on":"2026-03-04"})");
    entry.after = sideOf("2026-03-04", 600, 12, "");
    const ChangeRow changed = changeRow(entry, *s.agency(), PatientNamed::InFull);
    EXPECT_EQ(changed.about, QStringLiteral("week of Sun 1 Mar 2026, version 2"));
    ASSERT_EQ(changed.fields.size(), 2U);
    EXPECT_EQ(changed.fields[0].field, name);
    EXPECT_EQ(changed.fields[0].before, QStringLiteral("Tue 3 Mar 2026 09:00")) << "only what changed";
    EXPECT_EQ(changed.fields[0].after, QStringLiteral("Wed 4 Mar 2026 10:00"));
    EXPECT_EQ(changed.fields[1].field, QStringLiteral("visit number 999"));
    EXPECT_EQ(changed.fields[1].after, QStringLiteral("(empty)"));
    entry.before = sideOf("2026-03-04", 600, 9, "");
    EXPECT_TRUE(changeRow(entry, *s.agency(), PatientNamed::InFull).fields.empty()) << "the way there only";
    const QString mark = changeRow(row.entry, *s.agency(), PatientNamed::Initials).fields.back().field +
                         summaryOf(changeRow(row.entry, *s.agency(), PatientNamed::Initials));
    EXPECT_FALSE(mark.contains(nameWithCode(s.index(), home.patient))) << mark.toStdString();
}

TEST(ChangeRecordStory, OfANewRecordOnlyWhatWasEnteredIsTold) {
    Story s;
    const auto home = s.addHome("A");
    s.publishVisit(home, kMonday.plusDays(1), 9);
    ChangeFilter filter;
    filter.table = "visit";
    const ChangeRow row = newest(s, filter).rows.back();
    EXPECT_EQ(row.entry.action, AuditAction::Insert);
    const QString whole = wholeOf(row).join(u'\n');
    EXPECT_TRUE(whole.contains(QStringLiteral("Length: 45 min"))) << whole.toStdString();
    EXPECT_TRUE(row.about.contains(QStringLiteral("(A)"))) << row.about.toStdString();
    for (const char *empty :
         {"At least so much after", "By another nurse", "Counted in", ": no", "Miss reason"})
        EXPECT_FALSE(whole.contains(QLatin1String(empty))) << empty << '\n' << whole.toStdString();

    AuditEntry entry;
    entry.action = AuditAction::Insert;
    entry.table = "home_count";
    entry.after = R"({"counted":0,"damaged":0,"is_void":0,"allows_courier":0,"note":""})";
    QStringList told;
    for (const FieldChange &field : changeRow(entry, *s.agency(), PatientNamed::InFull).fields)
        told << field.field + u'=' + field.after;
    EXPECT_EQ(told.join(u';'), QStringLiteral("Allows courier=no;Counted=0")) << "a nought that was counted";
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
    const Paper paper = changesRecordPaper(page.rows, {}, *s.agency());
    ASSERT_EQ(paper.sections.size(), 1U);
    ASSERT_TRUE(paper.sections.front().table.has_value());
    EXPECT_NE(paper.sections.front().table->rows.front()[1].find("2026"), std::string::npos);
    const std::string printed = asCsv(*paper.sections.front().table);
    EXPECT_EQ(printed.find("555-0188"), std::string::npos);
    EXPECT_EQ(printed.find("daughter"), std::string::npos);
}

// What the tab shows and nothing to write in: a line a field, with the reason where one was given.
TEST(ChangeRecordStory, OnPaperAChangeIsALineAFieldWithItsReason) {
    Story s;
    const auto home = s.addHome("A");
    AuditEntry entry;
    entry.number = 7;
    entry.at = s.utc(at(kMonday, 9));
    entry.user = s.desk().user();
    entry.action = AuditAction::Update;
    entry.table = "catheter";
    entry.record = home.catheter.value();
    entry.before = R"({"line":"A","removal_reason":null,"site":"chest"})";
    entry.after = R"({"line":"B","removal_reason":"no more fluid","site":"abdomen"})";
    const auto printed = [&] {
        const std::vector<ChangeRow> rows = {changeRow(entry, *s.agency(), PatientNamed::InFull)};
        return *changesRecordPaper(rows, {}, *s.agency()).sections.front().table;
    };
    const Table whole = printed();
    std::vector<std::string> heads;
    for (const Column &column : whole.columns)
        heads.push_back(column.name);
    EXPECT_EQ(heads, (std::vector<std::string>{"Number", "When", "By", "What", "Whose or which", "Field",
                                               "Before", "After", "Reason"}));
    ASSERT_EQ(whole.rows.size(), 2U) << "the reason is no field of its own";
    EXPECT_NE(whole.rows[0][3].find("changed"), std::string::npos);
    EXPECT_EQ(whole.rows[0][8], "no more fluid");
    EXPECT_NE(whole.rows[0][1].find("\u00A02026 "), std::string::npos) << "its day stays on one line";
    EXPECT_EQ(whole.rows[1][6], "chest");
    EXPECT_EQ(whole.rows[1][7], "abdomen");
    EXPECT_TRUE(whole.rows[1][1].empty()) << "when and by whom is said once";
    entry.before = "";
    entry.after = R"({"site":"chest"})";
    const Table added = printed();
    ASSERT_EQ(added.columns.size(), 8U) << "no reason, no column";
    ASSERT_EQ(added.rows.size(), 1U);
    EXPECT_EQ(added.rows[0][6], "-") << "nothing to write in";
    EXPECT_TRUE(changesRecordPaper({}, {}, *s.agency()).landscape);
}

} // namespace
} // namespace kitround::desk
