#include "ui/today/HandOverDialog.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QItemSelectionModel>
#include <QLabel>
#include <QPushButton>

#include <algorithm>
#include <iterator>
#include <map>

namespace kitround::ui {

using desk::HandOverRow;

namespace {

// What stands in the cell, whole; of many, whom they are about.
QString tipOf(const HandOverRow &row) {
    constexpr qsizetype kNamed = 20; // a tip is read at a glance (assumed)
    QStringList names;
    for (const HandOverRow &one : row.folded)
        if (!one.who.isEmpty() && names.size() < kNamed)
            names << one.who;
    const QString what = QString::fromStdString(row.item.what);
    if (names.isEmpty())
        return what;
    if (const auto more = std::ssize(row.folded) - names.size(); more > 0)
        names << QObject::tr("%1 more").arg(desk::numberText(more));
    return what + QLatin1Char('\n') + names.join(QStringLiteral(", "));
}

} // namespace

std::vector<RowsColumn<HandOverRow>> HandOverDialog::columns() {
    return {
        {.head = tr("State"),
         .text = [](const HandOverRow &r) { return desk::stateText(r); },
         .ink = [](const HandOverRow &r) -> std::optional<Role> {
             if (r.isLate)
                 return Role::Act;
             return r.isWaiting() ? std::optional(Role::Watch) : std::nullopt;
         },
         .icon =
             [](const HandOverRow &r) {
                 return r.isLate ? Look::icon(QStringLiteral("bell"), Role::Act) : QIcon();
             }},
        {.head = tr("Topic"), .text = [](const HandOverRow &r) { return desk::words(r.item.topic); }},
        {.head = tr("Who"), .text = [](const HandOverRow &r) { return r.who; }},
        {.head = tr("What"),
         .text = [](const HandOverRow &r) { return QString::fromStdString(r.item.what); },
         .tip = [](const HandOverRow &r) { return tipOf(r); }},
        {.head = tr("Taken by"), .text = [](const HandOverRow &r) { return desk::takenText(r); }},
    };
}

HandOverDialog::HandOverDialog(Session &session, QWidget *parent)
    : ListDialog(QStringLiteral("handOver"), tr("Hand-over"), session, parent), model_(columns()),
      which_(new QComboBox(this)) {
    which_->addItems({tr("What is open"), tr("Accepted since yesterday")});
    addChoice(which_, QStringLiteral("handOverWhich"), tr("Show"));
    setRows(&model_, tr("Hand-over"));
    table_->setSelectionMode(QAbstractItemView::ExtendedSelection);
    accept_ = addStep(QStringLiteral("handOverAccept"), tr("Accept the chosen lines"),
                      [this] { accept(chosen()); });
    acceptAll_ = addStep(QStringLiteral("handOverAcceptAll"), tr("Accept all that waits"),
                         [this] { accept(waitingForMe()); });
    handOver_ =
        addStep(QStringLiteral("handOverGive"), tr("Hand over to the next shift…"), [this] { handOver(); });
    eachButton_ = addStep(QStringLiteral("handOverEach"), tr("Show each"), [this] { showEach(); });
    eachButton_->setToolTip(tr("Many lines of a kind in the same hands are one line with their number. "
                               "Accepting it accepts each of them."));
    addRoom();
    addStep(
        QStringLiteral("handOverCsv"), tr("Save as CSV…"),
        [this] { saveTable(this, session_, desk::handOverTable(board_, *session_.agency())); },
        Qt::CTRL | Qt::Key_S);
    addStep(
        QStringLiteral("handOverPrint"), tr("Print…"), [this] { print(); }, QKeySequence::Print);
    addClose(QStringLiteral("handOverClose"));
    connect(which_, &QComboBox::currentIndexChanged, this, &HandOverDialog::showRows);
    connect(table_, &DenseTable::currentRowChanged, this, &HandOverDialog::followRow);
    connect(table_, &DenseTable::opened, this, &HandOverDialog::showEach);
    connect(&session_, &Session::agencyChanged, this, &HandOverDialog::fill);
    connect(&session_, &Session::computed, this, &HandOverDialog::fill);
    connect(&session_, &Session::userChanged, this, &HandOverDialog::fill);
    fill();
}

void HandOverDialog::fill() {
    const desk::AgencyPtr agency = session_.agency();
    items_ = desk::attention(*agency, session_.stock().get(), session_.nextWeek().get(),
                             session_.thisWeek().get());
    board_ = desk::handOverBoard(items_, *agency);
    const std::size_t forMe = waitingForMe().size();
    head_->setText(headText(board_.waiting.size() - forMe));
    const bool mayWrite = !session_.isReadOnly();
    accept_->setEnabled(mayWrite && !board_.waiting.empty());
    acceptAll_->setEnabled(mayWrite && forMe > 0);
    handOver_->setEnabled(mayWrite && !board_.open.empty());
    showRows();
}

QString HandOverDialog::headText(std::size_t own) const {
    const auto late = std::ranges::count_if(board_.waiting, &HandOverRow::isLate);
    const auto open = static_cast<std::int64_t>(board_.open.size());
    QString text = board_.waiting.empty()
                       ? tr("Nothing waits to be accepted.") + u' ' +
                             desk::counted(open, tr("1 line is open."), tr("%1 lines are open."))
                       : desk::counted(static_cast<std::int64_t>(board_.waiting.size()),
                                       tr("1 line waits to be accepted by name;"),
                                       tr("%1 lines wait to be accepted by name;")) +
                             u' ' + desk::counted(open, tr("1 is open besides."), tr("%1 are open besides."));
    if (late > 0)
        text += u' ' + desk::counted(late, tr("1 has waited for longer than a shift."),
                                     tr("%1 have waited for longer than a shift."));
    text +=
        u' ' + tr("Calls, stock, clocks, holds and changes are handed over, everybody's; what can wait is "
                  "only under Today.");
    text += QLatin1Char('\n') + tr("You work here as %1.").arg(session_.userName());
    if (own > 0)
        text += u' ' + desk::counted(static_cast<std::int64_t>(own),
                                     tr("1 line was handed over under that name: somebody else accepts it."),
                                     tr("%1 lines were handed over under that name: somebody else accepts "
                                        "them."));
    return text;
}

// A refresh in the background puts no other line under the hand than the person chose.
void HandOverDialog::showRows() {
    std::set<Line> lines;
    for (const QModelIndex &index : table_->selectionModel()->selectedRows())
        lines.insert(lineOf(rowAt(index)));
    std::optional<Line> current;
    if (table_->currentIndex().isValid())
        current = lineOf(rowAt(table_->currentIndex()));
    std::vector<HandOverRow> rows = board_.accepted;
    if (which_->currentIndex() == 0) {
        rows = board_.waiting;
        rows.insert(rows.end(), board_.open.begin(), board_.open.end());
    }
    model_.setRows(desk::foldedRows(std::move(rows), each_));
    table_->fitColumns(3);
    if (!isFilled_)
        table_->selectSourceRow(0);
    else
        choose(lines, current);
    isFilled_ = true;
    followRow();
}

const HandOverRow *HandOverDialog::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void HandOverDialog::followRow() {
    const HandOverRow *row = current();
    const bool isMany = row && !row->folded.empty();
    const bool isOfMany = row && !isMany && each_.contains(row->foldKey);
    eachButton_->setText(isMany     ? tr("Show each of the %1").arg(desk::numberText(std::ssize(row->folded)))
                         : isOfMany ? tr("Show them as one line")
                                    : tr("Show each"));
    eachButton_->setEnabled(isMany || isOfMany);
}

void HandOverDialog::showEach() {
    const HandOverRow *row = current();
    if (!row || row->foldKey.empty())
        return;
    const std::string kind = row->foldKey;
    const bool isMany = !row->folded.empty();
    if (!isMany && !each_.contains(kind))
        return;
    const std::string first = isMany ? row->folded.front().item.subject : std::string();
    if (isMany)
        each_.insert(kind);
    else
        each_.erase(kind);
    showRows();
    // The keyboard goes on where the kind stands now.
    const auto &rows = model_.rows();
    const auto at = std::ranges::find_if(rows, [&](const HandOverRow &shown) {
        return isMany ? shown.item.subject == first : shown.foldKey == kind && !shown.folded.empty();
    });
    if (at != rows.end())
        table_->selectSourceRow(static_cast<int>(at - rows.begin()));
}

void HandOverDialog::choose(const std::set<Line> &lines, const std::optional<Line> &current) {
    const QAbstractItemModel &shown = *table_->model();
    QItemSelection selection;
    QModelIndex at;
    for (int i = 0; i < shown.rowCount(); ++i) {
        const QModelIndex index = shown.index(i, 0);
        const Line line = lineOf(rowAt(index));
        if (lines.contains(line))
            selection.select(index, index);
        if (current == line)
            at = index;
    }
    QItemSelectionModel &held = *table_->selectionModel();
    held.select(selection, QItemSelectionModel::ClearAndSelect | QItemSelectionModel::Rows);
    if (at.isValid())
        held.setCurrentIndex(at, QItemSelectionModel::NoUpdate);
}

const HandOverRow &HandOverDialog::rowAt(const QModelIndex &index) const {
    return model_.row(static_cast<const QSortFilterProxyModel *>(table_->model())->mapToSource(index).row());
}

std::vector<HandOverRow> HandOverDialog::chosen() const {
    std::vector<HandOverRow> rows;
    for (const QModelIndex &index : table_->selectionModel()->selectedRows())
        if (const HandOverRow &row = rowAt(index); row.isWaiting()) {
            if (row.folded.empty())
                rows.push_back(row);
            rows.insert(rows.end(), row.folded.begin(), row.folded.end());
        }
    return rows;
}

std::vector<HandOverRow> HandOverDialog::waitingForMe() const {
    std::vector<HandOverRow> rows;
    std::ranges::copy_if(board_.waiting, std::back_inserter(rows),
                         [me = session_.desk().user()](const HandOverRow &row) { return row.waitsFor(me); });
    return rows;
}

void HandOverDialog::handOver() {
    std::vector<HandOverItem> items; // those that are asked about, whatever is refreshed in the meantime
    for (const HandOverRow &row : board_.open)
        items.push_back(row.item);
    const auto note = Ask::line(
        this, tr("Hand over"),
        desk::counted(
            static_cast<std::int64_t>(items.size()),
            tr("1 line goes to the next shift and waits until somebody accepts it by name. A note:"),
            tr("%1 lines go to the next shift and wait until somebody accepts them by name. A note:")));
    if (!note)
        return;
    session_.writeOrTell(this, tr("Handed the shift over"), [&](desk::Desk &d) {
        return d.handShiftOver(items, note->trimmed().toStdString());
    });
}

void HandOverDialog::accept(const std::vector<HandOverRow> &rows) {
    if (rows.empty()) {
        Ask::tell(this, tr("Accept"), tr("Choose lines that wait; the others have been taken already."));
        return;
    }
    std::map<HandOverId, std::vector<std::string>> byHandOver;
    for (const HandOverRow &row : rows)
        byHandOver[*row.handOver].push_back(row.item.subject);
    session_.writeOrTell(this, tr("Accepted a hand-over"),
                         [&](desk::Desk &d) { return d.acceptHandOvers(byHandOver); });
}

void HandOverDialog::print() {
    offerPaper(this, session_, desk::handOverPaper(items_, *session_.agency()));
}

} // namespace kitround::ui
