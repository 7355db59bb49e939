#include "tests/bench/ForecastBench.h"

#include "core/forecast/HomeForecast.h"
#include "tests/bench/Measure.h"
#include "tests/bench/world/World.h"

#include <algorithm>
#include <chrono>
#include <ctime>
#include <iomanip>
#include <sstream>

namespace kitround::bench {
namespace {

using Clock = std::chrono::steady_clock;

double since(Clock::time_point start) {
    return std::chrono::duration<double>(Clock::now() - start).count();
}

struct Updates {
    double medianMs = 0;
    double slowestMs = 0;
    std::size_t count = 0;
};

// One more drain of this morning at every 25th home: its forecast anew, from the agency's figures at hand.
Updates timeUpdates(World &world) {
    std::vector<DrainEntry> &entries = world.snapshot.drainEntries;
    for (std::size_t i = 0; i < entries.size(); ++i)
        if (i + 1 == entries.size() || entries[i + 1].catheter != entries[i].catheter)
            entries[i].at.date = world.snapshot.asOf; // the last line becomes a new one
    const SnapshotIndex agency(world.snapshot);
    const forecast::AgencyFigures figures = forecast::learnFigures(agency);
    std::vector<double> times;
    for (std::size_t i = 0; i < world.futures.size(); i += 25) {
        const Catheter &catheter = *agency.catheter(world.futures[i].catheter);
        const auto start = Clock::now();
        const auto home = forecast::forecastHome(agency, catheter, {}, figures);
        times.push_back(1e3 * since(start));
        if (home.empty())
            times.pop_back();
    }
    std::ranges::sort(times);
    if (times.empty())
        return {};
    return {times[times.size() / 2], times.back(), times.size()};
}

} // namespace

Result<std::string> benchForecast(const ForecastWish &wish) {
    World world = makeWorld({.kind = WorldKind::HospitalStays,
                             .patients = wish.patients,
                             .seed = wish.seed,
                             .withHistory = false});
    const double before = static_cast<double>(peakMemoryKib()) / 1024.0;
    std::size_t lines = 0;
    double seconds = 0, busy = 0, peak = 0, meanUse = 0;
    {
        const SnapshotIndex agency(world.snapshot);
        const auto start = Clock::now();
        const std::clock_t cpu = std::clock();
        const auto all = forecast::forecastAll(agency, {Days::of(84), false}, {}, {});
        seconds = since(start);
        busy = static_cast<double>(std::clock() - cpu) / CLOCKS_PER_SEC;
        if (!all)
            return all.error();
        peak = static_cast<double>(peakMemoryKib()) / 1024.0;
        lines = all->size();
        for (const forecast::ItemForecast &f : *all)
            for (const forecast::WeekUse &week : f.weeks)
                meanUse += week.mean / static_cast<double>(lines);
    }
    const Updates updates = timeUpdates(world);
    std::ostringstream out;
    out << std::fixed << std::setprecision(4);
    if (wish.asJson)
        out << "{\"verb\": \"forecast\", \"patients\": " << wish.patients << ", \"seed\": " << wish.seed
            << ", \"seconds\": " << seconds << ", \"cpu_seconds\": " << busy << ", \"peak_mib\": " << peak
            << ", \"agency_mib\": " << before << ", \"lines\": " << lines
            << ", \"weeks\": 12, \"mean_use\": " << meanUse << ", \"update_ms_median\": " << updates.medianMs
            << ", \"update_ms_slowest\": " << updates.slowestMs << ", \"updates\": " << updates.count
            << "}\n";
    else
        out << wish.patients << " patients, " << lines << " lines, 12 weeks: " << seconds << " s (" << busy
            << " of processor time), peak " << peak << " MiB (" << before
            << " of it the agency); one home after a new entry: median " << updates.medianMs
            << " ms, slowest " << updates.slowestMs << " ms of " << updates.count << "\n";
    return out.str();
}

} // namespace kitround::bench
