// The supply clerk's day on the sample agency, through the two pages as a person uses them.
#include "core/desk/words/Words.h"
#include "tests/gui/ClerkFixture.h"

#include <QFile>
#include <QSpinBox>

namespace kitround::ui {
namespace {

TEST_F(ClerkPages, TheRiskiestHomeStandsFirstAndItsPictureAndWeeksBelongToIt) {
    const DenseTable *homes = table(*stock_, "homesTable");
    const std::vector<desk::HomeRow> rows = desk::homeRows(*session_.stock());
    ASSERT_EQ(homes->model()->rowCount(), static_cast<int>(rows.size()));
    EXPECT_EQ(cell(homes, 0, 1), rows.front().patientName);
    EXPECT_EQ(table(*stock_, "homeWeeks")->model()->rowCount(), 12);
    const auto *chart = stock_->findChild<FanChart *>(s("homeChart"));
    const QString today = chart->markedFigures();
    EXPECT_TRUE(today.contains(s("Chance of having run dry"))) << today.toStdString();
    // Another home, another picture.
    stock_->selectHome(rows.back().patient);
    EXPECT_EQ(table(*stock_, "homesTable")->currentIndex().siblingAtColumn(1).data().toString(),
              rows.back().patientName);
}

TEST_F(ClerkPages, AnUnknownStockIsSaidAndNeverDrawnAsNought) {
    const std::vector<desk::HomeRow> rows = desk::homeRows(*session_.stock());
    const auto unknown =
        std::ranges::find(rows, forecast::StockKnowledge::Unknown, &desk::HomeRow::knowledge);
    ASSERT_NE(unknown, rows.end());
    const int row = static_cast<int>(unknown - rows.begin());
    const DenseTable *homes = table(*stock_, "homesTable");
    EXPECT_TRUE(cell(homes, row, 0).contains(s("not known")));
    EXPECT_EQ(cell(homes, row, 3), s("not known"));
    const desk::HomeChart chart = desk::homeChart(*session_.stock(), unknown->forecast, {});
    EXPECT_TRUE(chart.fan.empty());
}

TEST_F(ClerkPages, TheFilterShowsOnlyHomesWithTheWord) {
    auto *filter = stock_->findChild<QLineEdit *>(s("homesFilter"));
    const QString name = cell(table(*stock_, "homesTable"), 3, 1);
    filter->setText(name);
    DenseTable *homes = table(*stock_, "homesTable");
    ASSERT_GT(homes->model()->rowCount(), 0);
    for (int row = 0; row < homes->model()->rowCount(); ++row)
        EXPECT_EQ(cell(homes, row, 1), name);
    // With all homes back, the chosen one is in sight.
    stock_->show();
    filter->clear();
    const QString last = cell(homes, homes->model()->rowCount() - 1, 1);
    filter->setText(last);
    homes->selectSourceRow(static_cast<int>(desk::homeRows(*session_.stock()).size()) - 1);
    ASSERT_TRUE(homes->currentIndex().isValid());
    filter->clear();
    EXPECT_TRUE(QTest::qWaitFor(
        [&] { return homes->viewport()->rect().intersects(homes->visualRect(homes->currentIndex())); }));
    filter->setText(s("nobody is called this"));
    EXPECT_EQ(homes->model()->rowCount(), 0);
}

TEST_F(ClerkPages, AYesIsRecordedAndPromisedThenPickedShippedAndSignedForByTheHome) {
    const auto *proposal = firstProposal([&](const supply::RefillProposal &p) {
        const Patient *patient = session_.agency()->index().patient(p.patient);
        return isPlain(p) && patient->allowsCourier;
    });
    ASSERT_NE(proposal, nullptr);
    const PatientId patient = proposal->patient;
    const auto openBefore =
        std::ranges::count(snapshot().deliveries, DeliveryStatus::Promised, &Delivery::status);
    showTab(*stock_, "stockTabs", 2);
    chooseCall(patient);
    whenFormOpens([&](RecordForm &form) {
        auto *answer = form.findChild<QComboBox *>(s("answer"));
        EXPECT_EQ(answer->currentIndex(), -1) << "nobody's answer is chosen beforehand";
        save(form);
        EXPECT_FALSE(fault(form, "answer").isEmpty());
        const auto *whose = form.findChild<QLineEdit *>(s("answered_by"));
        EXPECT_FALSE(whose->accessibleName().contains(s("required")));
        answer->setCurrentIndex(answer->findData(static_cast<qint64>(RefillAnswer::Confirmed)));
        EXPECT_TRUE(whose->accessibleName().contains(s("required"))) << "a yes is somebody's";
        findNothingRecalled(form);
        saveWithoutCount(form); // a yes of nobody is not taken
        EXPECT_TRUE(form.isVisible());
        EXPECT_FALSE(fault(form, "answered_by").isEmpty());
        type(form, "answered_by", "Invented Daughter");
        save(form);
        EXPECT_FALSE(fault(form, "reason_for_need").isEmpty()) << "a yes says why";
        type(form, "reason_for_need", "six left");
        type(form, "quantity_0", "5000"); // asked about, and nobody gives a reason
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(fault(form, "quantity_0").contains(s("needs a reason")))
            << fault(form, "quantity_0").toStdString();
        // What home and storeroom can bear: one each of the first line.
        type(form, "quantity_0", "1");
        for (std::size_t i = 1; form.findChild<QLineEdit *>(s("quantity_") + QString::number(i)); ++i)
            form.findChild<QLineEdit *>(s("quantity_") + QString::number(i))->setText(s("0"));
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "stockMain");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    const auto delivery = std::ranges::find_if(snapshot().deliveries, [&](const Delivery &d) {
        return d.patient == patient && d.status == DeliveryStatus::Promised;
    });
    ASSERT_NE(delivery, snapshot().deliveries.end());
    EXPECT_EQ(std::ranges::count(snapshot().deliveries, DeliveryStatus::Promised, &Delivery::status),
              openBefore + 1);
    ASSERT_TRUE(delivery->contact);
    const auto contact = std::ranges::find(snapshot().refillContacts, *delivery->contact, &RefillContact::id);
    ASSERT_NE(contact, snapshot().refillContacts.end());
    EXPECT_EQ(contact->answeredBy, "Invented Daughter");
    EXPECT_EQ(contact->answer, RefillAnswer::Confirmed);

    const DeliveryId id = delivery->id;
    const auto now = [&] { return *std::ranges::find(snapshot().deliveries, id, &Delivery::id); };
    showTab(*stock_, "stockTabs", 3);
    DenseTable *deliveries = table(*stock_, "deliveryTable");
    const auto choose = [&] {
        std::vector<Delivery> shown;
        for (const Delivery &d : snapshot().deliveries)
            if (d.status != DeliveryStatus::Delivered && d.status != DeliveryStatus::Cancelled)
                shown.push_back(d);
        std::ranges::stable_sort(shown, {}, [](const Delivery &d) { return std::pair(d.promisedFor, d.id); });
        const auto at = std::ranges::find(shown, id, &Delivery::id);
        deliveries->selectSourceRow(static_cast<int>(at - shown.begin()));
    };
    choose();
    press(*stock_, "deliveryPick");
    ASSERT_TRUE(settled());
    ASSERT_EQ(now().status, DeliveryStatus::Picked) << Ask::lastSaid().toStdString();
    // It stays chosen: its next step is asked for, and a second key picks nobody else's.
    EXPECT_FALSE(stock_->findChild<QPushButton *>(s("deliveryPick"))->isEnabled());
    EXPECT_TRUE(stock_->findChild<QPushButton *>(s("deliveryLots"))->isEnabled());
    EXPECT_TRUE(now().lines.front().lot) << "the lot is written down when it is picked";
    choose();
    press(*stock_, "deliveryShip");
    ASSERT_TRUE(settled());
    ASSERT_EQ(now().status, DeliveryStatus::InTransit);
    choose();
    const Nurse nurse = snapshot().nurses.front();
    whenFormOpens([&](RecordForm &form) {
        type(form, "received_by", (nurse.givenName + " " + nurse.familyName).c_str());
        save(form);
        EXPECT_TRUE(fault(form, "received_by").contains(s("staff"))) << "staff may not sign for the patient";
        type(form, "received_by", "Invented Daughter");
        type(form, "receiver_relation", "daughter");
        save(form);
    });
    press(*stock_, "deliveryDeliver");
    ASSERT_TRUE(settled());
    EXPECT_EQ(now().status, DeliveryStatus::Delivered);
    EXPECT_EQ(now().receivedBy, "Invented Daughter");
}

TEST_F(ClerkPages, NobodyAnsweringIsRecordedAndSendsNothing) {
    const auto *proposal = firstProposal(isPlain);
    ASSERT_NE(proposal, nullptr);
    const PatientId patient = proposal->patient;
    const std::size_t deliveries = snapshot().deliveries.size(), contacts = snapshot().refillContacts.size();
    const auto &refills = session_.stock()->refills;
    const auto next = std::ranges::find(refills, patient, &supply::RefillProposal::patient) + 1;
    const auto below = next != refills.end() && next->urgency <= supply::RefillUrgency::CallToday
                           ? std::optional(next->patient)
                           : std::nullopt;
    showTab(*stock_, "stockTabs", 2);
    chooseCall(patient);
    whenFormOpens([&](RecordForm &form) {
        auto *answer = form.findChild<QComboBox *>(s("answer"));
        answer->setCurrentIndex(answer->findData(static_cast<qint64>(RefillAnswer::NoAnswer)));
        save(form);
    });
    press(*stock_, "refillCall");
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().deliveries.size(), deliveries);
    EXPECT_EQ(snapshot().refillContacts.size(), contacts + 1);
    if (below) {
        EXPECT_EQ(table(*stock_, "refillTable")->currentIndex().siblingAtColumn(1).data().toString(),
                  desk::personName(*session_.agency()->index().patient(*below), session_.agency()->index()))
            << "on to the next home to call";
    }
}

TEST_F(ClerkPages, ACountTypedInCasesIsStoredInEaches) {
    // An item that is kept in cases, at any home.
    const auto rows = desk::homeRows(*session_.stock());
    const auto home = std::ranges::find_if(rows, [&](const desk::HomeRow &r) {
        return session_.agency()->index().item(r.item)->casePack.eachesPerCase.count() > 1;
    });
    ASSERT_NE(home, rows.end());
    const desk::HomeRow wanted = *home;
    const std::int64_t perCase = session_.agency()->index().item(wanted.item)->casePack.eachesPerCase.count();
    table(*stock_, "homesTable")->selectSourceRow(static_cast<int>(home - rows.begin()));
    whenFormOpens([&](RecordForm &form) {
        save(form); // nothing counted is not nought
        EXPECT_FALSE(fault(form, "counted").isEmpty());
        const auto *sum = form.findChild<QLabel *>(s("counted_sum"));
        type(form, "counted", "1");
        EXPECT_EQ(sum->text(), s("1 each"));
        type(form, "counted", "2");
        auto *unit = form.findChild<QComboBox *>(s("counted_in"));
        unit->setCurrentIndex(unit->findData(qint64(perCase)));
        EXPECT_EQ(sum->text(), s("%1 eaches").arg(2 * perCase));
        save(form);
    });
    press(*stock_, "stockMain");
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().balance(Place::home(wanted.catheter), wanted.item),
              Eaches::of(2 * perCase));
    const HomeCount *count = session_.agency()->index().lastCount(wanted.catheter, wanted.item);
    ASSERT_NE(count, nullptr);
    EXPECT_EQ(count->counted, Eaches::of(2 * perCase));
}

TEST_F(ClerkPages, CountingFirstStoresTheCountAndPutsTheQuestionAgainWithNewFigures) {
    const auto *proposal =
        firstProposal([](const supply::RefillProposal &p) { return p.stockIsUnknown && !p.lines.empty(); });
    ASSERT_NE(proposal, nullptr);
    const supply::RefillLine line = proposal->lines.front();
    const PatientId who = proposal->patient; // the proposal goes with its picture
    showTab(*stock_, "stockTabs", 2);
    chooseCall(who);
    whenFormOpens([&](RecordForm &form) {
        form.findChild<QPushButton *>(s("countsFirst"))->click();
        EXPECT_FALSE(fault(form, "counted_0").isEmpty()) << "no count was typed";
        type(form, "counted_0", "1");
        type(form, "answered_by", "Invented Daughter");
        type(form, "reason_for_need", "two left");
        form.findChild<QPushButton *>(s("countsFirst"))->click();
        EXPECT_FALSE(form.isVisible());
    });
    press(*stock_, "refillCall");
    // The call comes up again by itself once the count is worked in, unless one is enough for the while.
    bool isAskedAgain = false;
    whenFormOpens([&](RecordForm &form) {
        isAskedAgain = true;
        EXPECT_EQ(form.findChild<QLineEdit *>(s("answered_by"))->text(), s("Invented Daughter"));
        EXPECT_EQ(form.findChild<QLineEdit *>(s("reason_for_need"))->text(), s("two left"));
        form.reject();
    });
    ASSERT_TRUE(waitFor([&] {
        return isAskedAgain ||
               (session_.stock() && !session_.isBusy() && session_.stock()->agency == session_.agency() &&
                !firstProposal([&](const auto &p) { return p.patient == who; }));
    }));
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().balance(Place::home(line.catheter), line.item), Eaches::of(1));
}

TEST_F(ClerkPages, ALotSetAsideLeavesTheShelfAndItsTraceNamesEveryHomeThatHadIt) {
    showTab(*stock_, "stockTabs", 1);
    DenseTable *lots = table(*stock_, "lotTable");
    DenseTable *items = table(*stock_, "storeroomTable");
    // The first item whose first lot stands on the shelf and is usable.
    const auto shelf = [&]() -> std::optional<StockBalance> {
        for (const StockBalance &b : snapshot().balances)
            if (b.place.kind == PlaceKind::Storeroom && b.lot && b.quantity.count() > 0 &&
                session_.agency()->index().lot(*b.lot)->state == LotState::Usable)
                return b;
        return std::nullopt;
    }();
    ASSERT_TRUE(shelf);
    stock_->selectItem(shelf->item);
    ASSERT_GE(items->currentSourceRow(), 0);
    const QString number = QString::fromStdString(session_.agency()->index().lot(*shelf->lot)->number);
    for (int row = 0; row < lots->model()->rowCount(); ++row)
        if (cell(lots, row, 0) == number)
            lots->selectSourceRow(row);
    ASSERT_EQ(lots->currentIndex().siblingAtColumn(0).data().toString(), number);
    press(*stock_, "lotTraceButton");
    auto *trace = stock_->findChild<LotTraceDialog *>(s("lotTrace"));
    ASSERT_NE(trace, nullptr);
    int hadIt = 0; // homes where the ledger holds some of the lot are a part of those on the list
    for (const StockBalance &b : snapshot().balances)
        hadIt += b.place.kind == PlaceKind::Home && b.lot == shelf->lot && b.quantity.count() > 0 ? 1 : 0;
    EXPECT_GE(table(*trace, "traceHomes")->model()->rowCount(), hadIt);
    EXPECT_GT(table(*trace, "traceStops")->model()->rowCount(), 0);
    trace->reject();

    whenFormOpens([&](RecordForm &form) {
        save(form);
        EXPECT_FALSE(fault(form, "state_reason").isEmpty()) << "a reason is needed";
        type(form, "state_reason", "dented cartons");
        save(form);
        EXPECT_FALSE(fault(form, "state").isEmpty()) << "no new state is chosen beforehand";
        auto *state = form.findChild<QComboBox *>(s("state"));
        EXPECT_LT(state->findData(static_cast<qint64>(LotState::Usable)), 0) << "it is that already";
        state->setCurrentIndex(state->findData(static_cast<qint64>(LotState::Quarantined)));
        save(form);
    });
    press(*stock_, "lotState");
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().lot(*shelf->lot)->state, LotState::Quarantined);
    for (const StockBalance &b : snapshot().balances)
        EXPECT_FALSE(b.place.kind == PlaceKind::Storeroom && b.lot == shelf->lot);
}

TEST_F(ClerkPages, ANoticeWithAnUnknownLotIsAnsweredInWords) {
    Ask::nextText(s("ZZZZ-NOT-OURS"));
    showTab(*stock_, "stockTabs", 1);
    press(*stock_, "recallNotice");
    EXPECT_TRUE(Ask::lastSaid().contains(s("No lot like"))) << Ask::lastSaid().toStdString();
}

TEST_F(ClerkPages, DraftsHoldTheNumbersTypedAndLeaveOutWhatWasUnticked) {
    DenseTable *list = table(*reorders_, "reorderTable");
    ASSERT_GE(list->model()->rowCount(), 2) << "the sample proposes at least two lines";
    const auto first = session_.stock()->reorders.front();
    const ItemId kept = first.lines.front().item;
    const QString file = folder_.filePath(s("reorders.csv"));
    Ask::nextText(file);
    press(*reorders_, "reorderCsv");
    EXPECT_TRUE(QFile::exists(file));
    const QModelIndex cases = list->model()->index(0, 2);
    const int proposed = cases.data(Qt::EditRole).toInt();
    EXPECT_FALSE(list->model()->setData(cases, -1)) << "fewer than none";
    ASSERT_TRUE(list->model()->setData(cases, proposed + 3));
    for (int row = 1; row < list->model()->rowCount(); ++row)
        ASSERT_TRUE(list->model()->setData(list->model()->index(row, 0), Qt::Unchecked, Qt::CheckStateRole));
    const std::size_t before = snapshot().purchaseOrders.size();
    press(*reorders_, "reorderMain");
    ASSERT_TRUE(settled());
    ASSERT_EQ(snapshot().purchaseOrders.size(), before + 1) << Ask::lastSaid().toStdString();
    const PurchaseOrder &draft = snapshot().purchaseOrders.back();
    EXPECT_EQ(draft.status, PurchaseStatus::Draft);
    ASSERT_EQ(draft.lines.size(), 1U);
    EXPECT_EQ(draft.lines.front().item, kept);
    EXPECT_EQ(draft.lines.front().cases, Cases::of(proposed + 3));
    EXPECT_NE(draft.lines.front().reason.find("Changed by hand"), std::string::npos);
    EXPECT_TRUE(session_.lastWritten().contains(QString::fromStdString(draft.number)));
    const QString orderFile = folder_.filePath(s("order.csv"));
    Ask::nextText(orderFile);
    press(*reorders_, "orderCsv");
    EXPECT_TRUE(QFile::exists(orderFile));

    // A second draft to the same supplier is asked about; silence leaves it.
    ASSERT_TRUE(waitFor([&] { return list->model()->rowCount() > 0; }));
    showTab(*reorders_, "reorderTabs", 0);
    for (int row = 1; row < list->model()->rowCount(); ++row)
        list->model()->setData(list->model()->index(row, 0), Qt::Unchecked, Qt::CheckStateRole);
    press(*reorders_, "reorderMain");
    EXPECT_TRUE(Ask::lastSaid().contains(QString::fromStdString(draft.number)));
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().purchaseOrders.size(), before + 1);
}

TEST_F(ClerkPages, ASentOrderIsReceivedInCasesAndMoreThanIsOpenIsAskedFirst) {
    const SentOrder sent =
        sentOrder([&](const SupplierItem &o) { return o.supplier == snapshot().suppliers.front().id; });
    const PurchaseOrderId id = sent.id;
    const SupplierItem &offer = sent.offer;
    showReceiving(id);
    const auto typeIn = [&](const char *field, const QString &text) {
        last<QLineEdit>(field)->setText(text);
    };
    typeIn("quantity", s("2"));
    EXPECT_EQ(last<QComboBox>("unit")->currentData().toLongLong(), offer.pack.eachesPerCase.count())
        << "counted as it was ordered";
    EXPECT_TRUE(
        last<QLabel>("sum")->text().contains(QString::number(toEaches(Cases::of(2), offer.pack).count())));
    const std::size_t receipts = snapshot().receipts.size();
    press(*reorders_, "reorderMain");
    const auto *fault = last<QLabel>("fault");
    EXPECT_FALSE(fault->isHidden()) << "a lot number is needed";
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().receipts.size(), receipts) << "nothing is booked in with a fault";

    typeIn("quantity", s("3")); // two were ordered
    typeIn("lot_number", s("NEW-1"));
    last<DateField>("expires_on")->setDate(Date::of(2028, 11, 1));
    const QString name = QString::fromStdString(session_.agency()->index().item(offer.item)->name);
    press(*reorders_, "reorderMain"); // silence declines
    EXPECT_TRUE(Ask::lastSaid().contains(name)) << Ask::lastSaid().toStdString();
    EXPECT_TRUE(Ask::lastSaid().contains(s("open on the order"))) << Ask::lastSaid().toStdString();
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().receipts.size(), receipts) << "asked before anything is booked";
    EXPECT_EQ(last<QLineEdit>("lot_number")->text(), s("NEW-1")) << "what was typed stays";

    Ask::nextAnswer(true);
    press(*reorders_, "reorderMain");
    ASSERT_TRUE(settled());
    ASSERT_EQ(snapshot().receipts.size(), receipts + 1) << fault->text().toStdString();
    EXPECT_EQ(snapshot().receipts.back().lines.front().quantity, toEaches(Cases::of(3), offer.pack));
    const PurchaseOrder *done = session_.agency()->index().purchaseOrder(id);
    ASSERT_NE(done, nullptr);
    EXPECT_EQ(done->status, PurchaseStatus::Received);
}

TEST_F(ClerkPages, ReceivingStaysOnTheOrderUntilItIsInAndAReceiptIsReversed) {
    const SentOrder sent =
        sentOrder([&](const SupplierItem &o) { return o.supplier == snapshot().suppliers.front().id; });
    showReceiving(sent.id);
    auto *source = reorders_->findChild<QComboBox *>(s("receiveSource"));
    auto *problem = reorders_->findChild<QLabel *>(s("receiveProblem"));
    press(*reorders_, "reorderMain");
    EXPECT_FALSE(problem->isHidden()) << "nothing is entered";
    const auto receiveOneCase = [&](const char *lot) {
        last<QLineEdit>("lot_number")->setText(s(lot));
        last<DateField>("expires_on")->setDate(Date::of(2028, 11, 1));
        last<QLineEdit>("quantity")->setText(s("1"));
        EXPECT_TRUE(problem->isHidden()) << "a line is entered";
        press(*reorders_, "reorderMain");
        EXPECT_TRUE(settled());
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    };
    const std::size_t receipts = snapshot().receipts.size();
    receiveOneCase("PART-1");
    ASSERT_EQ(snapshot().receipts.size(), receipts + 1) << problem->text().toStdString();
    EXPECT_EQ(source->currentData().toLongLong(), sent.id.value()) << "one case is still to come";
    receiveOneCase("PART-2");
    EXPECT_EQ(source->currentIndex(), -1) << "no other order is chosen in its place";
    const auto *expected = reorders_->findChild<QLabel *>(s("receiveExpected"));
    EXPECT_TRUE(expected->text().contains(s("received in full"))) << expected->text().toStdString();

    showTab(*reorders_, "reorderTabs", 1);
    DenseTable *orders = table(*reorders_, "orderTable");
    const QString number = QString::fromStdString(session_.agency()->index().purchaseOrder(sent.id)->number);
    for (int row = 0; row < orders->model()->rowCount(); ++row)
        if (cell(orders, row, 1) == number)
            orders->setCurrentIndex(orders->model()->index(row, 0));
    whenFormOpens([&](RecordForm &form) {
        save(form);
        EXPECT_FALSE(fault(form, "why").isEmpty()) << "a reason is needed";
        type(form, "why", "counted twice");
        save(form);
    });
    press(*reorders_, "orderReverse");
    ASSERT_TRUE(settled());
    EXPECT_EQ(snapshot().receipts.size(), receipts + 1);
    EXPECT_EQ(session_.agency()->index().purchaseOrder(sent.id)->status, PurchaseStatus::PartlyReceived);
}

TEST_F(ClerkPages, WhatToOfferIsSeenInASmallWindow) {
    stock_->show();
    showTab(*stock_, "stockTabs", 2);
    QApplication::processEvents();
    const DenseTable *calls = table(*stock_, "refillTable");
    int offer = 0;
    while (calls->model()->headerData(offer, Qt::Horizontal).toString() != s("To offer"))
        ASSERT_LT(++offer, calls->model()->columnCount());
    EXPECT_LT(calls->columnViewportPosition(offer) +
                  calls->fontMetrics().horizontalAdvance(s("12 × Drainage kit")),
              calls->viewport()->width());
}

TEST_F(ClerkPages, ReceiveLinesStandInColumnsAndCutNothing) {
    const SentOrder sent = sentOrder([](const SupplierItem &) { return true; });
    reorders_->show();
    showReceiving(sent.id);
    press(*reorders_, "receiveAdd");
    last<QLineEdit>("lot_number")->setText(s("NA12-345"));
    last<DateField>("expires_on")->setDate(Date::of(2028, 11, 29));
    last<QLineEdit>("quantity")->setText(s("1"));
    QApplication::processEvents();
    std::vector<QLineEdit *> lots;
    for (auto *lot : reorders_->findChildren<QLineEdit *>(QRegularExpression(s("^lot_number_[0-9]+$"))))
        lots.push_back(lot);
    ASSERT_EQ(lots.size(), 2U);
    const auto left = [&](const QWidget *w) { return w->mapTo(reorders_.get(), QPoint()).x(); };
    EXPECT_EQ(left(lots[0]), left(lots[1]));
    EXPECT_EQ(lots[0]->width(), lots[1]->width());
    EXPECT_GT(lots[0]->width(), lots[0]->fontMetrics().horizontalAdvance(s("NA12-345-678")) + 12);
    for (const char *field : {"quantity", "damaged"}) {
        const auto *edit = last<QLineEdit>(field);
        EXPECT_GT(edit->width(), edit->fontMetrics().horizontalAdvance(edit->placeholderText()) + 12);
    }
    EXPECT_GE(last<QLabel>("sum")->width(), last<QLabel>("sum")->sizeHint().width());
}

TEST_F(ClerkPages, EditedCasesCoverTheirCellAndMadeDraftsAreChosen) {
    reorders_->show();
    showTab(*reorders_, "reorderTabs", 0);
    DenseTable *list = table(*reorders_, "reorderTable");
    const QModelIndex cases = list->model()->index(0, 2);
    list->setCurrentIndex(cases);
    list->edit(cases);
    const auto *editor = list->viewport()->findChild<QSpinBox *>();
    ASSERT_NE(editor, nullptr);
    EXPECT_TRUE(editor->autoFillBackground());
    EXPECT_EQ(editor->geometry(), list->visualRect(cases));
    list->setCurrentIndex(list->model()->index(0, 0));
    const std::size_t before = snapshot().purchaseOrders.size();
    press(*reorders_, "reorderMain");
    ASSERT_TRUE(settled());
    ASSERT_GT(snapshot().purchaseOrders.size(), before) << Ask::lastSaid().toStdString();
    const DenseTable *orders = table(*reorders_, "orderTable");
    EXPECT_EQ(cell(orders, orders->currentIndex().row(), 1),
              QString::fromStdString(snapshot().purchaseOrders[before].number));
}

} // namespace
} // namespace kitround::ui
