// The manager's Friday in the window: review the load, ask what a nurse away would mean, read both plans side
// by side, find who can take a referral, and print the review for the meeting.
#include "tests/gui/ManagerFixture.h"
#include "ui/load/HeatTable.h"
#include "ui/load/WhatIfDialog.h"
#include "ui/print/PaperPdf.h"
#include "ui/shared/ReferralDialog.h"

#include <QApplication>
#include <QBuffer>
#include <QComboBox>
#include <QFile>
#include <QFileInfo>
#include <QHeaderView>
#include <QItemSelectionModel>
#include <QLabel>
#include <QLineEdit>
#include <QPdfWriter>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollBar>
#include <QSpinBox>
#include <QTabWidget>

#include <algorithm>

namespace kitround::ui {
namespace {

TEST_F(ManagerStory, FridayReviewWhatIfReferralAndPaper) {
    // The review: who has too much, and the evenness that a mean hides.
    EXPECT_TRUE(find<QLabel>("loadSummary").text().contains(QStringLiteral("Gini")));
    EXPECT_TRUE(find<QLabel>("loadWeights").text().contains(QStringLiteral("2.00"))) << "weights are visible";
    auto &heat = find<HeatTable>("heatTable");
    ASSERT_TRUE(waitFor([&] { return heat.rowCount() > 0; }));
    EXPECT_EQ(heat.rowCount(), find<DenseTable>("loadTable").model()->rowCount());
    EXPECT_GT(find<DenseTable>("deadlineTable").model()->rowCount(), 0);
    EXPECT_EQ(find<DenseTable>("aheadTable").model()->rowCount(), 8);
    EXPECT_GT(find<DenseTable>("areaTable").model()->rowCount(), 0);
    EXPECT_GE(find<DenseTable>("qualityTable").model()->rowCount(), 2);

    // What if the first nurse is away all week?
    const Snapshot before = session_.agency()->snapshot();
    const Nurse away = before.nurses.front();
    withNextDialog([&](QWidget &dialog) {
        choose(dialog, "whatIfNurse", qint64(away.id.value()));
        runWhatIf(dialog);
        const auto &lines = *in<DenseTable>(dialog, "whatIfTable").model();
        EXPECT_GE(lines.rowCount(), 10);
        const auto &nurses = *in<DenseTable>(dialog, "whatIfNurses").model();
        bool isAway = false;
        for (int row = 0; row < nurses.rowCount(); ++row)
            isAway = isAway || (text(nurses, row, 0).startsWith(QString::fromStdString(away.familyName)) &&
                                text(nurses, row, 2) == QStringLiteral("away"));
        EXPECT_TRUE(isAway);
        // Another question takes the answer of this one away, and what could be kept of it.
        auto &whom = in<QComboBox>(dialog, "whatIfNurse");
        whom.setCurrentIndex(whom.currentIndex() == 0 ? 1 : 0);
        EXPECT_EQ(lines.rowCount(), 0);
        EXPECT_FALSE(in<QPushButton>(dialog, "whatIfKeep").isEnabled());
        choose(dialog, "whatIfNurse", qint64(away.id.value()));
        runWhatIf(dialog);
        Ask::nextText(QStringLiteral("Summer leave"));
        in<QPushButton>(dialog, "whatIfKeep").click();
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
    const auto &kept = *find<DenseTable>("keptTable").model();
    ASSERT_TRUE(waitFor([&] { return kept.rowCount() == 1; }));
    EXPECT_EQ(text(kept, 0, 0), QStringLiteral("Summer leave"));
    EXPECT_TRUE(text(kept, 0, 4).contains(QStringLiteral("Not placed"))) << "what it said that day";
    EXPECT_TRUE(text(kept, 0, 4).contains(QStringLiteral("highest share")));
    const Snapshot &after = session_.agency()->snapshot();
    EXPECT_EQ(after.timeOff.size(), before.timeOff.size()) << "a what-if changes nothing";
    EXPECT_EQ(after.visits, before.visits);

    EXPECT_TRUE(find<QLabel>("keptRead1").text().contains(QStringLiteral("over full")))
        << "read whole below the list: " << find<QLabel>("keptRead1").text().toStdString();
    EXPECT_FALSE(find<QLabel>("keptRead2").isVisibleTo(page_.get())) << "one is kept";

    // Who can take the referral that waits?
    int able = 0;
    withNextDialog([&](QWidget &dialog) {
        const auto &places = *in<DenseTable>(dialog, "referralTable").model();
        ASSERT_TRUE(waitFor([&] { return places.rowCount() > 0; }));
        for (int row = 0; row < places.rowCount(); ++row) {
            able += text(places, row, 1).isEmpty() ? 0 : 1;
            EXPECT_FALSE(text(places, row, 1).isEmpty() && text(places, row, 8).isEmpty())
                << "who cannot has a reason";
            EXPECT_FALSE(text(places, row, 4).isEmpty() || text(places, row, 5).isEmpty())
                << "both weeks of every nurse";
            in<DenseTable>(dialog, "referralTable").selectSourceRow(row);
            EXPECT_TRUE(in<QLabel>(dialog, "referralCautions").text().contains(text(places, row, 8)))
                << "read in full below";
        }
        in<QPushButton>(dialog, "referralClose").click();
    });
    find<QPushButton>("loadReferral").click();
    EXPECT_GE(able, 1);

    // The paper for the meeting.
    const QString paper = path("review.pdf");
    Ask::nextChoice(1); // save as PDF
    Ask::nextText(paper);
    find<QPushButton>("loadPrint").click();
    EXPECT_FALSE(find<QPushButton>("loadPrint").isEnabled()) << "worked out aside, once";
    ASSERT_TRUE(waitFor([&] { return find<QPushButton>("loadPrint").isEnabled(); }));
    EXPECT_GT(QFileInfo(paper).size(), 5000);

    // Opened again it is worked out anew, and says so; then it is thrown away.
    withNextDialog([&](QWidget &dialog) {
        EXPECT_EQ(dialog.windowTitle(), QStringLiteral("Summer leave"));
        ASSERT_TRUE(waitFor([&] { return in<DenseTable>(dialog, "whatIfTable").model()->rowCount() > 0; }));
        EXPECT_TRUE(
            in<QLabel>(dialog, "whatIfNotes").text().contains(QStringLiteral("anew on the records of")));
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("keptOpen").click();
    Ask::nextAnswer(true);
    find<QPushButton>("keptDrop").click();
    EXPECT_TRUE(waitFor([&] { return kept.rowCount() == 0; }));
    EXPECT_TRUE(session_.agency()->snapshot().keptWhatIfs.empty());
}

TEST_F(ManagerStory, APlanThatIsNotSavedYetIsSaid) {
    const auto &said = find<QLabel>("loadSummary");
    std::optional<DateRange> unsaved = session_.nextWeek()->week;
    page_->askUnsaved([&] { return unsaved; });
    const auto comeBack = [&] {
        page_->setVisible(false);
        page_->setVisible(true);
    };
    comeBack();
    EXPECT_TRUE(said.text().contains(QStringLiteral("not saved yet"))) << said.text().toStdString();
    EXPECT_TRUE(said.text().contains(QStringLiteral("Gini"))) << "what is saved stands beside it";
    unsaved = session_.thisWeek()->week; // another week's plan
    comeBack();
    EXPECT_FALSE(said.text().contains(QStringLiteral("not saved yet")));
    unsaved.reset();
    comeBack();
    EXPECT_FALSE(said.text().contains(QStringLiteral("not saved yet")));
}

TEST_F(ManagerStory, TwoKeptAnswersAreReadSideBySide) {
    for (const char *name : {"First", "Second", "Third"}) {
        KeptWhatIf kept;
        kept.name = name;
        kept.weekStart = session_.nextWeek()->week.from;
        kept.kind = WhatIfKind::NurseAway;
        kept.nurse = session_.agency()->snapshot().nurses.front().id;
        kept.keptOn = session_.today();
        kept.saidThen = std::string("Not placed 0 to 1; over full 1 to 2; said of ") + name;
        ASSERT_FALSE(
            session_.write(QStringLiteral("Kept"), [&](desk::Desk &desk) { return desk.save(kept); }));
    }
    ASSERT_TRUE(settled());
    auto &table = find<DenseTable>("keptTable");
    ASSERT_TRUE(waitFor([&] { return table.model()->rowCount() == 3; }));
    const auto choose = [&](int row, QItemSelectionModel::SelectionFlag how) {
        table.selectionModel()->select(table.model()->index(row, 0), how | QItemSelectionModel::Rows);
    };
    choose(0, QItemSelectionModel::ClearAndSelect);
    choose(2, QItemSelectionModel::Select);
    const QString left = find<QLabel>("keptRead1").text(), right = find<QLabel>("keptRead2").text();
    EXPECT_TRUE(left.contains(QStringLiteral("said of First"))) << left.toStdString();
    EXPECT_TRUE(right.contains(QStringLiteral("said of Third"))) << right.toStdString();
    EXPECT_EQ(left.split(u'\n').size(), right.split(u'\n').size()) << "line beside line";
    choose(1, QItemSelectionModel::ClearAndSelect);
    EXPECT_TRUE(find<QLabel>("keptRead1").text().contains(QStringLiteral("said of Second")));
    EXPECT_TRUE(find<QLabel>("keptRead2").text().isEmpty());
}

TEST_F(ManagerStory, LeaveIsLookedAtPlannedAndDecided) {
    auto &table = find<DenseTable>("leaveTable");
    ASSERT_GE(table.model()->rowCount(), 2);
    ASSERT_EQ(text(*table.model(), 0, 1), QStringLiteral("requested")) << "requests come first";
    table.selectSourceRow(0);
    withNextDialog([&](QWidget &dialog) {
        EXPECT_TRUE(
            in<QLabel>(dialog, "leaveWarnings").text().contains(QStringLiteral("would be off in the")))
            << in<QLabel>(dialog, "leaveWarnings").text().toStdString();
        withNextDialog([&](QWidget &whatIf) {
            ASSERT_TRUE(
                waitFor([&] { return in<DenseTable>(whatIf, "whatIfTable").model()->rowCount() > 0; }));
            EXPECT_TRUE(in<QLabel>(whatIf, "whatIfSummary").text().contains(QStringLiteral("away")));
            in<QPushButton>(whatIf, "whatIfClose").click();
        });
        in<QPushButton>(dialog, "leavePlan").click();
        in<QPushButton>(dialog, "leaveApprove").click(); // flagged: asked once more, and not answered
        EXPECT_TRUE(dialog.isVisible());
        in<QLineEdit>(dialog, "leaveNote").setText(QStringLiteral("N4 is away already"));
        in<QPushButton>(dialog, "leaveDecline").click();
    });
    find<QPushButton>("leaveReview").click();
    ASSERT_TRUE(settled());
    const auto &all = session_.agency()->snapshot().timeOff;
    const auto declined = std::ranges::find(all, LeaveStatus::Declined, &TimeOff::status);
    ASSERT_NE(declined, all.end());
    EXPECT_EQ(declined->decisionNote, "N4 is away already");
    EXPECT_TRUE(declined->decidedBy.has_value());
}

TEST_F(ManagerStory, AnAreaIsClosedAndTheReferralIsToldSo) {
    auto &areas = find<DenseTable>("intakeTable");
    ASSERT_TRUE(waitFor([&] { return areas.model() && areas.model()->rowCount() >= 8; }));
    const auto &patients = session_.agency()->snapshot().patients;
    const Patient referred = *std::ranges::find(patients, CareStatus::Referred, &Patient::status);
    withNextDialog([&](QWidget &form) {
        choose(form, "area", qint64(referred.address.area));
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "a reason is needed";
        in<QLineEdit>(form, "reason").setText(QStringLiteral("two nurses away"));
        in<QPushButton>(form, "formSave").click();
    });
    find<QPushButton>("intakeClose").click();
    ASSERT_TRUE(settled());
    auto &closures = find<DenseTable>("closureTable");
    ASSERT_TRUE(waitFor([&] { return closures.model()->rowCount() == 1; }));
    {
        ReferralDialog dialog(session_, referred.id);
        ASSERT_TRUE(waitFor([&] { return in<QPushButton>(dialog, "referralName").isEnabled(); }));
        EXPECT_TRUE(
            in<QLabel>(dialog, "referralSummary").text().contains(QStringLiteral("closed to referrals")));
    }
    find<QPushButton>("intakeOpen").click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(desk::closureOf(*session_.agency(), referred.address.area, session_.today()), nullptr);
}

TEST_F(ManagerStory, ProductivityIsCopiedAndTheRotaPrinted) {
    auto &work = find<DenseTable>("workTable");
    ASSERT_TRUE(waitFor([&] { return work.model() && work.model()->rowCount() >= 6; }));
    find<QComboBox>("workWhich").setCurrentIndex(2); // work by nurse
    EXPECT_TRUE(find<QLabel>("workTableNotes").text().contains(QStringLiteral("travel share")));
    const QString csv = path("work.csv");
    Ask::nextText(csv);
    find<QPushButton>("workCsv").click();
    QFile file(csv);
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_TRUE(file.readLine().startsWith("nurse,mostly,visits,days,visits_a_day,travel_percent"));
    for (const auto &[button, name] :
         {std::pair("workPrint", "work.pdf"), std::pair("onCallPrint", "rota.pdf")}) {
        Ask::nextChoice(1); // save as PDF
        Ask::nextText(path(name));
        find<QPushButton>(button).click();
        EXPECT_GT(QFileInfo(path(name)).size(), 3000) << name;
    }
    bool isFlagged = false;
    auto &onCall = find<DenseTable>("onCallTable");
    ASSERT_TRUE(waitFor([&] { return onCall.model() && onCall.model()->rowCount() > 0; }));
    const auto &turns = *onCall.model();
    for (int row = 0; row < turns.rowCount(); ++row)
        if (text(turns, row, 6).contains(desk::tooShortRestText())) {
            isFlagged = true;
            EXPECT_EQ(turns.index(row, 6).data(Qt::ForegroundRole).value<QColor>(),
                      Look::colour(Role::Watch));
        }
    EXPECT_TRUE(isFlagged) << "a night on call before a day's work";
}

TEST_F(ManagerStory, HeadingsSortNumbersAsNumbersAndDaysAsDaysByMouseAndKeys) {
    auto &tabs = find<QTabWidget>("loadGroup");
    auto &nurses = find<DenseTable>("loadTable");
    for (const int column : {4, 5, 11}) // minutes with patients and on the road; "3.5 of 25" points
        expectNumbersSorted(nurses, column);

    // Left and right choose the column, up and down which way; left of the first is the order given.
    QHeaderView &head = *nurses.horizontalHeader();
    QTest::keyClick(&nurses, Qt::Key_Down, Qt::AltModifier);
    EXPECT_EQ(head.sortIndicatorOrder(), Qt::DescendingOrder);
    QTest::keyClick(&nurses, Qt::Key_Left, Qt::AltModifier);
    EXPECT_EQ(head.sortIndicatorSection(), 10);
    for (int press = 0; press < 14; ++press)
        QTest::keyClick(&nurses, Qt::Key_Left, Qt::AltModifier);
    EXPECT_EQ(head.sortIndicatorSection(), -1);

    auto &ahead = find<DenseTable>("aheadTable");
    ASSERT_TRUE(waitFor([&] { return ahead.model() && ahead.model()->rowCount() == 8; }));
    tabs.setCurrentIndex(2);
    expectNumbersSorted(ahead, 5); // "120 (96–140)"
    auto &deadlines = find<DenseTable>("deadlineTable");
    for (int row = 0; row < deadlines.model()->rowCount(); ++row) {
        const QModelIndex due = deadlines.model()->index(row, 2);
        const auto moment = localTimeFromIso(due.data(kSortRole).toString().toStdString());
        ASSERT_TRUE(moment) << due.data(kSortRole).toString().toStdString();
        EXPECT_EQ(due.data().toString(), desk::momentText(*moment));
    }

    tabs.setCurrentIndex(1);
    auto &heat = find<HeatTable>("heatTable");
    const QString first = heat.verticalHeaderItem(0)->text();
    QTest::keyClick(&heat, Qt::Key_Right, Qt::AltModifier);
    QTest::keyClick(&heat, Qt::Key_Down, Qt::AltModifier);
    for (int row = 1; row < heat.rowCount(); ++row)
        EXPECT_GE(leadingNumber(heat.item(row - 1, 0)->text()).value_or(-1),
                  leadingNumber(heat.item(row, 0)->text()).value_or(-1));
    QTest::keyClick(&heat, Qt::Key_Left, Qt::AltModifier);
    EXPECT_EQ(heat.verticalHeaderItem(0)->text(), first) << "by name again";
}

TEST_F(ManagerStory, EveryColumnOfTheLoadIsSeenAndTheTipSaysWhatTheShareRestsOn) {
    auto &nurses = find<DenseTable>("loadTable");
    ASSERT_TRUE(waitFor([&] { return nurses.model()->rowCount() > 0; }));
    // Columns grow for rows that come later, and the scroll bar hears of it, after the next turn of events
    // only.
    nurses.fitColumns(0);
    nurses.doItemsLayout();
    EXPECT_EQ(nurses.horizontalScrollBar()->maximum(), 0);
    for (int row = 0; row < nurses.model()->rowCount(); ++row) {
        const QModelIndex share = nurses.model()->index(row, 9);
        const QString tip = share.data(Qt::ToolTipRole).toString();
        EXPECT_EQ(tip.section(u':', 0, 0).section(u',', 0, 0), share.data().toString().section(u',', 0, 0));
    }
}

TEST_F(ManagerStory, TheSumOfTheCostStaysLastHoweverItIsSorted) {
    auto &work = find<DenseTable>("workTable");
    ASSERT_TRUE(waitFor([&] { return work.model() && work.model()->rowCount() >= 6; }));
    const int last = work.model()->rowCount() - 1;
    EXPECT_TRUE(work.model()->index(last, 0).data(Qt::FontRole).isValid()) << "the sum stands out";
    EXPECT_FALSE(work.model()->index(0, 0).data(Qt::FontRole).isValid());
    for (const Qt::SortOrder order : {Qt::AscendingOrder, Qt::DescendingOrder}) {
        work.sortByColumn(1, order);
        EXPECT_EQ(text(*work.model(), last, 0), QStringLiteral("Sum"));
        EXPECT_NE(text(*work.model(), 0, 0), QStringLiteral("Sum"));
    }
}

TEST(LeadingNumberTest, IsNeitherAClockTimeNorADay) {
    EXPECT_EQ(leadingNumber(QStringLiteral("12 (8\u201315)")), 12);
    EXPECT_EQ(leadingNumber(QStringLiteral("\u22123.5 min, worse")), -3.5);
    EXPECT_EQ(leadingNumber(QStringLiteral("+40 min")), 40);
    for (const char *text : {"", "08:00", "2026-03-02", "2026-03-02T08:00", "away"})
        EXPECT_FALSE(leadingNumber(QLatin1String(text))) << text;
}

TEST(PaperPdfTest, BarsThatFillAPageGoOnOnTheNext) {
    desk::Paper paper;
    desk::Paper::Section section;
    section.bars.emplace();
    section.bars->columns << QStringLiteral("Mon 2 Mar") << QStringLiteral("Mon 9 Mar");
    for (int row = 0; row < 80; ++row)
        section.bars->rows.push_back({QString::number(row), {{0.7, QStringLiteral("17.5")}, {1.4, {}}}});
    paper.sections.push_back(section);
    QBuffer bytes;
    bytes.open(QIODevice::WriteOnly);
    QPdfWriter writer(&bytes);
    EXPECT_GE(paint(paper, writer), 2) << "80 rows are taller than a page";
}

TEST_F(ManagerStory, AWhatIfCanBeStoppedAndAWrongHourIsSaidAtOnce) {
    withNextDialog([&](QWidget &dialog) {
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::Shift));
        EXPECT_TRUE(in<QLabel>(dialog, "whatIfShiftNow").text().startsWith(QStringLiteral("now ")));
        in<QLineEdit>(dialog, "whatIfFrom").setText(QStringLiteral("half past"));
        in<QPushButton>(dialog, "whatIfRun").click();
        EXPECT_TRUE(in<QPushButton>(dialog, "whatIfRun").isEnabled()) << "nothing runs";
        EXPECT_TRUE(in<QLabel>(dialog, "whatIfSummary").text().contains(QStringLiteral("half past")));
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::Referrals));
        in<QSpinBox>(dialog, "whatIfCount").setValue(40);
        in<QPushButton>(dialog, "whatIfRun").click();
        EXPECT_TRUE(in<QPushButton>(dialog, "whatIfStop").isVisible());
        in<QPushButton>(dialog, "whatIfStop").click();
        EXPECT_TRUE(waitFor([&] { return in<QPushButton>(dialog, "whatIfRun").isEnabled(); }));
        EXPECT_FALSE(in<QPushButton>(dialog, "whatIfKeep").isEnabled());
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
    EXPECT_EQ(find<DenseTable>("keptTable").model()->rowCount(), 0);
}

TEST_F(ManagerStory, AKeptNameIsAskedForUntilItIsFreeAndTheFieldsStayWhereTheyAre) {
    withNextDialog([&](QWidget &dialog) {
        const int x = in<QComboBox>(dialog, "whatIfKind").x();
        for (const auto kind : {desk::WhatIfKind::Referrals, desk::WhatIfKind::Setting,
                                desk::WhatIfKind::Shift, desk::WhatIfKind::NurseAway}) {
            choose(dialog, "whatIfKind", int(kind));
            QApplication::processEvents();
            EXPECT_EQ(in<QComboBox>(dialog, "whatIfKind").x(), x) << int(kind);
        }
        runWhatIf(dialog);
        Ask::nextText(QStringLiteral("Leave"));
        in<QPushButton>(dialog, "whatIfKeep").click();
        EXPECT_FALSE(in<QPushButton>(dialog, "whatIfKeep").isEnabled());
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::NurseAdded));
        runWhatIf(dialog);
        Ask::nextText(QStringLiteral("Leave")); // refused, and asked again
        Ask::nextText(QStringLiteral("Help"));
        in<QPushButton>(dialog, "whatIfKeep").click();
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
    const auto &kept = *find<DenseTable>("keptTable").model();
    ASSERT_TRUE(waitFor([&] { return kept.rowCount() == 2; }));
    EXPECT_EQ(text(kept, 1, 0), QStringLiteral("Help"));
}

TEST_F(ManagerStory, ANurseMayBeAskedAwayForPartOfTheWeek) {
    withNextDialog([&](QWidget &dialog) {
        auto &first = in<QComboBox>(dialog, "whatIfAwayFrom");
        auto &last = in<QComboBox>(dialog, "whatIfAwayTo");
        EXPECT_EQ(last.currentIndex(), last.count() - 1) << "all week until somebody chooses";
        first.setCurrentIndex(2);
        last.setCurrentIndex(1);
        in<QPushButton>(dialog, "whatIfRun").click();
        auto &run = in<QPushButton>(dialog, "whatIfRun");
        ASSERT_TRUE(waitFor([&] { return run.isEnabled(); }));
        EXPECT_FALSE(in<QPushButton>(dialog, "whatIfKeep").isEnabled()) << "ends before it begins";
        last.setCurrentIndex(2);
        runWhatIf(dialog);
        EXPECT_TRUE(in<QLabel>(dialog, "whatIfSummary")
                        .text()
                        .contains(QStringLiteral("away on %1").arg(first.currentText())));
        choose(dialog, "whatIfKind", int(desk::WhatIfKind::Referrals));
        EXPECT_FALSE(first.isVisible());
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
}

// The sample's day is a Thursday: the first day on offer is not the week's first.
TEST_F(ManagerStory, TheRestOfAWeekIsNotAllOfIt) {
    find<QComboBox>("loadWeek").setCurrentIndex(0);
    withNextDialog([&](QWidget &dialog) {
        runWhatIf(dialog);
        const QString said = in<QLabel>(dialog, "whatIfSummary").text();
        EXPECT_FALSE(said.contains(QStringLiteral("all week"))) << said.toStdString();
        in<QPushButton>(dialog, "whatIfClose").click();
    });
    find<QPushButton>("loadWhatIf").click();
}

TEST_F(ManagerStory, WhereNoReferralWaitsNothingIsAskedBeforeSomebodyIsChosen) {
    const std::vector<Patient> patients = session_.agency()->snapshot().patients;
    for (Patient patient : patients)
        if (patient.status == CareStatus::Referred) {
            patient.status = CareStatus::Active;
            patient.startOfCare = session_.today();
            const auto problem = session_.write(QStringLiteral("Started"),
                                                [&](desk::Desk &desk) { return desk.save(patient); });
            ASSERT_FALSE(problem) << debugText(*problem);
        }
    ASSERT_TRUE(settled());
    ReferralDialog dialog(session_, std::nullopt);
    auto &box = in<QComboBox>(dialog, "referralPatient");
    const auto &said = in<QLabel>(dialog, "referralSummary");
    EXPECT_TRUE(said.text().startsWith(QStringLiteral("No referral waits")));
    EXPECT_TRUE(box.isEditable()) << "found by typing";
    EXPECT_TRUE(box.currentText().isEmpty());
    EXPECT_FALSE(in<QPushButton>(dialog, "referralName").isEnabled());
    box.setCurrentIndex(1);
    EXPECT_TRUE(said.text().startsWith(QStringLiteral("Trying every nurse")));
    EXPECT_TRUE(waitFor([&] { return in<DenseTable>(dialog, "referralTable").model()->rowCount() > 0; }));
}

TEST_F(ManagerStory, AReferralIsGivenItsMainAndBackupNurse) {
    const auto &patients = session_.agency()->snapshot().patients;
    const auto referred = std::ranges::find(patients, CareStatus::Referred, &Patient::status);
    ASSERT_NE(referred, patients.end());
    const PatientId id = referred->id;
    ReferralDialog dialog(session_, id);
    EXPECT_EQ(in<QComboBox>(dialog, "referralPatient").currentData().toLongLong(), id.value());
    auto &name = in<QPushButton>(dialog, "referralName");
    ASSERT_TRUE(waitFor([&] { return name.isEnabled(); }));
    EXPECT_FALSE(name.autoDefault() || in<QPushButton>(dialog, "referralClose").autoDefault())
        << "Return in the patient box would press it";
    const QString reason = in<QPlainTextEdit>(dialog, "referralReason").toPlainText();
    EXPECT_TRUE(reason.contains(QStringLiteral("own patient"))) << "the load is part of the reason";
    const bool waits = desk::waitsForFirstVisit(*session_.agency(), *referred);
    name.click();
    if (waits) {
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("first visit is not planned yet")))
            << Ask::lastSaid().toStdString();
    }
    ASSERT_TRUE(settled());
    const Patient *now = session_.agency()->index().patient(id);
    EXPECT_TRUE(now->primaryNurse.has_value());
    EXPECT_NE(now->primaryNurse, now->backupNurse);
    EXPECT_EQ(QString::fromStdString(now->assignmentReason), reason);
}

} // namespace
} // namespace kitround::ui
