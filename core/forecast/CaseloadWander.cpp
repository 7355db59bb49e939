#include "core/forecast/CaseloadWander.h"

#include "core/forecast/Bottling.h"
#include "core/forecast/LogReading.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace kitround::forecast {
namespace {

constexpr std::size_t kMostHomes = 300;
constexpr double kPriorHomes = 10; // (assumed)
constexpr std::size_t kBlocks = 4;
constexpr std::int64_t kBlockDays = 14;
constexpr double kLeastInBlock = 3;
// Bounds within which the figures are believed (assumed).
constexpr double kLeastSteady = 6, kMostSteady = 400;
constexpr double kLeastTilt = 0.1, kMostTilt = 1.2;

struct Block {
    double offered = 0, done = 0; // planned drains; done ones, those beyond the order among them
    double days = 0, beyond = 0;
    double sessions = 0, units = 0, squares = 0; // extra bottles, else kits
};
using Blocks = std::array<Block, kBlocks>;

// Sums over homes of: the drift found, and what it is measured against.
struct Moments {
    double drift = 0;
    double scale = 0;
    std::int64_t homes = 0;
};

// Blocks of one home by a count of tries and what came of them. `variance` of one try.
void addHome(Moments &m, std::span<const double> tries, std::span<const double> sums, double variance,
             double scale) {
    double blocks = 0, all = 0, total = 0, chance = 0;
    for (std::size_t i = 0; i < tries.size(); ++i) {
        if (tries[i] < kLeastInBlock)
            continue;
        blocks += 1;
        all += tries[i];
        total += sums[i];
        chance += variance / tries[i];
    }
    if (blocks < 2 || scale <= 0)
        return;
    const double mean = total / all;
    double between = 0;
    for (std::size_t i = 0; i < tries.size(); ++i)
        if (tries[i] >= kLeastInBlock)
            between += (sums[i] / tries[i] - mean) * (sums[i] / tries[i] - mean);
    // Blocks of even size about their own mean lose one degree of freedom.
    m.drift += between / (blocks - 1) - chance / blocks;
    m.scale += scale;
    ++m.homes;
}

Blocks blocksOf(const SnapshotIndex &agency, const Catheter &catheter) {
    const Snapshot &s = agency.snapshot();
    const DateRange range{s.asOf.plusDays(-kBlockDays * static_cast<std::int64_t>(kBlocks)), s.asOf};
    const LogReading log = readLog(agency, catheter, agency.holdsOf(catheter.patient), range);
    Blocks blocks;
    const auto blockOf = [&](Date on) -> Block & {
        return blocks[static_cast<std::size_t>((on - range.from).count() / kBlockDays)];
    };
    if (!log.firstEntry)
        return blocks;
    for (const Slot &slot : log.slots)
        if (slot.drain.on >= *log.firstEntry && slot.drain.on <= *log.lastEntry) {
            blockOf(slot.drain.on).offered += 1;
            blockOf(slot.drain.on).done += slot.fate == SlotFate::Done ? 1 : 0;
        }
    for (const DrainEntry *entry : log.beyondOrder) {
        if (!range.contains(entry->at.date))
            continue; // this morning's
        blockOf(entry->at.date).beyond += 1;
        blockOf(entry->at.date).done += 1;
    }
    for (Date day = std::max(range.from, *log.firstEntry); day <= *log.lastEntry && day < range.to; ++day)
        blockOf(day).days += 1;
    const DrainOrder *order = agency.orderInForce(catheter.id, s.asOf);
    if (!order)
        return blocks;
    const Bottling bottling = bottlingOf(agency, *order);
    for (const DrainEntry &entry : agency.entriesOf(catheter.id)) {
        if (!isDone(entry) || !range.contains(entry.at.date) || !entry.volume)
            continue;
        const SessionUnits units = unitsOf(bottling, *entry.volume);
        blockOf(entry.at.date).sessions += 1;
        const auto opened = static_cast<double>(bottling.extra ? units.extras : units.kits);
        blockOf(entry.at.date).units += opened;
        blockOf(entry.at.date).squares += opened * opened;
    }
    return blocks;
}

struct CaseloadMoments {
    Moments habit, units;
    double days = 0, beyond = 0;

    void add(const Blocks &blocks) {
        std::array<double, kBlocks> offered{}, done{}, sessions{}, units_{};
        double allOffered = 0, allDone = 0, allBeyond = 0, within = 0, freedom = 0;
        for (std::size_t i = 0; i < kBlocks; ++i) {
            offered[i] = blocks[i].offered;
            done[i] = blocks[i].done;
            sessions[i] = blocks[i].sessions;
            units_[i] = blocks[i].units;
            allOffered += offered[i];
            allDone += done[i];
            if (sessions[i] >= kLeastInBlock) {
                within += blocks[i].squares - units_[i] * units_[i] / sessions[i];
                freedom += sessions[i] - 1;
            }
            allBeyond += blocks[i].beyond;
            days += blocks[i].days;
        }
        beyond += allBeyond;
        // Shrunk to nine in ten: few are missed. Drains beyond the order add their own chance part.
        const double p = (allDone - allBeyond + 1.8) / (allOffered + 2);
        const double rare = allOffered > 0 ? allBeyond / allOffered : 0;
        addHome(habit, offered, done, p * (1 - p) + rare, p * (1 - p));
        // A tilt moves the mean by the variance of the units times itself.
        const double spread = freedom > 0 ? within / freedom : 0;
        addHome(units, sessions, units_, spread, spread * spread);
    }
};

} // namespace

CaseloadWander learnWander(const SnapshotIndex &agency) {
    std::vector<const Catheter *> catheters;
    for (const Catheter &catheter : agency.snapshot().catheters)
        if (agency.isInService(catheter) && !agency.entriesOf(catheter.id).empty())
            catheters.push_back(&catheter);
    CaseloadMoments moments;
    const std::size_t count = std::min(kMostHomes, catheters.size());
    for (std::size_t i = 0; i < count; ++i)
        moments.add(blocksOf(agency, *catheters[i * catheters.size() / count]));

    CaseloadWander wander;
    const std::int64_t least = agency.snapshot().settings[SettingKey::OwnFigureLeastN];
    const auto learned = [](const Moments &m, double assumed) {
        const double each = m.scale / static_cast<double>(m.homes);
        return std::max(m.drift + kPriorHomes * each * assumed, 0.0) / (m.scale + kPriorHomes * each);
    };
    if (moments.habit.homes >= least) {
        wander.beyondPerDay = moments.beyond / std::max(moments.days, 1.0);
        const double habit = learned(moments.habit, 1.0 / wander.steadySessions); // as a part of p (1 - p)
        wander.steadySessions = std::clamp(1.0 / std::max(habit, 1e-9), kLeastSteady, kMostSteady);
    }
    if (moments.units.homes >= least) { // homes whose sessions all open the same number tell nothing
        const double tilt = learned(moments.units, wander.unitsTilt * wander.unitsTilt);
        wander.unitsTilt = std::clamp(std::sqrt(tilt), kLeastTilt, kMostTilt);
    }
    return wander;
}

} // namespace kitround::forecast
