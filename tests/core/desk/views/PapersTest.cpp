// What is printed: nothing that does not belong on a desk others pass by, and no lot twice.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/Attention.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/views/ThreeHomes.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using namespace three_homes;

std::vector<Paper> allPapers(const AgencyPtr &agency) {
    const auto stock = stockOf(agency);
    const auto open = weekOf(agency, *stock);
    const auto week =
        planWeek(*open, {.seed = 1, .iterations = 100, .seconds = 0, .keepPublished = true}, {}, {});
    EXPECT_TRUE(week);
    std::vector<Paper> papers{weekPaper(**week),
                              pickList(*stock),
                              refillCallList(*stock),
                              reorderPaper(*stock),
                              loadPaper(**week, loadReview(**week)),
                              forecastPaper(*stock),
                              weekendList(**week, *stock),
                              onCallCard(*agency),
                              attentionPaper(attention(*agency, stock.get(), week->get()), *agency),
                              emergencyCallOrder(*agency),
                              downtimePack(**week, *stock),
                              daySheet(**week, SmallAgency::kNurse, kToday.plusDays(7))};
    for (Date d = (*week)->week.from; d < (*week)->week.to; ++d)
        papers.push_back(daySheets(**week, d));
    papers.push_back(daySheetsFrom(**week, (*week)->week.from, std::nullopt));
    for (const PurchaseOrder &order : draftOrders(*stock))
        papers.push_back(purchaseOrderPaper(*agency, order));
    return papers;
}

std::string textOf(const Paper &paper) {
    std::string text = (paper.title + u'\n' + paper.subtitle + u'\n' + paper.foot).toStdString();
    for (const Paper::Section &s : paper.sections) {
        text += (s.heading + u'\n' + s.lines.join(u'\n')).toStdString();
        if (s.table)
            text += asText(*s.table, 400);
    }
    return text;
}

TEST(PapersTest, TheListOfRefillCallsNamesWhomToAskFor) {
    const auto stock = stockOf(Three().build());
    ASSERT_FALSE(stock->refills.empty());
    const Paper list = refillCallList(*stock);
    ASSERT_TRUE(list.sections[0].table);
    const auto &rows = list.sections[0].table->rows;
    ASSERT_EQ(rows.size(), stock->refills.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const PatientId patient = stock->refills[i].patient;
        EXPECT_EQ(rows[i][2], nameWithCode(stock->agency->index(), patient).toStdString());
    }
}

TEST(PapersTest, CarryNoAccessNotesNoNotesAndNoFamilyNames) {
    Three three;
    three.agency.delivery(three.dry, SmallAgency::kKit500, 4, kToday.plusDays(1), DeliveryStatus::Promised);
    three.agency.edit([](Snapshot &s) {
        for (Patient &p : s.patients)
            p.familyName = "Quillfeather";
        s.settings.isInvented = true;
    });
    for (const Paper &paper : allPapers(three.build())) {
        const std::string text = textOf(paper);
        EXPECT_EQ(text.find(kSecret), std::string::npos) << paper.title.toStdString();
        const bool staysInTheOffice = paper.title == QStringLiteral("Refill calls"); // whom to ask for
        EXPECT_EQ(text.find("Quillfeather") != std::string::npos, staysInTheOffice)
            << paper.title.toStdString();
        EXPECT_NE(paper.foot.indexOf(inventedMark()), -1) << paper.title.toStdString();
        EXPECT_FALSE(paper.sections.empty()) << paper.title.toStdString();
        const bool mayNameBirth =
            paper.title == QStringLiteral("On-call card") || paper.title == QStringLiteral("Downtime pack");
        EXPECT_EQ(text.find("1941-07-09") != std::string::npos, mayNameBirth) << paper.title.toStdString();
    }
}

TEST(PapersTest, TheFootSaysWhoPrintedAndWhen) {
    Paper paper;
    paper.foot = QStringLiteral("Agency");
    const Paper printed = signedBy(paper, QStringLiteral("dana"), {kToday, Minutes::of(9 * 60 + 5)});
    EXPECT_EQ(printed.foot, QStringLiteral("Agency · printed by dana on Mon 2 Mar 2026 09:05"));
}

TEST(PapersTest, ThePickListGivesNoLotTwiceAndSaysWhatIsMissing) {
    SmallAgency agency(kToday);
    const Home a = agency.addHome(), b = agency.addHome();
    agency.order(a, everyDays(2, kToday)).order(b, everyDays(2, kToday));
    agency.storeroom(SmallAgency::kKit500, 3, kToday.plusDays(200));
    agency.storeroom(SmallAgency::kKit500, 4, kToday.plusDays(300));
    agency.delivery(a, SmallAgency::kKit500, 5, kToday, DeliveryStatus::Promised);
    agency.delivery(b, SmallAgency::kKit500, 4, kToday.plusDays(1), DeliveryStatus::Promised);
    const auto built = std::make_shared<const Agency>(agency.build());
    const Paper paper = pickList(*stockOf(built));
    std::vector<std::string> picked;
    for (const Paper::Section &s : paper.sections)
        if (s.table)
            for (const auto &row : s.table->rows)
                picked.push_back(row[3]);
    // 5 = 3 of the first lot + 2 of the second; 4 = the 2 left + 2 missing.
    EXPECT_EQ(picked, (std::vector<std::string>{"3", "2", "2", "2"}));
    EXPECT_NE(textOf(paper).find("MISSING"), std::string::npos);
}

} // namespace
} // namespace kitround::desk
