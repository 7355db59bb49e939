#pragma once
// Volume a session by date, with the order's maximum as a line. Drained is a filled bar, a dry tap a hollow
// triangle, an unknown volume a question mark, so that none is told by colour alone.
#include "core/desk/views/PatientView.h"

#include <QWidget>

namespace kitround::ui {

class LogChart : public QWidget {
    Q_OBJECT
public:
    explicit LogChart(QWidget *parent = nullptr);
    void show(std::vector<desk::LogPoint> points, std::optional<Millilitres> most, Date today);
    QSize sizeHint() const override { return {480, 180}; }
    QSize minimumSizeHint() const override { return {240, 130}; }

protected:
    void paintEvent(QPaintEvent *event) override;
    bool event(QEvent *event) override;

private:
    QRectF plot() const;
    double x(LocalTime at) const;
    double y(double volume) const;
    void paintAxes(QPainter &painter) const;
    void paintPoint(QPainter &painter, const desk::LogPoint &point) const;
    void paintMost(QPainter &painter) const;
    QString textOf(const desk::LogPoint &point) const;

    std::vector<desk::LogPoint> points_;
    std::optional<Millilitres> most_;
    Date from_, to_;
    double top_ = 1000;
};

} // namespace kitround::ui
