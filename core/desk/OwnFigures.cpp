#include "core/desk/OwnFigures.h"

#include "core/calendar/LocalDay.h"
#include "core/caseload/OwnFigures.h"
#include "core/supply/LeadTimes.h"

#include <algorithm>
#include <cmath>
#include <optional>

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

// Referrals within the loaded log, or since the first one on record where the agency is younger than that.
std::optional<LearnedFigure> ownReferrals(const Snapshot &agency) {
    std::optional<Date> first;
    std::int64_t n = 0;
    for (const Patient &patient : agency.patients) {
        if (!patient.referredAt)
            continue;
        const Date on = calendar::localDayOf(agency.settings, *patient.referredAt);
        first = first ? std::min(*first, on) : on;
        n += on >= agency.logFrom && on <= agency.asOf ? 1 : 0;
    }
    if (n == 0)
        return std::nullopt;
    const std::int64_t days = (agency.asOf - std::max(*first, agency.logFrom)).count();
    if (days < 7)
        return std::nullopt;
    const double aWeek = 7.0 * static_cast<double>(n) / static_cast<double>(days);
    return LearnedFigure{SettingKey::ReferralsPerWeekHundredths, std::llround(100.0 * aWeek), n,
                         n >= agency.settings[SettingKey::OwnFigureLeastN]};
}

// Figures that no engine learns by itself.
std::vector<LearnedFigure> figuresForSettings(const Snapshot &agency) {
    std::vector<LearnedFigure> own = caseload::ownVisitMinutes(agency);
    if (const auto referrals = ownReferrals(agency))
        own.push_back(*referrals);
    return own;
}

} // namespace

std::vector<LearnedFigure> ownFigures(const Agency &agency) {
    Figures figures(agency.settings()[SettingKey::OwnFigureLeastN]);
    for (const LearnedFigure &own : figuresForSettings(agency.snapshot()))
        figures.add(own.key, static_cast<double>(own.value), own.n);
    addLeadTimes(figures, agency.index());
    addDrains(figures, agency.index());
    return figures.take();
}

AgencySettings settingsInUse(const Snapshot &agency) {
    AgencySettings inUse = agency.settings;
    for (const LearnedFigure &own : figuresForSettings(agency)) {
        const SettingInfo &info = infoOf(own.key);
        const bool isSetByHand = agency.settings[own.key] != info.preset;
        if (own.n >= agency.settings[SettingKey::OwnFigureLeastN] && !isSetByHand)
            inUse.set(own.key, std::clamp(own.value, info.least, info.most));
    }
    return inUse;
}

} // namespace kitround::desk
