// A supplier, and what it offers: price, pack and terms of one item.
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "ui/catalogue/CatalogueForms.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QLineEdit>

#include <map>

namespace kitround::ui {
namespace {

ListEditor *makeBreaks(const SupplierItem &offer, QWidget *parent) {
    auto *editor = new ListEditor(QObject::tr("Add a price break"),
                                  {{.name = QObject::tr("From cases"), .width = 100},
                                   {.name = QObject::tr("Price a case"), .width = 110}},
                                  parent);
    for (const PriceBreak &b : offer.breaks)
        editor->addRow({QString::number(b.from.count()), moneyEditText(b.perCase)});
    return editor;
}

std::vector<PriceBreak> readBreaks(RecordForm &form, const ListEditor &editor) {
    std::vector<PriceBreak> breaks;
    for (int i = 0; i < editor.rowCount(); ++i)
        breaks.push_back({Cases::of(readNeededListedNumber(form, "breaks", editor, {i, 0})),
                          readListedMoney(form, "breaks", editor, {i, 1})});
    return breaks;
}

// Most suppliers sell the case that stands on the shelf; another size is typed over it.
void takeCaseSize(const QComboBox &item, QLineEdit &size, const Snapshot &agency) {
    std::map<qint64, QString> sizes; // the agency may be reloaded under the open form
    for (const Item &i : agency.items)
        sizes[i.id.value()] = QString::number(i.casePack.eachesPerCase.count());
    QObject::connect(&item, &QComboBox::currentIndexChanged, &size, [&item, &size, sizes] {
        if (const auto found = sizes.find(item.currentData().toLongLong()); found != sizes.end())
            size.setText(found->second);
    });
}

// What it was stored with is not asked about again.
bool isOfferMeant(RecordForm &form, const desk::Agency &agency, const SupplierItem &before,
                  const SupplierItem &after) {
    const bool isChanged = !before.id.isSet() || before.item != after.item || before.pack != after.pack ||
                           before.perCase != after.perCase;
    const QStringList doubts = isChanged ? desk::offerDoubts(after, agency.index()) : QStringList();
    return doubts.isEmpty() ||
           Ask::confirm(&form, QObject::tr("Is the offer right?"), doubts.join(QLatin1Char('\n')),
                        QObject::tr("It is right: save"), QObject::tr("Go back"));
}

void addOfferFields(RecordForm &form, const desk::Agency &agency, const SupplierItem &offer) {
    const Snapshot &snapshot = agency.snapshot();
    std::vector<Choice> suppliers;
    for (const Supplier &s : snapshot.suppliers)
        suppliers.push_back({QString::fromStdString(s.name), s.id.value()});
    form.addChoice("supplier_id", QObject::tr("Supplier"), suppliers, offer.supplier.value());
    const bool isStored = offer.id.isSet(); // nothing is made up for a new one: Enter must not store it
    QComboBox *item =
        form.addChoice("item_id", QObject::tr("Item"), itemChoices(snapshot, {}), offer.item.value());
    form.addText("supplier_code", QObject::tr("Supplier's reference"), offer.supplierCode);
    QLineEdit *size = form.addNumber(
        "eaches_per_case", QObject::tr("In a case"),
        isStored ? std::optional(offer.pack.eachesPerCase.count()) : std::nullopt, QObject::tr("pieces"));
    if (!isStored)
        takeCaseSize(*item, *size, snapshot);
    form.addText("price_minor",
                 QObject::tr("Price a case, %1").arg(QString::fromStdString(agency.settings().currency)),
                 isStored ? moneyEditText(offer.perCase).toStdString() : std::string());
    form.addNumber("least_line_cases", QObject::tr("Smallest line"), offer.leastLine.count(),
                   QObject::tr("cases"));
    form.addCheck("is_preferred", QObject::tr("The usual source of this item"), offer.isPreferred);
    form.addDate("backordered_until", QObject::tr("Backordered until"), offer.backorderedUntil,
                 agency.today());
    form.addCheck("is_discontinued", QObject::tr("No longer sold"), offer.isDiscontinued);
}

} // namespace

bool editSupplier(QWidget *window, Session &session, Supplier supplier) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(supplier.id.isSet()
                        ? QObject::tr("Supplier: %1").arg(QString::fromStdString(supplier.name))
                        : QObject::tr("New supplier"),
                    window);
    form.addText("code", QObject::tr("Reference"), supplier.code);
    form.addText("name", QObject::tr("Name"), supplier.name);
    form.addText("contact", QObject::tr("Contact"), supplier.contact);
    form.addNumber("promised_lead_days", QObject::tr("Lead time"), supplier.promisedLead.count(),
                   QObject::tr("days"));
    form.addNumber("promised_lead_spread_days", QObject::tr("Give or take"),
                   supplier.promisedLeadSpread.count(), QObject::tr("days"));
    form.addNote(
        QObject::tr("Promised figures: they count until enough receipts show how long it really takes."));
    form.addWeekdays("order_days", QObject::tr("Takes orders on"), supplier.orderDays);
    form.addTime("cut_off", QObject::tr("Order by"), supplier.cutOff);
    form.addText("least_order_minor",
                 QObject::tr("Smallest order, %1").arg(QString::fromStdString(agency->settings().currency)),
                 moneyEditText(supplier.leastOrder).toStdString());
    form.addText("closed_on", QObject::tr("Closed on"), datesText(supplier.closedOn))
        ->setPlaceholderText(QObject::tr("YYYY-MM-DD, YYYY-MM-DD"));
    form.addCheck("is_active", QObject::tr("Still ordered from"), supplier.isActive);
    form.require({"code", "name", "promised_lead_days", "promised_lead_spread_days", "order_days", "cut_off",
                  "least_order_minor"});
    form.onSave(
        [&] {
            Supplier r = supplier;
            r.code = form.textOf("code");
            r.name = form.textOf("name");
            r.contact = form.textOf("contact");
            r.promisedLead = Days::of(form.neededNumberOf("promised_lead_days"));
            r.promisedLeadSpread = Days::of(form.neededNumberOf("promised_lead_spread_days"));
            r.orderDays = form.weekdaysOf("order_days");
            const auto cutOff = form.timeOf("cut_off");
            if (form.textOf("cut_off").empty())
                form.addReadFault({ProblemCode::Missing, "cut_off"});
            r.cutOff = cutOff.value_or(supplier.cutOff);
            r.leastOrder = readMoney(form, "least_order_minor");
            r.closedOn = readDates(form, "closed_on");
            r.isActive = form.checkOf("is_active");
            return r;
        },
        [&](const Supplier &record) {
            return session.write(QObject::tr("Saved a supplier"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

bool editOffer(QWidget *window, Session &session, SupplierItem offer) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(offer.id.isSet() ? QObject::tr("Offer") : QObject::tr("New offer"), window);
    addOfferFields(form, *agency, offer);
    auto *breaks = makeBreaks(offer, &form);
    form.addWidget("breaks", QObject::tr("Cheaper in number"), breaks);
    form.require({"supplier_id", "item_id", "eaches_per_case", "price_minor", "least_line_cases"});
    form.onSave(
        [&] {
            SupplierItem r = offer;
            r.supplier = SupplierId(form.choiceOf("supplier_id"));
            r.item = ItemId(form.choiceOf("item_id"));
            r.supplierCode = form.textOf("supplier_code");
            r.pack.eachesPerCase = Eaches::of(form.neededNumberOf("eaches_per_case"));
            r.perCase = readMoney(form, "price_minor");
            r.leastLine = Cases::of(form.neededNumberOf("least_line_cases"));
            r.isPreferred = form.checkOf("is_preferred");
            r.backorderedUntil = form.dateOf("backordered_until");
            r.isDiscontinued = form.checkOf("is_discontinued");
            r.breaks = readBreaks(form, *breaks);
            return r;
        },
        [&](const SupplierItem &record) -> std::optional<Problem> {
            if (!isOfferMeant(form, *agency, offer, record))
                return Problem{ProblemCode::Cancelled, "price_minor", {}};
            const auto problem =
                session.write(QObject::tr("Saved an offer"), [&](desk::Desk &d) { return d.save(record); });
            return problem
                       ? std::optional(atField(*problem, {"break_from_cases", "break_price_minor"}, "breaks"))
                       : std::nullopt;
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
