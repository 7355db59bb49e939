#include "core/supply/RefillNeeds.h"

#include <algorithm>
#include <cmath>

namespace kitround::supply {
namespace {

constexpr double kTaperShare = 0.7; // forecast below this share of the plain rule: tapering or leaving
constexpr double kTaperQuantile = 0.9;

// Usual use over the most days held, from the delivery on.
std::int64_t usualUse(const HomeLine &line, const Item &item, std::int64_t before, std::int64_t held) {
    if (!line.hasPlainRule()) // as needed: what is held lasts the days in nine months of ten
        return line.useQuantile(held, kTaperQuantile) - static_cast<std::int64_t>(line.meanUse(before));
    const std::int64_t planned = line.plainUse(held) - line.plainUse(before);
    // How many further bottles a home opens is not ordered by number; its usual use says it better.
    if (item.kind != ItemKind::Bottle)
        return planned;
    return std::max(planned, static_cast<std::int64_t>(std::ceil(line.meanUse(held) - line.meanUse(before))));
}

// The payer's windows open so many days before the supply ends. An empty home has used up what it had,
// whatever the plain rule says: for it they are open.
std::optional<Date> windowOpens(const HomeLine &line, const std::optional<Date> &supplyEnds,
                                const RefillTerms &terms, Days before, Date today) {
    if (!terms.payer.refillRuleApplies || !line.isKnown() || line.stock() <= 0)
        return today;
    return supplyEnds ? std::optional(*supplyEnds - before) : std::nullopt;
}

} // namespace

RefillTerms refillTermsOf(const SnapshotIndex &agency, const Patient &patient) {
    RefillTerms terms;
    if (const Payer *payer = agency.payer(patient.payer))
        terms.payer = *payer;
    else
        terms.payer.refillRuleApplies = false; // nobody's rule; the agency's own days held stay
    terms.target = static_cast<double>(agency.snapshot().settings[SettingKey::RunOutTargetPermille]) / 1000.0;
    terms.cycle =
        std::min(Days::of(agency.snapshot().settings[SettingKey::RefillCycleDays]), terms.payer.mostDaysHeld);
    return terms;
}

std::optional<RefillNeed> refillNeedOf(const HomeLine &line, const Item &item, const RefillTerms &terms,
                                       const AgencySettings &settings, std::int64_t before,
                                       std::int64_t toNext) {
    if (line.isKnown() && line.chanceDry(toNext) <= terms.target)
        return std::nullopt;
    return refillNeedOn(line, item, terms, settings, before, toNext);
}

RefillNeed refillNeedOn(const HomeLine &line, const Item &item, const RefillTerms &terms,
                        const AgencySettings &settings, std::int64_t before, std::int64_t toNext) {
    const std::int64_t held = before + terms.payer.mostDaysHeld.count();
    RefillNeed need;
    need.stock = Eaches::of(line.stock());
    need.useBefore = Eaches::of(static_cast<std::int64_t>(std::floor(line.meanUse(before))));
    need.useToNext = Eaches::of(line.useQuantile(toNext, 1 - terms.target));
    need.buffer = Eaches::of(line.unitsFor(settings[SettingKey::BufferSessions]));
    need.plainBefore = Eaches::of(line.plainUse(before));
    need.plainHeld = Eaches::of(std::max<std::int64_t>(usualUse(line, item, before, held), 1));
    need.bufferCountsAsHeld = terms.payer.refillRuleApplies;
    const double plainCycle = static_cast<double>(line.plainUse(toNext) - line.plainUse(before));
    if (line.meanUse(toNext) - line.meanUse(before) < kTaperShare * plainCycle)
        need.mostUseToNext = Eaches::of(line.useQuantile(toNext, kTaperQuantile));
    need.pack = item.casePack;
    need.wholeCases = item.sendWholeCases;
    return need;
}

std::optional<Date> earliestDelivery(const HomeLine &line, const std::optional<Date> &supplyEnds,
                                     const RefillTerms &terms, Date today) {
    return windowOpens(line, supplyEnds, terms, terms.payer.deliverAtMostBefore, today);
}

std::optional<Date> earliestContact(const HomeLine &line, const std::optional<Date> &supplyEnds,
                                    const RefillTerms &terms, Date today) {
    return windowOpens(line, supplyEnds, terms, terms.payer.contactAtMostBefore, today);
}

Date nextDeliveryAfter(Date delivery, const Patient &patient, const RefillTerms &terms,
                       const CourierCalendar &courier) {
    const Date cycle = delivery + terms.cycle;
    if (patient.allowsCourier)
        return courier.firstOnOrAfter(cycle).value_or(cycle);
    return cycle.plusDays(7); // visits that far ahead are not planned yet: allow a week
}

double daysCoveredBy(const HomeLine &line, std::int64_t before, Eaches stock, Eaches sent) {
    const std::int64_t left = std::max<std::int64_t>(stock.count() - line.plainUse(before), 0);
    return line.daysCovered(before, left + sent.count());
}

// What is lost by being dry is taken at its mean: exact where the use is sure or the home is not dry before.
double chanceDryAfter(const HomeLine &line, std::int64_t before, std::int64_t until, Eaches sent) {
    until = std::min(until, line.horizon());
    if (until <= before || until <= 0)
        return 0;
    const auto &use = line.forecast().cumulated;
    const double lost = before > 0 ? use[static_cast<std::size_t>(before - 1)].shortage(line.stock()) : 0;
    return use[static_cast<std::size_t>(until - 1)].above(line.stock() + sent.count() + std::llround(lost));
}

} // namespace kitround::supply
