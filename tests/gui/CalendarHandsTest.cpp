// What a person does to the plan by hand holds, is read before it is done, and never comes under a hand that
// meant something else.
#include "core/desk/views/VisitCards.h"
#include "tests/gui/GridPointer.h"
#include "tests/gui/WindowFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Page.h"

#include <QAction>
#include <QComboBox>
#include <QLabel>
#include <QPushButton>
#include <QUndoStack>

#include <algorithm>
#include <map>
#include <optional>

namespace kitround::ui {
namespace {

struct Round {
    NurseId nurse;
    Date on;
    friend bool operator==(const Round &, const Round &) = default;
};

class CalendarHands : public WindowTest {
protected:
    void SetUp() override {
        WindowTest::SetUp();
        openSample();
        planWeek();
    }
    WeekGrid &grid() { return find<WeekGrid>("weekGrid"); }
    QUndoStack &undo() { return *window_->findChild<Page *>(QStringLiteral("calendarPage"))->undoStack(); }
    std::map<std::int32_t, Round> rounds() {
        std::map<std::int32_t, Round> all;
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                for (const desk::VisitCard &card : day.cards)
                    all.emplace(card.job, Round{row.nurse, day.on});
        return all;
    }
    void saveDraft() {
        find<QPushButton>("planSave").click();
        waitComputed();
        ASSERT_TRUE(undo().isClean()) << Ask::lastSaid().toStdString();
    }
    // A visit that goes out of the plan by that key, and its order; it stays chosen.
    bool takeOneOut() {
        for (const auto &[job, round] : rounds()) {
            const int before = undo().index();
            grid().setCurrentJob(job);
            if (!find<QPushButton>("dropVisit").isEnabled())
                continue; // no order owes it
            QTest::keyClick(&grid(), Qt::Key_Delete);
            if (undo().index() > before)
                return true;
        }
        return false;
    }
    // Swaps the first two days for which that may be done; what the form said before it was pressed.
    QString swapTwo() {
        const desk::WeekBoard board = grid().board();
        const int before = undo().index();
        QString preview;
        for (std::size_t d = 0; d < 7 && undo().index() == before; ++d)
            for (std::size_t a = 0; a < board.rows.size() && undo().index() == before; ++a)
                for (std::size_t b = a + 1; b < board.rows.size() && undo().index() == before; ++b) {
                    if (board.rows[a].days[d].cards.empty() || board.rows[b].days[d].cards.empty())
                        continue;
                    withNextForm([&](QWidget &form) {
                        choose(form, "nurse_id", board.rows[a].nurse.value());
                        choose(form, "second_nurse_id", board.rows[b].nurse.value());
                        choose(form, "on_date", board.rows[a].days[d].on.dayNumber());
                        choose(form, "second_on_date", board.rows[b].days[d].on.dayNumber());
                        preview = form.findChild<QLabel *>(QStringLiteral("swap_preview"))->text();
                        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
                        if (form.isVisible())
                            leave(form);
                    });
                    find<QAction>("actionSwap").trigger();
                }
        return undo().index() > before ? preview : QString();
    }
};

TEST_F(CalendarHands, ASwapIsReadBeforeItIsMadeAndPlanningKeepsIt) {
    const std::map<std::int32_t, Round> before = rounds();
    const QString preview = swapTwo();
    ASSERT_FALSE(preview.isEmpty()) << "no two days of this plan may be swapped";
    EXPECT_TRUE(preview.contains(QStringLiteral("min driving"))) << preview.toStdString();
    EXPECT_TRUE(preview.contains(QStringLiteral("change"))) << preview.toStdString();
    std::map<std::int32_t, Round> swapped = rounds();
    std::erase_if(swapped, [&](const auto &entry) {
        const auto was = before.find(entry.first);
        return was != before.end() && was->second == entry.second;
    });
    ASSERT_FALSE(swapped.empty());
    Ask::nextChoice(0); // keep them
    planWeek();
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("moved ")) &&
                Ask::lastSaid().contains(QStringLiteral("by hand")))
        << "it is asked about them: " << Ask::lastSaid().toStdString();
    const std::map<std::int32_t, Round> after = rounds();
    for (const auto &[job, round] : swapped) {
        const auto is = after.find(job);
        EXPECT_TRUE(is != after.end() && is->second == round) << job;
    }
}

TEST_F(CalendarHands, ARefusedSwapIsNotHeldAgainstTheNextOne) {
    withNextForm([&](QWidget &form) {
        auto *second = form.findChild<QComboBox *>(QStringLiteral("second_nurse_id"));
        const auto *first = form.findChild<QComboBox *>(QStringLiteral("nurse_id"));
        const auto *problem = form.findChild<QLabel *>(QStringLiteral("formProblem"));
        const int other = second->currentIndex();
        choose(form, "second_on_date",
               form.findChild<QComboBox *>(QStringLiteral("on_date"))->currentData().toLongLong());
        choose(form, "second_nurse_id", first->currentData().toLongLong());
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
        EXPECT_TRUE(problem->isVisible());
        second->setCurrentIndex(other);
        EXPECT_FALSE(problem->isVisible()) << "it was about what was asked then";
        leave(form);
    });
    find<QAction>("actionSwap").trigger();
}

TEST_F(CalendarHands, TheStepsOfThePanelStayWhereTheyAre) {
    auto &takeOut = find<QPushButton>("takeOut");
    const auto &drop = find<QPushButton>("dropVisit");
    const auto high = [this](const QPushButton &button) {
        QTest::qWait(20); // the layouts have come to rest
        return button.mapTo(window_.get(), QPoint()).y();
    };
    grid().setCurrentJob(rounds().begin()->first);
    const int removal = high(takeOut), calledOff = high(drop);
    ASSERT_TRUE(takeOneOut());
    EXPECT_FALSE(takeOut.isEnabled());
    EXPECT_EQ(high(takeOut), removal);
    auto &foot = find<QLabel>("lastChange");
    for (const QString &said : {QString(), QStringLiteral("a long reason why it is so ").repeated(20)}) {
        foot.setText(said);
        EXPECT_EQ(high(takeOut), removal) << "whatever is said at the foot";
        EXPECT_EQ(high(drop), calledOff);
    }
}

TEST_F(CalendarHands, AVisitWithoutAPlaceIsRecordedAsMissedFromTheTray) {
    saveDraft();
    ASSERT_TRUE(takeOneOut()) << "no visit could be taken out";
    saveDraft();
    const std::int32_t job = grid().currentJob();
    ASSERT_GE(job, 0);
    const Visit visit = session().nextWeek()->due[static_cast<std::size_t>(job)].visit;
    ASSERT_TRUE(visit.id.isSet() && !visit.on);
    const std::size_t open = grid().board().tray.size();
    auto &close = find<QPushButton>("closeVisit");
    ASSERT_TRUE(close.isEnabled()) << "else the only way out claims that the prescriber agreed";
    withNextForm([&](QWidget &form) {
        choose(form, "status", static_cast<qint64>(VisitStatus::Missed));
        choose(form, "miss_reason", static_cast<qint64>(MissReason::NurseAway));
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
        EXPECT_FALSE(form.isVisible());
        if (form.isVisible())
            leave(form);
    });
    close.click();
    waitComputed();
    const Visit *stored = session().agency()->index().visit(visit.id);
    ASSERT_NE(stored, nullptr);
    EXPECT_EQ(stored->status, VisitStatus::Missed);
    EXPECT_EQ(grid().board().tray.size(), open - 1) << "it is not asked for again";
}

} // namespace
} // namespace kitround::ui
