#include "ui/shared/RecordForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/WrappedLabel.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QTabBar>
#include <QTabWidget>
#include <QTimer>
#include <QVBoxLayout>
#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kUsualWidth = 560; // of a page, before it is shown
constexpr int kLeastMost = 560;  // however low the screen is
constexpr int kAboveAndBelow = 64;

int neededHeight(const QWidget &content, int width) {
    const int height = content.heightForWidth(width);
    return height > 0 ? height : content.sizeHint().height();
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
    top_ = new WrappedLabel({}, this);
    top_->setObjectName(QStringLiteral("formProblem"));
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
    resize(640, 560);
}

void RecordForm::showEvent(QShowEvent *event) {
    QDialog::showEvent(event);
    if (event->spontaneous()) // it only comes back from the task bar
        return;
    growToPages();
    orderTabs();
    focusFirstField();
    // What is read first may stand above it, a script for example: the keyboard is never out of sight.
    QTimer::singleShot(0, this, [this] {
        auto *area = qobject_cast<QScrollArea *>(tabs_->currentWidget());
        if (QWidget *at = focusWidget(); area && at && area->widget()->isAncestorOf(at))
            area->ensureWidgetVisible(at, 0, Look::kPage);
    });
    if (!asOpened_)
        asOpened_ = entered();
}

int RecordForm::mostHeight() const {
    return std::max(kLeastMost, screen()->availableGeometry().height() - kAboveAndBelow);
}

// Nothing is read by scrolling sideways, where the screen is wide enough.
void RecordForm::widenFor(const QWidget &content) {
    constexpr int kBar = 16; // where the page scrolls as well
    const int missing = content.minimumSizeHint().width() + kBar - (width() - 2 * Look::kPage);
    const int most = std::max(width(), screen()->availableGeometry().width() - kAboveAndBelow);
    if (missing > 0)
        resize(std::min(width() + missing, most), height());
}

void RecordForm::growToPages() {
    constexpr int kLeast = 200, kAround = 170; // head, problem line, tab bar, buttons, margins
    for (int i = 0; i < tabs_->count(); ++i)
        if (const auto *area = qobject_cast<QScrollArea *>(tabs_->widget(i))) {
            widenFor(*area->widget());
            grownFor_ = std::max(grownFor_, neededHeight(*area->widget(), kUsualWidth));
        }
    resize(width(), std::clamp(grownFor_ + kAround, kLeast, mostHeight()));
}

// What is said while a form is filled in is read without scrolling. It only grows, and only for more than it
// has ever shown, so that a height a person chose stays.
void RecordForm::growWith(const QWidget &content) {
    if (!content.isVisible())
        return;
    widenFor(content);
    const int needed = neededHeight(content, content.width());
    if (needed <= grownFor_)
        return;
    grownFor_ = needed;
    const int missing = needed - content.parentWidget()->height();
    if (missing <= 0)
        return;
    resize(width(), std::min(height() + missing, std::max(height(), mostHeight())));
    const QRect room = screen()->availableGeometry();
    if (const int below = frameGeometry().bottom() - room.bottom(); below > 0)
        move(x(), std::max(room.top(), y() - below));
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
        if (field.page == tabs_->currentIndex() && (target->focusPolicy() & Qt::TabFocus) != 0 &&
            target->isEnabled() && target->isVisibleTo(this)) {
            target->setFocus(Qt::OtherFocusReason);
            return;
        }
    }
}

bool RecordForm::eventFilter(QObject *watched, QEvent *event) {
    if (event->type() == QEvent::LayoutRequest && isVisible() && watched->isWidgetType())
        growWith(*static_cast<QWidget *>(watched));
    return QDialog::eventFilter(watched, event);
}

void RecordForm::setSaveText(const QString &text) {
    saveButton_->setText(text);
}

void RecordForm::setLeaveText(const QString &text) {
    findChild<QPushButton *>(QStringLiteral("formCancel"))->setText(text);
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
    auto *label = new WrappedLabel(text, this);
    label->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    Look::setInk(label, Role::FaintInk);
    page()->addRow(QString(), label); // under the field it is about
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
        if (problem->code == ProblemCode::Cancelled) { // the person chose to go back: nothing is at fault
            clearFaults();
            return;
        }
        addEmpties(*problem);
        showProblem(*problem);
        return;
    }
    if (!refusal_.isEmpty()) {
        clearFaults();
        top_->setText(refusal_);
        top_->show();
        for (const std::string &name : order_) // of what was asked then, not of what is asked next
            onEdit(*fields_.at(name).widget, faultWatch_.get(), [this] { top_->hide(); });
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
