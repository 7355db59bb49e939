// Paper carries the least that does the job, and what is needed when the computer is down prints in one step.
#include "core/desk/paper/Papers.h"
#include "core/desk/paper/RecallPaper.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using test::everyDays;

QString textOf(const Paper &paper) {
    QString text = paper.title + paper.subtitle + paper.foot;
    for (const Paper::Section &section : paper.sections) {
        text += section.heading + section.lines.join(u'\n');
        if (section.table) {
            for (const Column &column : section.table->columns)
                text += QString::fromStdString(column.name);
            for (const auto &row : section.table->rows)
                for (const std::string &cell : row)
                    text += QString::fromStdString(cell) + u'\n';
            for (const std::string &note : section.table->notes)
                text += QString::fromStdString(note);
        }
    }
    return text;
}

struct PrintedWeek : Story {
    PrintedWeek() {
        home = addHome("A");
        Patient patient = *index().patient(home.patient);
        patient.bornOn = Date::of(1950, 5, 17);
        patient.address.street = "12 Invented Lane";
        patient.address.accessNotes = "door code 4711";
        patient.notes = "secret remark";
        must(desk().save(patient));
        order(home, everyDays(1, kMonday), kMonday, kit500);
        receive(kit500, "L1", 40, Date::of(2027, 6, 1));
        count(home, kit500, 2, at(kMonday, 7));
        publishVisit(home, kMonday.plusDays(1), 9);
        parcel = must(desk().pick(promise(home, kit500, 5, kMonday.plusDays(1), nurse).id));
        stock = must(computeStock(agency(), {}, {}));
        week = must(openWeek(agency(), kMonday, &stock->refills));
    }
    Home home;
    Delivery parcel;
    StockPicturePtr stock;
    WeekPicturePtr week;
};

TEST(PaperStory, NoPaperThatLeavesTheHouseCarriesMoreThanItsJobNeeds) {
    PrintedWeek s;
    const struct {
        const char *name;
        Paper paper;
    } papers[] = {{"day sheet", daySheet(*s.week, s.nurse, kMonday.plusDays(1))},
                  {"week", weekPaper(*s.week)},
                  {"pick list", pickList(*s.stock)},
                  {"call list", refillCallList(*s.stock)},
                  {"forecast", forecastPaper(*s.stock)},
                  {"reorders", reorderPaper(*s.stock)},
                  {"weekend", weekendList(*s.week, *s.stock)}};
    for (const auto &[name, paper] : papers) {
        const QString text = textOf(paper);
        EXPECT_FALSE(text.isEmpty()) << name;
        EXPECT_FALSE(text.contains(QStringLiteral("secret remark"))) << name;
        EXPECT_FALSE(text.contains(QStringLiteral("4711"))) << name;
        EXPECT_FALSE(text.contains(QStringLiteral("1950"))) << name;
        EXPECT_FALSE(paper.foot.isEmpty()) << name;
    }
    // The nurse finds the door; the storeroom needs no address.
    EXPECT_TRUE(textOf(papers[0].paper).contains(QStringLiteral("12 Invented Lane")));
    EXPECT_FALSE(textOf(papers[2].paper).contains(QStringLiteral("12 Invented Lane")));
    EXPECT_FALSE(textOf(papers[5].paper).contains(QStringLiteral("Family A")))
        << "a reorder names no patient";
}

TEST(PaperStory, EveryPaperTellsTwoPatientsOfTheSameInitialsApart) {
    PrintedWeek s;
    const QString mark =
        QStringLiteral("%1 %2").arg(initials(*s.index().patient(s.home.patient)),
                                    QString::fromStdString(s.index().patient(s.home.patient)->code));
    for (const Paper &paper : {daySheet(*s.week, s.nurse, kMonday.plusDays(1)), weekPaper(*s.week),
                               pickList(*s.stock), forecastPaper(*s.stock), onCallCard(*s.agency())})
        EXPECT_TRUE(textOf(paper).contains(mark)) << paper.title.toStdString();
}

TEST(PaperStory, TheSlipOfAParcelNamesWhomItIsFor) {
    PrintedWeek s;
    EXPECT_TRUE(
        textOf(deliverySlip(*s.agency(), s.parcel)).contains(nameWithCode(s.index(), s.parcel.patient)));
}

TEST(PaperStory, APurchaseOrderSaysWhenAndWhereTo) {
    PrintedWeek s;
    AgencySettings settings = s.agency()->settings();
    settings.storeroom.street = "3 Invented Road";
    settings.storeroom.town = "Inventown";
    settings.storeroom.postalCode = "04711";
    must(s.desk().save(settings));
    PurchaseOrder order;
    order.number = "N-1";
    order.supplier = s.supplier;
    const QString text = textOf(purchaseOrderPaper(*s.agency(), order));
    EXPECT_TRUE(text.contains(QStringLiteral("Inventown 04711"))) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("Draft, not sent"))) << text.toStdString();
    EXPECT_FALSE(text.contains(QStringLiteral("Ordered on"))) << "nobody has ordered it yet";
    order.status = PurchaseStatus::Sent;
    order.orderedOn = kMonday;
    const QString sent = textOf(purchaseOrderPaper(*s.agency(), order));
    EXPECT_FALSE(sent.contains(QStringLiteral("Draft"))) << sent.toStdString();
    EXPECT_TRUE(sent.contains(QStringLiteral("Ordered on Mon 2 Mar 2026"))) << sent.toStdString();
    EXPECT_FALSE(text.contains(QStringLiteral("Our contact"))) << "nobody named, nothing to fill in";
    Supplier supplier = *s.index().supplier(s.supplier);
    supplier.contact = "555-0120";
    must(s.desk().save(supplier));
    EXPECT_TRUE(textOf(purchaseOrderPaper(*s.agency(), order))
                    .contains(QStringLiteral("Phone of the supplier: 555-0120")));
}

TEST(PaperStory, WhatLeavesTheHouseSaysHowTheAgencyIsReached) {
    PrintedWeek s;
    const QString phone = QStringLiteral("555-0100");
    PurchaseOrder order;
    order.number = "N-1";
    order.supplier = s.supplier;
    const auto papers = [&] {
        return std::vector{purchaseOrderPaper(*s.agency(), order), deliverySlip(*s.agency(), s.parcel),
                           recallPaper(*s.agency(), RecallView{}), recallReply(*s.agency(), RecallView{})};
    };
    for (const Paper &paper : papers())
        EXPECT_FALSE(textOf(paper).contains(QStringLiteral("Questions?"))) << paper.title.toStdString();
    AgencySettings settings = s.agency()->settings();
    settings.phone = phone.toStdString();
    settings.orderContact = "Robin at the shelf";
    must(s.desk().save(settings));
    for (const Paper &paper : papers())
        EXPECT_TRUE(textOf(paper).contains(phone)) << paper.title.toStdString();
    EXPECT_TRUE(textOf(papers().front()).contains(QStringLiteral("Name: Robin at the shelf")));
    settings.phone.assign(41, '5');
    EXPECT_EQ(refused(s.desk().save(settings)).field, "phone");
}

TEST(PaperStory, WhoCaresReadsWhetherAllergiesWereAskedAbout) {
    PrintedWeek s;
    const auto said = [&] {
        const WeekPicturePtr open = must(openWeek(s.agency(), kMonday, &s.stock->refills));
        return textOf(daySheet(*open, s.nurse, kMonday.plusDays(1))) + textOf(onCallCard(*s.agency()));
    };
    EXPECT_EQ(said().count(QStringLiteral("none known (asked Mon 2 Feb)")), 2);
    Patient patient = *s.index().patient(s.home.patient);
    patient.noAllergiesOn.reset();
    must(s.desk().save(patient));
    EXPECT_EQ(said().count(QStringLiteral("NOT ASKED")), 2);
    patient = *s.index().patient(s.home.patient);
    patient.allergies = {Material::Iodine};
    must(s.desk().save(patient));
    EXPECT_EQ(said().count(QStringLiteral("iodine")), 2);
}

TEST(PaperStory, WhoIsNotAssessedYetIsReachedWithTheMiddleAndShownSo) {
    PrintedWeek s;
    const auto home = s.addHome("B"), other = s.addHome("C");
    const auto judge = [&](const Story::Home &of, EmergencyPriority priority) {
        Patient patient = *s.index().patient(of.patient);
        patient.emergencyPriority = priority;
        must(s.desk().save(patient));
    };
    judge(home, EmergencyPriority::Third);
    judge(other, EmergencyPriority::First);
    const Paper paper = emergencyCallOrder(*s.agency());
    std::vector<std::string> reach;
    for (const auto &row : paper.sections.front().table->rows)
        reach.push_back(row.front());
    EXPECT_EQ(reach, (std::vector<std::string>{"first", "not assessed", "third"}));
}

TEST(PaperStory, OneStepPrintsWhatIsNeededWhileTheComputerIsDown) {
    PrintedWeek s;
    const Paper pack = downtimePack(*s.week, *s.stock);
    const QString text = textOf(pack);
    EXPECT_TRUE(text.contains(QStringLiteral("12 Invented Lane"))) << "tomorrow's day sheet";
    EXPECT_TRUE(text.contains(QStringLiteral("1000"))) << "the prescribed maximum, on the on-call card";
    EXPECT_TRUE(text.contains(QStringLiteral("L1"))) << "the lot to carry, on the pick list";
    EXPECT_FALSE(text.contains(QStringLiteral("secret remark")));
    EXPECT_FALSE(text.contains(QStringLiteral("4711")));
    const std::size_t before = s.auditLength();
    must(s.desk().notePrinted("downtime pack"));
    const auto audit = must(s.desk().audit(1));
    EXPECT_EQ(s.auditLength(), before + 1);
    EXPECT_EQ(audit.front().action, AuditAction::Print);
}

TEST(PaperStory, TheWeekHasAVisitOnALineAndTheMarksOfTheScreen) {
    PrintedWeek s;
    TimeOff sick;
    sick.nurse = s.otherNurse;
    sick.kind = TimeOffKind::Sick;
    sick.from = kMonday.plusDays(2);
    sick.to = kMonday.plusDays(3);
    must(s.desk().save(sick));
    TimeOff asked = sick;
    asked.kind = TimeOffKind::Leave;
    asked.nurse = s.nurse;
    asked.from = kMonday.plusDays(1);
    asked.to = kMonday.plusDays(2);
    asked.status = LeaveStatus::Requested;
    must(s.desk().save(asked));
    const auto week = must(openWeek(s.agency(), kMonday, nullptr));
    const Paper paper = weekPaper(*week);
    ASSERT_TRUE(paper.sections.front().table);
    QStringList cells;
    for (const auto &row : paper.sections.front().table->rows)
        for (const std::string &text : row)
            cells << QString::fromStdString(text);
    EXPECT_TRUE(cells.contains(words(TimeOffKind::Sick))) << cells.join(u'|').toStdString();
    EXPECT_TRUE(std::ranges::any_of(cells, [](const QString &text) {
        const QStringList lines = text.split(u'\n');
        return lines.front() == QStringLiteral("leave asked for") && lines.size() == 2 &&
               lines.back().startsWith(QStringLiteral("09:00 "));
    })) << cells.join(u'|').toStdString();
    asked.from = Date::of(2026, 11, 27);
    asked.to = asked.from.plusDays(1);
    must(s.desk().save(asked));
    const QString thanks = textOf(weekPaper(*must(openWeek(s.agency(), asked.from, nullptr))));
    EXPECT_TRUE(thanks.contains(QStringLiteral("Thu 26 Nov\nThanksgiving Day"))) << thanks.toStdString();
}

TEST(PaperStory, ADaySheetSaysWhatIsNotAgreedYetAndThatTheBreakComesAfterTheRound) {
    PrintedWeek s;
    WeekPicture week = *s.week;
    const auto placed = placedJobs(week);
    ASSERT_FALSE(placed.empty());
    rounds::RiderWish wish;
    wish.patient = s.home.patient;
    wish.items = {{s.kit500, Eaches::of(7)}};
    week.riderWishes = {wish};
    week.problem.riders.assign(1, rounds::Rider{});
    week.problem.riders.front().patient = s.home.patient;
    week.plan.riderJob = {placed.front().job};
    for (rounds::DutyTimes &duty : week.evaluation.duties)
        duty.breakStart = duty.back;
    const QString sheet = textOf(daySheet(week, s.nurse, kMonday.plusDays(1)));
    EXPECT_TRUE(sheet.contains(QStringLiteral("not yet agreed: 7 × "))) << sheet.toStdString();
    EXPECT_TRUE(sheet.contains(QStringLiteral("Break after the round, from "))) << sheet.toStdString();
}

} // namespace
} // namespace kitround::desk
