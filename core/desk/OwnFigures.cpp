#include "core/desk/OwnFigures.h"

#include "core/caseload/OwnFigures.h"
#include "core/supply/LeadTimes.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

struct Mean {
    double sum = 0;
    std::int64_t n = 0;
    void add(double value, std::int64_t times = 1) {
        sum += value * static_cast<double>(times);
        n += times;
    }
};

class Figures {
public:
    explicit Figures(std::int64_t leastN) : leastN_(leastN) {}
    void add(SettingKey key, double value, std::int64_t n) {
        if (n > 0)
            found_.push_back({key, std::llround(value), n, n >= leastN_});
    }
    void add(SettingKey key, const Mean &mean) {
        if (mean.n > 0)
            add(key, mean.sum / static_cast<double>(mean.n), mean.n);
    }
    std::vector<LearnedFigure> take() {
        std::ranges::stable_sort(found_, {}, &LearnedFigure::key);
        return std::move(found_);
    }

private:
    std::int64_t leastN_;
    std::vector<LearnedFigure> found_;
};

void addLeadTimes(Figures &figures, const SnapshotIndex &index) {
    Mean days;
    Mean spread;
    for (const Supplier &supplier : index.snapshot().suppliers) {
        const supply::LeadTime lead = supply::leadTimeOf(index, supplier);
        days.add(lead.meanDays, lead.n);
        if (lead.n > 1)
            spread.add(lead.spreadDays, lead.n);
    }
    figures.add(SettingKey::LeadDays, days);
    figures.add(SettingKey::LeadSpreadDays, spread);
}

void addDrains(Figures &figures, const SnapshotIndex &index) {
    std::int64_t opened = 0;
    std::int64_t lost = 0;
    Mean chest;
    Mean abdomen;
    for (const DrainEntry &entry : index.snapshot().drainEntries) {
        for (const BottleUse &use : entry.supplies) {
            opened += use.used.count() + use.lost.count();
            lost += use.lost.count();
        }
        const Catheter *catheter = index.catheter(entry.catheter);
        if (catheter && entry.volume && entry.outcome == DrainOutcome::Drained)
            (catheter->site == CavitySite::Chest ? chest : abdomen)
                .add(static_cast<double>(entry.volume->count()));
    }
    if (opened > 0)
        figures.add(SettingKey::WastePermille,
                    1000.0 * static_cast<double>(lost) / static_cast<double>(opened), opened);
    figures.add(SettingKey::PlanVolumeChest, chest);
    figures.add(SettingKey::PlanVolumeAbdomen, abdomen);
}

void addReferrals(Figures &figures, const Snapshot &agency) {
    const auto firstDay = Instant::fromUnixSeconds(agency.logFrom.dayNumber() * 86400);
    const std::int64_t n = std::ranges::count_if(
        agency.patients, [&](const Patient &p) { return p.referredAt && *p.referredAt >= firstDay; });
    const double weeks = static_cast<double>((agency.asOf - agency.logFrom).count()) / 7.0;
    if (weeks >= 1)
        figures.add(SettingKey::ReferralsPerWeekHundredths, 100.0 * static_cast<double>(n) / weeks, n);
}

} // namespace

std::vector<LearnedFigure> ownFigures(const Agency &agency) {
    Figures figures(agency.settings()[SettingKey::OwnFigureLeastN]);
    for (const LearnedFigure &own : caseload::ownVisitMinutes(agency.snapshot()))
        figures.add(own.key, static_cast<double>(own.value), own.n);
    addLeadTimes(figures, agency.index());
    addDrains(figures, agency.index());
    addReferrals(figures, agency.snapshot());
    return figures.take();
}

AgencySettings settingsInUse(const Snapshot &agency) {
    AgencySettings inUse = agency.settings;
    for (const LearnedFigure &own : caseload::ownVisitMinutes(agency)) {
        const SettingInfo &info = infoOf(own.key);
        const bool isSetByHand = agency.settings[own.key] != info.preset;
        if (own.n >= agency.settings[SettingKey::OwnFigureLeastN] && !isSetByHand)
            inUse.set(own.key, std::clamp(own.value, info.least, info.most));
    }
    return inUse;
}

} // namespace kitround::desk
