#include "sample-db/CallHistory.h"

#include "core/safety/Cautions.h"

#include <algorithm>
#include <map>
#include <set>

namespace kitround::sample {
namespace {

constexpr Days kLookBack = Days::of(14);
constexpr Days kStillOpen = Days::of(3); // items of the last days wait for somebody
const std::string kOutcome = "Nurse told; she spoke with the prescriber. No change ordered.";

const DrainOrder *orderOn(const Scenario &s, CatheterId catheter, Date on) {
    const DrainOrder *found = nullptr;
    for (const DrainOrder &order : s.drainOrders)
        if (order.catheter == catheter && order.start <= on && (!order.end || on < *order.end) &&
            (!found || found->start <= order.start))
            found = &order;
    return found;
}

void close(CallItem &call) {
    call.status = CallItemStatus::Closed;
    call.closedAt = LocalTime{call.raisedAt.date.plusDays(1), Minutes::of(9 * 60 + 30)};
    call.outcome = kOutcome;
}

} // namespace

Scenario withCalls(Scenario scenario) {
    std::map<CatheterId, std::vector<DrainEntry>> logs;
    for (const DrainEntry &entry : scenario.drainEntries)
        logs[entry.catheter].push_back(entry);
    std::set<std::string> subjects;
    for (auto &[catheterId, log] : logs) {
        std::ranges::stable_sort(log, {}, &DrainEntry::at);
        const Catheter &catheter = scenario.catheters[static_cast<std::size_t>(catheterId.value() - 1)];
        for (std::size_t i = 0; i < log.size(); ++i) {
            if (log[i].at.date < scenario.today - kLookBack)
                continue;
            const auto raised =
                safety::cautionsOf(log[i], catheter, orderOn(scenario, catheterId, log[i].at.date),
                                   std::span(log).first(i), scenario.settings);
            for (CallItem call : raised) {
                if (!subjects.insert(call.subject).second)
                    continue;
                if (call.raisedAt.date < scenario.today - kStillOpen)
                    close(call);
                added(scenario.callItems, std::move(call));
            }
        }
    }
    return scenario;
}

} // namespace kitround::sample
