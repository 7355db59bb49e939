#pragma once
// The clerk's forms: counts, the refill call, a hand-over with its proof, lots and cars. Each gives true when
// something was stored.
#include "core/desk/views/RefillWhatIf.h"
#include "core/desk/views/StartUpView.h"

#include <optional>
#include <string>

class QWidget;

namespace kitround::ui {

class RecordForm;
class Session;

// A quantity typed in eaches or in whole cases: the field, its unit, and what it comes to. With one each a
// case there is no choice.
void addQuantity(RecordForm &form, const std::string &field, const QString &label,
                 std::optional<std::int64_t> eaches, const Item &item);
// Problems of the number are kept by the form; nothing for an empty field.
std::optional<Eaches> quantityOf(RecordForm &form, const std::string &field);

bool countAtHome(QWidget *window, Session &session, CatheterId catheter, ItemId item);

enum class CallOutcome : unsigned char { Nothing, Stored, CountedFirst };
// What was said already when the counts are stored first: it stands in the form again.
struct CallEntries {
    int answer = -1; // its place among the choices; none chosen
    std::string answeredBy, reasonForNeed, note;
};
// The phone script of one proposal. CountedFirst: only the counts were stored, and the proposal is to be
// worked out again before the question is put; `entries` then has what was said, and what stands there is
// entered when the form opens. `tried`: opens with that line and day instead; what is more
// than was offered is still measured against the proposal.
CallOutcome refillCall(QWidget *window, Session &session, const supply::RefillProposal &proposal,
                       const std::optional<desk::TriedRefill> &tried = std::nullopt,
                       std::optional<CallEntries> *entries = nullptr);

// Another lot was taken than pick() chose: line by line, by number or by scan.
bool correctLots(QWidget *window, Session &session, const Delivery &delivery);
// The delivery is cancelled, with the reason; of a parcel that has left the storeroom it is asked where it
// is.
bool cancelDelivery(QWidget *window, Session &session, const Delivery &delivery);
bool recordHandOver(QWidget *window, Session &session, Delivery delivery);
// What of a delivered parcel came good, damaged or not at all, put right.
bool correctArrival(QWidget *window, Session &session, Delivery delivery);
bool changeLotState(QWidget *window, Session &session, LotId lot);
// Writing off, giving back to a supplier, or back from a car: how many, why, and to whom.
bool takeStockOut(QWidget *window, Session &session, desk::StockRemoval removal);
// The first delivery of a new catheter: who agreed, what goes and when.
bool promiseStartUp(QWidget *window, Session &session, supply::StartUp start);
bool topUpCar(QWidget *window, Session &session, ItemId item);

} // namespace kitround::ui
