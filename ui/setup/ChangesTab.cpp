#include "ui/setup/ChangesTab.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QSignalBlocker>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>
#include <memory>

namespace kitround::ui {
namespace {

constexpr std::size_t kChangesAPage = 200;
constexpr int kTypingPause = 300; // milliseconds
constexpr int kSummaryColumn = 6;

std::vector<RowsColumn<desk::ChangeRow>> changeColumns() {
    using Row = desk::ChangeRow;
    return {
        {.head = QObject::tr("Number"),
         .text = [](const Row &r) { return QString::number(r.entry.number); },
         .sortBy = [](const Row &r) { return QVariant(qlonglong(r.entry.number)); },
         .isNumber = true},
        {.head = QObject::tr("When"),
         .text = [](const Row &r) { return desk::momentText(r.at); },
         .sortBy = [](const Row &r) { return QVariant(qlonglong(r.entry.at.unixSeconds())); },
         .tip = [](const Row &r) { return QString::fromStdString(toIso(r.at)); }},
        {.head = QObject::tr("By"), .text = [](const Row &r) { return r.who; }},
        {.head = QObject::tr("What"), .text = [](const Row &r) { return desk::words(r.entry.action); }},
        {.head = QObject::tr("Kind of record"), .text = [](const Row &r) { return r.kind; }},
        {.head = QObject::tr("Whose or which"), .text = [](const Row &r) { return r.about; }},
        {.head = QObject::tr("Changed"), .text = [](const Row &r) { return desk::summaryOf(r); }},
    };
}

} // namespace

ChangesTab::ChangesTab(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), rows_(changeColumns()), soon_(new QTimer(this)) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    layout->addWidget(makeFilter());
    state_ = new QLabel(this);
    state_->setObjectName(QStringLiteral("auditState"));
    state_->setWordWrap(true);
    layout->addWidget(state_);
    table_ = new DenseTable(QStringLiteral("auditTable"), tr("Record of changes"), this);
    table_->setModel(new RowsProxy(&rows_, this));
    layout->addWidget(table_, 3);
    whole_ = new QPlainTextEdit(this);
    whole_->setObjectName(QStringLiteral("auditWhole"));
    whole_->setAccessibleName(tr("The whole of the chosen change"));
    whole_->setReadOnly(true);
    whole_->setTabChangesFocus(true);
    layout->addWidget(whole_, 1);
    layout->addWidget(makeSteps());
    leadToRows(*words_, *table_);
    soon_->setSingleShot(true);
    soon_->setInterval(kTypingPause);
    connect(soon_, &QTimer::timeout, this, &ChangesTab::show);
    connect(table_, &DenseTable::currentRowChanged, this, &ChangesTab::showChosen);
    connect(table_, &DenseTable::opened, this, &ChangesTab::openWhole);
}

QWidget *ChangesTab::makeFilter() {
    auto *bar = new QWidget(this);
    auto *lines = new QVBoxLayout(bar);
    lines->setContentsMargins(0, 0, 0, 0);
    lines->setSpacing(Look::kInside);
    auto *row = new QHBoxLayout;
    lines->addLayout(row);
    words_ = new QLineEdit(bar);
    words_->setObjectName(QStringLiteral("auditWords"));
    words_->setAccessibleName(tr("Find words in the changes"));
    words_->setPlaceholderText(tr("Find words…"));
    words_->setClearButtonEnabled(true);
    words_->setMaximumWidth(240);
    person_ = new QComboBox(bar);
    person_->setObjectName(QStringLiteral("auditPerson"));
    person_->setAccessibleName(tr("By whom"));
    kind_ = new QComboBox(bar);
    kind_->setObjectName(QStringLiteral("auditKind"));
    kind_->setAccessibleName(tr("Kind of record"));
    row->addWidget(words_);
    row->addWidget(person_);
    row->addWidget(kind_);
    row->addStretch(1);
    row = new QHBoxLayout;
    lines->addLayout(row);
    const auto date = [&](const char *objectName, const QString &label) {
        auto *field = new DateField(std::nullopt, Date(), bar);
        field->setObjectName(QLatin1String(objectName));
        auto *name = new QLabel(label, bar);
        name->setBuddy(field);
        field->edit()->setAccessibleName(label);
        row->addWidget(name);
        row->addWidget(field);
        connect(field, &DateField::changed, soon_, qOverload<>(&QTimer::start));
        return field;
    };
    from_ = date("auditFrom", tr("From"));
    to_ = date("auditTo", tr("Until"));
    row->addStretch(1);
    connect(words_, &QLineEdit::textChanged, soon_, qOverload<>(&QTimer::start));
    connect(person_, &QComboBox::currentIndexChanged, this, &ChangesTab::show);
    connect(kind_, &QComboBox::currentIndexChanged, this, &ChangesTab::show);
    return bar;
}

QWidget *ChangesTab::makeSteps() {
    auto *bar = new QWidget(this);
    auto *row = new QHBoxLayout(bar);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(Look::kInside);
    const auto step = [&](const char *objectName, const QString &text, auto run) {
        auto *button = new QPushButton(text, bar);
        button->setObjectName(QLatin1String(objectName));
        row->addWidget(button);
        connect(button, &QPushButton::clicked, this, run);
        return button;
    };
    older_ = step("auditOlder", tr("Show older"), [this] { readOn(); });
    row->addStretch(1);
    csv_ = step("auditCsv", tr("Save as CSV…"),
                [this] { saveTable(this, session_, desk::changeTable(rows_.rows(), *session_.agency())); });
    print_ = step("auditPrint", tr("Print…"), [this] { print(); });
    return bar;
}

void ChangesTab::takeFocus() {
    words_->setFocus(Qt::ShortcutFocusReason);
}

void ChangesTab::clear() {
    soon_->stop();
    page_ = {};
    rows_.setRows({});
    whole_->clear();
    state_->clear();
}

// Whom and what there is to choose from; what was chosen stays so.
void ChangesTab::offerChoices() {
    const QSignalBlocker noPerson(person_), noKind(kind_);
    const QVariant person = person_->currentData(), kind = kind_->currentData();
    person_->clear();
    person_->addItem(tr("By anybody"), qlonglong(0));
    for (const User &user : session_.agency()->snapshot().users)
        person_->addItem(QString::fromStdString(user.name), qlonglong(user.id.value()));
    person_->setCurrentIndex(std::max(0, person_->findData(person)));
    kind_->clear();
    kind_->addItem(tr("Every kind of record"), QString());
    if (const auto kinds = desk::changeKinds(session_.desk()))
        for (const auto &[table, name] : *kinds)
            kind_->addItem(name, QString::fromStdString(table));
    kind_->setCurrentIndex(std::max(0, kind_->findData(kind)));
    from_->setToday(session_.today());
    to_->setToday(session_.today());
}

desk::ChangeFilter ChangesTab::wanted() const {
    desk::ChangeFilter filter;
    filter.words = words_->text().trimmed();
    filter.user = UserId(person_->currentData().toLongLong());
    filter.table = kind_->currentData().toString().toStdString();
    filter.from = from_->date();
    filter.to = to_->date();
    return filter;
}

void ChangesTab::show() {
    soon_->stop();
    if (!session_.isOpen() || !session_.agency())
        return;
    offerChoices();
    page_ = {};
    rows_.setRows({});
    readOn();
}

void ChangesTab::readOn() {
    auto page = desk::changePage(session_.desk(), wanted(), page_.before, kChangesAPage);
    if (!page) {
        Ask::problem(this, page.error());
        return;
    }
    const int chosen = table_->currentSourceRow();
    std::vector<desk::ChangeRow> rows = rows_.rows();
    std::ranges::move(page->rows, std::back_inserter(rows));
    page_ = std::move(*page);
    page_.rows.clear();
    rows_.setRows(std::move(rows));
    table_->fitColumns(kSummaryColumn);
    table_->selectSourceRow(std::max(0, chosen));
    showChosen(table_->currentSourceRow());
    tellState();
}

void ChangesTab::tellState() {
    const std::int64_t count = rows_.rowCount();
    QStringList parts = {
        desk::counted(count, tr("1 change is shown."), tr("%1 changes are shown, the newest first."))};
    if (!from_->isReadable() || !to_->isReadable())
        parts << tr("A day that cannot be read counts as not given: write it as YYYY-MM-DD.");
    if (page_.isEnd)
        parts << tr("There are no older ones.");
    else if (page_.lookedBackTo)
        parts << tr("Looked through back to %1 %2.")
                     .arg(desk::momentText(*page_.lookedBackTo))
                     .arg(page_.lookedBackTo->date.year());
    parts << tr("The record is only ever added to.");
    state_->setText(parts.join(u' '));
    older_->setEnabled(!page_.isEnd);
    csv_->setEnabled(count > 0);
    print_->setEnabled(count > 0);
}

void ChangesTab::showChosen(int row) {
    whole_->setPlainText(row < 0 ? QString() : desk::wholeOf(rows_.row(row)).join(QLatin1Char('\n')));
}

void ChangesTab::openWhole(int row) {
    if (row < 0)
        return;
    QDialog dialog(this);
    dialog.setObjectName(QStringLiteral("auditEntry"));
    dialog.setWindowTitle(tr("Change %1").arg(rows_.row(row).entry.number));
    dialog.resize(640, 480);
    auto *layout = new QVBoxLayout(&dialog);
    auto *text = new QPlainTextEdit(desk::wholeOf(rows_.row(row)).join(QLatin1Char('\n')), &dialog);
    text->setObjectName(QStringLiteral("auditEntryText"));
    text->setAccessibleName(dialog.windowTitle());
    text->setReadOnly(true);
    text->setTabChangesFocus(true);
    layout->addWidget(text, 1);
    auto *close = new QPushButton(tr("Close"), &dialog);
    close->setDefault(true);
    layout->addWidget(close, 0, Qt::AlignRight);
    connect(close, &QPushButton::clicked, &dialog, &QDialog::accept);
    dialog.exec();
}

void ChangesTab::print() {
    QStringList asked;
    const desk::ChangeFilter filter = wanted();
    if (filter.user.isSet())
        asked << tr("by %1").arg(person_->currentText());
    if (!filter.table.empty())
        asked << kind_->currentText();
    if (filter.from)
        asked << tr("from %1").arg(QString::fromStdString(filter.from->toIso()));
    if (filter.to)
        asked << tr("until %1").arg(QString::fromStdString(filter.to->toIso()));
    if (!filter.words.isEmpty()) // the words may be a name: they stay off the paper
        asked << tr("those that hold certain words");
    offerPaper(this, session_,
               desk::changesRecordPaper(rows_.rows(), asked.join(QStringLiteral(", ")), *session_.agency()));
}

} // namespace kitround::ui
