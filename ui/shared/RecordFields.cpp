// The fields of a form: how each is laid out, and how it is read back.
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/WrappedLabel.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QScrollArea>
#include <QTabWidget>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

constexpr int kLineMost = Look::kHit + 8; // a field higher than this has several lines

} // namespace

QWidget *RecordForm::place(const std::string &field, const QString &label, QWidget *widget,
                           const QString &unit) {
    QFormLayout *form = page();
    tabs_->widget(tabs_->count() - 1)->setFocusPolicy(Qt::NoFocus); // Tab goes to its fields
    if (widget->maximumHeight() < QWIDGETSIZE_MAX) { // else it would stand in the middle of a taller row
        QSizePolicy policy = widget->sizePolicy();
        policy.setVerticalPolicy(QSizePolicy::Preferred);
        widget->setSizePolicy(policy);
    }
    widget->setObjectName(QString::fromStdString(field));
    if (!qobject_cast<const QLabel *>(widget)) // that one is known by its own text
        widget->setAccessibleName(unit.trimmed().isEmpty() ? label : tr("%1, %2").arg(label, unit));
    auto *cell = new QWidget(this);
    auto *column = new QVBoxLayout(cell);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(2);
    if (unit.isEmpty()) {
        column->addWidget(widget);
    } else {
        auto *row = new QHBoxLayout;
        row->addWidget(widget);
        auto *unitLabel = new QLabel(unit, cell);
        Look::setInk(unitLabel, Role::FaintInk);
        row->addWidget(unitLabel);
        row->addStretch(1);
        column->addLayout(row);
    }
    auto *fault = new WrappedLabel({}, cell);
    fault->setObjectName(QString::fromStdString(field) + QStringLiteral("_fault"));
    Look::setInk(fault, Role::Act);
    fault->hide();
    column->addWidget(fault);
    auto *name = new QLabel(label, this);
    name->setBuddy(widget);
    widget->ensurePolished();                   // it is as high as the look makes it
    if (cell->sizeHint().height() <= kLineMost) // its words stand on the line of the field's
        name->setMinimumHeight(cell->sizeHint().height());
    form->addRow(name, cell);
    fields_[field] = {widget, fault, name, label, form, cell, tabs_->count() - 1};
    order_.push_back(field);
    return widget;
}

void RecordForm::require(std::initializer_list<std::string> fields) {
    for (const std::string &name : fields) {
        const Field &field = fields_.at(name);
        required_.push_back(name);
        field.name->setText(tr("%1 *").arg(field.label));
        for (QWidget *part : {field.widget, field.widget->focusProxy()})
            if (part && !part->accessibleName().isEmpty())
                part->setAccessibleName(tr("%1, required").arg(part->accessibleName()));
    }
    requiredNote_->show();
}

void RecordForm::setRequired(const std::string &field, bool isRequired) {
    const Field &f = fields_.at(field);
    std::erase(required_, field);
    f.name->setText(f.label);
    f.widget->setAccessibleName(f.label);
    if (isRequired)
        require({field});
}

void RecordForm::setFieldShown(const std::string &field, bool isShown) {
    const Field &f = fields_.at(field);
    f.form->setRowVisible(f.cell, isShown);
}

void RecordForm::addWidget(const std::string &field, const QString &label, QWidget *widget) {
    place(field, label, widget);
}

QLineEdit *RecordForm::addText(const std::string &field, const QString &label, const std::string &value) {
    auto *edit = new QLineEdit(QString::fromStdString(value), this);
    place(field, label, edit);
    return edit;
}

QPlainTextEdit *RecordForm::addLongText(const std::string &field, const QString &label,
                                        const std::string &value) {
    auto *edit = new QPlainTextEdit(QString::fromStdString(value), this);
    edit->setTabChangesFocus(true);
    edit->setMaximumHeight(84);
    place(field, label, edit);
    return edit;
}

DateField *RecordForm::addDate(const std::string &field, const QString &label, std::optional<Date> value,
                               Date today) {
    auto *edit = new DateField(value, today, this);
    place(field, label, edit);
    edit->edit()->setObjectName(QString::fromStdString(field) + QStringLiteral("_edit"));
    edit->edit()->setAccessibleName(label);
    return edit;
}

QLineEdit *RecordForm::addTime(const std::string &field, const QString &label, std::optional<Minutes> value) {
    auto *edit = new QLineEdit(value ? QString::fromStdString(clockText(*value)) : QString(), this);
    edit->setPlaceholderText(tr("HH:MM"));
    edit->setMaximumWidth(100);
    place(field, label, edit);
    return edit;
}

QLineEdit *RecordForm::addNumber(const std::string &field, const QString &label,
                                 std::optional<std::int64_t> value, const QString &unit) {
    auto *edit = new QLineEdit(value ? QString::number(*value) : QString(), this);
    edit->setMaximumWidth(120);
    edit->setAlignment(Qt::AlignRight);
    place(field, label, edit, unit.isEmpty() ? QStringLiteral(" ") : unit);
    return edit;
}

QCheckBox *RecordForm::addCheck(const std::string &field, const QString &label, bool value) {
    auto *box = new QCheckBox(label, this);
    box->setChecked(value);
    place(field, {}, box);
    fields_.at(field).label = label;
    box->setAccessibleName(label);
    return box;
}

QComboBox *RecordForm::addChoice(const std::string &field, const QString &label,
                                 const std::vector<Choice> &choices, qint64 value) {
    auto *box = new QComboBox(this);
    for (const Choice &choice : choices)
        box->addItem(choice.text, choice.value);
    box->setPlaceholderText(tr("not chosen"));
    box->setCurrentIndex(box->findData(value));
    place(field, label, box);
    return box;
}

WeekdayField *RecordForm::addWeekdays(const std::string &field, const QString &label, WeekdaySet value) {
    auto *days = new WeekdayField(value, this);
    place(field, label, days);
    return days;
}

std::string RecordForm::textOf(const std::string &field) const {
    QWidget *widget = fields_.at(field).widget;
    if (const auto *edit = qobject_cast<QLineEdit *>(widget))
        return edit->text().trimmed().toStdString();
    if (const auto *edit = qobject_cast<QPlainTextEdit *>(widget))
        return edit->toPlainText().trimmed().toStdString();
    if (const auto *date = qobject_cast<DateField *>(widget))
        return date->text().trimmed().toStdString();
    return {};
}

Problem RecordForm::unreadable(ProblemCode code, const std::string &field, const QString &text) const {
    Problem problem;
    problem.code = text.trimmed().isEmpty() ? ProblemCode::Missing : code;
    problem.field = field;
    if (!text.trimmed().isEmpty())
        problem.args = {text.trimmed().toStdString()};
    return problem;
}

std::optional<Date> RecordForm::dateOf(const std::string &field) {
    const auto *edit = qobject_cast<DateField *>(fields_.at(field).widget);
    if (!edit->isReadable())
        readFaults_.push_back(unreadable(ProblemCode::NotADate, field, edit->text()));
    return edit->date();
}

Date RecordForm::neededDateOf(const std::string &field) {
    const auto date = dateOf(field);
    const auto *edit = qobject_cast<DateField *>(fields_.at(field).widget);
    if (!date && edit->isReadable())
        readFaults_.push_back(unreadable(ProblemCode::Missing, field, {}));
    return date.value_or(Date());
}

std::optional<Minutes> RecordForm::timeOf(const std::string &field) {
    const std::string text = textOf(field);
    if (text.empty())
        return std::nullopt;
    const auto time = clockAsTyped(text);
    if (!time)
        readFaults_.push_back(unreadable(ProblemCode::NotATime, field, QString::fromStdString(text)));
    return time;
}

std::optional<std::int64_t> RecordForm::numberOf(const std::string &field) {
    const QString text = QString::fromStdString(textOf(field));
    if (text.isEmpty())
        return std::nullopt;
    const auto value = numberIn(text);
    if (!value)
        readFaults_.push_back(unreadable(ProblemCode::NotANumber, field, text));
    return value;
}

std::int64_t RecordForm::neededNumberOf(const std::string &field) {
    const auto value = numberOf(field);
    if (!value && textOf(field).empty())
        readFaults_.push_back(unreadable(ProblemCode::Missing, field, {}));
    return value.value_or(0);
}

bool RecordForm::checkOf(const std::string &field) const {
    return qobject_cast<QCheckBox *>(fields_.at(field).widget)->isChecked();
}
qint64 RecordForm::choiceOf(const std::string &field) const {
    return qobject_cast<QComboBox *>(fields_.at(field).widget)->currentData().toLongLong();
}
qint64 RecordForm::neededChoiceOf(const std::string &field) {
    if (qobject_cast<QComboBox *>(fields_.at(field).widget)->currentIndex() < 0)
        readFaults_.push_back(unreadable(ProblemCode::Missing, field, {}));
    return choiceOf(field);
}
WeekdaySet RecordForm::weekdaysOf(const std::string &field) const {
    return qobject_cast<WeekdayField *>(fields_.at(field).widget)->value();
}

} // namespace kitround::ui
