// What one shift hands to the next, the watch list, and the prescriber's answers to questioned orders.
#include "core/desk/tasks/DeskInner.h"
#include "core/desk/views/WatchList.h"
#include "core/safety/OrderQuestions.h"

#include <algorithm>
#include <set>
#include <utility>

namespace kitround::desk {

Result<HandOver> Desk::handShiftOver(const std::vector<HandOverItem> &items, const std::string &note) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<HandOver> {
        std::set<std::string> waits;
        for (const HandOver &earlier : agency.snapshot().handOvers)
            for (const HandOverItem &item : earlier.items)
                if (!item.acceptedAt)
                    waits.insert(item.subject);
        HandOver record;
        record.handedBy = inner_->user;
        record.handedAt = inner_->nowUtc();
        record.note = note;
        for (HandOverItem item : items) {
            if (!waits.insert(item.subject).second)
                continue;
            item.acceptedBy.reset();
            item.acceptedAt.reset();
            record.items.push_back(std::move(item));
        }
        return unit.save(record);
    });
}

Result<std::vector<HandOver>>
Desk::acceptHandOvers(const std::map<HandOverId, std::vector<std::string>> &subjects) {
    using Accepted = std::vector<HandOver>;
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<Accepted> {
        const auto &all = agency.snapshot().handOvers;
        const Instant now = inner_->nowUtc();
        Accepted accepted;
        for (const auto &[id, wanted] : subjects) {
            const auto found = std::ranges::find(all, id, &HandOver::id);
            if (found == all.end())
                return unknown("hand_over", "id", id);
            HandOver taken = *found;
            bool isAny = false;
            for (HandOverItem &item : taken.items) {
                if (item.acceptedAt || std::ranges::find(wanted, item.subject) == wanted.end())
                    continue;
                isAny = true;
                item.acceptedBy = inner_->user;
                item.acceptedAt = now;
            }
            if (!isAny)
                continue;
            Result<HandOver> saved = unit.save(taken); // refuses who handed it over (records/ValidateTeam)
            if (!saved)
                return saved.error();
            accepted.push_back(std::move(*saved));
        }
        if (accepted.empty())
            return problem(ProblemCode::NotAllowed, "items", {"accepted_already"});
        return accepted;
    });
}

Result<WatchEntry> Desk::save(const WatchEntry &record) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<WatchEntry> {
        if (!agency.index().patient(record.patient))
            return unknown("patient", "patient_id", record.patient);
        WatchEntry saved = record;
        const std::vector<WatchReason> reasons = watchReasons(agency, record.patient);
        if (!saved.id.isSet())
            saved.since = inner_->now();
        if (saved.snoozedTo && !saved.closedAt) {
            const Date least = agency.today().plusDays(1);
            const Date most = agency.today().plusDays(agency.settings()[SettingKey::WatchSnoozeMostDays]);
            if (*saved.snoozedTo < least || *saved.snoozedTo > most)
                return problem(ProblemCode::OutOfRange, "snoozed_to_on",
                               {saved.snoozedTo->toIso(), least.toIso(), most.toIso()});
            for (const WatchReason &reason : reasons)
                if (!safety::maySnooze(reason.urgency))
                    return problem(ProblemCode::NotAllowed, "snoozed_to_on",
                                   {"not_snoozed", reason.text.toStdString()});
        }
        // What this decision was made on, as it was shown; what nobody had before them stays news.
        std::erase_if(saved.known, [&](const std::string &subject) {
            return std::ranges::find(reasons, subject, &WatchReason::subject) == reasons.end();
        });
        return unit.save(saved);
    });
}

Result<OrderAnswer> Desk::recordOrderAnswer(const OrderAnswer &answer) {
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<OrderAnswer> {
        const std::vector<safety::OrderQuestion> asked = safety::orderQuestions(agency.index());
        if (std::ranges::find(asked, answer.order, &safety::OrderQuestion::order) == asked.end())
            return problem(ProblemCode::NotAllowed, "drain_order_id", {"not_asked"});
        if (answer.at > inner_->now())
            return problem(ProblemCode::OutOfRange, "at", {toIso(answer.at), "", toIso(inner_->now())});
        OrderAnswer saved = answer;
        saved.takenBy = inner_->user;
        return unit.save(saved);
    });
}

} // namespace kitround::desk
