// Cycle counts: the list of what is due, a count by lot, and what a difference must say.
#include "core/desk/views/StoreroomItem.h"
#include "core/desk/words/Text.h"
#include "tests/gui/ClerkFixture.h"
#include "ui/stock/CountsDialog.h"

#include <QCheckBox>

namespace kitround::ui {
namespace {

class ClerkCount : public ClerkPages {
protected:
    // Ledger of the item's lots in the storeroom, in the order of the form.
    std::vector<Eaches> lotsOf(ItemId item) const {
        std::vector<Eaches> lots;
        for (const desk::LotRow &row : desk::lotRows(*session_.agency(), item))
            if (!row.storeroom.isZero())
                lots.push_back(row.storeroom);
        return lots;
    }
    Eaches balance(ItemId item) const { return session_.agency()->index().balance(Place::storeroom(), item); }
};

TEST_F(ClerkCount, ADifferenceWantsAReasonALargeOneASecondPersonAndAWrongUnitIsAskedAbout) {
    showTab(*stock_, "stockTabs", 1);
    press(*stock_, "storeroomCounts");
    auto *dialog = stock_->findChild<CountsDialog *>(s("countsDialog"));
    ASSERT_NE(dialog, nullptr);
    DenseTable *list = table(*dialog, "countsTable");
    ASSERT_GT(list->model()->rowCount(), 0);
    // The item with a price and a case that has stock.
    int row = -1;
    ItemId item;
    for (int i = 0; i < list->model()->rowCount() && row < 0; ++i) {
        const auto named = std::ranges::find_if(snapshot().items, [&](const Item &it) {
            return QString::fromStdString(it.name) == cell(list, i, 1);
        });
        const auto lots = lotsOf(named->id);
        if (!lots.empty() && lots[0].count() > 20 && named->casePack.eachesPerCase.count() > 1 &&
            supply::minorPerEach(session_.agency()->index(), named->id) > 0) {
            row = i;
            item = named->id;
        }
    }
    ASSERT_GE(row, 0);
    list->selectSourceRow(row);
    const std::vector<Eaches> all = lotsOf(item);
    const Eaches before = balance(item), first = all.front();
    const std::int64_t pack = session_.agency()->index().item(item)->casePack.eachesPerCase.count();
    // Enough is missing to be worth more than the limit.
    whenFormOpens([&](RecordForm &form) {
        EXPECT_FALSE(form.findChild<QLineEdit *>(s("why"))->isVisible()) << "counted blind first";
        save(form);
        EXPECT_FALSE(fault(form, "counted_0").isEmpty()) << "nothing counted is not nought";
        form.findChild<QLineEdit *>(s("counted_0"))->setText(QString::number(first.count() * pack));
        save(form);
        EXPECT_TRUE(fault(form, "counted_0").contains(s("cases or eaches"))) << "the factor of a case";
        const auto *told = form.findChild<QLabel *>(s("variance"));
        EXPECT_TRUE(told->isVisible() && told->text().contains(s("more than on the books")))
            << told->text().toStdString();
        EXPECT_FALSE(fault(form, "why").isEmpty());
        EXPECT_FALSE(fault(form, "second_person").isEmpty());
        type(form, "counted_0", "0");
        for (std::size_t i = 1; i < all.size(); ++i) // else it stays due
            form.findChild<QLineEdit *>(s("counted_%1").arg(i))->setText(QString::number(all[i].count()));
        type(form, "why", "box fell behind the shelf");
        type(form, "second_person", session_.userName().toUtf8().constData());
        save(form);
        EXPECT_TRUE(fault(form, "second_person").contains(s("other person"))) << "oneself is no second";
        EXPECT_TRUE(
            told->text().contains(s("counted 0, books %1, %1 missing").arg(desk::numberText(first.count()))))
            << told->text().toStdString();
        type(form, "second_person", "Invented Colleague");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    press(*dialog, "countsCount");
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(balance(item), before - first);
    const auto movements = session_.desk().movementsAt(Place::storeroom(), item);
    ASSERT_TRUE(movements);
    const auto counted = std::ranges::find_if(*movements, [](const StockMovement &m) {
        return m.reason == MovementReason::Count && m.note.find("Invented Colleague") != std::string::npos;
    });
    EXPECT_NE(counted, movements->end()) << "who counted is on the movement";
    for (int i = 0; i < list->model()->rowCount(); ++i)
        if (cell(list, i, 1) == QString::fromStdString(session_.agency()->index().item(item)->name)) {
            EXPECT_NE(cell(list, i, 3), s("never"));
        }
}

TEST_F(ClerkCount, ACountThatAgreesMovesNothingAndCountsAsCounted) {
    const auto item =
        std::ranges::find_if(snapshot().items, [&](const Item &i) { return !lotsOf(i.id).empty(); });
    ASSERT_NE(item, snapshot().items.end());
    const ItemId id = item->id;
    desk::StoreroomCount count;
    count.item = id;
    for (const desk::LotRow &row : desk::lotRows(*session_.agency(), id))
        if (!row.storeroom.isZero())
            count.lots.push_back({row.lot, row.storeroom});
    const Eaches before = balance(id);
    ASSERT_FALSE(session_.write(s("Counted"), [&](desk::Desk &d) { return d.countStoreroom(count); }));
    ASSERT_TRUE(settled());
    EXPECT_EQ(balance(id), before);
    const auto last = desk::lastStoreroomCounts(session_.desk());
    ASSERT_TRUE(last);
    EXPECT_TRUE(last->contains(id));
}

TEST_F(ClerkCount, WhatIsRefusedForSomethingElseIsNoDifferenceAndNoneIsSaidOnlyAfterOne) {
    const auto item = std::ranges::find_if(snapshot().items, [&](const Item &i) {
        const auto lots = lotsOf(i.id);
        return !lots.empty() && lots.front().count() > 1;
    });
    ASSERT_NE(item, snapshot().items.end());
    const ItemId id = item->id;
    const Eaches first = lotsOf(id).front();
    whenFormOpens([&](RecordForm &form) {
        const auto *told = form.findChild<QLabel *>(s("variance"));
        type(form, "counted_0", std::to_string(first.count()).c_str());
        type(form, "found_lot_0", "NEVER-SEEN-1");
        type(form, "found_0", "0"); // a lot that was found is not none
        save(form);
        ASSERT_TRUE(form.isVisible());
        EXPECT_FALSE(told->isVisible()) << told->text().toStdString();
        type(form, "found_lot_0", "");
        type(form, "found_0", "");
        type(form, "counted_0", std::to_string(first.count() - 1).c_str());
        save(form);
        EXPECT_TRUE(told->isVisible() && told->text().contains(s("1 missing"))) << told->text().toStdString();
        type(form, "found_lot_0", "NEVER-SEEN-1");
        type(form, "found_0", "0");
        type(form, "counted_0", std::to_string(first.count()).c_str());
        save(form);
        EXPECT_TRUE(told->text().contains(s("Nothing is recorded yet"))) << told->text().toStdString();
    });
    EXPECT_FALSE(countItem(stock_.get(), session_, id));
    EXPECT_EQ(formsSeen_, 1);
}

TEST_F(ClerkCount, ALotThatStandsThereAndIsNotListedIsCountedToo) {
    const auto isGone = [&](const Lot &lot) {
        const auto rows = desk::lotRows(*session_.agency(), lot.item);
        const auto row = std::ranges::find(rows, std::optional(lot.id), &desk::LotRow::lot);
        return lot.state == LotState::Usable && (row == rows.end() || row->storeroom.isZero()) &&
               (!lot.expiresOn || *lot.expiresOn >= session_.today());
    };
    const auto lot = std::ranges::find_if(snapshot().lots, isGone);
    ASSERT_NE(lot, snapshot().lots.end()) << "the sample has a lot that is used up";
    const std::string number = lot->number;
    const ItemId item = lot->item;
    const Eaches before = balance(item);
    const std::size_t lots = snapshot().lots.size();
    whenFormOpens([&](RecordForm &form) {
        type(form, "found_0", "1");
        type(form, "why", "stood behind the door");
        type(form, "second_person", "Invented Colleague");
        save(form);
        EXPECT_FALSE(fault(form, "found_lot_0").isEmpty()) << "one of which lot?";
        type(form, "found_lot_0", number.c_str()); // its last day of use is on record
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    EXPECT_TRUE(countItem(stock_.get(), session_, item));
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(balance(item), before + Eaches::of(1));
    EXPECT_EQ(snapshot().lots.size(), lots);
}

TEST_F(ClerkCount, ALotThatIsNotOnRecordIsScannedAndCountedInOneGo) {
    const auto item = std::ranges::find_if(snapshot().items, [&](const Item &i) {
        return !i.gtin.empty() && !lotsOf(i.id).empty() && desk::expires(*session_.agency(), i.id);
    });
    ASSERT_NE(item, snapshot().items.end());
    const auto other = std::ranges::find_if(
        snapshot().items, [&](const Item &i) { return !i.gtin.empty() && i.id != item->id; });
    ASSERT_NE(other, snapshot().items.end());
    const ItemId id = item->id;
    const std::string own = item->gtin, others = other->gtin;
    const Eaches before = balance(id);
    whenFormOpens([&](RecordForm &form) {
        auto *field = form.findChild<QLineEdit *>(s("countScan"));
        const auto *says = form.findChild<QLabel *>(s("countScanSays"));
        ASSERT_TRUE(field && says);
        const auto scan = [&](const std::string &label) {
            field->setText(QString::fromStdString(label));
            QTest::keyClick(field, Qt::Key_Return);
        };
        const auto *lot = form.findChild<QLineEdit *>(s("found_lot_0"));
        scan("01" + others + "1729063010NEW-9");
        EXPECT_TRUE(says->text().contains(s("is counted here"))) << says->text().toStdString();
        scan("01" + own + "1720063010OLD-9");
        EXPECT_TRUE(says->text().contains(s("last day of use of lot OLD-9"))) << says->text().toStdString();
        EXPECT_EQ(lot->text(), QString()) << "nothing refused is filled in";
        scan("01" + own + "10NEW-9");
        EXPECT_EQ(lot->text(), s("NEW-9"));
        type(form, "found_0", "3");
        type(form, "why", "stood behind the door");
        type(form, "second_person", "Invented Colleague");
        save(form);
        EXPECT_FALSE(fault(form, "found_expires_0").isEmpty()) << "this item expires";
        scan("01" + own + "1729063010NEW-9"); // the label on its other side
        scan("01" + own + "1729063010NEW-10");
        EXPECT_TRUE(form.findChild<QLineEdit *>(s("found_lot_1"))->isVisibleTo(&form)) << "a line more";
        save(form);
        EXPECT_FALSE(fault(form, "found_1").isEmpty()) << "how many of it?";
        type(form, "found_1", "2");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    EXPECT_TRUE(countItem(stock_.get(), session_, id));
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(balance(id), before + Eaches::of(5));
    const auto made = std::ranges::find(snapshot().lots, "NEW-9", &Lot::number);
    ASSERT_NE(made, snapshot().lots.end());
    EXPECT_EQ(made->expiresOn, Date::of(2029, 6, 30));
}

TEST_F(ClerkCount, AListedLotScannedLastIsNotLeftOutOfTheCount) {
    const auto firstOf = [&](ItemId item) {
        for (const desk::LotRow &row : desk::lotRows(*session_.agency(), item))
            if (!row.storeroom.isZero())
                return row;
        return desk::LotRow{};
    };
    const auto item = std::ranges::find_if(snapshot().items, [&](const Item &i) {
        const desk::LotRow first = firstOf(i.id);
        return !i.gtin.empty() && first.lot && !first.isExpired;
    });
    ASSERT_NE(item, snapshot().items.end());
    const ItemId id = item->id;
    const std::string own = item->gtin;
    const desk::LotRow listed = firstOf(id);
    whenFormOpens([&](RecordForm &form) {
        auto *field = form.findChild<QLineEdit *>(s("countScan"));
        ASSERT_TRUE(field);
        field->setText(QString::fromStdString("01" + own + "1729063010NEW-11"));
        QTest::keyClick(field, Qt::Key_Return);
        type(form, "found_0", "3");
        type(form, "why", "stood behind the door");
        type(form, "second_person", "Invented Colleague");
        field->setText(QString::fromStdString("01" + own + "10") + listed.number); // its Enter is forgotten
        save(form);
        EXPECT_TRUE(form.isVisible());
        EXPECT_FALSE(fault(form, "counted_0").isEmpty()) << "how many of it?";
        type(form, "counted_0", std::to_string(listed.storeroom.count()).c_str());
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    EXPECT_TRUE(countItem(stock_.get(), session_, id));
    EXPECT_EQ(formsSeen_, 1);
}

TEST_F(ClerkCount, WhatIsFoundOfARecalledLotIsSaidToBeInQuarantine) {
    const auto lot = std::ranges::find(snapshot().lots, LotState::Recalled, &Lot::state);
    ASSERT_NE(lot, snapshot().lots.end());
    const std::string number = lot->number;
    const ItemId item = lot->item;
    const auto held = [&] { return session_.agency()->index().balance(Place::quarantine(), item); };
    const Eaches before = held(), shelf = balance(item);
    whenFormOpens([&](RecordForm &form) {
        type(form, "found_lot_0", number.c_str());
        type(form, "found_0", "2");
        type(form, "why", "a box behind the others");
        type(form, "second_person", "Invented Colleague");
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    EXPECT_TRUE(countItem(stock_.get(), session_, item));
    EXPECT_TRUE(Ask::lastSaid().contains(s("went to quarantine"))) << Ask::lastSaid().toStdString();
    ASSERT_TRUE(settled());
    EXPECT_EQ(held(), before + Eaches::of(2));
    EXPECT_EQ(balance(item), shelf);
}

} // namespace
} // namespace kitround::ui
