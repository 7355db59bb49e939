// The way back from an exit that was entered by mistake. What it changed stands in the record of changes;
// what nobody has touched since becomes as it was, and the rest is told.
#include "core/desk/tasks/DeskInner.h"

#include <QByteArray>
#include <QJsonDocument>
#include <QJsonObject>

#include <optional>

namespace kitround::desk {
namespace {

QJsonObject recordBefore(const AuditEntry &entry) {
    return QJsonDocument::fromJson(QByteArray::fromStdString(entry.before)).object();
}
QJsonObject recordAfter(const AuditEntry &entry) {
    return QJsonDocument::fromJson(QByteArray::fromStdString(entry.after)).object();
}
std::string textIn(const QJsonObject &record, const char *column) {
    return record.value(QLatin1String(column)).toString().toStdString();
}
std::optional<Date> dayIn(const QJsonObject &record, const char *column) {
    return Date::fromIso(textIn(record, column));
}
std::optional<CareStatus> onServiceIn(const QJsonObject &record) {
    const std::string status = textIn(record, "status");
    if (status == "referred")
        return CareStatus::Referred;
    if (status == "active")
        return CareStatus::Active;
    return std::nullopt;
}

class ExitUndo {
public:
    ExitUndo(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency, const Patient &patient)
        : unit_(unit), file_(file), index_(agency.index()), patient_(patient) {}

    Result<ExitUndone> run(const std::string &why) {
        if (Result<void> done = findExit(); !done)
            return done.error();
        if (Result<void> done = bringBack(why); !done)
            return done.error();
        for (auto step : {&ExitUndo::reopenDrainOrders, &ExitUndo::reopenVisitOrders, &ExitUndo::reopenHolds,
                          &ExitUndo::reopenCalls, &ExitUndo::tellVisits, &ExitUndo::tellDeliveries})
            if (Result<void> done = (this->*step)(); !done)
                return done.error();
        return undone_;
    }

private:
    // The newest change of the patient that led from service out of it.
    Result<void> findExit() {
        store::AuditQuery query;
        query.table = "patient";
        query.record = patient_.id.value();
        const auto entries = file_.audit(query);
        if (!entries)
            return entries.error();
        std::optional<std::int64_t> end; // of the next exit further back
        for (const AuditEntry &entry : *entries) {
            if (textIn(recordAfter(entry), "what") == kExitEnds)
                end = entry.number;
            const auto before = onServiceIn(recordBefore(entry));
            if (!before || recordAfter(entry).isEmpty() || onServiceIn(recordAfter(entry)))
                continue;
            exit_ = entry;
            exitEnd_ = end;
            status_ = *before;
            return {};
        }
        return problem(ProblemCode::NotAllowed, "status", {"exit_not_on_record"});
    }

    // One transaction's changes have numbers without a gap. An exit of before its end was noted is known by
    // its second and user alone.
    bool isOfTheExit(const AuditEntry &entry) const {
        if (exitEnd_)
            return entry.number > exit_.number && entry.number < *exitEnd_;
        return entry.number > exit_.number && entry.at == exit_.at && entry.user == exit_.user;
    }
    // The record as it was, where the exit was the last to change it.
    Result<std::optional<QJsonObject>> lastChangedByExit(const char *table, std::int64_t record) const {
        const auto newest = file_.audit(1, table, record);
        if (!newest)
            return newest.error();
        if (newest->empty() || !isOfTheExit(newest->front()))
            return std::optional<QJsonObject>();
        return std::optional<QJsonObject>(recordBefore(newest->front()));
    }

    Result<void> bringBack(const std::string &why) {
        Patient back = patient_;
        back.status = status_;
        back.exitedAt.reset();
        back.exitReason.clear();
        if (Result<Patient> saved = unit_.save(back); !saved)
            return saved.error();
        return unit_.note(AuditAction::Update, "patient", patient_.id.value(),
                          "left service by mistake: " + why);
    }

    template <class Order>
    Result<void> reopen(const char *table, const Order &order) {
        const auto before = lastChangedByExit(table, order.id.value());
        if (!before)
            return before.error();
        if (!*before)
            return {};
        Order open = order;
        open.end = dayIn(**before, "end_on");
        if (Result<Order> saved = unit_.save(open); !saved)
            return saved.error();
        ++undone_.ordersReopened;
        return {};
    }
    Result<void> reopenDrainOrders() {
        for (const Catheter *catheter : index_.cathetersOf(patient_.id))
            for (const DrainOrder *order : index_.ordersOf(catheter->id))
                if (Result<void> done = reopen("drain_order", *order); !done)
                    return done;
        return {};
    }
    Result<void> reopenVisitOrders() {
        for (const VisitOrder *order : index_.visitOrdersOf(patient_.id))
            if (Result<void> done = reopen("visit_order", *order); !done)
                return done;
        return {};
    }

    Result<void> reopenHolds() {
        for (const Hold *hold : index_.holdsOf(patient_.id)) {
            const auto before = lastChangedByExit("hold", hold->id.value());
            if (!before)
                return before.error();
            if (!*before)
                continue;
            Hold open = *hold;
            open.to = dayIn(**before, "to_on");
            if (Result<Hold> saved = unit_.save(open); !saved)
                return saved.error();
            undone_.goesOnHold = true;
        }
        return holdsTakenBack();
    }
    Result<void> holdsTakenBack() {
        store::AuditQuery query;
        query.table = "hold";
        query.user = exit_.user;
        query.from = exit_.at;
        query.until = exit_.at + Minutes::of(1);
        const auto entries = file_.audit(query);
        if (!entries)
            return entries.error();
        for (const AuditEntry &entry : *entries) {
            const QJsonObject hold = recordBefore(entry);
            const auto from = dayIn(hold, "from_on");
            if (entry.action == AuditAction::Delete && isOfTheExit(entry) && from &&
                hold.value(QLatin1String("patient_id")).toInteger() == patient_.id.value())
                undone_.holdsToEnter.push_back(*from);
        }
        return {};
    }

    Result<void> reopenCalls() {
        for (const CallItem &item : index_.snapshot().callItems) {
            if (item.patient != patient_.id || item.status != CallItemStatus::Closed)
                continue;
            const auto before = lastChangedByExit("call_item", item.id.value());
            if (!before)
                return before.error();
            if (!*before)
                continue;
            CallItem open = item;
            open.status = CallItemStatus::Open;
            open.closedAt.reset();
            open.outcome = textIn(**before, "outcome");
            if (Result<CallItem> saved = unit_.save(open); !saved)
                return saved.error();
            ++undone_.callsReopened;
        }
        return {};
    }

    Result<void> tellVisits() {
        for (const Visit *visit : index_.visitsOf(patient_.id)) {
            if (visit->status != VisitStatus::Cancelled)
                continue;
            const auto before = lastChangedByExit("visit", visit->id.value());
            if (!before)
                return before.error();
            undone_.visitsCancelled += *before ? 1 : 0;
        }
        return {};
    }
    Result<void> tellDeliveries() {
        for (const Delivery *delivery : index_.deliveriesOf(patient_.id)) {
            if (delivery->status != DeliveryStatus::Cancelled)
                continue;
            const auto before = lastChangedByExit("delivery", delivery->id.value());
            if (!before)
                return before.error();
            if (*before)
                undone_.toPromise.push_back(delivery->id);
        }
        return {};
    }

    store::UnitOfWork &unit_;
    store::AgencyFile &file_;
    const SnapshotIndex &index_;
    const Patient &patient_;
    AuditEntry exit_;
    std::optional<std::int64_t> exitEnd_;
    CareStatus status_ = CareStatus::Active;
    ExitUndone undone_;
};

} // namespace

Result<ExitUndone> Desk::undoExit(PatientId patient, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<ExitUndone> {
        const Patient *left = agency.index().patient(patient);
        if (!left)
            return unknown("patient", "patient_id", patient);
        if (!isExit(left->status))
            return problem(ProblemCode::NotAllowed, "status", {"already"});
        if (why.empty())
            return problem(ProblemCode::Missing, "why");
        return ExitUndo(unit, *inner_->file, agency, *left).run(why);
    });
}

} // namespace kitround::desk
