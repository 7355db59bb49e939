// What the clerk keeps beside the ledger, done in the window: recall calls, a substitution, a shortage's
// action, a tracking number, a closed home, a car brought to par.
#include "core/desk/views/ClosedHomes.h"
#include "core/desk/views/RecallView.h"
#include "core/desk/views/StoreroomItem.h"
#include "core/desk/views/SubstitutionView.h"
#include "core/desk/words/Words.h"
#include "tests/gui/ClerkFixture.h"

namespace kitround::ui {
namespace {

TEST_F(ClerkPages, ARecalledLotsHomesAreCalledAndTheShareReachedIsShown) {
    const auto recalled = std::ranges::find(snapshot().lots, LotState::Recalled, &Lot::state);
    ASSERT_NE(recalled, snapshot().lots.end()) << "the sample has a recalled lot";
    const LotId lot = recalled->id;
    showTab(*stock_, "stockTabs", 1);
    Ask::nextText(QString::fromStdString(recalled->number));
    press(*stock_, "recallNotice");
    auto *trace = stock_->findChild<LotTraceDialog *>(s("lotTrace"));
    ASSERT_NE(trace, nullptr) << Ask::lastSaid().toStdString();
    DenseTable *homes = table(*trace, "traceHomes");
    const int count = homes->model()->rowCount();
    ASSERT_GT(count, 0);
    const auto *reached = trace->findChild<QLabel *>(s("traceReached"));
    EXPECT_TRUE(reached->text().startsWith(s("0 of "))) << reached->text().toStdString();
    whenFormOpens([&](RecordForm &form) {
        auto *answer = form.findChild<QComboBox *>(s("answer"));
        EXPECT_LT(answer->currentIndex(), 0) << "nobody's answer is chosen beforehand";
        type(form, "spoke_with", "Invented Son");
        save(form);
        EXPECT_FALSE(fault(form, "answer").isEmpty());
        answer->setCurrentIndex(answer->findData(static_cast<qint64>(RecallAnswer::SetAside)));
        save(form);
        EXPECT_FALSE(fault(form, "set_aside").isEmpty()) << "nothing typed is no number";
        type(form, "spoke_with", "");
        answer->setCurrentIndex(answer->findData(static_cast<qint64>(RecallAnswer::NoneLeft)));
        save(form);
        EXPECT_FALSE(fault(form, "spoke_with").isEmpty()) << "who was reached is needed";
        type(form, "spoke_with", "Invented Son");
        save(form);
        EXPECT_FALSE(form.isVisible());
    });
    press(*trace, "traceRecord");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    ASSERT_EQ(snapshot().recallOutcomes.size(), 1U);
    EXPECT_EQ(snapshot().recallOutcomes.front().lot, lot);
    EXPECT_TRUE(reached->text().startsWith(s("1 of "))) << reached->text().toStdString();
    bool isShown = false;
    for (int row = 0; row < homes->model()->rowCount(); ++row)
        isShown = isShown || cell(homes, row, 7).contains(s("none left"));
    EXPECT_TRUE(isShown);
    trace->reject();
}

TEST_F(ClerkPages, ANoticeOfAUsableLotMarksItAndTheLotStaysChosen) {
    showTab(*stock_, "stockTabs", 1);
    DenseTable *lots = table(*stock_, "lotTable");
    std::optional<desk::LotRow> wanted;
    for (const Item &item : snapshot().items) {
        const auto rows = desk::lotRows(*session_.agency(), item.id);
        if (wanted || rows.size() < 2 || !rows.back().lot || rows.back().storeroom.isZero() ||
            rows.back().lotState != LotState::Usable ||
            desk::lotsNamed(*session_.agency(), rows.back().number).size() != 1)
            continue;
        wanted = rows.back();
        stock_->selectItem(item.id);
    }
    ASSERT_TRUE(wanted) << "the sample has an item with several lots";
    const auto isChosen = [&](const QString &state) {
        const int row = lots->currentIndex().row();
        return row >= 0 && cell(lots, row, 0) == wanted->number && cell(lots, row, 2).contains(state);
    };
    for (int row = 0; row < lots->model()->rowCount(); ++row)
        if (cell(lots, row, 0) == wanted->number)
            lots->setCurrentIndex(lots->model()->index(row, 0));
    ASSERT_TRUE(isChosen({}));
    Ask::nextText(wanted->number);
    Ask::nextAnswer(true);
    Ask::nextText(s(" ")); // nothing typed is asked again
    Ask::nextText(s("notice 12"));
    press(*stock_, "recallNotice");
    auto *trace = stock_->findChild<LotTraceDialog *>(s("lotTrace"));
    ASSERT_NE(trace, nullptr) << Ask::lastSaid().toStdString();
    trace->reject();
    ASSERT_TRUE(settled());
    const Lot *marked = session_.agency()->index().lot(*wanted->lot);
    EXPECT_EQ(marked->state, LotState::Recalled);
    EXPECT_EQ(marked->stateReason, "notice 12");
    EXPECT_TRUE(waitFor([&] { return isChosen(desk::words(LotState::Recalled)); }))
        << "what comes next is about that lot";
}

TEST_F(ClerkPages, ASubstitutionIsRecordedShownAndClosed) {
    showTab(*stock_, "stockTabs", 5);
    const std::size_t before = snapshot().substitutions.size();
    whenFormOpens([&](RecordForm &form) {
        save(form);
        EXPECT_FALSE(fault(form, "item_id").isEmpty()) << "no patient is chosen beforehand";
        form.findChild<QComboBox *>(s("item_id"))->setCurrentIndex(0);
        save(form);
        EXPECT_FALSE(fault(form, "approver").isEmpty()) << "who approved it is not chosen beforehand";
        form.findChild<QComboBox *>(s("approver"))->setCurrentIndex(0);
        for (const char *day : {"approved_on", "taught_on"}) {
            save(form);
            EXPECT_FALSE(fault(form, day).isEmpty()) << day;
            form.findChild<DateField *>(s(day))->setDate(session_.today());
        }
        save(form);
        EXPECT_FALSE(fault(form, "approved_by").isEmpty());
        type(form, "approved_by", "Dr Vale");
        type(form, "taught_by", "Invented Nurse");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "stockMain");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    ASSERT_EQ(snapshot().substitutions.size(), before + 1);
    DenseTable *rows = table(*stock_, "substitutionTable");
    ASSERT_EQ(rows->model()->rowCount(),
              static_cast<int>(desk::substitutionRows(*session_.agency(), false).size()));
    const int open = rows->model()->rowCount();
    rows->selectSourceRow(open - 1);
    Ask::nextAnswer(true);
    press(*stock_, "substitutionBack");
    ASSERT_TRUE(settled());
    EXPECT_EQ(rows->model()->rowCount(), open - 1) << Ask::lastSaid().toStdString();
}

TEST_F(ClerkPages, AShortageKeepsWhatIsDoneAboutIt) {
    // Nothing of the item the homes use most is left on the shelf: a shortage.
    ItemId item;
    for (const Item &i : snapshot().items)
        if (i.code == "KIT-500-A")
            item = i.id;
    std::vector<std::pair<std::optional<LotId>, Eaches>> shelf;
    for (const StockBalance &b : snapshot().balances)
        if (b.place == Place::storeroom() && b.item == item)
            shelf.emplace_back(b.lot, b.quantity);
    for (const auto &[lot, quantity] : shelf)
        ASSERT_FALSE(session_.write(s("Emptied a shelf"), [&, lot = lot](desk::Desk &d) {
            return d.countStoreroom({item, {{lot, Eaches{}}}, "flooded", "A. Second", false});
        }));
    session_.refresh();
    ASSERT_TRUE(settled());
    DenseTable *board = table(*reorders_, "shortageTable");
    ASSERT_TRUE(waitFor([&] { return board->model()->rowCount() > 0; }));
    showTab(*reorders_, "reorderTabs", 3);
    board->selectSourceRow(0);
    whenFormOpens([&](RecordForm &form) {
        type(form, "action", "ring the second supplier");
        type(form, "owner", "Invented Clerk");
        save(form);
        EXPECT_FALSE(form.isVisible());
    });
    press(*reorders_, "reorderMain");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    ASSERT_EQ(snapshot().shortageActions.size(), 1U);
    EXPECT_TRUE(waitFor([&] {
        for (int row = 0; row < board->model()->rowCount(); ++row)
            if (cell(board, row, 8).contains(s("Invented Clerk: ring the second supplier")))
                return true;
        return false;
    }));
}

TEST_F(ClerkPages, AShippedParcelGetsItsTrackingNumber) {
    showTab(*stock_, "stockTabs", 3);
    DenseTable *rows = table(*stock_, "deliveryTable");
    auto *button = stock_->findChild<QPushButton *>(s("deliveryTrack"));
    ASSERT_NE(button, nullptr);
    const auto chooseWhere = [&](const QPushButton *step) {
        for (int row = 0; row < rows->model()->rowCount(); ++row) {
            rows->selectSourceRow(row);
            if (step->isEnabled() && cell(rows, row, 4) == desk::words(DeliveryWay::Courier))
                return true;
        }
        return false;
    };
    if (!chooseWhere(button)) { // nothing has left yet
        ASSERT_TRUE(chooseWhere(stock_->findChild<QPushButton *>(s("deliveryShip")))) << "a packed parcel";
        press(*stock_, "deliveryShip");
        ASSERT_TRUE(settled()) << Ask::lastSaid().toStdString();
        ASSERT_TRUE(chooseWhere(button)) << Ask::lastSaid().toStdString();
    }
    Ask::nextText(s("TR-2026-77"));
    press(*stock_, "deliveryTrack");
    ASSERT_TRUE(settled());
    EXPECT_TRUE(std::ranges::any_of(snapshot().deliveries,
                                    [](const Delivery &d) { return d.trackingNumber == "TR-2026-77"; }));
    bool isShown = false;
    for (int row = 0; row < rows->model()->rowCount(); ++row)
        for (int column = 0; column < rows->model()->columnCount(); ++column)
            isShown = isShown || cell(rows, row, column) == s("TR-2026-77");
    EXPECT_TRUE(isShown);
}

TEST_F(ClerkPages, AClosedHomesStockIsSettledAndLeavesTheList) {
    showTab(*stock_, "stockTabs", 7);
    DenseTable *rows = table(*stock_, "returnTable");
    const auto closed = desk::closedHomeRows(*session_.agency());
    ASSERT_EQ(rows->model()->rowCount(), static_cast<int>(closed.size()));
    int at = -1;
    for (std::size_t i = 0; i < closed.size() && at < 0; ++i)
        if (!closed[i].parcel && closed[i].onBooks.count() > 0)
            at = static_cast<int>(i);
    ASSERT_GE(at, 0) << "the sample has a closed home with stock";
    rows->selectSourceRow(at);
    const desk::ClosedHomeRow home = closed[static_cast<std::size_t>(at)];
    whenFormOpens([&](RecordForm &form) {
        save(form);
        EXPECT_FALSE(fault(form, "counted").isEmpty()) << "a count is what somebody found";
        EXPECT_FALSE(fault(form, "disposition").isEmpty()) << "nothing is destroyed by not choosing";
        const QByteArray found = QByteArray::number(qlonglong(home.onBooks.count()));
        type(form, "counted", found.constData());
        const auto *amount = form.findChild<QLineEdit *>(s("write_off_minor"));
        const auto worth = [](Money m) {
            return s("%1.%2").arg(m.count() / 100).arg(m.count() % 100, 2, 10, QLatin1Char('0'));
        };
        const auto lost = [&](std::int64_t leaves) {
            return worth(
                desk::writtenOff(*session_.agency(), home.item, Eaches::of(leaves), Disposition::Destroyed));
        };
        auto *becomes = form.findChild<QComboBox *>(s("disposition"));
        ASSERT_NE(becomes, nullptr);
        EXPECT_LT(becomes->currentIndex(), 0) << "what became of it is somebody's to say";
        EXPECT_TRUE(amount->text().isEmpty());
        becomes->setCurrentIndex(becomes->findData(static_cast<qint64>(Disposition::Destroyed)));
        EXPECT_EQ(amount->text(), lost(0)) << "nothing leaves yet";
        type(form, "quantity", "1");
        EXPECT_EQ(amount->text(), lost(1)) << "of what leaves, not of all on the books";
        becomes->setCurrentIndex(becomes->findData(static_cast<qint64>(Disposition::KeptByHome)));
        EXPECT_EQ(amount->text(), lost(0));
        becomes->setCurrentIndex(becomes->findData(static_cast<qint64>(Disposition::Destroyed)));
        type(form, "quantity", found.constData());
        EXPECT_EQ(amount->text(), lost(home.onBooks.count()));
        type(form, "decided_by", "");
        save(form);
        EXPECT_FALSE(fault(form, "decided_by").isEmpty());
        type(form, "decided_by", "Invented Clerk");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "returnSettle");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().balance(Place::home(home.catheter), home.item), Eaches{});
    EXPECT_EQ(rows->model()->rowCount(), static_cast<int>(closed.size()) - 1);
}

TEST_F(ClerkPages, ACarIsBroughtToPar) {
    showTab(*stock_, "stockTabs", 6);
    DenseTable *rows = table(*stock_, "carTable");
    ASSERT_GT(rows->model()->rowCount(), 0) << "the sample's cars carry something";
    rows->selectSourceRow(0);
    whenFormOpens([&](RecordForm &form) {
        type(form, "par", "9");
        save(form);
        EXPECT_FALSE(form.isVisible());
    });
    press(*stock_, "carPar");
    ASSERT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    const auto nine = std::ranges::find(snapshot().carPars, Eaches::of(9), &CarPar::par);
    ASSERT_NE(nine, snapshot().carPars.end());
    const CarPar par = *nine;
    const Eaches before = session_.agency()->index().balance(Place::car(par.nurse), par.item);
    Ask::nextAnswer(true);
    press(*stock_, "stockMain");
    ASSERT_TRUE(settled());
    EXPECT_GT(session_.agency()->index().balance(Place::car(par.nurse), par.item), before)
        << Ask::lastSaid().toStdString();
    EXPECT_TRUE(Ask::lastSaid().contains(s("Put in:"))) << Ask::lastSaid().toStdString();
}

} // namespace
} // namespace kitround::ui
