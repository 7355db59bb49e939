// Receiving with a scanner: labels typed as a scanner types them, the keyboard alone, up to the booking.
#include "core/records/Gtin.h"
#include "tests/gui/ClerkFixture.h"

#include <QCheckBox>

namespace kitround::ui {
namespace {

class ClerkScan : public ClerkPages {
protected:
    ClerkScan() {
        const SentOrder sent = sentOrder([&](const SupplierItem &o) { return !item(o.item).gtin.empty(); });
        order_ = sent.id;
        item_ = sent.offer.item;
        reorders_->show();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(reorders_.get()));
        reorders_->activateWindow();
        showReceiving(order_);
    }

    const Item &item(ItemId id) const { return *session_.agency()->index().item(id); }

    // Keys as a scanner sends them: GS is Ctrl+], Enter ends.
    void scan(const QString &label) {
        auto *field = reorders_->findChild<QLineEdit *>(s("receiveScan"));
        field->setFocus();
        field->selectAll();
        for (const QChar c : label)
            if (c == QChar(0x1d))
                QTest::keyClick(field, Qt::Key_BracketRight, Qt::ControlModifier);
            else
                QTest::keyClick(field, c.toLatin1());
        QTest::keyClick(field, Qt::Key_Return);
    }
    QString label(const char *rest) const {
        return s("]d201") + QString::fromStdString(item(item_).gtin) + s(rest);
    }
    QString note() const {
        const auto *shown = reorders_->findChild<QLabel *>(s("receiveScanNote"));
        return shown->isHidden() ? QString() : shown->text();
    }
    qsizetype lines() const {
        return reorders_->findChildren<QLineEdit *>(QRegularExpression(s("^lot_number_[0-9]+$"))).size();
    }

    static bool isAsked(const PurchaseLine &ordered, std::int64_t came) {
        const std::int64_t open = toEaches(ordered.cases, ordered.pack).count();
        const std::int64_t pack = ordered.pack.eachesPerCase.count();
        return came > open || (came < open && (came % pack != 0 || came * pack == open));
    }

    PurchaseOrderId order_;
    ItemId item_;
};

TEST_F(ClerkScan, AScannedLabelFillsALineAndTheKeyboardBooksItIn) {
    scan(label("10SCAN-7\x1d"
               "17281100"));
    EXPECT_EQ(note(), QString());
    EXPECT_EQ(last<QComboBox>("item_id")->currentData().toLongLong(), item_.value());
    EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("SCAN-7"));
    EXPECT_EQ(last<DateField>("expires_on")->date(), Date::of(2028, 11, 30)) << "day 00: the month's last";
    auto *quantity = last<QLineEdit>("quantity");
    EXPECT_TRUE(quantity->hasFocus());
    QTest::keyClicks(quantity, s("20"));
    QTest::keyClick(quantity, Qt::Key_Return);
    EXPECT_TRUE(reorders_->findChild<QLineEdit *>(s("receiveScan"))->hasFocus()) << "ready for the next box";

    // The next box of the same lot goes to the same line; one of another lot gets a line of its own.
    scan(label("10scan 7"));
    EXPECT_TRUE(note().contains(s("character"))) << "a blank can't stand in a label";
    scan(label("10scan-7"));
    EXPECT_TRUE(note().contains(s("already"))) << note().toStdString();
    EXPECT_EQ(lines(), 1);
    scan(label("17290131"
               "30"
               "8"));
    EXPECT_EQ(lines(), 2);
    EXPECT_EQ(last<QLineEdit>("quantity")->text(), s("8")) << "the label's own count";
    QTest::keyClicks(last<QLineEdit>("lot_number"), s("SCAN-8"));

    const std::size_t receipts = snapshot().receipts.size();
    auto *field = reorders_->findChild<QLineEdit *>(s("receiveScan"));
    field->setFocus();
    const PurchaseLine &ordered = session_.agency()->index().purchaseOrder(order_)->lines.front();
    if (isAsked(ordered, 28))
        Ask::nextAnswer(true); // more than was ordered, and broken cases, are asked
    QTest::keyClick(field, Qt::Key_Return, Qt::ControlModifier);
    ASSERT_TRUE(settled());
    ASSERT_EQ(snapshot().receipts.size(), receipts + 1)
        << last<QLabel>("fault")->text().toStdString() << Ask::lastSaid().toStdString();
    const Receipt &receipt = snapshot().receipts.back();
    ASSERT_EQ(receipt.lines.size(), 2U);
    const auto *told = reorders_->findChild<QLabel *>(s("receiveFlags"));
    EXPECT_TRUE(told->text().contains(s("Booked in from"))) << told->text().toStdString();
    const bool isOpen = toEaches(ordered.cases, ordered.pack).count() > 28;
    EXPECT_EQ(told->text().contains(s("Still open of order")), isOpen) << told->text().toStdString();
    EXPECT_NE(reorders_->findChild<QPushButton *>(s("receiveNews"))->isHidden(), isOpen);
    EXPECT_EQ(receipt.lines[0].quantity, Eaches::of(20));
    EXPECT_EQ(receipt.lines[1].quantity, Eaches::of(8));
    const Lot &lot = *session_.agency()->index().lot(receipt.lines[0].lot);
    EXPECT_EQ(lot.number, "SCAN-7");
    EXPECT_EQ(lot.expiresOn, Date::of(2028, 11, 30));
}

TEST_F(ClerkScan, AnExpiredAndARecalledLotAreRefusedBeforeAnythingIsBooked) {
    scan(label("1720010110OLD"));
    EXPECT_TRUE(note().contains(s("Not taken in"))) << note().toStdString();
    EXPECT_TRUE(last<QLineEdit>("lot_number")->text().isEmpty());
    Lot known;
    known.item = item_;
    known.number = "REC-1";
    known.expiresOn = Date::of(2028, 11, 30);
    ASSERT_FALSE(session_.write(s("Recalled a lot"), [&](desk::Desk &d) -> Result<void> {
        auto saved = d.save(known);
        if (!saved)
            return saved.error();
        auto done = d.setLotState(saved->id, LotState::Recalled, "notice");
        return done ? Result<void>() : done.error();
    }));
    ASSERT_TRUE(settled());
    scan(label("10REC1"));
    EXPECT_TRUE(note().contains(s("is recalled"))) << note().toStdString();
    const auto *refused = reorders_->findChild<QLabel *>(s("receiveRefused"));
    EXPECT_FALSE(refused->isHidden());
    EXPECT_TRUE(refused->text().contains(s("OLD")) && refused->text().contains(s("REC1")))
        << "a later scan does not wipe it: " << refused->text().toStdString();
    EXPECT_TRUE(last<QLineEdit>("lot_number")->text().isEmpty());
    // Short-dated: a line, with the fault beside it, for the person to accept.
    const Date soon = session_.today().plusDays(20);
    scan(label(
        ("17" + soon.toIso().substr(2, 2) + soon.toIso().substr(5, 2) + soon.toIso().substr(8, 2) + "10SOON")
            .c_str()));
    EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("SOON"));
    EXPECT_FALSE(last<QLabel>("fault")->isHidden());
    last<QCheckBox>("short_dated")->setChecked(true);
    EXPECT_TRUE(last<QLabel>("fault")->isHidden()) << "accepted, it is not to be set aside";
    last<QCheckBox>("short_dated")->setChecked(false);
}

TEST_F(ClerkScan, AnUnknownArticleIsSaidAndTheItemChosenByHand) {
    const std::string digits = "0952999999999";
    const std::string gtin = digits + gs1CheckDigit(digits);
    scan(s("01") + QString::fromStdString(gtin) + s("10NEW-9"));
    EXPECT_TRUE(note().contains(QString::fromStdString(gtin))) << note().toStdString();
    auto *items = last<QComboBox>("item_id");
    EXPECT_EQ(items->currentIndex(), -1) << "nothing is guessed";
    EXPECT_TRUE(items->hasFocus());
    QTest::keyClicks(last<QLineEdit>("quantity"), s("4"));
    const std::size_t receipts = snapshot().receipts.size();
    press(*reorders_, "reorderMain");
    EXPECT_FALSE(last<QLabel>("fault")->isHidden()) << "an item is needed";
    EXPECT_EQ(snapshot().receipts.size(), receipts);
    items->setCurrentIndex(items->findData(qint64(item_.value())));
    last<DateField>("expires_on")->setDate(Date::of(2028, 11, 30));
    const PurchaseLine &ordered = session_.agency()->index().purchaseOrder(order_)->lines.front();
    if (isAsked(ordered, 4 * last<QComboBox>("unit")->currentData().toLongLong()))
        Ask::nextAnswer(true);
    press(*reorders_, "reorderMain");
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().receipts.size(), receipts + 1);
}

TEST_F(ClerkScan, ALabelTypedAnywhereOnThePageGoesToTheScanField) {
    const auto typeAt = [&](QWidget *at, const QString &text) {
        at->setFocus();
        QTest::keyClicks(at, text);
        QTest::keyClick(at, Qt::Key_Return);
    };
    // In the list of items, where letters choose and a label would be lost.
    typeAt(last<QComboBox>("item_id"), label("10BOX-1"));
    EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("BOX-1")) << note().toStdString();
    EXPECT_EQ(lines(), 1);
    typeAt(reorders_->findChild<QPushButton *>(s("receiveAdd")), label("10BOX-2"));
    EXPECT_EQ(lines(), 2);
    EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("BOX-2"));
    // In a field it is known at its end; what stood there stays.
    auto *quantity = last<QLineEdit>("quantity");
    quantity->setText(s("7"));
    typeAt(quantity, label("10BOX-3"));
    EXPECT_EQ(quantity->text(), s("7"));
    EXPECT_EQ(lines(), 3);
    EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("BOX-3"));
    auto *slip = reorders_->findChild<QLineEdit *>(s("packing_slip"));
    typeAt(slip, label("10BOX-4"));
    EXPECT_TRUE(slip->text().isEmpty());
    EXPECT_EQ(lines(), 4);
    // What is no label stays where it was typed.
    typeAt(slip, s("SLIP 2026-4711-0815-2"));
    EXPECT_EQ(slip->text(), s("SLIP 2026-4711-0815-2"));
    EXPECT_EQ(lines(), 4);
    slip->clear();
    typeAt(slip, s("(two boxes wet, see photo)"));
    EXPECT_EQ(slip->text(), s("(two boxes wet, see photo)"));
    EXPECT_EQ(lines(), 4);
}

TEST_F(ClerkScan, TabGoesAlongTheLineAsItStands) {
    scan(label("10TAB-1"));
    auto *quantity = last<QLineEdit>("quantity");
    ASSERT_TRUE(quantity->hasFocus());
    QCoreApplication::processEvents(); // the new line is shown
    ASSERT_TRUE(quantity->isVisible());
    QTest::keyClick(quantity, Qt::Key_Tab);
    EXPECT_TRUE(last<QComboBox>("unit")->hasFocus());
    QTest::keyClick(last<QComboBox>("unit"), Qt::Key_Tab);
    EXPECT_TRUE(last<QLineEdit>("damaged")->hasFocus());
}

TEST_F(ClerkScan, WhatIsNotOnTheOrderIsSaidWithItsSignAndWhatIsCompleteIsNotOfferedAgain) {
    const auto other = std::ranges::find_if(snapshot().items,
                                            [&](const Item &i) { return !i.gtin.empty() && i.id != item_; });
    ASSERT_NE(other, snapshot().items.end());
    scan(s("]d201") + QString::fromStdString(other->gtin) + s("10OTHER-1"));
    EXPECT_TRUE(note().contains(s("not on the order"))) << note().toStdString();
    for (const QLabel *said :
         {reorders_->findChild<QLabel *>(s("receiveScanNote")), last<QLabel>("of_order")}) {
        EXPECT_FALSE(said->isHidden());
        EXPECT_EQ(said->palette().color(QPalette::WindowText), Look::colour(Role::Watch));
        EXPECT_FALSE(reorders_->findChild<QLabel *>(said->objectName() + s("Sign"))->isHidden());
    }
    last<QComboBox>("item_id")->setCurrentIndex(last<QComboBox>("item_id")->findData(qint64(item_.value())));
    EXPECT_TRUE(last<QLabel>("of_order")->isHidden());
    last<DateField>("expires_on")->setDate(Date::of(2028, 11, 30));
    last<QLineEdit>("quantity")->setText(s("2")); // cases, as ordered: all of it
    press(*reorders_, "receiveAdd");
    EXPECT_EQ(lines(), 2);
    EXPECT_EQ(last<QComboBox>("item_id")->currentIndex(), -1) << "all of the order is on the first line";
    last<QComboBox>("item_id")->setCurrentIndex(last<QComboBox>("item_id")->findData(qint64(item_.value())));
    EXPECT_FALSE(last<QLabel>("of_order")->isHidden()) << "all has come";
}

TEST_F(ClerkScan, EachLineFollowsWhatTheOtherLinesBring) {
    const auto *blank = last<QLabel>("of_order");
    ASSERT_EQ(last<QComboBox>("item_id")->currentData().toLongLong(), item_.value());
    press(*reorders_, "receiveAdd");
    ASSERT_EQ(lines(), 2);
    last<QLineEdit>("quantity")->setText(s("2")); // cases, as ordered: all of it
    EXPECT_FALSE(blank->isHidden()) << "typed below, it is not to come above";
    EXPECT_TRUE(blank->text().contains(s("on the other lines"))) << blank->text().toStdString();
    last<QLineEdit>("quantity")->setText(s("1"));
    EXPECT_TRUE(blank->isHidden()) << "one case is still to come";
    last<QLineEdit>("quantity")->setText(s("2"));
    EXPECT_FALSE(blank->isHidden());
    last<QPushButton>("remove")->click();
    EXPECT_TRUE(blank->isHidden()) << "the line that brought it is gone";
}

TEST_F(ClerkScan, ChoosingTheOrderLateKeepsWhatWasScanned) {
    scan(label("1720010110OLD"));
    scan(label("10SCAN-7\x1d"
               "17281100"));
    auto *source = reorders_->findChild<QComboBox *>(s("receiveSource"));
    const int supplier = source->count() - 1; // without an order
    ASSERT_LT(source->itemData(supplier).toLongLong(), 0);
    for (const int chosen : {supplier, source->findData(qint64(order_.value()))}) {
        source->setCurrentIndex(chosen);
        Q_EMIT source->activated(chosen);
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
        EXPECT_EQ(lines(), 1);
        EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("SCAN-7"));
        const auto *refused = reorders_->findChild<QLabel *>(s("receiveRefused"));
        EXPECT_FALSE(refused->isHidden());
        EXPECT_TRUE(refused->text().contains(s("OLD"))) << refused->text().toStdString();
    }
}

TEST_F(ClerkScan, ALargeQuantityIsReadWithItsComma) {
    last<QComboBox>("unit")->setCurrentIndex(0);
    last<QLineEdit>("quantity")->setText(s("1,200"));
    EXPECT_EQ(last<QLabel>("sum")->text(), s("= 1,200 eaches"));
}

TEST_F(ClerkScan, AnOuterPackIsCountedInCasesAndSaid) {
    const Item &inner = item(item_);
    const std::string digits = "1" + inner.gtin.substr(1, 12);
    scan(s("01") + QString::fromStdString(digits + gs1CheckDigit(digits)) + s("10CASE-1"));
    EXPECT_TRUE(note().contains(s("outer pack"))) << note().toStdString();
    EXPECT_EQ(last<QComboBox>("unit")->currentData().toLongLong(), inner.casePack.eachesPerCase.count());
}

} // namespace
} // namespace kitround::ui
