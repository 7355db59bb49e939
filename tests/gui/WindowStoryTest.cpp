// What the three users do, done in the real window: by keys, mouse and the names a screen reader says.
#include "core/desk/Desk.h"
#include "core/desk/views/Attention.h"
#include "tests/gui/GridPointer.h"
#include "tests/gui/WindowFixture.h"
#include "tests/gui/support/AttentionLines.h"
#include "ui/people/PatientsPage.h"
#include "ui/setup/NewAgency.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"

#include <QAbstractItemModelTester>
#include <QAction>
#include <QCheckBox>
#include <QComboBox>
#include <QFileInfo>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QScrollBar>
#include <QStackedWidget>
#include <QTabWidget>
#include <QToolButton>
#include <QUndoStack>
#include <QWizard>

#include <algorithm>

namespace kitround::ui {
namespace {

PatientId patientNamed(const desk::Agency &agency, const char *code) {
    for (const Patient &p : agency.snapshot().patients)
        if (p.code == code)
            return p.id;
    return {};
}

std::int32_t firstPlaced(const desk::WeekPicture &week) {
    for (std::size_t j = 0; j < week.plan.placements.size(); ++j)
        if (week.plan.placements[j].isPlaced())
            return static_cast<std::int32_t>(j);
    return -1;
}

class WindowStory : public WindowTest {
protected:
    WeekGrid &grid() { return find<WeekGrid>("weekGrid"); }
    int trayCount() { return static_cast<int>(grid().board().tray.size()); }
    void showLog() {
        auto &tabs = find<QTabWidget>("patientTabs");
        for (int i = 0; i < tabs.count(); ++i)
            if (tabs.tabText(i).contains(QStringLiteral("log")))
                tabs.setCurrentIndex(i);
        EXPECT_TRUE(find<QPushButton>("logDrain").isEnabled());
    }
    QUndoStack &undo() {
        auto *page = window_->findChild<Page *>(QStringLiteral("calendarPage"));
        return *page->undoStack();
    }
};

TEST_F(WindowStory, TheFirstStartOffersAFileANewAgencyAndTheSample) {
    for (const char *name : {"startOpen", "startNew", "startSample"})
        EXPECT_TRUE(find<QPushButton>(name).isVisible()) << name;
    Ask::nextText(path("made.kitround"));
    find<QPushButton>("startSample").click();
    waitComputed();
    EXPECT_TRUE(QFileInfo::exists(path("made.kitround")));
    EXPECT_TRUE(find<QLabel>("fileMark").text().contains(QStringLiteral("Invented data")));
}

TEST_F(WindowStory, ANewAgencyIsSetUpInFourPages) {
    withNextForm([&](QWidget &form) {
        auto *wizard = qobject_cast<QWizard *>(&form);
        ASSERT_NE(wizard, nullptr);
        type(form, "agency_name", QStringLiteral("Fern Hill Home Care (invented)"));
        type(form, "user_name", QStringLiteral("Coordinator"));
        wizard->next();
        wizard->next();
        type(form, "nurse_family", QStringLiteral("Marlow"));
        type(form, "nurse_given", QStringLiteral("Ines"));
        choose(form, "nurse_credential", static_cast<qint64>(Credential::RegisteredNurse));
        type(form, "nurse_hours", QStringLiteral("36"));
        type(form, "kit_connector", QStringLiteral("C1"));
        wizard->next();
        auto *finish = wizard->button(QWizard::FinishButton);
        EXPECT_TRUE(finish->isEnabled()) << "the proposed name will do";
        type(form, "file", QString());
        finish->click();
        EXPECT_TRUE(form.isVisible()) << "a file needs a name";
        type(form, "file", path("new.kitround"));
        wizard->back();
        wizard->next();
        EXPECT_EQ(form.findChild<QLineEdit *>(QStringLiteral("file"))->text(), path("new.kitround"))
            << "back keeps it";
        wizard->button(QWizard::FinishButton)->click();
    });
    find<QPushButton>("startNew").click();
    waitComputed();
    EXPECT_EQ(session().agency()->settings().agencyName, "Fern Hill Home Care (invented)");
    ASSERT_EQ(session().agency()->snapshot().nurses.size(), 1U);
    EXPECT_EQ(session().agency()->snapshot().items.size(), 2U);
    // An empty agency teaches the next step instead of showing an empty table.
    window_->showPage(QStringLiteral("patients"));
    EXPECT_NE(window_->findChild<QPushButton *>(QStringLiteral("patientNew")), nullptr);
    int taught = 0;
    for (const char *page : {"stock", "reorders", "load", "patients"}) {
        window_->showPage(QString::fromLatin1(page));
        QTest::qWait(20);
        for (const QLabel *text : window_->findChildren<QLabel *>(QStringLiteral("emptyText")))
            if (text->isVisible()) {
                ++taught;
                EXPECT_GE(text->height(), text->heightForWidth(text->width())) << page << ": the text is cut";
            }
    }
    EXPECT_GE(taught, 2);
    window_->showPage(QStringLiteral("stock"));
    EXPECT_TRUE(find<QLabel>("homesTableInstead").text().contains(QStringLiteral("First come the patients")));
    EXPECT_TRUE(find<QPushButton>("homesCount").isHidden()) << "there is nothing to count yet";
    window_->showPage(QStringLiteral("catalogue"));
    EXPECT_TRUE(find<QLabel>("itemTableHead").isHidden()) << "it has two items";
    EXPECT_TRUE(find<QLabel>("lotTableHead").text().contains(QStringLiteral("No lots yet")));
    EXPECT_FALSE(find<QLabel>("lotTableHead").isHidden());
}

TEST_F(WindowStory, EveryWorkplaceIsReachedByItsKey) {
    openSample();
    auto &places = find<QListWidget>("workplaces");
    ASSERT_EQ(places.count(), 9);
    for (int i = 0; i < places.count(); ++i) {
        QTest::keyClick(window_.get(), Qt::Key(Qt::Key_1 + i), Qt::ControlModifier);
        EXPECT_EQ(places.currentRow(), i);
    }
}

TEST_F(WindowStory, APagesKeysWorkWithTheFocusInTheListAndOfThePageShownOnly) {
    openSample();
    auto &places = find<QListWidget>("workplaces");
    const auto open = [&](const char *name) {
        for (int i = 0; i < places.count(); ++i)
            if (places.item(i)->data(Qt::UserRole).toString() == QLatin1String(name))
                places.setCurrentRow(i);
        places.setFocus(Qt::TabFocusReason);
    };
    auto &mine = find<QCheckBox>("attentionMine");
    open("today");
    ASSERT_TRUE(places.hasFocus());
    const bool was = mine.isChecked();
    QTest::keyClick(&places, Qt::Key_M, Qt::ControlModifier);
    EXPECT_EQ(mine.isChecked(), !was);
    open("settings");
    QTest::keyClick(&places, Qt::Key_M, Qt::ControlModifier);
    EXPECT_EQ(mine.isChecked(), !was) << "Today is not shown";
    open("today");
    QTest::keyClick(&places, Qt::Key_M, Qt::ControlModifier); // it is remembered
    EXPECT_EQ(mine.isChecked(), was);
}

TEST_F(WindowStory, TheCoordinatorPlansMovesUndoesAndPublishesTheWeek) {
    openSample();
    planWeek();
    EXPECT_EQ(trayCount(), 0) << "the sample week can be placed whole";
    EXPECT_EQ(undo().count(), 1);
    auto &status = find<QLabel>("planStatus");
    EXPECT_TRUE(waitFor([&] { return status.text().contains(QStringLiteral("of the best possible")); }))
        << "how far from the best at most: " << status.text().toStdString();

    // By keyboard: choose a card that may move, and move it until a move is taken.
    auto &grid = this->grid();
    const QString before = find<QLabel>("planStatus").text();
    bool moved = false;
    for (const desk::BoardRow &row : desk::WeekBoard(grid.board()).rows) {
        for (const desk::BoardDay &day : row.days) {
            for (const desk::VisitCard &card : day.cards) {
                grid.setCurrentJob(card.job);
                for (const Qt::Key key : {Qt::Key_Down, Qt::Key_Up, Qt::Key_Right, Qt::Key_Left}) {
                    QTest::keyClick(&grid, key, Qt::AltModifier);
                    moved = undo().count() == 2;
                    if (moved)
                        break;
                }
                if (moved)
                    break;
            }
            if (moved)
                break;
        }
        if (moved)
            break;
    }
    ASSERT_TRUE(moved) << "no visit of the week could be moved by one nurse or day";
    EXPECT_NE(find<QLabel>("planStatus").text(), before);
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(undo().index(), 1);
    EXPECT_EQ(find<QLabel>("planStatus").text(), before) << "undo gives the week back as it was";

    Ask::nextAnswer(true); // publishing is asked once
    find<QPushButton>("planPublish").click();
    waitComputed();
    const auto versions = session().desk().planVersions(session().nextWeek()->week.from);
    ASSERT_TRUE(versions);
    EXPECT_EQ(std::ranges::count(*versions, PlanStatus::Published, &Plan::status), 1);
    EXPECT_TRUE(undo().isClean());
    const auto published = std::ranges::count_if(session().agency()->snapshot().visits, [&](const Visit &v) {
        return v.status == VisitStatus::Published && v.on && session().nextWeek()->week.contains(*v.on);
    });
    EXPECT_GT(published, 80);
}

TEST_F(WindowStory, PlanningCanBeStoppedAndKeepsTheBest) {
    openSample();
    window_->showPage(QStringLiteral("calendar"));
    find<QPushButton>("planWeek").click();
    auto &stop = find<QPushButton>("planStop");
    ASSERT_TRUE(waitFor([&] { return stop.isVisible(); }));
    stop.click();
    ASSERT_TRUE(waitFor([&] { return !stop.isVisible(); }, 5000)) << "stopping takes too long";
    EXPECT_EQ(undo().count(), 1);
    EXPECT_LT(trayCount(), 30) << "what was found so far is kept";
}

TEST_F(WindowStory, ACardIsDraggedToTheTrayAndBackByUndo) {
    openSample();
    planWeek();
    auto &grid = this->grid();
    grid.verticalScrollBar()->setValue(0);
    std::optional<QPoint> from;
    std::int32_t job = -1;
    const desk::WeekBoard board = grid.board(); // a copy: choosing a card may arrange the grid anew
    for (const desk::VisitCard &card : board.rows[1].days[1].cards)
        if (!card.isLocked && (from = pointOf(grid, card.job))) {
            job = card.job;
            break;
        }
    ASSERT_TRUE(from) << "no card found under the pointer";
    QWidget *view = grid.viewport();
    QTest::mousePress(view, Qt::LeftButton, {}, *from);
    QTest::mouseMove(view, *from + QPoint(12, 12));
    QTest::mouseMove(view, QPoint(20, 60)); // over the names: no day there
    QTest::mouseRelease(view, Qt::LeftButton, {}, QPoint(20, 60));
    EXPECT_EQ(undo().count(), 1) << "dropped where there is no day, nothing moves";
    grid.setCurrentJob(job);
    QTest::keyClick(&grid, Qt::Key_Delete);
    EXPECT_EQ(trayCount(), 1);
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(trayCount(), 0);
}

TEST_F(WindowStory, AMoveToANurseOnLeaveIsRefusedInWords) {
    openSample();
    planWeek();
    const desk::WeekBoard board = grid().board();
    const auto away = std::ranges::find_if(board.rows, [](const desk::BoardRow &r) {
        return std::ranges::none_of(r.days, &desk::BoardDay::hasDuty);
    });
    ASSERT_NE(away, board.rows.end()) << "the sample has a nurse on leave";
    const std::int32_t job = firstPlaced(*session().nextWeek());
    Q_EMIT grid().moveAsked(job < 0 ? 0 : job, away->nurse.value(), away->days[1].on.dayNumber(), -1);
    EXPECT_EQ(undo().count(), 1);
    EXPECT_TRUE(find<QLabel>("lastChange").text().contains(QStringLiteral("away")))
        << find<QLabel>("lastChange").text().toStdString();
}

TEST_F(WindowStory, ADrainOverTheMaximumIsStoredAndRaisesACall) {
    openSample();
    window_->showPage(QStringLiteral("patients"));
    auto *patients = window_->findChild<PatientsPage *>(QStringLiteral("patientsPage"));
    ASSERT_NE(patients, nullptr);
    const PatientId who = patientNamed(*session().agency(), "Q-103");
    ASSERT_TRUE(who.isSet());
    patients->selectPatient(who);
    showLog();
    const auto before = session().agency()->snapshot().drainEntries.size();
    withNextForm([&](QWidget &form) {
        type(form, "at_time", QStringLiteral("06:10"));
        type(form, "volume_ml", QStringLiteral("1450"));
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
        EXPECT_FALSE(form.isVisible()) << "not saved";
        if (form.isVisible())
            leave(form);
    });
    find<QPushButton>("logDrain").click();
    waitComputed();
    EXPECT_EQ(session().lastWritten(), QStringLiteral("Logged a drain")) << Ask::lastSaid().toStdString();
    EXPECT_EQ(session().agency()->snapshot().drainEntries.size(), before + 1);
    EXPECT_TRUE(find<QLabel>("callBox").text().contains(QStringLiteral("1450")) ||
                find<QLabel>("callBox").text().contains(QStringLiteral("1,450")))
        << find<QLabel>("callBox").text().toStdString();
    const auto raised =
        std::ranges::count_if(session().agency()->snapshot().callItems, [&](const CallItem &c) {
            return c.patient == who && c.kind == CautionKind::OverPrescribedMaximum &&
                   c.status == CallItemStatus::Open;
        });
    EXPECT_EQ(raised, 1);
}

TEST_F(WindowStory, AWrongDateAndAnImpossibleVolumeAreToldAtTheirFieldsAndNothingIsStored) {
    openSample();
    window_->showPage(QStringLiteral("patients"));
    auto *patients = window_->findChild<PatientsPage *>(QStringLiteral("patientsPage"));
    patients->selectPatient(patientNamed(*session().agency(), "Q-103"));
    showLog();
    const auto before = session().agency()->snapshot().drainEntries.size();
    withNextForm([&](QWidget &form) {
        auto *save = form.findChild<QPushButton *>(QStringLiteral("formSave"));
        type(form, "at_edit", QStringLiteral("2026-13-40"));
        save->click();
        EXPECT_TRUE(form.isVisible());
        auto *dateFault = form.findChild<QLabel *>(QStringLiteral("at_fault"));
        EXPECT_TRUE(dateFault && dateFault->isVisible());
        type(form, "at_edit", QStringLiteral("today"));
        type(form, "volume_ml", QStringLiteral("20000"));
        save->click();
        EXPECT_TRUE(form.isVisible());
        auto *volumeFault = form.findChild<QLabel *>(QStringLiteral("volume_ml_fault"));
        EXPECT_TRUE(volumeFault && volumeFault->isVisible());
        leave(form);
    });
    find<QPushButton>("logDrain").click();
    session().refresh();
    waitComputed();
    EXPECT_EQ(session().agency()->snapshot().drainEntries.size(), before);
}

TEST_F(WindowStory, TheClerkTurnsTheReorderListIntoPurchaseOrders) {
    openSample();
    window_->showPage(QStringLiteral("reorders"));
    const auto before = session().agency()->snapshot().purchaseOrders.size();
    const auto suppliers =
        std::ranges::count_if(session().stock()->reorders, [](const auto &r) { return r.supplier.isSet(); });
    ASSERT_GT(suppliers, 0);
    find<QPushButton>("reorderMain").click();
    waitComputed();
    EXPECT_EQ(session().agency()->snapshot().purchaseOrders.size(),
              before + static_cast<std::size_t>(suppliers));
}

TEST_F(WindowStory, ACountMakesTheLedgerEqualToIt) {
    openSample();
    window_->showPage(QStringLiteral("stock"));
    auto &homes = find<DenseTable>("homesTable");
    homes.selectSourceRow(0);
    withNextForm([&](QWidget &form) {
        type(form, "counted", QStringLiteral("9"));
        form.findChild<QPushButton *>(QStringLiteral("formSave"))->click();
        if (form.isVisible()) {
            ADD_FAILURE() << "the count was not saved";
            leave(form);
        }
    });
    const auto counts = session().agency()->snapshot().homeCounts.size();
    find<QPushButton>("homesCount").click();
    waitComputed();
    const auto &after = session().agency()->snapshot().homeCounts;
    ASSERT_EQ(after.size(), counts + 1);
    const HomeCount &count = *std::ranges::max_element(after, {}, &HomeCount::id);
    EXPECT_EQ(session().agency()->index().balance(Place::home(count.catheter), count.item), Eaches::of(9));
}

TEST_F(WindowStory, ACallIsClosedWithWhatWasSaid) {
    openSample();
    window_->showPage(QStringLiteral("today"));
    auto &table = find<DenseTable>("attentionTable");
    const int before = table.model()->rowCount();
    ASSERT_GT(before, 10);
    table.selectSourceRow(0);
    ASSERT_TRUE(find<QPushButton>("attentionClose").isVisible());
    Ask::nextText(QStringLiteral("Prescriber told at 12:00; no change."));
    find<QPushButton>("attentionClose").click();
    waitComputed();
    const int after = table.model()->rowCount();
    EXPECT_LT(after, before);
    chooseKind(table, desk::AttentionKind::CallAbout);
    Ask::nextText(QStringLiteral("Told the nurse on call."));
    auto &settle = find<QAction>("actionSettleCall");
    EXPECT_EQ(settle.shortcut(), QKeySequence(Qt::CTRL | Qt::Key_Return));
    settle.trigger();
    waitComputed();
    EXPECT_LT(table.model()->rowCount(), after);
}

TEST_F(WindowStory, TheDowntimePackIsSavedInOneStep) {
    openSample();
    Ask::nextChoice(1); // save as PDF
    Ask::nextText(path("pack.pdf"));
    window_->findChild<QAction *>(QStringLiteral("actionDowntime"))->trigger();
    QFile file(path("pack.pdf"));
    ASSERT_TRUE(file.open(QIODevice::ReadOnly)) << Ask::lastSaid().toStdString();
    EXPECT_TRUE(file.read(5) == "%PDF-");
    EXPECT_GT(file.size(), 10000);
}

TEST_F(WindowStory, EveryModelKeepsItsContractAcrossAReload) {
    openSample();
    std::vector<std::unique_ptr<QAbstractItemModelTester>> testers;
    for (DenseTable *table : window_->findChildren<DenseTable *>())
        if (table->model())
            testers.push_back(std::make_unique<QAbstractItemModelTester>(
                table->model(), QAbstractItemModelTester::FailureReportingMode::Fatal));
    ASSERT_GT(testers.size(), 8U);
    for (const char *page :
         {"today", "stock", "reorders", "load", "patients", "nurses", "catalogue", "settings"})
        window_->showPage(QString::fromLatin1(page));
    session().refresh();
    waitComputed();
    for (DenseTable *table : window_->findChildren<DenseTable *>())
        if (table->model() && table->model()->columnCount() > 0)
            table->sortByColumn(0, Qt::DescendingOrder);
}

TEST_F(WindowStory, WhateverIsWorkedHasANameForAScreenReader) {
    openSample();
    for (const char *page :
         {"today", "calendar", "stock", "reorders", "load", "patients", "nurses", "catalogue", "settings"}) {
        window_->showPage(QString::fromLatin1(page));
        QTest::qWait(10);
        for (QWidget *widget : window_->findChildren<QWidget *>()) {
            if (!widget->isVisible() || widget->focusPolicy() == Qt::NoFocus)
                continue;
            const auto *button = qobject_cast<QAbstractButton *>(widget);
            const auto *combo = qobject_cast<QComboBox *>(widget);
            const auto *edit = qobject_cast<QLineEdit *>(widget);
            const auto named = [&] { return !widget->accessibleName().isEmpty(); };
            const bool isNamed = button ? named() || !button->text().isEmpty()
                                 : combo || (edit && !qobject_cast<QComboBox *>(edit->parentWidget()))
                                     ? named()
                                     : true;
            EXPECT_TRUE(isNamed) << page << " " << widget->metaObject()->className() << " "
                                 << widget->objectName().toStdString();
        }
    }
}

TEST_F(WindowStory, ARefillCallUnderTodayOpensItsForm) {
    openSample();
    window_->showPage(QStringLiteral("today"));
    auto &lines = find<DenseTable>("attentionTable");
    ASSERT_TRUE(waitFor([&] { return rowOfKind(lines, desk::AttentionKind::RefillCall) >= 0; }));
    chooseKind(lines, desk::AttentionKind::RefillCall);
    find<QPushButton>("attentionEach").click(); // there are many: one of them
    withNextForm([](QWidget &form) {
        EXPECT_TRUE(form.windowTitle().startsWith(QStringLiteral("Refill call: ")))
            << form.windowTitle().toStdString();
        const auto *answer = form.findChild<QComboBox *>(QStringLiteral("answer"));
        EXPECT_TRUE(answer && answer->currentIndex() < 0) << "nobody's answer is chosen beforehand";
        leave(form);
    });
    find<QPushButton>("attentionOpen").click();
    EXPECT_TRUE(find<QWidget>("refillTable").isVisible());
}

TEST_F(WindowStory, UndoSaysOffTheCalendarWhyThereIsNone) {
    openSample();
    auto &undoes = find<QAction>("actionUndo"), &saysWhy = find<QAction>("actionNoUndo");
    EXPECT_FALSE(undoes.isVisible());
    ASSERT_TRUE(saysWhy.isVisible() && saysWhy.isEnabled());
    QTest::keyClick(window_.get(), Qt::Key_Z, Qt::ControlModifier);
    EXPECT_TRUE(
        find<QLabel>("lastChange").text().contains(QStringLiteral("records are corrected, not undone")))
        << find<QLabel>("lastChange").text().toStdString();
    window_->showPage(QStringLiteral("calendar"));
    EXPECT_TRUE(undoes.isVisible());
    EXPECT_FALSE(saysWhy.isVisible());
}

TEST_F(WindowStory, AFileThatIsNotOursIsRefusedInWords) {
    QFile letter(path("letter.txt"));
    ASSERT_TRUE(letter.open(QIODevice::WriteOnly));
    letter.write(QByteArray("A letter.\n").repeated(500));
    letter.close();
    window_->openFile(path("letter.txt"));
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("letter.txt"))) << Ask::lastSaid().toStdString();
    EXPECT_TRUE(find<QPushButton>("startOpen").isEnabled()) << "the person can try another file";
}

} // namespace
} // namespace kitround::ui
