#include "ui/stock/CarPanel.h"

#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"
#include "ui/stock/StockColumns.h"

namespace kitround::ui {
namespace {

using desk::CarRow;

template <class Get>
RowsColumn<CarRow> eaches(const QString &head, Get get, const QString &tip) {
    return numberColumn<CarRow>(
        head, [get](const CarRow &r) { return Eaches(get(r)).count(); }, tip);
}

std::vector<RowsColumn<CarRow>> columns() {
    const auto tr = [](const char *words) { return QObject::tr(words); };
    return {
        {.head = tr("Nurse"), .text = [](const CarRow &r) { return r.nurse; }},
        {.head = tr("Item"), .text = [](const CarRow &r) { return r.item; }},
        {.head = tr("State"),
         .text = [](const CarRow &r) { return r.standing; },
         .ink =
             [](const CarRow &r) {
                 return r.line.lacking().count() > 0 || r.line.shortDated.count() > 0
                            ? std::optional(Role::Watch)
                            : std::nullopt;
             }},
        {.head = tr("Par"),
         .text =
             [](const CarRow &r) { return r.line.par ? QString::number(r.line.par->count()) : QString(); },
         .sortBy = [](const CarRow &r) { return QVariant(qlonglong(r.line.par ? r.line.par->count() : -1)); },
         .isNumber = true},
        eaches(
            tr("In the car"), [](const CarRow &r) { return r.line.inCar; },
            tr("Without what is packed for homes")),
        eaches(
            tr("Packed"), [](const CarRow &r) { return r.line.packed; }, tr("In the car, for homes by name")),
        eaches(
            tr("Short-dated"), [](const CarRow &r) { return r.line.shortDated; },
            tr("Expired, or less life left than homes get")),
        {.head = tr("First expiry"),
         .text =
             [](const CarRow &r) {
                 return r.line.firstExpiry ? desk::dayText(*r.line.firstExpiry, Date()) : QString();
             },
         .sortBy = [](const CarRow &r) { return QVariant(sortDay(r.line.firstExpiry)); }},
        eaches(
            tr("Used, 4 weeks"), [](const CarRow &r) { return r.used; },
            tr("Handed over from the car's own stock")),
    };
}

} // namespace

CarPanel::CarPanel(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    rows_ = new RowsTable<CarRow>(
        {.objectName = QStringLiteral("carTable"),
         .title = tr("Cars"),
         .explanation = tr("Car stock counts in every total and in every recall. Bringing a car to par takes "
                           "what is short-dated back and tops up from the storeroom, first expiring first."),
         .nothing = tr("No car carries anything and no par is set yet. Set how much of an item each "
                       "nurse's car should carry."),
         .stretched = 2,
         .names = {1}},
        columns(), this);
    layout->addWidget(rows_);
    par_ = rows_->addStep("carPar", tr("Set par…"), [this] { setPar(); });
    refill_ = rows_->addStep("carRefill", tr("Bring the car to par"), [this] { refillCurrent(); });
    rows_->addGap();
    rows_->keepChosenBy([](const CarRow &a, const CarRow &b) {
        return a.line.nurse == b.line.nurse && a.line.item == b.line.item;
    });
    rows_->onChosen([this] { enableSteps(); });
    connect(rows_->table(), &DenseTable::opened, this, &CarPanel::setPar);
    enableSteps();
}

void CarPanel::show() {
    if (!session_.agency())
        return;
    auto rows = desk::carRows(session_.desk());
    if (rows)
        rows_->setRows(std::move(*rows));
    else
        rows_->clear(desk::words(rows.error()));
}

void CarPanel::clear() {
    rows_->clear({});
}

void CarPanel::takeFocus() {
    rows_->takeFocus();
}

void CarPanel::enableSteps() {
    const bool mayWrite = session_.isOpen() && !session_.isReadOnly();
    par_->setEnabled(mayWrite);
    refill_->setEnabled(mayWrite && rows_->current());
}

void CarPanel::refillCurrent() {
    const CarRow *row = rows_->current();
    if (!row || !refill_->isEnabled())
        return;
    const NurseId nurse = row->line.nurse;
    const QString who = row->nurse;
    if (!Ask::confirm(
            this, tr("Bring the car to par"),
            tr("The car of %1: take back what is short-dated, and put in what is missing?").arg(who),
            tr("Bring it to par"), tr("Leave it")))
        return;
    desk::CarRefill done;
    if (!session_.writeOrTell(this, tr("Brought the car of %1 to par").arg(who), [&](desk::Desk &d) {
            auto result = d.refillCar(nurse);
            if (result)
                done = *result;
            return result;
        }))
        return;
    QStringList lines{
        tr("Put in: %1; taken back: %2, in eaches.").arg(done.putIn.count()).arg(done.takenBack.count())};
    for (const Problem &flag : done.flags)
        lines << desk::words(flag);
    Ask::tell(this, tr("The car of %1").arg(who), lines.join(QLatin1Char('\n')));
}

void CarPanel::setPar() {
    if (!session_.agency() || !par_->isEnabled())
        return;
    const desk::AgencyPtr agency = session_.agency(); // kept: a reload may come while the form is open
    const std::vector<Choice> nurses = nurseChoices(agency->snapshot(), {});
    const std::vector<Choice> items = itemChoices(agency->snapshot(), {});
    if (nurses.empty() || items.empty()) {
        Ask::tell(this, tr("Set par"), tr("Enter a nurse and an item first."));
        return;
    }
    const CarRow *row = rows_->current();
    RecordForm form(tr("Set par"), this);
    form.addNote(
        tr("How much of the item the car should carry beside the parcels packed for homes. Nought takes "
           "the par away; what is in the car stays."));
    form.addChoice("nurse_id", tr("Whose car"), nurses, row ? row->line.nurse.value() : nurses.front().value);
    form.addChoice("item_id", tr("Item"), items, row ? row->line.item.value() : items.front().value);
    form.addNumber("par", tr("Par"),
                   row && row->line.par ? std::optional(row->line.par->count()) : std::nullopt, tr("eaches"));
    form.setSaveText(tr("Set par"));
    form.require({"par"});
    form.onSave(
        [&] {
            CarPar par;
            const NurseId nurse(form.choiceOf("nurse_id"));
            const ItemId item(form.choiceOf("item_id"));
            for (const CarPar &known : agency->snapshot().carPars)
                if (known.nurse == nurse && known.item == item)
                    par = known;
            par.nurse = nurse;
            par.item = item;
            par.par = Eaches::of(form.neededNumberOf("par"));
            return par;
        },
        [&](const CarPar &par) {
            return session_.write(tr("Set a par for a car"), [&](desk::Desk &d) { return d.save(par); });
        });
    form.exec();
}

} // namespace kitround::ui
