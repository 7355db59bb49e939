#include "core/supply/Refills.h"

#include "core/supply/DeliveryDays.h"
#include "core/supply/RefillNeeds.h"
#include "core/supply/StartUps.h"
#include "core/supply/StoreroomShare.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace kitround::supply {
namespace {

constexpr std::int64_t kSoonDays = 7; // CallSoon
constexpr double kEarlyChance = 0.1;  // runOutP10
constexpr std::int64_t kFarOver = 2;  // times the offer (assumed)
constexpr std::int64_t kVisitGoesFirst =
    7; // days a planned visit may bring goods before the last courier day

struct Window {
    HomeLine line;
    std::optional<Date> supplyEnds;
    Date from;     // earliest delivery
    Date by;       // latest delivery that holds the target
    Date callFrom; // earliest contact
};

// Chooses the day of one delivery from what is possible.
struct Choice {
    std::optional<DeliveryDay> day;
    std::optional<DeliveryDay> first; // that the payer allows
    std::optional<DeliveryDay> after; // next possible delivery
    bool isLate = false;
    bool payerRuleBinds = false;
};

// A day whose last call falls before the first the payer allows would be asked about too early.
Choice chooseDay(const std::vector<DeliveryDay> &days, Date from, Date by, Date callFrom) {
    Choice choice;
    const auto payerAllows = [&](const DeliveryDay &d) { return d.on >= from && d.callBy >= callFrom; };
    const auto allowed = [&](const DeliveryDay &d) { return payerAllows(d) && d.on <= by; };
    if (const auto first = std::ranges::find_if(days, payerAllows); first != days.end())
        choice.first = *first;
    const DeliveryDay *last = nullptr;
    const DeliveryDay *lastVisit = nullptr;
    for (const DeliveryDay &day : days)
        if (allowed(day)) {
            if (!last || day.on > last->on)
                last = &day; // of one day's ways the first listed stays: the visit
            if (day.way == DeliveryWay::WithVisit)
                lastVisit = &day;
        }
    if (lastVisit && (last->on - lastVisit->on).count() <= kVisitGoesFirst)
        last = lastVisit;
    if (!last) {
        choice.payerRuleBinds = !days.empty() && !payerAllows(days.front());
        choice.isLate = days.empty() || days.front().on > by;
        for (const DeliveryDay &day : days)
            if (!last && payerAllows(day))
                last = &day;
    }
    if (last) {
        choice.day = *last;
        for (const DeliveryDay &day : days)
            if (!choice.after && day.on > last->on)
                choice.after = day;
    }
    return choice;
}

class PatientRefill {
public:
    PatientRefill(const SnapshotIndex &agency, const CourierCalendar &courier, const Patient &patient)
        : agency_(agency), courier_(courier), patient_(patient), today_(agency.snapshot().asOf),
          terms_(refillTermsOf(agency, patient)) {
        proposal_.patient = patient.id;
    }

    void add(const forecast::ItemForecast &forecast) {
        const Item *item = agency_.item(forecast.item);
        const Catheter *catheter = agency_.catheter(forecast.catheter);
        if (!item || !catheter || forecast.cumulated.empty())
            return;
        const HomeLine line(forecast, today_);
        if (!line.isKnown() && awaitsFirstDelivery(agency_, *catheter))
            return; // nothing to count there yet
        const auto by = line.isKnown() ? line.deliverBy(terms_.target, firstDeliveryFor(forecast))
                                       : std::optional(today_);
        if (const auto bar = barOf(agency_, *item, patient_, *catheter)) {
            if (by)
                proposal_.barred.push_back({forecast.catheter, forecast.item, *bar});
            return;
        }
        const auto ends = line.isKnown() ? line.supplyEnds() : std::nullopt;
        // Nothing within the horizon: the supply lasts longer than any window we look at.
        windows_.push_back({line, ends, earliestDelivery(line, ends, terms_, today_).value_or(kNever),
                            by.value_or(kNever),
                            earliestContact(line, ends, terms_, today_).value_or(kNever)});
    }

    std::optional<RefillProposal> proposal() {
        const Window *driver = mostPressing();
        if (!driver)
            return barredOnly();
        setWindows(*driver);
        // What is asked about on the first day of contact comes a courier's lead time later.
        const Date until = std::max({driver->by.plusDays(14), today_.plusDays(14), driver->from.plusDays(14),
                                     driver->callFrom.plusDays(28)});
        const auto days = deliveryDays(agency_, patient_, courier_, until);
        const Choice choice = chooseDay(days, std::max(driver->from, today_), driver->by, driver->callFrom);
        setDay(choice, *driver);
        for (const Window &window : windows_)
            addLine(window, choice);
        if (proposal_.lines.empty())
            return barredOnly();
        setUrgency(choice);
        return std::move(proposal_);
    }

private:
    static constexpr Date kNever = Date::fromDayNumber(1'000'000);

    // Asked for only where goods are on their way: nothing else makes a day past helping.
    std::int64_t firstDeliveryFor(const forecast::ItemForecast &forecast) {
        return (forecast.inTransit + forecast.promised).count() > 0 ? daysToFirstDelivery() : 0;
    }
    std::int64_t daysToFirstDelivery() {
        if (!daysToFirstDelivery_) {
            constexpr std::int64_t kLook = 14; // later than that is as good as never
            const auto days = deliveryDays(agency_, patient_, courier_, today_.plusDays(kLook));
            daysToFirstDelivery_ = days.empty() ? kLook : (days.front().on - today_).count();
        }
        return *daysToFirstDelivery_;
    }

    const Window *mostPressing() const {
        const Window *found = nullptr;
        for (const Window &window : windows_)
            if (window.by != kNever && window.from != kNever && (!found || window.by < found->by))
                found = &window;
        return found;
    }

    // Something is needed that must not be sent: the proposal carries no line, but is not silent.
    std::optional<RefillProposal> barredOnly() {
        if (proposal_.barred.empty())
            return std::nullopt;
        proposal_.urgency = RefillUrgency::CallToday;
        proposal_.lines.clear();
        for (Date *date : {&proposal_.callFrom, &proposal_.callBy, &proposal_.deliverFrom,
                           &proposal_.deliverBy, &proposal_.deliverOn})
            *date = today_;
        proposal_.hasNoWay = true;
        return std::move(proposal_);
    }

    void setWindows(const Window &driver) {
        for (const Window &window : windows_) {
            if (window.supplyEnds && (!proposal_.supplyEnds || *window.supplyEnds < *proposal_.supplyEnds))
                proposal_.supplyEnds = window.supplyEnds;
            const auto early = window.line.runOutFrom(kEarlyChance);
            if (early && (!proposal_.runOutP10 || *early < *proposal_.runOutP10))
                proposal_.runOutP10 = early;
            proposal_.stockIsUnknown |= !window.line.isKnown();
        }
        proposal_.deliverBy = driver.by;
        proposal_.deliverFrom = driver.from;
        proposal_.callFrom = driver.callFrom;
    }

    void setDay(const Choice &choice, const Window &driver) {
        proposal_.payerRuleBinds = choice.payerRuleBinds;
        proposal_.first = choice.first;
        proposal_.hasNoWay = !choice.day;
        if (choice.day) {
            proposal_.deliverOn = choice.day->on;
            proposal_.way = choice.day->way;
            proposal_.withVisit = choice.day->visit;
            proposal_.callBy = choice.day->callBy;
        } else {
            proposal_.deliverOn = std::max({driver.by, driver.from, driver.callFrom, today_});
            proposal_.way = patient_.allowsCourier ? DeliveryWay::Courier : DeliveryWay::WithVisit;
            proposal_.callBy = std::max({proposal_.deliverOn.plusDays(-1), driver.callFrom, today_});
        }
    }

    // A line is late only where its stock is known: an unknown stock asks for a count, not for alarm.
    bool knownLineIsLate() const {
        return std::ranges::any_of(windows_, [&](const Window &window) {
            return window.line.isKnown() && window.by < proposal_.deliverOn;
        });
    }

    void setUrgency(const Choice &choice) {
        const Date today = today_;
        if ((choice.isLate || (proposal_.hasNoWay && proposal_.deliverBy <= today)) && knownLineIsLate()) {
            proposal_.urgency = RefillUrgency::Overdue;
            proposal_.callBy = std::max(today, proposal_.callFrom);
        } else if (proposal_.stockIsUnknown)
            proposal_.urgency = RefillUrgency::CallToday;
        else if (proposal_.callFrom > today)
            proposal_.urgency = RefillUrgency::Later;
        else if (proposal_.callBy <= today.plusDays(kSpareCallDays))
            proposal_.urgency = RefillUrgency::CallToday;
        else if (proposal_.callBy <= today.plusDays(kSoonDays))
            proposal_.urgency = RefillUrgency::CallSoon;
        else
            proposal_.urgency = RefillUrgency::Later;
    }

    // What is left to need when `part` comes with the same delivery.
    static RefillNeed less(RefillNeed need, Eaches part) {
        need.useToNext -= part;
        need.plainHeld -= need.plainHeld.count() > 0 ? part : Eaches{};
        if (need.mostUseToNext)
            *need.mostUseToNext -= part;
        return need;
    }

    // By a parcel of its own: after this one, before that day, and no earlier than the payer allows of a
    // supply that ends there.
    bool mayComeLater(Date goesBack) const {
        const Payer &payer = terms_.payer;
        const Date from = payer.refillRuleApplies ? goesBack - payer.deliverAtMostBefore : today_;
        const Date callFrom = payer.refillRuleApplies ? goesBack - payer.contactAtMostBefore : today_;
        return std::ranges::any_of(
            deliveryDays(agency_, patient_, courier_, goesBack.plusDays(-1)), [&](const DeliveryDay &day) {
                return day.on > proposal_.deliverOn && day.on >= from && day.callBy >= callFrom;
            });
    }

    void addLine(const Window &window, const Choice &choice) {
        const HomeLine &line = window.line;
        const Date on = proposal_.deliverOn;
        if (window.from > on)
            return; // the payer does not allow it yet
        const std::int64_t before = (on - today_).count();
        const std::int64_t toNext = (nextDeliveryAfter(on, patient_, terms_, courier_) - today_).count();
        const auto needUntil = [&](std::int64_t day) {
            return refillNeedOf(line, *agency_.item(line.forecast().item), terms_,
                                agency_.snapshot().settings, before, day);
        };
        const auto whole = needUntil(toNext);
        if (!whole)
            return; // lasts until the delivery after this one
        RefillNeed need = *whole;
        Eaches covered = need.stock;
        std::optional<Date> onlyFrom;
        if (const Substitution *standIn =
                agency_.substitutionInForce(line.forecast().catheter, line.forecast().item, on);
            standIn && standIn->revertOn < today_.plusDays(toNext)) {
            RefillAmount part;
            if (auto until = needUntil((standIn->revertOn - today_).count())) {
                until->buffer = {};
                until->wholeCases = false; // the cases of what is ordered, not of what stands in
                part = refillQuantity(*until);
            }
            addRow(window, choice, part, need.stock, mostByDaysHeld(need));
            if (!part.quantity.isZero())
                proposal_.lines.back().onlyUntil = standIn->revertOn;
            if (need.plainHeld.count() > 0 && need.plainHeld <= part.quantity)
                return; // that is already the most that may be held
            // What is ordered is short, else nothing would stand in for it: it goes with a later parcel.
            if (!part.quantity.isZero() && mayComeLater(standIn->revertOn))
                return;
            need = less(need, part.quantity);
            covered += part.quantity;
            onlyFrom = standIn->revertOn;
        }
        const RefillAmount amount = refillQuantity(need);
        addRow(window, choice, amount, covered, mostByDaysHeld(need));
        if (!amount.quantity.isZero())
            proposal_.lines.back().onlyFrom = onlyFrom;
    }

    // Nothing where nothing is needed, or what is there already is the most that may be held.
    void addRow(const Window &window, const Choice &choice, const RefillAmount &amount, Eaches stock,
                std::optional<Eaches> mostHeld) {
        if (amount.quantity.isZero())
            return;
        const HomeLine &line = window.line;
        const std::int64_t before = (proposal_.deliverOn - today_).count();
        RefillLine row;
        row.catheter = line.forecast().catheter;
        row.item = line.forecast().item;
        row.onHand = line.forecast().onHand;
        row.recalled = line.forecast().recalled;
        row.expired = line.forecast().expired;
        row.mostHeld = mostHeld;
        row.coming = line.forecast().inTransit + line.forecast().promised;
        row.quantity = amount.quantity;
        row.exactNeed = amount.exactNeed;
        row.limitedBy = amount.limitedBy;
        row.chanceDryBefore = line.chanceDry(before);
        const std::int64_t ifNot = choice.after ? (choice.after->on - today_).count() : before + 7;
        row.chanceDryIfNot = line.chanceDry(ifNot);
        row.nextOn = today_.plusDays(ifNot);
        row.daysCovered = daysCoveredBy(line, before, stock, amount.quantity);
        row.coversByMean = !line.hasPlainRule();
        row.supplyEnds = window.supplyEnds;
        row.deliverFrom = window.from;
        row.stockIsUnknown = !line.isKnown();
        proposal_.lines.push_back(row);
    }

    const SnapshotIndex &agency_;
    const CourierCalendar &courier_;
    const Patient &patient_;
    Date today_;
    RefillTerms terms_;
    std::optional<std::int64_t> daysToFirstDelivery_;
    std::vector<Window> windows_;
    RefillProposal proposal_;
};

using ForecastsByPatient = std::map<PatientId, std::vector<const forecast::ItemForecast *>>;

ForecastsByPatient byPatient(const SnapshotIndex &agency, std::span<const forecast::ItemForecast> forecasts) {
    ForecastsByPatient found;
    for (const forecast::ItemForecast &forecast : forecasts) {
        const Patient *patient = agency.patient(forecast.patient);
        if (patient && isOnService(patient->status) && !agency.holdOn(patient->id, agency.snapshot().asOf))
            found[forecast.patient].push_back(&forecast);
    }
    return found;
}

} // namespace

std::vector<RefillProposal> proposeRefills(const SnapshotIndex &agency,
                                           std::span<const forecast::ItemForecast> forecasts) {
    const Snapshot &snapshot = agency.snapshot();
    const CourierCalendar courier(snapshot.settings, snapshot.now,
                                  Days::of(forecast::ForecastOptions{}.horizon.count()));
    std::vector<RefillProposal> proposals;
    for (const auto &[id, lines] : byPatient(agency, forecasts)) {
        PatientRefill refill(agency, courier, *agency.patient(id));
        for (const forecast::ItemForecast *line : lines)
            refill.add(*line);
        if (auto proposal = refill.proposal())
            proposals.push_back(std::move(*proposal));
    }
    std::ranges::stable_sort(
        proposals, {}, [](const RefillProposal &p) { return std::tuple(p.urgency, p.deliverBy, p.patient); });
    StoreroomShare share(agency);
    for (RefillProposal &proposal : proposals)
        share.serve(proposal);
    return proposals;
}

std::vector<OverOffer> overOffer(const SnapshotIndex &agency, const RefillProposal &offer,
                                 const Delivery &delivery) {
    const std::vector<DeliveryLine> &lines = delivery.lines;
    const StoreroomShare shelf(agency);
    std::vector<OverOffer> found;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const DeliveryLine &line = lines[i];
        OverOffer over{i, line.item, line.quantity, {}, std::nullopt, std::nullopt};
        std::optional<Eaches> most; // an item may stand twice: before and after a substitution's end
        Eaches wanted, together;
        for (const RefillLine &offered : offer.lines)
            if (offered.catheter == line.catheter && offered.item == line.item) {
                over.offered += offered.quantity;
                if (offered.mostHeld)
                    most = std::max(most.value_or(Eaches{}), *offered.mostHeld);
            }
        for (const DeliveryLine &other : lines)
            if (other.item == line.item) {
                together += other.quantity;
                wanted += other.catheter == line.catheter ? other.quantity : Eaches{};
            }
        over.wanted = wanted;
        if (wanted <= over.offered)
            continue;
        const Eaches free = shelf.available(line.item, arrivalOf(delivery, agency.snapshot().asOf));
        if (most && wanted > *most)
            over.mostHeld = most;
        if (together > free)
            over.free = free;
        if (over.mostHeld || over.free || wanted.count() > kFarOver * over.offered.count())
            found.push_back(over);
    }
    return found;
}

} // namespace kitround::supply
