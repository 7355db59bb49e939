#pragma once
// A text of several lines that asks for the height it needs at the width it has. QLabel asks for that of a
// narrow column, and a form layout then leaves the rest of it as a gap, or cuts the text above and below.
#include <QLabel>

namespace kitround::ui {

class WrappedLabel : public QLabel {
public:
    explicit WrappedLabel(const QString &text, QWidget *parent = nullptr) : QLabel(text, parent) {
        setWordWrap(true);
    }
    QSize sizeHint() const override {
        const QSize narrow = QLabel::sizeHint();
        return isArranged_ ? QSize(narrow.width(), heightForWidth(width())) : narrow;
    }
    QSize minimumSizeHint() const override {
        const QSize narrow = QLabel::minimumSizeHint();
        return isArranged_ ? QSize(narrow.width(), heightForWidth(width())) : narrow;
    }

protected:
    void resizeEvent(QResizeEvent *event) override {
        QLabel::resizeEvent(event);
        isArranged_ = true;
        updateGeometry();
    }

private:
    bool isArranged_ = false; // has the width that a layout gave it
};

} // namespace kitround::ui
