#include "core/desk/views/SkillMatrix.h"

#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

constexpr std::array<const char *, kSkillCount> kSkillKeys = {"drain_chest", "drain_abdomen", "teach",
                                                              "assess",      "site_care",     "draw_blood"};

bool isValid(const SkillCell &held) {
    return held.state == SkillState::Held || held.state == SkillState::Soon;
}

SkillCell cellOf(const SkillGrant &grant, Date today) {
    SkillCell made{SkillState::Held, {}, false};
    if (!grant.expiresOn)
        return made;
    made.until = grant.expiresOn->plusDays(-1);
    if (*grant.expiresOn <= today)
        made.state = SkillState::Expired;
    else if (*grant.expiresOn <= today + kSkillNotice)
        made.state = SkillState::Soon;
    return made;
}

std::map<NurseId, Date> lastJointVisits(const Snapshot &agency) {
    std::map<NurseId, Date> last;
    for (const Visit &visit : agency.visits) {
        const std::optional<Date> day = visit.day();
        if (visit.status != VisitStatus::Done || !visit.nurse || !visit.secondNurse || !day)
            continue;
        for (const NurseId nurse : {*visit.nurse, *visit.secondNurse}) {
            const auto [at, isFirst] = last.try_emplace(nurse, *day);
            at->second = std::max(at->second, *day);
        }
    }
    return last;
}

} // namespace

SkillMatrix skillMatrix(const Agency &agency) {
    SkillMatrix matrix;
    const std::map<NurseId, Date> joint = lastJointVisits(agency.snapshot());
    for (const Nurse &nurse : agency.snapshot().nurses) {
        if (!nurse.isActive)
            continue;
        SkillRow row;
        row.nurse = nurse.id;
        row.name = personName(nurse);
        for (const SkillGrant &grant : nurse.skills)
            row.cells[static_cast<std::size_t>(grant.skill)] = cellOf(grant, agency.today());
        if (const auto last = joint.find(nurse.id); last != joint.end())
            row.lastJoint = last->second;
        matrix.rows.push_back(std::move(row));
    }
    std::ranges::stable_sort(matrix.rows, {}, &SkillRow::name);
    for (std::size_t skill = 0; skill < matrix.valid.size(); ++skill) {
        const auto holds = [skill](const SkillRow &row) { return isValid(row.cells[skill]); };
        matrix.valid[skill] = static_cast<int>(std::ranges::count_if(matrix.rows, holds));
        if (matrix.valid[skill] == 1)
            std::ranges::find_if(matrix.rows, holds)->cells[skill].isOnlyHolder = true;
    }
    return matrix;
}

QString words(const SkillCell &held, Date today) {
    const QString day = held.until ? dayText(*held.until, today) : QString();
    QString text;
    switch (held.state) {
    case SkillState::NotHeld:
        return QStringLiteral("–");
    case SkillState::Expired:
        return Text::tr("✕ expired, valid to %1").arg(day);
    case SkillState::Soon:
        text = Text::tr("! ends soon, valid to %1").arg(day);
        break;
    case SkillState::Held:
        text = held.until ? Text::tr("valid to %1").arg(day) : Text::tr("valid");
        break;
    }
    return held.isOnlyHolder ? Text::tr("%1; only holder").arg(text) : text;
}

QString skillsText(const Nurse &nurse, Date today) {
    QStringList texts;
    for (const SkillGrant &grant : nurse.skills) {
        const SkillCell held = cellOf(grant, today);
        const QString name = words(grant.skill);
        if (held.state == SkillState::Expired)
            texts << Text::tr("%1 (expired)").arg(name);
        else
            texts << (held.until ? Text::tr("%1 (to %2)").arg(name, dayText(*held.until, today)) : name);
    }
    return texts.join(QStringLiteral(", "));
}

QString skillNotice(const Nurse &nurse, Date today) {
    QStringList texts;
    for (const SkillGrant &grant : nurse.skills) {
        const SkillCell held = cellOf(grant, today);
        if (held.state == SkillState::Expired)
            texts << Text::tr("%1 has expired").arg(words(grant.skill));
        else if (held.state == SkillState::Soon)
            texts << skillEndText(grant, today);
    }
    return texts.join(QStringLiteral("; "));
}

QString skillEndText(const SkillGrant &grant, Date today) {
    const SkillCell held = cellOf(grant, today);
    if (!held.until)
        return {};
    return (held.state == SkillState::Expired ? Text::tr("%1 has expired (valid to %2)")
                                              : Text::tr("%1 is valid to %2"))
        .arg(words(grant.skill), dayText(*held.until, today));
}

Table skillTable(const SkillMatrix &matrix, const Agency &agency) {
    Table table;
    table.title = Text::tr("Skills by nurse").toStdString();
    table.key = "skills";
    table.columns = {textColumn(Text::tr("Nurse"), "nurse")};
    QStringList nobody, oneAlone;
    for (std::size_t skill = 0; skill < kSkillKeys.size(); ++skill) {
        const QString name = words(static_cast<Skill>(skill));
        table.columns.push_back(textColumn(name, kSkillKeys[skill]));
        if (matrix.valid[skill] == 0)
            nobody << name;
        for (const SkillRow &row : matrix.rows)
            if (row.cells[skill].isOnlyHolder)
                oneAlone << Text::tr("%1 (%2)").arg(name, row.name);
    }
    const bool hasJoint =
        std::ranges::any_of(matrix.rows, [](const SkillRow &row) { return row.lastJoint.has_value(); });
    if (hasJoint)
        table.columns.push_back(
            textColumn(Text::tr("Last visit with a second nurse"), "last_joint_visit_on"));
    for (const SkillRow &row : matrix.rows) {
        std::vector<std::string> cells{cell(row.name)};
        for (const SkillCell &held : row.cells)
            cells.push_back(cell(words(held, agency.today())));
        if (hasJoint)
            cells.push_back(cell(row.lastJoint));
        table.rows.push_back(std::move(cells));
    }
    const QString comma = QStringLiteral(", ");
    if (!nobody.isEmpty())
        table.notes.push_back(Text::tr("Nobody holds today: %1. No visit that needs it can be planned.")
                                  .arg(nobody.join(comma))
                                  .toStdString());
    if (!oneAlone.isEmpty())
        table.notes.push_back(Text::tr("Only one nurse holds: %1. Leave of that nurse leaves these visits to "
                                       "nobody; sign off a second.")
                                  .arg(oneAlone.join(comma))
                                  .toStdString());
    return table;
}

} // namespace kitround::desk
