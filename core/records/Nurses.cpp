#include "core/records/Nurses.h"

#include <algorithm>

namespace kitround {

bool endsAtStoreroom(const Nurse &nurse) {
    return nurse.startsAtStoreroom && !nurse.base.point;
}

SkillSet skillsOn(const Nurse &nurse, Date on) {
    SkillSet skills;
    for (const SkillGrant &grant : nurse.skills)
        if (!grant.expiresOn || on < *grant.expiresOn)
            skills.insert(grant.skill);
    return skills;
}

std::vector<Shift> shiftsIn(DateRange range, const std::vector<Nurse> &nurses,
                            const std::vector<ShiftPattern> &patterns, const std::vector<ExtraShift> &extras,
                            const std::vector<TimeOff> &off) {
    std::vector<Shift> shifts;
    for (const Nurse &nurse : nurses) {
        if (!nurse.isActive)
            continue;
        for (Date day = range.from; day < range.to; ++day) {
            const bool isOff = std::ranges::any_of(
                off, [&](const TimeOff &t) { return t.nurse == nurse.id && t.coversDay(day); });
            if (isOff)
                continue;
            bool patternIsReplaced = false;
            for (const ExtraShift &extra : extras) {
                if (extra.nurse != nurse.id || extra.on != day)
                    continue;
                patternIsReplaced = patternIsReplaced || extra.replacesPattern;
                shifts.push_back({nurse.id, day, extra.from, extra.to, {}, {}, {}, extra.isOnCall});
            }
            if (patternIsReplaced)
                continue;
            for (const ShiftPattern &p : patterns)
                if (p.nurse == nurse.id && p.weekday == day.weekday() && p.validFrom <= day &&
                    (!p.validTo || day < *p.validTo))
                    shifts.push_back(
                        {nurse.id, day, p.from, p.to, p.breakLength, p.breakFrom, p.breakTo, p.isOnCall});
        }
    }
    std::ranges::stable_sort(shifts, {}, [](const Shift &s) { return std::tuple(s.nurse, s.on, s.from); });
    return shifts;
}

} // namespace kitround
