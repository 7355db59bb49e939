#pragma once
// A bar a nurse: direct, travel, waiting and notes as parts of the week's capacity, with the amber and red
// lines.
#include "ui/load/LoadPage.h"

#include <QWidget>

namespace kitround::ui {

class LoadBars : public QWidget {
    Q_OBJECT
public:
    explicit LoadBars(QWidget *parent = nullptr);
    void setRows(std::vector<NurseLoadRow> rows, double amberShare, double redShare);
    QSize sizeHint() const override;
    QStringList limitNames() const; // of the two dashed lines, as the key above the bars names them

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    std::vector<NurseLoadRow> rows_;
    double amber_ = 0.9, red_ = 1.0;
};

} // namespace kitround::ui
