#include "ui/shared/FieldParts.h"

#include "core/desk/words/Figures.h"
#include "ui/shared/RecordForm.h"

#include <QCheckBox>
#include <QCompleter>
#include <QFocusEvent>
#include <QLineEdit>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTimer>

#include <cmath>

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

namespace {

constexpr int kLinesOffered = 12;
constexpr int kLeastLetters = 24;

// What stands in the field is the line chosen, not the beginning of what will be typed. The click itself
// would undo the selection, so it is made after it.
class SelectsOnClick : public QObject {
public:
    explicit SelectsOnClick(QLineEdit *edit) : QObject(edit), edit_(edit) {}
    bool eventFilter(QObject *watched, QEvent *event) override {
        if (event->type() == QEvent::FocusIn &&
            static_cast<QFocusEvent *>(event)->reason() == Qt::MouseFocusReason)
            QTimer::singleShot(0, edit_, &QLineEdit::selectAll);
        return QObject::eventFilter(watched, event);
    }

private:
    QLineEdit *edit_;
};

// The line that a typed text stands for, or -1.
int searchedLine(const QComboBox &box) {
    const QString typed = box.currentText().trimmed();
    if (typed.isEmpty())
        return box.count() > 0 ? 0 : -1;
    if (box.currentIndex() >= 0 && box.itemText(box.currentIndex()) == typed)
        return box.currentIndex();
    if (const int same = box.findText(typed, Qt::MatchFixedString); same >= 0)
        return same;
    const QString inBrackets = QStringLiteral("(%1)").arg(typed); // P40 is not P4067
    int found = -1, count = 0;
    for (int line = 0; line < box.count(); ++line) {
        const QString text = box.itemText(line);
        if (text.contains(inBrackets, Qt::CaseInsensitive))
            return line;
        if (!text.contains(typed, Qt::CaseInsensitive))
            continue;
        found = line;
        ++count;
    }
    return count == 1 ? found : -1;
}

} // namespace

std::optional<std::int64_t> numberIn(const QString &text) {
    return desk::wholeNumberFrom(text);
}

std::optional<double> decimalIn(const QString &text) {
    bool isNumber = false;
    const double value = text.trimmed().toDouble(&isNumber);
    return isNumber && std::isfinite(value) ? std::optional(value) : std::nullopt;
}

void makeSearchable(QComboBox &box) {
    box.setEditable(true);
    box.lineEdit()->installEventFilter(new SelectsOnClick(box.lineEdit()));
    box.setInsertPolicy(QComboBox::NoInsert);
    box.setMaxVisibleItems(kLinesOffered);
    box.setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    box.setMinimumContentsLength(kLeastLetters);
    box.completer()->setCompletionMode(QCompleter::PopupCompletion);
    box.completer()->setFilterMode(Qt::MatchContains);
    box.completer()->setMaxVisibleItems(kLinesOffered);
    box.lineEdit()->setPlaceholderText(QObject::tr("Type a part of the name or number"));
    QObject::connect(box.lineEdit(), &QLineEdit::editingFinished, &box, [&box] {
        if (const int line = searchedLine(box); line >= 0)
            box.setCurrentIndex(line);
    });
}

std::optional<qint64> searchedValue(QComboBox &box) {
    const int line = searchedLine(box);
    return line >= 0 ? std::optional(qint64(box.itemData(line).toLongLong())) : std::nullopt;
}

} // namespace kitround::ui
