#include "core/caseload/WorkCost.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace kitround::caseload {
namespace {

class CostSheet {
public:
    CostSheet(const Productivity &work, const SnapshotIndex &agency)
        : work_(work), agency_(agency), s_(agency.snapshot()) {}

    WorkCosts run() {
        for (const NurseWork &nurse : work_.nurses)
            addWork(ofNurse_[nurse.nurse], nurse.done);
        for (const AreaWork &area : work_.areas)
            addWork(ofArea_[area.area], area.done);
        for (const SupplyCost &supplies : work_.suppliesByNurse) {
            const NurseId whose = supplies.mainNurse.value_or(NurseId());
            ofNurse_.try_emplace(whose); // listed, at no cost too
            suppliesOfNurse_[whose] = supplies.costMinor;
        }
        for (const SupplyCost &supplies : work_.suppliesByArea) {
            ofArea_.try_emplace(supplies.area);
            suppliesOfArea_[supplies.area] = supplies.costMinor;
        }
        addCouriers();
        addMoney(ofNurse_, suppliesOfNurse_);
        addMoney(ofArea_, suppliesOfArea_);
        return finished();
    }

private:
    // A whole in cents by weights: rounded down, and the cents left over to those that lost most by it.
    template <class Key>
    static void shareOut(Money whole, const std::map<Key, double> &weights, std::map<Key, WorkCost> &costs,
                         Money WorkCost::*part) {
        double sum = 0;
        for (const auto &[key, weight] : weights)
            sum += weight;
        if (sum <= 0)
            return;
        std::vector<std::pair<double, Key>> lost;
        std::int64_t left = whole.count();
        for (const auto &[key, weight] : weights) {
            const double exact = static_cast<double>(whole.count()) * weight / sum;
            const auto cents = static_cast<std::int64_t>(std::floor(exact));
            costs[key].*part = Money::of(cents);
            left -= cents;
            lost.emplace_back(static_cast<double>(cents) - exact, key);
        }
        std::ranges::stable_sort(lost, {}, &std::pair<double, Key>::first);
        for (std::size_t i = 0; i < lost.size() && left > 0; ++i, --left)
            costs[lost[i].second].*part += Money::of(1);
    }

    // The same work by nurse and by area must come to the same sum: it is rounded once, as a whole.
    template <class Key>
    void addMoney(std::map<Key, WorkCost> &costs, const std::map<Key, double> &supplies) const {
        std::map<Key, double> way, overtime;
        Metres wholeWay;
        Minutes wholeOvertime;
        double wholeSupplies = 0;
        for (const auto &[key, cost] : costs) {
            way[key] = static_cast<double>(cost.paidWay.count());
            overtime[key] = static_cast<double>(cost.overtime.count());
            wholeWay += cost.paidWay;
            wholeOvertime += cost.overtime;
        }
        for (const auto &[key, minor] : supplies)
            wholeSupplies += minor;
        shareOut(mileagePaid(s_.settings, wholeWay), way, costs, &WorkCost::mileage);
        shareOut(overtimePaid(s_.settings, wholeOvertime), overtime, costs, &WorkCost::overtimePay);
        shareOut(Money::of(std::llround(wholeSupplies)), supplies, costs, &WorkCost::supplies);
    }

    static void addWork(WorkCost &cost, const WorkDone &done) {
        cost.visits = done.visits;
        cost.paidWay = done.driven - done.estimated;
        cost.overtime = done.overtime;
    }

    // Two parcels for one home on one day come with one run.
    void addCouriers() {
        std::set<std::pair<PatientId, Date>> runs;
        for (const Delivery &delivery : s_.deliveries)
            if (delivery.way == DeliveryWay::Courier && delivery.deliveredAt &&
                work_.days.contains(delivery.deliveredAt->date))
                runs.emplace(delivery.patient, delivery.deliveredAt->date);
        const Money run = Money::of(s_.settings[SettingKey::CourierCostMinor]);
        for (const auto &[id, day] : runs)
            if (const Patient *patient = agency_.patient(id))
                for (WorkCost *cost : {&ofNurse_[patient->primaryNurse.value_or(NurseId())],
                                       &ofArea_[patient->address.area]}) {
                    ++cost->courierRuns;
                    cost->couriers += run;
                }
    }

    WorkCosts finished() {
        WorkCosts all;
        for (auto &[id, cost] : ofNurse_) {
            if (agency_.nurse(id))
                cost.nurse = id;
            all.byNurse.push_back(cost);
        }
        std::ranges::stable_sort(all.byNurse, {}, [&](const WorkCost &cost) {
            const Nurse *nurse = cost.nurse ? agency_.nurse(*cost.nurse) : nullptr;
            return std::tuple(nurse == nullptr, nurse ? nurse->familyName : std::string(),
                              nurse ? nurse->givenName : std::string());
        });
        for (auto &[area, cost] : ofArea_) {
            cost.area = area;
            all.byArea.push_back(cost);
        }
        return all;
    }

    const Productivity &work_;
    const SnapshotIndex &agency_;
    const Snapshot &s_;
    std::map<NurseId, WorkCost> ofNurse_; // without a number: homes without a main nurse
    std::map<AreaKind, WorkCost> ofArea_;
    std::map<NurseId, double> suppliesOfNurse_; // cents, not rounded
    std::map<AreaKind, double> suppliesOfArea_;
};

} // namespace

WorkCosts workCosts(const Productivity &work, const SnapshotIndex &agency) {
    return CostSheet(work, agency).run();
}

WorkCost wholeCost(const std::vector<WorkCost> &costs) {
    WorkCost whole;
    for (const WorkCost &cost : costs) {
        whole.visits += cost.visits;
        whole.paidWay += cost.paidWay;
        whole.overtime += cost.overtime;
        whole.courierRuns += cost.courierRuns;
        whole.mileage += cost.mileage;
        whole.overtimePay += cost.overtimePay;
        whole.couriers += cost.couriers;
        whole.supplies += cost.supplies;
    }
    return whole;
}

} // namespace kitround::caseload
