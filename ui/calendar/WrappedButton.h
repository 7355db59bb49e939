#pragma once
// A button whose text runs over as many lines as it needs at the width it has: in a narrow panel nothing of a
// place is cut.
#include <QPushButton>

namespace kitround::ui {

class WrappedButton : public QPushButton {
public:
    explicit WrappedButton(const QString &text, QWidget *parent = nullptr);
    int heightForWidth(int width) const override;
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

protected:
    void resizeEvent(QResizeEvent *event) override;
    void paintEvent(QPaintEvent *event) override;
};

} // namespace kitround::ui
