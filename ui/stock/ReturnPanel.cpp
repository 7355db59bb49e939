#include "ui/stock/ReturnPanel.h"

#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::ClosedHomeRow;

std::vector<RowsColumn<ClosedHomeRow>> columns(Session &session) {
    return {
        {.head = QObject::tr("Patient"), .text = [](const ClosedHomeRow &r) { return r.who; }},
        {.head = QObject::tr("Line"), .text = [](const ClosedHomeRow &r) { return r.place; }},
        {.head = QObject::tr("Closed"), .text = [](const ClosedHomeRow &r) { return r.why; }},
        {.head = QObject::tr("Item"), .text = [](const ClosedHomeRow &r) { return r.itemName; }},
        {.head = QObject::tr("Where"), .text = [](const ClosedHomeRow &r) { return r.where; }},
        {.head = QObject::tr("On the books, each"),
         .text = [](const ClosedHomeRow &r) { return QString::number(r.onBooks.count()); },
         .sortBy = [](const ClosedHomeRow &r) { return QVariant(qlonglong(r.onBooks.count())); },
         .isNumber = true,
         .ink =
             [](const ClosedHomeRow &r) {
                 return r.onBooks.isNegative() ? std::optional(Role::Act) : std::nullopt;
             }},
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

} // namespace

ReturnPanel::ReturnPanel(Session &session, QWidget *parent)
    : QWidget(parent), session_(session), model_(columns(session)) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    layout->setSpacing(Look::kInside);
    auto *top = new QHBoxLayout;
    settle_ = new QPushButton(tr("Settle…"), this);
    settle_->setObjectName(QStringLiteral("returnSettle"));
    open_ = new QPushButton(tr("Open the record"), this);
    open_->setObjectName(QStringLiteral("returnOpen"));
    top->addWidget(settle_);
    top->addWidget(open_);
    top->addStretch(1);
    layout->addLayout(top);
    head_ = new QLabel(this);
    head_->setObjectName(QStringLiteral("returnHead"));
    head_->setWordWrap(true);
    layout->addWidget(head_);
    table_ = new DenseTable(QStringLiteral("returnTable"), tr("Closed homes with stock"), this);
    table_->setModel(new RowsProxy(&model_, this));
    layout->addWidget(table_, 1);
    connect(settle_, &QPushButton::clicked, this, &ReturnPanel::settleCurrent);
    connect(table_, &DenseTable::opened, this, &ReturnPanel::settleCurrent);
    connect(open_, &QPushButton::clicked, this, [this] {
        const int row = table_->currentSourceRow();
        if (row >= 0 && row < model_.rowCount())
            Q_EMIT patientAsked(model_.row(row).patient.value());
    });
    clear();
}

void ReturnPanel::show() {
    if (!session_.agency())
        return;
    const int kept = table_->currentSourceRow();
    model_.setRows(desk::closedHomeRows(*session_.agency()));
    table_->fitColumns(3);
    const int rows = model_.rowCount();
    if (rows > 0)
        table_->selectSourceRow(std::clamp(kept, 0, rows - 1));
    head_->setText(rows > 0
                       ? tr("Care has ended here and the books still show stock. Record what was found and "
                            "what became of it. Nothing that stood in a home goes back to the shelf; a "
                            "parcel that never got there does.")
                       : tr("No closed home has stock on the books."));
    settle_->setEnabled(rows > 0 && !session_.isReadOnly());
    open_->setEnabled(rows > 0);
}

void ReturnPanel::clear() {
    model_.setRows({});
    settle_->setEnabled(false);
    open_->setEnabled(false);
}

void ReturnPanel::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

void ReturnPanel::settleCurrent() {
    const int row = table_->currentSourceRow();
    if (row < 0 || row >= model_.rowCount() || session_.isReadOnly())
        return;
    const ClosedHomeRow home = model_.row(row); // a write reloads the rows
    if (!home.parcel) {
        takeBackFromHome(this, session_, home.catheter, home.item);
        return;
    }
    const auto why =
        Ask::line(this, tr("Parcel for %1").arg(home.who),
                  tr("It never reached the home and is back in the storeroom. Who fetched it, and is "
                     "it sealed? The whole parcel goes back to the shelf, with credit to the payer:"));
    if (why)
        session_.writeOrTell(this, tr("Took back a parcel for %1").arg(home.who), [&](desk::Desk &d) {
            return d.cancelDelivery(*home.parcel, why->trimmed().toStdString());
        });
}

bool takeBackFromHome(QWidget *window, Session &session, CatheterId catheterId, ItemId itemId) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const SnapshotIndex &index = agency->index();
    const Catheter *catheter = index.catheter(catheterId);
    const Item *item = index.item(itemId);
    const Patient *patient = catheter ? index.patient(catheter->patient) : nullptr;
    if (!item || !patient)
        return false;
    const Eaches books = onBooks(*agency, catheterId, itemId);
    RecordForm form(
        QObject::tr("Take stock back: %1, %2").arg(desk::personName(*patient), desk::catheterText(*catheter)),
        window);
    form.addNote(QObject::tr("%1; %2 on the books. What stood in a home never goes back to the shelf.")
                     .arg(QString::fromStdString(item->name))
                     .arg(books.count()));
    form.addNumber("counted", QObject::tr("Found in the home"), books.count(), QObject::tr("eaches, all"));
    form.addNumber("quantity", QObject::tr("Of those, leaves"), books.count(), QObject::tr("eaches"));
    form.addNumber("sealed", QObject::tr("Of those, sealed"), std::nullopt, QObject::tr("eaches"));
    form.addChoice("disposition", QObject::tr("It is"),
                   choicesOf({Disposition::Destroyed, Disposition::Donated, Disposition::KeptByHome,
                              Disposition::SupplierCredit},
                             [](Disposition d) { return desk::words(d); }),
                   static_cast<qint64>(Disposition::Destroyed));
    form.addText("write_off_minor", QObject::tr("Written off"),
                 moneyEditText(desk::stockValue(*agency, itemId, books)).toStdString());
    form.addText("decided_by", QObject::tr("Decided by"), session.userName().toStdString());
    addMoment(form, "at", QObject::tr("When"), momentNow(session), session.today());
    form.addText("note", QObject::tr("Note"), {});
    form.setSaveText(QObject::tr("Take it off the books"));
    Eaches counted;
    form.onSave(
        [&] {
            HomeReturn record;
            record.catheter = catheterId;
            record.item = itemId;
            counted = Eaches::of(form.neededNumberOf("counted"));
            record.quantity = Eaches::of(form.neededNumberOf("quantity"));
            record.sealed = Eaches::of(form.numberOf("sealed").value_or(0));
            record.disposition = static_cast<Disposition>(form.choiceOf("disposition"));
            record.writeOff = readMoney(form, "write_off_minor");
            record.decidedBy = form.textOf("decided_by");
            record.at = readNeededMoment(form, "at");
            record.note = form.textOf("note");
            return record;
        },
        [&](const HomeReturn &record) {
            return session.write(QObject::tr("Took stock back from %1").arg(desk::initials(*patient)),
                                 [&](desk::Desk &d) { return d.returnFromHome(record, counted); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
