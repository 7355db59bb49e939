#include "ui/reorders/BoardColumns.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Session.h"

namespace kitround::ui {
namespace {

using desk::ShortageRow;
using desk::SupplierRow;

RowsColumn<ShortageRow> eaches(const QString &head, Eaches ShortageRow::*value, const QString &tip) {
    return {.head = head,
            .text = [value](const ShortageRow &r) { return desk::numberText((r.*value).count()); },
            .sortBy = [value](const ShortageRow &r) { return QVariant(qlonglong((r.*value).count())); },
            .isNumber = true,
            .headTip = tip};
}

RowsColumn<SupplierRow> share(const QString &head, std::optional<double> SupplierRow::*value,
                              const QString &tip) {
    return {.head = head,
            .text =
                [value](const SupplierRow &r) {
                    return r.*value ? QObject::tr("%1 %").arg(*(r.*value) * 100, 0, 'f', 0)
                                    : QObject::tr("not known");
                },
            .sortBy = [value](const SupplierRow &r) { return QVariant((r.*value).value_or(-1)); },
            .isNumber = true,
            .headTip = tip};
}

RowsColumn<SupplierRow> money(const QString &head, Money SupplierRow::*value, Session &session,
                              const QString &tip) {
    return {.head = head,
            .text =
                [value, &session](const SupplierRow &r) {
                    return desk::moneyText(r.*value, session.agency()->settings().currency);
                },
            .sortBy = [value](const SupplierRow &r) { return QVariant(qlonglong((r.*value).count())); },
            .isNumber = true,
            .headTip = tip};
}

} // namespace

std::vector<RowsColumn<ShortageRow>> shortageColumns() {
    const auto tr = [](const char *text) { return QObject::tr(text); };
    return {
        {.head = tr("At risk"),
         .text =
             [](const ShortageRow &r) {
                 return r.atRisk ? desk::dayText(*r.atRisk) : QObject::tr("not known");
             },
         .sortBy =
             [](const ShortageRow &r) {
                 return QVariant(r.atRisk ? qlonglong(r.atRisk->dayNumber()) : qlonglong(1) << 40);
             },
         .ink =
             [](const ShortageRow &r) {
                 return r.step == supply::ShortageStep::Ask ? std::optional(Role::Act) : std::nullopt;
             },
         .headTip = tr("The chance to be dry by this day is 1 in 10")},
        {.head = tr("Patient"), .text = [](const ShortageRow &r) { return r.who; }},
        {.head = tr("Item"), .text = [](const ShortageRow &r) { return r.item; }},
        {.head = tr("Supply"),
         .text = [](const ShortageRow &r) { return r.supply; },
         .tip = [](const ShortageRow &r) { return r.supply; }},
        eaches(tr("Has"), &ShortageRow::onHand, tr("At home, under way and promised")),
        eaches(tr("Needs"), &ShortageRow::wanted, tr("More, to the next supply; enough 9 times in 10")),
        {.head = tr("What to do"),
         .text = [](const ShortageRow &r) { return r.action; },
         .tip = [](const ShortageRow &r) { return r.action; }},
        {.head = tr("Who"), .text = [](const ShortageRow &r) { return r.owner; }},
        {.head = tr("Done about it"),
         .text = [](const ShortageRow &r) { return r.standing; },
         .tip = [](const ShortageRow &r) { return r.standing; }},
    };
}

std::vector<RowsColumn<SupplierRow>> supplierColumns(Session &session) {
    const auto tr = [](const char *text) { return QObject::tr(text); };
    return {
        {.head = tr("Supplier"), .text = [](const SupplierRow &r) { return r.name; }},
        {.head = tr("Orders"),
         .text = [](const SupplierRow &r) { return QString::number(r.orders); },
         .sortBy = [](const SupplierRow &r) { return QVariant(qlonglong(r.orders)); },
         .isNumber = true,
         .headTip = tr("Orders with a receipt")},
        {.head = tr("Lead time, seen"),
         .text = [](const SupplierRow &r) { return r.lead; },
         .sortBy = [](const SupplierRow &r) { return QVariant(r.leadMean); },
         .headTip = tr("From sending the order to the first receipt of a line; mean and one standard "
                       "deviation")},
        {.head = tr("Promised"), .text = [](const SupplierRow &r) { return r.promised; }},
        share(tr("Filled at once"), &SupplierRow::fillRate,
              tr("Share of the eaches ordered that came in the order's first receipt")),
        share(tr("Complete in time"), &SupplierRow::onTime, tr("Orders complete by the day expected")),
        money(tr("Paid"), &SupplierRow::paid, session, tr("All lines of these orders")),
        money(tr("Over today's list"), &SupplierRow::overList, session,
              tr("Paid less the same at today's list prices, price breaks counted")),
    };
}

} // namespace kitround::ui
