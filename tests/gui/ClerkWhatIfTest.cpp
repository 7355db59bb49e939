// Another service level looked at, left and used; and how good the forecast has been.
#include "tests/gui/ClerkFixture.h"
#include "ui/shared/LevelDialog.h"

#include <QDoubleSpinBox>
#include <QProgressBar>
#include <QSlider>

namespace kitround::ui {
namespace {

class ClerkWhatIf : public ClerkPages {
protected:
    LevelDialog *openLevel(QWidget &page, const char *button) {
        press(page, button);
        auto *dialog = page.findChild<LevelDialog *>(s("levelDialog"));
        EXPECT_NE(dialog, nullptr);
        EXPECT_TRUE(waitFor([&] { return !text(*dialog, "levelNow_0").isEmpty(); }));
        return dialog;
    }
    static QString text(const QWidget &dialog, const char *name) {
        return dialog.findChild<QLabel *>(s(name))->text();
    }
};

TEST_F(ClerkWhatIf, TheSliderShowsWhatALevelDoesAndOnlyUsingItStoresIt) {
    showTab(*reorders_, "reorderTabs", 0);
    const supply::ReorderLine line = session_.stock()->reorders.front().lines.front();
    table(*reorders_, "reorderTable")->selectSourceRow(0);
    LevelDialog *dialog = openLevel(*reorders_, "reorderLevel");
    const auto number = [&](const char *name) { return text(*dialog, name).toLongLong(); };
    EXPECT_EQ(number("levelNow_1"), line.orderUpTo.count());
    EXPECT_EQ(number("levelThen_1"), line.orderUpTo.count()) << "nothing moved yet";
    auto *use = dialog->findChild<QPushButton *>(s("levelUse"));
    EXPECT_FALSE(use->isEnabled());
    auto *slider = dialog->findChild<QSlider *>(s("levelSlider"));
    auto *spin = dialog->findChild<QDoubleSpinBox *>(s("levelSpin"));
    slider->setValue(999);
    EXPECT_DOUBLE_EQ(spin->value(), 99.9);
    EXPECT_GT(number("levelThen_1"), number("levelNow_1")) << "more certainty wants more stock";
    const auto highest = number("levelThen_1");
    spin->setValue(80.0);
    EXPECT_EQ(slider->value(), 800);
    EXPECT_LT(number("levelThen_1"), highest);
    EXPECT_TRUE(use->isEnabled());
    dialog->findChild<QPushButton *>(s("levelClose"))->click();
    EXPECT_FALSE(session_.agency()->index().item(line.item)->serviceLevelPermille)
        << "looking stores nothing";

    QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    dialog = openLevel(*reorders_, "reorderLevel");
    dialog->findChild<QDoubleSpinBox *>(s("levelSpin"))->setValue(99.5);
    dialog->findChild<QPushButton *>(s("levelUse"))->click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->index().item(line.item)->serviceLevelPermille, 995);
    const auto audit = session_.desk().audit(1, "item", line.item.value());
    ASSERT_TRUE(audit);
    ASSERT_EQ(audit->size(), 1U) << "the change is on record";
}

TEST_F(ClerkWhatIf, AClassesLevelIsTheAgencysSetting) {
    showTab(*stock_, "stockTabs", 1);
    const auto item = std::ranges::find_if(snapshot().items, [](const Item &i) {
        return i.isActive && i.stockClass == StockClass::A && !i.serviceLevelPermille;
    });
    ASSERT_NE(item, snapshot().items.end());
    stock_->selectItem(item->id);
    LevelDialog *dialog = openLevel(*stock_, "storeroomLevel");
    dialog->findChild<QComboBox *>(s("levelScope"))->setCurrentIndex(1);
    EXPECT_TRUE(text(*dialog, "levelNote").contains(s("most at risk")));
    dialog->findChild<QDoubleSpinBox *>(s("levelSpin"))->setValue(97.0);
    dialog->findChild<QPushButton *>(s("levelUse"))->click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->settings()[SettingKey::ServicePermilleA], 970);
}

TEST_F(ClerkWhatIf, HowGoodTheForecastWasIsShownBesideTheSimpleOnes) {
    press(*stock_, "stockHowGood");
    auto *dialog = stock_->findChild<QWidget *>(s("forecastCheck"));
    ASSERT_NE(dialog, nullptr);
    auto *progress = dialog->findChild<QProgressBar *>(s("checkProgress"));
    ASSERT_TRUE(waitFor([&] { return progress->isHidden(); }, 120000));
    EXPECT_EQ(table(*dialog, "checkCoverage")->model()->rowCount(), 3)
        << text(*dialog, "checkNotes").toStdString();
    EXPECT_GE(table(*dialog, "checkMethods")->model()->rowCount(), 2);
    EXPECT_GE(table(*dialog, "checkInService")->model()->rowCount(), 3);
    const QAbstractItemModel &kinds = *table(*dialog, "checkKinds")->model();
    ASSERT_GE(kinds.rowCount(), 1);
    int forecasts = 0; // every forecast is of one kind
    for (int row = 0; row < kinds.rowCount(); ++row)
        forecasts += kinds.index(row, 1).data().toString().toInt();
    EXPECT_TRUE(text(*dialog, "checkSummary").startsWith(QString::number(forecasts) + s(" forecasts")))
        << text(*dialog, "checkSummary").toStdString();
    EXPECT_TRUE(text(*dialog, "checkNotes").contains(s("90 % interval")));
}

} // namespace
} // namespace kitround::ui
