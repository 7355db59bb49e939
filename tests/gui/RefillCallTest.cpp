// What a refill call does not let pass: a day against the rules, a recalled lot without an answer, a yes
// without a count; and what the next clerk sees of it.
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/Words.h"
#include "core/safety/RecalledStock.h"
#include "tests/gui/ClerkFixture.h"

#include <QCheckBox>

namespace kitround::ui {
namespace {

class RefillCall : public ClerkPages {
protected:
    static void say(RecordForm &form, RefillAnswer said) {
        auto *answer = form.findChild<QComboBox *>(s("answer"));
        answer->setCurrentIndex(answer->findData(static_cast<qint64>(said)));
    }
    // A yes for one each of the first line.
    static void sayYes(RecordForm &form) {
        say(form, RefillAnswer::Confirmed);
        type(form, "answered_by", "Invented Daughter");
        type(form, "reason_for_need", "two left");
        findNothingRecalled(form);
        type(form, "quantity_0", "1");
        for (std::size_t i = 1; form.findChild<QLineEdit *>(s("quantity_") + QString::number(i)); ++i)
            form.findChild<QLineEdit *>(s("quantity_") + QString::number(i))->setText(s("0"));
    }
    const supply::RefillProposal *byCourier() const {
        return firstProposal([&](const supply::RefillProposal &p) {
            return isPlain(p) && session_.agency()->index().patient(p.patient)->allowsCourier;
        });
    }
    bool isAskedAboutRecall(PatientId patient) const {
        const SnapshotIndex &index = session_.agency()->index();
        return std::ranges::any_of(index.cathetersOf(patient), [&](const Catheter *catheter) {
            const auto recalled = safety::recalledAtHome(index, catheter->id);
            return std::ranges::any_of(recalled, [](const auto &r) { return !r.isSetAside; });
        });
    }
};

TEST_F(RefillCall, ADayOnWhichNothingGoesIsToldAtOnceAndNeedsAReasonThatIsKept) {
    const auto *proposal = byCourier();
    ASSERT_NE(proposal, nullptr);
    const PatientId patient = proposal->patient;
    Date sunday = proposal->deliverOn;
    while (sunday.weekday() != Weekday::Sunday)
        sunday = sunday.plusDays(1);
    const std::size_t deliveries = snapshot().deliveries.size();
    showTab(*stock_, "stockTabs", 2);
    chooseCall(patient);
    whenFormOpens([&](RecordForm &form) {
        const auto *rules = form.findChild<QLabel *>(s("day_rules"));
        EXPECT_TRUE(rules->text().isEmpty()) << "the day that is offered is not questioned";
        sayYes(form);
        form.findChild<DateField *>(s("promised_for"))->setDate(sunday);
        EXPECT_TRUE(waitFor([&] { return rules->isVisible(); }));
        EXPECT_TRUE(rules->text().contains(s("nothing goes to this home that day")))
            << rules->text().toStdString();
        saveWithoutCount(form); // nobody gives a reason
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(fault(form, "promised_for").contains(s("against the rules")))
            << fault(form, "promised_for").toStdString();
        Ask::nextText(s("the son fetches it"));
        saveWithoutCount(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().deliveries.size(), deliveries + 1);
    const bool isKept = std::ranges::any_of(snapshot().refillContacts, [&](const RefillContact &contact) {
        return contact.patient == patient && contact.note.find("the son fetches it") != std::string::npos;
    });
    EXPECT_TRUE(isKept);
}

TEST_F(RefillCall, WhatTheDayBreaksIsToldOfTheQuantityAsItIsStored) {
    const auto *proposal = byCourier();
    ASSERT_NE(proposal, nullptr);
    showTab(*stock_, "stockTabs", 2);
    chooseCall(proposal->patient);
    whenFormOpens([&](RecordForm &form) {
        const auto *rules = form.findChild<QLabel *>(s("day_rules"));
        type(form, "quantity_0", "120000");
        EXPECT_FALSE(rules->isVisible()) << "not at every key";
        EXPECT_TRUE(waitFor([&] { return rules->isVisible(); }));
        const QString plain = rules->text();
        type(form, "quantity_0", "0");
        EXPECT_TRUE(waitFor([&] { return rules->text() != plain; }));
        type(form, "quantity_0", "120,000");
        EXPECT_TRUE(waitFor([&] { return rules->text() == plain; })) << rules->text().toStdString();
    });
    press(*stock_, "refillCall");
    EXPECT_EQ(formsSeen_, 1);
}

TEST_F(RefillCall, AYesWithoutACountIsAskedAboutOnce) {
    const auto *proposal = firstProposal([&](const supply::RefillProposal &p) {
        if (!isPlain(p) || !session_.agency()->index().patient(p.patient)->allowsCourier)
            return false;
        const HomeCount *last =
            session_.agency()->index().lastCount(p.lines.front().catheter, p.lines.front().item);
        return !last || last->at.date != session_.today();
    });
    ASSERT_NE(proposal, nullptr);
    showTab(*stock_, "stockTabs", 2);
    chooseCall(proposal->patient);
    whenFormOpens([&](RecordForm &form) {
        sayYes(form);
        save(form); // "enter the count"
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(Ask::lastSaid().contains(s("Nobody counted today"))) << Ask::lastSaid().toStdString();
        EXPECT_FALSE(fault(form, "counted_0").isEmpty());
        saveWithoutCount(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
}

TEST_F(RefillCall, WhoeverAnswersIsAskedWhatWasSetAsideOfARecalledLot) {
    const auto *proposal =
        firstProposal([&](const supply::RefillProposal &p) { return isAskedAboutRecall(p.patient); });
    ASSERT_NE(proposal, nullptr) << "a home of the sample holds a recalled lot";
    const std::size_t outcomes = snapshot().recallOutcomes.size();
    showTab(*stock_, "stockTabs", 2);
    chooseCall(proposal->patient);
    whenFormOpens([&](RecordForm &form) {
        type(form, "answered_by", "Invented Son");
        for (const RefillAnswer said : {RefillAnswer::Declined, RefillAnswer::Confirmed}) {
            say(form, said);
            save(form);
            EXPECT_TRUE(form.isVisible());
            EXPECT_TRUE(fault(form, "recalled_0").contains(s("how many of it are set aside")))
                << fault(form, "recalled_0").toStdString();
        }
        say(form, RefillAnswer::Declined);
        findNothingRecalled(form);
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_GT(snapshot().recallOutcomes.size(), outcomes);
}

TEST_F(RefillCall, WhoeverWouldNotLookHasNotSaidThatNoneIsThere) {
    const auto *proposal =
        firstProposal([&](const supply::RefillProposal &p) { return isAskedAboutRecall(p.patient); });
    ASSERT_NE(proposal, nullptr);
    const PatientId patient = proposal->patient;
    showTab(*stock_, "stockTabs", 2);
    chooseCall(patient);
    whenFormOpens([&](RecordForm &form) {
        say(form, RefillAnswer::Declined);
        type(form, "answered_by", "Invented Son");
        findNothingRecalled(form);
        const QRegularExpression fields(s("^recalled_[0-9]+_not_looked$"));
        for (auto *wouldNot : form.findChildren<QCheckBox *>(fields))
            wouldNot->setChecked(true);
        EXPECT_FALSE(form.findChild<QLineEdit *>(s("recalled_0"))->isEnabled());
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    ASSERT_TRUE(settled());
    const auto isHis = [](const RecallOutcome &told) { return told.spokeWith == "Invented Son"; };
    const auto told = std::ranges::find_if(snapshot().recallOutcomes, isHis);
    ASSERT_NE(told, snapshot().recallOutcomes.end());
    EXPECT_EQ(told->answer, RecallAnswer::Declined);
    EXPECT_TRUE(isAskedAboutRecall(patient)) << "what the ledger has of it stays in question";
}

TEST_F(RefillCall, AHomeThatWasToldTodayIsNotAskedAboutTheLotAgain) {
    const auto *proposal =
        firstProposal([&](const supply::RefillProposal &p) { return isAskedAboutRecall(p.patient); });
    ASSERT_NE(proposal, nullptr);
    const PatientId patient = proposal->patient;
    const auto problem = session_.write(s("Told"), [&](desk::Desk &d) -> Result<void> {
        for (const desk::RecalledToAsk &asked :
             desk::recalledToAsk(session_.agency()->index(), patient, session_.today())) {
            RecallOutcome told;
            told.lot = asked.lot;
            told.catheter = asked.catheter;
            told.at = session_.now();
            told.toldBy = "Clerk";
            told.spokeWith = "Invented Son";
            told.answer = RecallAnswer::Declined;
            if (const auto stored = d.recordRecall(told); !stored)
                return stored.error();
        }
        return {};
    });
    ASSERT_FALSE(problem) << debugText(*problem);
    ASSERT_TRUE(settled());
    showTab(*stock_, "stockTabs", 2);
    chooseCall(patient);
    whenFormOpens([&](RecordForm &form) {
        EXPECT_EQ(form.findChild<QLineEdit *>(s("recalled_0")), nullptr) << "asked today already";
        say(form, RefillAnswer::Declined);
        type(form, "answered_by", "Invented Son");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    EXPECT_EQ(formsSeen_, 1);
}

TEST_F(RefillCall, ACountThatSeemsToHoldThoseSetAsideIsAskedAboutBeforeAnythingIsStored) {
    const SnapshotIndex &index = session_.agency()->index();
    const auto onRecord = [&](const supply::RefillLine &line) {
        return index.balance(Place::home(line.catheter), line.item);
    };
    const auto *proposal = firstProposal([&](const supply::RefillProposal &p) {
        const auto asked = desk::recalledToAsk(index, p.patient, session_.today());
        return p.lines.size() == 1 && asked.size() == 1 && onRecord(p.lines[0]).count() > 0 &&
               asked[0].catheter == p.lines[0].catheter && index.lot(asked[0].lot)->item == p.lines[0].item;
    });
    ASSERT_NE(proposal, nullptr);
    const QString there = QString::number(onRecord(proposal->lines[0]).count());
    const std::size_t outcomes = snapshot().recallOutcomes.size(), counts = snapshot().homeCounts.size();
    showTab(*stock_, "stockTabs", 2);
    chooseCall(proposal->patient);
    whenFormOpens([&](RecordForm &form) {
        say(form, RefillAnswer::Declined);
        type(form, "answered_by", "Invented Son");
        type(form, "recalled_0", "1");
        form.findChild<QLineEdit *>(s("counted_0"))->setText(there); // the one set aside among them
        const QString before = session_.lastWritten();
        save(form); // nobody gives a reason
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(fault(form, "counted_0").contains(s("come to more than the ") + there + s(" on record")))
            << fault(form, "counted_0").toStdString();
        EXPECT_EQ(session_.lastWritten(), before);
        Ask::nextText(s("one was brought back"));
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().recallOutcomes.size(), outcomes + 1);
    ASSERT_EQ(snapshot().homeCounts.size(), counts + 1);
    const bool isKept = std::ranges::any_of(snapshot().homeCounts, [](const HomeCount &count) {
        return count.note.find("one was brought back") != std::string::npos;
    });
    EXPECT_TRUE(isKept);
}

TEST_F(RefillCall, NobodyAnsweringLeavesTheRecalledLotInQuestion) {
    const auto *proposal =
        firstProposal([&](const supply::RefillProposal &p) { return isAskedAboutRecall(p.patient); });
    ASSERT_NE(proposal, nullptr);
    const std::size_t outcomes = snapshot().recallOutcomes.size();
    showTab(*stock_, "stockTabs", 2);
    chooseCall(proposal->patient);
    whenFormOpens([&](RecordForm &form) {
        say(form, RefillAnswer::NoAnswer);
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().recallOutcomes.size(), outcomes);
}

TEST_F(RefillCall, ANoOfTodayStandsInItsRowAndBehindThoseStillToCall) {
    const auto *proposal = firstProposal([&](const supply::RefillProposal &p) {
        return isPlain(p) && p.urgency <= supply::RefillUrgency::CallToday && !isAskedAboutRecall(p.patient);
    });
    ASSERT_NE(proposal, nullptr);
    const SnapshotIndex &index = session_.agency()->index();
    const QString name = desk::personName(*index.patient(proposal->patient), index);
    showTab(*stock_, "stockTabs", 2);
    chooseCall(proposal->patient);
    const QString today = stock_->findChild<QTabWidget *>(s("stockTabs"))->tabText(2);
    whenFormOpens([&](RecordForm &form) {
        say(form, RefillAnswer::Declined);
        type(form, "answered_by", "Invented Daughter");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "refillCall");
    ASSERT_TRUE(settled());
    const DenseTable *calls = table(*stock_, "refillTable");
    const int last = calls->model()->rowCount() - 1;
    ASSERT_GE(last, 0);
    EXPECT_EQ(cell(calls, last, 1), name);
    EXPECT_EQ(cell(calls, last, 0), s("said no today"));
    EXPECT_EQ(cell(calls, last, 2), s("10:00: no, nothing now"));
    EXPECT_NE(stock_->findChild<QTabWidget *>(s("stockTabs"))->tabText(2), today) << "one call fewer";
}

} // namespace
} // namespace kitround::ui
