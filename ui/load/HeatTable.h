#pragma once
// Load by nurse and week as a table of figures whose shade says the same: the fuller the week, the deeper.
// Sorted by names, or by the week whose heading is clicked. More than a full week is also written in bold, so
// nothing hangs on the shade.
#include "core/desk/views/ManagerReview.h"

#include <QTableWidget>

#include <vector>

namespace kitround::ui {

class HeatTable : public QTableWidget {
    Q_OBJECT
public:
    explicit HeatTable(QWidget *parent = nullptr);
    void setHeat(const desk::LoadHeat &heat, Date today);

protected:
    void changeEvent(QEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;

private:
    std::vector<const desk::LoadHeat::Row *> sorted() const;
    void fill();

    desk::LoadHeat heat_;
    Date today_;
    bool isFilling_ = false;
};

} // namespace kitround::ui
