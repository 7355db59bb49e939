// The window by the keyboard alone, and what its people pages say while they are empty or searched.
#include "tests/gui/WindowFixture.h"
#include "ui/people/NursesPage.h"
#include "ui/people/PatientsPage.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Page.h"
#include "ui/shared/Printing.h"

#include <QAction>
#include <QComboBox>
#include <QHash>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QMenu>
#include <QMenuBar>
#include <QPushButton>
#include <QScrollArea>
#include <QSet>
#include <QTabWidget>

namespace kitround::ui {
namespace {

class KeyboardStory : public WindowTest {
protected:
    // The window has the keyboard, as it has it with a person.
    void show(const char *page) {
        window_->activateWindow();
        ASSERT_TRUE(QTest::qWaitForWindowActive(window_.get()));
        window_->showPage(QString::fromLatin1(page));
        QTest::qWait(1);
    }
};

TEST_F(KeyboardStory, TheNextPartOfTheWindowIsOneKeyAwayRoundAndRound) {
    openSample();
    show("patients");
    auto *table = &find<DenseTable>("patientTable");
    ASSERT_EQ(window_->focusWidget(), table);
    auto &next = find<QAction>("actionNextPart");
    auto &previous = find<QAction>("actionPreviousPart");
    EXPECT_EQ(next.shortcut(), QKeySequence(Qt::Key_F6));
    QSet<QWidget *> seen;
    for (int i = 0; i < 20; ++i) {
        next.trigger();
        seen << window_->focusWidget();
        if (window_->focusWidget() == table)
            break;
    }
    EXPECT_EQ(window_->focusWidget(), table) << "it comes round";
    EXPECT_TRUE(seen.contains(&find<QListWidget>("workplaces")));
    EXPECT_GE(seen.size(), 3) << "the record beside the list as well";
    next.trigger();
    previous.trigger();
    EXPECT_EQ(window_->focusWidget(), table) << "and back";
}

TEST_F(KeyboardStory, TheNextPartIsAPictureTooAndAlwaysShowsTheKeyboard) {
    openSample();
    auto &next = find<QAction>("actionNextPart");
    QSet<QWidget *> seen;
    for (const char *page : {"stock", "reorders", "calendar", "patients"}) {
        show(page);
        for (int i = 0; i < 20; ++i) {
            next.trigger();
            QWidget *at = window_->focusWidget();
            seen << at;
            EXPECT_EQ(qobject_cast<QScrollArea *>(at), nullptr) << page;
        }
    }
    EXPECT_TRUE(seen.contains(&find<QWidget>("homeChart")));
    EXPECT_TRUE(seen.contains(&find<QWidget>("weekGrid")));
}

TEST_F(KeyboardStory, ReadingTheFileAgainHasAKeyThatNoPageHas) {
    EXPECT_EQ(find<QAction>("actionReload").shortcuts(), QList<QKeySequence>{QKeySequence(Qt::Key_F5)});
}

TEST_F(KeyboardStory, AClickOnAWorkplaceGivesItsPageTheKeyboard) {
    openSample();
    auto &places = find<QListWidget>("workplaces");
    QTest::mouseClick(places.viewport(), Qt::LeftButton, {}, places.visualItemRect(places.item(1)).center());
    EXPECT_EQ(places.currentRow(), 1);
    EXPECT_EQ(window_->focusWidget(), &find<QWidget>("weekGrid"));
}

TEST_F(KeyboardStory, EveryPageOfSuppliesHasTheSameKeysForItsMainStepAndItsTabs) {
    openSample();
    for (const char *page : {"stockPage", "reorderPage", "cataloguePage"}) {
        QSet<QKeySequence> keys;
        for (const QAction *action : find<Page>(page).pageActions())
            for (const QKeySequence &key : action->shortcuts())
                keys << key;
        EXPECT_TRUE(keys.contains(QKeySequence(Qt::CTRL | Qt::Key_Return))) << page;
        for (const Qt::Key key : {Qt::Key_1, Qt::Key_2, Qt::Key_5})
            EXPECT_TRUE(keys.contains(QKeySequence(Qt::ALT | key))) << page;
    }
    show("catalogue");
    for (QAction *action : find<Page>("cataloguePage").pageActions())
        if (action->shortcut() == QKeySequence(Qt::ALT | Qt::Key_3))
            action->trigger();
    EXPECT_EQ(find<QTabWidget>("catalogueTabs").currentIndex(), 2);
}

// A letter that two entries of one menu share chooses neither at once.
TEST_F(KeyboardStory, NoTwoEntriesOfAMenuShareALetter) {
    openSample();
    const auto letterOf = [](const QString &text) {
        const qsizetype at = text.indexOf(QLatin1Char('&'));
        return at >= 0 && at + 1 < text.size() ? text.at(at + 1).toLower() : QChar();
    };
    auto &places = find<QListWidget>("workplaces");
    for (int page = 0; page < places.count(); ++page) {
        places.setCurrentRow(page);
        for (QAction *menu : window_->menuBar()->actions()) {
            QHash<QChar, QString> taken;
            for (const QAction *entry : menu->menu()->actions()) {
                const QChar letter = letterOf(entry->text());
                if (letter.isNull() || !entry->isVisible())
                    continue;
                EXPECT_FALSE(taken.contains(letter))
                    << places.item(page)->text().toStdString() << ": " << taken.value(letter).toStdString()
                    << " and " << entry->text().toStdString();
                taken.insert(letter, entry->text());
            }
        }
    }
}

TEST_F(KeyboardStory, ASearchLeadsToItsRowsAndEscapeClearsIt) {
    openSample();
    const std::pair<const char *, std::pair<const char *, const char *>> searches[] = {
        {"patients", {"patientSearch", "patientTable"}},
        {"nurses", {"nurseSearch", "nurseTable"}},
        {"settings", {"figureSearch", "figureTable"}}};
    for (const auto &[page, names] : searches) {
        show(page);
        auto &search = find<QLineEdit>(names.first);
        auto &table = find<DenseTable>(names.second);
        const int width = search.fontMetrics().horizontalAdvance(search.placeholderText());
        EXPECT_GT(search.width(), width) << page << ": what it says while empty is cut";
        search.setFocus();
        QTest::keyClicks(&search, QStringLiteral("a"));
        QTest::keyClick(&search, Qt::Key_Down);
        EXPECT_EQ(window_->focusWidget(), &table) << page;
        EXPECT_TRUE(table.currentIndex().isValid()) << page;
        search.setFocus();
        QTest::keyClick(&search, Qt::Key_Escape);
        EXPECT_TRUE(search.text().isEmpty()) << page;
        EXPECT_EQ(window_->focusWidget(), &search) << page << ": it is typed anew";
        QTest::keyClick(&search, Qt::Key_Escape);
        EXPECT_EQ(window_->focusWidget(), &table) << page;
    }
}

TEST_F(KeyboardStory, TheRecordBesideASearchIsThatOfTheChosenRow) {
    openSample();
    show("patients");
    auto &table = find<DenseTable>("patientTable");
    auto &search = find<QLineEdit>("patientSearch");
    const int last = table.model()->rowCount() - 1;
    ASSERT_GT(last, 2);
    const QString code = table.model()->index(last, 1).data().toString();
    search.setText(code);
    ASSERT_GE(table.model()->rowCount(), 1);
    const QString name = table.model()->index(table.currentIndex().row(), 0).data().toString();
    EXPECT_TRUE(find<QLabel>("patientName").text().contains(name)) << name.toStdString();
    search.setText(QStringLiteral("nobody is called this"));
    EXPECT_EQ(table.model()->rowCount(), 0);
    search.clear();
    EXPECT_EQ(table.model()->rowCount(), last + 1);
    EXPECT_TRUE(table.currentIndex().isValid());
}

TEST_F(KeyboardStory, WhoeverASearchLeavesOutIsInNobodysHand) {
    openSample();
    const auto nobody = QStringLiteral("nobody is called this");
    show("patients");
    auto &patients = find<DenseTable>("patientTable");
    auto &who = find<QLabel>("patientName");
    auto &found = find<QLineEdit>("patientSearch");
    const QString chosen = QStringLiteral("Choose a patient");
    ASSERT_FALSE(who.text().startsWith(chosen));
    found.setText(nobody);
    EXPECT_TRUE(who.text().startsWith(chosen)) << who.text().toStdString();
    EXPECT_FALSE(who.isEnabled());
    find<QComboBox>("patientStatus").setCurrentIndex(4); // everybody
    EXPECT_EQ(patients.model()->rowCount(), 0);
    EXPECT_TRUE(who.text().startsWith(chosen)) << "the same where the list is filled anew";
    const Patient &last = session().agency()->snapshot().patients.back();
    window_->findChild<PatientsPage *>()->selectPatient(last.id);
    EXPECT_TRUE(who.text().contains(QString::fromStdString(last.familyName))) << who.text().toStdString();

    show("nurses");
    auto &name = find<QLabel>("nurseName");
    ASSERT_FALSE(name.text().startsWith(QStringLiteral("Choose a nurse")));
    find<QLineEdit>("nurseSearch").setText(nobody);
    EXPECT_TRUE(name.text().startsWith(QStringLiteral("Choose a nurse"))) << name.text().toStdString();
    EXPECT_FALSE(find<QPushButton>("nurseEdit").isEnabled());
    EXPECT_EQ(find<DenseTable>("shiftTable").model()->rowCount(), 0);
    const Nurse &nurse = session().agency()->snapshot().nurses.back();
    window_->findChild<NursesPage *>()->selectNurse(nurse.id);
    EXPECT_TRUE(name.text().contains(QString::fromStdString(nurse.familyName))) << name.text().toStdString();
}

TEST_F(KeyboardStory, AnEmptyListOfHoursSaysWhatItIsFor) {
    openSample();
    show("nurses");
    auto &nurses = find<DenseTable>("nurseTable");
    auto &hint = find<QLabel>("entryHint");
    DenseTable *lists[] = {&find<DenseTable>("shiftTable"), &find<DenseTable>("extraTable"),
                           &find<DenseTable>("offTable")};
    auto *tabs = qobject_cast<QTabWidget *>(lists[0]->parentWidget()->parentWidget());
    ASSERT_NE(tabs, nullptr);
    int said = 0;
    for (int row = 0; row < nurses.model()->rowCount(); ++row) {
        nurses.setCurrentIndex(nurses.model()->index(row, 0));
        for (int tab = 0; tab < 3; ++tab) {
            tabs->setCurrentIndex(tab);
            EXPECT_EQ(hint.isVisible(), lists[tab]->model()->rowCount() == 0) << row << " " << tab;
            said += hint.isVisible() ? 1 : 0;
        }
    }
    EXPECT_GT(said, 0);
}

TEST_F(KeyboardStory, AListOfVisitOrdersSaysSoWhereThereIsNone) {
    openSample();
    show("patients");
    auto &patients = find<DenseTable>("patientTable");
    auto &orders = find<DenseTable>("visitOrders");
    auto &none = find<QLabel>("noVisitOrder");
    auto &tabs = find<QTabWidget>("patientTabs");
    tabs.setCurrentIndex(4);
    ASSERT_TRUE(orders.isVisible());
    for (int row = 0; row < patients.model()->rowCount(); ++row) {
        patients.setCurrentIndex(patients.model()->index(row, 0));
        ASSERT_EQ(none.isVisible(), orders.model()->rowCount() == 0) << row;
    }
}

TEST_F(KeyboardStory, TheNamesOfFiguresAreReadAtTheLeastWidth) {
    openSample();
    show("settings");
    auto &figures = find<DenseTable>("figureTable");
    EXPECT_GE(figures.columnWidth(1), 250);
    EXPECT_EQ(figures.model()->headerData(1, Qt::Horizontal).toString(), QStringLiteral("Figure"));
}

TEST_F(KeyboardStory, WhatWasSavedIsSaidWithItsFolder) {
    openSample();
    Ask::nextText(path("pack.pdf"));
    desk::Paper paper;
    paper.title = QStringLiteral("A paper");
    EXPECT_TRUE(savePaper(window_.get(), session(), paper));
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("pack.pdf"))) << Ask::lastSaid().toStdString();
    EXPECT_TRUE(Ask::lastSaid().contains(dir_->path())) << Ask::lastSaid().toStdString();
    Ask::nextText(path("rows.csv"));
    desk::Table table;
    table.title = "Rows";
    table.key = "rows";
    EXPECT_TRUE(saveTable(window_.get(), session(), table));
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("rows.csv"))) << Ask::lastSaid().toStdString();
}

class EmptyPage : public Page {
public:
    explicit EmptyPage(Session &session) : Page(session, QStringLiteral("emptyPage"), QStringLiteral("A")) {
        setBody(new QWidget(this));
    }
    using Page::showEmpty;
};

TEST_F(KeyboardStory, AnEmptyPageHasItsFirstStepAsAButtonHereOrElsewhere) {
    EmptyPage page(session());
    page.show();
    QStringList asked;
    QObject::connect(&page, &Page::emptyActionAsked, &page, [&asked] { asked << QStringLiteral("here"); });
    QObject::connect(&page, &Page::showWorkplace, &page, [&asked](const QString &name) { asked << name; });
    auto *button = page.findChild<QPushButton *>(QStringLiteral("emptyAction"));
    page.showEmpty(QStringLiteral("Nothing yet."), QStringLiteral("Enter items"),
                   QStringLiteral("catalogue"));
    ASSERT_TRUE(button->isVisible());
    button->click();
    page.showEmpty(QStringLiteral("Nobody yet."), QStringLiteral("New nurse"));
    button->click();
    EXPECT_EQ(asked, QStringList({QStringLiteral("catalogue"), QStringLiteral("here")}));
    page.showEmpty({});
    EXPECT_FALSE(button->isVisible());
}

} // namespace
} // namespace kitround::ui
