#include "ui/shared/RecordForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QCalendarWidget>
#include <QCheckBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QTabWidget>
#include <QToolButton>
#include <QVBoxLayout>
#include <QWidgetAction>
#include <algorithm>

namespace kitround::ui {
namespace {

QDate toQDate(Date date) {
    return QDate(date.year(), int(date.month()), int(date.dayOfMonth()));
}
Date fromQDate(const QDate &date) {
    return Date::of(date.year(), unsigned(date.month()), unsigned(date.day()));
}

// "2026-12-01", "today", "+3" or "-2" days from today.
std::optional<Date> readDate(const QString &text, Date today) {
    const QString t = text.trimmed().toLower();
    if (t == QLatin1String("today"))
        return today;
    if (t.startsWith(QLatin1Char('+')) || t.startsWith(QLatin1Char('-'))) {
        bool ok = false;
        const int days = t.toInt(&ok);
        if (ok && days > -4000 && days < 4000)
            return today.plusDays(days);
        return std::nullopt;
    }
    return Date::fromIso(t.toStdString());
}

void setInk(QWidget *widget, Role role) {
    QPalette p = widget->palette();
    p.setColor(QPalette::WindowText, Look::colour(role));
    widget->setPalette(p);
}

} // namespace

DateField::DateField(std::optional<Date> value, Date today, QWidget *parent)
    : QWidget(parent), today_(today) {
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    edit_ = new QLineEdit(this);
    edit_->setPlaceholderText(tr("YYYY-MM-DD"));
    edit_->setMaximumWidth(140);
    auto *open = new QToolButton(this);
    open->setIcon(Look::icon(QStringLiteral("calendar")));
    open->setAccessibleName(tr("Choose a date"));
    open->setPopupMode(QToolButton::InstantPopup);
    auto *menu = new QMenu(open);
    auto *calendar = new QCalendarWidget(menu);
    calendar->setVerticalHeaderFormat(QCalendarWidget::NoVerticalHeader);
    auto *action = new QWidgetAction(menu);
    action->setDefaultWidget(calendar);
    menu->addAction(action);
    open->setMenu(menu);
    weekday_ = new QLabel(this);
    setInk(weekday_, Role::FaintInk);
    layout->addWidget(edit_);
    layout->addWidget(open);
    layout->addWidget(weekday_, 1);
    setFocusProxy(edit_);
    connect(menu, &QMenu::aboutToShow, this, [this, calendar] {
        if (const auto d = date())
            calendar->setSelectedDate(toQDate(*d));
        else
            calendar->setSelectedDate(toQDate(today_));
        calendar->setFocus();
    });
    const auto chosen = [this, menu](const QDate &d) {
        setDate(fromQDate(d));
        menu->close();
        edit_->setFocus();
    };
    connect(calendar, &QCalendarWidget::clicked, this, chosen);
    connect(calendar, &QCalendarWidget::activated, this, chosen);
    connect(edit_, &QLineEdit::textChanged, this, [this] {
        const auto d = date();
        weekday_->setText(d ? desk::dayText(*d, today_) : QString());
        Q_EMIT changed();
    });
    setDate(value);
}

QString DateField::text() const {
    return edit_->text();
}
void DateField::setDate(std::optional<Date> date) {
    edit_->setText(date ? QString::fromStdString(date->toIso()) : QString());
}
std::optional<Date> DateField::date() const {
    return readDate(edit_->text(), today_);
}
bool DateField::isReadable() const {
    return edit_->text().trimmed().isEmpty() || date().has_value();
}

WeekdayField::WeekdayField(WeekdaySet value, QWidget *parent) : QWidget(parent) {
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    const QStringList names = {tr("Sun"), tr("Mon"), tr("Tue"), tr("Wed"), tr("Thu"), tr("Fri"), tr("Sat")};
    for (const QString &name : names) {
        boxes_.push_back(new QCheckBox(name, this));
        layout->addWidget(boxes_.back());
    }
    layout->addStretch(1);
    setFocusProxy(boxes_.front());
    setValue(value);
}
WeekdaySet WeekdayField::value() const {
    WeekdaySet set;
    for (const Weekday day : kAllWeekdays)
        if (boxes_[static_cast<std::size_t>(day)]->isChecked())
            set.insert(day);
    return set;
}
void WeekdayField::setValue(WeekdaySet value) {
    for (const Weekday day : kAllWeekdays)
        boxes_[static_cast<std::size_t>(day)]->setChecked(value.contains(day));
}

RecordForm::RecordForm(const QString &title, QWidget *parent) : QDialog(parent) {
    setWindowTitle(title);
    setObjectName(QStringLiteral("recordForm"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kBetween);
    auto *head = new QLabel(title, this);
    head->setFont(Look::titleFont());
    layout->addWidget(head);
    top_ = new QLabel(this);
    top_->setObjectName(QStringLiteral("formProblem"));
    top_->setWordWrap(true);
    setInk(top_, Role::Act);
    top_->hide();
    layout->addWidget(top_);
    tabs_ = new QTabWidget(this);
    tabs_->setDocumentMode(true);
    layout->addWidget(tabs_, 1);
    buttons_ = new QHBoxLayout;
    buttons_->addStretch(1);
    auto *cancel = new QPushButton(tr("Close without saving"), this);
    cancel->setObjectName(QStringLiteral("formCancel"));
    cancel->setAutoDefault(false);
    saveButton_ = new QPushButton(tr("Save"), this);
    saveButton_->setObjectName(QStringLiteral("formSave"));
    saveButton_->setProperty("isMain", true);
    saveButton_->setDefault(true);
    buttons_->addWidget(cancel);
    buttons_->addWidget(saveButton_);
    layout->addLayout(buttons_);
    connect(cancel, &QPushButton::clicked, this, &QDialog::reject);
    connect(saveButton_, &QPushButton::clicked, this, &RecordForm::save);
    resize(640, 560);
}

void RecordForm::showEvent(QShowEvent *event) {
    QDialog::showEvent(event);
    constexpr int kLeast = 200, kMost = 620, kAround = 170; // head, problem line, tab bar, buttons, margins
    int tallest = 0;
    for (int i = 0; i < tabs_->count(); ++i)
        if (const auto *area = qobject_cast<QScrollArea *>(tabs_->widget(i)))
            tallest = std::max(tallest, area->widget()->heightForWidth(560) > 0
                                            ? area->widget()->heightForWidth(560)
                                            : area->widget()->sizeHint().height());
    resize(width(), std::clamp(tallest + kAround, kLeast, kMost));
}

void RecordForm::setSaveText(const QString &text) {
    saveButton_->setText(text);
}

void RecordForm::addButton(const QString &objectName, const QString &text, std::function<void()> clicked) {
    auto *button = new QPushButton(text, this);
    button->setObjectName(objectName);
    button->setAutoDefault(false);
    buttons_->insertWidget(0, button);
    connect(button, &QPushButton::clicked, this, [clicked = std::move(clicked)] { clicked(); });
}

void RecordForm::addPage(const QString &title) {
    auto *area = new QScrollArea(tabs_);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    auto *content = new QWidget(area);
    form_ = new QFormLayout(content);
    form_->setContentsMargins(0, Look::kBetween, Look::kInside, Look::kInside);
    form_->setHorizontalSpacing(Look::kBetween);
    form_->setVerticalSpacing(Look::kInside);
    form_->setLabelAlignment(Qt::AlignRight);
    form_->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
    area->setWidget(content);
    tabs_->addTab(area, title);
    tabs_->tabBar()->setVisible(tabs_->count() > 1);
}

QFormLayout *RecordForm::page() {
    if (!form_)
        addPage({});
    return form_;
}

void RecordForm::addHeading(const QString &text) {
    auto *label = new QLabel(text, this);
    label->setFont(Look::strongFont());
    page()->addRow(label);
}

void RecordForm::addNote(const QString &text) {
    auto *label = new QLabel(text, this);
    label->setWordWrap(true);
    setInk(label, Role::FaintInk);
    page()->addRow(label);
}

QWidget *RecordForm::place(const std::string &field, const QString &label, QWidget *widget,
                           const QString &unit) {
    widget->setObjectName(QString::fromStdString(field));
    widget->setAccessibleName(unit.isEmpty() ? label : label + QStringLiteral(", ") + unit);
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
        setInk(unitLabel, Role::FaintInk);
        row->addWidget(unitLabel);
        row->addStretch(1);
        column->addLayout(row);
    }
    auto *fault = new QLabel(cell);
    fault->setWordWrap(true);
    fault->setObjectName(QString::fromStdString(field) + QStringLiteral("_fault"));
    setInk(fault, Role::Act);
    fault->hide();
    column->addWidget(fault);
    auto *name = new QLabel(label, this);
    name->setBuddy(widget);
    page()->addRow(name, cell);
    fields_[field] = {widget, fault, page(), cell, tabs_->count() - 1};
    return widget;
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
    box->setAccessibleName(label);
    return box;
}

QComboBox *RecordForm::addChoice(const std::string &field, const QString &label,
                                 const std::vector<Choice> &choices, qint64 value) {
    auto *box = new QComboBox(this);
    for (const Choice &choice : choices)
        box->addItem(choice.text, choice.value);
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
    const auto time = clockFromText(text.size() == 4 ? "0" + text : text);
    if (!time)
        readFaults_.push_back(unreadable(ProblemCode::NotATime, field, QString::fromStdString(text)));
    return time;
}

std::optional<std::int64_t> RecordForm::numberOf(const std::string &field) {
    const QString text = QString::fromStdString(textOf(field));
    if (text.isEmpty())
        return std::nullopt;
    bool ok = false;
    const qlonglong value = QString(text).remove(QLatin1Char(',')).toLongLong(&ok);
    if (!ok) {
        readFaults_.push_back(unreadable(ProblemCode::NotANumber, field, text));
        return std::nullopt;
    }
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
WeekdaySet RecordForm::weekdaysOf(const std::string &field) const {
    return qobject_cast<WeekdayField *>(fields_.at(field).widget)->value();
}

void RecordForm::clearFaults() {
    top_->hide();
    for (auto &[name, field] : fields_)
        field.fault->hide();
}

void RecordForm::showProblem(const Problem &problem) {
    clearFaults();
    QStringList others;
    QWidget *first = nullptr;
    int firstPage = 0;
    for (const Problem &p : flattened(problem)) {
        const auto at = fields_.find(p.field);
        if (at == fields_.end()) {
            others << desk::words(p);
            continue;
        }
        at->second.fault->setText(desk::words(p));
        at->second.fault->show();
        if (!first) {
            first = at->second.widget;
            firstPage = at->second.page;
        }
    }
    if (others.isEmpty())
        others << tr("Not saved yet. Please look at the marked fields.");
    top_->setText(others.join(QLatin1Char('\n')));
    top_->show();
    if (first) {
        tabs_->setCurrentIndex(firstPage);
        first->setFocus(Qt::OtherFocusReason);
    }
}

void RecordForm::save() {
    if (const auto problem = save_ ? save_() : std::nullopt) {
        showProblem(*problem);
        return;
    }
    accept();
}

} // namespace kitround::ui
