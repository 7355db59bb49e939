#pragma once
// Load by nurse and week as a table of figures whose shade says the same: the fuller the week, the deeper.
// More than a full week is also written in bold, so nothing hangs on the shade.
#include "core/desk/views/ManagerReview.h"

#include <QTableWidget>

namespace kitround::ui {

class HeatTable : public QTableWidget {
    Q_OBJECT
public:
    explicit HeatTable(QWidget *parent = nullptr);
    void setHeat(const desk::LoadHeat &heat, Date today);

protected:
    void changeEvent(QEvent *event) override;

private:
    void fill();

    desk::LoadHeat heat_;
    Date today_;
};

} // namespace kitround::ui
