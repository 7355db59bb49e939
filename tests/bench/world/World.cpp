#include "tests/bench/world/World.h"

#include "tests/bench/world/HomeLife.h"
#include "tests/bench/world/HomeRecords.h"

namespace kitround::bench {
namespace {

constexpr WorldName kNames[] = {
    {WorldKind::ModelLike, "model-like"},
    {WorldKind::Weekday, "weekday"},
    {WorldKind::Bursts, "bursts"},
    {WorldKind::UnderReporting, "under-reporting"},
    {WorldKind::RegimeChange, "regime-change"},
    {WorldKind::VolumeTrend, "volume-trend"},
    {WorldKind::Exits, "exits"},
    {WorldKind::HospitalStays, "hospital-stays"},
};

Item itemOf(std::int64_t id, ItemKind kind, int ml) {
    Item item;
    item.id = ItemId(id);
    item.code = (kind == ItemKind::Kit ? "KIT-" : "BOT-") + std::to_string(ml);
    item.name = item.code;
    item.kind = kind;
    item.bottleVolume = Millilitres::of(ml);
    item.casePack = {Eaches::of(10)};
    return item;
}

Snapshot emptyAgency(Date today) {
    Snapshot s;
    s.asOf = today;
    s.now = {today, Minutes::of(7 * 60)};
    s.logFrom = today.plusDays(-kPastDays);
    s.settings.agencyName = "Simulated agency";
    s.settings.isInvented = true;
    Payer payer;
    payer.id = PayerId(1);
    payer.name = "Payer";
    s.payers.push_back(payer);
    s.items = {itemOf(1, ItemKind::Kit, 500), itemOf(2, ItemKind::Kit, 1000),
               itemOf(3, ItemKind::Bottle, 500), itemOf(4, ItemKind::Bottle, 1000)};
    return s;
}

HomeFuture futureOf(const HomeLife &life, CatheterId catheter) {
    HomeFuture future;
    future.catheter = catheter;
    for (const TrueSession &s : life.sessions) {
        if (s.day < 0)
            continue;
        const auto day = static_cast<std::size_t>(s.day);
        const auto add = [&](std::size_t line, int units) {
            future.units[line][day] = static_cast<std::uint8_t>(future.units[line][day] + units);
        };
        add(0, s.kits + s.kitsLost);
        add(1, s.extras + s.extrasLost);
    }
    return future;
}

} // namespace

std::span<const WorldName> worldNames() {
    return kNames;
}

World makeWorld(const WorldWish &wish) {
    World world;
    world.snapshot = emptyAgency(wish.today);
    Draws draws(wish.seed * 1000003 + static_cast<std::uint64_t>(wish.kind));
    AgencyTraits agency;
    if (wish.kind != WorldKind::ModelLike) {
        agency.exitFactor = draws.between(0.6, 1.4);
        agency.adherenceShift = draws.between(-0.4, 0.4);
        agency.volumeFactor = draws.between(0.8, 1.2);
    }
    // Homes begin at any day of the 150 before today, as referrals come in evenly; those that have left by
    // today stay in the records.
    // Room at once: growing by doubling would hold the log twice.
    world.snapshot.drainEntries.reserve(static_cast<std::size_t>(wish.patients) *
                                        (wish.withHistory ? 90 : 60));
    int inService = 0;
    while (inService < wish.patients) {
        Draws home(draws.fork());
        const int start = -home.whole(1, 150);
        const HomeLife life = liveHome(wish.kind, agency, start, kFutureDays, wish.today, home);
        const bool hasLeft = life.exit && *life.exit <= 0;
        if (hasLeft && !wish.withHistory)
            continue;
        if (hasLeft && *life.exit < -kPastDays)
            continue;
        const CatheterId catheter = addRecords(world.snapshot, life, wish.kind, home);
        if (hasLeft)
            continue;
        world.futures.push_back(futureOf(life, catheter));
        ++inService;
    }
    finishRecords(world.snapshot);
    return world;
}

} // namespace kitround::bench
