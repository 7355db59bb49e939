#pragma once
// A bar a nurse: direct, travel, waiting and notes as parts of the week's capacity, with the amber and red
// lines.
#include "core/desk/views/CaseloadView.h"

#include <QString>
#include <QStringList>
#include <QWidget>

#include <vector>

namespace kitround::ui {

struct NurseLoadRow {
    caseload::NurseLoad load;
    QString name;
};

class LoadBars : public QWidget {
    Q_OBJECT
public:
    explicit LoadBars(QWidget *parent = nullptr);
    void setRows(std::vector<NurseLoadRow> rows, double amberShare, double redShare);
    void setMostHeight(int height); // the table below has its share of the page
    QSize sizeHint() const override;
    QString leftOut() const;        // how many nurses have no bar; empty where each has one
    QStringList limitNames() const; // of the two dashed lines, as the key above the bars names them

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    std::size_t shownBars() const;

    int mostHeight_ = 10'000;
    std::vector<NurseLoadRow> rows_;
    double amber_ = 0.9, red_ = 1.0;
};

} // namespace kitround::ui
