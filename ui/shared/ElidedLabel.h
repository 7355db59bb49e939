#pragma once
// One line that is as wide as there is room, or a few; the end is cut with dots. What is cut is in its tip,
// above the tip that it was given.
#include <QLabel>

namespace kitround::ui {

class ElidedLabel : public QLabel {
    Q_OBJECT
public:
    using QLabel::QLabel;
    // So many lines before anything is cut; its height follows its width.
    void setMostLines(int lines);
    QSize sizeHint() const override { return minimumSizeHint(); }
    QSize minimumSizeHint() const override;
    QString wholeTip() const;
    QStringList shownLines() const; // as they are drawn

protected:
    bool event(QEvent *event) override;
    void paintEvent(QPaintEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;

private:
    int mostLines_ = 1;
};

} // namespace kitround::ui
