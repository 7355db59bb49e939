// Records a person enters or corrects. Facts of one record are checked by records/Validate, references by the
// store; here stand the rules that need more than the record itself.
#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Weeks.h"
#include "core/desk/tasks/ComesAfterRules.h"
#include "core/desk/tasks/Deliveries.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/TeamWork.h"
#include "core/desk/views/PatientView.h"
#include "core/records/Validate.h"

#include <algorithm>

namespace kitround::desk {
namespace {

// Does [from, to) of one meet that of the other? An open end lasts.
bool overlap(const Hold &a, const Hold &b) {
    return (!b.to || a.from < *b.to) && (!a.to || b.from < *a.to);
}

Result<void> checkHold(const Agency &agency, const Hold &hold) {
    const Patient *patient = agency.index().patient(hold.patient);
    if (!patient)
        return unknown("patient", "patient_id", hold.patient);
    if (!hold.id.isSet() && isExit(patient->status))
        return problem(ProblemCode::NotAllowed, "patient_id", {"left_service"});
    for (const Hold *other : agency.index().holdsOf(hold.patient))
        if (other->id != hold.id && overlap(*other, hold))
            return problem(ProblemCode::Conflict, "from",
                           {"hold", other->from.toIso(), other->to ? other->to->toIso() : std::string()});
    return {};
}

// A visit that stands on a day of the hold is not made: the order owes it again once the home is back.
Result<void> pauseVisits(store::UnitOfWork &unit, const Agency &agency, const Hold &hold, LocalTime now) {
    for (const Visit *visit : agency.index().visitsOf(hold.patient)) {
        if (!isPausedBy(*visit, hold, now))
            continue;
        Visit paused = *visit;
        paused.status = VisitStatus::Cancelled;
        paused.missReason = hold.kind == HoldKind::Hospital ? MissReason::Hospital : MissReason::Other;
        if (Result<void> freed = freeDeliveries(unit, agency, paused); !freed)
            return freed.error();
        if (Result<Visit> saved = unit.save(paused); !saved)
            return saved.error();
    }
    return {};
}

Result<Hold> saveHold(store::UnitOfWork &unit, const Agency &agency, const Hold &record, LocalTime now) {
    Result<Hold> saved = unit.save(record);
    if (!saved)
        return saved;
    if (Result<void> paused = pauseVisits(unit, agency, *saved, now); !paused)
        return paused.error();
    return saved;
}

// Another order of the kind that owes visits on days on which this one does too.
const VisitOrder *owedTwiceWith(const Agency &agency, const VisitOrder &order) {
    const Weekday weekStart = agency.settings().weekStart;
    const DateRange days{
        order.start, order.start.plusDays(static_cast<std::int64_t>(kMostSegments) * kMostSegmentWeeks * 7)};
    const auto owed = calendar::weeksOwed(order, days, weekStart);
    for (const VisitOrder *other : agency.index().visitOrdersOf(order.patient)) {
        if (other->id == order.id || other->kind != order.kind)
            continue;
        for (const calendar::WeekOwed &theirs : calendar::weeksOwed(*other, days, weekStart))
            for (const calendar::WeekOwed &ours : owed)
                if (ours.least > 0 && theirs.least > 0 && ours.days.from < theirs.days.to &&
                    theirs.days.from < ours.days.to)
                    return other;
    }
    return nullptr;
}

// What was done was done by today: a day to come would close a matter that is still open.
Result<void> checkHasCome(const std::string &field, const std::optional<Date> &day, Date today) {
    if (day && *day > today)
        return problem(ProblemCode::NotAllowed, field, {"day_to_come", day->toIso(), today.toIso()});
    return {};
}

Result<void> checkHasCome(const Incident &incident, LocalTime now) {
    if (incident.at > now)
        return problem(ProblemCode::NotAllowed, "at", {"day_to_come", toIso(incident.at), toIso(now)});
    const std::pair<const char *, std::optional<Date>> done[] = {
        {"learned_on", incident.learnedOn},
        {"prescriber_told_on", incident.prescriberToldOn},
        {"supplier_told_on", incident.supplierToldOn},
        {"reported_on", incident.reportedOn},
        {"closed_on", incident.closedOn}};
    for (const auto &[field, day] : done)
        if (Result<void> ok = checkHasCome(field, day, now.date); !ok)
            return ok;
    return {};
}

template <class Record>
Result<void> checkStillInService(const Agency &agency, const Record &record) {
    const Patient *patient = agency.index().patient(record.patient);
    if (patient && !record.id.isSet() && isExit(patient->status))
        return problem(ProblemCode::NotAllowed, "patient_id", {"left_service"});
    return {};
}

} // namespace

Result<Payer> Desk::save(const Payer &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<Patient> Desk::save(const Patient &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Patient> {
        const Patient *before = agency.index().patient(record.id);
        // Leaving service stops visits, refills and orders at once, so it has a step of its own.
        if (before && isOnService(before->status) && isExit(record.status))
            return problem(ProblemCode::NotAllowed, "status", {"use_exit"});
        // The clock of the first visit starts there. A record that came without it is not stopped by it.
        const bool cameWithout = before && before->status == CareStatus::Referred && !before->referredAt;
        if (record.status == CareStatus::Referred && !record.referredAt && !cameWithout)
            return problem(ProblemCode::Missing, "referred_at");
        if (Result<void> ok = checkHasCome("no_allergies_on", record.noAllergiesOn, inner_->now().date); !ok)
            return ok.error();
        if (Result<void> ok = checkAssignment(agency, before, record); !ok)
            return ok.error();
        return unit.save(record);
    });
}
Result<Catheter> Desk::save(const Catheter &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Catheter> {
        const Catheter *before = agency.index().catheter(record.id);
        if (before && !before->removedAt && record.removedAt)
            return problem(ProblemCode::NotAllowed, "removed_at", {"use_removal"});
        if (before && before->patient != record.patient)
            return problem(ProblemCode::NotAllowed, "patient_id", {"catheter_has_record"});
        return unit.save(record);
    });
}
Result<Authorisation> Desk::save(const Authorisation &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}

Result<Hold> Desk::save(const Hold &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Hold> {
        if (Result<void> ok = checkHold(agency, record); !ok)
            return ok.error();
        return saveHold(unit, agency, record, inner_->now());
    });
}
Result<Hold> Desk::returnHome(const Hold &ended, const std::vector<OrderAnswer> &answers) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Hold> {
        if (Result<void> ok = checkHold(agency, ended); !ok)
            return ok.error();
        for (OrderAnswer answer : answers) {
            answer.takenBy = inner_->user;
            if (const auto kept = unit.save(answer); !kept)
                return kept.error();
        }
        return saveHold(unit, agency, ended, inner_->now());
    });
}
Result<void> Desk::remove(const Hold &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &) -> Result<void> {
        // A hold that has begun happened: it is ended, never removed.
        if (record.from <= inner_->now().date)
            return problem(ProblemCode::NotAllowed, "from", {"hold_has_begun", record.from.toIso()});
        return unit.remove(record.id, record.rowVersion);
    });
}

Result<Item> Desk::save(const Item &record, KitFits fits) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Item> {
        const Item *before = agency.index().item(record.id);
        const auto fitsAny = [](const Item &item) {
            return (item.kind == ItemKind::Kit || item.kind == ItemKind::Bottle) && item.connector.empty();
        };
        const bool wasAny = before && fitsAny(*before);
        if (fitsAny(record) && !wasAny && fits != KitFits::AnyCatheter)
            return problem(ProblemCode::Missing, "connector");
        return unit.save(record);
    });
}
Result<Lot> Desk::save(const Lot &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Lot> {
        const Lot *before = agency.index().lot(record.id);
        if (before && before->state != record.state)
            return problem(ProblemCode::NotAllowed, "state", {"use_lot_state"});
        if (before && before->item != record.item)
            return problem(ProblemCode::NotAllowed, "item_id", {"lot_has_record"});
        return unit.save(record);
    });
}
Result<Supplier> Desk::save(const Supplier &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<SupplierItem> Desk::save(const SupplierItem &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<Nurse> Desk::save(const Nurse &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<ShiftPattern> Desk::save(const ShiftPattern &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<void> Desk::save(const std::vector<ShiftPattern> &week) {
    return inner_->write([&](store::UnitOfWork &unit) -> Result<void> {
        for (const ShiftPattern &shift : week)
            if (const auto saved = unit.save(shift); !saved)
                return saved.error();
        return {};
    });
}
Result<ExtraShift> Desk::save(const ExtraShift &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.save(record); });
}
Result<VisitOrder> Desk::save(const VisitOrder &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<VisitOrder> {
        if (Result<void> ok = checkStillInService(agency, record); !ok)
            return ok.error();
        if (const VisitOrder *other = owedTwiceWith(agency, record))
            return problem(ProblemCode::Conflict, "start", {"visit_order_in_force", other->start.toIso()});
        if (Result<void> ok = checkComesAfter(agency, record); !ok)
            return ok.error();
        return unit.save(record);
    });
}
Result<PhoneCall> Desk::save(const PhoneCall &record) {
    return inner_->write([&](store::UnitOfWork &unit) -> Result<PhoneCall> {
        // A call that is nobody's is lost at the change of shift.
        if (!record.id.isSet() && !record.closedAt && record.owner.empty())
            return problem(ProblemCode::Missing, "owner");
        return unit.save(record);
    });
}
Result<Incident> Desk::save(const Incident &record) {
    return inner_->write([&](store::UnitOfWork &unit) -> Result<Incident> {
        if (Result<void> ok = checkHasCome(record, inner_->now()); !ok)
            return ok.error();
        return unit.save(record);
    });
}
Result<DecisionNote> Desk::save(const DecisionNote &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<DecisionNote> {
        if (Result<void> ok = checkHasCome("closed_on", record.closedOn, agency.today()); !ok)
            return ok.error();
        DecisionNote saved = record;
        const std::vector<DecisionNote> &all = agency.snapshot().decisionNotes;
        const auto before = std::ranges::find(all, record.id, &DecisionNote::id);
        if (before != all.end()) {
            saved.weekStart = before->weekStart;
            saved.by = before->by;
            saved.at = before->at;
        } else {
            saved.weekStart = calendar::weekStartOf(record.weekStart, agency.settings().weekStart);
            saved.by = inner_->user;
            saved.at = inner_->now();
        }
        return unit.save(saved);
    });
}
namespace {

// Who works at the desk is needed to write, and a manager to decide leave.
Result<void> checkMayGo(const User &record, const std::vector<User> &users, UserId atDesk) {
    const auto before = std::ranges::find(users, record.id, &User::id);
    if (record.isActive || before == users.end() || !before->isActive)
        return {};
    if (record.id == atDesk)
        return problem(ProblemCode::NotAllowed, "is_active", {"user_is_you", before->name});
    const bool hasOther = std::ranges::any_of(users, [&](const User &user) {
        return user.id != record.id && user.isActive && user.role == UserRole::NurseManager;
    });
    if (before->role == UserRole::NurseManager && !hasOther)
        return problem(ProblemCode::NotAllowed, "is_active", {"last_manager", before->name});
    return {};
}

} // namespace

Result<User> Desk::save(const User &record) {
    return inner_->write([&](store::UnitOfWork &unit) -> Result<User> {
        const Result<std::vector<User>> users = inner_->file->users();
        if (!users)
            return users.error();
        if (Result<void> ok = checkMayGo(record, *users, inner_->user); !ok)
            return ok.error();
        return unit.save(record);
    });
}
Result<AgencySettings> Desk::save(const AgencySettings &settings) {
    return inner_->write([&](store::UnitOfWork &unit) -> Result<AgencySettings> {
        // Without the zone's rules no clock of the file could be read again.
        if (Result<calendar::Zone> zone = calendar::Zone::named(settings.timeZone); !zone)
            return zone.error();
        return unit.save(settings);
    });
}

Result<void> Desk::remove(const ShiftPattern &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.remove(record.id, record.rowVersion); });
}
Result<void> Desk::remove(const ExtraShift &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.remove(record.id, record.rowVersion); });
}
Result<void> Desk::remove(const TimeOff &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.remove(record.id, record.rowVersion); });
}
Result<void> Desk::remove(const SupplierItem &record) {
    return inner_->write([&](store::UnitOfWork &unit) { return unit.remove(record.id, record.rowVersion); });
}

} // namespace kitround::desk
