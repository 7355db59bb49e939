#include "core/caseload/Assignment.h"

#include "core/rounds/due/VisitsDue.h"

#include <algorithm>

namespace kitround::caseload {

std::vector<LackingSkill> lackingSkills(const SnapshotIndex &agency, PatientId patient, const Nurse &nurse,
                                        Date on) {
    SkillSet needs = rounds::skillsFor(VisitKind::Routine, agency, patient);
    for (const VisitOrder *order : agency.visitOrdersOf(patient))
        if (order->start <= on && (!order->end || on < *order->end))
            needs = SkillSet::fromBits(needs.bits() | order->needs.bits());
    const SkillSet has = skillsOn(nurse, on);
    std::vector<LackingSkill> lacking;
    for (int k = 0; k < kSkillCount; ++k) {
        const auto skill = static_cast<Skill>(k);
        if (!needs.contains(skill) || has.contains(skill))
            continue;
        const auto grant = std::ranges::find(nurse.skills, skill, &SkillGrant::skill);
        lacking.push_back({skill, grant != nurse.skills.end() ? grant->expiresOn : std::nullopt});
    }
    return lacking;
}

} // namespace kitround::caseload
