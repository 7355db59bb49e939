#pragma once
// Who may do what and until when: nurses by skill, with what has run out, what soon does, and what one nurse
// alone can do. Signs stand before the words, so that nothing hangs on a colour.
#include "core/desk/Desk.h"
#include "core/desk/Table.h"

#include <QString>

#include <array>
#include <vector>

namespace kitround::desk {

inline constexpr Days kSkillNotice = Days::of(30); // how long before it ends a skill is shown (assumed)

enum class SkillState : std::uint8_t { NotHeld, Held, Soon, Expired }; // Soon: ends within kSkillNotice
struct SkillCell {
    SkillState state = SkillState::NotHeld;
    std::optional<Date> until; // last valid day
    bool isOnlyHolder = false; // nobody else's is valid today
};
struct SkillRow {
    NurseId nurse;
    QString name;
    std::array<SkillCell, kSkillCount> cells;
    std::optional<Date> lastJoint; // last visit done by two nurses, this one of them; as far as the log goes
};
struct SkillMatrix {
    std::vector<SkillRow> rows;           // active nurses, by name
    std::array<int, kSkillCount> valid{}; // how many hold it today
};
SkillMatrix skillMatrix(const Agency &agency);
QString words(const SkillCell &cell, Date today);
// One nurse's in a line, those that end with their last valid day; and what ran out or ends within the
// notice, empty where nothing does.
QString skillsText(const Nurse &nurse, Date today);
QString skillNotice(const Nurse &nurse, Date today);
// "assess is valid to Mon 7 Dec", "assess has expired (valid to ...)": one that ends, however far ahead.
QString skillEndText(const SkillGrant &grant, Date today);
Table skillTable(const SkillMatrix &matrix, const Agency &agency);

} // namespace kitround::desk
