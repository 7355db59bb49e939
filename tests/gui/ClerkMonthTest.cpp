// The clerk's month and lists: what falls due, first deliveries, the budget, month end, the sheet on used
// bottles.
#include "core/desk/views/ExpiryView.h"
#include "core/desk/views/StartUpView.h"
#include "core/desk/words/Words.h"
#include "tests/gui/ClerkFixture.h"

#include <QFile>
#include <QTextStream>

namespace kitround::ui {
namespace {

class ClerkMonth : public ClerkPages {
protected:
    bool listed(const char *name) {
        return waitFor([&] { return table(*stock_, name)->model()->rowCount() > 0; });
    }
    // The tab by its name, as a person finds it.
    static void showTabNamed(const QWidget &page, const char *tabs, const char *title) {
        auto *bar = page.findChild<QTabWidget *>(s(tabs));
        for (int i = 0; i < bar->count(); ++i)
            if (bar->tabText(i) == s(title)) {
                bar->setCurrentIndex(i);
                return;
            }
        FAIL() << title;
    }
    void setNumber(SettingKey key, std::int64_t value) {
        AgencySettings settings = session_.agency()->settings();
        settings.set(key, value);
        ASSERT_FALSE(session_.write(s("Set"), [&](desk::Desk &d) { return d.save(settings); }));
        ASSERT_TRUE(settled());
    }
    // A lot of the item on the shelf with so many days left.
    LotId shelve(ItemId item, std::int64_t eaches, int days) {
        desk::ReceiveRecord record;
        record.supplier = snapshot().suppliers.front().id;
        record.at = session_.now();
        record.lines = {{item, "DUE" + std::to_string(days), session_.today().plusDays(days),
                         Eaches::of(eaches), Eaches{}, true}};
        LotId lot;
        const auto refused = session_.write(s("Received"), [&](desk::Desk &d) -> Result<void> {
            const auto received = d.receive(record);
            if (!received)
                return received.error();
            lot = received->receipt.lines.front().lot;
            return {};
        });
        EXPECT_FALSE(refused) << debugText(*refused);
        EXPECT_TRUE(settled());
        return lot;
    }
    ItemId kit() const { return std::ranges::find(snapshot().items, ItemKind::Kit, &Item::kind)->id; }
    // A second catheter with its order, at a home that takes couriers.
    Catheter addCatheter(CavitySite site = CavitySite::Chest) {
        Catheter catheter;
        for (const Patient &patient : snapshot().patients)
            if (patient.status == CareStatus::Active && patient.allowsCourier && patient.allergies.empty() &&
                !session_.agency()->index().holdOn(patient.id, session_.today()))
                catheter.patient = patient.id;
        EXPECT_TRUE(catheter.patient.isSet());
        catheter.site = site;
        catheter.side = Side::Left;
        catheter.insertedOn = session_.today();
        const ItemId plain = kit();
        const auto refused = session_.write(s("Added"), [&](desk::Desk &d) -> Result<void> {
            const auto stored = d.save(catheter);
            if (!stored)
                return stored.error();
            catheter = *stored;
            DrainOrder order;
            order.catheter = catheter.id;
            order.pattern.kind = DrainPatternKind::EveryNDays;
            order.pattern.everyDays = 2;
            order.pattern.anchor = order.start = session_.today().plusDays(6);
            order.mostPerSession = Millilitres::of(1000);
            order.kit = plain;
            order.prescriber = "Prescriber (invented)";
            const auto preview = d.previewOrder(order);
            if (!preview)
                return preview.error();
            const auto accepted = d.acceptOrder(*preview);
            return accepted ? Result<void>() : accepted.error();
        });
        EXPECT_FALSE(refused) << debugText(*refused);
        return catheter;
    }
    // The patient's row of the first deliveries that has something to send.
    bool chooseStart(PatientId patient) {
        const SnapshotIndex &index = session_.agency()->index();
        const QString who = desk::personName(*index.patient(patient), index);
        DenseTable *list = table(*stock_, "startUpTable");
        for (int i = 0; i < list->model()->rowCount(); ++i)
            if (cell(list, i, 1) == who && !cell(list, i, 3).isEmpty()) {
                list->setCurrentIndex(list->model()->index(i, 0));
                return true;
            }
        return false;
    }
    bool chooseLot(const QString &number) {
        DenseTable *list = table(*stock_, "expiryTable");
        for (int i = 0; i < list->model()->rowCount(); ++i)
            if (cell(list, i, 4).startsWith(number) && cell(list, i, 2) == s("storeroom")) {
                list->setCurrentIndex(list->model()->index(i, 0));
                return true;
            }
        return false;
    }
};

TEST_F(ClerkMonth, ALotThatFallsDueIsPutFirstWrittenOffAndSavedAsAList) {
    const LotId lot = shelve(kit(), 8, 45);
    showTabNamed(*stock_, "stockTabs", "Expiry");
    ASSERT_TRUE(waitFor([&] { return chooseLot(s("DUE45")); }));
    press(*stock_, "expiryFirst");
    ASSERT_TRUE(settled());
    EXPECT_TRUE(session_.agency()->index().lot(lot)->isPickedFirst);
    ASSERT_TRUE(waitFor([&] { return chooseLot(s("DUE45, first")); }));

    whenFormOpens([](RecordForm &form) {
        type(form, "quantity", "99");
        save(form);
        EXPECT_FALSE(fault(form, "quantity").isEmpty()) << "more than stands there";
        EXPECT_FALSE(fault(form, "why").isEmpty());
        type(form, "quantity", "3");
        type(form, "why", "boxes torn");
        save(form);
        EXPECT_FALSE(form.isVisible());
    });
    press(*stock_, "expiryWriteOff");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    Eaches left;
    for (const StockBalance &row : snapshot().balances)
        left += row.lot == lot ? row.quantity : Eaches{};
    EXPECT_EQ(left, Eaches::of(5));

    ASSERT_TRUE(waitFor([&] { return chooseLot(s("DUE45")); }));
    whenFormOpens([](RecordForm &form) {
        type(form, "quantity", "5");
        type(form, "why", "agreed on the phone");
        save(form);
        EXPECT_FALSE(form.isVisible());
    });
    press(*stock_, "expiryReturn");
    ASSERT_TRUE(settled());
    ASSERT_TRUE(waitFor([&] { return !chooseLot(s("DUE45")); })) << "nothing of it is left";

    const QString file = folder_.filePath(s("expiry.csv"));
    Ask::nextText(file);
    press(*stock_, "expiryCsv");
    QFile csv(file);
    ASSERT_TRUE(csv.open(QIODevice::ReadOnly));
    EXPECT_TRUE(QString::fromUtf8(csv.readAll()).startsWith(s("expires_on,within_days,item,lot")));
}

TEST_F(ClerkMonth, TheChoiceOfDaysKeepsWhatIsDueSooner) {
    shelve(kit(), 2, 20);
    shelve(kit(), 2, 80);
    showTabNamed(*stock_, "stockTabs", "Expiry");
    ASSERT_TRUE(waitFor([&] { return chooseLot(s("DUE20")) && chooseLot(s("DUE80")); }));
    auto *due = stock_->findChild<QComboBox *>(s("expiryDue"));
    due->setCurrentIndex(due->findData(30));
    EXPECT_TRUE(chooseLot(s("DUE20")));
    EXPECT_FALSE(chooseLot(s("DUE80")));
    due->setCurrentIndex(due->findData(90));
    EXPECT_TRUE(chooseLot(s("DUE20")));
    EXPECT_TRUE(chooseLot(s("DUE80")));
}

TEST_F(ClerkMonth, AStockOfAHomeCanNeitherBeMovedNorWrittenOff) {
    showTabNamed(*stock_, "stockTabs", "Expiry");
    DenseTable *list = table(*stock_, "expiryTable");
    ASSERT_TRUE(waitFor([&] { return list->model()->rowCount() > 0; }));
    for (int i = 0; i < list->model()->rowCount(); ++i) {
        if (!cell(list, i, 2).startsWith(s("home of")))
            continue;
        list->setCurrentIndex(list->model()->index(i, 0));
        for (const char *step : {"expiryFirst", "expiryWriteOff", "expiryReturn", "expiryBring"})
            EXPECT_FALSE(stock_->findChild<QPushButton *>(s(step))->isEnabled()) << step;
        EXPECT_FALSE(cell(list, i, 9).contains(s("Offer it to"))) << "never from one home to another";
    }
}

TEST_F(ClerkMonth, ANewCathetersFirstDeliveryIsPromisedFromTheList) {
    const Catheter catheter = addCatheter();
    ASSERT_TRUE(settled());
    showTabNamed(*stock_, "stockTabs", "First deliveries");
    ASSERT_TRUE(listed("startUpTable"));
    const auto choose = [&] { return chooseStart(catheter.patient); };
    ASSERT_TRUE(waitFor(choose));
    whenFormOpens([](RecordForm &form) {
        save(form);
        EXPECT_FALSE(fault(form, "answered_by").isEmpty()) << "nothing goes without a yes";
        type(form, "answered_by", "A Relative");
        save(form);
        EXPECT_FALSE(fault(form, "recalled_0").isEmpty()) << "another catheter's stock there is in question";
        type(form, "recalled_0", "0");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "startUpPromise");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    const auto promised = std::ranges::find_if(snapshot().deliveries, [&](const Delivery &d) {
        return !d.lines.empty() && d.lines.front().catheter == catheter.id;
    });
    ASSERT_NE(promised, snapshot().deliveries.end());
    EXPECT_EQ(promised->status, DeliveryStatus::Promised);
    EXPECT_LT(promised->promisedFor, session_.today().plusDays(6)) << "before the first drain";
    ASSERT_TRUE(waitFor([&] { return !choose(); })) << "it is not new any more";
}

TEST_F(ClerkMonth, OfTwoNewCathetersTheOneThatWasAskedForIsSupplied) {
    stock_->show();
    const Catheter first = addCatheter();
    const Catheter second = addCatheter(CavitySite::Abdomen);
    ASSERT_EQ(first.patient, second.patient);
    ASSERT_TRUE(settled());
    for (const Catheter &catheter : {second, first}) {
        whenFormOpens([](RecordForm &form) {
            type(form, "answered_by", "A Relative");
            findNothingRecalled(form);
            save(form);
            EXPECT_FALSE(form.isVisible())
                << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
        });
        stock_->startHome(catheter.patient, catheter.id);
        EXPECT_EQ(formsSeen_, 1);
        ASSERT_TRUE(settled());
        const bool isSupplied = std::ranges::any_of(snapshot().deliveries, [&](const Delivery &d) {
            return !d.lines.empty() && d.lines.front().catheter == catheter.id;
        });
        EXPECT_TRUE(isSupplied);
    }
}

TEST_F(ClerkMonth, AReloadBehindAFirstDeliveryLeavesItWhoseItIs) {
    const Catheter catheter = addCatheter();
    ASSERT_TRUE(settled());
    showTabNamed(*stock_, "stockTabs", "First deliveries");
    ASSERT_TRUE(waitFor([&] { return chooseStart(catheter.patient); }));
    whenFormOpens([&](RecordForm &form) {
        setNumber(SettingKey::SupplyBudgetMinor, 100'000);
        ASSERT_TRUE(waitFor([&] { return chooseStart(catheter.patient); })) << "the rows are new ones";
        type(form, "answered_by", "A Relative");
        findNothingRecalled(form);
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*stock_, "startUpPromise");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    const bool isTheirs = std::ranges::any_of(snapshot().refillContacts, [&](const RefillContact &contact) {
        return contact.patient == catheter.patient && contact.answeredBy == "A Relative";
    });
    EXPECT_TRUE(isTheirs);
}

TEST_F(ClerkMonth, AFirstDeliveryAskedForBeforeItsListIsThereOpensWithTheList) {
    stock_->show();
    const Catheter catheter = addCatheter();
    ASSERT_TRUE(waitFor([&] { return session_.agency()->index().catheter(catheter.id) != nullptr; }));
    whenFormOpens([&](RecordForm &form) {
        EXPECT_NE(form.findChild<QLineEdit *>(s("answered_by")), nullptr) << form.windowTitle().toStdString();
    });
    stock_->startHome(catheter.patient); // the list is worked out anew
    EXPECT_TRUE(waitFor([&] { return formsSeen_ == 1; })) << Ask::lastSaid().toStdString();
}

TEST_F(ClerkMonth, AHomeThatIsOnNoListIsSaidAndNobodyElsesFormOpens) {
    const auto homes = desk::homeRows(*session_.stock());
    const auto starts = desk::startUpRows(*session_.stock());
    const auto isOnAList = [&](const Patient &patient) {
        return std::ranges::find(homes, patient.id, &desk::HomeRow::patient) != homes.end() ||
               std::ranges::any_of(starts, [&](const auto &row) { return row.start.patient == patient.id; });
    };
    const auto other = std::ranges::find_if(snapshot().patients, std::not_fn(isOnAList));
    ASSERT_NE(other, snapshot().patients.end());
    bool isAnyOpen = false;
    whenFormOpens([&](RecordForm &) { isAnyOpen = true; });
    showTabNamed(*stock_, "stockTabs", "Homes");
    stock_->countHome(other->id);
    EXPECT_TRUE(Ask::lastSaid().contains(s("Nothing is forecast for this home")))
        << Ask::lastSaid().toStdString();
    stock_->startHome(other->id);
    EXPECT_TRUE(Ask::lastSaid().contains(s("waits for no first delivery"))) << Ask::lastSaid().toStdString();
    EXPECT_FALSE(isAnyOpen);
}

TEST_F(ClerkMonth, AMonthIsClosedRefusesWhatComesLateAndIsOpenedWithAReason) {
    reorders_->show();
    showTabNamed(*reorders_, "reorderTabs", "Month end");
    const auto state = [&] { return reorders_->findChild<QLabel *>(s("monthState"))->text(); };
    const auto says = [&](const QString &words) { return waitFor([&] { return state().contains(words); }); };
    EXPECT_TRUE(says(s("Tied to the ledger"))) << state().toStdString();
    EXPECT_GT(table(*reorders_, "monthTable")->model()->rowCount(), 0);
    EXPECT_TRUE(reorders_->findChild<QLabel *>(s("monthFigures"))->text().contains(s("patient-days")));
    Ask::nextAnswer(true);
    press(*reorders_, "monthClose");
    ASSERT_TRUE(settled());
    EXPECT_TRUE(says(s("Closed by %1").arg(session_.userName()))) << state().toStdString();

    desk::ReceiveRecord late;
    late.supplier = snapshot().suppliers.front().id;
    late.at = {Date::of(2026, 10, 30), Minutes::of(600)};
    late.lines = {{kit(), "LATE", session_.today().plusDays(500), Eaches::of(5), Eaches{}, false}};
    const auto refused = session_.write(s("Received"), [&](desk::Desk &d) { return d.receive(late); });
    ASSERT_TRUE(refused);
    EXPECT_EQ(refused->field, "received_at");
    EXPECT_TRUE(desk::words(*refused).contains(s("Sun 1 Nov 2026"))) << desk::words(*refused).toStdString();

    const QString file = folder_.filePath(s("month.csv"));
    Ask::nextText(file);
    press(*reorders_, "monthCsv");
    EXPECT_TRUE(QFile::exists(file));
    Ask::nextText(s("a slip was found"));
    press(*reorders_, "monthReopen");
    ASSERT_TRUE(settled());
    EXPECT_TRUE(says(s("Opened again: a slip was found"))) << state().toStdString();
    ASSERT_FALSE(session_.write(s("Received"), [&](desk::Desk &d) { return d.receive(late); }));
}

// The window goes on while the ledger is read: the answer comes through the event loop, and until then no
// step of the month before can be taken for the one now chosen.
TEST_F(ClerkMonth, TheBooksAreReadBesideTheWindow) {
    reorders_->show();
    showTabNamed(*reorders_, "reorderTabs", "Month end");
    const auto *print = reorders_->findChild<QPushButton *>(s("monthPrint"));
    const auto *state = reorders_->findChild<QLabel *>(s("monthState"));
    EXPECT_EQ(state->text(), s("The books are being read."));
    ASSERT_TRUE(waitFor([&] { return print->isEnabled(); }));
    auto *months = reorders_->findChild<QComboBox *>(s("monthChoice"));
    months->setCurrentIndex(3);
    months->setCurrentIndex(2);
    EXPECT_EQ(state->text(), s("The books are being read."));
    EXPECT_FALSE(print->isEnabled());
    EXPECT_FALSE(reorders_->findChild<QPushButton *>(s("monthClose"))->isEnabled());
    ASSERT_TRUE(waitFor([&] { return print->isEnabled(); }));
    EXPECT_FALSE(state->text().contains(s("being read"))) << "the answer of the month chosen last";
}

TEST_F(ClerkMonth, OrdersBeyondTheBudgetAskForAName) {
    setNumber(SettingKey::SupplyBudgetMinor, 100);
    showTab(*reorders_, "reorderTabs", 0);
    ASSERT_GT(table(*reorders_, "reorderTable")->model()->rowCount(), 0);
    EXPECT_TRUE(reorders_->findChild<QLabel *>(s("reorderSums"))->text().contains(s("Budget of Nov 2026")));
    const auto drafts = [&] {
        return std::ranges::count(snapshot().purchaseOrders, PurchaseStatus::Draft, &PurchaseOrder::status);
    };
    const auto before = drafts();
    Ask::nextText(QString());
    press(*reorders_, "reorderMain");
    EXPECT_EQ(drafts(), before) << "nobody named, nothing made";
    Ask::nextText(s("Invented Manager"));
    press(*reorders_, "reorderMain");
    ASSERT_TRUE(settled());
    EXPECT_GT(drafts(), before);
    EXPECT_TRUE(reorders_->findChild<QLabel *>(s("reorderSums"))->text().contains(s(", drafts ")));
    for (const PurchaseOrder &order : snapshot().purchaseOrders)
        if (order.status == PurchaseStatus::Draft && order.id.value() > 0 && !order.approvedBy.empty()) {
            EXPECT_EQ(order.approvedBy, "Invented Manager");
        }
}

TEST_F(ClerkMonth, TheSlipOfADeliveryIsPrintedFromItsRow) {
    showTabNamed(*stock_, "stockTabs", "Deliveries");
    ASSERT_GT(table(*stock_, "deliveryTable")->model()->rowCount(), 0);
    const QString file = folder_.filePath(s("slip.pdf"));
    Ask::nextChoice(1); // as a PDF
    Ask::nextText(file);
    press(*stock_, "deliverySlip");
    EXPECT_TRUE(QFile::exists(file));
}

} // namespace
} // namespace kitround::ui
