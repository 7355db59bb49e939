#include "core/caseload/OwnFigures.h"

#include <algorithm>
#include <map>

namespace kitround::caseload {
namespace {

SettingKey minutesKey(VisitKind kind) {
    switch (kind) {
    case VisitKind::StartOfCare:
        return SettingKey::VisitMinutesStart;
    case VisitKind::Resumption:
        return SettingKey::VisitMinutesResumption;
    case VisitKind::Recertification:
        return SettingKey::VisitMinutesRecert;
    case VisitKind::Discharge:
        return SettingKey::VisitMinutesDischarge;
    case VisitKind::Routine:
        return SettingKey::VisitMinutesRoutine;
    case VisitKind::Teaching:
        return SettingKey::VisitMinutesTeaching;
    case VisitKind::DrainOnly:
        return SettingKey::VisitMinutesDrainOnly;
    case VisitKind::DressingCheck:
        return SettingKey::VisitMinutesDressing;
    case VisitKind::SupplyCount:
        return SettingKey::VisitMinutesSupplyCount;
    case VisitKind::SymptomFollowUp:
        return SettingKey::VisitMinutesFollowUp;
    case VisitKind::AsNeeded:
        return SettingKey::VisitMinutesAsNeeded;
    case VisitKind::Supervisory:
        return SettingKey::VisitMinutesSupervisory;
    case VisitKind::Phone:
        return SettingKey::VisitMinutesPhone;
    }
    return SettingKey::VisitMinutesRoutine;
}

} // namespace

std::vector<LearnedFigure> ownVisitMinutes(const Snapshot &agency) {
    std::map<SettingKey, std::vector<std::int64_t>> minutes;
    for (const Visit &visit : agency.visits) {
        const std::optional<Minutes> length = visit.lasted();
        if (visit.status == VisitStatus::Done && length && length->count() > 0)
            minutes[minutesKey(visit.kind)].push_back(length->count());
    }
    std::vector<LearnedFigure> figures;
    for (auto &[key, values] : minutes) {
        std::ranges::sort(values);
        const std::size_t n = values.size();
        const std::int64_t median = n % 2 == 1 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2] + 1) / 2;
        const auto count = static_cast<std::int64_t>(n);
        figures.push_back({key, median, count, count >= agency.settings[SettingKey::OwnFigureLeastN]});
    }
    return figures;
}

} // namespace kitround::caseload
