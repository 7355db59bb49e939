// The homes to be phoned about a plan that changed: ticked off, put back, the next one chosen.
#include "tests/gui/PlanFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"

#include <QAction>
#include <QFile>
#include <QLabel>

#include <algorithm>

namespace kitround::ui {
namespace {

TEST_F(PlanStory, AHomeIsTickedOffOnceSomebodyThereHasHeardOfTheChange) {
    window_->showPage(QStringLiteral("today"));
    withNextForm([&](QWidget &dialog) {
        EXPECT_TRUE(dialog.findChild<QLabel *>(QStringLiteral("patientCallsHead"))
                        ->text()
                        .contains(QStringLiteral("No home has to be phoned")))
            << "an empty list says what it is for";
        EXPECT_FALSE(dialog.findChild<QPushButton *>(QStringLiteral("patientCallsReached"))->isEnabled());
        press(dialog, "patientCallsClose");
    });
    find<QAction>("actionPatientCalls").trigger();

    ASSERT_TRUE(changeTomorrow().isSet());
    auto &table = find<DenseTable>("attentionTable");
    const auto row = [&] {
        for (int at = 0; at < table.model()->rowCount(); ++at)
            if (table.model()->index(at, 1).data().toString().contains(QStringLiteral("to phone about")))
                return at;
        return -1;
    };
    ASSERT_GE(row(), 0);
    table.setFocus();
    table.selectRow(row());
    EXPECT_TRUE(find<QPushButton>("attentionOpen").text().contains(QStringLiteral("call list")));
    const auto homes = waiting();
    ASSERT_GE(homes, 1U);
    withNextForm([&](QWidget &dialog) {
        auto *calls = dialog.findChild<DenseTable *>(QStringLiteral("patientCallsTable"));
        ASSERT_NE(calls, nullptr);
        const int rows = calls->model()->rowCount();
        const auto record = [&](int choice) {
            withNextForm([&](QWidget &form) {
                auto *number = form.findChild<QLabel *>(QStringLiteral("phone"));
                auto *say = form.findChild<QLabel *>(QStringLiteral("say"));
                ASSERT_TRUE(number && say);
                for (const QLabel *label : {number, say}) { // dialled and read out
                    EXPECT_FALSE(label->text().isEmpty());
                    EXPECT_FALSE(label->property("ink").isValid()) << "no quiet note";
                    EXPECT_TRUE(label->textInteractionFlags().testFlag(Qt::TextSelectableByMouse));
                }
                press(form, "formSave");
                EXPECT_TRUE(form.isVisible()) << "who was reached has to be said";
                choose(form, "reached", choice);
                press(form, "formSave");
            });
            QTest::keyClick(calls, Qt::Key_Return);
        };
        constexpr int kKind = 2, kTried = 6;
        EXPECT_FALSE(calls->model()->index(0, kKind).data().toString().isEmpty());
        record(3); // nobody
        EXPECT_TRUE(waitFor([&] {
            return calls->currentIndex().siblingAtColumn(kTried).data().toString().contains(
                QStringLiteral("nobody answered"));
        }));
        EXPECT_EQ(calls->model()->rowCount(), rows);
        const QString copy = path("calls.csv");
        Ask::nextText(copy);
        press(dialog, "patientCallsCsv");
        EXPECT_TRUE(QFile::exists(copy));
        const QString paper = path("calls.pdf");
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(paper);
        press(dialog, "patientCallsPrint");
        EXPECT_TRUE(QFile::exists(paper));
        record(0); // the patient
        EXPECT_TRUE(waitFor([&] { return waiting() == homes - 1; }));
        EXPECT_LT(calls->model()->rowCount(), rows);
        press(dialog, "patientCallsClose");
    });
    QTest::keyClick(&table, Qt::Key_Return);
    waitComputed();
    EXPECT_EQ(waiting(), homes - 1);
    EXPECT_EQ(row() >= 0, homes > 1);
    const auto &kept = session().agency()->snapshot().patientTold;
    ASSERT_EQ(kept.size(), 2U);
    EXPECT_EQ(kept[0].reached, Reached::Nobody);
    EXPECT_EQ(kept[1].reached, Reached::Patient);
    EXPECT_EQ(kept[0].visits, kept[1].visits);
}

TEST_F(PlanStory, ACallWrittenDownWronglyIsPutBackByEnterAndByItsKey) {
    window_->resize(1600, 900);
    window_->showPage(QStringLiteral("today"));
    ASSERT_TRUE(changeTomorrow().isSet());
    const auto homes = waiting();
    ASSERT_GE(homes, 1U);
    withNextForm([&](QWidget &dialog) {
        EXPECT_GE(dialog.width(), 1000);
        auto *calls = dialog.findChild<DenseTable *>(QStringLiteral("patientCallsTable"));
        auto *recorded = dialog.findChild<DenseTable *>(QStringLiteral("recordedCallsTable"));
        auto *back = dialog.findChild<QPushButton *>(QStringLiteral("patientCallsBack"));
        ASSERT_TRUE(calls && recorded && back);
        EXPECT_FALSE(recorded->isVisible()) << "nothing was written down";
        EXPECT_FALSE(back->isEnabled());
        const auto reach = [&] {
            const int before = recorded->model()->rowCount();
            withNextForm([&](QWidget &form) {
                choose(form, "reached", 0);
                press(form, "formSave");
            });
            QTest::keyClick(calls, Qt::Key_Return);
            EXPECT_TRUE(waitFor([&] { return recorded->model()->rowCount() == before + 1; }));
            EXPECT_EQ(waiting(), homes - 1);
            recorded->setCurrentIndex(recorded->model()->index(0, 0)); // the newest
        };
        reach();
        EXPECT_TRUE(recorded->isVisible() && back->isEnabled());
        const auto giveReason = [&](const QString &why) {
            withNextForm([this, why](QWidget &form) {
                press(form, "formSave");
                EXPECT_TRUE(form.isVisible()) << "a reason has to be given";
                type(form, "taken_back_why", why);
                press(form, "formSave");
            });
        };
        giveReason(QStringLiteral("wrong row"));
        recorded->setFocus();
        QTest::keyClick(recorded, Qt::Key_Return);
        EXPECT_TRUE(waitFor([&] { return waiting() == homes; }));
        constexpr int kPutBack = 6;
        EXPECT_TRUE(
            recorded->model()->index(0, kPutBack).data().toString().contains(QStringLiteral("wrong row")));
        EXPECT_FALSE(back->isEnabled()) << "once is enough";
        reach();
        dialog.activateWindow(); // the form before it had the keyboard
        ASSERT_TRUE(waitFor([&] { return dialog.isActiveWindow() && back->isEnabled(); }));
        giveReason(QStringLiteral("it was the neighbour"));
        QTest::keyClick(&dialog, Qt::Key_B, Qt::ControlModifier);
        EXPECT_TRUE(waitFor([&] { return waiting() == homes; }));
        press(dialog, "patientCallsClose");
    });
    find<QAction>("actionPatientCalls").trigger();
    const auto &kept = session().agency()->snapshot().patientTold;
    ASSERT_EQ(kept.size(), 2U) << "both calls stay on record";
    EXPECT_TRUE(kept[0].isTakenBack() && kept[1].isTakenBack());
}

TEST_F(PlanStory, AfterACallTheNextHomeDownTheListIsChosenAndWhatWasTriedIsReadWhole) {
    window_->showPage(QStringLiteral("today"));
    std::vector<PatientId> homes;
    for (const Visit &visit : std::vector<Visit>(session().agency()->snapshot().visits))
        if (waiting() < 3 && visit.status == VisitStatus::Published && visit.order && visit.on &&
            *visit.on > session().today() && std::ranges::find(homes, visit.patient) == homes.end()) {
            homes.push_back(visit.patient);
            EXPECT_FALSE(session().write(QStringLiteral("Called off a visit"), [&](desk::Desk &desk) {
                return desk.dropVisit(visit, "prescriber: one fewer");
            }));
            waitComputed();
        }
    const std::size_t before = waiting();
    ASSERT_GE(before, 3U);
    withNextForm([&](QWidget &dialog) {
        auto *calls = dialog.findChild<DenseTable *>(QStringLiteral("patientCallsTable"));
        ASSERT_NE(calls, nullptr);
        EXPECT_TRUE(calls->wordWrap()) << "no column is cut";
        const int last = calls->model()->rowCount() - 1;
        const auto reach = [&](int row, std::size_t left) {
            calls->setCurrentIndex(calls->model()->index(row, 0));
            withNextForm([&](QWidget &form) {
                choose(form, "reached", 0);
                press(form, "formSave");
            });
            QTest::keyClick(calls, Qt::Key_Return);
            EXPECT_TRUE(waitFor([&] { return waiting() == left; }));
        };
        reach(last, before - 1);
        EXPECT_GT(calls->currentIndex().row(), 0) << "not back at the top";
        EXPECT_EQ(calls->currentIndex().row(), calls->model()->rowCount() - 1);
        reach(0, before - 2);
        EXPECT_EQ(calls->currentIndex().row(), 0) << "nobody is skipped";
        press(dialog, "patientCallsClose");
    });
    find<QAction>("actionPatientCalls").trigger();
}

} // namespace
} // namespace kitround::ui
