#pragma once
// May this nurse be named for this patient? Whoever is named has today every skill that the patient's usual
// visits ask for: a skill that has run out is no skill.
#include "core/records/Snapshot.h"

#include <optional>
#include <vector>

namespace kitround::caseload {

struct LackingSkill {
    Skill skill = Skill::DrainChest;
    std::optional<Date> expiredOn; // had once, no longer valid from this day
    friend bool operator==(const LackingSkill &, const LackingSkill &) = default;
};
// By the catheters in service and the visit orders in force on the day; in the order of the skills.
std::vector<LackingSkill> lackingSkills(const SnapshotIndex &agency, PatientId patient, const Nurse &nurse,
                                        Date on);

} // namespace kitround::caseload
