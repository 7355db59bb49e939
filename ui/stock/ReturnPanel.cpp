#include "ui/stock/ReturnPanel.h"

#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/LineAtHome.h"
#include "ui/stock/SupplyForms.h"

#include <QComboBox>
#include <QLineEdit>

#include <algorithm>
#include <memory>

namespace kitround::ui {
namespace {

using desk::ClosedHomeRow;

std::vector<RowsColumn<ClosedHomeRow>> columns(Session &session) {
    return {
        {.head = QObject::tr("Patient"), .text = [](const ClosedHomeRow &r) { return r.who; }},
        {.head = QObject::tr("Catheter"), .text = [](const ClosedHomeRow &r) { return r.place; }},
        {.head = QObject::tr("Closed"), .text = [](const ClosedHomeRow &r) { return r.why; }},
        {.head = QObject::tr("Item"), .text = [](const ClosedHomeRow &r) { return r.itemName; }},
        {.head = QObject::tr("Where"), .text = [](const ClosedHomeRow &r) { return r.where; }},
        {.head = QObject::tr("On the books, eaches"),
         .text = [](const ClosedHomeRow &r) { return desk::numberText(r.onBooks.count()); },
         .sortBy = [](const ClosedHomeRow &r) { return QVariant(qlonglong(r.onBooks.count())); },
         .isNumber = true,
         .ink =
             [](const ClosedHomeRow &r) {
                 return r.onBooks.isNegative() ? std::optional(Role::Act) : std::nullopt;
             }},
        {.head = QObject::tr("Recalled"),
         .text = [](const ClosedHomeRow &r) { return r.recall; },
         .ink =
             [](const ClosedHomeRow &r) {
                 return r.recall.isEmpty() ? std::nullopt : std::optional(Role::Act);
             },
         .tip = [](const ClosedHomeRow &r) { return r.recall; }},
        {.head = QObject::tr("Value"),
         .text =
             [&session](const ClosedHomeRow &r) {
                 return desk::moneyText(r.value, session.agency()->settings().currency);
             },
         .sortBy = [](const ClosedHomeRow &r) { return QVariant(qlonglong(r.value.count())); },
         .isNumber = true,
         .headTip = QObject::tr("At the price the agency pays today")},
    };
}

Eaches onBooks(const desk::Agency &agency, CatheterId catheter, ItemId item) {
    return std::max(agency.index().balance(Place::home(catheter), item), Eaches{});
}

// Where the ledger has several lots there: which one leaves. False: it does not, and nothing is asked.
bool addLotChoice(RecordForm &form, const SnapshotIndex &agency, CatheterId catheter, ItemId item) {
    std::vector<Choice> lots{{QObject::tr("several, or not known"), 0}};
    for (const LotId id : desk::lotsAtHome(agency, catheter, item))
        if (const Lot *lot = agency.lot(id))
            lots.push_back({QString::fromStdString(lot->number), id.value()});
    if (lots.size() <= 2) // the first stands for none
        return false;
    form.addChoice("lot_id", QObject::tr("Lot on the label"), lots, 0);
    return true;
}

// Follows what leaves and what becomes of it, until somebody writes an amount of their own.
void addWriteOff(RecordForm &form, const LineAtHome &home, QLineEdit *leaves, QComboBox *becomes) {
    auto *amount = form.addText(
        "write_off_minor",
        QObject::tr("Written off, %1").arg(QString::fromStdString(home.agency->settings().currency)), {});
    auto isOwn = std::make_shared<bool>(false);
    const auto show = [amount, leaves, becomes, isOwn, agency = home.agency, item = home.item->id] {
        if (*isOwn)
            return;
        amount->setText(becomes->currentIndex() < 0
                            ? QString()
                            : moneyEditText(desk::writtenOff(
                                  *agency, item, Eaches::of(numberIn(leaves->text()).value_or(0)),
                                  static_cast<Disposition>(becomes->currentData().toLongLong()))));
    };
    QObject::connect(amount, &QLineEdit::textEdited, amount, [isOwn] { *isOwn = true; });
    QObject::connect(leaves, &QLineEdit::textChanged, amount, show);
    QObject::connect(becomes, &QComboBox::currentIndexChanged, amount, show);
    show();
}

} // namespace

ReturnPanel::ReturnPanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    rows_ = new RowsTable<ClosedHomeRow>(
        {.objectName = QStringLiteral("returnTable"),
         .title = tr("Closed homes with stock"),
         .explanation = tr("Care has ended here and the books still show stock. Record what was found and "
                           "what became of it. Nothing that stood in a home goes back to the shelf; a "
                           "parcel that never got there does."),
         .nothing = tr("No closed home has stock on the books."),
         .stretched = 3,
         .names = {3}},
        columns(session), this);
    layout->addWidget(rows_);
    settle_ = rows_->addStep("returnSettle", tr("Settle…"), [this] { settleCurrent(); });
    open_ = rows_->addStep("returnOpen", tr("Open the record"), [this] {
        if (const ClosedHomeRow *row = rows_->current())
            Q_EMIT patientAsked(row->patient.value());
    });
    rows_->addGap();
    rows_->onChosen([this] { enableSteps(); });
    connect(rows_->table(), &DenseTable::opened, this, &ReturnPanel::settleCurrent);
    enableSteps();
}

void ReturnPanel::show() {
    if (session_.agency())
        rows_->setRows(desk::closedHomeRows(*session_.agency()));
}

void ReturnPanel::clear() {
    rows_->clear({});
}

void ReturnPanel::takeFocus() {
    rows_->takeFocus();
}

void ReturnPanel::enableSteps() {
    settle_->setEnabled(rows_->current() && !session_.isReadOnly());
    open_->setEnabled(rows_->current());
}

void ReturnPanel::settleCurrent() {
    if (!rows_->current() || session_.isReadOnly())
        return;
    const ClosedHomeRow home = *rows_->current(); // a write reloads the rows
    if (!home.parcel) {
        takeBackFromHome(this, session_, home.catheter, home.item);
        return;
    }
    const Delivery *found = session_.agency()->index().delivery(*home.parcel);
    if (!found)
        return;
    const Delivery parcel = *found; // a reload may come while the question is open
    cancelDelivery(this, session_, parcel);
}

bool takeBackFromHome(QWidget *window, Session &session, CatheterId catheter, ItemId item) {
    const LineAtHome home = lineAtHome(session, catheter, item);
    if (!home.isOnRecord())
        return false;
    const Eaches books = onBooks(*home.agency, catheter, item);
    RecordForm form(QObject::tr("Take stock back: %1").arg(home.who()), window);
    form.addNote(QObject::tr("%1; %2 on the books. What stood in a home never goes back to the shelf.")
                     .arg(home.itemName())
                     .arg(books.count()));
    if (const QString recall = desk::recalledText(home.agency->index(), catheter, item); !recall.isEmpty())
        form.addNote(QObject::tr("Of these, %1: keep them apart with their label.").arg(recall));
    form.addNumber("counted", QObject::tr("Found in the home"), std::nullopt, QObject::tr("eaches, all"));
    QLineEdit *leaves =
        form.addNumber("quantity", QObject::tr("Of those, leaves"), std::nullopt, QObject::tr("eaches"));
    form.addNumber("sealed", QObject::tr("Of those, sealed"), std::nullopt, QObject::tr("eaches"));
    const bool asksLot = addLotChoice(form, home.agency->index(), catheter, item);
    QComboBox *becomes = form.addChoice("disposition", QObject::tr("What became of it"),
                                        choicesOf({Disposition::Destroyed, Disposition::Donated,
                                                   Disposition::KeptByHome, Disposition::SupplierCredit},
                                                  [](Disposition d) { return desk::words(d); }),
                                        -1); // nothing is destroyed because nobody chose
    becomes->setPlaceholderText(QObject::tr("choose what became of it"));
    addWriteOff(form, home, leaves, becomes);
    form.addText("decided_by", QObject::tr("Decided by"), session.userName().toStdString());
    addMoment(form, "at", QObject::tr("When"), momentNow(session), session.today());
    form.addText("note", QObject::tr("Note"), {});
    form.setSaveText(QObject::tr("Take it off the books"));
    Eaches counted;
    form.require({"counted", "quantity", "disposition", "decided_by", "at", "at_time"});
    form.onSave(
        [&] {
            HomeReturn record;
            record.catheter = catheter;
            record.item = item;
            counted = Eaches::of(form.neededNumberOf("counted"));
            record.quantity = Eaches::of(form.neededNumberOf("quantity"));
            if (asksLot)
                record.lot = idOrNone<LotId>(form.choiceOf("lot_id"));
            record.sealed = Eaches::of(form.numberOf("sealed").value_or(0));
            record.disposition = static_cast<Disposition>(form.neededChoiceOf("disposition"));
            record.writeOff = readMoney(form, "write_off_minor");
            record.decidedBy = form.textOf("decided_by");
            record.at = readNeededMoment(form, "at");
            record.note = form.textOf("note");
            return record;
        },
        [&](const HomeReturn &record) {
            return session.write(QObject::tr("Took stock back from %1").arg(desk::initials(*home.patient)),
                                 [&](desk::Desk &d) { return d.returnFromHome(record, counted); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
