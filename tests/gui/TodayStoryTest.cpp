// The start page in the real window: the form that settles a line, what is one's own, and the keys that work
// from it.
#include "core/desk/Desk.h"
#include "core/desk/words/Words.h"
#include "tests/gui/WindowFixture.h"
#include "tests/gui/support/AttentionLines.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/ElidedLabel.h"
#include "ui/shared/Page.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialog>
#include <QFile>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QScrollBar>
#include <QSettings>

#include <algorithm>

namespace kitround::ui {
namespace {

// What is remembered is for one test alone, whatever a run before left behind.
class TodayWindow : public WindowTest {
protected:
    void SetUp() override {
        QSettings().remove(QStringLiteral("today"));
        WindowTest::SetUp();
    }
    void TearDown() override {
        QSettings().remove(QStringLiteral("today"));
        WindowTest::TearDown();
    }
    void workAs(UserRole role) {
        const auto &users = session().agency()->snapshot().users;
        const auto found = std::ranges::find(users, role, &User::role);
        ASSERT_NE(found, users.end());
        session().workAs(found->id);
    }
    DenseTable &table() { return find<DenseTable>("attentionTable"); }
};

class TodayStory : public TodayWindow {
protected:
    void SetUp() override {
        TodayWindow::SetUp();
        openSample();
        window_->showPage(QStringLiteral("today"));
    }
    void startAnew(const QString &file) {
        window_ = std::make_unique<MainWindow>(clock_);
        window_->show();
        window_->openFile(file);
        waitComputed();
    }
    // Chooses the first line that has such a form; false where there is none.
    bool chooseForm(const QString &button) {
        const auto &form = find<QPushButton>("attentionForm");
        for (int row = 0; row < table().model()->rowCount(); ++row) {
            table().setCurrentIndex(table().model()->index(row, 0));
            if (form.isVisible() && form.text().startsWith(button))
                return true;
        }
        return false;
    }
    // Presses the button of the chosen line; whether a form with such a field opened.
    bool opensFormWith(const char *field) {
        bool isThere = false;
        withNextForm([&](QWidget &form) {
            isThere = form.findChild<QWidget *>(QString::fromLatin1(field)) != nullptr;
            leave(form);
        });
        find<QPushButton>("attentionForm").click();
        waitFor([&] { return isThere; });
        return isThere;
    }
};

TEST_F(TodayStory, WhoWasNotAskedAboutAllergiesIsEnteredFromTheLine) {
    ASSERT_TRUE(chooseForm(QStringLiteral("Enter")));
    bool isThere = false, hasKeyboard = false;
    withNextForm([&](QWidget &form) {
        const auto *allergies = form.findChild<QListWidget *>(QStringLiteral("allergies"));
        isThere = allergies && allergies->isVisible();
        hasKeyboard = allergies && form.focusWidget() == allergies;
        leave(form);
    });
    table().setFocus();
    QTest::keyClick(&table(), Qt::Key_Return);
    EXPECT_TRUE(isThere) << "its tab is up";
    EXPECT_TRUE(hasKeyboard);
    EXPECT_TRUE(table().isVisible()) << "the next line is at hand";
}

TEST_F(TodayStory, AHomeThatNobodyCountedOpensTheCountAndANewOneItsFirstDelivery) {
    ASSERT_TRUE(chooseForm(QStringLiteral("Record a count")));
    EXPECT_TRUE(opensFormWith("counted"));
    window_->showPage(QStringLiteral("today"));
    ASSERT_TRUE(chooseForm(QStringLiteral("Promise the first delivery")));
    EXPECT_TRUE(opensFormWith("promised_for"));
}

TEST_F(TodayStory, MineIsTheWorkOfTheRoleAndIsRememberedByUser) {
    auto &mine = find<QCheckBox>("attentionMine");
    workAs(UserRole::Coordinator);
    ASSERT_FALSE(mine.isChecked());
    const int all = table().model()->rowCount();
    ASSERT_GE(rowOfKind(table(), desk::AttentionKind::RunOut), 0);
    mine.click();
    EXPECT_LT(table().model()->rowCount(), all);
    EXPECT_GT(table().model()->rowCount(), 0);
    EXPECT_LT(rowOfKind(table(), desk::AttentionKind::RunOut), 0) << "that is the clerk's";
    EXPECT_GE(rowOfKind(table(), desk::AttentionKind::CallAbout), 0);

    workAs(UserRole::SupplyClerk);
    EXPECT_FALSE(mine.isChecked()) << "another person has not asked for it";
    mine.click();
    EXPECT_GE(rowOfKind(table(), desk::AttentionKind::RunOut), 0);
    mine.click();
    workAs(UserRole::Coordinator);
    EXPECT_TRUE(mine.isChecked());
    EXPECT_LT(rowOfKind(table(), desk::AttentionKind::RunOut), 0);
    session().refresh();
    waitComputed();
    EXPECT_TRUE(mine.isChecked());
    mine.click();
    EXPECT_EQ(table().model()->rowCount(), all);
}

// The sample's nurses have been at their first visits this morning.
TEST_F(TodayStory, VisitsThatAreOverAreRecordedOneAfterTheOtherFromTheirLine) {
    chooseKind(table(), desk::AttentionKind::VisitsUnrecorded);
    const auto &open = find<QPushButton>("attentionOpen");
    EXPECT_TRUE(open.text().startsWith(QStringLiteral("Record what happened")));
    int rows = 0;
    bool hasForm = false;
    withNextForm([&](QWidget &list) {
        auto *visits = list.findChild<DenseTable *>(QStringLiteral("visitsToRecordTable"));
        auto *step = list.findChild<QPushButton *>(QStringLiteral("visitsToRecordStep"));
        if (visits && step) {
            rows = visits->model()->rowCount();
            withNextForm([&](QWidget &form) {
                hasForm = form.findChild<QWidget *>(QStringLiteral("miss_reason")) != nullptr;
                leave(form);
            });
            step->click();
        }
        leave(list);
    });
    find<QPushButton>("attentionOpen").click();
    waitFor([&] { return hasForm; });
    EXPECT_GT(rows, 0);
    EXPECT_TRUE(hasForm);
}

TEST_F(TodayStory, AListOfTodayOpensAsLargeAsItWasLeft) {
    QSettings().remove(QStringLiteral("dialogSize"));
    QSize first, left, again;
    withNextForm([&](QWidget &list) {
        first = list.size();
        list.resize(1000, 640); // of the least width that is read well
        left = list.size();
        leave(list);
    });
    find<QPushButton>("handOverOpen").click();
    withNextForm([&](QWidget &list) {
        again = list.size();
        leave(list);
    });
    find<QPushButton>("handOverOpen").click();
    EXPECT_NE(first, left);
    EXPECT_EQ(again, left);
}

// The sample has more refill calls today than are read one by one.
TEST_F(TodayStory, ManyOfAKindAreOneLineThatShowsEachAndLeadsToThePageThatHasThemAll) {
    const auto ofKind = [&] {
        int rows = 0;
        for (int row = 0; row < table().model()->rowCount(); ++row)
            rows += table().model()->index(row, 2).data().toString() ==
                            desk::words(desk::AttentionKind::RefillCall)
                        ? 1
                        : 0;
        return rows;
    };
    chooseKind(table(), desk::AttentionKind::RefillCall);
    const int before = ofKind();
    auto &each = find<QPushButton>("attentionEach");
    ASSERT_TRUE(each.isVisible());
    const int many = each.text().section(u' ', -1).toInt();
    ASSERT_GT(many, 8) << each.text().toStdString();
    EXPECT_FALSE(find<QPushButton>("attentionForm").isVisible());
    EXPECT_FALSE(find<QPushButton>("attentionHome").isVisible());
    each.click();
    EXPECT_EQ(ofKind(), before - 1 + many) << "none is lost";
    EXPECT_TRUE(find<QPushButton>("attentionOpen").text().startsWith(QStringLiteral("Call the home")));
    each.click();
    EXPECT_EQ(ofKind(), before) << "one line again";
    EXPECT_EQ(table().currentIndex().siblingAtColumn(2).data().toString(),
              desk::words(desk::AttentionKind::RefillCall));
    table().setFocus();
    QTest::keyClick(&table(), Qt::Key_Return);
    EXPECT_TRUE(find<QWidget>("refillTable").isVisible());
}

TEST_F(TodayStory, TheKeyOfTheMainStepSaysWhereALineHasNoCallToClose) {
    chooseKind(table(), desk::AttentionKind::PlanNotPublished);
    QTest::keyClick(&table(), Qt::Key_Return, Qt::ControlModifier);
    const QString said = find<QLabel>("lastChange").text();
    EXPECT_TRUE(said.startsWith(QStringLiteral("This line has no call to close"))) << said.toStdString();
    EXPECT_TRUE(said.contains(find<QPushButton>("attentionOpen").text())) << said.toStdString();
    chooseKind(table(), desk::AttentionKind::RefillCall); // the sample has many of them
    ASSERT_TRUE(find<QPushButton>("attentionEach").isVisible());
    QTest::keyClick(&table(), Qt::Key_Return, Qt::ControlModifier);
    EXPECT_TRUE(find<QLabel>("lastChange").text().startsWith(QStringLiteral("This line stands for several")));
}

// While somebody reads the end of the list an emergency comes in.
TEST_F(TodayStory, WhatComesFirstIsToldWhereTheListIsReadFurtherDown) {
    auto &news = find<QPushButton>("attentionNews");
    EXPECT_FALSE(news.isVisible()) << "nothing came since the file was opened";
    EXPECT_EQ(table().currentIndex().row(), 0) << "nobody chose another";
    window_->resize(1280, 400);
    ASSERT_TRUE(waitFor([&] { return table().verticalScrollBar()->maximum() > 0; }));
    const int last = table().model()->rowCount() - 1;
    table().setCurrentIndex(table().model()->index(last, 0));
    ASSERT_GT(table().verticalScrollBar()->value(), 0);
    const QString chosen = table().currentIndex().siblingAtColumn(1).data().toString();
    const SnapshotIndex &index = session().agency()->index();
    DrainEntry entry;
    for (const Catheter &catheter : session().agency()->snapshot().catheters)
        if (index.isInService(catheter) && index.orderInForce(catheter.id, session().today()) &&
            !index.holdOn(catheter.patient, session().today()))
            entry.catheter = catheter.id;
    entry.at = {session().today(), Minutes::of(11 * 60 + 7)};
    entry.volume = Millilitres::of(300);
    entry.symptoms = {Symptom::Collapse};
    ASSERT_FALSE(session().write(QStringLiteral("Logged"), [&](desk::Desk &d) { return d.logDrain(entry); }));
    waitComputed();
    EXPECT_EQ(table().currentIndex().siblingAtColumn(1).data().toString(), chosen);
    ASSERT_TRUE(news.isVisible());
    EXPECT_TRUE(news.toolTip().contains(desk::words(CautionKind::SymptomEmergency)))
        << news.toolTip().toStdString();
    news.click();
    EXPECT_EQ(table().currentIndex().row(), 0);
    EXPECT_FALSE(news.isVisible());
    EXPECT_EQ(table().currentIndex().siblingAtColumn(1).data().toString(), news.toolTip());
}

// Every change has the stock worked out anew, and lines that need it are gone until then.
TEST_F(TodayStory, ALineThatWaitsForTheForecastIsChosenAgainWhenItComesBack) {
    chooseKind(table(), desk::AttentionKind::RunOut);
    const QString chosen = table().currentIndex().siblingAtColumn(1).data().toString();
    session().refresh();
    waitComputed();
    EXPECT_EQ(table().currentIndex().siblingAtColumn(1).data().toString(), chosen);
}

TEST_F(TodayStory, ALineUnderTheTitleGoesOnInASecondOneBeforeItIsCut) {
    auto &page = find<Page>("todayPage");
    auto *subtitle = static_cast<ElidedLabel *>(page.findChild<QLabel *>(QStringLiteral("pageSubtitle")));
    const QString words =
        QStringLiteral("so many words that stand under the title of the page ").repeated(12);
    page.setSubtitle(words);
    EXPECT_TRUE(waitFor([&] { return subtitle->height() >= 2 * subtitle->fontMetrics().height(); }));
    ASSERT_EQ(subtitle->shownLines().size(), 2);
    EXPECT_TRUE(words.startsWith(subtitle->shownLines().front()));
    EXPECT_EQ(subtitle->wholeTip(), words);
    page.setSubtitle(QStringLiteral("short"));
    EXPECT_TRUE(waitFor([&] { return subtitle->height() < 2 * subtitle->fontMetrics().height(); }));
    EXPECT_EQ(subtitle->shownLines(), QStringList{QStringLiteral("short")});
}

TEST_F(TodayStory, ALongLineUnderTheTitlePushesNoButtonOut) {
    auto &page = find<Page>("todayPage");
    auto *subtitle = page.findChild<QLabel *>(QStringLiteral("pageSubtitle"));
    ASSERT_NE(subtitle, nullptr);
    EXPECT_TRUE(subtitle->text().contains(QStringLiteral("Everything: "))) << subtitle->text().toStdString();
    const int least = page.minimumSizeHint().width();
    page.setSubtitle(QString(400, u'x'));
    EXPECT_EQ(page.minimumSizeHint().width(), least);
    EXPECT_EQ(subtitle->text().size(), 400) << "only what is drawn is cut";
}

// Nobody has said where the storeroom is: the coordinator's to find out, not urgent, and all there is.
class QuietToday : public TodayWindow {
protected:
    void SetUp() override {
        TodayWindow::SetUp();
        const QString file = path("quiet.kitround");
        make(file.toStdString());
        window_->openFile(file);
        waitComputed();
        window_->activateWindow();
        ASSERT_TRUE(QTest::qWaitForWindowActive(window_.get()));
        window_->showPage(QStringLiteral("today"));
    }
    void make(const std::string &file) {
        AgencySettings settings;
        settings.agencyName = "Quiet agency (invented)";
        settings.isInvented = true;
        const auto made = desk::Desk::create(file, settings, "Mel", clock_);
        ASSERT_TRUE(made);
        desk::Desk &desk = **made;
        for (const auto &[name, role] :
             {std::pair("Cora", UserRole::Coordinator), std::pair("Sam", UserRole::SupplyClerk)}) {
            User user;
            user.name = name;
            user.role = role;
            ASSERT_TRUE(desk.save(user));
        }
        Payer payer;
        payer.name = "Payer (invented)";
        const auto paying = desk.save(payer);
        ASSERT_TRUE(paying);
        Patient patient;
        patient.code = "Q-1";
        patient.familyName = "Alder";
        patient.status = CareStatus::Discharged;
        patient.exitedAt = clock_.now();
        patient.payer = paying->id;
        ASSERT_TRUE(desk.save(patient));
    }
    QString emptyText() {
        return find<QWidget>("todayPage").findChild<QLabel *>(QStringLiteral("emptyText"))->text();
    }
};

TEST_F(QuietToday, TheKeyThatEmptiesTheListFillsItAgain) {
    workAs(UserRole::SupplyClerk);
    const int all = table().model()->rowCount();
    ASSERT_GT(all, 0);
    table().setFocus();
    QTest::keyClick(&table(), Qt::Key_M, Qt::ControlModifier);
    auto &mine = find<QCheckBox>("attentionMine");
    ASSERT_TRUE(mine.isChecked());
    ASSERT_EQ(table().model()->rowCount(), 0);
    EXPECT_TRUE(emptyText().startsWith(QStringLiteral("Nothing of this is yours")))
        << emptyText().toStdString();
    ASSERT_EQ(window_->focusWidget(), &mine) << "the keyboard stays on the page";
    QTest::keyClick(window_->focusWidget(), Qt::Key_M, Qt::ControlModifier);
    EXPECT_FALSE(mine.isChecked());
    EXPECT_EQ(table().model()->rowCount(), all);
    EXPECT_EQ(window_->focusWidget(), &table()) << "and comes back with the rows";
}

TEST_F(QuietToday, WhatIsOnesOwnAndOnlyNotUrgentIsNotDenied) {
    workAs(UserRole::Coordinator);
    find<QCheckBox>("attentionMine").click();
    ASSERT_GT(table().model()->rowCount(), 0);
    find<QComboBox>("harmFilter").setCurrentIndex(1); // today and emergencies
    ASSERT_EQ(table().model()->rowCount(), 0);
    EXPECT_TRUE(emptyText().startsWith(QStringLiteral("Nothing of yours is as urgent")))
        << emptyText().toStdString();
    EXPECT_FALSE(find<QCheckBox>("attentionMine").text().contains(QStringLiteral("(0)")));
}

TEST_F(TodayStory, TheChosenLineStaysChosenWhereOthersAreHidden) {
    chooseKind(table(), desk::AttentionKind::PlanNotPublished);
    const QString chosen = table().currentIndex().siblingAtColumn(1).data().toString();
    find<QCheckBox>("attentionMine").click();
    EXPECT_EQ(table().currentIndex().siblingAtColumn(1).data().toString(), chosen);
}

TEST_F(TodayStory, AWeekToPublishLeadsToTheCalendarAndAnOrderToTheOrders) {
    chooseKind(table(), desk::AttentionKind::PlanNotPublished);
    EXPECT_TRUE(find<QPushButton>("attentionOpen").text().contains(QStringLiteral("calendar")));
    QTest::keyClick(&table(), Qt::Key_Return);
    EXPECT_TRUE(find<QWidget>("weekGrid").isVisible());
    window_->showPage(QStringLiteral("today"));
    chooseKind(table(), desk::AttentionKind::ReorderDue);
    find<QPushButton>("attentionOpen").click();
    EXPECT_TRUE(find<QWidget>("reorderPage").isVisible());
}

TEST_F(TodayStory, HowUrgentALineIsTakesLittleRoom) {
    const QString longest = desk::words(desk::Harm::Tidy);
    const int room = table().fontMetrics().horizontalAdvance(longest);
    for (int row = 0; row < table().model()->rowCount(); ++row)
        EXPECT_NE(table().model()->index(row, 0).data().toString(), longest);
    EXPECT_LT(table().columnWidth(0), room + 24);
}

TEST_F(TodayStory, AnIncidentIsReportedByItsKeyFromAnyPage) {
    for (const char *page : {"today", "calendar", "patients", "load"}) {
        window_->showPage(QString::fromLatin1(page));
        bool isThere = false;
        withNextForm([&](QWidget &form) {
            isThere = form.findChild<QWidget *>(QStringLiteral("facts")) != nullptr;
            leave(form);
        });
        window_->activateWindow(); // the form before it had the keyboard
        ASSERT_TRUE(waitFor([&] { return window_->isActiveWindow(); }));
        QTest::keyClick(window_.get(), Qt::Key_I, Qt::ControlModifier | Qt::ShiftModifier);
        EXPECT_TRUE(waitFor([&] { return isThere; })) << page;
    }
}

TEST_F(TodayStory, WhoWorksHereIsRememberedForTheFileAlone) {
    const UserId first = session().desk().user();
    workAs(UserRole::SupplyClerk);
    const UserId clerk = session().desk().user();
    ASSERT_NE(clerk, first);
    startAnew(path("copy.kitround"));
    EXPECT_EQ(session().desk().user(), clerk);
    EXPECT_TRUE(session().userGone().isEmpty());
    EXPECT_TRUE(find<QLabel>("fileMark").text().contains(session().userName()));
    session().close();
    ASSERT_TRUE(QFile::copy(path("copy.kitround"), path("other.kitround")));
    startAnew(path("other.kitround"));
    EXPECT_EQ(session().desk().user(), first) << "another file is another agency";
}

TEST_F(TodayStory, WhoWorkedHereLastAndIsGoneIsNamedAndSomebodyElseWorks) {
    const UserId first = session().desk().user();
    workAs(UserRole::SupplyClerk);
    const QString name = session().userName();
    const auto &users = session().agency()->snapshot().users;
    User gone = *std::ranges::find(users, session().desk().user(), &User::id);
    gone.isActive = false;
    ASSERT_FALSE(session().write(QStringLiteral("Saved a user"), [&](desk::Desk &desk) {
        desk.setUser(first); // somebody else's desk: nobody marks himself as gone
        return desk.save(gone);
    }));
    waitComputed();
    startAnew(path("copy.kitround"));
    EXPECT_EQ(session().desk().user(), first);
    EXPECT_EQ(session().userGone(), name);
    const QString foot = find<QLabel>("lastChange").text();
    EXPECT_TRUE(foot.startsWith(name) && foot.contains(QStringLiteral("choose who you are under Settings")))
        << foot.toStdString();
    workAs(UserRole::NurseManager);
    EXPECT_FALSE(find<QLabel>("lastChange").text().startsWith(name)) << "somebody has chosen";
}

TEST_F(TodayStory, TheHandOverListAndTheDowntimePackHaveAKeyEach) {
    table().setFocus();
    for (const auto &[key, file] :
         {std::pair(Qt::Key_L, "hand-over.pdf"), std::pair(Qt::Key_P, "pack.pdf")}) {
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(path(file));
        QTest::keyClick(&table(), key, Qt::ControlModifier | Qt::ShiftModifier);
        EXPECT_TRUE(QFile::exists(path(file))) << file;
    }
}

} // namespace
} // namespace kitround::ui
