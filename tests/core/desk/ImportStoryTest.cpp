// A new agency comes from spreadsheets: whole lists go in at once or not at all, what is dangerous is told
// before, and nothing that is on record is overwritten.
#include "core/desk/views/Attention.h"
#include "core/desk/views/HomeRisk.h"
#include "core/desk/views/ImportPreview.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "core/exchange/ListWords.h"
#include "core/store/mapping/Words.h"
#include "tests/core/desk/Story.h"

#include <QFile>
#include <QFileInfo>

#include <algorithm>
#include <string_view>

namespace kitround::desk {
namespace {

const std::string kItems =
    "code,name,kind,bottle_volume_ml,connector,eaches_per_case,supplier,price_per_case\n"
    "KIT-S,Small kit,kit,500,any,10,SUP,120.00\n"
    "KIT-L,\"Large kit, \"\"line A\"\"\",kit,1000,round,5,,\n";
const std::string kNurses =
    "code,family_name,credential,contract_hours,skills,shift_weekdays,shift_from,shift_to\n"
    "N7,Marsh,registered_nurse,40,drain_chest;teach,monday;tuesday;friday,08:00,16:30\n";
const std::string kPatientHead =
    "code,family_name,given_name,payer,status,primary_nurse,site,side,connector,inserted_on,pattern,every_"
    "days,"
    "anchor_on,order_start_on,most_per_session_ml,kit,prescriber,signed_on,visit_order,visit_start_on\n";
std::string patientRow(const std::string &code, const std::string &most = "1000") {
    return code + ",Family " + code + ",Given,Payer (invented),active,N1,chest,right,round,2026-02-01," +
           "every_n_days,2,2026-02-02,2026-02-02," + most + ",KIT-500,Dr Invented,2026-02-03,\"2W4, 1W5\"," +
           "2026-02-02\n";
}
const std::string kCountHead = "place,patient,item,lot,expires_on,quantity,counted_on\n";

ImportPreview preview(Story &s, ListKind kind, const std::string &text) {
    return previewImport(*s.agency(), kind, text);
}
std::string saidIn(const ImportPreview &preview) {
    QStringList all = preview.ofFile;
    for (const ImportRow &row : preview.rows)
        all += row.faults + row.calls;
    return all.join(QLatin1Char('\n')).toStdString();
}

TEST(ImportStory, AnAgencyComesInFromItsLists) {
    Story s;
    const Imported items = must(s.desk().importList(ListKind::Items, kItems, "items.csv"));
    EXPECT_EQ(items.items, 2);
    EXPECT_EQ(items.offers, 1);
    const Imported nurses = must(s.desk().importList(ListKind::Nurses, kNurses, "nurses.csv"));
    EXPECT_EQ(nurses.shifts, 3);
    const Imported patients = must(s.desk().importList(
        ListKind::Patients, kPatientHead + patientRow("Q-1") + patientRow("Q-2"), "patients.csv"));
    EXPECT_EQ(patients.drainOrders, 2);
    EXPECT_EQ(patients.visitOrders, 2);
    const Imported counts =
        must(s.desk().importList(ListKind::Counts,
                                 kCountHead + "storeroom,,KIT-500,L1,2027-06-01,40,2026-03-01\n"
                                              "home,Q-1,KIT-500,L1,2027-06-01,4,2026-03-01\n"
                                              "home,Q-1,KIT-500,L2,2027-07-01,3,2026-03-01\n"
                                              "home,Q-2,KIT-500,,,0,2026-03-01\n",
                                 "counts.csv"));
    EXPECT_EQ(counts.lots, 2);

    ASSERT_EQ(s.snapshot().patients.size(), 2U);
    const Patient &patient = s.snapshot().patients.front();
    const auto catheters = s.index().cathetersOf(patient.id);
    ASSERT_EQ(catheters.size(), 1U);
    EXPECT_EQ(patient.primaryNurse, s.nurse);
    const DrainOrder *order = s.index().orderInForce(catheters.front()->id, kMonday);
    ASSERT_NE(order, nullptr);
    EXPECT_EQ(order->pattern.everyDays, 2);
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(40));
    EXPECT_EQ(s.balance(Place::home(catheters.front()->id), s.kit500), Eaches::of(7));
    const HomeCount *count = s.index().lastCount(catheters.front()->id, s.kit500);
    ASSERT_NE(count, nullptr);
    EXPECT_EQ(count->counted, Eaches::of(7)) << "of both lots together";
    EXPECT_EQ(count->source, EntrySource::Import);
    const auto second = s.index().cathetersOf(s.snapshot().patients.back().id);
    EXPECT_NE(s.index().lastCount(second.front()->id, s.kit500), nullptr) << "none left is known too";
    EXPECT_TRUE(must(s.desk().check({}, {})).empty());
    const QString done = importDoneText(patients);
    EXPECT_TRUE(done.contains(QStringLiteral("2 patients"))) << done.toStdString();
    EXPECT_TRUE(done.contains(QStringLiteral("Next: "))) << done.toStdString();
}

TEST(ImportStory, TheRecordOfChangesHasEveryRecordAndTheFile) {
    Story s;
    const std::size_t before = s.auditLength();
    must(s.desk().importList(ListKind::Patients, kPatientHead + patientRow("Q-1"), "patients.csv"));
    EXPECT_EQ(s.auditLength(), before + 5) << "patient, catheter, both orders, and where they came from";
    const auto newest = must(s.desk().audit(1));
    EXPECT_NE(newest.front().after.find("patients.csv"), std::string::npos) << newest.front().after;
}

TEST(ImportStory, WithOneFaultNothingGoesIn) {
    Story s;
    const std::size_t before = s.auditLength();
    const std::uint64_t writes = s.desk().writeCount();
    const std::string list =
        kPatientHead + patientRow("Q-1") + patientRow("Q-2", "a lot") + patientRow("Q-1");
    const ImportPreview shown = preview(s, ListKind::Patients, list);
    EXPECT_EQ(shown.faulty, 2);
    EXPECT_EQ(shown.good(), 1);
    EXPECT_FALSE(shown.mayGoIn());
    const Problem why = refused(s.desk().importList(ListKind::Patients, list, "patients.csv"));
    EXPECT_EQ(flattened(why).size(), 2U) << debugText(why);
    EXPECT_EQ(why.row, 3);
    EXPECT_TRUE(s.snapshot().patients.empty());
    EXPECT_EQ(s.auditLength(), before);
    EXPECT_EQ(s.desk().writeCount(), writes);
    const QString told = words(why);
    EXPECT_TRUE(told.startsWith(QStringLiteral("Row 3, column 15, Most in one session")))
        << told.toStdString();
    EXPECT_TRUE(told.contains(QStringLiteral("Enter digits"))) << told.toStdString();
}

TEST(ImportStory, WhatIsOnRecordIsToldAndStays) {
    Story s;
    must(s.desk().importList(ListKind::Patients, kPatientHead + patientRow("Q-1"), "patients.csv"));
    const Patient before = s.snapshot().patients.front();
    const std::string again = kPatientHead + patientRow("Q-1");
    EXPECT_EQ(refused(s.desk().importList(ListKind::Patients, again, "patients.csv")).code,
              ProblemCode::Duplicate);
    EXPECT_EQ(s.snapshot().patients.front(), before);
    // Under another code it may be the same person: asked, not refused.
    std::string other = patientRow("Q-9");
    other.replace(other.find("Family Q-9"), 10, "Family Q-1");
    const ImportPreview shown = preview(s, ListKind::Patients, kPatientHead + other);
    EXPECT_TRUE(shown.mayGoIn()) << saidIn(shown);
    EXPECT_NE(saidIn(shown).find("on record as Q-1"), std::string::npos) << saidIn(shown);
}

TEST(ImportStory, AMaximumAboveTheCommonOneIsToBeCalledAboutAndGoesInAsWritten) {
    Story s;
    const std::string list = kPatientHead + patientRow("Q-1", "2500") + patientRow("Q-2", "");
    const ImportPreview shown = preview(s, ListKind::Patients, list);
    EXPECT_TRUE(shown.mayGoIn()) << saidIn(shown);
    EXPECT_EQ(shown.toCall, 2);
    ASSERT_FALSE(shown.rows[0].calls.isEmpty());
    const QString said = shown.rows[0].calls.front();
    EXPECT_TRUE(said.contains(QStringLiteral("2,500 mL"))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral("call the prescriber"))) << said.toStdString();
    EXPECT_FALSE(said.contains(QStringLiteral("Enter"))) << "nobody is told to enter less";
    must(s.desk().importList(ListKind::Patients, list, "patients.csv"));
    EXPECT_EQ(s.snapshot().drainOrders[0].mostPerSession, Millilitres::of(2500));
    EXPECT_FALSE(s.snapshot().drainOrders[1].mostPerSession) << "nothing is guessed";
    const auto lines = attention(*s.agency(), nullptr, nullptr);
    EXPECT_TRUE(std::ranges::any_of(lines, [&](const AttentionItem &line) {
        return line.kind == AttentionKind::MaximumToConfirm && line.order == s.snapshot().drainOrders[0].id;
    })) << "it stays under Today until the prescriber has answered";
}

TEST(ImportStory, AnOrderThatNamesNeitherPrescriberNorSignatureIsForToday) {
    Story s;
    std::string row = patientRow("Q-1");
    row.replace(row.find("Dr Invented,2026-02-03"), std::string_view("Dr Invented,2026-02-03").size(), ",");
    must(s.desk().importList(ListKind::Patients, kPatientHead + row, "patients.csv"));
    ASSERT_EQ(s.snapshot().drainOrders.size(), 1U);
    const auto lines = attention(*s.agency(), nullptr, nullptr);
    const auto found = std::ranges::find(lines, AttentionKind::UnsignedOrder, &AttentionItem::kind);
    ASSERT_NE(found, lines.end());
    EXPECT_EQ(found->order, s.snapshot().drainOrders[0].id);
    EXPECT_EQ(found->harm, Harm::Today);
    EXPECT_TRUE(found->detail.contains(QStringLiteral("who prescribed it"))) << found->detail.toStdString();
}

TEST(ImportStory, APlaceOnTheOtherSideOfTheWorldIsToBeLookedAt) {
    Story s;
    const std::string head = kNurses.substr(0, kNurses.find('\n')) + ",latitude,longitude,point_quality\n";
    const std::string nurse = ",Marsh,registered_nurse,40,drain_chest,monday,08:00,16:30,40.1,";
    const ImportPreview nurses =
        preview(s, ListKind::Nurses, head + "N7" + nurse + "75.1,exact\n" + "N8" + nurse + "-75.1,exact\n");
    EXPECT_TRUE(nurses.mayGoIn()) << saidIn(nurses);
    ASSERT_EQ(nurses.rows.size(), 2U);
    ASSERT_EQ(nurses.rows[0].calls.size(), 1);
    EXPECT_TRUE(nurses.rows[0].calls.front().contains(QStringLiteral("west of Greenwich is minus")));
    EXPECT_TRUE(nurses.rows[1].calls.isEmpty()) << saidIn(nurses);

    const auto placed = [](std::string row, const std::string &longitude) {
        row.insert(row.size() - 1, ",40.1," + longitude + ",exact");
        return row;
    };
    const ImportPreview patients =
        preview(s, ListKind::Patients,
                placed(kPatientHead.substr(0, kPatientHead.size() - 1) +
                           ",latitude,longitude,point_quality\n" + patientRow("Q-1"),
                       "75.1") +
                    placed(patientRow("Q-2"), "-75.1"));
    EXPECT_TRUE(patients.mayGoIn()) << saidIn(patients);
    ASSERT_EQ(patients.rows.size(), 2U);
    const auto asksWhere = [](const ImportRow &row) {
        return row.calls.join(u' ').contains(QStringLiteral("west of Greenwich is minus"));
    };
    EXPECT_TRUE(asksWhere(patients.rows[0])) << saidIn(patients);
    EXPECT_FALSE(asksWhere(patients.rows[1])) << saidIn(patients);
}

TEST(ImportStory, AFileOfAnotherListIsToldAsOneSentence) {
    Story s;
    const ImportPreview shown = preview(s, ListKind::Items, kPatientHead + patientRow("Q-1"));
    EXPECT_FALSE(shown.mayGoIn());
    ASSERT_EQ(shown.ofFile.size(), 1) << saidIn(shown);
    EXPECT_TRUE(shown.ofFile.front().contains(words(ListKind::Patients))) << saidIn(shown);
}

TEST(ImportStory, OfARowWithAFaultNothingIsShownAsGoingIn) {
    Story s;
    const ImportPreview shown =
        preview(s, ListKind::Patients, kPatientHead + patientRow("Q-1") + patientRow("Q-2", "a lot"));
    ASSERT_EQ(shown.rows.size(), 2U);
    EXPECT_FALSE(shown.rows[0].what.isEmpty());
    EXPECT_TRUE(shown.rows[1].what.isEmpty());
}

TEST(ImportStory, ALotOutOfUseOrWithAnotherExpiryIsRefusedByItsRow) {
    Story s;
    const LotId lot = s.receive(s.kit500, "L1", 10, Date::of(2027, 6, 1));
    must(s.desk().setLotState(lot, LotState::Recalled, "letter"));
    s.receive(s.kit1000, "L2", 10, Date::of(2027, 6, 1));
    s.addHome("Q-1");
    const ImportPreview shown = preview(
        s, ListKind::Counts,
        kCountHead + "home,Q-1,KIT-500,L1,,4,2026-03-01\nhome,Q-1,KIT-1000,L2,2028-01-01,4,2026-03-01\n");
    ASSERT_EQ(shown.rows.size(), 2U);
    EXPECT_EQ(shown.faulty, 2) << saidIn(shown);
    EXPECT_TRUE(shown.rows[0].faults.front().contains(QStringLiteral("recalled"))) << saidIn(shown);
    EXPECT_TRUE(shown.rows[1].faults.front().contains(QStringLiteral("last day of use"))) << saidIn(shown);
}

TEST(ImportStory, WhatIsPastItsLastDayIsToBeCalledAboutAndIsNoStock) {
    Story s;
    const auto home = s.addHome("Q-1");
    s.order(home, test::everyDays(2, kMonday), kMonday, s.kit500);
    const std::string list = kCountHead + "home,Q-1,KIT-500,OLD,2025-01-01,4,2026-03-01\n"
                                          "storeroom,,KIT-500,OLD,2025-01-01,6,2026-03-01\n"
                                          "storeroom,,KIT-500,NEW,2026-03-02,6,2026-03-01\n";
    const ImportPreview shown = preview(s, ListKind::Counts, list);
    ASSERT_TRUE(shown.mayGoIn()) << saidIn(shown);
    EXPECT_EQ(shown.toCall, 2) << saidIn(shown);
    EXPECT_TRUE(shown.rows[0].calls.join(u' ').contains(QStringLiteral("call the home"))) << saidIn(shown);
    EXPECT_TRUE(shown.rows[0].calls.join(u' ').contains(QStringLiteral("not counted as stock")));
    EXPECT_TRUE(shown.rows[1].calls.join(u' ').contains(QStringLiteral("not given out"))) << saidIn(shown);
    EXPECT_TRUE(shown.rows[2].calls.isEmpty()) << "its last day is today: " << saidIn(shown);
    must(s.desk().importList(ListKind::Counts, list, "counts.csv"));
    const StockPicturePtr picture = must(computeStock(s.agency(), {}, {}));
    const std::vector<HomeRow> rows = homeRows(*picture);
    const auto row = std::ranges::find_if(
        rows, [&](const HomeRow &r) { return r.catheter == home.catheter && r.item == s.kit500; });
    ASSERT_NE(row, rows.end());
    EXPECT_EQ(row->onHand, Eaches::of(4));
    EXPECT_EQ(row->expired, Eaches::of(4));
    EXPECT_EQ(row->usable(), Eaches{});
    EXPECT_EQ(row->past, QStringLiteral("4 of lot OLD, past its last day Wed 1 Jan 2025"));
    EXPECT_EQ(riskOf(*row, s.agency()->settings()), HomeRisk::AtRisk);
    EXPECT_GT(row->chanceDry7, 0.5);
    const auto refill = std::ranges::find(picture->refills, home.patient, &supply::RefillProposal::patient);
    ASSERT_NE(refill, picture->refills.end()) << "it is to be sent some at once";
    EXPECT_LE(refill->urgency, supply::RefillUrgency::CallToday);
    const auto line = std::ranges::find(refill->lines, s.kit500, &supply::RefillLine::item);
    ASSERT_NE(line, refill->lines.end());
    EXPECT_EQ(line->expired, Eaches::of(4));
    const QString why = reason(*line, s.index());
    EXPECT_TRUE(why.contains(QStringLiteral("4 in the home, 4 past their last day and not counted")))
        << why.toStdString();
    // Taken off the books it is gone from both.
    s.count(home, s.kit500, 0, at(kMonday, 8));
    EXPECT_TRUE(expiredText(s.index(), home.patient).isEmpty());
}

TEST(ImportStory, AFaultyCountSaysWhoseHomeAndAMissingChoiceWhatItMayBe) {
    Story s;
    s.addHome("Q-1");
    const ImportPreview shown =
        preview(s, ListKind::Counts,
                kCountHead + "home,Q-1,KIT-500,,,many,2026-03-01\n,Q-1,KIT-500,,,4,2026-03-01\n");
    ASSERT_EQ(shown.rows.size(), 2U);
    EXPECT_TRUE(shown.rows[0].who.contains(QStringLiteral("at the home of "))) << saidIn(shown);
    EXPECT_TRUE(shown.rows[0].who.contains(QStringLiteral("(Q-1)"))) << saidIn(shown);
    EXPECT_TRUE(shown.rows[0].code.contains(QStringLiteral("Q-1"))) << "without the name";
    EXPECT_TRUE(shown.rows[1].faults.join(u' ').contains(QStringLiteral("Enter one of: storeroom, home")))
        << saidIn(shown);
    Imported counts;
    counts.kind = ListKind::Counts;
    EXPECT_FALSE(importDoneText(counts).contains(QStringLiteral("every home now")));
}

TEST(ImportStory, ALotIsTheSameHoweverItsNumberIsWritten) {
    Story s;
    s.addHome("Q-1");
    const ImportPreview shown = preview(s, ListKind::Counts,
                                        kCountHead + "storeroom,,KIT-500,AB-1,2027-06-01,4,2026-03-01\n"
                                                     "home,Q-1,KIT-500,ab1,2028-06-01,4,2026-03-01\n"
                                                     "storeroom,,KIT-1000,--,,4,2026-03-01\n");
    ASSERT_EQ(shown.rows.size(), 3U) << saidIn(shown);
    EXPECT_TRUE(shown.rows[0].faults.isEmpty()) << saidIn(shown);
    EXPECT_TRUE(shown.rows[1].faults.join(u' ').contains(QStringLiteral("AB-1"))) << saidIn(shown);
    EXPECT_TRUE(shown.rows[2].faults.join(u' ').contains(QStringLiteral("(lot)")))
        << "no number at all: " << saidIn(shown);
}

TEST(ImportStory, ANurseWithoutTheSkillIsNotNamed) {
    Story s;
    const auto withSkill = [](std::string line, const std::string &skill) {
        return line.insert(line.size() - 1, "," + skill);
    };
    const ImportPreview shown =
        preview(s, ListKind::Patients,
                withSkill(kPatientHead, "needs_skills") + withSkill(patientRow("Q-1"), "site_care") +
                    withSkill(patientRow("Q-2"), "draw_blood"));
    EXPECT_EQ(shown.faulty, 1) << saidIn(shown);
    ASSERT_EQ(shown.rows.size(), 2U) << saidIn(shown);
    EXPECT_TRUE(shown.rows[1].faults.join(u' ').contains(QStringLiteral("(primary_nurse)"))) << saidIn(shown);
}

TEST(ImportStory, FilesThatAreNoListsSayWhatToDo) {
    Story s;
    const ImportPreview latin =
        preview(s, ListKind::Patients, "code,family_name,payer,status\nQ-1,M\xFCller,Plan,active\n");
    ASSERT_EQ(latin.ofFile.size(), 1);
    EXPECT_TRUE(latin.ofFile.front().contains(QStringLiteral("CSV, UTF-8"))) << saidIn(latin);
    EXPECT_TRUE(latin.ofFile.front().startsWith(QStringLiteral("Row 2"))) << saidIn(latin);
    EXPECT_FALSE(latin.ofFile.front().contains(QStringLiteral("backup"))) << saidIn(latin);
    const ImportPreview none = preview(s, ListKind::Items, exchange::emptyList(ListKind::Items));
    EXPECT_FALSE(none.mayGoIn());
    EXPECT_EQ(none.ofFile.size(), 1) << saidIn(none);
    EXPECT_EQ(refused(s.desk().importList(ListKind::Items, exchange::emptyList(ListKind::Items), "x")).args,
              std::vector<std::string>{"list_empty"});
    EXPECT_EQ(refused(readListFile(s.folder() + "/none.csv")).code, ProblemCode::FileMissing);
}

TEST(ImportStory, TheEmptyListIsSavedAndTheCopyHasANameOfItsOwn) {
    Story s;
    const std::string file = s.folder() + "/nurses.csv";
    must(saveEmptyList(ListKind::Nurses, file));
    EXPECT_EQ(must(readListFile(file)), exchange::emptyList(ListKind::Nurses));
    EXPECT_EQ(refused(readListFile(s.path())).code, ProblemCode::FileNotReadable)
        << "the open agency is no list";
    EXPECT_EQ(refused(saveEmptyList(ListKind::Nurses, s.path())).code, ProblemCode::FileExists);
    const std::string first = backupBeforeImport(s.path(), kMonday);
    EXPECT_EQ(QFileInfo(QString::fromStdString(first)).absolutePath().toStdString(), s.folder());
    must(s.desk().backupTo(first, {}, {}));
    EXPECT_NE(backupBeforeImport(s.path(), kMonday), first);
    EXPECT_NE(first, s.path());
}

TEST(ImportStory, AFileOpenedToReadTakesNothingIn) {
    Story s;
    s.closeFile();
    s.openFile(store::OpenMode::ReadOnly);
    EXPECT_EQ(refused(s.desk().importList(ListKind::Items, kItems, "items.csv")).code,
              ProblemCode::FileReadOnly);
}

// What the schema calls a choice and what a list calls it are the same word.
template <class E>
void expectSameWords() {
    for (std::size_t i = 0; i < std::size(exchange::kListWords<E>); ++i)
        EXPECT_EQ(exchange::kListWords<E>[i], std::string_view(store::kWords<E>[i]));
}

TEST(ImportStory, ListsUseTheWordsOfTheSchema) {
    expectSameWords<Weekday>();
    expectSameWords<PointQuality>();
    expectSameWords<AreaKind>();
    expectSameWords<Material>();
    expectSameWords<Gender>();
    expectSameWords<CareStatus>();
    expectSameWords<Acuity>();
    expectSameWords<Competence>();
    expectSameWords<EmergencyPriority>();
    expectSameWords<CavitySite>();
    expectSameWords<Side>();
    expectSameWords<DrainPatternKind>();
    expectSameWords<VisitKind>();
    expectSameWords<Skill>();
    expectSameWords<Credential>();
    expectSameWords<ItemKind>();
    expectSameWords<StockClass>();
}

} // namespace
} // namespace kitround::desk
