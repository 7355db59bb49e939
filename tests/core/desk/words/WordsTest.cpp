#include "core/desk/words/Words.h"
#include "core/desk/views/Attention.h"
#include "core/desk/words/AwayWords.h"
#include "core/desk/words/HelpWords.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/StateWords.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/safety/Cautions.h"
#include "tests/support/SmallAgency.h"

#include <gtest/gtest.h>

#include <set>

namespace kitround::desk {
namespace {

// Every enumerator up to and with `last` has words of its own.
template <class Enum>
void expectAllSaid(Enum last, const char *what) {
    std::set<QString> seen;
    for (int k = 0; k <= static_cast<int>(last); ++k) {
        const QString text = words(static_cast<Enum>(k));
        EXPECT_FALSE(text.trimmed().isEmpty()) << what << " " << k;
        EXPECT_FALSE(text.contains(u'!')) << what << " " << k;
        EXPECT_TRUE(seen.insert(text).second)
            << what << " " << k << " says the same as another: " << text.toStdString();
    }
}

TEST(WordsTest, EveryEnumeratorHasWordsOfItsOwn) {
    expectAllSaid(CautionKind::RecalledLotAtHome, "CautionKind");
    expectAllSaid(Symptom::FastWeightLoss, "Symptom");
    expectAllSaid(VisitKind::Phone, "VisitKind");
    expectAllSaid(VisitStatus::Cancelled, "VisitStatus");
    expectAllSaid(CareStatus::Deceased, "CareStatus");
    expectAllSaid(CavitySite::Abdomen, "CavitySite");
    expectAllSaid(Side::Midline, "Side");
    expectAllSaid(HoldKind::Other, "HoldKind");
    expectAllSaid(Material::Iodine, "Material");
    expectAllSaid(Skill::DrawBlood, "Skill");
    expectAllSaid(Credential::Aide, "Credential");
    expectAllSaid(Competence::Alone, "Competence");
    expectAllSaid(Acuity::High, "Acuity");
    expectAllSaid(DeliveryStatus::Cancelled, "DeliveryStatus");
    expectAllSaid(DeliveryWay::WithVisit, "DeliveryWay");
    expectAllSaid(PurchaseStatus::Cancelled, "PurchaseStatus");
    expectAllSaid(LotState::Recalled, "LotState");
    expectAllSaid(RecallAnswer::Declined, "RecallAnswer");
    expectAllSaid(Approver::Nurse, "Approver");
    expectAllSaid(Disposition::SupplierCredit, "Disposition");
    expectAllSaid(MissReason::Other, "MissReason");
    expectAllSaid(DrainOutcome::NotDone, "DrainOutcome");
    expectAllSaid(EntrySource::Import, "EntrySource");
    expectAllSaid(CautionUrgency::Soon, "CautionUrgency");
    expectAllSaid(EmergencyPriority::Third, "EmergencyPriority");
    expectAllSaid(PlaceKind::Variance, "PlaceKind");
    expectAllSaid(TimeOffKind::Other, "TimeOffKind");
    expectAllSaid(Weekday::Saturday, "Weekday");
    expectAllSaid(caseload::LoadSign::Red, "LoadSign");
    expectAllSaid(supply::RefillUrgency::Later, "RefillUrgency");
    expectAllSaid(forecast::StockKnowledge::Unknown, "StockKnowledge");
    expectAllSaid(rounds::Rule::Linked, "Rule");
    expectAllSaid(rounds::WayOutKind::OneVisitMore, "WayOutKind");
    expectAllSaid(rounds::Priority::Urgent, "Priority");
    expectAllSaid(supply::RefillLimit::Expiry, "RefillLimit");
    expectAllSaid(supply::ReorderCause::BackorderCover, "ReorderCause");
    expectAllSaid(supply::ReorderFlag::Overstock, "ReorderFlag");
    expectAllSaid(AttentionKind::MainNurseLeft, "AttentionKind");
    expectAllSaid(Harm::Tidy, "Harm");
    expectAllSaid(UserRole::Nurse, "UserRole");
}

TEST(WordsTest, EverySettingHasALabelOfItsOwn) {
    std::set<QString> seen;
    for (const SettingInfo &info : settingTable()) {
        EXPECT_FALSE(label(info.key).isEmpty()) << info.name;
        EXPECT_TRUE(seen.insert(label(info.key)).second) << info.name;
    }
}

Problem problemOf(int code) {
    Problem p;
    p.code = static_cast<ProblemCode>(code);
    p.field = "volume_ml";
    p.args = {"20000", "0", "6000"};
    return p;
}

TEST(ProblemWordsTest, EveryCodeNamesTheFieldSaysWhatIsWrongAndWhatToDo) {
    std::set<QString> seen;
    for (int code = 0; code <= static_cast<int>(ProblemCode::Infeasible); ++code) {
        const Problem p = problemOf(code);
        const QString text = words(p);
        const bool isAboutPath = p.code >= ProblemCode::FileMissing && p.code <= ProblemCode::StoreFailed;
        EXPECT_TRUE(text.startsWith(isAboutPath ? QStringLiteral("volume_ml: ") : QStringLiteral("Volume: ")))
            << text.toStdString();
        // Two sentences at least: what is wrong, what to do.
        EXPECT_GE(text.count(QStringLiteral(". ")), 1) << text.toStdString();
        EXPECT_TRUE(text.endsWith(u'.')) << text.toStdString();
        EXPECT_FALSE(text.contains(QStringLiteral("%1"))) << text.toStdString();
        EXPECT_FALSE(text.contains(u'!')) << text.toStdString();
        EXPECT_TRUE(seen.insert(text).second) << text.toStdString();
    }
}

TEST(ProblemWordsTest, ArgumentsThatAreMissingAreNeverRead) {
    for (int code = 0; code <= static_cast<int>(ProblemCode::Infeasible); ++code) {
        Problem p = problemOf(code);
        p.args.clear();
        p.field.clear();
        EXPECT_GT(words(p).size(), 10) << code;
    }
}

TEST(ProblemWordsTest, AnImportProblemStartsWithRowColumnAndMachineName) {
    Problem p = problemOf(static_cast<int>(ProblemCode::OutOfRange));
    p.row = 12;
    p.column = 3;
    EXPECT_EQ(
        words(p),
        QStringLiteral("Row 12, column 3, Volume (volume_ml): 20000 is outside 0 to 6000. Enter a value in "
                       "that range."));
}

TEST(ProblemWordsTest, FurtherProblemsAreCountedAndToldOneALine) {
    Problem p = problemOf(static_cast<int>(ProblemCode::Missing));
    p.also = {problemOf(static_cast<int>(ProblemCode::Negative)),
              problemOf(static_cast<int>(ProblemCode::NotADate))};
    EXPECT_TRUE(words(p).endsWith(QStringLiteral("2 more problems were found.")));
    EXPECT_EQ(allWords(p).size(), 3);
    EXPECT_FALSE(allWords(p)[0].contains(QStringLiteral("more problem")));
}

TEST(ProblemWordsTest, EveryCodeWordOfTheDeskIsSaidInFullWithARemedy) {
    for (const std::string_view code : stateWords()) {
        Problem p = problemOf(static_cast<int>(ProblemCode::NotAllowed));
        p.args = {std::string(code), "2026-03-01", "B", "C"};
        const QString text = stateSentence(p);
        EXPECT_FALSE(text.contains(u'%')) << text.toStdString();
        EXPECT_FALSE(text.contains(u'_')) << text.toStdString();
        EXPECT_GE(text.count(u'.'), 2) << text.toStdString();
        EXPECT_TRUE(words(p).endsWith(text)) << words(p).toStdString();
    }
}

TEST(ProblemWordsTest, DaysAndMomentsAreSaidAsPeopleReadThem) {
    EXPECT_EQ(spoken(QStringLiteral("2026-03-02")), QStringLiteral("Mon 2 Mar 2026"));
    EXPECT_EQ(spoken(QStringLiteral("2026-03-02T08:05")), QStringLiteral("Mon 2 Mar 2026 08:05"));
    EXPECT_EQ(spoken(QStringLiteral("2026-03-02T08:05:30Z")), QStringLiteral("Mon 2 Mar 2026 08:05 UTC"));
    for (const char *asItIs : {"KIT-500", "2026-13-40", "2026-03-02 or later", "LOT-2026-03"})
        EXPECT_EQ(spoken(QString::fromLatin1(asItIs)), QString::fromLatin1(asItIs));
    const Problem closed{ProblemCode::NotAllowed, "at", {"month_closed", "2026-03-01T00:00"}};
    const Problem twice{ProblemCode::Duplicate, "at", {"2026-03-02T08:05"}};
    for (const Problem &p : {closed, twice})
        EXPECT_FALSE(words(p).contains(QStringLiteral("2026-03"))) << words(p).toStdString();
}

TEST(ProblemWordsTest, AFigureThatIsTheSameAlreadyIsNoDoubleRecord) {
    EXPECT_EQ(words(Problem{ProblemCode::Duplicate, "value", {"30"}}),
              QStringLiteral("That is the value now. Enter another one to see what it would change."));
}

TEST(ProblemWordsTest, WhereDecimalsAreMeantNobodyIsAskedForAWholeNumber) {
    EXPECT_TRUE(words(Problem{ProblemCode::NotANumber, "counted", {"a few"}})
                    .endsWith(QStringLiteral("“a few” is not a whole number. Enter digits only.")));
    const QString price = words(Problem{ProblemCode::NotANumber, "price_minor", {"12,50", "decimals"}});
    EXPECT_FALSE(price.contains(QStringLiteral("whole"))) << price.toStdString();
    EXPECT_TRUE(price.contains(QStringLiteral("a point before the decimals"))) << price.toStdString();
}

TEST(ProblemWordsTest, TextWithPercentSignsStaysAsTyped) {
    Problem p = problemOf(static_cast<int>(ProblemCode::UnknownChoice));
    p.args = {"%2 and %1", "a, b"};
    EXPECT_TRUE(words(p).contains(QStringLiteral("%2 and %1"))) << words(p).toStdString();
}

CallItem itemOf(CautionKind kind, std::vector<std::string> evidence) {
    CallItem item;
    item.kind = kind;
    item.raisedAt = {Date::of(2026, 3, 2), Minutes::of(480)};
    item.evidence = std::move(evidence);
    return item;
}

TEST(CautionWordsTest, EveryKindSaysSomethingWithAndWithoutEvidence) {
    for (int k = 0; k <= static_cast<int>(CautionKind::RecalledLotAtHome); ++k) {
        const auto kind = static_cast<CautionKind>(k);
        EXPECT_GT(cautionText(itemOf(kind, {})).size(), 40) << k;
        const QString text = cautionText(itemOf(kind, {"11", "22", "33", "44"}));
        EXPECT_FALSE(text.contains(u'%') && kind != CautionKind::SharpChange) << text.toStdString();
        EXPECT_FALSE(text.contains(u'!')) << text.toStdString();
    }
}

TEST(CautionWordsTest, NumbersComeFirstThenWhomToCall) {
    const QString over = cautionText(itemOf(CautionKind::OverPrescribedMaximum, {"1250", "1000"}));
    EXPECT_TRUE(over.startsWith(QStringLiteral("1250 mL"))) << over.toStdString();
    EXPECT_LT(over.indexOf(QStringLiteral("1000 mL")), over.indexOf(QStringLiteral("nurse")));
    EXPECT_TRUE(over.endsWith(QStringLiteral("this tool does not advise a change of treatment.")));
    EXPECT_TRUE(cautionText(itemOf(CautionKind::Silence, {"2026-02-20", "1", "1"}))
                    .startsWith(QStringLiteral("Nothing in the log for 1 day, since ")));
    const QString silent = cautionText(itemOf(CautionKind::Silence, {"2026-02-20", "10", "2"}));
    EXPECT_TRUE(silent.contains(QStringLiteral("10 days, since Fri 20 Feb"))) << silent.toStdString();
    EXPECT_TRUE(silent.contains(QStringLiteral("A missing log is not a missed drain")));
}

TEST(CautionWordsTest, EmergencySignsNameTheEmergencyNumberFirst) {
    for (const Symptom s :
         {Symptom::WorseBreathlessness, Symptom::SeverePain, Symptom::Collapse, Symptom::HeavyBleeding}) {
        const QString text =
            cautionText(itemOf(CautionKind::SymptomEmergency, {std::string(safety::codeOf(s))}));
        EXPECT_TRUE(text.contains(words(s))) << text.toStdString();
        const auto number = text.indexOf(QStringLiteral("emergency number"));
        ASSERT_GT(number, 0) << text.toStdString();
        EXPECT_LT(number, text.indexOf(QStringLiteral("nurse")));
    }
}

TEST(CautionWordsTest, NoTextSuggestsAnotherVolumeOrFrequency) {
    const QStringList forbidden = {QStringLiteral("drain more"), QStringLiteral("drain less"),
                                   QStringLiteral("skip"),       QStringLiteral("increase"),
                                   QStringLiteral("reduce"),     QStringLiteral("instead drain")};
    for (int k = 0; k < kSymptomCount; ++k)
        for (const QString &word : forbidden)
            EXPECT_FALSE(callAdvice(static_cast<Symptom>(k)).contains(word, Qt::CaseInsensitive)) << k;
    for (int k = 0; k <= static_cast<int>(CautionKind::RecalledLotAtHome); ++k)
        for (const QString &word : forbidden)
            EXPECT_FALSE(cautionText(itemOf(static_cast<CautionKind>(k), {"1", "2", "3", "4"}))
                             .contains(word, Qt::CaseInsensitive))
                << k;
}

TEST(FormatsTest, ChancesAreSaidAsPeopleSayThem) {
    EXPECT_EQ(chanceText(0), QStringLiteral("less than 1 in 1000")) << "one wording for next to none";
    EXPECT_EQ(chanceText(0.0004), QStringLiteral("less than 1 in 1000"));
    EXPECT_EQ(chanceText(0.05), QStringLiteral("1 in 20"));
    EXPECT_EQ(chanceText(1.0 / 37), QStringLiteral("1 in 37"));
    EXPECT_EQ(chanceText(1.0 / 137), QStringLiteral("about 1 in 100")) << "rare chances are not that sharp";
    EXPECT_EQ(chanceText(1.0 / 697), QStringLiteral("about 1 in 700"));
    EXPECT_EQ(chanceText(0.001), QStringLiteral("about 1 in 1000"));
    EXPECT_EQ(chanceText(0.5), QStringLiteral("1 in 2"));
    EXPECT_EQ(chanceText(0.93), QStringLiteral("9 in 10"));
    EXPECT_EQ(chanceText(1), QStringLiteral("certain"));
}

TEST(FormatsTest, CountsHaveCommasBetweenTheirThousandsAsMoneyHas) {
    EXPECT_EQ(numberText(999), QStringLiteral("999"));
    EXPECT_EQ(numberText(12505), QStringLiteral("12,505"));
    EXPECT_EQ(numberText(-1234567), QStringLiteral("-1,234,567"));
    EXPECT_EQ(numberText(-100), QStringLiteral("-100"));
    EXPECT_EQ(counted(1200, QStringLiteral("%1 each"), QStringLiteral("%1 eaches")),
              QStringLiteral("1,200 eaches"));
}

TEST(FormatsTest, DatesMoneyAndNamesDoNotDependOnTheMachine) {
    EXPECT_EQ(dayText(Date::of(2026, 12, 7)), QStringLiteral("Mon 7 Dec"));
    EXPECT_EQ(shortDayText(Date::of(2026, 12, 7)), QStringLiteral("Mon 7"));
    EXPECT_EQ(dayText(Date::of(2027, 1, 4), Date::of(2026, 12, 7)), QStringLiteral("Mon 4 Jan 2027"));
    EXPECT_EQ(moneyText(Money::of(-123456789), "USD"), QStringLiteral("-1,234,567.89 USD"));
    EXPECT_EQ(moneyText(Money::of(5), "USD"), QStringLiteral("0.05 USD"));
    Patient p;
    p.familyName = "Åström";
    p.givenName = "élise";
    EXPECT_EQ(initials(p), QStringLiteral("É.Å."));
    EXPECT_EQ(personName(p), QStringLiteral("Åström, élise"));
}

TEST(FormatsTest, DrainPatternsAreReadAloud) {
    DrainPattern every{.kind = DrainPatternKind::EveryNDays,
                       .everyDays = 2,
                       .anchor = Date::of(2026, 3, 2),
                       .timesAWeek = 0,
                       .weekdays = {},
                       .mostPerDay = {},
                       .mostPerWeek = {}};
    const Date inYear = Date::of(2026, 6, 1);
    EXPECT_EQ(words(every, inYear), QStringLiteral("every 2 days from Mon 2 Mar"));
    EXPECT_EQ(words(every, Date::of(2027, 1, 4)), QStringLiteral("every 2 days from Mon 2 Mar 2026"))
        << "of another year: the year is told";
    every.everyDays = 1;
    EXPECT_EQ(words(every, inYear), QStringLiteral("every day from Mon 2 Mar"));
    DrainPattern weekly = every;
    weekly.kind = DrainPatternKind::TimesAWeek;
    weekly.timesAWeek = 3;
    EXPECT_EQ(words(weekly, inYear), QStringLiteral("3 times a week, on days the home chooses"));
    weekly.weekdays = {Weekday::Monday, Weekday::Thursday};
    weekly.timesAWeek = 2;
    EXPECT_EQ(words(weekly, inYear), QStringLiteral("2 times a week on Mon, Thu"));
    DrainPattern needed = every;
    needed.kind = DrainPatternKind::AsNeeded;
    EXPECT_EQ(words(needed, inYear), QStringLiteral("as needed, no maximum given"));
    needed.mostPerDay = 1;
    needed.mostPerWeek = 4;
    EXPECT_EQ(words(needed, inYear), QStringLiteral("as needed, at most 1 a day and 4 a week"));
}

TEST(WordsTest, ALoadBesideAUsualShareSaysThatOneDayIsFull) {
    caseload::NurseLoad load;
    load.capacity = Minutes::of(2400);
    load.visits = 20;
    load.mostVisitsInADay = 7;
    load.share = 0.61;
    load.sign = caseload::LoadSign::Usual;
    EXPECT_EQ(loadText(load), QStringLiteral("61 %, usual"));
    load.share = 0.53;
    load.sign = caseload::LoadSign::Amber;
    load.isByDay = true;
    EXPECT_EQ(loadText(load), QStringLiteral("53 %, nearly full: 7 visits on one day"));
    EXPECT_EQ(shareText(load), QStringLiteral("53 %, 7 on one day")) << "53 % alone is not nearly full";
    caseload::NurseLoad none;
    none.sign = caseload::LoadSign::NoShifts;
    EXPECT_EQ(loadText(none), QStringLiteral("no shifts"));
    none.sign = caseload::LoadSign::Away;
    EXPECT_EQ(loadText(none), QStringLiteral("away"));
}

TEST(AwayWordsTest, OneIsNotSaidAsMany) {
    const Date today = Date::of(2026, 3, 2);
    QString said;
    for (int kits = 1; kits <= 8; ++kits) { // at some number of them there is just one more to send
        test::SmallAgency agency(today);
        const test::Home home = agency.addHome();
        agency.order(home, test::everyDays(1, today));
        for (int back = 20; back > 0; --back)
            agency.drained(home, today.plusDays(-back), 400, {{test::SmallAgency::kKit500, 1}});
        agency.counted(home, test::SmallAgency::kKit500, kits, today);
        const Snapshot snapshot = agency.build();
        const SnapshotIndex index(snapshot);
        said += carryLines(index, home.patient, today, today.plusDays(3)).join(u' ') + u'\n';
        const QString oneDay = carryLines(index, home.patient, today, today.plusDays(1)).first();
        EXPECT_TRUE(oneDay.contains(QStringLiteral("(1 day)"))) << oneDay.toStdString();
    }
    EXPECT_TRUE(said.contains(QStringLiteral("(3 days)"))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral("By the record 1 is at home: "))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral(": 1 more has to be there before "))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral(" more have to be there before "))) << said.toStdString();
}

TEST(VisitWordsTest, OneMinuteIsNotSaidAsMany) {
    VisitOrder order;
    order.id = VisitOrderId(1);
    order.patient = PatientId(1);
    order.start = Date::of(2026, 3, 2);
    order.segments = {VisitSegment{}};
    Snapshot snapshot;
    snapshot.visitOrders = {order};
    const SnapshotIndex index(snapshot);
    ComesAfter after;
    after.order = order.id;
    after.unit = GapUnit::Minute;
    after.least = after.most = 1;
    EXPECT_TRUE(afterText(after, index).startsWith(QStringLiteral("Starts 1 minute after ")))
        << afterText(after, index).toStdString();
    after.most = 2;
    EXPECT_TRUE(afterText(after, index).startsWith(QStringLiteral("Starts 1 to 2 minutes after ")));
}

TEST(WordsTest, AFormsOwnNamesStandForFieldsAndForWhatTheyConflictWith) {
    const FieldNaming named = [](const std::string &field) {
        if (field == "on_date")
            return QStringLiteral("Day of the visit");
        return field == "barred_nurses" ? QStringLiteral("Never to be sent") : QString();
    };
    const Problem p{ProblemCode::Conflict, "on_date", {"barred_nurses"}, 2};
    EXPECT_EQ(words(p, named),
              QStringLiteral("Row 2, Day of the visit: this does not go together with “Never to be sent”. "
                             "Change one of the two."));
    EXPECT_TRUE(words(p).startsWith(QStringLiteral("Row 2, On date (on_date): ")))
        << "an import: as its head";
    const Problem other{ProblemCode::Missing, "family_name"};
    EXPECT_EQ(words(other, named), words(other)) << "no field of that form";
}

TEST(WordsTest, WhatTheStoreSaysItselfIsADetailAndNoSentence) {
    const Problem failed{ProblemCode::StoreFailed,
                         "file",
                         {"SELECT number, at FROM audit_entry", "disk I/O error Unable to fetch row"}};
    for (const QString &text :
         {words(failed), notUpToDateText(failed, true), notUpToDateText(failed, false)}) {
        EXPECT_FALSE(text.contains(QStringLiteral("SELECT"))) << text.toStdString();
        EXPECT_FALSE(text.contains(QStringLiteral("I/O"))) << text.toStdString();
    }
    EXPECT_TRUE(technicalDetail(failed).contains(QStringLiteral("disk I/O error")));
    EXPECT_TRUE(technicalDetail(Problem{ProblemCode::Missing, "name"}).isEmpty());
    // What is in the file is not to be entered a second time.
    EXPECT_TRUE(notUpToDateText(failed, true).startsWith(QStringLiteral("Saved. ")));
    EXPECT_TRUE(notUpToDateText(failed, true).contains(QStringLiteral("do not enter your change again")));
    EXPECT_FALSE(notUpToDateText(failed, false).contains(QStringLiteral("Saved")));
}

TEST(WordsTest, NotAskedIsNotNoneKnown) {
    const Date today = Date::of(2026, 11, 19);
    Patient patient;
    EXPECT_EQ(allergiesText(patient, today), QStringLiteral("NOT ASKED"));
    patient.noAllergiesOn = Date::of(2026, 11, 3);
    EXPECT_EQ(allergiesText(patient, today), QStringLiteral("none known (asked Tue 3 Nov)"));
    patient.noAllergiesOn.reset();
    patient.allergies = {Material::Latex, Material::Iodine};
    EXPECT_EQ(allergiesText(patient, today), QStringLiteral("latex, iodine"));
    EXPECT_EQ(words(patient.acuity), QStringLiteral("not assessed"));
    EXPECT_EQ(words(patient.emergencyPriority), QStringLiteral("not assessed"));
    EXPECT_EQ(acuityOf(patient), Acuity::Medium);
    EXPECT_EQ(emergencyPriorityOf(patient), EmergencyPriority::Second);
}

TEST(WordsTest, AnOfferThatMayBeASlipIsDoubtedOnce) {
    const test::SmallAgency agency;
    const Snapshot snapshot = agency.build();
    const SnapshotIndex index(snapshot);
    SupplierItem offer;
    offer.item = test::SmallAgency::kKit500;
    offer.pack = index.item(offer.item)->casePack;
    offer.perCase = Money::of(10000);
    EXPECT_TRUE(offerDoubts(offer, index).isEmpty());
    offer.perCase = Money();
    EXPECT_EQ(offerDoubts(offer, index).size(), 1);
    offer.pack.eachesPerCase = Eaches::of(offer.pack.eachesPerCase.count() + 1);
    const QStringList both = offerDoubts(offer, index);
    ASSERT_EQ(both.size(), 2);
    EXPECT_TRUE(both.back().contains(itemName(index, offer.item))) << both.back().toStdString();
}

TEST(HelpTest, WhatTheLoadReviewCountsAndWhatGoesAcrossThePagesIsToldInPlainWords) {
    QStringList load, titles;
    for (const HelpTopic &topic : helpTopics()) {
        titles << topic.title;
        if (topic.page == QStringLiteral("load"))
            for (const HelpStep &step : topic.steps)
                load << step.text;
    }
    const QString told = load.join(u' ');
    for (const char *what : {"Weighted points", "Overtime is", "Gini", "Jain"})
        EXPECT_TRUE(told.contains(QLatin1String(what))) << what;
    EXPECT_TRUE(titles.contains(QStringLiteral("Lists from a spreadsheet")));
    EXPECT_TRUE(titles.contains(QStringLiteral("A parcel that arrives short or damaged")));
}

} // namespace
} // namespace kitround::desk
