#pragma once
// What the tabs that list records have in common: texts below the list, and buttons in a row.
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

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
