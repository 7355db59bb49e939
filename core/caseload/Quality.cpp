#include "core/caseload/Quality.h"

#include "core/caseload/CareDays.h"
#include "core/records/MonthClose.h"
#include "core/safety/Cautions.h"

#include <algorithm>
#include <optional>
#include <set>

namespace kitround::caseload {
namespace {

constexpr std::int64_t kTaughtWithin = 14; // days, the start of care being day 1 (common practice)

// Not the day it was planned for; nothing: it was not made.
std::optional<Date> dayMade(const Visit &visit) {
    return visit.status == VisitStatus::Done ? visit.day() : std::nullopt;
}

class MonthCounter {
public:
    MonthCounter(const SnapshotIndex &agency, DateRange days) : agency_(agency), s_(agency.snapshot()) {
        month_.days = days;
    }

    QualityMonth run() {
        for (const Patient &patient : s_.patients) {
            addCatheterDays(patient);
            addTeaching(patient);
        }
        addSigns();
        for (const Hold &hold : s_.holds)
            add(QualityMeasure::HospitalStays,
                hold.kind == HoldKind::Hospital && month_.days.contains(hold.from) ? 1 : 0, 0);
        for (const Visit &visit : s_.visits)
            if (const auto made = dayMade(visit); made && month_.days.contains(*made))
                add(QualityMeasure::UnplannedVisits, visit.kind == VisitKind::AsNeeded ? 1 : 0, 1);
        for (const Delivery &delivery : s_.deliveries)
            if (delivery.deliveredAt && delivery.deliverBy &&
                month_.days.contains(delivery.deliveredAt->date))
                add(QualityMeasure::LateRefills, delivery.deliveredAt->date > *delivery.deliverBy ? 1 : 0, 1);
        return month_;
    }

private:
    void add(QualityMeasure measure, std::int64_t count, std::int64_t of) {
        QualityCount &sum = month_.measures[static_cast<std::size_t>(measure)];
        sum.count += count;
        sum.of += of;
    }

    void addCatheterDays(const Patient &patient) {
        std::int64_t catheterDays = 0;
        for (const Catheter *catheter : agency_.cathetersOf(patient.id))
            for (Date day = month_.days.from; day < month_.days.to; ++day)
                catheterDays += isCatheterDay(agency_, patient, *catheter, day) ? 1 : 0;
        add(QualityMeasure::InfectionSigns, 0, catheterDays);
        add(QualityMeasure::HospitalStays, 0, catheterDays);
    }

    void addTeaching(const Patient &patient) {
        if (!patient.startOfCare || *patient.startOfCare < s_.logFrom) // its visits are not all loaded
            return;
        const Date after = patient.startOfCare->plusDays(kTaughtWithin); // the first day too late
        if (!month_.days.contains(after.plusDays(-1)) || after > s_.asOf)
            return;
        const std::optional<Date> ended = careEndedOn(agency_, patient);
        if (ended && *ended < after) // it had not the days to be taught in
            return;
        const bool isTaught = std::ranges::any_of(agency_.visitsOf(patient.id), [&](const Visit *visit) {
            const std::optional<Date> made = dayMade(*visit);
            return visit->kind == VisitKind::Teaching && made && *made < after;
        });
        add(QualityMeasure::TaughtInTime, isTaught ? 1 : 0, 1);
    }

    // However often it was written down, a month counts a catheter once.
    void addSigns() {
        std::set<CatheterId> withSigns;
        for (const DrainEntry &entry : s_.drainEntries)
            if (month_.days.contains(entry.at.date) &&
                std::ranges::any_of(entry.symptoms, safety::isInfectionSign))
                withSigns.insert(entry.catheter);
        add(QualityMeasure::InfectionSigns, static_cast<std::int64_t>(withSigns.size()), 0);
    }

    const SnapshotIndex &agency_;
    const Snapshot &s_;
    QualityMonth month_;
};

} // namespace

QualityMonth qualityOf(const SnapshotIndex &agency, DateRange days) {
    return MonthCounter(agency, days).run();
}

std::vector<QualityMonth> qualityByMonth(const SnapshotIndex &agency) {
    const Snapshot &s = agency.snapshot();
    std::vector<QualityMonth> months;
    Date from = monthOf(s.logFrom);
    if (from < s.logFrom)
        from = monthAfter(from);
    for (; from <= s.asOf; from = monthAfter(from))
        months.push_back(qualityOf(agency, {from, std::min(monthAfter(from), s.asOf.plusDays(1))}));
    return months;
}

} // namespace kitround::caseload
