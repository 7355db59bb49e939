// Lot taken was another: a picked parcel put right by scan and by keyboard, from its row.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/RecallView.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/views/StoreroomItem.h"
#include "core/desk/words/Words.h"
#include "core/records/Gtin.h"
#include "tests/gui/ClerkFixture.h"
#include "ui/shared/RowsModel.h"

#include <QCheckBox>

namespace kitround::ui {
namespace {

class ClerkLots : public ClerkPages {
protected:
    // A parcel of four of one lot, picked, and a lot that expires much later beside it on the shelf.
    ClerkLots() {
        const auto *proposal = firstProposal([&](const supply::RefillProposal &p) {
            return isPlain(p) && session_.agency()->index().patient(p.patient)->allowsCourier &&
                   !p.lines.empty() && givesOneLot(p.lines.front().item);
        });
        EXPECT_NE(proposal, nullptr);
        if (!proposal)
            return;
        const supply::RefillLine line = proposal->lines.front();
        RefillContact contact;
        contact.patient = proposal->patient;
        contact.at = session_.now();
        contact.answeredBy = "Invented Daughter";
        desk::ReceiveRecord receipt;
        receipt.supplier = snapshot().suppliers.front().id;
        receipt.at = session_.now();
        receipt.lines = {{line.item, "OTHER-1", session_.today().plusDays(2000), Eaches::of(200), {}, false}};
        const auto problem = session_.write(s("Picked a delivery"), [&](desk::Desk &d) -> Result<void> {
            if (const auto received = d.receive(receipt); !received)
                return received.error();
            for (const desk::RecalledToAsk &asked :
                 desk::recalledToAsk(session_.agency()->index(), contact.patient, contact.at.date)) {
                RecallOutcome none;
                none.lot = asked.lot;
                none.catheter = asked.catheter;
                none.at = contact.at;
                none.toldBy = "Clerk";
                none.spokeWith = contact.answeredBy;
                none.answer = RecallAnswer::NoneLeft;
                if (const auto told = d.recordRecall(none); !told)
                    return told.error();
            }
            const auto yes = d.recordContact(contact);
            if (!yes)
                return yes.error();
            Delivery wanted;
            wanted.patient = contact.patient;
            wanted.contact = yes->id;
            wanted.promisedFor = session_.today().plusDays(1);
            wanted.lines = {{line.catheter, line.item, std::nullopt, Eaches::of(kEaches)}};
            const auto promised = d.promise(wanted);
            if (!promised)
                return promised.error();
            id_ = promised->id;
            const auto picked = d.pick(id_);
            return picked ? Result<void>() : picked.error();
        });
        EXPECT_FALSE(problem) << debugText(problem.value_or(Problem{}));
        EXPECT_TRUE(settled());
        showTab(*stock_, "stockTabs", 3);
        choose();
    }

    static constexpr std::int64_t kEaches = 4;
    // Whichever lot of it is given first holds enough for the parcel, and is good for homes.
    bool givesOneLot(ItemId item) const {
        int lots = 0;
        for (const desk::LotRow &row : desk::lotRows(*session_.agency(), item)) {
            if (row.storeroom.isZero() || row.lotState != LotState::Usable || row.isExpired ||
                row.isShortDated)
                continue;
            if (!row.lot || !row.expiresOn || row.storeroom.count() < kEaches)
                return false;
            ++lots;
        }
        return lots > 0;
    }
    const Delivery &delivery() const { return *std::ranges::find(snapshot().deliveries, id_, &Delivery::id); }
    const Item &item() const { return *session_.agency()->index().item(delivery().lines.front().item); }
    const Lot &lot(const DeliveryLine &line) const { return *session_.agency()->index().lot(*line.lot); }
    Eaches packed(const std::string &number) const {
        Eaches sum;
        for (const DeliveryLine &line : delivery().lines)
            sum += line.lot && lot(line).number == number ? line.quantity : Eaches{};
        return sum;
    }
    void choose() {
        DenseTable *deliveries = table(*stock_, "deliveryTable");
        std::vector<Delivery> shown;
        for (const Delivery &d : snapshot().deliveries)
            if (d.status != DeliveryStatus::Delivered && d.status != DeliveryStatus::Cancelled)
                shown.push_back(d);
        std::ranges::stable_sort(shown, {}, [](const Delivery &d) { return std::pair(d.promisedFor, d.id); });
        const auto at = std::ranges::find(shown, id_, &Delivery::id);
        ASSERT_NE(at, shown.end());
        deliveries->selectSourceRow(static_cast<int>(at - shown.begin()));
    }
    static QComboBox *lotField(const RecordForm &form, const char *name) {
        return form.findChild<QComboBox *>(s(name));
    }
    static QString problemOf(const RecordForm &form) {
        return form.findChild<QLabel *>(s("formProblem"))->text();
    }

    DeliveryId id_;
};

TEST_F(ClerkLots, AScannedLabelPutsTheLotRightAndSlipAndRecallNameIt) {
    const Eaches first = delivery().lines.front().quantity;
    const std::string wrong = lot(delivery().lines.front()).number;
    const std::string digits = "0952999999999";
    whenFormOpens([&](RecordForm &form) {
        auto *scan = form.findChild<QLineEdit *>(s("lotScan"));
        ASSERT_NE(scan, nullptr);
        EXPECT_EQ(form.focusWidget(), scan) << "ready for the scanner";
        EXPECT_EQ(lotField(form, "lot_0_0")->currentText().toStdString(), wrong);
        QTest::keyClicks(scan, QString::fromStdString("01" + digits + gs1CheckDigit(digits) + "10OTHER-1"));
        QTest::keyClick(scan, Qt::Key_Return);
        EXPECT_TRUE(fault(form, "scan").contains(s("not in this delivery")))
            << fault(form, "scan").toStdString();
        scan->clear();
        const std::string article = item().gtin.empty() ? std::string() : "01" + item().gtin;
        QTest::keyClicks(scan,
                         QString::fromStdString(article.empty() ? "(10)OTHER-1" : article + "10OTHER-1"));
        QTest::keyClick(scan, Qt::Key_Return);
        EXPECT_TRUE(fault(form, "scan").isEmpty());
        EXPECT_EQ(lotField(form, "lot_0_0")->currentText(), s("OTHER-1"));
        EXPECT_TRUE(
            form.findChild<QLabel *>(s("lotScanNote"))->text().contains(QString::fromStdString(wrong)));
        EXPECT_EQ(form.focusWidget(), scan) << "ready for the next box";
        type(form, "why", "at the back");
        save(form);
        EXPECT_FALSE(form.isVisible()) << problemOf(form).toStdString();
    });
    press(*stock_, "deliveryLots");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(packed("OTHER-1"), first);
    EXPECT_EQ(delivery().status, DeliveryStatus::Picked);
    const desk::Paper slip = desk::deliverySlip(*session_.agency(), delivery());
    EXPECT_TRUE(std::ranges::any_of(slip.sections[1].table->rows,
                                    [](const auto &row) { return row[2] == "OTHER-1"; }));
    const LotId taken = *std::ranges::find_if(delivery().lines, [&](const DeliveryLine &line) {
                             return lot(line).number == "OTHER-1";
                         })->lot;
    const auto movements = session_.desk().movementsOfLot(taken);
    ASSERT_TRUE(movements);
    const auto trace = desk::recallView(*session_.agency(), taken, *movements);
    EXPECT_EQ(trace.stillOut, Eaches::of(200)) << "on the shelf and in the parcel";
    EXPECT_TRUE(std::ranges::any_of(trace.stops,
                                    [&](const desk::RecallStopRow &stop) { return stop.there == first; }));
}

TEST_F(ClerkLots, ALineIsSplitByKeyboardAndHasToAddUp) {
    const Eaches first = delivery().lines.front().quantity;
    whenFormOpens([&](RecordForm &form) {
        auto *quantity = form.findChild<QLineEdit *>(s("quantity_0_0"));
        ASSERT_NE(quantity, nullptr);
        quantity->setFocus();
        quantity->selectAll();
        QTest::keyClicks(quantity, QString::number(first.count() - 1));
        save(form);
        EXPECT_TRUE(fault(form, "lots_0").contains(s("Make them add up")))
            << fault(form, "lots_0").toStdString();
        int spare = 0;
        while (lotField(form, ("lot_0_" + std::to_string(spare + 1)).c_str()))
            ++spare;
        const std::string row = "0_" + std::to_string(spare);
        lotField(form, ("lot_" + row).c_str())->setEditText(s("no-such-lot"));
        type(form, ("quantity_" + row).c_str(), "1");
        save(form);
        EXPECT_TRUE(fault(form, "lots_0").contains(s("no-such-lot"))) << fault(form, "lots_0").toStdString();
        auto *choice = lotField(form, ("lot_" + row).c_str());
        const int at = choice->findData(s("OTHER-1"));
        ASSERT_GE(at, 0) << "what may be taken is offered";
        choice->setCurrentIndex(at);
        EXPECT_EQ(choice->currentText(), s("OTHER-1")) << "the number alone stands in the field";
        EXPECT_NE(lotField(form, ("lot_0_" + std::to_string(spare + 1)).c_str()), nullptr)
            << "there is always one to spare";
        save(form);
        EXPECT_FALSE(form.isVisible()) << problemOf(form).toStdString();
    });
    press(*stock_, "deliveryLots");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(packed("OTHER-1"), Eaches::of(1));
    EXPECT_TRUE(Ask::lastSaid().contains(s("expires earlier"))) << Ask::lastSaid().toStdString();
}

TEST_F(ClerkLots, ABoxWithAnotherExpiryThanOnRecordStopsTheSaveUntilItIsPutAside) {
    whenFormOpens([&](RecordForm &form) {
        auto *scan = form.findChild<QLineEdit *>(s("lotScan"));
        ASSERT_NE(scan, nullptr);
        QTest::keyClicks(scan, s("(17)251101(10)OTHER-1"));
        QTest::keyClick(scan, Qt::Key_Return);
        EXPECT_TRUE(fault(form, "scan").contains(s("Put the box aside")))
            << fault(form, "scan").toStdString();
        EXPECT_NE(lotField(form, "lot_0_0")->currentText(), s("OTHER-1")) << "it is not taken";
        type(form, "why", "at the back");
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(fault(form, "scan").contains(s("Put the box aside")))
            << fault(form, "scan").toStdString();
        scan->clear();
        QTest::keyClicks(scan, s("(10)OTHER-1"));
        QTest::keyClick(scan, Qt::Key_Return);
        save(form);
        EXPECT_FALSE(form.isVisible()) << problemOf(form).toStdString();
    });
    press(*stock_, "deliveryLots");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(packed("OTHER-1"), Eaches::of(kEaches));
}

TEST_F(ClerkLots, AQuantityLeftOutIsAskedForWithItsLotAndGetsTheFocus) {
    whenFormOpens([&](RecordForm &form) {
        lotField(form, "lot_0_0")->setEditText(s("OTHER-1"));
        type(form, "quantity_0_0", "");
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(fault(form, "lots_0").contains(s("Enter how many of OTHER-1")))
            << fault(form, "lots_0").toStdString();
        EXPECT_EQ(form.focusWidget(), form.findChild<QLineEdit *>(s("quantity_0_0")));
        type(form, "quantity_0_0", "4");
        save(form);
        EXPECT_FALSE(form.isVisible()) << problemOf(form).toStdString();
    });
    press(*stock_, "deliveryLots");
    ASSERT_EQ(formsSeen_, 1);
}

TEST_F(ClerkLots, TheTableIsWhatTheTabGivesTheFocusToFirst) {
    DenseTable *deliveries = table(*stock_, "deliveryTable");
    const QWidget *first = deliveries->parentWidget()->nextInFocusChain();
    while (first->focusPolicy() == Qt::NoFocus)
        first = first->nextInFocusChain();
    EXPECT_EQ(first, deliveries) << first->objectName().toStdString();
}

TEST_F(ClerkLots, ANumberOfAnotherItemsLotIsSaidToBeOne) {
    const auto other = std::ranges::find_if(snapshot().lots, [&](const Lot &l) {
        return std::ranges::none_of(snapshot().lots, [&](const Lot &mine) {
            return mine.item == item().id && mine.number == l.number;
        });
    });
    ASSERT_NE(other, snapshot().lots.end());
    whenFormOpens([&](RecordForm &form) {
        lotField(form, "lot_0_0")->setEditText(QString::fromStdString(other->number));
        save(form);
        EXPECT_TRUE(fault(form, "lots_0").contains(s("belongs to another item")))
            << fault(form, "lots_0").toStdString();
    });
    press(*stock_, "deliveryLots");
    ASSERT_EQ(formsSeen_, 1);
}

TEST_F(ClerkLots, DeliveriesAreFoundByLotAndDoneOnesStandNewestFirst) {
    DenseTable *deliveries = table(*stock_, "deliveryTable");
    const QString number = QString::fromStdString(lot(delivery().lines.front()).number);
    EXPECT_EQ(cell(deliveries, deliveries->currentIndex().row(), 6), number) << "a column of its own";
    EXPECT_TRUE(cell(deliveries, deliveries->currentIndex().row(), 7).isEmpty()) << "only packed";
    auto *search = stock_->findChild<QLineEdit *>(s("deliverySearch"));
    ASSERT_NE(search, nullptr);
    search->setText(number);
    ASSERT_GT(deliveries->model()->rowCount(), 0);
    for (int row = 0; row < deliveries->model()->rowCount(); ++row)
        EXPECT_TRUE(cell(deliveries, row, 6).contains(number));
    search->clear();
    stock_->findChild<QCheckBox *>(s("deliveryClosed"))->setChecked(true);
    std::optional<qlonglong> before;
    for (int row = 0; row < deliveries->model()->rowCount(); ++row) {
        const auto done = deliveries->model()->index(row, 9).data(kSortRole).toLongLong();
        if (cell(deliveries, row, 0) != desk::words(DeliveryStatus::Delivered))
            continue;
        EXPECT_GE(before.value_or(done) / 1440, done / 1440) << "row " << row;
        before = done;
    }
    EXPECT_TRUE(before) << "something was delivered";
}

TEST_F(ClerkLots, WhatCameTornIsSaidWithTheHandOverStandsInTheRowAndCanBePutRight) {
    EXPECT_FALSE(session_.write(s("Shipped"), [&](desk::Desk &d) { return d.ship(id_); }));
    ASSERT_TRUE(settled());
    choose();
    whenFormOpens([&](RecordForm &form) {
        EXPECT_EQ(form.findChild<QLineEdit *>(s("good_0"))->text(), QString::number(kEaches));
        EXPECT_EQ(form.findChild<QLineEdit *>(s("damaged_0"))->text(), s("0"));
        const auto *why = form.findChild<QLineEdit *>(s("why"));
        EXPECT_FALSE(why->accessibleName().contains(s("required"))) << "all of it came whole";
        type(form, "received_by", "Invented Daughter");
        type(form, "damaged_0", "1");
        EXPECT_EQ(form.findChild<QLineEdit *>(s("good_0"))->text(), QString::number(kEaches - 1));
        EXPECT_TRUE(why->accessibleName().contains(s("required")));
        type(form, "good_0", "4");
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(fault(form, "arrived_0").contains(s("Make them add up")))
            << fault(form, "arrived_0").toStdString();
        EXPECT_FALSE(fault(form, "why").isEmpty());
        auto *good = form.findChild<QLineEdit *>(s("good_0"));
        good->selectAll();
        QTest::keyClicks(good, s("3"));
        type(form, "damaged_0", "0");
        type(form, "damaged_0", "1");
        type(form, "missing_0", "1");
        EXPECT_EQ(good->text(), s("3")) << "counted by hand, it stands";
        type(form, "missing_0", "0");
        type(form, "why", "the carton was crushed");
        save(form);
        EXPECT_FALSE(form.isVisible()) << problemOf(form).toStdString();
    });
    press(*stock_, "deliveryDeliver");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    ASSERT_EQ(delivery().status, DeliveryStatus::Delivered);
    EXPECT_EQ(delivery().lines.front().damaged, Eaches::of(1));
    stock_->findChild<QCheckBox *>(s("deliveryClosed"))->setChecked(true);
    DenseTable *deliveries = table(*stock_, "deliveryTable");
    std::optional<int> row;
    for (int i = 0; i < deliveries->model()->rowCount(); ++i)
        if (cell(deliveries, i, 0).contains(s("arrived short by 1 of 4")))
            row = i;
    ASSERT_TRUE(row);
    deliveries->setCurrentIndex(deliveries->model()->index(*row, 0));
    const auto *step = stock_->findChild<QPushButton *>(s("deliveryDeliver"));
    EXPECT_EQ(step->text(), s("How it arrived…"));
    whenFormOpens([&](RecordForm &form) {
        EXPECT_EQ(form.findChild<QLineEdit *>(s("damaged_0"))->text(), s("1"));
        type(form, "damaged_0", "0");
        type(form, "why", "only the carton");
        save(form);
        EXPECT_FALSE(form.isVisible()) << problemOf(form).toStdString();
    });
    press(*stock_, "deliveryDeliver");
    ASSERT_TRUE(settled());
    EXPECT_EQ(delivery().lines.front().damaged, Eaches{});
}

TEST_F(ClerkLots, OnlyWhatIsPackedHasLotsToPutRight) {
    const auto *step = stock_->findChild<QPushButton *>(s("deliveryLots"));
    EXPECT_TRUE(step->isEnabled());
    EXPECT_TRUE(session_.writeOrTell(stock_.get(), s("Cancelled a delivery"), [&](desk::Desk &d) {
        return d.cancelDelivery(id_, "the home called");
    }));
    ASSERT_TRUE(settled());
    stock_->findChild<QCheckBox *>(s("deliveryClosed"))->setChecked(true);
    DenseTable *deliveries = table(*stock_, "deliveryTable");
    const auto &model = *deliveries->model();
    for (int row = 0; row < model.rowCount(); ++row)
        if (model.index(row, 0).data().toString() == desk::words(DeliveryStatus::Cancelled)) {
            deliveries->setCurrentIndex(model.index(row, 0));
            EXPECT_FALSE(step->isEnabled());
            return;
        }
    FAIL() << "the cancelled delivery is not shown";
}

} // namespace
} // namespace kitround::ui
