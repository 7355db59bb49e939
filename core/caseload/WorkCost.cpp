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
        for (const SupplyCost &supplies : work_.suppliesByNurse)
            ofNurse_[supplies.mainNurse.value_or(NurseId())].supplies = roundedCents(supplies.costMinor);
        for (const SupplyCost &supplies : work_.suppliesByArea)
            ofArea_[supplies.area].supplies = roundedCents(supplies.costMinor);
        addCouriers();
        return finished();
    }

private:
    static Money roundedCents(double minor) { return Money::of(std::llround(minor)); }

    void addWork(WorkCost &cost, const WorkDone &done) const {
        cost.visits = done.visits;
        cost.paidWay = done.driven - done.estimated;
        cost.mileage = mileagePaid(s_.settings, cost.paidWay);
        cost.overtime = done.overtime;
        cost.overtimePay = overtimePaid(s_.settings, done.overtime);
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
