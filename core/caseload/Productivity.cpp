#include "core/caseload/Productivity.h"

#include "core/caseload/CareDays.h"
#include "core/caseload/VisitsMade.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace kitround::caseload {
namespace {

class Summer {
public:
    Summer(const SnapshotIndex &agency, DateRange days) : agency_(agency), s_(agency.snapshot()) {
        all_.days = days;
    }

    Productivity run() {
        for (const Visit &visit : s_.visits)
            if (visit.status == VisitStatus::Done && visit.on && all_.days.contains(*visit.on))
                addVisit(visit);
        finishWork();
        addPatientDays();
        addSupplies();
        finishSupplies();
        return std::move(all_);
    }

private:
    static Minutes inHomeOf(const Visit &visit) { return visit.lasted().value_or(visit.length); }

    Minutes roadOf(const Visit &visit, AreaKind area) const {
        if (!visit.driven)
            return Minutes::of(0);
        return roadFromMiles(s_.settings, *visit.driven, area);
    }

    void addVisit(const Visit &visit) {
        const Patient *patient = agency_.patient(visit.patient);
        const AreaKind area = patient ? patient->address.area : AreaKind::Suburban;
        const Minutes inHome = inHomeOf(visit), notes = notesLength(s_.settings, visit.kind);
        const Minutes road = roadOf(visit, area);
        const auto add = [&](WorkDone &done, bool drives) {
            ++done.visits;
            done.inHome += inHome;
            done.notes += notes;
            if (drives) {
                done.road += road;
                done.driven += visit.driven.value_or(Metres());
                done.estimated += visit.drivenIsEstimated ? visit.driven.value_or(Metres()) : Metres();
            }
        };
        add(areas_[indexOf(area)], true);
        KindWork &kind = kinds_[visit.kind];
        kind.kind = visit.kind;
        ++kind.visits;
        kind.inHome += inHome;
        kind.planned += visit.length;
        kind.notes += notes;
        for (const auto &[nurse, drives] :
             {std::pair(visit.nurse, true), std::pair(visit.secondNurse, false)}) {
            if (!nurse)
                continue;
            NurseWork &work = nurses_[*nurse];
            work.nurse = *nurse;
            add(work.done, drives);
            ++work.visitsByArea[indexOf(area)];
            ++visitsOf_[{*nurse, *visit.on}][indexOf(area)];
            const std::int64_t week = (*visit.on - all_.days.from).count() / 7;
            paid_[{*nurse, week}][indexOf(area)] += inHome + notes + (drives ? road : Minutes::of(0));
        }
    }

    // An area's part is told up to and with each area, so that the parts sum up to the whole.
    void addOvertime(const Nurse &nurse, const std::array<Minutes, kAreas> &paid) {
        const Minutes whole = paid[0] + paid[1] + paid[2];
        if (whole <= nurse.contractPerWeek)
            return;
        const Minutes overtime = whole - nurse.contractPerWeek;
        nurses_[nurse.id].done.overtime += overtime;
        Minutes upTo, told;
        for (std::size_t a = 0; a < kAreas; ++a) {
            upTo += paid[a];
            const Minutes part = Minutes::of(overtime.count() * upTo.count() / whole.count());
            areas_[a].overtime += part - told;
            told = part;
        }
    }

    void finishWork() {
        for (const auto &[nurseDay, byArea] : visitsOf_) {
            const int sum = byArea[0] + byArea[1] + byArea[2];
            nurses_[nurseDay.first].done.days += 1;
            for (std::size_t a = 0; a < kAreas; ++a)
                areas_[a].days += static_cast<double>(byArea[a]) / sum;
        }
        for (const auto &[nurseWeek, minutes] : paid_)
            if (const Nurse *nurse = agency_.nurse(nurseWeek.first); nurse && !nurse->overtimeExempt)
                addOvertime(*nurse, minutes);
        for (const auto &[id, work] : nurses_)
            if (agency_.nurse(id))
                all_.nurses.push_back(work);
        std::ranges::stable_sort(all_.nurses, {}, [&](const NurseWork &w) {
            const Nurse &nurse = *agency_.nurse(w.nurse);
            return std::tuple(nurse.familyName, nurse.givenName, nurse.id);
        });
        for (std::size_t a = 0; a < kAreas; ++a)
            if (areas_[a].visits > 0)
                all_.areas.push_back({static_cast<AreaKind>(a), areas_[a]});
        for (const auto &[kind, work] : kinds_)
            all_.kinds.push_back(work);
    }

    SupplyCost &byNurse(const Patient &patient) {
        SupplyCost &cost = ofNurse_[patient.primaryNurse.value_or(NurseId())];
        cost.mainNurse = patient.primaryNurse;
        return cost;
    }
    SupplyCost &byArea(const Patient &patient) {
        SupplyCost &cost = ofArea_[patient.address.area];
        cost.area = patient.address.area;
        return cost;
    }

    void addPatientDays() {
        for (const Patient &patient : s_.patients)
            for (Date day = all_.days.from; day < all_.days.to; ++day)
                if (isPatientDay(agency_, patient, day)) {
                    ++byNurse(patient).patientDays;
                    ++byArea(patient).patientDays;
                }
    }

    std::optional<double> priceEach(ItemId item) const {
        const SupplierItem *best = nullptr;
        for (const SupplierItem &offer : s_.supplierItems)
            if (offer.item == item && !offer.isDiscontinued &&
                (!best || (offer.isPreferred && !best->isPreferred)))
                best = &offer;
        if (!best || best->pack.eachesPerCase.count() <= 0)
            return std::nullopt;
        return static_cast<double>(best->perCase.count()) /
               static_cast<double>(best->pack.eachesPerCase.count());
    }

    void addSupplies() {
        std::map<ItemId, std::optional<double>> prices;
        for (const DrainEntry &entry : s_.drainEntries) {
            if (!all_.days.contains(entry.at.date) || entry.outcome == DrainOutcome::NotDone)
                continue;
            const Catheter *catheter = agency_.catheter(entry.catheter);
            const Patient *patient = catheter ? agency_.patient(catheter->patient) : nullptr;
            if (!patient)
                continue;
            all_.drainsWithoutSupplies += entry.supplies.empty() ? 1 : 0;
            for (const BottleUse &use : entry.supplies) {
                const auto [price, isNew] = prices.try_emplace(use.item);
                if (isNew)
                    price->second = priceEach(use.item);
                const Eaches opened = use.used + use.lost;
                for (SupplyCost *cost : {&byNurse(*patient), &byArea(*patient)}) {
                    cost->used += opened;
                    cost->costMinor += price->second.value_or(0) * static_cast<double>(opened.count());
                }
            }
        }
        for (const auto &[item, price] : prices)
            all_.itemsWithoutPrice += price ? 0 : 1;
    }

    void finishSupplies() {
        for (const auto &[nurse, cost] : ofNurse_)
            all_.suppliesByNurse.push_back(cost);
        for (const auto &[area, cost] : ofArea_)
            all_.suppliesByArea.push_back(cost);
        std::ranges::stable_sort(all_.suppliesByNurse, {}, [&](const SupplyCost &c) {
            const Nurse *nurse = c.mainNurse ? agency_.nurse(*c.mainNurse) : nullptr;
            return std::tuple(nurse == nullptr, nurse ? nurse->familyName : std::string(),
                              nurse ? nurse->givenName : std::string());
        });
    }

    const SnapshotIndex &agency_;
    const Snapshot &s_;
    Productivity all_;
    std::map<NurseId, NurseWork> nurses_;
    std::array<WorkDone, kAreas> areas_;
    std::map<VisitKind, KindWork> kinds_;
    std::map<std::pair<NurseId, Date>, std::array<int, kAreas>> visitsOf_;
    std::map<std::pair<NurseId, std::int64_t>, std::array<Minutes, kAreas>> paid_; // by nurse and week
    std::map<NurseId, SupplyCost> ofNurse_;
    std::map<AreaKind, SupplyCost> ofArea_;
};

} // namespace

double WorkDone::travelShare() const {
    const std::int64_t whole = (inHome + notes + road).count();
    return whole > 0 ? static_cast<double>(road.count()) / static_cast<double>(whole) : 0;
}

AreaKind NurseWork::mostly() const {
    return static_cast<AreaKind>(std::ranges::max_element(visitsByArea) - visitsByArea.begin());
}

Productivity productivity(const SnapshotIndex &agency, DateRange days) {
    return Summer(agency, days).run();
}

} // namespace kitround::caseload
