#include "core/desk/views/LeavePlan.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

class Planner {
public:
    Planner(const Agency &agency, const TimeOff &request)
        : agency_(agency), s_(agency.snapshot()),
          nurse_(*agency.index().nurse(request.nurse)), leave_{std::max(request.from, agency.today()),
                                                               request.to} {
        plan_.request = request;
        plan_.area = nurse_.base.area;
        std::vector<TimeOff> others = s_.timeOff; // as it would be without this leave
        std::erase_if(others, [&](const TimeOff &off) { return off.id == request.id; });
        shifts_ = shiftsIn({request.from, request.to}, s_.nurses, s_.shiftPatterns, s_.extraShifts, others);
    }

    LeavePlan run() {
        for (Date day = leave_.from; day < leave_.to; ++day)
            plan_.visitingDays += isVisitingDay(day) && isAtWork(nurse_.id, day) ? 1 : 0;
        for (Date week = calendar::weekStartOf(leave_.from, s_.settings.weekStart); week < leave_.to;
             week = week.plusDays(7)) {
            plan_.weeks.push_back(week);
            const bool isPlanned = std::ranges::find(s_.plans, week, &Plan::weekStart) != s_.plans.end();
            if (!isPlanned)
                plan_.unplanned.push_back(week);
            moving_ = {week, 0, {}, minutesOutside({week, week.plusDays(7)}), isPlanned};
            for (const rounds::DueVisit &due : rounds::visitsDue(agency_.index(), {week, week.plusDays(7)}))
                addVisit(due.visit);
            if (moving_.moved > 0)
                plan_.moves.push_back(moving_);
        }
        std::ranges::stable_sort(plan_.visits, {}, [](const LeaveVisit &v) {
            return std::tuple(v.isCovered(), v.days.from, v.patient);
        });
        for (const Skill skill : {Skill::DrainChest, Skill::DrainAbdomen})
            if (skillsOn(nurse_, leave_.from).contains(skill))
                addCover(skill);
        return std::move(plan_);
    }

private:
    bool isVisitingDay(Date day) const { return rounds::isVisitingDay(s_.settings, day); }
    bool isAtWork(NurseId nurse, Date day) const {
        return std::ranges::any_of(shifts_, [&](const Shift &shift) {
            return shift.nurse == nurse && shift.on == day && !shift.isOnCall;
        });
    }

    bool isHers(const Visit &visit) const {
        const Patient *patient = agency_.index().patient(visit.patient);
        if (visit.nurse && visit.on)
            return visit.nurse == nurse_.id || visit.secondNurse == nurse_.id;
        return patient && patient->primaryNurse == nurse_.id;
    }

    void addVisit(const Visit &visit) {
        if (!isHers(visit))
            return;
        DateRange days{std::max(visit.dueFrom, leave_.from), std::min(visit.dueTo, leave_.to)};
        if (visit.on)
            days = {*visit.on, visit.on->plusDays(1)};
        const Minutes work = visit.length + notesLength(s_.settings, visit.kind);
        if (days.from >= days.to || !leave_.contains(days.from)) {
            moving_.left -= work; // stands on another day anyway
            return;
        }
        // It can be made on another day of its own, where there is time for all that move.
        for (Date day = visit.dueFrom; !visit.on && day < visit.dueTo; ++day)
            if (isOtherDay(day) && !shiftsOn(day).empty()) {
                ++moving_.moved;
                moving_.work += work;
                return;
            }
        LeaveVisit made;
        made.patient = visit.patient;
        made.kind = visit.kind;
        made.days = days;
        const Patient *patient = agency_.index().patient(visit.patient);
        std::set<NurseId> able;
        for (Date day = days.from; day < days.to; ++day)
            for (const Nurse &other : s_.nurses)
                if (other.isActive && other.id != nurse_.id && isVisitingDay(day) &&
                    isAtWork(other.id, day) && skillsOn(other, day).covers(visit.needs) &&
                    !isBarred(*patient, other.id))
                    able.insert(other.id);
        if (patient->backupNurse && able.erase(*patient->backupNurse) > 0)
            made.backup = patient->backupNurse;
        made.others = static_cast<int>(able.size());
        plan_.visits.push_back(made);
    }

    bool isOtherDay(Date day) const { return !leave_.contains(day) && day >= s_.asOf && isVisitingDay(day); }

    std::vector<Shift> shiftsOn(Date day) const {
        std::vector<Shift> shifts =
            shiftsIn({day, day.plusDays(1)}, {nurse_}, s_.shiftPatterns, s_.extraShifts, s_.timeOff);
        std::erase_if(shifts, [](const Shift &shift) { return shift.isOnCall; });
        return shifts;
    }

    Minutes minutesOutside(DateRange week) const {
        Minutes sum = Minutes::of(0);
        for (Date day = week.from; day < week.to; ++day)
            if (isOtherDay(day))
                for (const Shift &shift : shiftsOn(day))
                    sum += shift.working();
        return std::min(sum, nurse_.contractPerWeek);
    }

    static bool isBarred(const Patient &patient, NurseId nurse) {
        return std::ranges::find(patient.barredNurses, nurse) != patient.barredNurses.end();
    }

    bool isOnLeave(NurseId nurse, Date day) const {
        return std::ranges::any_of(
            s_.timeOff, [&](const TimeOff &off) { return off.nurse == nurse && off.coversDay(day); });
    }

    void addCover(Skill skill) {
        AreaCover cover;
        cover.skill = skill;
        cover.worst = leave_.from;
        std::vector<const Nurse *> competent;
        for (const Nurse &n : s_.nurses)
            if (n.isActive && n.base.area == plan_.area && skillsOn(n, leave_.from).contains(skill))
                competent.push_back(&n);
        cover.competent = static_cast<int>(competent.size());
        cover.leastAtWork = cover.competent;
        std::set<NurseId> alsoOff;
        for (Date day = leave_.from; day < leave_.to; ++day) {
            if (!isVisitingDay(day) || !isAtWork(nurse_.id, day))
                continue; // nothing changes on a day she would not work anyway
            int off = 1, atWork = 0;
            for (const Nurse *n : competent) {
                if (n->id == nurse_.id)
                    continue;
                if (isOnLeave(n->id, day)) {
                    ++off;
                    alsoOff.insert(n->id);
                }
                atWork += isAtWork(n->id, day) && skillsOn(*n, day).contains(skill) ? 1 : 0;
            }
            if (std::pair(off, -atWork) > std::pair(cover.mostOff, -cover.leastAtWork))
                cover.worst = day;
            cover.mostOff = std::max(cover.mostOff, off);
            cover.leastAtWork = std::min(cover.leastAtWork, atWork);
        }
        cover.alsoOff.assign(alsoOff.begin(), alsoOff.end());
        plan_.cover.push_back(std::move(cover));
    }

    const Agency &agency_;
    const Snapshot &s_;
    const Nurse &nurse_;
    DateRange leave_; // what is left of it
    std::vector<Shift> shifts_;
    LeavePlan plan_;
    LeaveWeek moving_; // of the week being read
};

QString nameOf(const Agency &agency, NurseId id) {
    const Nurse *nurse = agency.index().nurse(id);
    return nurse ? personName(*nurse) : QString();
}

QString moveText(const LeaveWeek &w) {
    QString text =
        Text::tr("Week of %1: %2 to the nurse's other days, %3 min of work (driving not counted) against %4 "
                 "min left there")
            .arg(dayText(w.week), counted(w.moved, Text::tr("1 visit moves"), Text::tr("%1 visits move")),
                 numberText(w.work.count()), numberText(std::max<std::int64_t>(0, w.left.count())));
    text += w.fits() ? Text::tr(".") : Text::tr(": THEY DO NOT ALL FIT.");
    return w.isPlanned
               ? text
               : Text::tr("%1 That week has no plan yet: visits to other nurses' patients that a plan "
                          "gives this nurse are not counted, so less may be left.")
                     .arg(text);
}

// "The week of Sun 22 Nov is not planned yet"; of several, each is named.
QString unplannedText(const LeavePlan &plan) {
    QStringList weeks;
    for (const Date week : plan.unplanned)
        weeks << dayText(week);
    return weeks.size() == 1
               ? Text::tr("The week of %1 is not planned yet").arg(weeks.front())
               : Text::tr("The weeks of %1 are not planned yet").arg(weeks.join(QStringLiteral(", ")));
}

} // namespace

bool LeavePlan::allMovedFit() const {
    return std::ranges::all_of(moves, &LeaveWeek::fits);
}

int LeavePlan::uncovered() const {
    return static_cast<int>(
        std::ranges::count_if(visits, [](const LeaveVisit &v) { return !v.isCovered(); }));
}

bool LeavePlan::isFlagged() const {
    return uncovered() > 0 || !allMovedFit() || std::ranges::any_of(cover, &AreaCover::isFlagged);
}

Result<LeavePlan> leavePlan(const Agency &agency, TimeOffId id) {
    const auto &all = agency.snapshot().timeOff;
    const auto found = std::ranges::find(all, id, &TimeOff::id);
    if (found == all.end() || !agency.index().nurse(found->nurse))
        return Problem{ProblemCode::UnknownRecord, "id", {"time_off", std::to_string(id.value())}};
    return Planner(agency, *found).run();
}

WhatIfQuestion leaveQuestion(const LeavePlan &plan, DateRange week) {
    WhatIfQuestion question;
    question.kind = WhatIfKind::NurseAway;
    question.nurse = plan.request.nurse;
    question.away = DateRange{std::max(week.from, plan.request.from), std::min(week.to, plan.request.to)};
    return question;
}

QStringList leaveWarnings(const LeavePlan &plan, const Agency &agency) {
    QStringList lines;
    for (const AreaCover &c : plan.cover) {
        if (c.mostOff >= 2) {
            QStringList names;
            for (const NurseId id : c.alsoOff)
                names << nameOf(agency, id);
            lines << Text::tr(
                         "%1 nurses with the skill \"%2\" would be off in the %3 area on %4 (also off: %5).")
                         .arg(QString::number(c.mostOff), words(c.skill), words(plan.area), dayText(c.worst),
                              names.join(QStringLiteral("; ")));
        }
        if (c.leastAtWork == 0)
            lines << Text::tr("On %1 no nurse of the %2 area with the skill \"%3\" would be at work.")
                         .arg(dayText(c.worst), words(plan.area), words(c.skill));
    }
    if (plan.uncovered() > 0)
        lines << Text::tr("%1 owed visits have nobody else at work who may make them.").arg(plan.uncovered());
    for (const LeaveWeek &week : plan.moves)
        if (!week.fits())
            lines << moveText(week);
    const auto without =
        std::ranges::count_if(plan.visits, [](const LeaveVisit &v) { return v.isCovered() && !v.backup; });
    if (without > 0)
        lines
            << Text::tr("%1 owed visits have no backup nurse at work; another nurse would go.").arg(without);
    return lines;
}

QString leaveCountedText(const LeavePlan &plan) {
    int moved = 0;
    for (const LeaveWeek &week : plan.moves)
        moved += week.moved;
    QString text =
        Text::tr("Counted are the owed visits of this nurse's own patients and those planned for this nurse: "
                 "%1 bound to these days, %2 that may be made on other days.")
            .arg(numberText(std::ssize(plan.visits)), numberText(moved));
    if (!plan.unplanned.empty())
        text +=
            u' ' + Text::tr("%1: visits that a plan may give this nurse on these days are not counted. Plan "
                            "that week without this nurse to see who would take them.")
                       .arg(unplannedText(plan));
    return text;
}

QString leaveVerdict(const LeavePlan &plan, const Agency &agency, QChar between) {
    const QStringList warnings = leaveWarnings(plan, agency);
    if (!warnings.isEmpty())
        return warnings.join(between);
    const QString nothing = Text::tr("Nothing stands against it by cover and skill.");
    return plan.unplanned.empty() ? nothing
                                  : Text::tr("%1 %2: what a plan would give this nurse there is not counted.")
                                        .arg(nothing, unplannedText(plan));
}

int plannedInLeave(const LeavePlan &plan, const Agency &agency) {
    const TimeOff &off = plan.request;
    return static_cast<int>(std::ranges::count_if(agency.snapshot().visits, [&](const Visit &visit) {
        const bool isPlanned = visit.status == VisitStatus::Drafted || visit.status == VisitStatus::Published;
        return isPlanned && visit.on && *visit.on >= agency.today() && *visit.on >= off.from &&
               *visit.on < off.to && (visit.nurse == off.nurse || visit.secondNurse == off.nurse);
    }));
}

QString approvedLeaveText(const LeavePlan &plan, const Agency &agency) {
    const QString approved = Text::tr("Approved leave of %1.").arg(nameOf(agency, plan.request.nurse));
    const int planned = plannedInLeave(plan, agency);
    if (planned == 0)
        return approved;
    return Text::tr("%1 %2: plan the week again, or mend it, in the caseload calendar.")
        .arg(approved, counted(planned, Text::tr("1 planned visit of this nurse falls on those days"),
                               Text::tr("%1 planned visits of this nurse fall on those days")));
}

QStringList leaveMoves(const LeavePlan &plan) {
    QStringList lines;
    for (const LeaveWeek &week : plan.moves)
        if (week.fits())
            lines << moveText(week);
    return lines;
}

QString noLeaveVisitsText(const LeavePlan &plan) {
    if (!plan.allMovedFit())
        return Text::tr(
            "No owed visit is bound to these days, but those that move do not all fit on the other "
            "days: plan that week without this nurse, and see who takes them.");
    if (!plan.unplanned.empty())
        return Text::tr("No visit that is known of is bound to these days. %1: plan that week without this "
                        "nurse, and see who takes what would fall to this nurse.")
            .arg(unplannedText(plan));
    return plan.moves.empty() ? Text::tr("No owed visit falls into these days.")
                              : Text::tr("No owed visit has to be made in these days by somebody else.");
}

Table leaveVisitTable(const LeavePlan &plan, const Agency &agency) {
    Table table;
    table.title = Text::tr("Owed visits in the leave").toStdString();
    table.key = "leave_visits";
    table.columns = {textColumn(Text::tr("Patient"), "patient"), textColumn(Text::tr("Visit"), "visit"),
                     textColumn(Text::tr("First day"), "from"), textColumn(Text::tr("Last day"), "until"),
                     textColumn(Text::tr("Cover"), "cover")};
    for (const LeaveVisit &v : plan.visits) {
        QString cover;
        if (v.backup)
            cover = Text::tr("backup: %1").arg(nameOf(agency, *v.backup));
        else if (v.others > 0)
            cover = Text::tr("no backup; %1 others could").arg(v.others);
        else
            cover = Text::tr("NOBODY");
        table.rows.push_back({patientOf(agency.index(), v.patient, PatientNamed::InFull), cell(words(v.kind)),
                              cell(v.days.from), cell(v.days.to.plusDays(-1)), cell(cover)});
    }
    return table;
}

Table leaveCoverTable(const LeavePlan &plan, const Agency &agency) {
    Table table;
    table.title = Text::tr("Skill left in the area").toStdString();
    table.key = "leave_cover";
    table.columns = {textColumn(Text::tr("Area"), "area"),
                     textColumn(Text::tr("Skill"), "skill"),
                     numberColumn(Text::tr("Nurses"), "nurses"),
                     numberColumn(Text::tr("Most off"), "most_off"),
                     numberColumn(Text::tr("Least at work"), "least_at_work"),
                     textColumn(Text::tr("Worst day"), "worst_day"),
                     textColumn(Text::tr("To know"), "to_know")};
    for (const AreaCover &c : plan.cover) {
        QStringList names;
        for (const NurseId id : c.alsoOff)
            names << nameOf(agency, id);
        const QString know =
            names.isEmpty() ? QString() : Text::tr("also off: %1").arg(names.join(QStringLiteral("; ")));
        table.rows.push_back({cell(words(plan.area)), cell(words(c.skill)), cell(std::int64_t{c.competent}),
                              cell(std::int64_t{c.mostOff}), cell(std::int64_t{c.leastAtWork}), cell(c.worst),
                              cell(c.isFlagged() ? Text::tr("TOO THIN; %1").arg(know) : know)});
    }
    return table;
}

std::vector<TimeOff> leaveList(const Agency &agency) {
    std::vector<TimeOff> list;
    for (const TimeOff &off : agency.snapshot().timeOff)
        if (agency.index().nurse(off.nurse) && off.to > agency.today())
            list.push_back(off);
    std::ranges::stable_sort(list, {}, [&](const TimeOff &off) {
        return std::tuple(off.status != LeaveStatus::Requested, off.from, nameOf(agency, off.nurse));
    });
    return list;
}

Table leaveListTable(const Agency &agency) {
    Table table;
    table.title = Text::tr("Leave").toStdString();
    table.key = "leave";
    table.columns = {
        textColumn(Text::tr("Nurse"), "nurse"),       textColumn(Text::tr("First day off"), "from"),
        textColumn(Text::tr("First day back"), "to"), textColumn(Text::tr("Status"), "status"),
        textColumn(Text::tr("Asked on"), "asked_on"), textColumn(Text::tr("To know"), "to_know")};
    for (const TimeOff &off : leaveList(agency)) {
        QString know;
        if (off.status == LeaveStatus::Requested)
            if (const auto plan = leavePlan(agency, off.id))
                know = leaveVerdict(*plan, agency, u' ');
        table.rows.push_back({nurseOf(agency.index(), off.nurse), cell(off.from), cell(off.to),
                              cell(words(off.status)), cell(off.askedOn), cell(know)});
    }
    return table;
}

} // namespace kitround::desk
