// The coordinator's Thursday, whole: plan next week, place again what a nurse's day off left over, drag a
// visit, lock it, plan again, publish, print.
#include "tests/gui/GridPointer.h"
#include "tests/gui/WindowFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Page.h"

#include <QAction>
#include <QCheckBox>
#include <QFileInfo>
#include <QLabel>
#include <QPushButton>
#include <QScrollBar>
#include <QUndoStack>

#include <algorithm>
#include <string_view>

namespace kitround::ui {
namespace {

struct Spot {
    NurseId nurse;
    Date on;
    friend bool operator==(const Spot &, const Spot &) = default;
};

class CoordinatorStory : public WindowTest {
protected:
    void SetUp() override {
        WindowTest::SetUp();
        openSample();
        planWeek();
    }
    WeekGrid &grid() { return find<WeekGrid>("weekGrid"); }
    QUndoStack &undo() { return *window_->findChild<Page *>(QStringLiteral("calendarPage"))->undoStack(); }
    int trayCount() { return static_cast<int>(grid().board().tray.size()); }
    std::optional<Spot> spotOf(std::int32_t job) {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                if (std::ranges::find(day.cards, job, &desk::VisitCard::job) != day.cards.end())
                    return Spot{row.nurse, day.on};
        return std::nullopt;
    }
    // A nurse and a day with at least three visits, none of which needs a second nurse.
    Spot fullDay() {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                if (day.cards.size() >= 3 && std::ranges::none_of(day.cards, &desk::VisitCard::needsTwo))
                    return {row.nurse, day.on};
        return {};
    }
    void saveDraft() {
        find<QPushButton>("planSave").click();
        waitComputed();
        ASSERT_TRUE(undo().isClean()) << Ask::lastSaid().toStdString();
    }
    void takeDayOff(const Spot &spot) {
        ASSERT_FALSE(session().write(QStringLiteral("Saved time off"), [&](desk::Desk &desk) {
            TimeOff off;
            off.nurse = spot.nurse;
            off.kind = TimeOffKind::Training;
            off.from = spot.on;
            off.to = spot.on.plusDays(1);
            return desk.save(off);
        }));
        waitComputed();
    }
    // The first way out, or free place, that may be taken with one click; false where there is none.
    bool takeFirstWayOut() {
        const int before = undo().index();
        for (QPushButton *step : find<QWidget>("reasonsPanel").findChildren<QPushButton *>())
            if (step->objectName().startsWith(QStringLiteral("suggestion"))) {
                QTest::mouseClick(step, Qt::LeftButton);
                return undo().index() == before + 1;
            }
        return false;
    }
    void fixTray(int wanted) {
        int fixed = 0;
        const std::vector<desk::VisitCard> tray = grid().board().tray; // as it is now
        for (const desk::VisitCard &card : tray) {
            if (fixed == wanted)
                break;
            const int before = trayCount();
            grid().setCurrentJob(card.job);
            ASSERT_TRUE(find<QWidget>("reasonsPanel").isVisible()) << "a visit in the tray says why";
            if (!takeFirstWayOut())
                continue;
            ++fixed;
            EXPECT_EQ(trayCount(), before - 1);
            EXPECT_TRUE(spotOf(card.job).has_value());
        }
        EXPECT_EQ(fixed, wanted) << "too few ways out";
    }
    // Whether this click chose a card.
    bool clickChooses(QPoint point) {
        bool hasChosen = false;
        const auto watching =
            QObject::connect(&grid(), &WeekGrid::currentChanged, [&](int) { hasChosen = true; });
        QTest::mouseClick(grid().viewport(), Qt::LeftButton, {}, point);
        QObject::disconnect(watching);
        return hasChosen;
    }
    bool isFree(std::int32_t job) {
        for (const desk::BoardRow &row : grid().board().rows)
            for (const desk::BoardDay &day : row.days)
                for (const desk::VisitCard &card : day.cards)
                    if (card.job == job)
                        return !card.isLocked && !card.needsTwo;
        return false;
    }
    // Drags cards as they come under the pointer to other days and nurses, until a drop is taken.
    std::int32_t dragOne() {
        grid().verticalScrollBar()->setValue(0);
        const int before = undo().index();
        const QSize size = grid().viewport()->size();
        for (int y = 60; y < size.height(); y += 20)
            for (int x = 200; x < size.width(); x += 60) {
                if (!clickChooses({x, y}) || !isFree(grid().currentJob()))
                    continue;
                const std::int32_t job = grid().currentJob();
                const auto from = spotOf(job);
                for (int down = 0; down <= 160; down += 40)
                    for (int to = 220; to < size.width(); to += 110) {
                        drag(grid(), {x, y}, {to, y + down});
                        if (undo().index() > before && spotOf(job) != from)
                            return job;
                    }
            }
        return -1;
    }
};

TEST_F(CoordinatorStory, ThursdayFromPlanToPaper) {
    // A nurse's training day comes in after the week was planned.
    saveDraft();
    const Spot full = fullDay();
    ASSERT_TRUE(full.nurse.isSet());
    takeDayOff(full);
    ASSERT_GE(trayCount(), 3) << "her visits wait in the tray";
    fixTray(3);

    const std::int32_t job = dragOne();
    ASSERT_GE(job, 0) << "no card could be dragged to another nurse or day";
    const auto spot = spotOf(job);
    ASSERT_TRUE(spot);
    grid().setCurrentJob(job);
    for (const char *lock : {"lockDay", "lockNurse"})
        QTest::mouseClick(&find<QCheckBox>(lock), Qt::LeftButton, {}, QPoint(8, 12));
    EXPECT_TRUE(find<QCheckBox>("lockDay").isChecked() && find<QCheckBox>("lockNurse").isChecked());

    const int open = trayCount();
    Ask::nextChoice(0); // what was moved by hand is kept
    planWeek();
    EXPECT_EQ(spotOf(job), spot) << "a lock holds when the week is planned again";
    EXPECT_LE(trayCount(), open) << find<QLabel>("planStatus").text().toStdString();
    for (const desk::BoardRow &row : grid().board().rows)
        for (const desk::BoardDay &day : row.days)
            EXPECT_TRUE((Spot{row.nurse, day.on} != full) || day.cards.empty()) << "nobody works a day off";

    Ask::nextAnswer(true); // publishing is asked once
    find<QPushButton>("planPublish").click();
    waitComputed();
    EXPECT_TRUE(undo().isClean()) << Ask::lastSaid().toStdString();
    find<QPushButton>("planPublish").click();
    EXPECT_EQ(find<QLabel>("lastChange").text(), QStringLiteral("Nothing changed since it was published."));
    EXPECT_TRUE(find<QLabel>("planStatus").text().contains(QStringLiteral("published, version")));
    const DateRange week = session().nextWeek()->week;
    const auto versions = session().desk().planVersions(week.from);
    ASSERT_TRUE(versions);
    EXPECT_EQ(std::ranges::count(*versions, PlanStatus::Published, &Plan::status), 1);
    const auto &visits = session().agency()->snapshot().visits;
    EXPECT_TRUE(std::ranges::any_of(visits, [&](const Visit &v) {
        return v.status == VisitStatus::Published && v.on == spot->on && v.nurse == spot->nurse &&
               v.dayIsLocked && v.nurseIsLocked;
    })) << "the lock is stored with the visit";

    const auto saved = [&](const char *action, const char *name) {
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(path(name));
        find<QAction>(action).trigger();
        return QFileInfo(path(name)).size();
    };
    EXPECT_GT(saved("actionPrintWeek", "week.pdf"), 3000);
    const auto sheets = [&](qint64 day, const char *name) {
        withNextForm([day](QWidget &form) {
            choose(form, "on_date", day);
            form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
        });
        return saved("actionPrintDay", name);
    };
    const qint64 oneDay = sheets(week.from.plusDays(1).dayNumber(), "day.pdf");
    EXPECT_GT(oneDay, 3000);
    EXPECT_GT(sheets(-1, "days.pdf"), oneDay) << "all days in one go";
}

// A call comes in at the end of the shift; it is somebody's, and stands on the list that is handed over.
TEST_F(WindowTest, ACallIsLoggedForSomebodyAndHandedOverOnPaper) {
    openSample();
    window_->showPage(QStringLiteral("today"));
    const auto before = session().agency()->snapshot().phoneCalls.size();
    withNextForm([&](QWidget &form) {
        type(form, "caller", QStringLiteral("a daughter"));
        auto *save = form.findChild<QPushButton *>(QStringLiteral("formSave"));
        save->click();
        EXPECT_TRUE(form.isVisible()) << "a call without an owner is lost";
        type(form, "owner", QStringLiteral("N1"));
        save->click();
        EXPECT_FALSE(form.isVisible());
        if (form.isVisible())
            leave(form);
    });
    find<QPushButton>("callLog").click();
    waitComputed();
    ASSERT_EQ(session().agency()->snapshot().phoneCalls.size(), before + 1);
    EXPECT_FALSE(session().agency()->snapshot().phoneCalls.back().closedAt.has_value());
    Ask::nextChoice(1); // save as PDF
    Ask::nextText(path("hand-over.pdf"));
    find<QAction>("actionHandOver").trigger();
    EXPECT_GT(QFileInfo(path("hand-over.pdf")).size(), 3000);
}

} // namespace
} // namespace kitround::ui
