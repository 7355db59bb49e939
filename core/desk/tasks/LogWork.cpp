// The log and the counts of a home.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/tasks/HomeLine.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/SupplyWords.h"
#include "core/safety/Cautions.h"
#include "core/supply/Ledger.h"

#include <algorithm>
#include <charconv>

namespace kitround::desk {
namespace {

bool isAfter(const DrainEntry &entry, LocalTime moment) {
    return entry.timeIsKnown ? entry.at > moment : entry.at.date > moment.date;
}

// The catheter stood in a patient on service at the time of the entry; what happened before an exit may still
// be entered after it.
template <class ToLocal>
Result<void> checkCatheter(const Agency &agency, const DrainEntry &entry, ToLocal toLocal) {
    const Catheter *catheter = agency.index().catheter(entry.catheter);
    if (!catheter)
        return unknown("catheter", "catheter_id", entry.catheter);
    if (catheter->insertedOn && entry.at.date < *catheter->insertedOn)
        return problem(ProblemCode::OutOfRange, "at", {toIso(entry.at), catheter->insertedOn->toIso(), ""});
    if (catheter->removedAt && isAfter(entry, toLocal(*catheter->removedAt)))
        return problem(ProblemCode::NotAllowed, "catheter_id",
                       {"catheter_removed", toIso(toLocal(*catheter->removedAt))});
    const Patient *patient = agency.index().patient(catheter->patient);
    if (patient && isExit(patient->status) && patient->exitedAt &&
        isAfter(entry, toLocal(*patient->exitedAt)))
        return problem(ProblemCode::NotAllowed, "catheter_id",
                       {"left_service", toIso(toLocal(*patient->exitedAt))});
    return {};
}

Result<void> checkSupplies(const Agency &agency, const DrainEntry &entry) {
    for (const BottleUse &use : entry.supplies) {
        if (!agency.index().item(use.item))
            return unknown("item", "item_id", use.item);
        if (!use.lot)
            continue;
        const Lot *lot = agency.index().lot(*use.lot);
        if (!lot)
            return unknown("lot", "lot_id", *use.lot);
        if (lot->item != use.item)
            return problem(ProblemCode::Conflict, "lot_id",
                           {"lot_of_other_item", lot->number, agency.index().item(use.item)->code});
    }
    if (entry.visit) {
        const Visit *visit = agency.index().visit(*entry.visit);
        const Catheter *catheter = agency.index().catheter(entry.catheter);
        if (visit && catheter && visit->patient != catheter->patient)
            return problem(ProblemCode::Conflict, "visit_id", {"visit_of_other_patient"});
    }
    return {};
}

// By time, without void ones and the one about to be replaced.
std::vector<DrainEntry> standingLog(std::vector<DrainEntry> log, std::optional<DrainEntryId> without) {
    std::erase_if(log, [&](const DrainEntry &e) { return e.isVoid || (without && e.id == *without); });
    std::ranges::stable_sort(log, {}, &DrainEntry::at);
    return log;
}

Result<CallItem> closeWith(store::UnitOfWork &unit, CallItem item, LocalTime now,
                           const std::string &outcome) {
    item.status = CallItemStatus::Closed;
    item.closedAt = now;
    item.outcome = outcome;
    return unit.save(item);
}

// "entry:812:too-soon" speaks of entry 812; "sudden-drop:812" of the run that starts there.
bool speaksOf(const std::string &subject, DrainEntryId entry) {
    const std::size_t colon = subject.find(':');
    if (colon == std::string::npos ||
        (subject.compare(0, colon, "entry") != 0 && subject.compare(0, colon, "sudden-drop") != 0))
        return false;
    std::int64_t number = 0;
    std::from_chars(subject.data() + colon + 1, subject.data() + subject.size(), number);
    return number == entry.value();
}

Result<void> closeCallsOf(store::UnitOfWork &unit, const Agency &agency, DrainEntryId entry, LocalTime now,
                          const std::string &outcome) {
    for (const CallItem &item : agency.snapshot().callItems)
        if (item.status == CallItemStatus::Open && speaksOf(item.subject, entry))
            if (Result<CallItem> done = closeWith(unit, item, now, outcome); !done)
                return done.error();
    return {};
}

// A log that speaks again answers the call about its silence.
Result<void> closeSilence(store::UnitOfWork &unit, const Agency &agency, const DrainEntry &entry,
                          LocalTime now) {
    for (const CallItem &item : agency.snapshot().callItems)
        if (item.status == CallItemStatus::Open && item.kind == CautionKind::Silence &&
            item.catheter == entry.catheter && entry.at.date >= item.raisedAt.date)
            if (Result<CallItem> done = closeWith(unit, item, now, "logged again"); !done)
                return done.error();
    return {};
}

// Stores a checked entry with what follows from it.
Result<Desk::Logged> store(store::UnitOfWork &unit, const Agency &agency, const DrainEntry &entry,
                           const std::vector<DrainEntry> &log, LocalTime now) {
    Result<DrainEntry> saved = unit.save(entry);
    if (!saved)
        return saved.error();
    if (Result<void> done = postToHomes(unit, agency, supply::movementsForEntry(*saved)); !done)
        return done.error();
    if (Result<void> done = closeSilence(unit, agency, *saved, now); !done)
        return done.error();
    std::vector<DrainEntry> earlier;
    std::ranges::copy_if(log, std::back_inserter(earlier),
                         [&](const DrainEntry &e) { return e.at < saved->at; });
    const SnapshotIndex &index = agency.index();
    const Catheter &catheter = *index.catheter(saved->catheter);
    Desk::Logged logged{*saved, {}};
    const Patient *patient = index.patient(catheter.patient);
    if (patient && patient->status == CareStatus::Deceased)
        return logged; // the record is completed; nobody is called about it any more
    for (CallItem &item :
         safety::cautionsOf(*saved, catheter, index.orderInForce(catheter.id, saved->at.date), earlier,
                            agency.snapshot().settings)) {
        const bool isKnown = std::ranges::any_of(agency.snapshot().callItems, [&](const CallItem &other) {
            return other.subject == item.subject && other.patient == item.patient;
        });
        if (isKnown)
            continue;
        Result<CallItem> raised = unit.save(item);
        if (!raised)
            return raised.error();
        logged.raised.push_back(*raised);
    }
    return logged;
}

Result<void> strikeOut(store::UnitOfWork &unit, store::AgencyFile &file, const Agency &agency,
                       const DrainEntry &entry, const std::string &why, LocalTime now) {
    DrainEntry struck = entry;
    struck.isVoid = true;
    if (!why.empty())
        struck.note += struck.note.empty() ? why : "\n" + why;
    if (Result<DrainEntry> saved = unit.save(struck); !saved)
        return saved.error();
    Result<std::vector<StockMovement>> movements = file.movementsOfEntry(entry.id);
    if (!movements)
        return movements.error();
    // As if it had not happened: dated like the entry, so that a count made since stays true.
    if (Result<void> done = postToHomes(unit, agency, supply::undoing(stillStanding(*movements), entry.at));
        !done)
        return done;
    return closeCallsOf(unit, agency, entry.id, now, "the entry was struck out");
}

// The entry by its id: recent ones are in the snapshot, older ones in the file.
Result<DrainEntry> findEntry(store::AgencyFile &file, const Agency &agency, DrainEntryId id) {
    const auto &recent = agency.snapshot().drainEntries;
    if (const auto found = std::ranges::find(recent, id, &DrainEntry::id); found != recent.end())
        return *found;
    for (const Catheter &catheter : agency.snapshot().catheters) {
        Result<std::vector<DrainEntry>> log = file.wholeLog(catheter.id);
        if (!log)
            return log.error();
        if (const auto found = std::ranges::find(*log, id, &DrainEntry::id); found != log->end())
            return *found;
    }
    return unknown("drain_entry", "drain_entry_id", id);
}

template <class Inner>
Result<Desk::Logged> logChecked(Inner &inner, store::UnitOfWork &unit, const Agency &agency,
                                const DrainEntry &entry, std::optional<DrainEntryId> replaced) {
    const LocalTime now = inner.now();
    if (isAfter(entry, now))
        return problem(ProblemCode::OutOfRange, "at", {toIso(entry.at), "", toIso(now)});
    if (Result<void> ok = checkCatheter(agency, entry, [&](Instant at) { return inner.toLocal(at); }); !ok)
        return ok.error();
    if (Result<void> ok = checkSupplies(agency, entry); !ok)
        return ok.error();
    Result<std::vector<DrainEntry>> whole = inner.file->wholeLog(entry.catheter);
    if (!whole)
        return whole.error();
    const std::vector<DrainEntry> log = standingLog(std::move(*whole), replaced);
    if (std::ranges::find(log, entry.at, &DrainEntry::at) != log.end())
        return problem(ProblemCode::Duplicate, "at", {toIso(entry.at)});
    return store(unit, agency, entry, log, now);
}

// As it may be stored: with the reason where one is asked for, refused where none is given.
Result<HomeCount> countWithReason(const SnapshotIndex &agency, const HomeCount &count, Eaches ledger,
                                  const std::string &whyMore) {
    const std::optional<Problem> asked = moreWithSetAside(agency, count, ledger);
    if (!asked)
        return count;
    if (whyMore.empty())
        return *asked;
    HomeCount kept = count;
    kept.note += (kept.note.empty() ? "" : "\n") + moreThanRecorded(whyMore);
    return kept;
}

} // namespace

Result<Desk::Logged> Desk::logDrain(const DrainEntry &entry) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Logged> {
        if (entry.id.isSet())
            return problem(ProblemCode::NotAllowed, "drain_entry_id", {"use_correction"});
        return logChecked(*inner_, unit, agency, entry, std::nullopt);
    });
}

Result<Desk::Logged> Desk::correctDrain(DrainEntryId old, const DrainEntry &corrected) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Logged> {
        Result<DrainEntry> before = findEntry(*inner_->file, agency, old);
        if (!before)
            return before.error();
        if (before->isVoid)
            return problem(ProblemCode::NotAllowed, "drain_entry_id", {"void"});
        if (Result<void> done = strikeOut(unit, *inner_->file, agency, *before, {}, inner_->now()); !done)
            return done.error();
        DrainEntry entry = corrected;
        entry.id = {};
        entry.rowVersion = 0;
        entry.isVoid = false;
        entry.corrects = old;
        return logChecked(*inner_, unit, agency, entry, old);
    });
}

Result<void> Desk::voidDrain(DrainEntryId entry, const std::string &why) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<void> {
        if (why.empty())
            return problem(ProblemCode::Missing, "why");
        Result<DrainEntry> before = findEntry(*inner_->file, agency, entry);
        if (!before)
            return before.error();
        if (before->isVoid)
            return problem(ProblemCode::NotAllowed, "drain_entry_id", {"void"});
        return strikeOut(unit, *inner_->file, agency, *before, why, inner_->now());
    });
}

Result<HomeCount> Desk::countHome(const HomeCount &count, const std::string &whyMore) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<HomeCount> {
        const LocalTime now = inner_->now();
        if (count.id.isSet())
            return problem(ProblemCode::NotAllowed, "home_count_id", {"count_again"});
        if (count.at > now)
            return problem(ProblemCode::OutOfRange, "at", {toIso(count.at), "", toIso(now)});
        // What was counted is stock of that month: count again rather than change its books.
        if (const auto open = firstOpenDay(agency.snapshot().monthCloses); open && count.at.date < *open)
            return problem(ProblemCode::NotAllowed, "at", {"month_closed", open->toIso()});
        if (!agency.index().catheter(count.catheter))
            return unknown("catheter", "catheter_id", count.catheter);
        if (!agency.index().item(count.item))
            return unknown("item", "item_id", count.item);
        for (const HomeCount *other : agency.index().countsOf(count.catheter))
            if (other->item == count.item && other->at == count.at)
                return problem(ProblemCode::Duplicate, "at", {toIso(count.at)});
        const Place home = Place::home(count.catheter);
        Result<std::vector<StockMovement>> movements = inner_->file->movementsAt(home, count.item);
        if (!movements)
            return movements.error();
        const Eaches ledger = ledgerAt(*movements, home, count.at);
        const Result<HomeCount> explained = countWithReason(agency.index(), count, ledger, whyMore);
        if (!explained)
            return explained.error();
        Result<HomeCount> saved = unit.save(*explained);
        if (!saved)
            return saved;
        if (const auto variance = supply::movementForCount(home, count.item, ledger, count.counted, count.at))
            if (Result<void> done = postToHomes(unit, agency, {*variance}); !done)
                return done.error();
        return saved;
    });
}

Result<std::vector<DrainEntry>> Desk::wholeLog(CatheterId catheter) {
    return inner_->file->wholeLog(catheter);
}

} // namespace kitround::desk
