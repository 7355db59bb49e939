#include "tests/sample/AwkwardCases.h"

#include "core/calendar/Deadlines.h"
#include "core/calendar/Holidays.h"
#include "core/safety/IncidentReports.h"

#include <algorithm>

namespace kitround::sample {
namespace {

template <class Records, class Test>
bool any(const Records &records, Test test) {
    return std::ranges::any_of(records, test);
}

class Finder {
public:
    Finder(const SnapshotIndex &agency, DateRange week) : a_(agency), s_(agency.snapshot()), week_(week) {}

    std::vector<AwkwardCase> find() const {
        std::vector<AwkwardCase> cases;
        const auto add = [&](const char *name, bool isThere) { cases.push_back({name, isThere}); };
        add("hospital hold, open, with expected return", any(s_.holds, [&](const Hold &h) {
                return h.kind == HoldKind::Hospital && !h.to && h.expectedReturn &&
                       *h.expectedReturn > s_.asOf;
            }));
        add("hold overdue", any(s_.holds, [&](const Hold &h) {
                return !h.to && h.expectedReturn && *h.expectedReturn < s_.asOf;
            }));
        add("travel hold, still draining", any(s_.holds, [&](const Hold &h) {
                return h.kind == HoldKind::Travel && h.stillDraining && !h.to;
            }));
        add("just referred, 48-hour clock running", any(s_.patients, [&](const Patient &p) {
                const auto due = calendar::firstVisitDue(p, s_.settings);
                return p.status == CareStatus::Referred && due &&
                       *due > Instant::fromUnixSeconds(s_.asOf.dayNumber() * 86400);
            }));
        add("tapering output", any(s_.catheters, [&](const Catheter &c) { return isTapering(c); }));
        add("sudden drop", any(s_.catheters, [&](const Catheter &c) { return hasDropped(c); }));
        add("entry over the prescribed maximum", any(s_.drainEntries, [&](const DrainEntry &e) {
                const DrainOrder *order = a_.orderInForce(e.catheter, e.at.date);
                return order && order->mostPerSession && e.volume && *e.volume > *order->mostPerSession;
            }));
        addPeople(add);
        addSupplies(add);
        addVisits(add);
        addLog(add);
        addIncidents(add);
        return cases;
    }

private:
    bool hasRecertifications() const {
        int inTime = 0, late = 0;
        for (const Visit &visit : s_.visits) {
            const Patient *patient = a_.patient(visit.patient);
            if (visit.kind != VisitKind::Recertification || visit.status != VisitStatus::Done || !patient ||
                !patient->startOfCare)
                continue;
            // A late one lies in the next period already.
            const auto period = calendar::certificationPeriod(*patient->startOfCare, *visit.on, s_.settings);
            ++(period.recertWindow.contains(*visit.on) ? inTime : late);
        }
        return late > 0 && inTime > 4 * late;
    }
    std::vector<std::int64_t> volumes(const Catheter &c) const {
        std::vector<std::int64_t> ml;
        for (const DrainEntry &e : a_.entriesOf(c.id))
            if (e.volume)
                ml.push_back(e.volume->count());
        return ml;
    }
    // The last ten drains hold less than half of the ten a month before.
    bool isTapering(const Catheter &c) const {
        const auto ml = volumes(c);
        if (!a_.isInService(c) || ml.size() < 25)
            return false;
        std::int64_t late = 0, early = 0;
        for (std::size_t i = 0; i < 10; ++i) {
            late += ml[ml.size() - 1 - i];
            early += ml[ml.size() - 15 - i];
        }
        return 2 * late < early;
    }
    bool hasDropped(const Catheter &c) const {
        const auto ml = volumes(c);
        if (!a_.isInService(c) || ml.size() < 6)
            return false;
        const std::int64_t last = ml[ml.size() - 1], before = ml[ml.size() - 4];
        return before > 200 && last * 3 < before && ml[ml.size() - 5] > 200;
    }

    template <class Add>
    void addPeople(const Add &add) const {
        const auto allergic = [&](Material m) {
            return any(s_.patients, [&](const Patient &p) {
                return isOnService(p.status) && std::ranges::find(p.allergies, m) != p.allergies.end();
            });
        };
        add("latex allergy", allergic(Material::Latex));
        add("adhesive allergy", allergic(Material::Adhesive));
        add("never asked about allergies, not assessed yet", any(s_.patients, [](const Patient &p) {
                return isOnService(p.status) && !isAllergyKnown(p) && !p.acuity && !p.emergencyPriority;
            }));
        add("two catheters in one patient", any(s_.patients, [&](const Patient &p) {
                return isOnService(p.status) && a_.cathetersOf(p.id).size() == 2;
            }));
        add("missing coordinates", any(s_.patients, [](const Patient &p) { return !p.address.point; }));
        add("a language only one nurse speaks", any(s_.patients, [&](const Patient &p) {
                return p.status == CareStatus::Active && !p.languages.empty() &&
                       std::ranges::count_if(s_.nurses, [&](const Nurse &n) {
                           return std::ranges::find(n.languages, p.languages.front()) != n.languages.end();
                       }) == 1;
            }));
        add("barred nurse", any(s_.patients, [](const Patient &p) { return !p.barredNurses.empty(); }));
        add("nurse on leave in the week", any(s_.timeOff, [&](const TimeOff &t) {
                return t.kind == TimeOffKind::Leave && t.from <= week_.from && week_.to <= t.to;
            }));
        add("leave asked for while a nurse of the same area is off", any(s_.timeOff, [&](const TimeOff &t) {
                return t.status == LeaveStatus::Requested && any(s_.timeOff, [&](const TimeOff &other) {
                           const Nurse *one = a_.nurse(t.nurse), *two = a_.nurse(other.nurse);
                           return other.status == LeaveStatus::Approved && other.nurse != t.nurse &&
                                  other.from < t.to && t.from < other.to && one->base.area == two->base.area;
                       });
            }));
        add("night on call before a working day", any(s_.extraShifts, [&](const ExtraShift &e) {
                return e.isOnCall && e.to <= e.from && any(s_.shiftPatterns, [&](const ShiftPattern &p) {
                           return p.nurse == e.nurse && !p.isOnCall &&
                                  p.weekday == e.on.plusDays(1).weekday();
                       });
            }));
        add("recertification made in its window, and one made late", hasRecertifications());
        add("skill expiring", any(s_.nurses, [&](const Nurse &n) {
                return any(n.skills, [&](const SkillGrant &g) {
                    return g.expiresOn && *g.expiresOn > s_.asOf && *g.expiresOn < s_.asOf.plusDays(30);
                });
            }));
        add("patient leaves service soon", any(s_.drainOrders, [&](const DrainOrder &o) {
                return o.end && *o.end > s_.asOf && *o.end < s_.asOf.plusDays(21) &&
                       !any(s_.drainOrders, [&](const DrainOrder &other) { return other.replaces == o.id; });
            }));
    }

    template <class Add>
    void addSupplies(const Add &add) const {
        add("item on backorder", any(s_.supplierItems, [&](const SupplierItem &o) {
                return o.backorderedUntil && *o.backorderedUntil > s_.asOf;
            }));
        add("lot expiring", any(s_.balances, [&](const StockBalance &b) {
                const Lot *lot = b.lot ? a_.lot(*b.lot) : nullptr;
                return lot && b.place.kind == PlaceKind::Storeroom && b.quantity.count() > 0 &&
                       lot->expiresOn && *lot->expiresOn < s_.asOf.plusDays(60);
            }));
        add("lot in quarantine", any(s_.balances, [&](const StockBalance &b) {
                const Lot *lot = b.lot ? a_.lot(*b.lot) : nullptr;
                return lot && lot->state == LotState::Quarantined && b.place.kind == PlaceKind::Quarantine;
            }));
        add("recalled lot in homes",
            any(s_.balances, [&](const StockBalance &b) { return isRecalledAtHome(b, false); }));
        add("recalled lot with a discharged patient",
            any(s_.balances, [&](const StockBalance &b) { return isRecalledAtHome(b, true); }));
        const auto carried = [&](const CarPar &p) {
            Eaches sum;
            for (const StockBalance &b : a_.balancesAt(Place::car(p.nurse)))
                sum += b.item == p.item ? b.quantity : Eaches{};
            return sum;
        };
        add("car below its par", any(s_.carPars, [&](const CarPar &p) { return carried(p) < p.par; }) &&
                                     any(s_.carPars, [&](const CarPar &p) { return carried(p) == p.par; }));
        add("car without a par", any(s_.balances, [&](const StockBalance &b) {
                return b.place.kind == PlaceKind::Car && b.quantity.count() > 0 &&
                       std::ranges::none_of(s_.carPars,
                                            [&](const CarPar &p) { return Place::car(p.nurse) == b.place; });
            }));
        add("budget for supplies", s_.settings[SettingKey::SupplyBudgetMinor] > 0);
        add("sheet on used bottles, said to be invented",
            s_.settings.usedBottleRules.find("invented") != std::string::npos);
        add("home stock never counted", any(s_.catheters, [&](const Catheter &c) {
                const DrainOrder *order = a_.orderInForce(c.id, s_.asOf);
                return a_.isInService(c) && order && !a_.lastCount(c.id, order->kit) &&
                       a_.deliveriesOf(c.patient).empty();
            }));
        add("delivery in transit",
            any(s_.deliveries, [](const Delivery &d) { return d.status == DeliveryStatus::InTransit; }));
        add("delivery promised",
            any(s_.deliveries, [](const Delivery &d) { return d.status == DeliveryStatus::Promised; }));
        add("delivery in a nurse's car", any(s_.deliveries, [](const Delivery &d) {
                return d.status == DeliveryStatus::Picked && d.way == DeliveryWay::WithVisit;
            }));
        for (const auto &[name, status] : {std::pair("order sent", PurchaseStatus::Sent),
                                           std::pair("order partly received", PurchaseStatus::PartlyReceived),
                                           std::pair("order drafted", PurchaseStatus::Draft)})
            add(name, any(s_.purchaseOrders, [&](const PurchaseOrder &o) { return o.status == status; }));
        add("car stock",
            any(s_.balances, [](const StockBalance &b) { return b.place.kind == PlaceKind::Car; }));
    }
    bool isRecalledAtHome(const StockBalance &b, bool hasLeft) const {
        const Lot *lot = b.lot ? a_.lot(*b.lot) : nullptr;
        if (!lot || lot->state != LotState::Recalled || b.place.kind != PlaceKind::Home ||
            b.quantity.count() <= 0)
            return false;
        const Catheter *catheter = a_.catheter(CatheterId(b.place.ref));
        return isExit(a_.patient(catheter->patient)->status) == hasLeft;
    }

    template <class Add>
    void addVisits(const Add &add) const {
        bool hasHoliday = false;
        for (Date day = week_.from; day < week_.to; ++day)
            hasHoliday = hasHoliday || calendar::holidayOn(day);
        add("holiday in the week", hasHoliday);
        add("two-nurse visit", any(s_.patients, [](const Patient &p) { return p.needsTwoNurses; }) &&
                                   any(s_.visits, [](const Visit &v) { return v.secondNurse.has_value(); }));
        add("locked visit", any(s_.visits, [&](const Visit &v) {
                return v.dayIsLocked && v.nurseIsLocked && v.timeIsLocked && v.on && week_.contains(*v.on);
            }));
        add("recertification window in the week", any(s_.patients, [&](const Patient &p) {
                if (p.status != CareStatus::Active || !p.startOfCare)
                    return false;
                const auto window =
                    calendar::certificationPeriod(*p.startOfCare, week_.from, s_.settings).recertWindow;
                return week_.from <= window.from && window.to <= week_.to;
            }));
        add("missed visit", any(s_.visits, [](const Visit &v) { return v.status == VisitStatus::Missed; }));
        add("this week's plan published", any(s_.plans, [&](const Plan &p) {
                return p.status == PlanStatus::Published && p.weekStart.plusDays(7) == week_.from;
            }));
    }

    template <class Add>
    void addLog(const Add &add) const {
        add("order without a maximum", any(s_.catheters, [&](const Catheter &c) {
                const DrainOrder *order = a_.orderInForce(c.id, s_.asOf);
                return a_.isInService(c) && order && !order->mostPerSession;
            }));
        add("catheter without an order", any(s_.catheters, [&](const Catheter &c) {
                return a_.isInService(c) && a_.ordersOf(c.id).empty();
            }));
        add("unsigned verbal order", any(s_.drainOrders, [&](const DrainOrder &o) {
                return o.isVerbal && !o.signedOn && o.start < s_.asOf;
            }));
        add("order changed, history kept",
            any(s_.drainOrders, [](const DrainOrder &o) { return o.replaces.has_value(); }));
        add("silent log", any(s_.catheters, [&](const Catheter &c) {
                const auto log = a_.entriesOf(c.id);
                return a_.isInService(c) && a_.orderInForce(c.id, s_.asOf) &&
                       !a_.holdOn(c.patient, s_.asOf) && !log.empty() &&
                       log.back().at.date < s_.asOf.plusDays(-8);
            }));
        add("entry without a volume", any(s_.drainEntries, [](const DrainEntry &e) {
                return e.outcome == DrainOutcome::Drained && !e.volume;
            }));
        add("symptom reported",
            any(s_.drainEntries, [](const DrainEntry &e) { return !e.symptoms.empty(); }));
    }

    template <class Add>
    void addIncidents(const Add &add) const {
        add("faulty bottle kept, its lot still given out, report due soon",
            any(s_.incidents, [&](const Incident &i) {
                const Lot *lot = i.lot ? a_.lot(*i.lot) : nullptr;
                return i.kind == IncidentKind::Device && lot && lot->state == LotState::Usable &&
                       !i.keptPlace.empty() && i.reportDueOn && !i.reportedOn && !i.closedOn &&
                       *i.reportDueOn >= s_.asOf && safety::isReportNear(*i.reportDueOn, s_.asOf);
            }));
        add("incident heard of late, prescriber not told, no report",
            any(s_.incidents, [](const Incident &i) {
                return !i.closedOn && !i.reportDueOn && i.patient && !i.prescriberToldOn &&
                       i.learnedOn > i.at.date;
            }));
        add("incident closed with its outcome",
            any(s_.incidents, [](const Incident &i) { return i.closedOn && !i.outcome.empty(); }));
        add("decision of a former week, still open", any(s_.decisionNotes, [&](const DecisionNote &d) {
                return !d.closedOn && d.weekStart.plusDays(7) <= s_.asOf;
            }));
        add("decision for the week to plan", any(s_.decisionNotes, [&](const DecisionNote &d) {
                return !d.closedOn && d.weekStart == week_.from;
            }));
        add("decision closed with its outcome",
            any(s_.decisionNotes, [](const DecisionNote &d) { return d.closedOn && !d.outcome.empty(); }));
    }

    const SnapshotIndex &a_;
    const Snapshot &s_;
    DateRange week_;
};

} // namespace

std::vector<AwkwardCase> awkwardCases(const SnapshotIndex &agency, DateRange week) {
    return Finder(agency, week).find();
}

} // namespace kitround::sample
