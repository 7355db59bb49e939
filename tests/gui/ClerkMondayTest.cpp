// The clerk's Monday, one agency from the first call to a recall: each step stands on the one before.
#include "tests/gui/ClerkFixture.h"
#include "ui/stock/LotTraceDialog.h"

namespace kitround::ui {
namespace {

class ClerkMonday : public ClerkPages {
protected:
    // Refill call with a yes for one each of the first line.
    PatientId callAndPromise() {
        const auto *proposal = firstProposal([&](const supply::RefillProposal &p) {
            const Patient *patient = session_.agency()->index().patient(p.patient);
            const auto &first = p.lines;
            return isPlain(p) && patient->allowsCourier && !first.empty() &&
                   onShelf(first.front().item).count() > 0;
        });
        EXPECT_NE(proposal, nullptr);
        if (!proposal)
            return {};
        const PatientId patient = proposal->patient;
        showTab(*stock_, "stockTabs", 2);
        chooseCall(patient);
        whenFormOpens([&](RecordForm &form) {
            // The script stands in the form, in the order of the call.
            EXPECT_TRUE(form.findChild<QLabel *>(s("script_1"))->text().contains(s("Am I speaking with")));
            // A home with a recalled lot is asked about that first.
            const bool isRecalled =
                form.findChild<QLabel *>(s("script_2"))->text().contains(s("called back"));
            const auto step = [&](int number) {
                return form
                    .findChild<QLabel *>(s("script_") + QString::number(number + (isRecalled ? 1 : 0)))
                    ->text();
            };
            EXPECT_TRUE(step(2).contains(s("unopened")));
            EXPECT_TRUE(step(4).contains(s("breathlessness")));
            auto *answer = form.findChild<QComboBox *>(s("answer"));
            answer->setCurrentIndex(answer->findData(static_cast<qint64>(RefillAnswer::Confirmed)));
            type(form, "answered_by", "Invented Daughter");
            type(form, "reason_for_need", "two left");
            type(form, "quantity_0", "1");
            for (std::size_t i = 1; form.findChild<QLineEdit *>(s("quantity_") + QString::number(i)); ++i)
                form.findChild<QLineEdit *>(s("quantity_") + QString::number(i))->setText(s("0"));
            findNothingRecalled(form);
            saveWithoutCount(form);
            EXPECT_FALSE(form.isVisible())
                << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
        });
        press(*stock_, "stockMain");
        EXPECT_TRUE(settled());
        return patient;
    }
    Eaches onShelf(ItemId item) const {
        Eaches sum;
        for (const StockBalance &b : session_.agency()->index().balancesAt(Place::storeroom()))
            if (b.item == item && b.lot && session_.agency()->index().lot(*b.lot)->state == LotState::Usable)
                sum += b.quantity;
        return sum;
    }
    // Picks the promised delivery of the patient; the lot that was taken.
    std::optional<LotId> pick(PatientId patient) {
        showTab(*stock_, "stockTabs", 3);
        std::vector<Delivery> shown;
        for (const Delivery &d : snapshot().deliveries)
            if (d.status != DeliveryStatus::Delivered && d.status != DeliveryStatus::Cancelled)
                shown.push_back(d);
        std::ranges::stable_sort(shown, {}, [](const Delivery &d) { return std::pair(d.promisedFor, d.id); });
        const auto at = std::ranges::find_if(shown, [&](const Delivery &d) {
            return d.patient == patient && d.status == DeliveryStatus::Promised;
        });
        EXPECT_NE(at, shown.end());
        if (at == shown.end())
            return std::nullopt;
        picked_ = at->id;
        table(*stock_, "deliveryTable")->selectSourceRow(static_cast<int>(at - shown.begin()));
        press(*stock_, "deliveryPick");
        EXPECT_TRUE(settled());
        const Delivery &now = delivery();
        EXPECT_EQ(now.status, DeliveryStatus::Picked) << Ask::lastSaid().toStdString();
        return now.lines.front().lot;
    }
    const Delivery &delivery() const {
        return *std::ranges::find(snapshot().deliveries, picked_, &Delivery::id);
    }
    // Drafts of the reorder list, the first of them sent.
    PurchaseOrder orderAndSend() {
        showTab(*reorders_, "reorderTabs", 0);
        const std::size_t before = snapshot().purchaseOrders.size();
        press(*reorders_, "reorderMain");
        EXPECT_TRUE(settled());
        EXPECT_GT(snapshot().purchaseOrders.size(), before) << Ask::lastSaid().toStdString();
        PurchaseOrderId id = snapshot().purchaseOrders.back().id;
        EXPECT_TRUE(session_.writeOrTell(reorders_.get(), s("Sent an order"),
                                         [&](desk::Desk &d) { return d.sendOrder(id); }));
        EXPECT_TRUE(settled());
        return *session_.agency()->index().purchaseOrder(id);
    }
    void receiveByScan(const PurchaseOrder &order) {
        showTab(*reorders_, "reorderTabs", 2);
        auto *source = reorders_->findChild<QComboBox *>(s("receiveSource"));
        source->setCurrentIndex(source->findData(qint64(order.id.value())));
        Q_EMIT source->activated(source->currentIndex());
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
        auto *scan = reorders_->findChild<QLineEdit *>(s("receiveScan"));
        int number = 0;
        for (const PurchaseLine &line : order.lines) {
            const Item &item = *session_.agency()->index().item(line.item);
            ASSERT_FALSE(item.gtin.empty()) << item.name;
            QTest::keyClicks(scan, s("01") + QString::fromStdString(item.gtin) + s("1729063010MON-") +
                                       QString::number(++number));
            QTest::keyClick(scan, Qt::Key_Return);
            QLineEdit *last = nullptr;
            int highest = 0;
            for (auto *w : reorders_->findChildren<QLineEdit *>(QRegularExpression(s("^quantity_[0-9]+$"))))
                if (const int n = w->objectName().section(QLatin1Char('_'), -1).toInt(); n > highest) {
                    highest = n;
                    last = w;
                }
            QTest::keyClicks(last, QString::number(toEaches(line.cases, line.pack).count()));
        }
        const std::size_t receipts = snapshot().receipts.size();
        press(*reorders_, "reorderMain");
        ASSERT_TRUE(settled());
        ASSERT_EQ(snapshot().receipts.size(), receipts + 1) << Ask::lastSaid().toStdString();
        EXPECT_EQ(session_.agency()->index().purchaseOrder(order.id)->status, PurchaseStatus::Received);
    }

    DeliveryId picked_;
};

TEST_F(ClerkMonday, CallsPicksReordersReceivesWithAScanAndAnswersARecall) {
    const PatientId patient = callAndPromise();
    ASSERT_TRUE(patient.isSet());
    const auto lot = pick(patient);
    ASSERT_TRUE(lot) << "the lot is written down when it is picked";

    const PurchaseOrder order = orderAndSend();
    ASSERT_EQ(order.status, PurchaseStatus::Sent);
    receiveByScan(order);

    // The notice names the picked lot: set aside, the packed parcel is opened again, the promise stays.
    const ItemId item = session_.agency()->index().lot(*lot)->item;
    const QString number = QString::fromStdString(session_.agency()->index().lot(*lot)->number);
    showTab(*stock_, "stockTabs", 1);
    Ask::nextText(number);
    press(*stock_, "recallNotice");
    auto *trace = stock_->findChild<LotTraceDialog *>(s("lotTrace"));
    ASSERT_NE(trace, nullptr) << Ask::lastSaid().toStdString();
    EXPECT_GT(table(*trace, "traceStops")->model()->rowCount(), 0);
    trace->reject();
    stock_->selectItem(item);
    DenseTable *lots = table(*stock_, "lotTable");
    for (int row = 0; row < lots->model()->rowCount(); ++row)
        if (cell(lots, row, 0) == number)
            lots->selectSourceRow(row);
    whenFormOpens([&](RecordForm &form) {
        auto *state = form.findChild<QComboBox *>(s("state"));
        state->setCurrentIndex(state->findData(static_cast<qint64>(LotState::Recalled)));
        type(form, "state_reason", "notice of the maker");
        save(form);
    });
    press(*stock_, "lotState");
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().lot(*lot)->state, LotState::Recalled);
    EXPECT_EQ(delivery().status, DeliveryStatus::Promised) << "the home is still owed its supplies";
    // Parcels of others that are under way already stay on the trace; what stands with us is set aside.
    // Taking a recall back is asked; Enter leaves it.
    stock_->selectItem(item);
    for (int row = 0; row < lots->model()->rowCount(); ++row)
        if (cell(lots, row, 0) == number)
            lots->selectSourceRow(row);
    whenFormOpens([&](RecordForm &form) {
        auto *state = form.findChild<QComboBox *>(s("state"));
        EXPECT_LT(state->currentIndex(), 0);
        state->setCurrentIndex(state->findData(static_cast<qint64>(LotState::Usable)));
        type(form, "state_reason", "by mistake");
        save(form);
        EXPECT_TRUE(form.isVisible()) << "unanswered, it stays recalled";
        EXPECT_TRUE(Ask::lastSaid().contains(s("in the storeroom"), Qt::CaseInsensitive))
            << Ask::lastSaid().toStdString();
    });
    press(*stock_, "lotState");
    EXPECT_EQ(session_.agency()->index().lot(*lot)->state, LotState::Recalled);
    for (const StockBalance &b : snapshot().balances)
        EXPECT_FALSE(b.lot == *lot &&
                     (b.place.kind == PlaceKind::Storeroom || b.place == Place::transit(picked_)));
}

TEST_F(ClerkMonday, TheWeeksListsAreThere) {
    ASSERT_TRUE(waitFor([&] { return table(*stock_, "useTable")->model()->rowCount() > 0; }));
    ASSERT_TRUE(waitFor([&] { return table(*reorders_, "supplierTable")->model()->rowCount() > 0; }));
    EXPECT_EQ(table(*reorders_, "supplierTable")->model()->rowCount(),
              static_cast<int>(snapshot().suppliers.size()));
    const auto rows = desk::shortageRows(*session_.stock());
    EXPECT_TRUE(waitFor([&] {
        return table(*reorders_, "shortageTable")->model()->rowCount() == static_cast<int>(rows.size());
    }));
    for (std::size_t i = 1; i < rows.size(); ++i)
        if (rows[i].item == rows[i - 1].item && rows[i].atRisk && rows[i - 1].atRisk) {
            EXPECT_LE(*rows[i - 1].atRisk, *rows[i].atRisk);
        }
}

} // namespace
} // namespace kitround::ui
