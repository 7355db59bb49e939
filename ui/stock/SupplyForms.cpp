#include "ui/stock/SupplyForms.h"

#include "core/desk/views/CarBoard.h"
#include "core/desk/views/RecallView.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/HomeCountStore.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/LineAtHome.h"

#include <QCheckBox>
#include <QLabel>
#include <QLineEdit>

#include <vector>

namespace kitround::ui {
namespace {

std::string unitField(const std::string &field) {
    return field + "_in";
}

// A state it is not in; nothing is proposed.
std::vector<Choice> otherStates(LotState now) {
    std::vector<Choice> others = choicesOf({LotState::Usable, LotState::Quarantined, LotState::Recalled},
                                           [](LotState s) { return desk::words(s); });
    std::erase_if(others, [now](const Choice &c) { return c.value == static_cast<qint64>(now); });
    return others;
}

// A recall is taken back by a word of its own, with what it touches in sight; Enter keeps it.
bool mayBecome(QWidget *window, const SnapshotIndex &agency, const Lot &lot, LotState state) {
    if (lot.state != LotState::Recalled)
        return true;
    const QString number = QString::fromStdString(lot.number);
    return Ask::confirm(
        window, QObject::tr("Take the recall of lot %1 back?").arg(number),
        QObject::tr("Lot %1 of %2 is recalled. %3 Homes that were told to set it aside are "
                    "to be told anew.")
            .arg(number, desk::itemName(agency, lot.item), desk::words(desk::lotPlaces(agency, lot.id))),
        QObject::tr("Make it: %1").arg(desk::words(state)), QObject::tr("Keep it recalled"));
}

} // namespace

void addQuantity(RecordForm &form, const std::string &field, const QString &label,
                 std::optional<std::int64_t> eaches, const Item &item) {
    QLineEdit *edit = form.addNumber(field, label, eaches, {});
    const std::int64_t perCase = item.casePack.eachesPerCase.count();
    if (perCase <= 1) {
        form.addChoice(unitField(field), QObject::tr("in"), {{QObject::tr("eaches"), 1}}, 1);
        return;
    }
    QComboBox *unit =
        form.addChoice(unitField(field), QObject::tr("in"),
                       {{QObject::tr("eaches"), 1}, {QObject::tr("cases of %1").arg(perCase), perCase}}, 1);
    auto *sum = new QLabel(&form);
    form.addWidget(field + "_sum", QObject::tr("that is"), sum);
    const auto show = [edit, unit, sum] {
        const auto typed = numberIn(edit->text());
        sum->setText(typed ? desk::counted(*typed * unit->currentData().toLongLong(), QObject::tr("%1 each"),
                                           QObject::tr("%1 eaches"))
                           : QObject::tr("nothing entered"));
    };
    QObject::connect(edit, &QLineEdit::textChanged, sum, show);
    QObject::connect(unit, &QComboBox::currentIndexChanged, sum, show);
    show();
}

std::optional<Eaches> quantityOf(RecordForm &form, const std::string &field) {
    const auto typed = form.numberOf(field);
    if (!typed)
        return std::nullopt;
    const PackSize pack{Eaches::of(form.choiceOf(unitField(field)))};
    return toEaches(Cases::of(*typed), pack);
}

bool countAtHome(QWidget *window, Session &session, CatheterId catheter, ItemId item) {
    const LineAtHome home = lineAtHome(session, catheter, item);
    if (!home.isOnRecord())
        return false;
    RecordForm form(QObject::tr("Record a count: %1").arg(home.who()), window);
    form.addNote(
        QObject::tr("%1. Count what is on the shelf, unopened. Opened or damaged pieces do not count.")
            .arg(home.itemName()));
    if (const QString past = desk::expiredText(home.agency->index(), catheter, item); !past.isEmpty())
        form.addNote(QObject::tr("By the record: %1. %2").arg(past, desk::countPastDateText()));
    addQuantity(form, "counted", QObject::tr("Counted"), std::nullopt, *home.item);
    form.addDate("at", QObject::tr("Day"), momentNow(session).date, session.today());
    form.addTime("at_time", QObject::tr("Time"), momentNow(session).minute);
    form.addChoice("source", QObject::tr("Who counted"),
                   choicesOf({EntrySource::Phone, EntrySource::Nurse, EntrySource::HomeLog},
                             [](EntrySource s) { return desk::words(s); }),
                   static_cast<qint64>(EntrySource::Phone));
    form.addLongText("note", QObject::tr("Note"), {});
    form.setSaveText(QObject::tr("Record the count"));
    form.require({"counted", "at"});
    std::string why;
    form.onSave(
        [&] {
            HomeCount count;
            count.catheter = catheter;
            count.item = item;
            count.at = {form.neededDateOf("at"), form.timeOf("at_time").value_or(momentNow(session).minute)};
            (void)form.neededNumberOf("counted");
            count.counted = quantityOf(form, "counted").value_or(Eaches{});
            count.source = static_cast<EntrySource>(form.choiceOf("source"));
            count.note = form.textOf("note");
            return count;
        },
        [&](const HomeCount &count) {
            return storeHomeCount(&form, session,
                                  QObject::tr("Recorded a count for %1").arg(desk::initials(*home.patient)),
                                  count, why);
        });
    return form.exec() == QDialog::Accepted;
}

bool cancelDelivery(QWidget *window, Session &session, const Delivery &delivery) {
    const Patient *patient = session.agency()->index().patient(delivery.patient);
    const QString who = patient ? desk::personName(*patient) : QString();
    const QString title = QObject::tr("Cancel the delivery to %1").arg(who);
    using desk::CameBack;
    std::vector<CameBack> places{CameBack::ToQuarantine, CameBack::NeverLeft, CameBack::Lost};
    if (supply::carHolding(delivery))
        places.push_back(CameBack::InCar);
    CameBack where = CameBack::NeverLeft;
    if (supply::hasLeftStoreroom(delivery)) {
        QStringList said;
        for (const CameBack place : places)
            said << desk::words(place);
        const auto chosen = Ask::choose(
            window, title,
            QObject::tr(
                "The parcel had left the storeroom. Where is it now? What was outside in heat or frost, "
                "or was opened, is not given to another home."),
            said);
        if (!chosen)
            return false;
        where = places.at(static_cast<std::size_t>(*chosen));
    }
    const auto why = Ask::line(window, title,
                               where == CameBack::NeverLeft
                                   ? QObject::tr("Why? What was picked goes back to where it came from.")
                                   : QObject::tr("Why? %1.").arg(desk::words(where)));
    return why && session.writeOrTell(
                      window, QObject::tr("Cancelled a delivery to %1").arg(who), [&](desk::Desk &d) {
                          return d.cancelDelivery(delivery.id, why->trimmed().toStdString(), where);
                      });
}

bool changeLotState(QWidget *window, Session &session, LotId lotId) {
    const desk::AgencyPtr agency = session.agency();
    const Lot *lot = agency->index().lot(lotId);
    if (!lot)
        return false;
    const QString number = QString::fromStdString(lot->number);
    const QString where = desk::words(desk::lotPlaces(agency->index(), lotId));
    RecordForm form(
        QObject::tr("Lot %1 of %2").arg(number, desk::itemName(session.agency()->index(), lot->item)),
        window);
    form.addNote(
        QObject::tr("Set aside or recalled: what is in the storeroom goes to quarantine, packed parcels with "
                    "it are opened and promised again. What nurses' cars carry stays there, not to be used, "
                    "until it is recorded as taken out; homes are not touched. Call both from the list of "
                    "where the lot went. Making it usable again brings back what was held."));
    form.addNote(lot->stateReason.empty()
                     ? QObject::tr("Now: %1. %2").arg(desk::words(lot->state), where)
                     : QObject::tr("Now: %1 (%2). %3")
                           .arg(desk::words(lot->state), QString::fromStdString(lot->stateReason), where));
    QComboBox *state = form.addChoice("state", QObject::tr("Make it"), otherStates(lot->state), -1);
    state->setPlaceholderText(QObject::tr("choose what it becomes"));
    form.addText("state_reason", QObject::tr("Reason, notice or who decided"), {});
    form.require({"state", "state_reason"});
    form.setSaveText(QObject::tr("Change the lot"));
    struct Change {
        LotState state = LotState::Usable;
        std::string why;
    };
    form.onSave(
        [&] {
            return Change{static_cast<LotState>(form.neededChoiceOf("state")), form.textOf("state_reason")};
        },
        [&](const Change &change) -> std::optional<Problem> {
            if (!change.why.empty() && !mayBecome(&form, agency->index(), *lot, change.state))
                return Problem{ProblemCode::Cancelled, "state"};
            return session.write(
                QObject::tr("Lot %1 is now: %2").arg(number, desk::words(change.state)),
                [&](desk::Desk &d) { return d.setLotState(lotId, change.state, change.why); });
        });
    return form.exec() == QDialog::Accepted;
}

bool topUpCar(QWidget *window, Session &session, ItemId itemId) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const SnapshotIndex &index = agency->index();
    const Item *item = index.item(itemId);
    std::vector<Choice> nurses;
    for (const Nurse &nurse : agency->snapshot().nurses)
        if (nurse.isActive)
            nurses.push_back({QObject::tr("%1 (has %2)")
                                  .arg(desk::personName(nurse))
                                  .arg(index.balance(Place::car(nurse.id), itemId).count()),
                              nurse.id.value()});
    if (!item || nurses.empty()) {
        Ask::tell(window, QObject::tr("Top up a car"), QObject::tr("There is no nurse in service yet."));
        return false;
    }
    RecordForm form(QObject::tr("Top up a car: %1").arg(QString::fromStdString(item->name)), window);
    form.addNote(
        QObject::tr("Taken from the storeroom, first expiring first. Car stock counts in every total and in "
                    "every recall."));
    form.addChoice("nurse_id", QObject::tr("Whose car"), nurses, nurses.front().value);
    addQuantity(form, "quantity", QObject::tr("Put into the car"), std::nullopt, *item);
    form.setSaveText(QObject::tr("Put into the car"));
    struct TopUp {
        NurseId nurse;
        Eaches quantity;
    };
    form.require({"quantity"});
    form.onSave(
        [&] {
            (void)form.neededNumberOf("quantity");
            return TopUp{NurseId(form.choiceOf("nurse_id")), quantityOf(form, "quantity").value_or(Eaches{})};
        },
        [&](const TopUp &t) {
            return session.write(
                QObject::tr("Topped up a car with %1").arg(QString::fromStdString(item->name)),
                [&](desk::Desk &d) { return d.topUpCar(t.nurse, itemId, t.quantity); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
