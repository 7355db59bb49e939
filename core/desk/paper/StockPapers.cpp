#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/BudgetView.h"
#include "core/desk/views/ReorderEdits.h"
#include "core/desk/words/PhoneScript.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/supply/Packing.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

std::string inHomeText(const HomeRow &row) {
    const QString there = QString::number(row.onHand.count());
    return (row.expired.isZero()
                ? there
                : Text::tr("%1, past its day %2").arg(there, numberText(row.expired.count())))
        .toStdString();
}

using namespace parts;

QStringList orderContact(const AgencySettings &settings) {
    QStringList lines;
    if (!settings.orderContact.empty())
        lines << Text::tr("Name: %1").arg(fromStd(settings.orderContact));
    if (!settings.phone.empty())
        lines << Text::tr("Phone: %1").arg(fromStd(settings.phone));
    return lines;
}

// A bare number is said to be one to ring.
QString supplierContact(const std::string &contact) {
    const QString text = fromStd(contact);
    return std::ranges::any_of(text, [](QChar c) { return c.isLetter(); })
               ? text
               : Text::tr("Phone of the supplier: %1").arg(text);
}

struct PickLine {
    const Delivery *delivery = nullptr;
    const DeliveryLine *line = nullptr;
    std::vector<supply::Pick> picks;
    Eaches missing;
};

supply::Pick packedAs(const SnapshotIndex &index, const DeliveryLine &line, Date arrives) {
    const Lot *lot = line.lot ? index.lot(*line.lot) : nullptr;
    const Item *item = index.item(line.item);
    const bool isShort = lot && supply::isShortDated(*lot, arrives, item ? item->leastLifeToHome : Days());
    return {line.lot.value_or(LotId{}), line.quantity, isShort};
}

// As the parcels will be packed if they are packed in this order, so that no lot is given twice.
std::vector<PickLine> pickLines(const StockPicture &stock) {
    const SnapshotIndex &index = stock.agency->index();
    const Date today = stock.agency->today();
    supply::Shelf shelf(index, Place::storeroom());
    std::vector<PickLine> lines;
    for (const Delivery *delivery : supply::parcelsToPack(stock.agency->snapshot())) {
        const std::size_t first = lines.size();
        for (const DeliveryLine &line : delivery->lines)
            lines.push_back({delivery, &line, {}, {}});
        if (delivery->status == DeliveryStatus::Picked) {
            for (std::size_t i = first; i < lines.size(); ++i)
                lines[i].picks = {packedAs(index, *lines[i].line, supply::arrivalOf(*delivery, today))};
            continue;
        }
        const supply::PackedParcel parcel = supply::packParcel(shelf, *delivery, today);
        for (const supply::PackedLine &line : parcel.lines)
            lines[first + line.line].picks.push_back(line.pick);
        for (std::size_t i = 0; i < parcel.missing.size(); ++i)
            lines[first + i].missing = parcel.missing[i];
    }
    return lines;
}

std::string lotText(const Agency &agency, const supply::Pick &pick) {
    const Lot *lot = agency.index().lot(pick.lot);
    QString text = lot ? fromStd(lot->number) : Text::tr("lot unknown");
    if (lot && lot->expiresOn)
        text +=
            QStringLiteral(", ") +
            Text::tr("expires %1 %2").arg(dayText(*lot->expiresOn), QString::number(lot->expiresOn->year()));
    if (pick.isShortDated)
        text += QStringLiteral(", ") + Text::tr("short-dated");
    return text.toStdString();
}

std::string dayCell(const std::optional<Date> &date) {
    return date ? dayText(*date).toStdString() : std::string();
}

} // namespace

Paper pickList(const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    Paper paper = blankPaper(agency, Text::tr("Pick list"), dayText(agency.today(), agency.today()), true);
    const auto lines = pickLines(stock);
    std::map<Date, Table> byDay;
    for (const PickLine &l : lines) {
        auto [at, isNew] = byDay.try_emplace(l.delivery->promisedFor);
        Table &made = at->second;
        if (isNew)
            made = table({column(Text::tr("Who")), column(Text::tr("By")), column(Text::tr("Item")),
                          column(Text::tr("Pick"), Align::Right), column(Text::tr("Lot")),
                          column(Text::tr("Picked"))});
        const auto row = [&](std::string quantity, std::string lot) {
            made.rows.push_back(
                {patientMark(agency, l.delivery->patient).toStdString(), words(l.delivery->way).toStdString(),
                 itemName(agency.index(), l.line->item).toStdString(), std::move(quantity), std::move(lot),
                 l.delivery->status == DeliveryStatus::Picked ? Text::tr("picked already").toStdString()
                                                              : std::string()});
        };
        for (const supply::Pick &pick : l.picks)
            row(std::to_string(pick.quantity.count()), lotText(agency, pick));
        if (l.missing.count() > 0)
            row(std::to_string(l.missing.count()), Text::tr("MISSING: not on the shelf").toStdString());
    }
    for (auto &[day, made] : byDay)
        add(paper, Text::tr("For %1").arg(dayText(day)), std::move(made));
    if (byDay.empty())
        addLines(paper, {}, {Text::tr("Nothing is promised.")});
    addLines(paper, {},
             {Text::tr("Write down the lot that was taken where it differs, and enter it before the parcel "
                       "leaves: Deliveries, Lot taken was another."),
              Text::tr("Do not send torn, expired or recalled packs.")});
    return paper;
}

Paper refillCallList(const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    Paper paper = blankPaper(agency, Text::tr("Refill calls"), dayText(agency.today()), true);
    Table made = table({column(Text::tr("When")), column(Text::tr("Call by")), column(Text::tr("Who")),
                        column(Text::tr("Phone")), column(Text::tr("Should be there")),
                        column(Text::tr("To offer")), column(Text::tr("Deliver")),
                        column(Text::tr("Counted")), column(Text::tr("Yes or no, who said so"))});
    for (const supply::RefillProposal &p : stock.refills) {
        const Patient *patient = agency.index().patient(p.patient);
        QStringList there, offer;
        for (const supply::RefillLine &line : p.lines) {
            there << (p.stockIsUnknown ? Text::tr("unknown, ask for a count")
                                       : QStringLiteral("%1 × %2").arg(
                                             numberText(std::max<std::int64_t>(0, line.onHand.count())),
                                             itemName(agency.index(), line.item)));
            offer << QStringLiteral("%1 × %2").arg(numberText(line.quantity.count()),
                                                   itemName(agency.index(), line.item));
        }
        there.removeDuplicates();
        if (const QString recall = recalledText(agency.index(), p.patient); !recall.isEmpty())
            there << Text::tr("%1: set aside, do not use").arg(recall);
        if (const QString past = expiredText(agency.index(), p.patient); !past.isEmpty())
            there << Text::tr("%1: do not use").arg(past);
        made.rows.push_back({words(p.urgency).toStdString(),
                             dayCell(p.callBy),
                             nameWithCode(agency.index(), p.patient).toStdString(),
                             patient ? patient->phone : std::string(),
                             there.join(QStringLiteral("; ")).toStdString(),
                             offer.join(QStringLiteral("; ")).toStdString(),
                             QStringLiteral("%1, %2").arg(dayText(p.deliverOn), words(p.way)).toStdString(),
                             {},
                             {}});
    }
    add(paper, {}, std::move(made));
    addLines(paper, {}, {Text::tr("Nothing is sent without a yes from the home."), planningCaution()});
    QStringList script;
    int number = 0;
    for (const ScriptStep &step : phoneScript(agency.settings())) {
        script << QStringLiteral("%1. “%2”").arg(++number).arg(step.say);
        if (!step.note.isEmpty())
            script << QStringLiteral("    ") + step.note;
    }
    addLines(paper, Text::tr("What to say and ask"), script);
    paper.sections.back().startsPage = true;
    return paper;
}

Paper reorderPaper(const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    Paper paper = blankPaper(agency, Text::tr("Orders to place"), dayText(agency.today()), true);
    for (const supply::SupplierReorder &order : stock.reorders) {
        const Supplier *supplier = agency.index().supplier(order.supplier);
        Table made = table({column(Text::tr("Item")), column(Text::tr("Cases"), Align::Right),
                            column(Text::tr("Total"), Align::Right), column(Text::tr("Arrives")),
                            column(Text::tr("Why"))});
        for (const supply::ReorderLine &line : order.lines)
            made.rows.push_back({itemName(agency.index(), line.item).toStdString(),
                                 std::to_string(line.cases.count()),
                                 moneyText(line.lineTotal, agency.settings().currency).toStdString(),
                                 dayCell(line.expectedOn), reason(line, agency.index()).toStdString()});
        made.notes.push_back(
            Text::tr("Order on %1; total %2.")
                .arg(dayText(order.orderOn), moneyText(order.total, agency.settings().currency))
                .toStdString());
        if (!order.meetsMinimum)
            made.notes.push_back(Text::tr("Below the supplier's minimum of %1.")
                                     .arg(moneyText(order.leastOrder, agency.settings().currency))
                                     .toStdString());
        add(paper, supplier ? fromStd(supplier->name) : Text::tr("Offered by nobody: enter an offer"),
            std::move(made));
    }
    if (stock.reorders.empty())
        addLines(paper, {}, {nothingToOrderText(*stock.agency)});
    Money proposed;
    for (const supply::SupplierReorder &order : stock.reorders)
        proposed += order.total;
    QStringList foot{planningCaution()};
    if (const QString budget = budgetText(agency, proposed); !budget.isEmpty())
        foot.prepend(budget);
    addLines(paper, {}, foot);
    return paper;
}

Paper purchaseOrderPaper(const Agency &agency, const PurchaseOrder &order) {
    const Supplier *supplier = agency.index().supplier(order.supplier);
    Paper paper = blankPaper(agency, Text::tr("Purchase order %1").arg(fromStd(order.number)),
                             supplier ? fromStd(supplier->name) : Text::tr("supplier not known"), false);
    QStringList head;
    // Nobody shall take for an order what was not sent as one, or no longer is one.
    if (order.status == PurchaseStatus::Draft)
        head << Text::tr("Draft, not sent");
    if (order.status == PurchaseStatus::Cancelled)
        head << Text::tr("Cancelled");
    if (supplier && !supplier->contact.empty())
        head << supplierContact(supplier->contact);
    head << Text::tr("Deliver to: %1, %2")
                .arg(fromStd(agency.settings().agencyName), addressWithPostcode(agency.settings().storeroom));
    if (order.orderedOn)
        head << Text::tr("Ordered on %1 %2")
                    .arg(dayText(*order.orderedOn), QString::number(order.orderedOn->year()));
    if (order.expectedOn)
        head << Text::tr("Wanted by %1 %2")
                    .arg(dayText(*order.expectedOn), QString::number(order.expectedOn->year()));
    addLines(paper, {}, head);
    Table made =
        table({column(Text::tr("Your code")), column(Text::tr("Item")),
               column(Text::tr("Cases"), Align::Right), column(Text::tr("Eaches a case"), Align::Right),
               column(Text::tr("A case"), Align::Right), column(Text::tr("Total"), Align::Right)});
    Money total;
    for (const PurchaseLine &line : order.lines) {
        const auto &offers = agency.snapshot().supplierItems;
        const auto offer = std::ranges::find_if(offers, [&](const SupplierItem &o) {
            return o.supplier == order.supplier && o.item == line.item;
        });
        const Money sum = line.perCase * line.cases.count();
        total += sum;
        made.rows.push_back({offer == offers.end() ? std::string() : offer->supplierCode,
                             itemName(agency.index(), line.item).toStdString(),
                             std::to_string(line.cases.count()),
                             std::to_string(line.pack.eachesPerCase.count()),
                             moneyText(line.perCase, agency.settings().currency).toStdString(),
                             moneyText(sum, agency.settings().currency).toStdString()});
    }
    add(paper, {}, std::move(made));
    addLines(paper, {}, {Text::tr("Total %1").arg(moneyText(total, agency.settings().currency))});
    if (const QStringList contact = orderContact(agency.settings()); !contact.isEmpty())
        addLines(paper, Text::tr("Our contact for this order"), contact);
    return paper;
}

Paper forecastPaper(const StockPicture &stock) {
    const Agency &agency = *stock.agency;
    Paper paper = blankPaper(agency, Text::tr("Stock in the homes"),
                             Text::tr("Riskiest first, %1").arg(dayText(agency.today())), true);
    Table made = table({column(Text::tr("Who")), column(Text::tr("Catheter")), column(Text::tr("Item")),
                        column(Text::tr("In the home"), Align::Right), column(Text::tr("Stock is")),
                        column(Text::tr("Run out, 1 in 10")), column(Text::tr("Run out, middle")),
                        column(Text::tr("Dry in 7 days")), column(Text::tr("Refill by")),
                        column(Text::tr("Promised"))});
    for (const HomeRow &row : homeRows(stock)) {
        const bool isUnknown = row.knowledge == forecast::StockKnowledge::Unknown;
        made.rows.push_back(
            {patientMark(agency, row.patient).toStdString(), row.place.toStdString(),
             row.itemName.toStdString(), isUnknown ? std::string() : inHomeText(row),
             words(row.knowledge).toStdString(), isUnknown ? std::string() : dayCell(row.runOutP10),
             isUnknown ? std::string() : dayCell(row.runOutP50),
             row.isOnHold ? Text::tr("on hold").toStdString()
             : isUnknown  ? Text::tr("unknown").toStdString()
                          : chanceText(row.chanceDry7).toStdString(),
             dayCell(row.refillBy), row.promised.isEmpty() ? std::string() : Text::tr("yes").toStdString()});
    }
    add(paper, {}, std::move(made));
    addLines(paper, {}, {planningCaution()});
    return paper;
}

} // namespace kitround::desk
