#include "core/desk/views/RestFlags.h"

#include "core/desk/views/AttentionParts.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/records/Validate.h"

#include <algorithm>
#include <iterator>

namespace kitround::desk {
namespace {

constexpr std::int64_t kFlagDays = 28;
constexpr std::size_t kFlagsAtMost = 3;
constexpr std::int64_t kRestNoticeDays = 7;

QString restText(const caseload::ShortRest &found, const AgencySettings &settings) {
    return Text::tr("%1: work from %2, %3 h after %4 ends; %5 h of rest are asked for.")
        .arg(dayText(found.work.on), timeText(found.work.from),
             shortNumber(static_cast<double>(found.rest.count()) / 60), workBeforeText(found),
             numberText(settings[SettingKey::RestAfterCallHours]));
}

// What one nurse works: all that the rule reads, without the rest of the agency.
Snapshot rotaOf(const Agency &agency, NurseId nurse) {
    const Snapshot &s = agency.snapshot();
    Snapshot rota;
    rota.settings = s.settings;
    const auto copy = [nurse](const auto &from, auto &to) {
        std::ranges::copy_if(from, std::back_inserter(to), [&](const auto &r) { return r.nurse == nurse; });
    };
    if (const Nurse *found = agency.index().nurse(nurse))
        rota.nurses.push_back(*found);
    copy(s.shiftPatterns, rota.shiftPatterns);
    copy(s.extraShifts, rota.extraShifts);
    copy(s.timeOff, rota.timeOff);
    return rota;
}

template <class Record>
void takeOut(std::vector<Record> &records, const Record &record) {
    if (record.id.isSet())
        std::erase_if(records, [&](const Record &r) { return r.id == record.id; });
}

bool isSameRest(const caseload::ShortRest &a, const caseload::ShortRest &b) {
    return a.before == b.before && a.work == b.work;
}

// What the shift brings first; what was so without it comes after, and says so.
QStringList flagsFrom(const Snapshot &before, const Snapshot &rota, Date from) {
    QStringList flags;
    const DateRange days{from, from.plusDays(kFlagDays)};
    const auto was = caseload::shortRests(before, days);
    auto found = caseload::shortRests(rota, days);
    const auto isOld = [&](const caseload::ShortRest &rest) {
        return std::ranges::any_of(was,
                                   [&](const caseload::ShortRest &old) { return isSameRest(rest, old); });
    };
    std::ranges::stable_partition(found, [&](const caseload::ShortRest &rest) { return !isOld(rest); });
    for (std::size_t i = 0; i < std::min(found.size(), kFlagsAtMost); ++i) {
        const QString text = restText(found[i], rota.settings);
        flags << (isOld(found[i]) ? Text::tr("Already so without this shift: %1").arg(text) : text);
    }
    if (found.size() > kFlagsAtMost)
        flags << counted(static_cast<std::int64_t>(found.size() - kFlagsAtMost),
                         Text::tr("And once more in these four weeks."),
                         Text::tr("And %1 times more in these four weeks."));
    return flags;
}

// Of hours that cannot be saved as they are, a night is not made up.
template <class Shift>
bool hasHours(const Shift &shift) {
    return std::ranges::none_of(validate(shift),
                                [](const Problem &p) { return p.code == ProblemCode::EndBeforeStart; });
}

} // namespace

QString workBeforeText(const caseload::ShortRest &rest) {
    return (rest.before.isOnCall ? Text::tr("the turn on call of %1") : Text::tr("the shift of %1"))
        .arg(dayText(rest.before.on));
}

QStringList restFlags(const Agency &agency, const ShiftPattern &shift) {
    return restFlags(agency, std::vector<ShiftPattern>{shift});
}

QStringList restFlags(const Agency &agency, const std::vector<ShiftPattern> &week) {
    if (week.empty() || !std::ranges::all_of(week, hasHours<ShiftPattern>))
        return {};
    Snapshot before = rotaOf(agency, week.front().nurse);
    for (const ShiftPattern &shift : week)
        takeOut(before.shiftPatterns, shift); // what it brings as it is stored is not "without it"
    Snapshot rota = before;
    rota.shiftPatterns.insert(rota.shiftPatterns.end(), week.begin(), week.end());
    return flagsFrom(before, rota, std::max(agency.today(), week.front().validFrom));
}

QStringList restFlags(const Agency &agency, const ExtraShift &shift) {
    if (!hasHours(shift))
        return {};
    Snapshot before = rotaOf(agency, shift.nurse);
    takeOut(before.extraShifts, shift);
    Snapshot rota = before;
    rota.extraShifts.push_back(shift);
    return flagsFrom(before, rota, std::max(agency.today(), shift.on));
}

void parts::addShortRests(Items &items, const Agency &agency) {
    const Date today = agency.today();
    for (const caseload::ShortRest &found :
         caseload::shortRests(agency.snapshot(), {today, today.plusDays(kRestNoticeDays)})) {
        AttentionItem item;
        item.kind = AttentionKind::ShortRest;
        item.harm = Harm::Soon;
        item.forRole = UserRole::NurseManager;
        item.nurse = found.work.nurse;
        item.dueOn = found.work.on;
        const Nurse *nurse = agency.index().nurse(found.work.nurse);
        item.title = Text::tr("Too short a rest: %1").arg(nurse ? personName(*nurse) : Text::tr("a nurse"));
        item.detail = restText(found, agency.settings()) + u' ' +
                      Text::tr("Let somebody else begin, begin later, or agree it with the nurse.");
        items.push_back(std::move(item));
    }
}

} // namespace kitround::desk
