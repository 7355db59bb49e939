#pragma once
// The load page alone on a fresh sample agency whose next week is planned and saved.
#include "tests/gui/PageStory.h"
#include "ui/load/LoadPage.h"
#include "ui/load/PlainTable.h"
#include "ui/shared/DenseTable.h"

#include <QComboBox>
#include <QHeaderView>
#include <QLabel>
#include <QPushButton>

#include <memory>

namespace kitround::ui {

class ManagerStory : public PageStory {
protected:
    ManagerStory() {
        page_ = std::make_unique<LoadPage>(session_);
        page_->resize(1100, 680);
        page_->setVisible(true);
        openSample();
        workAs(UserRole::NurseManager);
        plan();
    }
    ~ManagerStory() override { page_.reset(); }

    void plan() {
        rounds::SolveOptions options;
        options.iterations = 500;
        const auto week = desk::planWeek(*session_.nextWeek(), options, {}, {});
        ASSERT_TRUE(week);
        ASSERT_FALSE(session_.write(QStringLiteral("Planned"), [&](desk::Desk &desk) {
            return desk.acceptPlan((*week)->week.from, desk::visitsOf(**week), 1, (*week)->plan.cost, false);
        }));
        ASSERT_TRUE(settled());
    }
    template <class Widget>
    Widget &find(const char *name) {
        return in<Widget>(*page_, name);
    }
    static QString text(const QAbstractItemModel &model, int row, int column) {
        return model.index(row, column).data().toString();
    }
    // Clicks the heading; the numbers of the column then go up or down as the arrow says.
    static void expectNumbersSorted(DenseTable &table, int column) {
        QHeaderView &head = *table.horizontalHeader();
        table.scrollTo(table.model()->index(0, column));
        QTest::mouseClick(
            head.viewport(), Qt::LeftButton, {},
            {head.sectionViewportPosition(column) + head.sectionSize(column) / 2, head.height() / 2});
        ASSERT_EQ(head.sortIndicatorSection(), column);
        const double way = head.sortIndicatorOrder() == Qt::AscendingOrder ? 1 : -1;
        for (int row = 1; row < table.model()->rowCount(); ++row) {
            const auto one = leadingNumber(text(*table.model(), row - 1, column));
            const auto next = leadingNumber(text(*table.model(), row, column));
            ASSERT_TRUE(one && next) << row;
            EXPECT_LE(way * *one, way * *next) << "row " << row;
        }
    }
    static void choose(QWidget &form, const char *name, const QVariant &value) {
        auto &box = in<QComboBox>(form, name);
        const int at = box.findData(value);
        ASSERT_GE(at, 0) << name;
        box.setCurrentIndex(at);
    }
    void runWhatIf(QWidget &dialog) {
        in<QPushButton>(dialog, "whatIfRun").click();
        ASSERT_TRUE(waitFor([&] { return in<QPushButton>(dialog, "whatIfKeep").isEnabled(); }))
            << in<QLabel>(dialog, "whatIfSummary").text().toStdString();
    }

    std::unique_ptr<LoadPage> page_;
};

} // namespace kitround::ui
