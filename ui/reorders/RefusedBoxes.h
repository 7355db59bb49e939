#pragma once
// The boxes of one delivery that were not taken in: the next scan wipes what was said of them, and they go
// back to the supplier all the same.
#include <QLabel>
#include <QStringList>

namespace kitround::ui {

class RefusedBoxes : public QLabel {
public:
    explicit RefusedBoxes(QWidget *parent) : QLabel(parent) {
        setObjectName(QStringLiteral("receiveRefused"));
        setWordWrap(true);
        setTextInteractionFlags(Qt::TextSelectableByMouse);
        hide();
    }
    void add(const QString &box) {
        if (!boxes_.contains(box))
            boxes_ << box;
        setText(QObject::tr("Not taken in of this delivery: %1").arg(boxes_.join(QStringLiteral("; "))));
        show();
    }
    void forget() {
        boxes_.clear();
        clear();
        hide();
    }

private:
    QStringList boxes_;
};

} // namespace kitround::ui
