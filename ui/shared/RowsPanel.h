#pragma once
// A plain list worked out in the background from the stock picture: a line of explanation, the table, and
// what to say when there is nothing. One class for every such list.
#include "core/desk/views/StockView.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RowsModel.h"

#include <QLabel>
#include <QPointer>
#include <QVBoxLayout>

namespace kitround::ui {

template <class Row>
class RowsPanel : public QWidget {
public:
    struct Texts {
        QString objectName; // of the table
        QString title, explanation, nothing;
        int stretched = 0; // column that takes the rest of the width
    };
    RowsPanel(Texts texts, std::vector<RowsColumn<Row>> columns,
              std::function<std::vector<Row>(const desk::StockPicture &)> rows, QWidget *parent)
        : QWidget(parent), texts_(std::move(texts)), rows_(std::move(rows)), model_(std::move(columns)) {
        auto *layout = new QVBoxLayout(this);
        layout->setContentsMargins(0, Look::kInside, 0, 0);
        layout->setSpacing(Look::kInside);
        head_ = new QLabel(this);
        head_->setObjectName(texts_.objectName + QStringLiteral("Head"));
        head_->setWordWrap(true);
        layout->addWidget(head_);
        table_ = new DenseTable(texts_.objectName, texts_.title, this);
        table_->setModel(new RowsProxy(&model_, this));
        layout->addWidget(table_, 1);
        show(nullptr);
    }
    void show(desk::StockPicturePtr picture) {
        delete job_; // an older picture's answer is of no use
        if (!picture) {
            model_.setRows({});
            head_->setText(QObject::tr("The list is being worked out."));
            return;
        }
        job_ = BackgroundJob::start(
            this,
            [picture, rows = rows_](const std::stop_token &, const ProgressSink &) { return rows(*picture); },
            [this](std::vector<Row> rows) { worked(std::move(rows)); });
    }
    DenseTable *table() { return table_; }
    const RowsModel<Row> &model() const { return model_; }
    void takeFocus() { table_->setFocus(Qt::OtherFocusReason); }

private:
    void worked(std::vector<Row> rows) {
        model_.setRows(std::move(rows));
        table_->fitColumns(texts_.stretched); // a width set by hand stays
        if (model_.rowCount() > 0)
            table_->selectSourceRow(0);
        head_->setText(model_.rowCount() > 0 ? texts_.explanation : texts_.nothing);
    }

    const Texts texts_;
    const std::function<std::vector<Row>(const desk::StockPicture &)> rows_;
    RowsModel<Row> model_;
    QLabel *head_;
    DenseTable *table_;
    QPointer<BackgroundJob> job_;
};

} // namespace kitround::ui
