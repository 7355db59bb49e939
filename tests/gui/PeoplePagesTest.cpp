// What people do for one another, in the pages alone: hand a shift over and accept it, keep a watch list,
// decide leave as who may, ask before an old order is gone on with, count what to carry, plan the holidays.
#include "core/desk/views/WatchList.h"
#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Words.h"
#include "tests/gui/PageStory.h"
#include "tests/gui/support/AttentionLines.h"
#include "ui/load/LoadPage.h"
#include "ui/people/CareForms.h"
#include "ui/people/PatientsPage.h"
#include "ui/shared/DenseTable.h"
#include "ui/today/TodayPage.h"

#include <QAction>
#include <QCheckBox>
#include <QComboBox>
#include <QFileInfo>
#include <QItemSelectionModel>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTabWidget>

#include <algorithm>

namespace kitround::ui {
namespace {

class PeopleStory : public PageStory {
protected:
    PeopleStory() {
        today_ = std::make_unique<TodayPage>(session_);
        load_ = std::make_unique<LoadPage>(session_);
        patients_ = std::make_unique<PatientsPage>(session_);
        for (QWidget *page : std::initializer_list<QWidget *>{today_.get(), load_.get(), patients_.get()}) {
            page->resize(1100, 680);
            page->setVisible(true);
        }
        openSample();
    }
    ~PeopleStory() override {
        today_.reset();
        load_.reset();
        patients_.reset();
    }

    static void fill(QWidget &form, const char *name, const QString &text) {
        if (auto *line = form.findChild<QLineEdit *>(QString::fromLatin1(name)))
            line->setText(text);
        else if (auto *box = form.findChild<QPlainTextEdit *>(QString::fromLatin1(name)))
            box->setPlainText(text);
        else if (auto *field = form.findChild<QWidget *>(QString::fromLatin1(name)))
            field->findChild<QLineEdit *>()->setText(text);
        else
            ADD_FAILURE() << "no field " << name;
    }
    // One line a matter, whatever is told as one.
    void showEachHandedOver(QWidget &dialog) {
        auto &table = in<DenseTable>(dialog, "handOverTable");
        auto &each = in<QPushButton>(dialog, "handOverEach");
        for (int row = 0; row < table.model()->rowCount(); ++row) {
            table.setCurrentIndex(table.model()->index(row, 0));
            if (each.isEnabled() && each.text().startsWith(QStringLiteral("Show each")))
                each.click();
        }
    }
    int rows(const char *table, QWidget &page) { return in<DenseTable>(page, table).model()->rowCount(); }
    const Patient &patient(const char *code) {
        const auto &all = session_.agency()->snapshot().patients;
        return *std::ranges::find(all, std::string(code), &Patient::code);
    }

    std::unique_ptr<TodayPage> today_;
    std::unique_ptr<LoadPage> load_;
    std::unique_ptr<PatientsPage> patients_;
};

TEST_F(PeopleStory, AShiftIsHandedOverAcceptedByNameAndPrinted) {
    withNextDialog([&](QWidget &dialog) {
        const int folded = rows("handOverTable", dialog);
        showEachHandedOver(dialog);
        EXPECT_GT(rows("handOverTable", dialog), folded) << "many of a kind were one line";
        const int open = rows("handOverTable", dialog);
        ASSERT_GT(open, 3);
        Ask::nextText(QStringLiteral("quiet night"));
        in<QPushButton>(dialog, "handOverGive").click();
        ASSERT_TRUE(waitFor([&] { return in<QPushButton>(dialog, "handOverAccept").isEnabled(); }))
            << Ask::lastSaid().toStdString();
        auto &head = in<QLabel>(dialog, "handOverHead");
        EXPECT_FALSE(in<QPushButton>(dialog, "handOverAcceptAll").isEnabled()) << "all of it is one's own";
        EXPECT_TRUE(head.text().contains(QStringLiteral("somebody else accepts them")))
            << head.text().toStdString();
        in<DenseTable>(dialog, "handOverTable").selectSourceRow(0);
        in<QPushButton>(dialog, "handOverAccept").click();
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("can't accept it as well")))
            << Ask::lastSaid().toStdString();
        workAs(UserRole::NurseManager);
        EXPECT_TRUE(in<QPushButton>(dialog, "handOverAcceptAll").isEnabled());
        picture(dialog, "hand-over");
        in<DenseTable>(dialog, "handOverTable").selectSourceRow(0);
        in<QPushButton>(dialog, "handOverAccept").click();
        ASSERT_TRUE(waitFor([&] {
            return head.text().contains(QStringLiteral("%1 lines wait").arg(open - 1));
        })) << head.text().toStdString();
        in<QPushButton>(dialog, "handOverAcceptAll").click();
        ASSERT_TRUE(waitFor([&] { return !in<QPushButton>(dialog, "handOverAcceptAll").isEnabled(); }));
        in<QComboBox>(dialog, "handOverWhich").setCurrentIndex(1);
        EXPECT_EQ(rows("handOverTable", dialog), open);
        const QString paper = path("hand.pdf");
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(paper);
        in<QPushButton>(dialog, "handOverPrint").click();
        EXPECT_EQ(in<QPushButton>(dialog, "handOverPrint").shortcut(), QKeySequence(QKeySequence::Print));
        EXPECT_EQ(in<QPushButton>(dialog, "handOverCsv").shortcut(), QKeySequence(Qt::CTRL | Qt::Key_S));
        EXPECT_GT(QFileInfo(paper).size(), 3000);
        in<QPushButton>(dialog, "handOverClose").click();
    });
    in<QPushButton>(*today_, "handOverOpen").click();
    ASSERT_TRUE(settled());
    ASSERT_EQ(session_.agency()->snapshot().handOvers.size(), 1U);
    EXPECT_EQ(session_.agency()->snapshot().handOvers.front().note, "quiet night");
}

TEST_F(PeopleStory, ARefreshKeepsTheChosenLinesOfAHandOverAndChoosesNoOther) {
    QStringList before;
    withNextDialog([&](QWidget &dialog) {
        auto &table = in<DenseTable>(dialog, "handOverTable");
        auto &accept = in<QPushButton>(dialog, "handOverAccept");
        showEachHandedOver(dialog);
        table.selectSourceRow(0);
        const auto chosen = [&] {
            constexpr int kWhat = 3;
            QStringList what;
            for (const QModelIndex &index : table.selectionModel()->selectedRows(kWhat))
                what << index.data().toString();
            what.sort();
            return what;
        };
        EXPECT_EQ(chosen().size(), 1) << "the first, for who works by keyboard";
        Ask::nextText(QStringLiteral("two to call"));
        in<QPushButton>(dialog, "handOverGive").click();
        ASSERT_TRUE(waitFor([&] { return accept.isEnabled(); })) << Ask::lastSaid().toStdString();
        ASSERT_TRUE(settled());
        workAs(UserRole::NurseManager);
        table.selectSourceRow(1);
        table.selectionModel()->select(table.model()->index(3, 0),
                                       QItemSelectionModel::Select | QItemSelectionModel::Rows);
        before = chosen();
        ASSERT_EQ(before.size(), 2);
        session_.refresh();
        ASSERT_TRUE(settled());
        EXPECT_EQ(chosen(), before);
        EXPECT_EQ(table.currentSourceRow(), 1) << "the arrows go on from there";
        accept.click();
        ASSERT_TRUE(settled());
        EXPECT_TRUE(chosen().isEmpty()) << chosen().join(u'|').toStdString();
        accept.click();
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("Choose lines that wait")))
            << Ask::lastSaid().toStdString();
        in<QPushButton>(dialog, "handOverClose").click();
    });
    in<QPushButton>(*today_, "handOverOpen").click();
    ASSERT_TRUE(settled());
    ASSERT_EQ(session_.agency()->snapshot().handOvers.size(), 1U);
    QStringList taken;
    for (const HandOverItem &item : session_.agency()->snapshot().handOvers.front().items)
        if (item.acceptedAt)
            taken << QString::fromStdString(item.what);
    taken.sort();
    EXPECT_EQ(taken, before);
}

TEST_F(PeopleStory, AReportOfAnIncidentThatIsDueLeadsTheManagerToIt) {
    workAs(UserRole::NurseManager);
    auto &table = in<DenseTable>(*today_, "attentionTable");
    bool isLedThere = false;
    const auto heard = QObject::connect(today_.get(), &TodayPage::showIncidents, today_.get(),
                                        [&isLedThere] { isLedThere = true; });
    chooseKind(table, desk::AttentionKind::IncidentReport);
    QTest::keyClick(&table, Qt::Key_Return);
    QObject::disconnect(heard);
    EXPECT_TRUE(isLedThere);
}

TEST_F(PeopleStory, LeaveIsTheManagersToDecide) {
    const auto isOnToday = [&] {
        return rowOfKind(in<DenseTable>(*today_, "attentionTable"), desk::AttentionKind::LeaveWaiting) >= 0;
    };
    EXPECT_FALSE(isOnToday()) << "the coordinator has nothing to decide";
    in<DenseTable>(*load_, "leaveTable").selectSourceRow(0);
    withNextDialog([&](QWidget &dialog) {
        EXPECT_TRUE(in<QLabel>(dialog, "leaveWhose").text().contains(QStringLiteral("nurse manager")));
        EXPECT_TRUE(in<QLabel>(dialog, "leaveWhose").text().contains(QStringLiteral("Agency and users")))
            << "and where to change that";
        const auto *visits = dialog.findChild<DenseTable *>(QStringLiteral("leaveVisits"));
        if (visits && visits->isVisible()) {
            EXPECT_GE(visits->height(), in<DenseTable>(dialog, "leaveCover").height())
                << "there are more visits than skills";
        }
        for (const char *name : {"leaveApprove", "leaveDecline"}) {
            EXPECT_FALSE(in<QPushButton>(dialog, name).isEnabled()) << name;
            EXPECT_TRUE(
                in<QPushButton>(dialog, name).toolTip().contains(QStringLiteral("Work as this user")));
        }
        in<QPushButton>(dialog, "leaveClose").click();
    });
    in<QPushButton>(*load_, "leaveReview").click();
    workAs(UserRole::NurseManager);
    EXPECT_TRUE(isOnToday());
    picture(*today_, "today");
    withNextDialog([&](QWidget &dialog) { in<QPushButton>(dialog, "leaveDecline").click(); });
    in<QPushButton>(*load_, "leaveReview").click();
    ASSERT_TRUE(settled());
    EXPECT_TRUE(std::ranges::any_of(session_.agency()->snapshot().timeOff,
                                    [](const TimeOff &off) { return off.status == LeaveStatus::Declined; }));
}

TEST_F(PeopleStory, AWatchIsTakenUpPutOffAndClosedWithItsOutcome) {
    auto &table = in<DenseTable>(*load_, "watchTable");
    const int all = table.model()->rowCount();
    ASSERT_GT(all, 0);
    const auto list = desk::watchList(*session_.agency());
    int calm = -1;
    for (std::size_t i = 0; i < list.rows.size(); ++i)
        if (std::ranges::all_of(list.rows[i].reasons,
                                [](const desk::WatchReason &r) { return safety::maySnooze(r.urgency); }))
            calm = static_cast<int>(i);
    ASSERT_GE(calm, 0);
    table.selectSourceRow(calm);
    EXPECT_FALSE(in<QPushButton>(*load_, "watchClose").isEnabled()) << "nobody has it yet";
    auto &care = in<QTabWidget>(*load_, "careGroup");
    in<QTabWidget>(*load_, "loadTabs").setCurrentWidget(&care);
    for (int tab = 0; tab < care.count(); ++tab)
        if (care.tabText(tab).startsWith(QStringLiteral("Watch")))
            care.setCurrentIndex(tab);
    picture(*load_, "watch-list");
    withNextDialog([&](QWidget &form) {
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "an owner and a step are needed";
        picture(form, "watch-form");
        in<QComboBox>(form, "owner").setCurrentIndex(1);
        fill(form, "next_step", QStringLiteral("Nurse calls the home"));
        fill(form, "next_on", QStringLiteral("+2"));
        fill(form, "snoozed_to_on", QStringLiteral("+3"));
        fill(form, "snooze_reason", QStringLiteral("seen yesterday"));
        in<QPushButton>(form, "formSave").click();
    });
    in<QPushButton>(*load_, "watchDecide").click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(table.model()->rowCount(), all - 1) << Ask::lastSaid().toStdString();
    in<QComboBox>(*load_, "watchWhich").setCurrentIndex(1);
    ASSERT_EQ(table.model()->rowCount(), 1);
    Ask::nextText(QStringLiteral("prescriber told, nothing changed"));
    in<QPushButton>(*load_, "watchClose").click();
    ASSERT_TRUE(settled());
    in<QComboBox>(*load_, "watchWhich").setCurrentIndex(2);
    EXPECT_EQ(table.model()->rowCount(), 1);
    in<QComboBox>(*load_, "watchWhich").setCurrentIndex(0);
    EXPECT_EQ(table.model()->rowCount(), all - 1);
}

TEST_F(PeopleStory, WhoComesHomeFromHospitalHasTheOldOrderAskedAbout) {
    const Patient home = patient("Q-105");
    const Hold stay = *session_.agency()->index().holdOn(home.id, session_.today());
    withNextDialog([&](QWidget &form) {
        EXPECT_NE(form.findChild<QLineEdit *>(QStringLiteral("answered_by_0")), nullptr);
        picture(form, "home-again");
        in<QPushButton>(form, "formSave").click(); // nobody asked yet
    });
    endHold(patients_.get(), session_, home, stay);
    ASSERT_TRUE(settled());
    const auto asked = safety::orderQuestions(session_.agency()->index());
    const auto question = std::ranges::find(asked, home.id, &safety::OrderQuestion::patient);
    ASSERT_NE(question, asked.end());
    patients_->selectPatient(home.id);
    EXPECT_TRUE(in<QLabel>(*patients_, "patientFacts").text().contains(QStringLiteral("To confirm")));
    auto &tabs = in<QTabWidget>(*patients_, "patientTabs");
    for (int tab = 0;
         tab < tabs.count() && !patients_->findChild<QPushButton *>(QStringLiteral("orderAnswer")); ++tab)
        tabs.setCurrentIndex(tab);
    withNextDialog([&](QWidget &form) {
        picture(form, "order-answer");
        fill(form, "answered_by", QStringLiteral("the prescriber"));
        fill(form, "words", QStringLiteral("goes on"));
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "not read back";
        in<QCheckBox>(form, "was_read_back").setChecked(true);
        in<QPushButton>(form, "formSave").click();
    });
    in<QPushButton>(*patients_, "orderAnswer").click();
    ASSERT_TRUE(settled());
    EXPECT_FALSE(desk::answerText(question->order, session_.agency()->index()).isEmpty());
}

TEST_F(PeopleStory, WhoGoesAwayDrainingIsToldHowMuchToCarry) {
    const auto &orders = session_.agency()->snapshot().drainOrders;
    const SnapshotIndex &index = session_.agency()->index();
    const auto daily = std::ranges::find_if(orders, [&](const DrainOrder &o) {
        const Catheter *catheter = index.catheter(o.catheter);
        return !o.end && o.pattern.kind == DrainPatternKind::EveryNDays && catheter &&
               index.isInService(*catheter) && !index.holdOn(catheter->patient, session_.today());
    });
    ASSERT_NE(daily, orders.end());
    const Patient home = *index.patient(index.catheter(daily->catheter)->patient);
    withNextDialog([&](QWidget &form) {
        auto &carry = in<QLabel>(form, "carry");
        EXPECT_FALSE(carry.isVisible());
        in<QCheckBox>(form, "still_draining").setChecked(true);
        EXPECT_TRUE(carry.text().contains(QStringLiteral("without a day of return")));
        fill(form, "expected_return", QStringLiteral("+10"));
        EXPECT_TRUE(carry.isVisible());
        EXPECT_TRUE(carry.text().contains(QStringLiteral("plain rule"))) << carry.text().toStdString();
        EXPECT_TRUE(carry.text().contains(QStringLiteral("10 days"))) << carry.text().toStdString();
        picture(form, "away");
        in<QPushButton>(form, "formSave").click();
    });
    putOnHold(patients_.get(), session_, home);
    ASSERT_TRUE(settled());
    patients_->selectPatient(home.id);
    EXPECT_TRUE(in<QLabel>(*patients_, "patientFacts").text().contains(QStringLiteral("To carry")));
}

TEST_F(PeopleStory, TheHolidaysArePlannedByPatientSavedAndPrinted) {
    withNextDialog([&](QWidget &dialog) {
        ASSERT_TRUE(waitFor([&] { return in<QPushButton>(dialog, "holidayPrint").isEnabled(); }));
        EXPECT_TRUE(in<QLabel>(dialog, "holidayHead").text().contains(QStringLiteral("26 Nov")))
            << in<QLabel>(dialog, "holidayHead").text().toStdString();
        EXPECT_GT(rows("holidayTable", dialog), 0);
        picture(dialog, "holidays");
        const QString csv = path("holidays.csv");
        Ask::nextText(csv);
        in<QPushButton>(dialog, "holidayCsv").click();
        EXPECT_GT(QFileInfo(csv).size(), 200);
        const QString paper = path("holidays.pdf");
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(paper);
        in<QPushButton>(dialog, "holidayPrint").click();
        EXPECT_EQ(in<QPushButton>(dialog, "holidayPrint").shortcut(), QKeySequence(QKeySequence::Print));
        EXPECT_EQ(in<QPushButton>(dialog, "holidayCsv").shortcut(), QKeySequence(Qt::CTRL | Qt::Key_S));
        EXPECT_GT(QFileInfo(paper).size(), 3000);
        in<QPushButton>(dialog, "holidayClose").click();
    });
    in<QPushButton>(*today_, "holidayOpen").click();
}

// The watch list while others work on it, too.
class WatchStory : public PeopleStory {
protected:
    DenseTable &table() { return in<DenseTable>(*load_, "watchTable"); }
    QString why() { return in<QLabel>(*load_, "watchWhy").text(); }
    desk::WatchList list() const { return desk::watchList(*session_.agency()); }
    WatchEntry takenUp(const desk::WatchRow &row) const {
        WatchEntry entry = row.entry.value_or(WatchEntry{});
        entry.patient = row.patient;
        for (const desk::WatchReason &reason : row.reasons)
            entry.known.push_back(reason.subject);
        entry.ownerUser = session_.agency()->snapshot().users.front().id;
        entry.nextStep = "Nurse calls the home";
        entry.nextOn = session_.today().plusDays(2);
        return entry;
    }
    void keep(const WatchEntry &entry) {
        ASSERT_FALSE(
            session_.write(QStringLiteral("Kept"), [&](desk::Desk &d) { return d.save(entry); }).has_value());
        ASSERT_TRUE(settled());
    }
    void close(const desk::WatchRow &row) {
        WatchEntry entry = takenUp(row);
        entry.closedAt = session_.now();
        entry.outcome = "prescriber told";
        keep(entry);
    }
};

TEST_F(WatchStory, AChoiceIsAPatientsAndIsHandedToNobodyElse) {
    const desk::WatchList before = list();
    ASSERT_GE(before.rows.size(), 3U);
    const QString who = before.rows[1].who;
    table().selectSourceRow(1);
    ASSERT_TRUE(why().startsWith(who + u':')) << why().toStdString();
    close(before.rows[0]);
    EXPECT_EQ(table().currentSourceRow(), 0) << "the row moved up, the patient is the same";
    EXPECT_TRUE(why().startsWith(who + u':')) << why().toStdString();
    close(before.rows[1]);
    EXPECT_EQ(table().currentSourceRow(), -1) << "who stands there now was not chosen";
    EXPECT_TRUE(why().startsWith(who + u' ')) << why().toStdString();
    EXPECT_FALSE(in<QPushButton>(*load_, "watchDecide").isEnabled());
    table().selectSourceRow(0);
    EXPECT_TRUE(why().startsWith(before.rows[2].who + u':')) << why().toStdString();
    EXPECT_TRUE(in<QPushButton>(*load_, "watchDecide").isEnabled());
}

TEST_F(WatchStory, WhoHasItIsSaidAsSoonAsTheRecordsAreReadAgain) {
    const auto state = [&] { return table().model()->index(0, 4).data().toString(); };
    ASSERT_EQ(state(), desk::words(desk::WatchState::NoOwner));
    QString saidAtOnce; // before stock and weeks are worked out again
    const auto heard =
        QObject::connect(&session_, &Session::agencyChanged, load_.get(), [&] { saidAtOnce = state(); });
    keep(takenUp(list().rows.front()));
    QObject::disconnect(heard);
    EXPECT_EQ(saidAtOnce, desk::words(desk::WatchState::Waiting));
}

TEST_F(WatchStory, TheQuestionNamesThePatientAndAnEmptyListSaysSo) {
    auto &which = in<QComboBox>(*load_, "watchWhich");
    which.setCurrentIndex(1);
    EXPECT_EQ(why(), QStringLiteral("Nothing is put off."));
    which.setCurrentIndex(2);
    EXPECT_EQ(why(), QStringLiteral("No watch has been closed yet."));
    which.setCurrentIndex(0);
    const desk::WatchRow row = list().rows.front();
    keep(takenUp(row));
    table().selectSourceRow(0);
    QString title;
    withNextDialog([&](QWidget &question) {
        title = question.windowTitle();
        question.close();
    });
    Ask::setSilent(false);
    in<QPushButton>(*load_, "watchClose").click();
    Ask::setSilent(true);
    EXPECT_EQ(title, QStringLiteral("Close the watch of %1").arg(row.who));
}

TEST_F(WatchStory, WhatComesUpWhileTheFormIsOpenIsNewsAfterwards) {
    const desk::WatchRow row = list().rows.front();
    table().selectSourceRow(0);
    withNextDialog([&](QWidget &form) {
        for (int i = 0; i < 2; ++i) { // two are a pattern
            PhoneCall call;
            call.patient = row.patient;
            call.at = session_.now();
            call.topic = CallTopic::Clinical;
            call.owner = "the nurse on call";
            ASSERT_FALSE(session_.write(QStringLiteral("Called"), [&](desk::Desk &d) { return d.save(call); })
                             .has_value());
        }
        ASSERT_TRUE(settled());
        in<QComboBox>(form, "owner").setCurrentIndex(1);
        fill(form, "next_step", QStringLiteral("Nurse calls the home"));
        fill(form, "next_on", QStringLiteral("+2"));
        in<QPushButton>(form, "formSave").click();
    });
    in<QPushButton>(*load_, "watchDecide").click();
    ASSERT_TRUE(settled());
    const desk::WatchList after = list();
    const auto found = std::ranges::find(after.rows, row.patient, &desk::WatchRow::patient);
    ASSERT_NE(found, after.rows.end());
    ASSERT_TRUE(found->entry.has_value());
    EXPECT_LE(found->entry->known.size(), row.reasons.size()) << "no more than was shown";
    EXPECT_EQ(found->state, desk::WatchState::New);
}

TEST_F(WatchStory, TheListIsReachedWhereNoNurseHasAWeek) {
    const std::vector<Nurse> nurses = session_.agency()->snapshot().nurses;
    for (Nurse nurse : nurses) {
        nurse.isActive = false;
        ASSERT_FALSE(
            session_.write(QStringLiteral("Left"), [&](desk::Desk &d) { return d.save(nurse); }).has_value());
    }
    ASSERT_TRUE(settled());
    ASSERT_TRUE(session_.nextWeek()->problem.nurses.empty());
    auto &care = in<QTabWidget>(*load_, "careGroup");
    EXPECT_TRUE(care.isVisible());
    EXPECT_TRUE(care.tabText(care.currentIndex()).startsWith(QStringLiteral("Watch list")));
    auto &loads = in<QTabWidget>(*load_, "loadGroup");
    for (int tab = 0; tab < loads.count(); ++tab)
        EXPECT_EQ(loads.isTabEnabled(tab), loads.tabText(tab).startsWith(QStringLiteral("Decisions")))
            << "the nurses' load needs a week; that one is missing may be what is decided";
    EXPECT_GT(table().model()->rowCount(), 0);
    EXPECT_TRUE(in<QLabel>(*load_, "loadSummary").text().startsWith(QStringLiteral("Nothing to review yet")));
    bool isAsked = false;
    withNextDialog([&](QWidget &form) {
        isAsked = form.findChild<QComboBox *>(QStringLiteral("kind")) != nullptr;
        in<QPushButton>(form, "formCancel").click();
    });
    for (QAction *action : load_->pageActions())
        if (action->text().contains(QStringLiteral("decision")))
            action->trigger();
    EXPECT_TRUE(isAsked);
    EXPECT_TRUE(in<DenseTable>(*load_, "decisionTable").isVisible());
}

} // namespace
} // namespace kitround::ui
