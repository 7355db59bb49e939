// The changed copies a what-if is asked on.
#include "core/base/Random.h"
#include "core/calendar/Weeks.h"
#include "core/caseload/Capacity.h"
#include "core/desk/views/WhatIf.h"
#include "core/desk/words/Figures.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr std::uint64_t kReferralDays = 5; // days of the week on which the drawn referrals come (assumed)

template <class Record>
auto nextId(const std::vector<Record> &records) {
    std::int64_t most = 0;
    for (const Record &record : records)
        most = std::max(most, record.id.value());
    return decltype(Record::id)(most + 1);
}

Problem outOfRange(const char *field, std::int64_t value, std::int64_t least, std::int64_t most) {
    return {
        ProblemCode::OutOfRange, field, {std::to_string(value), std::to_string(least), std::to_string(most)}};
}

// What was promised in her name is free again; that people were told costs, as it does in life.
void takeAway(Snapshot &s, NurseId nurse, DateRange days) {
    TimeOff off;
    off.id = nextId(s.timeOff);
    off.nurse = nurse;
    off.from = days.from;
    off.to = days.to;
    s.timeOff.push_back(off);
    for (Visit &visit : s.visits) {
        const bool isHers = visit.nurse == nurse || visit.secondNurse == nurse;
        if (isHers && visit.on && days.contains(*visit.on))
            visit.nurseIsLocked = false;
    }
}

void addLike(Snapshot &s, const Nurse &like) {
    Nurse added = like;
    added.id = nextId(s.nurses);
    added.code = "+" + like.code;
    added.familyName = Text::tr("Added").toStdString();
    added.givenName = Text::tr("like %1").arg(personName(like)).toStdString();
    added.user.reset();
    std::vector<ShiftPattern> shifts;
    for (const ShiftPattern &shift : s.shiftPatterns)
        if (shift.nurse == like.id && !shift.isOnCall)
            shifts.push_back(shift);
    for (ShiftPattern shift : shifts) {
        shift.id = nextId(s.shiftPatterns);
        shift.nurse = added.id;
        s.shiftPatterns.push_back(shift);
    }
    s.nurses.push_back(std::move(added));
}

class ReferralDraw {
public:
    ReferralDraw(const Agency &agency, Snapshot &copy, DateRange week)
        : index_(agency.index()), copy_(copy), first_(std::max(week.from, agency.today())), week_(week) {
        for (const Patient &patient : agency.snapshot().patients)
            if (patient.status == CareStatus::Active && !index_.visitOrdersOf(patient.id).empty() &&
                !index_.cathetersOf(patient.id).empty())
                mix_.push_back(&patient);
    }
    bool isPossible() const { return !mix_.empty(); }

    void add(Random &random, int number) {
        const Patient &like = *mix_[random.below(mix_.size())];
        const auto offset = static_cast<std::int64_t>(random.below(kReferralDays));
        const Date on = std::min(first_.plusDays(offset), week_.to.plusDays(-1));
        Patient patient = like;
        patient.id = nextId(copy_.patients);
        patient.code = "new-" + std::to_string(number);
        patient.familyName = Text::tr("Referral").toStdString();
        patient.givenName = std::to_string(number);
        patient.status = CareStatus::Referred;
        // Noon UTC: morning at home, whatever the zone of the agency.
        patient.referredAt = Instant::fromUnixSeconds(on.dayNumber() * 86400 + 12 * 3600);
        patient.homeFrom.reset();
        patient.startOfCare.reset();
        patient.primaryNurse.reset();
        patient.backupNurse.reset();
        patient.barredNurses.clear();
        for (const Catheter *catheter : index_.cathetersOf(like.id)) {
            if (!index_.isInService(*catheter))
                continue;
            Catheter fresh = *catheter;
            fresh.id = nextId(copy_.catheters);
            fresh.patient = patient.id;
            fresh.insertedOn = on;
            copy_.catheters.push_back(fresh);
        }
        VisitOrder order = *index_.visitOrdersOf(like.id).front(); // the first one: how such a case begins
        order.id = nextId(copy_.visitOrders);
        order.patient = patient.id;
        order.start = on.plusDays(1);
        order.end.reset();
        copy_.visitOrders.push_back(std::move(order));
        copy_.patients.push_back(std::move(patient));
    }

private:
    const SnapshotIndex &index_;
    Snapshot &copy_;
    Date first_;
    DateRange week_;
    std::vector<const Patient *> mix_;
};

std::optional<Problem> changeShift(Snapshot &s, DateRange week, const WhatIfQuestion &q) {
    if (!week.contains(q.on))
        return Problem{ProblemCode::OutOfRange,
                       "on_date",
                       {q.on.toIso(), week.from.toIso(), week.to.plusDays(-1).toIso()}};
    if (!q.from && !q.to) {
        takeAway(s, q.nurse, {q.on, q.on.plusDays(1)});
        return std::nullopt;
    }
    if (!q.from || !q.to)
        return Problem{ProblemCode::Missing, q.from ? "to_time" : "from_time", {}};
    if (*q.to <= *q.from)
        return Problem{ProblemCode::EndBeforeStart, "to_time", {clockText(*q.from), clockText(*q.to)}};
    std::erase_if(s.extraShifts,
                  [&](const ExtraShift &extra) { return extra.nurse == q.nurse && extra.on == q.on; });
    // The day is asked about as worked: whatever leave covers it is cut round it.
    std::vector<TimeOff> rest;
    for (TimeOff &off : s.timeOff)
        if (off.nurse == q.nurse && off.coversDay(q.on)) {
            TimeOff later = off;
            off.to = q.on;
            later.from = q.on.plusDays(1);
            if (later.from < later.to)
                rest.push_back(later);
        }
    for (TimeOff &later : rest) {
        later.id = nextId(s.timeOff);
        s.timeOff.push_back(later);
    }
    ExtraShift extra;
    extra.id = nextId(s.extraShifts);
    extra.nurse = q.nurse;
    extra.on = q.on;
    extra.from = *q.from;
    extra.to = *q.to;
    s.extraShifts.push_back(extra);
    return std::nullopt;
}

Problem unchanged(const WhatIfQuestion &q) {
    return Problem{ProblemCode::Duplicate, "value", {figureText(q.setting, q.value).toStdString()}};
}

std::optional<Problem> changeSetting(Snapshot &s, const Agency &agency, const WhatIfQuestion &q) {
    const SettingInfo &info = infoOf(q.setting);
    if (q.value < info.least || q.value > info.most)
        return Problem{ProblemCode::OutOfRange,
                       "value",
                       {figureText(q.setting, q.value).toStdString(),
                        figureText(q.setting, info.least).toStdString(),
                        figureText(q.setting, info.most).toStdString()}};
    if (agency.snapshot().settings[q.setting] == q.value)
        return unchanged(q);
    s.settings.set(q.setting, q.value);
    return std::nullopt;
}

} // namespace

DateRange weekHolding(const Agency &agency, Date day) {
    return calendar::weekOf(day, agency.settings().weekStart);
}

std::vector<NurseId> awayAllWeek(const Agency &agency, DateRange week) {
    std::vector<NurseId> away;
    for (const auto &[nurse, minutes] : caseload::capacityIn(agency.snapshot(), week))
        if (minutes.isZero())
            away.push_back(nurse);
    return away;
}

Result<AgencyPtr> changedAgency(const Agency &agency, DateRange week, const WhatIfQuestion &q) {
    Snapshot copy = agency.snapshot();
    copy.settings = agency.settings(); // as stored; the copy learns its own figures as the agency does
    const Nurse *nurse = agency.index().nurse(q.nurse);
    const bool asksForNurse =
        q.kind == WhatIfKind::NurseAway || q.kind == WhatIfKind::NurseAdded || q.kind == WhatIfKind::Shift;
    if (asksForNurse && !q.nurse.isSet())
        return Problem{ProblemCode::Missing, "nurse_id", {}};
    if (asksForNurse && !nurse)
        return Problem{ProblemCode::UnknownRecord, "nurse_id", {"nurse", std::to_string(q.nurse.value())}};
    std::optional<Problem> problem;
    switch (q.kind) {
    case WhatIfKind::NurseAway:
        if (q.away && q.away->from >= q.away->to)
            return Problem{ProblemCode::EndBeforeStart,
                           "away_to_on",
                           {q.away->from.toIso(), q.away->to.plusDays(-1).toIso()}};
        if (q.away && (q.away->from < week.from || q.away->to > week.to))
            return Problem{ProblemCode::OutOfRange,
                           "away_from_on",
                           {q.away->from.toIso(), week.from.toIso(), week.to.plusDays(-1).toIso()}};
        takeAway(copy, q.nurse, q.away.value_or(week));
        break;
    case WhatIfKind::NurseAdded:
        addLike(copy, *nurse);
        break;
    case WhatIfKind::Referrals: {
        if (q.referrals < 1 || q.referrals > kMostReferrals)
            return outOfRange("referrals", q.referrals, 1, kMostReferrals);
        ReferralDraw draw(agency, copy, week);
        if (!draw.isPossible())
            return Problem{ProblemCode::Infeasible, "referrals", {"visit_orders"}};
        Random random(q.seed);
        for (int k = 1; k <= q.referrals; ++k)
            draw.add(random, k);
        break;
    }
    case WhatIfKind::Shift:
        problem = changeShift(copy, week, q);
        break;
    case WhatIfKind::Setting:
        problem = changeSetting(copy, agency, q);
        break;
    }
    if (problem)
        return *problem;
    auto changed = std::make_shared<const Agency>(std::move(copy));
    // A preset gives way to the agency's own figure, so asking for the preset would change nothing.
    if (q.kind == WhatIfKind::Setting && changed->snapshot().settings[q.setting] != q.value)
        return unchanged(q);
    return AgencyPtr(std::move(changed));
}

QString whatIfTitle(const WhatIfQuestion &q, const Agency &agency) {
    const Nurse *nurse = agency.index().nurse(q.nurse);
    const QString who = nurse ? personName(*nurse) : QString();
    switch (q.kind) {
    case WhatIfKind::NurseAway:
        if (!q.away)
            return Text::tr("%1 away all week").arg(who);
        return q.away->length() == Days::of(1)
                   ? Text::tr("%1 away on %2").arg(who, dayText(q.away->from))
                   : Text::tr("%1 away %2 to %3")
                         .arg(who, dayText(q.away->from), dayText(q.away->to.plusDays(-1)));
    case WhatIfKind::NurseAdded:
        return Text::tr("One more nurse like %1").arg(who);
    case WhatIfKind::Referrals:
        return Text::tr("%1, draw %2")
            .arg(counted(q.referrals, Text::tr("1 referral more"), Text::tr("%1 referrals more")))
            .arg(q.seed);
    case WhatIfKind::Shift:
        return q.from && q.to ? Text::tr("%1 works %2 to %3 on %4")
                                    .arg(who, timeText(*q.from), timeText(*q.to), dayText(q.on))
                              : Text::tr("%1 off on %2").arg(who, dayText(q.on));
    case WhatIfKind::Setting:
        return Text::tr("%1: %2 in place of %3")
            .arg(label(q.setting), figureWithUnit(q.setting, q.value, agency.settings().currency),
                 figureText(q.setting, agency.snapshot().settings[q.setting]));
    }
    return {};
}

} // namespace kitround::desk
