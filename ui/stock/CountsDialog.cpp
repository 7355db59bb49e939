#include "ui/stock/CountsDialog.h"

#include "core/desk/views/StoreroomItem.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

QString classText(StockClass c) {
    return c == StockClass::A   ? QStringLiteral("A")
           : c == StockClass::B ? QStringLiteral("B")
                                : QStringLiteral("C");
}

std::string field(std::size_t lot) {
    return "counted_" + std::to_string(lot);
}

constexpr const char *kFoundLot = "found_lot";
constexpr const char *kFound = "found";

// Lots on record of which the ledger has none on the shelf: one of them may stand there all the same.
void addFoundLot(RecordForm &form, const desk::Agency &agency, ItemId item,
                 const std::vector<desk::LotRow> &listed) {
    std::vector<Choice> lots{{QObject::tr("none"), 0}};
    for (const Lot &lot : agency.snapshot().lots)
        if (lot.item == item &&
            std::ranges::find(listed, std::optional(lot.id), &desk::LotRow::lot) == listed.end())
            lots.push_back({QString::fromStdString(lot.number), lot.id.value()});
    form.addChoice(kFoundLot, QObject::tr("Another lot found"), lots, 0);
    form.addNumber(kFound, QObject::tr("Of it"), std::nullopt, {});
}

} // namespace

std::vector<RowsColumn<CountRow>> CountsDialog::columns() {
    return {
        {.head = tr("Class"),
         .text = [](const CountRow &r) { return classText(r.due.countClass); },
         .headTip = tr("By yearly use value; shares and days between counts are settings under Supplies")},
        {.head = tr("Item"), .text = [](const CountRow &r) { return r.name; }},
        {.head = tr("Due"),
         .text = [](const CountRow &r) { return desk::dayText(r.due.dueOn); },
         .sortBy = [](const CountRow &r) { return QVariant(qlonglong(r.due.dueOn.dayNumber())); },
         .ink = [](const CountRow &r) { return r.isDue ? std::optional(Role::Watch) : std::nullopt; }},
        {.head = tr("Last counted"),
         .text =
             [](const CountRow &r) {
                 return r.due.lastCounted ? desk::dayText(*r.due.lastCounted, Date()) : tr("never");
             },
         .sortBy =
             [](const CountRow &r) {
                 return QVariant(r.due.lastCounted ? qlonglong(r.due.lastCounted->dayNumber()) : 0);
             }},
        {.head = tr("Use a year"),
         .text = [](const CountRow &r) { return r.value; },
         .sortBy = [](const CountRow &r) { return QVariant(qlonglong(r.due.yearlyValue.count())); },
         .isNumber = true},
        {.head = tr("Being picked"),
         .text = [](const CountRow &r) { return QString::number(r.due.openPicks); },
         .sortBy = [](const CountRow &r) { return QVariant(r.due.openPicks); },
         .isNumber = true,
         .headTip =
             tr("Deliveries with the item that are picked and still here: count when they are through")},
    };
}

CountsDialog::CountsDialog(Session &session, std::map<ItemId, double> perDay, QWidget *parent)
    : QDialog(parent), session_(session), perDay_(std::move(perDay)), model_(columns()) {
    setObjectName(QStringLiteral("countsDialog"));
    setWindowTitle(tr("Counts due"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    head_ = new QLabel(this);
    head_->setObjectName(QStringLiteral("countsHead"));
    head_->setWordWrap(true);
    layout->addWidget(head_);
    table_ = new DenseTable(QStringLiteral("countsTable"), tr("Counts due"), this);
    table_->setModel(new RowsProxy(&model_, this));
    layout->addWidget(table_, 1);
    auto *foot = new QHBoxLayout;
    count_ = new QPushButton(tr("Count this item…"), this);
    count_->setObjectName(QStringLiteral("countsCount"));
    auto *close = new QPushButton(tr("Close"), this);
    close->setAutoDefault(false);
    foot->addWidget(count_);
    foot->addStretch(1);
    foot->addWidget(close);
    layout->addLayout(foot);
    resize(820, 460);
    connect(count_, &QPushButton::clicked, this, &CountsDialog::countCurrent);
    connect(table_, &DenseTable::opened, this, &CountsDialog::countCurrent);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
    connect(&session_, &Session::agencyChanged, this, &CountsDialog::fill);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    fill();
    table_->fitColumns(1);
}

void CountsDialog::fill() {
    const desk::AgencyPtr agency = session_.agency();
    const auto last = desk::lastStoreroomCounts(session_.desk());
    if (!last) {
        head_->setText(desk::words(last.error()));
        model_.setRows({});
        count_->setEnabled(false);
        return;
    }
    std::vector<CountRow> rows;
    int due = 0;
    for (const supply::CountDue &item :
         supply::countsDue(agency->index(), perDay_, *last, supply::countRulesOf(agency->settings()))) {
        const bool isDue = item.isDue(agency->today());
        due += isDue ? 1 : 0;
        rows.push_back({item, desk::itemName(agency->index(), item.item),
                        desk::moneyText(item.yearlyValue, agency->settings().currency), isDue});
    }
    model_.setRows(std::move(rows));
    head_->setText(
        due > 0 ? desk::counted(due, tr("%1 item is due to be counted today. Count when nobody picks."),
                                tr("%1 items are due to be counted today. Count when nobody picks."))
                : tr("Nothing is due to be counted today."));
    if (model_.rowCount() > 0)
        table_->selectSourceRow(0);
    count_->setEnabled(model_.rowCount() > 0 && !session_.isReadOnly());
}

void CountsDialog::countCurrent() {
    const int row = table_->currentSourceRow();
    if (row >= 0 && row < model_.rowCount() && !session_.isReadOnly())
        countItem(this, session_, model_.row(row).due.item);
}

bool countItem(QWidget *window, Session &session, ItemId itemId) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const Item *item = agency->index().item(itemId);
    if (!item)
        return false;
    std::vector<desk::LotRow> lots;
    for (desk::LotRow &lot : desk::lotRows(*agency, itemId))
        if (!lot.storeroom.isZero())
            lots.push_back(std::move(lot));
    RecordForm form(QObject::tr("Count: %1").arg(QString::fromStdString(item->name)), window);
    form.addNote(QObject::tr("Count each lot on the shelf without looking at the ledger. A lot that is not "
                             "there any more is 0; leave empty what was not counted. The item stays due "
                             "until all its lots are counted at one go."));
    const int openPicks = supply::openPicksOf(agency->index(), itemId);
    if (openPicks > 0)
        form.addNote(desk::counted(
            openPicks, QObject::tr("%1 delivery with this item is being picked. Count when it is through."),
            QObject::tr("%1 deliveries with this item are being picked. Count when they are through.")));
    if (lots.empty())
        form.addNote(QObject::tr("By the ledger nothing of it stands in the storeroom."));
    if (lots.empty())
        lots.emplace_back();
    const std::int64_t perCase = item->casePack.eachesPerCase.count();
    std::vector<Choice> units{{QObject::tr("eaches"), 1}};
    if (perCase > 1)
        units.push_back({QObject::tr("cases of %1").arg(perCase), perCase});
    form.addChoice("counted_in", QObject::tr("Counted in"), units, 1);
    for (std::size_t i = 0; i < lots.size(); ++i)
        form.addNumber(field(i),
                       lots[i].lot ? QObject::tr("Lot %1").arg(lots[i].number) : QObject::tr("Without a lot"),
                       std::nullopt, {});
    addFoundLot(form, *agency, itemId, lots);
    form.addText("why", QObject::tr("What explains a difference"), {});
    form.addText("second_person", QObject::tr("Second person, for a large difference"), {});
    form.addCheck("is_counted_again", QObject::tr("counted again; the numbers are right"), false);
    form.setSaveText(QObject::tr("Record the count"));
    std::vector<std::string> rows; // of the lots counted: their fields
    form.onSave(
        [&] {
            desk::StoreroomCount count;
            count.item = itemId;
            rows.clear();
            for (std::size_t i = 0; i < lots.size(); ++i)
                if (const auto counted = form.numberOf(field(i))) {
                    count.lots.push_back(
                        {lots[i].lot, Eaches::of(*counted * form.choiceOf("counted_in")), lots[i].storeroom});
                    rows.push_back(field(i));
                }
            if (const LotId found(form.choiceOf(kFoundLot)); found.isSet()) {
                count.lots.push_back(
                    {found, Eaches::of(form.neededNumberOf(kFound) * form.choiceOf("counted_in")), Eaches{}});
                rows.emplace_back(kFound);
            } else if (!form.textOf(kFound).empty()) {
                Problem missing;
                missing.field = kFoundLot;
                form.addReadFault(missing);
            }
            if (count.lots.empty()) {
                Problem missing;
                missing.field = field(0);
                form.addReadFault(missing);
            }
            count.why = form.textOf("why");
            count.secondPerson = form.textOf("second_person");
            count.isCountedAgain = form.checkOf("is_counted_again");
            return count;
        },
        [&](const desk::StoreroomCount &count) -> std::optional<Problem> {
            const auto problem = session.write(
                QObject::tr("Counted %1 in the storeroom").arg(QString::fromStdString(item->name)),
                [&](desk::Desk &d) { return d.countStoreroom(count); });
            if (!problem)
                return std::nullopt;
            Problems found = flattened(*problem);
            for (Problem &p : found)
                if (p.row > 0 && static_cast<std::size_t>(p.row) <= rows.size()) {
                    p.field = rows[static_cast<std::size_t>(p.row) - 1];
                    p.row = 0;
                }
            return joined(std::move(found));
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
