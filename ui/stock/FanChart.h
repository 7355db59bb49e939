#pragma once
// A home's stock over time: what was counted and used, the middle line with two bands, the plain rule dashed,
// parcels as steps, the run-out day with its range and the refill proposed. The arrow keys move a day mark
// whose figures are said in words. The refill's step has a handle of its own: moved, the picture shows what
// that would mean.
#include "core/desk/views/RefillWhatIf.h"

#include <QWidget>

#include <vector>

namespace kitround::ui {

class RefillHandle;

class FanChart : public QWidget {
    Q_OBJECT
public:
    explicit FanChart(QWidget *parent = nullptr);
    // `refill`: what its refill, moved, would mean; nothing where it cannot be moved.
    void setChart(desk::HomeChart chart, desk::RefillWhatIfPtr refill = nullptr);
    void clear(const QString &message);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;
    QString markedFigures() const; // what stands at the day mark, in words
    bool hasMovableRefill() const { return refill_ != nullptr; }
    // Where the refill was moved to; nothing where it stands as proposed and is not in the picture.
    const std::optional<desk::RefillOutlook> &tried() const { return tried_; }
    // What the home is asked about it; nothing where it is asked as proposed.
    std::optional<desk::TriedRefill> toOffer() const;
    void backToProposal();

Q_SIGNALS:
    void refillTried(); // or given back

protected:
    void paintEvent(QPaintEvent *event) override;
    bool event(QEvent *event) override;
    void keyPressEvent(QKeyEvent *event) override;
    void mouseMoveEvent(QMouseEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;

private:
    struct Scale;
    Scale scale() const;
    void findRange();
    void makeRoomFor(const desk::HomeChart &chart);
    void connectHandle();
    void dragRefill(QPointF by);
    void stepRefill(int days, int quantities);
    void tryRefill(const supply::Shipment &shipment);
    void placeHandle();
    void drawFan(QPainter &painter, const Scale &s) const;
    void drawPast(QPainter &painter, const Scale &s) const;
    void drawRecalled(QPainter &painter, const Scale &s) const;
    std::vector<std::optional<QRectF>> parcelLabels(const Scale &s) const;
    std::vector<QRectF> drawnBeforeToday(const Scale &s) const;
    void drawMarks(QPainter &painter, const Scale &s) const;
    void drawRunOut(QPainter &painter, const Scale &s) const;
    void drawRefill(QPainter &painter, const Scale &s) const;
    void drawLegend(QPainter &painter, const Scale &s) const;
    void setMark(Date on);

    desk::HomeChart chart_; // as it is shown
    desk::HomeChart base_;  // without any refill tried
    desk::RefillWhatIfPtr refill_;
    std::optional<desk::RefillOutlook> tried_;
    std::optional<supply::Shipment> taken_; // where it stood when the mouse took it
    RefillHandle *handle_;
    QString message_;
    Date first_, last_, mark_;
    std::int64_t most_ = 1;
};

} // namespace kitround::ui
