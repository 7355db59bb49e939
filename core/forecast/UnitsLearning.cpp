#include "core/forecast/UnitsLearning.h"

#include "core/forecast/LogReading.h"

#include <algorithm>
#include <cmath>

namespace kitround::forecast {
namespace {

using enum SettingKey;

// Sessions that the assumed volume weighs in units a session: "replace with agency logs after 3-5 sessions"
// (trade fact on the planning volume, assumed).
constexpr double kVolumePriorSessions = 4;
// Spread of the log of a session's volume. 100 to 1000 mL around 400 is named as the usual range (assumed);
// as the central 95 % of a log-normal that is ln(10) / 3.92.
constexpr double kLogVolumeSpread = 0.587;
constexpr std::int64_t kMostLost = 3;   // of one item in one session; more is a typing error
constexpr double kNegligibleTap = 2e-6; // 84 sessions move less than a five-thousandth of a unit

// The most units a believable session opens of one item.
std::int64_t mostUnits(const Bottling &b) {
    if (!b.most || !b.kitVolume)
        return kMostUnits;
    const std::int64_t smallest = std::min(*b.kitVolume, b.extraVolume.value_or(*b.kitVolume)).count();
    return std::min(kMostUnits, (b.most->count() + smallest - 1) / smallest + 1);
}

std::optional<Millilitres> volumeOf(const DrainEntry &e) {
    if (!e.volume && e.outcome == DrainOutcome::Dry)
        return Millilitres{};
    return e.volume;
}

double normalCdf(double z) {
    return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

struct Prior {
    Counts kits, extras;
    SessionUnits plain; // of the planning volume itself
};

Prior priorOf(const Bottling &b, const VolumeLog &volume, CavitySite site, const AgencySettings &settings) {
    const std::int64_t plan = settings[site == CavitySite::Chest ? PlanVolumeChest : PlanVolumeAbdomen];
    Prior prior;
    prior.plain = unitsOf(b, Millilitres::of(plan));
    // The setting is a mean; the log-normal's median lies below it.
    const double assumed = std::log(static_cast<double>(std::max<std::int64_t>(plan, 1))) -
                           kLogVolumeSpread * kLogVolumeSpread / 2.0;
    const double centre =
        (kVolumePriorSessions * assumed + volume.logSum) / (kVolumePriorSessions + volume.wetWeight);
    const std::int64_t most = mostUnits(b);
    if (!b.kitVolume) {
        prior.kits.add(1, kVolumePriorSessions, most);
        prior.extras.add(0, kVolumePriorSessions, most);
        return prior;
    }
    // Cut at the volumes where one more bottle is opened.
    double below = 0;
    for (std::int64_t step = 0; step <= kMostUnits; ++step) {
        const std::int64_t size = b.extraVolume.value_or(*b.kitVolume).count();
        const Millilitres upTo = Millilitres::of(b.kitVolume->count() + step * size);
        const bool isLast = step == kMostUnits || (b.most && *b.most <= upTo);
        const double cdf =
            isLast ? 1.0
                   : normalCdf((std::log(static_cast<double>(upTo.count())) - centre) / kLogVolumeSpread);
        const SessionUnits units = unitsOf(b, upTo);
        prior.kits.add(units.kits, kVolumePriorSessions * (cdf - below), most);
        prior.extras.add(units.extras, kVolumePriorSessions * (cdf - below), most);
        below = cdf;
        if (isLast)
            break;
    }
    return prior;
}

// Every unit used is preceded by a beta-geometric number of lost ones, cut at two (the third is one in 1e5).
Pmf unitWithWaste(const BetaBelief &waste) {
    if (waste.a <= 0.0)
        return Pmf::certain(1);
    const double sum = waste.a + waste.b;
    const double none = waste.b / sum;
    const double one = waste.a / sum * waste.b / (sum + 1.0);
    return Pmf({0.0, none, one, std::max(0.0, 1.0 - none - one)});
}

// Units opened for 0, 1, 2, ... used ones.
std::vector<Pmf> openedFor(const BetaBelief &waste, std::int64_t most) {
    const Pmf one = unitWithWaste(waste);
    std::vector<Pmf> opened(1);
    opened.reserve(static_cast<std::size_t>(most) + 1);
    for (std::int64_t n = 1; n <= most; ++n)
        opened.push_back(opened.back().plus(one));
    return opened;
}

Pmf withWaste(const std::vector<double> &used, const std::vector<Pmf> &opened) {
    std::vector<double> sum(opened[used.size() - 1].size(), 0.0);
    for (std::size_t n = 0; n < used.size(); ++n)
        for (std::size_t k = 0; k < opened[n].size(); ++k)
            sum[k] += used[n] * opened[n][k];
    double tail = 0; // taps that cost time and show nothing
    while (sum.size() > 1 && tail + sum.back() < kNegligibleTap) {
        tail += sum.back();
        sum.pop_back();
    }
    sum.back() += tail;
    return Pmf(std::move(sum));
}

// Where a home's own mean may lie: the used units tilted, q(k) ~ p(k) exp(t k), by four even parts of a
// normal t (conditional means of its quarters, scaled to its variance). Its variance is what n sessions leave
// open, 1 / (n var p), and what a home's volume wanders over the horizon (assumed). The mean of all stays
// p's.
constexpr std::array kQuarters = {-1.3702, -0.3500, 0.3500, 1.3702};
constexpr double kMostTilt = 1.6;
constexpr double kLeastVariance = 0.005; // what varies less is one unit a session, and needs no levels

double meanOf(std::span<const double> p) {
    double mean = 0;
    for (std::size_t k = 0; k < p.size(); ++k)
        mean += static_cast<double>(k) * p[k];
    return mean;
}

void tilt(const std::vector<double> &p, double t, std::vector<double> &q) {
    q = p;
    const double factor = std::exp(t);
    double times = 1, sum = 0;
    for (double &x : q) {
        x *= times;
        sum += x;
        times *= factor;
    }
    for (double &x : q)
        x /= sum;
}

std::vector<std::vector<double>> levelsOf(const std::vector<double> &p, double sessions, double wander) {
    const double mean = meanOf(p);
    double variance = 0;
    for (std::size_t k = 0; k < p.size(); ++k)
        variance += (static_cast<double>(k) - mean) * (static_cast<double>(k) - mean) * p[k];
    std::vector<std::vector<double>> levels;
    if (variance < kLeastVariance)
        return levels;
    levels.resize(kQuarters.size());
    const double spread = std::min(kMostTilt, std::sqrt(1.0 / (sessions * variance) + wander * wander));
    double shift = 0;
    for (int round = 0; round < 6; ++round) { // Newton: the slope of the mean in t is the variance
        double reached = 0, slope = 0;
        for (std::size_t i = 0; i < kQuarters.size(); ++i) {
            tilt(p, spread * kQuarters[i] + shift, levels[i]);
            const double m = meanOf(levels[i]);
            reached += m / kQuarters.size();
            for (std::size_t k = 0; k < p.size(); ++k)
                slope += (static_cast<double>(k) - m) * (static_cast<double>(k) - m) * levels[i][k] /
                         kQuarters.size();
        }
        if (std::abs(reached - mean) < 1e-6 || slope < 1e-9)
            break;
        shift += std::clamp((mean - reached) / slope, -1.0, 1.0);
    }
    return levels;
}

Counts together(const Counts &a, const Counts &b) {
    Counts sum = a;
    for (std::size_t k = 0; k < sum.weight.size(); ++k)
        sum.weight[k] += b.weight[k];
    return sum;
}

ItemUse useOf(ItemId item, const Counts &units, const std::vector<Pmf> &opened, double wander) {
    ItemUse use;
    use.item = item;
    const std::vector<double> shares = units.shares();
    use.perSession = withWaste(shares, opened);
    const auto levels = levelsOf(shares, units.total(), wander);
    use.levels.reserve(levels.size());
    for (const std::vector<double> &level : levels)
        use.levels.push_back({1.0 / kQuarters.size(), withWaste(level, opened)});
    return use;
}

} // namespace

UnitsLog readUnits(std::span<const DrainEntry> entries, const Bottling &b, const AgencySettings &settings,
                   const Discount &discount) {
    UnitsLog log;
    const double share = static_cast<double>(settings[WastePermille]) / 1000.0;
    const double weight = static_cast<double>(settings[WasteWeight]);
    log.waste = {share * weight, (1.0 - share) * weight};
    const std::int64_t most = mostUnits(b);
    for (const DrainEntry &e : entries) {
        if (!isDone(e) || e.at.date < discount.from())
            continue;
        const double w = discount(e.at.date);
        log.sessions += w;
        const std::optional<Millilitres> volume = volumeOf(e);
        if (volume) {
            log.volume.weight += w;
            log.volume.sum += w * static_cast<double>(volume->count());
            if (volume->count() > 0) {
                log.volume.wetWeight += w;
                log.volume.logSum += w * std::log(static_cast<double>(volume->count()));
            }
        }
        SessionUnits used{0, 0};
        bool isWrittenDown = false;
        for (const BottleUse &u : e.supplies) {
            const bool isKit = u.item == b.kit, isExtra = b.extra && u.item == *b.extra;
            if (!isKit && !isExtra)
                continue;
            isWrittenDown = true;
            (isKit ? used.kits : used.extras) += u.used.count();
            const std::int64_t lost = std::clamp<std::int64_t>(u.lost.count(), 0, kMostLost);
            const std::int64_t opened = std::clamp<std::int64_t>(u.used.count(), 0, most);
            log.waste = log.waste.after(w * static_cast<double>(lost), w * static_cast<double>(opened));
        }
        if (!isWrittenDown && !volume)
            continue; // a session, but what it used is not known
        if (!isWrittenDown)
            used = unitsOf(b, *volume);
        log.kits.add(used.kits, w, most);
        log.extras.add(used.extras, w, most);
    }
    return log;
}

std::vector<ItemUse> itemsFrom(const Bottling &b, const UnitsLog &log, CavitySite site,
                               const AgencySettings &settings, double wander) {
    const Prior prior = priorOf(b, log.volume, site, settings);
    const bool isLogged = log.kits.total() > 0;
    const std::vector<Pmf> opened = openedFor(log.waste, mostUnits(b));
    std::vector<ItemUse> items;
    items.reserve(2);
    ItemUse kit = useOf(b.kit, together(prior.kits, log.kits), opened, wander);
    // One session, one kit; only where no extra bottle is ordered do further kits stand in for it.
    kit.plainPerSession = b.extra ? 1.0 : isLogged ? log.kits.mean() : static_cast<double>(prior.plain.kits);
    items.push_back(std::move(kit));
    if (b.extra) {
        ItemUse extra = useOf(*b.extra, together(prior.extras, log.extras), opened, wander);
        extra.plainPerSession = isLogged ? log.extras.mean() : static_cast<double>(prior.plain.extras);
        items.push_back(std::move(extra));
    }
    return items;
}

} // namespace kitround::forecast
