// The review's own notes in the window: what was decided, how each sign went, who goes with whom; and the
// what-if on a small screen, left in the middle of its work.
#include "core/desk/views/DecisionNotes.h"
#include "core/desk/views/QualityView.h"
#include "tests/gui/PageStory.h"
#include "ui/load/DecisionsTab.h"
#include "ui/load/LeaveDialog.h"
#include "ui/load/LoadBars.h"
#include "ui/load/LoadPage.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RowsModel.h"

#include <QApplication>
#include <QComboBox>
#include <QElapsedTimer>
#include <QLabel>
#include <QPlainTextEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QScrollBar>
#include <QTabWidget>

#include <algorithm>

namespace kitround::ui {
namespace {

class ReviewStory : public PageStory {
protected:
    ReviewStory() {
        page_ = std::make_unique<LoadPage>(session_);
        page_->resize(1100, 680);
        page_->setVisible(true);
        openSample();
        workAs(UserRole::NurseManager);
    }
    ~ReviewStory() override { page_.reset(); }

    template <class Widget>
    Widget &find(const char *name) {
        return in<Widget>(*page_, name);
    }
    static void choose(QWidget &form, const char *name, qint64 value) {
        auto &box = in<QComboBox>(form, name);
        box.setCurrentIndex(box.findData(value));
    }
    QString tabOf(const char *group, const QString &begin) {
        const auto &tabs = find<QTabWidget>(group);
        for (int i = 0; i < tabs.count(); ++i)
            if (tabs.tabText(i).startsWith(begin))
                return tabs.tabText(i);
        return {};
    }

    std::unique_ptr<LoadPage> page_;
};

TEST_F(ReviewStory, ADecisionIsNotedWithItsWeekAndClosedWithWhatCameOfIt) {
    auto &table = find<DenseTable>("decisionTable");
    ASSERT_EQ(table.model()->rowCount(), 2) << "what a former week left open, and what is for this one";
    EXPECT_EQ(table.model()->index(0, 0).data().toString(), QStringLiteral("open for 1 week"));
    EXPECT_EQ(tabOf("loadGroup", QStringLiteral("Decisions")), QStringLiteral("Decisions (2)"));
    find<QComboBox>("decisionWhich").setCurrentIndex(1);
    EXPECT_EQ(table.model()->rowCount(), 3) << "what is closed is still there";
    find<QComboBox>("decisionWhich").setCurrentIndex(0);

    withNextDialog([&](QWidget &form) {
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "what it is and what was decided are asked for";
        choose(form, "kind", qint64(DecisionKind::Hire));
        in<QPlainTextEdit>(form, "text").setPlainText(QStringLiteral("A nurse for the rural rounds"));
        in<QPushButton>(form, "formSave").click();
    });
    find<QPushButton>("decisionAdd").click();
    ASSERT_TRUE(settled());
    const auto note = [&] {
        const auto &all = session_.agency()->snapshot().decisionNotes;
        return *std::ranges::max_element(all, {}, &DecisionNote::id);
    };
    EXPECT_EQ(note().kind, DecisionKind::Hire);
    EXPECT_EQ(note().by, session_.desk().user());
    EXPECT_EQ(note().weekStart, session_.nextWeek()->week.from) << "the week the page looks at";
    EXPECT_EQ(find<QLabel>("decisionFacts").text(), QStringLiteral("A nurse for the rural rounds"))
        << "the new one is chosen";
    EXPECT_EQ(tabOf("loadGroup", QStringLiteral("Decisions")), QStringLiteral("Decisions (3)"));
    picture(*page_, "decisions");

    withNextDialog([&](QWidget &form) {
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "without an outcome nothing is closed";
        in<QPlainTextEdit>(form, "outcome").setPlainText(QStringLiteral("Starts in January"));
        in<QPushButton>(form, "formSave").click();
    });
    find<QPushButton>("decisionClose").click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(note().closedOn, session_.today());
    EXPECT_EQ(table.model()->rowCount(), 3) << "of this week, so it stays in sight";
    EXPECT_FALSE(find<QPushButton>("decisionChange").isEnabled());
    EXPECT_TRUE(find<QLabel>("decisionFacts").text().contains(QStringLiteral("Starts in January")));
    Ask::nextAnswer(true);
    find<QPushButton>("decisionClose").click();
    ASSERT_TRUE(settled());
    EXPECT_FALSE(note().closedOn.has_value()) << "open again";

    DecisionsTab none(session_);
    EXPECT_FALSE(in<QLabel>(none, "decisionNothing").isHidden());
    EXPECT_TRUE(in<QLabel>(none, "decisionNothing").text().contains(QStringLiteral("Note a decision")));
    EXPECT_TRUE(in<DenseTable>(none, "decisionTable").isHidden());
}

TEST_F(ReviewStory, EachSignTellsItsLastPeriodsAndWhoGoesWithWhomIsListed) {
    auto &trend = find<DenseTable>("qualityTrend");
    ASSERT_TRUE(waitFor([&] { return trend.model() && trend.model()->rowCount() > 0; }));
    EXPECT_EQ(trend.model()->rowCount(), int(caseload::kQualityMeasures));
    EXPECT_EQ(trend.model()->columnCount(), 2 + int(desk::kTrendPeriods));
    EXPECT_EQ(trend.model()->index(0, 1).data().toString().size(), qsizetype(desk::kTrendPeriods));
    EXPECT_TRUE(trend.model()->index(0, 2).data().toString().contains(QStringLiteral(" of ")));
    const auto &joint = *find<DenseTable>("jointTable").model();
    ASSERT_GT(joint.rowCount(), 0);
    EXPECT_EQ(joint.rowCount(), int(desk::jointVisits(*session_.agency()).size()));
    const auto &seen = *find<DenseTable>("continuityTable").model();
    ASSERT_GT(seen.rowCount(), 0);
    EXPECT_FALSE(seen.index(0, 5).data().toString().isEmpty()) << "the nurses are named";
}

TEST_F(ReviewStory, TheWhatIfFitsASmallScreenWithAllItsColumns) {
    withNextDialog([&](QWidget &dialog) {
        EXPECT_LE(dialog.width(), 1280);
        EXPECT_LE(dialog.height(), 690) << "with its title bar within 720";
        in<QPushButton>(dialog, "whatIfRun").click();
        EXPECT_FALSE(in<QComboBox>(dialog, "whatIfNurse").isEnabled())
            << "the answer to come stands beside its own question";
        ASSERT_TRUE(waitFor([&] { return in<QPushButton>(dialog, "whatIfKeep").isEnabled(); }));
        EXPECT_TRUE(in<QComboBox>(dialog, "whatIfNurse").isEnabled());
        for (const char *name : {"whatIfTable", "whatIfNurses"}) {
            auto &table = in<DenseTable>(dialog, name);
            EXPECT_EQ(table.horizontalScrollBar()->maximum(), 0) << name;
            EXPECT_GE(table.viewport()->height(), 12 * Look::kHit) << name;
        }
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::Setting));
        in<QPushButton>(dialog, "whatIfRun").click();
        EXPECT_TRUE(waitFor([&] {
            return in<QLabel>(dialog, "whatIfSummary")
                .text()
                .startsWith(QStringLiteral("That is the value now"));
        }));
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::Shift));
        EXPECT_FALSE(
            in<QLabel>(dialog, "whatIfSummary").text().startsWith(QStringLiteral("That is the value now")))
            << "another question is asked";
        picture(dialog, "whatif");
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
}

TEST_F(ReviewStory, AWhatIfLeftInTheMiddleOfItsWorkKeepsNobodyWaiting) {
    const auto begin = [](QWidget &dialog) {
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::Referrals));
        in<QPushButton>(dialog, "whatIfRun").click();
        EXPECT_TRUE(in<QProgressBar>(dialog, "whatIfProgress").isVisible());
    };
    QElapsedTimer since;
    withNextDialog([&](QWidget &dialog) {
        begin(dialog);
        since.start();
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
    EXPECT_LT(since.elapsed(), 5000) << "the search is asked to stop, and does";
    EXPECT_TRUE(session_.agency()->snapshot().keptWhatIfs.empty());

    withNextDialog([&](QWidget &dialog) {
        begin(dialog);
        session_.close();
        EXPECT_FALSE(dialog.isVisible()) << "it is about a file that is not open any more";
    });
    find<QPushButton>("loadWhatIf").click();
    EXPECT_FALSE(session_.isOpen());
}

TEST_F(ReviewStory, LeaveThatIsGoneMeanwhileIsSaidAndTheDialogClosed) {
    LeaveDialog dialog(session_, TimeOffId(99'999));
    dialog.setVisible(true);
    in<QPushButton>(dialog, "leaveClose").click();
    EXPECT_FALSE(dialog.isVisible());
}

TEST(LoadBarsTest, NursesWithoutABarAreCounted) {
    LoadBars bars;
    bars.setRows(std::vector<NurseLoadRow>(12), 0.9, 1.0);
    const int full = bars.sizeHint().height();
    EXPECT_TRUE(bars.leftOut().isEmpty());
    bars.setRows(std::vector<NurseLoadRow>(15), 0.9, 1.0);
    EXPECT_EQ(bars.leftOut(), QStringLiteral("and 3 more in the table below"));
    EXPECT_GT(bars.sizeHint().height(), full) << "with room to say so";
    bars.resize(bars.sizeHint());
    EXPECT_FALSE(bars.grab().isNull());
}

TEST(LoadBarsTest, OnALowPageTheTableKeepsItsShare) {
    LoadBars bars;
    bars.setRows(std::vector<NurseLoadRow>(223), 0.9, 1.0);
    const int tall = bars.sizeHint().height();
    bars.setMostHeight(tall / 2);
    EXPECT_LE(bars.sizeHint().height(), tall / 2);
    EXPECT_FALSE(bars.leftOut().isEmpty()) << "who has no bar is counted";
}

TEST_F(ReviewStory, TheWeekIsChosenInOrderAndNothingMovesForIt) {
    auto &week = find<QComboBox>("loadWeek");
    EXPECT_TRUE(week.itemText(0).startsWith(QStringLiteral("This week")));
    EXPECT_TRUE(week.itemText(1).startsWith(QStringLiteral("Next week")));
    EXPECT_EQ(week.currentIndex(), 1);
    const QRect box = week.geometry();
    const int tabs = find<QTabWidget>("loadTabs").y();
    week.setCurrentIndex(0);
    QApplication::processEvents();
    EXPECT_EQ(week.geometry(), box);
    EXPECT_EQ(find<QTabWidget>("loadTabs").y(), tabs);
}

TEST_F(ReviewStory, TheVisitsThatAreOnlyCountedAboveAreReachedByAButton) {
    auto &left = find<DenseTable>("weekLeftTable");
    ASSERT_GT(left.model()->rowCount(), 0) << "next week is not planned yet";
    EXPECT_TRUE(find<QPushButton>("loadShowLeft").isVisible());
    find<QPushButton>("loadShowLeft").click();
    EXPECT_TRUE(left.isVisible());
    qint64 shown = 0;
    QObject::connect(page_.get(), &LoadPage::showPatient, page_.get(), [&](qint64 id) { shown = id; });
    left.selectSourceRow(0);
    QTest::keyClick(&left, Qt::Key_Return);
    EXPECT_GT(shown, 0);
}

TEST_F(ReviewStory, ATurnOnCallLeadsToTheNurseWhoHasIt) {
    auto &turns = find<DenseTable>("onCallTable");
    ASSERT_TRUE(waitFor([&] { return turns.model() && turns.model()->rowCount() > 0; }));
    qint64 shown = 0;
    QObject::connect(page_.get(), &LoadPage::showNurse, page_.get(), [&](qint64 id) { shown = id; });
    turns.selectSourceRow(0);
    ASSERT_TRUE(find<QPushButton>("onCallNurse").isEnabled());
    find<QPushButton>("onCallNurse").click();
    const auto duties = desk::onCallReview(*session_.agency()).duties;
    ASSERT_FALSE(duties.empty());
    EXPECT_EQ(shown, duties.front().nurse.value());
}

TEST(ChosenRowTest, TheColourOfAStateIsToldInTheChosenRowToo) {
    RowsModel<QString> rows({{.head = QStringLiteral("State"),
                              .text = [](const QString &text) { return text; },
                              .ink = [](const QString &) { return std::optional(Role::Act); }}});
    rows.setRows({QStringLiteral("MMMMMMMM")});
    DenseTable table(QStringLiteral("chosen"), QStringLiteral("Chosen"));
    table.setModel(new RowsProxy(&rows, &table));
    table.resize(300, 100);
    table.setVisible(true);
    table.fitColumns(0);
    table.selectSourceRow(0);
    const QImage image = table.viewport()->grab().toImage();
    int reddest = 0; // ink, ground and what lies between have none
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x)
            reddest = std::max(reddest, image.pixelColor(x, y).red() - image.pixelColor(x, y).green());
    EXPECT_GT(reddest, 60);
}

} // namespace
} // namespace kitround::ui
