#include "tests/bench/world/HomeRecords.h"

#include <algorithm>
#include <array>

namespace kitround::bench {
namespace {

struct Habits { // of keeping the log
    double written = 0.97;
    double supplies = 0.9; // of what is written: with its items
    double volume = 0.95;
    double notDone = 0.3; // a missed drain is noted as such
    int daysBehind = 0;
};

Habits habitsOf(WorldKind world, Draws &draws) {
    Habits h;
    h.written = world == WorldKind::UnderReporting ? draws.between(0.55, 0.95) : draws.between(0.94, 1.0);
    h.daysBehind = world == WorldKind::UnderReporting ? draws.whole(0, 12) : draws.whole(0, 3);
    if (world == WorldKind::UnderReporting)
        h.notDone = 0.1;
    return h;
}

template <class Row>
auto nextId(const std::vector<Row> &rows) {
    return decltype(Row::id)(static_cast<std::int64_t>(rows.size()) + 1);
}

class Recorder {
public:
    Recorder(Snapshot &s, const HomeLife &life, WorldKind world, Draws &draws)
        : s_(s), life_(life), habits_(habitsOf(world, draws)),
          draws_(draws), items_{ItemId(life.hasLargeKit ? 2 : 1), ItemId(life.hasLargeKit ? 4 : 3)} {}

    CatheterId record() {
        addPatient();
        addOrders();
        addHolds();
        addLog();
        addStock();
        return catheter_;
    }

private:
    Date dateOf(int day) const { return s_.asOf.plusDays(day); }
    bool hasLeft() const { return life_.exit && *life_.exit <= 0; }

    void addPatient() {
        Patient p;
        p.id = patient_ = nextId(s_.patients);
        p.code = "P" + std::to_string(p.id.value());
        p.payer = PayerId(1);
        p.status = CareStatus::Active;
        p.startOfCare = dateOf(life_.start);
        p.patientCompetence = Competence::Alone;
        Catheter c;
        c.id = catheter_ = nextId(s_.catheters);
        c.patient = p.id;
        c.site = life_.site;
        c.insertedOn = dateOf(life_.start);
        if (hasLeft()) {
            p.status = draws_.chance(0.6) ? CareStatus::Deceased : CareStatus::Discharged;
            p.exitedAt = Instant::fromUnixSeconds(dateOf(*life_.exit).dayNumber() * 86400 + 16 * 3600);
        }
        s_.patients.push_back(p);
        s_.catheters.push_back(c);
    }
    void addOrders() {
        for (std::size_t i = 0; i < life_.orders.size(); ++i) {
            if (life_.orders[i].from > 0)
                continue; // nobody knows of it yet
            DrainOrder order;
            order.id = nextId(s_.drainOrders);
            order.catheter = catheter_;
            order.pattern = life_.orders[i].pattern;
            order.start = dateOf(life_.orders[i].from);
            if (i + 1 < life_.orders.size() && life_.orders[i + 1].from <= 0)
                order.end = dateOf(life_.orders[i + 1].from);
            order.mostPerSession = Millilitres::of(life_.mostMl);
            order.kit = items_[0];
            order.extraBottle = items_[1];
            s_.drainOrders.push_back(order);
        }
    }
    void addHolds() {
        for (const Stay &stay : life_.stays) {
            if (stay.from >= 0)
                continue;
            Hold hold;
            hold.id = nextId(s_.holds);
            hold.patient = patient_;
            hold.from = dateOf(stay.from);
            if (stay.to <= 0)
                hold.to = dateOf(stay.to);
            else if (draws_.chance(0.6))
                hold.expectedReturn = dateOf(std::max(1, stay.to + draws_.whole(-2, 3)));
            s_.holds.push_back(hold);
        }
    }
    void addLog() {
        firstEntry_ = s_.drainEntries.size();
        std::size_t missed = 0;
        for (const TrueSession &session : life_.sessions) {
            for (; missed < life_.missed.size() && life_.missed[missed].day <= session.day; ++missed)
                noteMissed(life_.missed[missed].day);
            if (session.day >= -habits_.daysBehind || session.day < -kPastDays ||
                !draws_.chance(habits_.written))
                continue;
            DrainEntry entry = entryOn(session.day);
            if (draws_.chance(habits_.volume)) {
                entry.volume = Millilitres::of(session.millilitres);
                entry.outcome = session.millilitres == 0 ? DrainOutcome::Dry : DrainOutcome::Drained;
            }
            if (draws_.chance(habits_.supplies)) {
                const auto add = [&](std::size_t line, int used, int lost) {
                    if (used + lost > 0)
                        entry.supplies.push_back({items_[line], Eaches::of(used), Eaches::of(lost), {}});
                };
                entry.supplies.reserve(session.extras > 0 ? 2 : 1);
                add(0, session.kits, session.kitsLost);
                add(1, session.extras, session.extrasLost);
            }
            s_.drainEntries.push_back(std::move(entry));
        }
    }
    DrainEntry entryOn(int day) const {
        DrainEntry entry;
        entry.id = nextId(s_.drainEntries);
        entry.catheter = catheter_;
        entry.at = {dateOf(day), Minutes::of(9 * 60)};
        return entry;
    }
    void noteMissed(int day) {
        if (day >= -habits_.daysBehind || day < -kPastDays || !draws_.chance(habits_.notDone))
            return;
        DrainEntry entry = entryOn(day);
        entry.outcome = DrainOutcome::NotDone;
        s_.drainEntries.push_back(entry);
    }

    // The home is filled up every other week or so, and somebody counts in the morning before; the ledger is
    // what the last count said, less what the log wrote since, plus what came since.
    void addStock() {
        const int first = std::max(life_.start, -kPastDays);
        const int last = hasLeft() ? *life_.exit : 0;
        std::array<int, 2> truth{12, 8};
        std::array<std::int64_t, 2> ledger{};
        std::size_t next = 0;
        int untilCall = 0;
        std::size_t logged = firstEntry_;
        for (int day = first; day < last; ++day) {
            if (untilCall-- == 0) {
                untilCall = draws_.whole(10, 17);
                for (std::size_t line = 0; line < 2; ++line) {
                    const int seen =
                        std::max(0, truth[line] + (draws_.chance(0.1) ? draws_.whole(-1, 1) : 0));
                    count(line, seen, day);
                    ledger[line] = seen;
                    const int wish = line == 0 ? 24 : 14;
                    if (truth[line] < wish) {
                        const int sent = (wish - truth[line] + 4) / 5 * 5;
                        deliver(line, sent, day);
                        truth[line] += sent;
                        ledger[line] += sent;
                    }
                }
            }
            for (; next < life_.sessions.size() && life_.sessions[next].day <= day; ++next) {
                if (life_.sessions[next].day < first)
                    continue;
                const TrueSession &s = life_.sessions[next];
                truth[0] = std::max(0, truth[0] - s.kits - s.kitsLost);
                truth[1] = std::max(0, truth[1] - s.extras - s.extrasLost);
            }
            for (; logged < s_.drainEntries.size() && s_.drainEntries[logged].at.date <= dateOf(day);
                 ++logged)
                for (const BottleUse &use : s_.drainEntries[logged].supplies)
                    ledger[use.item == items_[0] ? 0 : 1] -= (use.used + use.lost).count();
        }
        if (!hasLeft())
            for (std::size_t line = 0; line < 2; ++line)
                if (ledger[line] != 0)
                    s_.balances.push_back(
                        {Place::home(catheter_), items_[line], {}, Eaches::of(ledger[line])});
    }
    void count(std::size_t line, int seen, int day) {
        HomeCount c;
        c.id = nextId(s_.homeCounts);
        c.catheter = catheter_;
        c.item = items_[line];
        c.at = {dateOf(day), Minutes::of(7 * 60)};
        c.counted = Eaches::of(seen);
        s_.homeCounts.push_back(c);
    }
    void deliver(std::size_t line, int units, int day) {
        Delivery d;
        d.id = nextId(s_.deliveries);
        d.patient = patient_;
        d.status = DeliveryStatus::Delivered;
        d.promisedFor = dateOf(day);
        d.deliveredAt = LocalTime{dateOf(day), Minutes::of(8 * 60)};
        d.lines.push_back({catheter_, items_[line], {}, Eaches::of(units)});
        s_.deliveries.push_back(std::move(d));
    }

    Snapshot &s_;
    const HomeLife &life_;
    Habits habits_;
    Draws &draws_;
    std::array<ItemId, 2> items_;
    PatientId patient_;
    CatheterId catheter_;
    std::size_t firstEntry_ = 0;
};

} // namespace

CatheterId addRecords(Snapshot &snapshot, const HomeLife &life, WorldKind world, Draws &draws) {
    return Recorder(snapshot, life, world, draws).record();
}

void finishRecords(Snapshot &s) {
    std::ranges::stable_sort(s.drainEntries, {},
                             [](const DrainEntry &e) { return std::pair(e.catheter, e.at); });
    std::ranges::stable_sort(s.homeCounts, {},
                             [](const HomeCount &c) { return std::tuple(c.catheter, c.item, c.at); });
}

} // namespace kitround::bench
