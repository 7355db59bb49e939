#pragma once
// Visits by two nurses at once: who with whom, when and why. Those to come first, then what was done.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"
#include "core/desk/words/Words.h"

#include <vector>

namespace kitround::desk {

struct JointVisit {
    VisitId visit;
    PatientId patient;
    Date on;
    std::optional<Minutes> at;
    NurseId nurse;
    std::optional<NurseId> with; // none: asked for by two, and one alone is named
    bool isDone = false;
    QString why;
};
inline constexpr std::int64_t kJointWeeksBack = 8;
// Planned from today on, the next first; then made in the eight weeks before, the newest first. Of visits
// that ask for two themselves or have a second nurse; the phone takes one.
std::vector<JointVisit> jointVisits(const Agency &agency);
Table jointVisitTable(const std::vector<JointVisit> &visits, const Agency &agency,
                      PatientNamed named = PatientNamed::Initials);

} // namespace kitround::desk
