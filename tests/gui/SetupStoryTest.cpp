// What a new agency enters first: what may be a slip is asked about, and what goes together is entered at
// once.
#include "core/desk/words/Words.h"
#include "tests/gui/WindowFixture.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RecordForm.h"
#include "ui/today/TodayPage.h"

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollBar>
#include <QTabWidget>
#include <QWizard>

#include <algorithm>
#include <functional>

namespace kitround::ui {
namespace {

class SetupStory : public WindowTest {
protected:
    const Snapshot &snapshot() { return session().agency()->snapshot(); }
    static void save(QWidget &form) { form.findChild<QPushButton *>(QStringLiteral("formSave"))->click(); }
    static QLineEdit &line(QWidget &form, const char *field) {
        auto *edit = form.findChild<QLineEdit *>(QString::fromLatin1(field));
        EXPECT_NE(edit, nullptr) << field;
        return *edit;
    }
    static bool isAtFault(QWidget &form, const char *field) {
        const auto *fault = form.findChild<QLabel *>(QString::fromLatin1(field) + QStringLiteral("_fault"));
        EXPECT_NE(fault, nullptr) << field;
        return fault && !fault->isHidden();
    }
    // By its four pages, with a storeroom in New York.
    static void fillFirstRecords(QWizard &wizard) {
        choose(wizard, "nurse_credential", static_cast<qint64>(Credential::PracticalNurse));
        type(wizard, "nurse_hours", QStringLiteral("37.5"));
        type(wizard, "kit_connector", QStringLiteral("C1"));
    }
    static QString faultHere(const QWizard &wizard) {
        const auto *fault = wizard.currentPage()->findChild<QLabel *>(QStringLiteral("pageFault"));
        return fault ? fault->text() : QString();
    }
    void makeAgency(const std::function<void(QWizard &)> &atStoreroom,
                    const std::function<void(QWizard &)> &atFirstRecords = fillFirstRecords) {
        withNextForm([&](QWidget &form) {
            auto *wizard = qobject_cast<QWizard *>(&form);
            ASSERT_NE(wizard, nullptr);
            type(form, "agency_name", QStringLiteral("Fern Hill Home Care (invented)"));
            type(form, "user_name", QStringLiteral("Coordinator"));
            wizard->next();
            type(form, "street", QStringLiteral("1 Example Road"));
            type(form, "latitude", QStringLiteral("40.70"));
            atStoreroom(*wizard);
            type(form, "nurse_family", QStringLiteral("Marlow"));
            atFirstRecords(*wizard);
            wizard->next();
            type(form, "file", path("new.kitround"));
            wizard->button(QWizard::FinishButton)->click();
            EXPECT_FALSE(form.isVisible());
            if (form.isVisible())
                leave(form);
        });
        find<QPushButton>("startNew").click();
        waitComputed();
    }
};

TEST_F(SetupStory, AStoreroomWithoutItsMinusIsAskedAboutAndCopiedNowhere) {
    makeAgency([](QWizard &wizard) {
        EXPECT_TRUE(line(wizard, "longitude").placeholderText().contains(QStringLiteral("minus")));
        type(wizard, "longitude", QStringLiteral("74.00"));
        const int page = wizard.currentId();
        wizard.next();
        EXPECT_EQ(wizard.currentId(), page) << "Enter goes back";
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("America/New_York")))
            << Ask::lastSaid().toStdString();
        type(wizard, "longitude", QStringLiteral("-74.00"));
        wizard.next();
        EXPECT_NE(wizard.currentId(), page);
    });
    ASSERT_EQ(snapshot().nurses.size(), 1U);
    EXPECT_TRUE(snapshot().nurses.front().startsAtStoreroom);
    EXPECT_EQ(snapshot().nurses.front().base, Address{}) << "it would stay behind when the storeroom moves";
    ASSERT_TRUE(snapshot().settings.storeroom.point.has_value());
    // The same is asked where the agency is edited.
    window_->showPage(QStringLiteral("settings"));
    withNextForm([&](QWidget &form) {
        line(form, "longitude").setText(QStringLiteral("74.00"));
        save(form);
        EXPECT_TRUE(form.isVisible());
        Ask::nextAnswer(true); // it is meant
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    find<QPushButton>("agencyEdit").click();
    waitComputed();
    EXPECT_GT(snapshot().settings.storeroom.point->longitude, 0);
}

TEST_F(SetupStory, EachPageOfTheSetUpTellsItsOwnFaultsAndNoFactIsMadeUp) {
    makeAgency(
        [](QWizard &wizard) {
            const int page = wizard.currentId();
            type(wizard, "latitude", QStringLiteral("95"));
            type(wizard, "longitude", QStringLiteral("-74.00"));
            wizard.next();
            EXPECT_EQ(wizard.currentId(), page) << "told here, and not two pages on";
            EXPECT_TRUE(faultHere(wizard).startsWith(QStringLiteral("Latitude")))
                << faultHere(wizard).toStdString();
            type(wizard, "latitude", QStringLiteral("north"));
            wizard.next();
            EXPECT_EQ(wizard.currentId(), page);
            type(wizard, "latitude", QStringLiteral("40.70"));
            wizard.next();
            EXPECT_NE(wizard.currentId(), page);
        },
        [](QWizard &wizard) {
            const int page = wizard.currentId();
            wizard.next();
            EXPECT_EQ(wizard.currentId(), page);
            for (const char *asked : {"Credential", "Contract", "Connector"})
                EXPECT_TRUE(faultHere(wizard).contains(QString::fromLatin1(asked)))
                    << asked << ": " << faultHere(wizard).toStdString();
            fillFirstRecords(wizard);
        });
    ASSERT_EQ(snapshot().nurses.size(), 1U);
    EXPECT_EQ(snapshot().nurses.front().credential, Credential::PracticalNurse);
    EXPECT_EQ(snapshot().nurses.front().contractPerWeek, Minutes::of(2250));
    ASSERT_EQ(snapshot().items.size(), 2U);
    for (const Item &kit : snapshot().items)
        EXPECT_EQ(kit.connector, "C1");
}

TEST_F(SetupStory, NobodyMarksHimselfAsGone) {
    openSample();
    window_->showPage(QStringLiteral("settings"));
    const UserId me = session().desk().user();
    auto &users = find<DenseTable>("userTable");
    const auto all = session().desk().users();
    ASSERT_TRUE(all);
    const auto mine = std::ranges::find(*all, me, &User::id);
    ASSERT_NE(mine, all->end());
    users.selectSourceRow(static_cast<int>(mine - all->begin()));
    withNextForm([&](QWidget &form) {
        form.findChild<QCheckBox *>(QStringLiteral("is_active"))->setChecked(false);
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_TRUE(isAtFault(form, "is_active"));
        leave(form);
    });
    find<QPushButton>("userEdit").click();
}

TEST_F(SetupStory, TheStepToASupplierOpensItsForm) {
    makeAgency([](QWizard &wizard) {
        line(wizard, "latitude").clear();
        wizard.next();
    });
    auto *today = window_->findChild<TodayPage *>();
    ASSERT_NE(today, nullptr);
    withNextForm([&](QWidget &form) {
        EXPECT_EQ(form.windowTitle(), QStringLiteral("New supplier"));
        leave(form);
    });
    Q_EMIT today->showWorkplace(QStringLiteral("suppliers"));
    EXPECT_EQ(find<QTabWidget>("catalogueTabs").tabText(find<QTabWidget>("catalogueTabs").currentIndex()),
              QStringLiteral("Suppliers"));
}

TEST_F(SetupStory, AContractIsEnteredInHours) {
    openSample();
    window_->showPage(QStringLiteral("nurses"));
    NurseId edited;
    withNextForm([&](QWidget &form) {
        const std::string code = line(form, "code").text().toStdString();
        edited = std::ranges::find(snapshot().nurses, code, &Nurse::code)->id;
        line(form, "contract_min").setText(QStringLiteral("2400"));
        save(form);
        EXPECT_TRUE(isAtFault(form, "contract_min")) << "those are minutes";
        const auto *fault = form.findChild<QLabel *>(QStringLiteral("contract_min_fault"));
        EXPECT_TRUE(fault->text().contains(QStringLiteral("168"))) << fault->text().toStdString();
        line(form, "contract_min").setText(QStringLiteral("37.5"));
        auto *starts = form.findChild<QCheckBox *>(QStringLiteral("starts_at_storeroom"));
        const auto *meaning = form.findChild<QLabel *>(QStringLiteral("base_is"));
        starts->setChecked(true);
        EXPECT_TRUE(meaning->text().contains(QStringLiteral("ends at the storeroom")));
        starts->setChecked(false);
        EXPECT_TRUE(meaning->text().contains(QStringLiteral("starts and ends")));
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    find<QPushButton>("nurseEdit").click();
    waitComputed();
    EXPECT_EQ(session().agency()->index().nurse(edited)->contractPerWeek, Minutes::of(2250));
}

TEST_F(SetupStory, SeveralWeekdaysAreEnteredAtOnceWithTheHoursOfTheLast) {
    openSample();
    window_->showPage(QStringLiteral("nurses"));
    const std::size_t before = snapshot().shiftPatterns.size();
    withNextForm([&](QWidget &form) {
        EXPECT_FALSE(line(form, "from").text().isEmpty()) << "as entered last";
        EXPECT_FALSE(line(form, "to").text().isEmpty());
        save(form);
        EXPECT_TRUE(isAtFault(form, "weekday")) << "no day is made up";
        form.findChild<WeekdayField *>()->setValue({Weekday::Saturday, Weekday::Sunday});
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    find<QPushButton>("entryAdd").click();
    waitComputed();
    EXPECT_EQ(snapshot().shiftPatterns.size(), before + 2);
    EXPECT_EQ(session().lastWritten(), QStringLiteral("Saved 2 shifts"));
    const ShiftPattern last = *std::ranges::max_element(snapshot().shiftPatterns, {}, &ShiftPattern::id);
    withNextForm([&](QWidget &form) {
        EXPECT_EQ(line(form, "from").text(), desk::timeText(last.from));
        leave(form);
    });
    find<QPushButton>("entryAdd").click();
}

// An item, and a supplier that does not offer it yet.
SupplierItem unoffered(const Snapshot &s) {
    for (const Item &item : s.items)
        for (const Supplier &supplier : s.suppliers)
            if (item.isActive && item.casePack.eachesPerCase.count() > 1 &&
                std::ranges::none_of(s.supplierItems, [&](const SupplierItem &o) {
                    return o.item == item.id && o.supplier == supplier.id;
                })) {
                SupplierItem offer;
                offer.item = item.id;
                offer.supplier = supplier.id;
                offer.pack = item.casePack;
                return offer;
            }
    ADD_FAILURE() << "everybody offers everything";
    return {};
}

TEST_F(SetupStory, AnOfferTakesTheCaseOfItsItemAndIsNotFreeByAnOversight) {
    openSample();
    window_->showPage(QStringLiteral("catalogue"));
    find<QTabWidget>("catalogueTabs").setCurrentIndex(2);
    const SupplierItem wanted = unoffered(snapshot());
    const std::size_t before = snapshot().supplierItems.size();
    withNextForm([&](QWidget &form) {
        EXPECT_TRUE(line(form, "eaches_per_case").text().isEmpty());
        EXPECT_TRUE(line(form, "price_minor").text().isEmpty());
        choose(form, "supplier_id", wanted.supplier.value());
        choose(form, "item_id", wanted.item.value());
        EXPECT_EQ(line(form, "eaches_per_case").text(), QString::number(wanted.pack.eachesPerCase.count()));
        form.findChild<QCheckBox *>(QStringLiteral("is_preferred"))->setChecked(false);
        save(form);
        EXPECT_TRUE(isAtFault(form, "price_minor"));
        line(form, "price_minor").setText(QStringLiteral("0"));
        line(form, "eaches_per_case").setText(QStringLiteral("1"));
        save(form);
        EXPECT_TRUE(form.isVisible()) << "Enter goes back";
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("free"))) << Ask::lastSaid().toStdString();
        EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("holds 1"))) << Ask::lastSaid().toStdString();
        line(form, "price_minor").setText(QStringLiteral("95.00"));
        line(form, "eaches_per_case").setText(QString::number(wanted.pack.eachesPerCase.count()));
        save(form);
        EXPECT_FALSE(form.isVisible());
        leave(form);
    });
    find<QPushButton>("catalogueNew").click();
    waitComputed();
    EXPECT_EQ(snapshot().supplierItems.size(), before + 1);
}

TEST_F(SetupStory, TheItemOfAnOfferIsToldByItsSize) {
    openSample();
    window_->showPage(QStringLiteral("catalogue"));
    find<QTabWidget>("catalogueTabs").setCurrentIndex(2);
    auto &offers = find<DenseTable>("offerTable");
    ASSERT_GT(offers.model()->rowCount(), 0);
    const int wanted = offers.fontMetrics().horizontalAdvance(offers.model()->index(0, 1).data().toString());
    EXPECT_GE(offers.columnWidth(1), std::min(wanted, 200));
    window_->resize(1280, 720);
    offers.fitColumns(1);
    EXPECT_TRUE(waitFor([&] {
        offers.doItemsLayout(); // the scroll bar hears of the columns' widths at once
        return window_->width() == 1280 && offers.horizontalScrollBar()->maximum() == 0;
    })) << "all of it is read without scrolling sideways; over by "
        << offers.horizontalScrollBar()->maximum();
}

} // namespace
} // namespace kitround::ui
