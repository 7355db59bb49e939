#pragma once
// A list worked out in the background from the stock picture.
#include "core/desk/views/StockView.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/RowsTable.h"

#include <QPointer>

namespace kitround::ui {

template <class Row>
class RowsPanel : public RowsTable<Row> {
public:
    using Texts = typename RowsTable<Row>::Texts;

    RowsPanel(Texts texts, std::vector<RowsColumn<Row>> columns,
              std::function<std::vector<Row>(const desk::StockPicture &)> rows, QWidget *parent)
        : RowsTable<Row>(std::move(texts), std::move(columns), parent), rows_(std::move(rows)) {
        show(nullptr);
    }
    void show(desk::StockPicturePtr picture) {
        if (job_) // an older picture's answer is of no use
            job_->abandon();
        if (!picture) {
            this->clear(QObject::tr("The list is being worked out."));
            return;
        }
        job_ = BackgroundJob::start(
            this,
            [picture, rows = rows_](const std::stop_token &, const ProgressSink &) { return rows(*picture); },
            [this](std::vector<Row> rows) { this->setRows(std::move(rows)); });
    }

private:
    const std::function<std::vector<Row>(const desk::StockPicture &)> rows_;
    QPointer<BackgroundJob> job_;
};

} // namespace kitround::ui
