#pragma once
// What the tabs that list records have in common: texts below the list, and buttons in a row; and labels of a
// form that keep its fields in place.
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {

// In as many lines as it takes, and as it was written: what people enter is no markup.
inline QLabel *addWrapped(QVBoxLayout &to, const char *objectName, const QString &text = {},
                          int stretch = 0) {
    auto *made = new QLabel(text);
    made->setObjectName(QString::fromLatin1(objectName));
    made->setWordWrap(true);
    made->setTextFormat(Qt::PlainText);
    to.addWidget(made, stretch, stretch > 0 ? Qt::AlignTop : Qt::Alignment());
    return made;
}

// As if every row were shown: where rows come and go, the fields stay where they are.
inline void alignFields(QFormLayout &form) {
    int widest = 0;
    const auto labelOf = [&](int row) {
        const QLayoutItem *item = form.itemAt(row, QFormLayout::LabelRole);
        return item ? item->widget() : nullptr;
    };
    for (int row = 0; row < form.rowCount(); ++row)
        if (const QWidget *label = labelOf(row))
            widest = std::max(widest, label->sizeHint().width());
    for (int row = 0; row < form.rowCount(); ++row)
        if (QWidget *label = labelOf(row))
            label->setMinimumWidth(widest);
}

// Next in the row; `receiver` is asked when it is pressed.
template <class Receiver, class Slot>
QPushButton *addButton(QHBoxLayout &to, const char *objectName, const QString &text, Receiver *receiver,
                       Slot slot) {
    auto *made = new QPushButton(text);
    made->setObjectName(QString::fromLatin1(objectName));
    to.addWidget(made);
    QObject::connect(made, &QPushButton::clicked, receiver, slot);
    return made;
}

} // namespace kitround::ui
