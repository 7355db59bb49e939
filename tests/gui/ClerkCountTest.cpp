// Cycle counts: the list of what is due, a count by lot, and what a difference must say.
#include "core/desk/views/StoreroomItem.h"
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
        save(form);
        EXPECT_FALSE(fault(form, "counted_0").isEmpty()) << "nothing counted is not nought";
        form.findChild<QLineEdit *>(s("counted_0"))->setText(QString::number(first.count() * pack));
        save(form);
        EXPECT_TRUE(fault(form, "counted_0").contains(s("cases or eaches"))) << "the factor of a case";
        EXPECT_FALSE(fault(form, "why").isEmpty());
        EXPECT_FALSE(fault(form, "second_person").isEmpty());
        type(form, "counted_0", "0");
        for (std::size_t i = 1; i < all.size(); ++i) // else it stays due
            form.findChild<QLineEdit *>(s("counted_%1").arg(i))->setText(QString::number(all[i].count()));
        type(form, "why", "box fell behind the shelf");
        type(form, "second_person", session_.userName().toUtf8().constData());
        save(form);
        EXPECT_TRUE(fault(form, "second_person").contains(s("other person"))) << "oneself is no second";
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

TEST_F(ClerkCount, ALotThatStandsThereAndIsNotListedIsCountedToo) {
    const auto isGone = [&](const Lot &lot) {
        const auto rows = desk::lotRows(*session_.agency(), lot.item);
        const auto row = std::ranges::find(rows, std::optional(lot.id), &desk::LotRow::lot);
        return lot.state == LotState::Usable && (row == rows.end() || row->storeroom.isZero());
    };
    const auto lot = std::ranges::find_if(snapshot().lots, isGone);
    ASSERT_NE(lot, snapshot().lots.end()) << "the sample has a lot that is used up";
    const LotId id = lot->id;
    const ItemId item = lot->item;
    const Eaches before = balance(item);
    whenFormOpens([&](RecordForm &form) {
        type(form, "found", "1");
        type(form, "why", "stood behind the door");
        type(form, "second_person", "Invented Colleague");
        save(form);
        EXPECT_FALSE(fault(form, "found_lot").isEmpty()) << "one of which lot?";
        auto *found = form.findChild<QComboBox *>(s("found_lot"));
        found->setCurrentIndex(found->findData(qlonglong(id.value())));
        save(form);
        EXPECT_FALSE(form.isVisible()) << form.findChild<QLabel *>(s("formProblem"))->text().toStdString();
    });
    EXPECT_TRUE(countItem(stock_.get(), session_, item));
    EXPECT_EQ(formsSeen_, 1);
    ASSERT_TRUE(settled());
    EXPECT_EQ(balance(item), before + Eaches::of(1));
}

} // namespace
} // namespace kitround::ui
