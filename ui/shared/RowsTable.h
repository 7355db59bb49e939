#pragma once
// A page part that is one list: a row of steps, a line of explanation (or what to say when there is nothing),
// the table, and, where a column cuts it, the whole words of the chosen row. One class for every such list.
#include "ui/shared/DenseTable.h"
#include "ui/shared/RowsModel.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>
#include <functional>

namespace kitround::ui {

template <class Row>
class RowsTable : public QWidget {
public:
    struct Texts {
        QString objectName; // of the table
        QString title, explanation, nothing;
        int stretched = 0;        // column that takes the rest of the width
        std::vector<int> names{}; // columns that stay readable (DenseTable::keepReadable)
    };
    RowsTable(Texts texts, std::vector<RowsColumn<Row>> columns, QWidget *parent)
        : QWidget(parent), texts_(std::move(texts)), model_(std::move(columns)) {
        auto *layout = new QVBoxLayout(this);
        layout->setContentsMargins(0, Look::kInside, 0, 0);
        layout->setSpacing(Look::kInside);
        steps_ = new QHBoxLayout;
        steps_->setSpacing(Look::kInside);
        layout->addLayout(steps_);
        head_ = label(texts_.objectName + QStringLiteral("Head"));
        table_ = new DenseTable(texts_.objectName, texts_.title, this);
        table_->setModel(new RowsProxy(&model_, this));
        for (const int column : texts_.names)
            table_->keepReadable(column);
        layout->addWidget(table_, 1);
        connect(table_, &DenseTable::currentRowChanged, this, [this] { chosen(); });
    }

    // Parts of the row above, from left to right.
    QPushButton *addStep(const char *objectName, const QString &text, std::function<void()> step) {
        auto *button = new QPushButton(text, this);
        button->setObjectName(QLatin1String(objectName));
        steps_->addWidget(button);
        connect(button, &QPushButton::clicked, this, std::move(step));
        return button;
    }
    void addToSteps(QWidget *widget) { steps_->addWidget(widget); }
    void addGap() { steps_->addStretch(1); }
    // Called when another row is chosen and when the rows have changed.
    void onChosen(std::function<void()> told) { told_ = std::move(told); }
    // The words under the table, of the chosen row.
    void showWhole(std::function<QString(const Row &)> whole) {
        whole_ = std::move(whole);
        wholeLabel_ = label(texts_.objectName + QStringLiteral("Whole"));
    }
    // Two rows that are the same thing before and after the rows have changed; else the place in the list
    // stays chosen.
    void keepChosenBy(std::function<bool(const Row &, const Row &)> isSame) { isSame_ = std::move(isSame); }
    void explain(const QString &explanation, const QString &nothing) {
        texts_.explanation = explanation;
        texts_.nothing = nothing;
    }

    void setRows(std::vector<Row> rows) {
        int kept = std::max(0, table_->currentSourceRow());
        const Row *before = current();
        for (std::size_t i = 0; isSame_ && before && i < rows.size(); ++i)
            if (isSame_(*before, rows[i]))
                kept = static_cast<int>(i);
        model_.setRows(std::move(rows));
        table_->fitColumns(texts_.stretched); // a width set by hand stays
        const int count = model_.rowCount();
        if (count > 0)
            table_->selectSourceRow(std::min(kept, count - 1));
        if (!current() && table_->model()->rowCount() > 0) // that one is filtered out
            table_->setCurrentIndex(table_->model()->index(0, 0));
        say(count > 0 ? texts_.explanation : texts_.nothing);
        chosen();
    }
    // Without rows, for the reason given.
    void clear(const QString &why) {
        model_.setRows({});
        say(why);
        chosen();
    }
    const Row *current() const {
        const int row = table_->currentSourceRow();
        return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
    }
    DenseTable *table() { return table_; }
    const RowsModel<Row> &model() const { return model_; }
    void takeFocus() { table_->setFocus(Qt::OtherFocusReason); }

private:
    QLabel *label(const QString &objectName) {
        auto *made = new QLabel(this);
        made->setObjectName(objectName);
        made->setWordWrap(true);
        layout()->addWidget(made);
        return made;
    }
    void say(const QString &text) {
        head_->setText(text);
        head_->setHidden(text.isEmpty());
    }
    void chosen() {
        if (wholeLabel_)
            wholeLabel_->setText(current() ? whole_(*current()) : QString());
        if (told_)
            told_();
    }

    Texts texts_;
    RowsModel<Row> model_;
    std::function<void()> told_;
    std::function<QString(const Row &)> whole_;
    std::function<bool(const Row &, const Row &)> isSame_;
    QHBoxLayout *steps_;
    QLabel *head_, *wholeLabel_ = nullptr;
    DenseTable *table_;
};

} // namespace kitround::ui
