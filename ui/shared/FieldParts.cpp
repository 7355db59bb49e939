#include "ui/shared/FieldParts.h"

#include "ui/shared/RecordForm.h"

#include <QCheckBox>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>

namespace kitround::ui {

void onEdit(QWidget &field, QObject *context, const std::function<void()> &changed) {
    QList<QWidget *> parts = field.findChildren<QWidget *>();
    parts.prepend(&field);
    for (QWidget *part : parts) {
        if (auto *line = qobject_cast<QLineEdit *>(part))
            QObject::connect(line, &QLineEdit::textChanged, context, changed);
        else if (auto *text = qobject_cast<QPlainTextEdit *>(part))
            QObject::connect(text, &QPlainTextEdit::textChanged, context, changed);
        else if (auto *choice = qobject_cast<QComboBox *>(part))
            QObject::connect(choice, &QComboBox::currentIndexChanged, context, changed);
        else if (auto *push = qobject_cast<QPushButton *>(part))
            QObject::connect(push, &QPushButton::clicked, context, changed);
        else if (auto *box = qobject_cast<QCheckBox *>(part))
            QObject::connect(box, &QCheckBox::toggled, context, changed);
        else if (auto *list = qobject_cast<QListWidget *>(part))
            QObject::connect(list, &QListWidget::itemChanged, context, changed);
    }
}

QStringList enteredIn(const QWidget &field) {
    if (const auto *date = qobject_cast<const DateField *>(&field))
        return {date->text()}; // its calendar has fields of its own, which only lead to this text
    QStringList entered;
    QList<const QWidget *> parts = field.findChildren<const QWidget *>();
    parts.prepend(&field);
    for (const QWidget *part : parts) {
        if (const auto *line = qobject_cast<const QLineEdit *>(part))
            entered << line->text();
        else if (const auto *text = qobject_cast<const QPlainTextEdit *>(part))
            entered << text->toPlainText();
        else if (const auto *choice = qobject_cast<const QComboBox *>(part))
            entered << QString::number(choice->currentIndex());
        else if (const auto *box = qobject_cast<const QCheckBox *>(part))
            entered << QString::number(box->isChecked());
        else if (const auto *list = qobject_cast<const QListWidget *>(part))
            for (int i = 0; i < list->count(); ++i)
                entered << QString::number(list->item(i)->checkState());
    }
    return entered;
}

} // namespace kitround::ui
