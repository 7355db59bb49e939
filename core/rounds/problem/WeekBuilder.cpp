#include "core/rounds/problem/WeekBuilder.h"

#include "core/base/Index.h"
#include "core/calendar/VisitWeeks.h"
#include "core/calendar/Zone.h"
#include "core/rounds/problem/Follows.h"

#include <algorithm>
#include <map>

namespace kitround::rounds {
namespace {

constexpr std::int32_t kUnlimited = 10000; // days
constexpr std::int64_t kKnownDays = 60;    // who came within two months is a known face (assumed)

// The primary subtag decides: a wish for "es-MX" is met by "es". FNV-1a, 64 bits; never 0.
std::uint64_t languageKey(std::string_view tag) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    for (const char c : tag.substr(0, tag.find('-'))) {
        const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        hash = (hash ^ static_cast<unsigned char>(lower)) * 0x100000001b3ULL;
    }
    return hash == 0 ? 1 : hash;
}

class Builder {
public:
    Builder(const SnapshotIndex &agency, DateRange days, const std::vector<DueVisit> &due,
            const std::vector<RiderWish> &riders)
        : agency_(agency), s_(agency.snapshot()), days_(days), due_(due), riders_(riders) {}

    Result<WeekProblem> build() {
        p_.firstDay = days_.from;
        p_.days = static_cast<std::int32_t>(days_.length().count());
        p_.weights = weightsOf(s_.settings);
        if (days_.contains(s_.asOf)) {
            p_.nowDay = dayIndex(s_.asOf);
            p_.now = minuteOf(s_.now.minute);
        } else if (days_.to <= s_.asOf) {
            p_.nowDay = p_.days;
        }
        p_.lead = static_cast<Minute>(s_.settings[SettingKey::SoonestVisitMinutes]);
        addPlace(s_.settings.storeroom);
        addNurses();
        addDuties();
        addJobs();
        addSeries();
        addFollows(p_, agency_, days_, due_);
        addRiders();
        p_.travel = travelTable(p_.places, s_.settings);
        if (Result<void> checked = checkProblem(p_); !checked)
            return checked.error();
        return std::move(p_);
    }

private:
    std::int32_t addPlace(const Address &address) {
        p_.pointIsGuessed = p_.pointIsGuessed || !address.point;
        p_.places.push_back({address.point, address.area});
        return static_cast<std::int32_t>(p_.places.size()) - 1;
    }
    std::int32_t nurseIndex(std::optional<NurseId> id) const {
        const auto found = id ? nurseIndex_.find(*id) : nurseIndex_.end();
        return found == nurseIndex_.end() ? -1 : found->second;
    }
    std::int32_t dayIndex(Date on) const { return static_cast<std::int32_t>((on - days_.from).count()); }
    Date dateOf(std::int32_t day) const { return days_.from.plusDays(day); }

    void addNurses() {
        for (const Nurse &nurse : s_.nurses) {
            if (!nurse.isActive)
                continue;
            NurseInfo info;
            info.id = nurse.id;
            for (const std::string &tag : nurse.languages)
                info.languages.push_back(languageKey(tag));
            info.gender = nurse.gender;
            info.contractMinutes = minuteOf(nurse.contractPerWeek) * std::min(p_.days, 7) / 7;
            info.overtimeExempt = nurse.overtimeExempt;
            info.carSpaceMl = nurse.carSpaceMl;
            info.alreadyWorked = workedAlready(nurse.id);
            nurseIndex_[nurse.id] = static_cast<std::int32_t>(p_.nurses.size());
            basePlace_.push_back(endsAtStoreroom(nurse) ? 0 : addPlace(nurse.base));
            startsAtStoreroom_.push_back(nurse.startsAtStoreroom);
            nurses_.push_back(&nurse);
            p_.nurses.push_back(std::move(info));
        }
    }

    // Visits of days gone by, with their notes; the way between them is not on record.
    std::vector<Minute> workedAlready(NurseId nurse) const {
        std::vector<Minute> byWeek(at(weeksOf(p_)), 0);
        for (const Visit &visit : s_.visits) {
            const std::optional<Date> on = visit.day();
            const bool isHers = visit.nurse == nurse || visit.secondNurse == nurse;
            const bool isOver = visit.status == VisitStatus::Done || isGoneBy(s_, visit);
            if (!isHers || !isOver || !on || !days_.contains(*on))
                continue;
            byWeek[at(dayIndex(*on) / 7)] +=
                minuteOf(visit.lasted().value_or(visit.length) + notesLength(s_.settings, visit.kind));
        }
        return byWeek;
    }

    void addDuties() {
        DateRange ahead = days_;
        if (s_.asOf < days_.to)
            ahead.from = std::max(ahead.from, s_.asOf);
        const std::vector<Shift> shifts =
            shiftsIn(ahead, s_.nurses, s_.shiftPatterns, s_.extraShifts, s_.timeOff);
        for (std::size_t i = 0; i < shifts.size();) {
            std::size_t end = i;
            while (end < shifts.size() && shifts[end].nurse == shifts[i].nurse &&
                   shifts[end].on == shifts[i].on)
                ++end;
            addDuty({shifts.begin() + static_cast<std::ptrdiff_t>(i),
                     shifts.begin() + static_cast<std::ptrdiff_t>(end)});
            i = end;
        }
        std::ranges::stable_sort(p_.duties, {}, [](const Duty &d) { return std::pair(d.nurse, d.day); });
        uniteSkills();
    }

    void addDuty(std::vector<Shift> shifts) {
        const std::int32_t nurse = nurseIndex(shifts.front().nurse);
        if (nurse < 0)
            return;
        // Being on call beside a working shift adds no planned hours.
        if (std::ranges::any_of(shifts, [](const Shift &s) { return !s.isOnCall; }))
            std::erase_if(shifts, [](const Shift &s) { return s.isOnCall; });
        Duty duty;
        duty.nurse = nurse;
        duty.day = dayIndex(shifts.front().on);
        duty.isOnCall = shifts.front().isOnCall;
        duty.from = minuteOf(shifts.front().from);
        duty.to = endOf(shifts.front());
        for (std::size_t i = 1; i < shifts.size(); ++i) {
            const Minute from = minuteOf(shifts[i].from);
            if (from > duty.to)
                duty.blocked.push_back({duty.to, from, true});
            duty.to = std::max(duty.to, endOf(shifts[i]));
        }
        addBreak(duty, shifts);
        duty.endPlace = basePlace_[at(nurse)];
        duty.startPlace = startsAtStoreroom_[at(nurse)] ? 0 : duty.endPlace;
        const int most = nurses_[at(nurse)]->mostVisitsADay;
        duty.made = std::min(most, doneOn(shifts.front().nurse, shifts.front().on));
        duty.mostVisits = most - duty.made;
        duty.skills = skillsOn(*nurses_[at(nurse)], shifts.front().on);
        p_.duties.push_back(std::move(duty));
    }

    // What she has made that day, in the plan or beside it, is of the visits she may make.
    int doneOn(NurseId nurse, Date on) const {
        return static_cast<int>(std::ranges::count_if(s_.visits, [&](const Visit &visit) {
            return visit.status == VisitStatus::Done && visit.kind != VisitKind::Phone && visit.day() == on &&
                   (visit.nurse == nurse || visit.secondNurse == nurse);
        }));
    }

    // A night on call is planned to midnight at most.
    static Minute endOf(const Shift &shift) {
        return minuteOf(shift.to > shift.from ? shift.to : Minutes::of(1440));
    }

    static void addBreak(Duty &duty, const std::vector<Shift> &shifts) {
        for (const Shift &shift : shifts) {
            const Minute length = minuteOf(shift.breakLength);
            // A pause between two shifts long enough is the break.
            const bool isInGap = std::ranges::any_of(
                duty.blocked, [&](const TimeWindow &gap) { return gap.to - gap.from >= length; });
            if (length <= duty.breakLength || isInGap)
                continue;
            const Minute from = std::max(minuteOf(shift.from), minuteOf(shift.breakFrom));
            const Minute to = std::min(minuteOf(shift.to), minuteOf(shift.breakTo));
            const bool hasWindow = to - from >= length;
            duty.breakFrom = hasWindow ? from : minuteOf(shift.from);
            duty.breakTo = hasWindow ? to : minuteOf(shift.to);
            duty.breakLength = duty.breakTo - duty.breakFrom >= length ? length : 0;
        }
    }

    void uniteSkills() {
        std::vector<char> isFirst(p_.nurses.size(), 1);
        for (const Duty &duty : p_.duties) {
            SkillSet &skills = p_.nurses[at(duty.nurse)].skills;
            skills = isFirst[at(duty.nurse)] ? duty.skills
                                             : SkillSet::fromBits(skills.bits() & duty.skills.bits());
            isFirst[at(duty.nurse)] = 0;
        }
    }

    void addJobs() {
        for (const DueVisit &due : due_) {
            const Patient *patient = agency_.patient(due.visit.patient);
            Job job;
            job.allowedDays.assign(at(p_.days), false);
            job.windows.resize(at(p_.days));
            job.visit = due.visit.id;
            job.patient = due.visit.patient;
            job.kind = due.visit.kind;
            job.length = std::max(1, minuteOf(due.visit.length));
            job.notes = minuteOf(notesLength(s_.settings, due.visit.kind));
            job.points = visitPoints(s_.settings, due.visit.kind);
            job.needs = due.visit.needs;
            job.twoNurses = due.visit.twoNurses;
            if (patient) {
                job.place = placeOf(*patient);
                job.priority = priorityOf(due, *patient);
                addPeople(job, *patient);
                addStanding(job, due.visit);
                addDays(job, due, *patient);
            }
            p_.jobs.push_back(std::move(job));
        }
    }

    std::int32_t placeOf(const Patient &patient) {
        const auto [where, isNew] = patientPlace_.try_emplace(patient.id, 0);
        if (isNew)
            where->second = addPlace(patient.address);
        return where->second;
    }

    static Priority priorityOf(const DueVisit &due, const Patient &patient) {
        if (due.deadline)
            return Priority::Urgent;
        switch (due.visit.kind) {
        case VisitKind::StartOfCare:
        case VisitKind::Resumption:
        case VisitKind::SymptomFollowUp:
            return Priority::Urgent;
        case VisitKind::Recertification:
            return Priority::High;
        case VisitKind::SupplyCount:
            return Priority::Low;
        case VisitKind::Routine:
        case VisitKind::Teaching:
        case VisitKind::DrainOnly:
            // Where nobody in the home drains, a visit left out is a drain left out.
            return homeDrainsItself(patient) ? Priority::Middle : Priority::High;
        default:
            return Priority::Middle;
        }
    }

    void addPeople(Job &job, const Patient &patient) const {
        job.primaryNurse = nurseIndex(patient.primaryNurse);
        const auto know = [&](std::optional<NurseId> id) {
            const std::int32_t n = nurseIndex(id);
            if (n >= 0 && std::ranges::find(job.knownNurses, n) == job.knownNurses.end())
                job.knownNurses.push_back(n);
        };
        know(patient.backupNurse);
        for (const Visit *visit : agency_.visitsOf(patient.id)) {
            if (visit->status != VisitStatus::Done)
                continue;
            const std::optional<Date> on = visit->day();
            if (!on || on->plusDays(kKnownDays) < days_.from)
                continue;
            know(visit->nurse);
            know(visit->secondNurse);
        }
        std::ranges::sort(job.knownNurses);
        for (const NurseId id : patient.barredNurses)
            if (const std::int32_t n = nurseIndex(id); n >= 0)
                job.barredNurses.push_back(n);
        if (!patient.languages.empty() && languageKey(patient.languages.front()) != languageKey("en"))
            job.wishedLanguage = languageKey(patient.languages.front());
        job.wishedGender = patient.nurseGenderWish;
    }

    void addStanding(Job &job, const Visit &visit) const {
        const bool isPlanned = visit.on && days_.contains(*visit.on);
        if (visit.dayIsLocked && isPlanned)
            job.lockedDay = job.askedDay = dayIndex(*visit.on);
        if (visit.nurseIsLocked) {
            job.lockedNurse = nurseIndex(visit.nurse);
            job.lockedSecondNurse = visit.twoNurses ? nurseIndex(visit.secondNurse) : -1;
        }
        if (visit.timeIsLocked && visit.startAt)
            job.lockedStart = minuteOf(*visit.startAt);
        addTold(job, visit);
    }

    // A place people were told is worth keeping, also where a draft has moved the visit since. What has begun
    // is locked to it, unless a draft says otherwise: then somebody knew better.
    void addTold(Job &job, const Visit &visit) const {
        const VisitPlace told = agency_.toldPlace(visit);
        if (!told.isSet() || !days_.contains(*told.on))
            return;
        const std::int32_t second = visit.twoNurses ? nurseIndex(told.secondNurse) : -1;
        job.publishedNurse = nurseIndex(told.nurse);
        job.publishedSecondNurse = second;
        job.publishedDay = dayIndex(*told.on);
        job.publishedStart = minuteOf(*told.startAt);
        // A nurse who is off since did not go there, and where two go one alone begins nothing.
        const auto isOn = [&](std::int32_t nurse) {
            return std::ranges::any_of(p_.duties, [&](const Duty &duty) {
                return duty.nurse == nurse && duty.day == job.publishedDay;
            });
        };
        if (isUnderWay(s_, visit) && isOn(job.publishedNurse) && (!visit.twoNurses || isOn(second))) {
            job.hasBegun = true;
            job.lockedDay = job.publishedDay;
            job.lockedNurse = job.publishedNurse;
            job.lockedSecondNurse = second;
            job.lockedStart = job.publishedStart;
        }
    }

    void addDays(Job &job, const DueVisit &due, const Patient &patient) const {
        const VisitOrder *order = orderOf(due.visit);
        const bool hasHardWindows =
            std::ranges::any_of(patient.windows, [](const VisitWindow &w) { return w.isHard; });
        const std::optional<LocalTime> deadline = localDeadline(due);
        for (std::int32_t day = 0; day < p_.days; ++day) {
            const Date on = dateOf(day);
            const bool stands = day == job.lockedDay || day == job.publishedDay;
            const bool isInRange = due.visit.dueFrom <= on && on < due.visit.dueTo;
            const bool isOpen = isVisitingDay(s_.settings, on) && (!order || order->allowedDays.isEmpty() ||
                                                                   order->allowedDays.contains(on.weekday()));
            const bool hasBegun = job.hasBegun && day == job.lockedDay;
            const bool isOwed = hasBegun || (isInRange && (isOpen || stands));
            if (on < s_.asOf)
                continue;
            // Its times stand on a day that is not allowed, too: a way out that opens the day keeps to them.
            addWindows(job, day, patient, hasHardWindows);
            if (!hasBegun)
                clipToday(job, day, on);
            if (deadline && deadline->date == on && s_.now < *deadline)
                for (TimeWindow &w : job.windows[at(day)])
                    w.to = std::min(w.to, minuteOf(deadline->minute));
            std::erase_if(job.windows[at(day)], [](const TimeWindow &w) { return w.to < w.from; });
            const bool isShut = std::ranges::none_of(job.windows[at(day)], &TimeWindow::isHard);
            const bool isFree = isOwed && !isShut && !agency_.holdOn(patient.id, on);
            job.allowedDays[at(day)] = hasBegun || isFree;
        }
    }

    // A window says when the person can be visited, so the visit must end in it. Where some days have hard
    // windows, the others have none to offer.
    void addWindows(Job &job, std::int32_t day, const Patient &patient, bool hasHardWindows) const {
        auto &windows = job.windows[at(day)];
        for (const VisitWindow &w : patient.windows) {
            if (w.weekday != dateOf(day).weekday())
                continue;
            const Minute from = minuteOf(w.from);
            windows.push_back({from, std::max(from, minuteOf(w.to) - job.length), w.isHard});
        }
        if (!hasHardWindows) {
            const auto from = static_cast<Minute>(s_.settings[SettingKey::DayStart]);
            const auto to = static_cast<Minute>(s_.settings[SettingKey::DayEnd]);
            windows.push_back({from, std::max(from, to - job.length), true});
        }
    }

    void clipToday(Job &job, std::int32_t day, Date on) const {
        if (on != s_.asOf)
            return;
        for (TimeWindow &w : job.windows[at(day)])
            w.from = std::max(w.from, minuteOf(s_.now.minute));
    }

    std::optional<LocalTime> localDeadline(const DueVisit &due) const {
        if (!due.deadline)
            return std::nullopt;
        const Result<calendar::Zone> zone = calendar::Zone::named(s_.settings.timeZone);
        if (!zone)
            return std::nullopt;
        return zone->toLocal(*due.deadline);
    }

    const VisitOrder *orderOf(const Visit &visit) const {
        if (visit.order)
            for (const VisitOrder *order : agency_.visitOrdersOf(visit.patient))
                if (order->id == *visit.order)
                    return order;
        return nullptr;
    }

    // A renewed order goes on with the series: a drain of the old one and one of the new are still two drains
    // of one patient.
    VisitOrderId firstOfSeries(const Visit &visit) const {
        const VisitOrder *order = orderOf(visit);
        if (!order)
            return *visit.order;
        return calendar::ordersInSeries(*order, agency_.visitOrdersOf(visit.patient), s_.settings.weekStart)
            .front();
    }

    void addSeries() {
        std::map<VisitOrderId, std::int32_t> seriesOf; // by the first of the orders that take over
        for (std::size_t i = 0; i < due_.size(); ++i) {
            const DueVisit &due = due_[i];
            if (!due.visit.order || !due.leastGap)
                continue;
            const auto [where, isNew] =
                seriesOf.try_emplace(firstOfSeries(due.visit), static_cast<std::int32_t>(p_.series.size()));
            if (isNew)
                p_.series.push_back({.leastGap = kUnlimited, .mostGap = 0});
            // Where the order's weeks differ, or one order takes over from another, what any of them allows
            // is allowed between all.
            Series &series = p_.series[at(where->second)];
            const auto most = static_cast<std::int32_t>(due.mostGap.value_or(Days::of(kUnlimited)).count());
            series.leastGap = std::min(series.leastGap, static_cast<std::int32_t>(due.leastGap->count()));
            series.mostGap = std::max({series.mostGap, most, series.leastGap});
            for (const Date on : due.fixedNeighbours)
                if (std::ranges::find(series.fixedDays, dayIndex(on)) == series.fixedDays.end())
                    series.fixedDays.push_back(dayIndex(on));
            p_.jobs[i].series = where->second;
            series.jobs.push_back(static_cast<std::int32_t>(i));
        }
    }

    void addRiders() {
        for (const RiderWish &wish : riders_)
            p_.riders.push_back({wish.delivery, wish.patient, wish.spaceMl, dayIndex(wish.earliest),
                                 dayIndex(wish.latest), wish.courierPossible, wish.packedFor});
    }

    const SnapshotIndex &agency_;
    const Snapshot &s_;
    DateRange days_;
    const std::vector<DueVisit> &due_;
    const std::vector<RiderWish> &riders_;
    WeekProblem p_;
    std::map<NurseId, std::int32_t> nurseIndex_;
    std::map<PatientId, std::int32_t> patientPlace_;
    std::vector<std::int32_t> basePlace_;
    std::vector<bool> startsAtStoreroom_;
    std::vector<const Nurse *> nurses_;
};

} // namespace

Result<WeekProblem> buildWeek(const SnapshotIndex &agency, DateRange days, const std::vector<DueVisit> &due,
                              const std::vector<RiderWish> &riders) {
    if (days.to <= days.from) {
        Problem problem;
        problem.code = ProblemCode::EndBeforeStart;
        problem.field = "days";
        problem.args = {days.from.toIso(), days.to.toIso()};
        return problem;
    }
    return Builder(agency, days, due, riders).build();
}

Weights weightsOf(const AgencySettings &settings) {
    const auto whole = [&](SettingKey key) { return static_cast<double>(settings[key]); };
    const auto hundredths = [&](SettingKey key) { return static_cast<double>(settings[key]) / 100.0; };
    Weights w;
    w.unplaced = {whole(SettingKey::CostUnplacedLow), whole(SettingKey::CostUnplacedMiddle),
                  whole(SettingKey::CostUnplacedHigh), whole(SettingKey::CostUnplacedUrgent)};
    w.overtimeMinute = hundredths(SettingKey::CostOvertimeMinute100);
    w.travelMinute = hundredths(SettingKey::CostTravelMinute100);
    w.waitMinute = hundredths(SettingKey::CostWaitMinute100);
    w.softWindowMinute = hundredths(SettingKey::CostSoftWindowMinute100);
    w.notPrimary = whole(SettingKey::CostNotPrimary);
    w.notKnown = whole(SettingKey::CostNotKnown);
    w.uneven = hundredths(SettingKey::CostUnevenPoint100);
    w.courierRun = whole(SettingKey::CostCourierRun);
    w.changed = whole(SettingKey::CostChanged);
    w.secondNurse = whole(SettingKey::CostSecondNurse);
    return w; // gap days, wishes and undelivered riders have no setting of their own yet
}

} // namespace kitround::rounds
