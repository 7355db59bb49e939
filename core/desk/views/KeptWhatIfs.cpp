#include "core/desk/views/KeptWhatIfs.h"

#include "core/desk/words/Text.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {

QString saidText(const WhatIfAnswer &answer) {
    const caseload::LoadReview &b = answer.reviewBefore, &a = answer.reviewAfter;
    const QString full =
        Text::tr("over full %1 to %2; beyond capacity %3 to %4 min")
            .arg(QString::number(nursesWithTooMuch(b, *answer.before)),
                 QString::number(nursesWithTooMuch(a, *answer.after)),
                 QString::number(b.beyondCapacity.count()), QString::number(a.beyondCapacity.count()));
    return Text::tr("Not placed %1 to %2; %11; overtime %3 to %4 min; highest share %9 to %10 %; "
                    "Gini %5 to %6; by the main nurse %7 to %8 %")
        .arg(QString::number(b.unplaced), QString::number(a.unplaced), QString::number(b.overtime.count()),
             QString::number(a.overtime.count()), QString::number(b.gini, 'f', 2),
             QString::number(a.gini, 'f', 2), QString::number(std::lround(100 * b.meanMainShare)),
             QString::number(std::lround(100 * a.meanMainShare)))
        .arg(std::lround(100 * highestShare(b)))
        .arg(std::lround(100 * highestShare(a)))
        .arg(full);
}

KeptWhatIf keptOf(const WhatIfAnswer &answer, const QString &name, Date today) {
    const WhatIfQuestion &q = answer.question;
    KeptWhatIf kept;
    kept.name = name.toStdString();
    kept.weekStart = answer.before->week.from;
    kept.kind = q.kind;
    kept.keptOn = today;
    kept.saidThen = saidText(answer).toStdString();
    switch (q.kind) { // only what the question asks
    case WhatIfKind::NurseAway:
        kept.nurse = q.nurse;
        if (q.away) {
            kept.awayFrom = q.away->from;
            kept.awayTo = q.away->to;
        }
        break;
    case WhatIfKind::NurseAdded:
        kept.nurse = q.nurse;
        break;
    case WhatIfKind::Referrals:
        kept.referrals = q.referrals;
        kept.seed = static_cast<std::int64_t>(q.seed);
        break;
    case WhatIfKind::Shift:
        kept.nurse = q.nurse;
        kept.on = q.on;
        kept.from = q.from;
        kept.to = q.to;
        break;
    case WhatIfKind::Setting:
        kept.setting = infoOf(q.setting).name;
        kept.value = q.value;
        break;
    }
    return kept;
}

QString freeKeptName(const Agency &agency, const QString &title) {
    const auto isTaken = [&](const QString &name) {
        return std::ranges::any_of(agency.snapshot().keptWhatIfs, [&](const KeptWhatIf &kept) {
            return fromStd(kept.name).compare(name, Qt::CaseInsensitive) == 0;
        });
    };
    QString name = title;
    for (int number = 2; isTaken(name); ++number)
        name = Text::tr("%1 (%2)").arg(title).arg(number);
    return name;
}

Result<ReopenedWhatIf> reopened(const KeptWhatIf &kept, const Agency &agency) {
    ReopenedWhatIf again;
    again.isMoved = kept.weekStart.plusDays(7) <= agency.today();
    again.week = again.isMoved ? nextWeek(agency) : kept.weekStart;
    const std::int64_t by = again.week.dayNumber() - kept.weekStart.dayNumber();
    WhatIfQuestion &q = again.question;
    q.kind = kept.kind;
    q.nurse = kept.nurse.value_or(NurseId());
    if (kept.awayFrom && kept.awayTo)
        q.away = DateRange{kept.awayFrom->plusDays(by), kept.awayTo->plusDays(by)};
    q.referrals = kept.referrals;
    q.seed = static_cast<std::uint64_t>(kept.seed);
    if (kept.on)
        q.on = kept.on->plusDays(by);
    q.from = kept.from;
    q.to = kept.to;
    q.value = kept.value;
    if (kept.kind == WhatIfKind::Setting) {
        const auto key = settingNamed(kept.setting);
        if (!key)
            return Problem{ProblemCode::UnknownChoice, "setting", {kept.setting, "a setting's name"}};
        q.setting = *key;
    }
    return again;
}

} // namespace kitround::desk
