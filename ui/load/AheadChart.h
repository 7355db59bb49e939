#pragma once
// Hours that the weeks ahead will ask for, as a bar from 1 in 10 to 9 in 10 with its middle, against what the
// shifts give. The table beneath holds the same figures.
#include "core/desk/views/WeeksAhead.h"

#include <QWidget>

namespace kitround::ui {

class AheadChart : public QWidget {
    Q_OBJECT
public:
    explicit AheadChart(QWidget *parent = nullptr);
    void setWeeks(const desk::WeeksAhead &ahead);
    QSize sizeHint() const override { return {600, 150}; }

protected:
    void paintEvent(QPaintEvent *event) override;

private:
    desk::WeeksAhead ahead_;
};

} // namespace kitround::ui
