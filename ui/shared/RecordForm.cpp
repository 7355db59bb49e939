#include "ui/shared/RecordForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QTabBar>
#include <QTabWidget>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

namespace kitround::ui {
namespace {

// Layouts do not always give a wrapped text the height it needs at the width it got: it is then cut above
// and below.
void fitWrapped(QWidget &parent) {
    for (QLabel *label : parent.findChildren<QLabel *>()) {
        if (!label->wordWrap() || !label->isVisible() || label->text().isEmpty())
            continue;
        const int needed = std::max(0, label->heightForWidth(label->width()));
        if (label->minimumHeight() != needed)
            label->setMinimumHeight(needed);
    }
}

} // namespace

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
    Look::setInk(top_, Role::Act);
    top_->hide();
    layout->addWidget(top_);
    tabs_ = new QTabWidget(this);
    tabs_->setDocumentMode(true);
    layout->addWidget(tabs_, 1);
    requiredNote_ = new QLabel(tr("* has to be filled in"), this);
    requiredNote_->setObjectName(QStringLiteral("formRequired"));
    Look::setInk(requiredNote_, Role::FaintInk);
    requiredNote_->hide();
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
    auto *foot = new QHBoxLayout;
    foot->addWidget(requiredNote_);
    foot->addLayout(buttons_, 1);
    layout->addLayout(foot);
    connect(cancel, &QPushButton::clicked, this, &RecordForm::reject);
    connect(saveButton_, &QPushButton::clicked, this, &RecordForm::save);
    installEventFilter(this);
    resize(640, 560);
}

void RecordForm::showEvent(QShowEvent *event) {
    QDialog::showEvent(event);
    if (event->spontaneous()) // it only comes back from the task bar
        return;
    growToPages();
    orderTabs();
    focusFirstField();
    if (!asOpened_)
        asOpened_ = entered();
}

void RecordForm::growToPages() {
    constexpr int kLeast = 200, kMost = 620, kAround = 170; // head, problem line, tab bar, buttons, margins
    int tallest = 0;
    for (int i = 0; i < tabs_->count(); ++i)
        if (const auto *area = qobject_cast<QScrollArea *>(tabs_->widget(i)))
            tallest = std::max(tallest, area->widget()->heightForWidth(560) > 0
                                            ? area->widget()->heightForWidth(560)
                                            : area->widget()->sizeHint().height());
    resize(width(), std::clamp(tallest + kAround, kLeast, kMost));
}

// The buttons come after the fields, from left to right.
void RecordForm::orderTabs() {
    QWidget *last = nullptr;
    for (QWidget *w = nextInFocusChain(); w != this; w = w->nextInFocusChain())
        if (tabs_->isAncestorOf(w) && w->focusPolicy() != Qt::NoFocus && !w->focusProxy())
            last = w;
    for (int i = 0; i < buttons_->count(); ++i) {
        QWidget *button = buttons_->itemAt(i)->widget();
        if (button && last)
            setTabOrder(last, button);
        if (button)
            last = button;
    }
}

void RecordForm::focusFirstField() {
    if (focusWidget() && focusWidget() != this) // whoever opened the form chose one
        return;
    for (const std::string &name : order_) {
        const Field &field = fields_.at(name);
        QWidget *target = field.widget->focusProxy() ? field.widget->focusProxy() : field.widget;
        if (field.page == tabs_->currentIndex() && target->focusPolicy() != Qt::NoFocus &&
            target->isEnabled() && target->isVisibleTo(this)) {
            target->setFocus(Qt::OtherFocusReason);
            return;
        }
    }
}

bool RecordForm::eventFilter(QObject *watched, QEvent *event) {
    const bool isArranged = event->type() == QEvent::LayoutRequest || event->type() == QEvent::Resize ||
                            event->type() == QEvent::Show;
    if (isArranged && isVisible() && watched->isWidgetType())
        fitWrapped(*static_cast<QWidget *>(watched));
    return QDialog::eventFilter(watched, event);
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
    content->installEventFilter(this);
    tabs_->addTab(area, title);
    const bool hasSeveral = tabs_->count() > 1;
    tabs_->tabBar()->setVisible(hasSeveral);
    // Its bar takes the focus for it; where that is hidden, Tab would end there.
    tabs_->setFocusPolicy(hasSeveral ? Qt::TabFocus : Qt::NoFocus);
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
    Look::setInk(label, Role::FaintInk);
    page()->addRow(label);
}

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
        Look::setInk(unitLabel, Role::FaintInk);
        row->addWidget(unitLabel);
        row->addStretch(1);
        column->addLayout(row);
    }
    auto *fault = new QLabel(cell);
    fault->setWordWrap(true);
    fault->setObjectName(QString::fromStdString(field) + QStringLiteral("_fault"));
    Look::setInk(fault, Role::Act);
    fault->hide();
    column->addWidget(fault);
    auto *name = new QLabel(label, this);
    name->setBuddy(widget);
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
qint64 RecordForm::neededChoiceOf(const std::string &field) {
    if (qobject_cast<QComboBox *>(fields_.at(field).widget)->currentIndex() < 0)
        readFaults_.push_back(unreadable(ProblemCode::Missing, field, {}));
    return choiceOf(field);
}
WeekdaySet RecordForm::weekdaysOf(const std::string &field) const {
    return qobject_cast<WeekdayField *>(fields_.at(field).widget)->value();
}

void RecordForm::clearFaults() {
    faultWatch_ = std::make_unique<QObject>();
    isTopAboutMarks_ = false;
    top_->hide();
    for (auto &[name, field] : fields_)
        field.fault->hide();
}

void RecordForm::clearFaultOf(const std::string &field) {
    fields_.at(field).fault->hide();
    const bool isAnyLeft =
        std::ranges::any_of(fields_, [](const auto &entry) { return !entry.second.fault->isHidden(); });
    if (isTopAboutMarks_ && !isAnyLeft)
        top_->hide();
}

void RecordForm::clearWhenEdited(const std::string &field) {
    onEdit(*fields_.at(field).widget, faultWatch_.get(), [this, field] { clearFaultOf(field); });
}

QString RecordForm::labelOf(const std::string &field) const {
    const auto at = fields_.find(field);
    return at == fields_.end() ? QString() : at->second.label;
}

void RecordForm::showProblem(const Problem &problem) {
    clearFaults();
    QStringList others;
    for (const Problem &p : flattened(problem)) {
        const QString said = desk::words(p, [this](const std::string &field) { return labelOf(field); });
        const auto at = fields_.find(p.field);
        if (at == fields_.end()) {
            others << said;
            continue;
        }
        QLabel *fault = at->second.fault; // it may have several
        fault->setText(fault->isHidden() ? said : fault->text() + QLatin1Char('\n') + said);
        fault->show();
        clearWhenEdited(p.field);
    }
    isTopAboutMarks_ = others.isEmpty();
    if (others.isEmpty())
        others << tr("Not saved yet. Please look at the marked fields.");
    top_->setText(others.join(QLatin1Char('\n')));
    top_->show();
    const auto first = std::ranges::find_if(
        order_, [this](const std::string &name) { return !fields_.at(name).fault->isHidden(); });
    if (first != order_.end())
        lookAt(*first);
}

void RecordForm::lookAt(const std::string &field) {
    const Field &marked = fields_.at(field);
    tabs_->setCurrentIndex(marked.page);
    marked.widget->setFocus(Qt::OtherFocusReason);
    // Only when the fault's own line has found its room is it known where the field stands.
    QTimer::singleShot(0, this, [this, marked] {
        if (auto *area = qobject_cast<QScrollArea *>(tabs_->widget(marked.page)))
            area->ensureWidgetVisible(marked.cell, 0, Look::kInside);
    });
}

// What the first look finds may hide what is still empty: a form is to be mended in one go.
void RecordForm::addEmpties(Problem &problem) const {
    const Problems found = flattened(problem);
    for (const std::string &name : required_) {
        const Field &field = fields_.at(name);
        const bool isSeen = field.form->isRowVisible(field.cell);
        if (isSeen && enteredIn(*field.widget) == QStringList{QString()} &&
            std::ranges::find(found, name, &Problem::field) == found.end())
            problem.also.push_back({ProblemCode::Missing, name});
    }
}

void RecordForm::save() {
    refusal_.clear();
    if (auto problem = save_ ? save_() : std::nullopt) {
        addEmpties(*problem);
        showProblem(*problem);
        return;
    }
    if (!refusal_.isEmpty()) {
        clearFaults();
        top_->setText(refusal_);
        top_->show();
        return;
    }
    accept();
}

QStringList RecordForm::entered() const {
    QStringList all;
    for (const std::string &name : order_)
        all << enteredIn(*fields_.at(name).widget);
    return all;
}

bool RecordForm::isChanged() const {
    return asOpened_ && *asOpened_ != entered();
}

void RecordForm::reject() {
    if (!isChanged() ||
        Ask::confirm(this, tr("Discard what you entered?"),
                     tr("“%1” is not saved. What you entered would be lost.").arg(windowTitle()),
                     tr("Discard"), tr("Keep editing")))
        QDialog::reject();
}

} // namespace kitround::ui
