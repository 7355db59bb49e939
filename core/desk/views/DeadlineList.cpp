#include "core/desk/views/DeadlineList.h"

#include "core/calendar/Deadlines.h"
#include "core/calendar/Zone.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/SkillMatrix.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/Recertification.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr std::int64_t kBackDays = 84; // what the counts look back on
constexpr std::int64_t kSoonDays = 7;  // assumed
// What was missed longer ago can no longer be made in its time: it is counted, but no work for today.
constexpr std::int64_t kListedDays = 14;    // assumed
constexpr std::int64_t kSignatureDays = 14; // a verbal order unsigned for longer is chased (assumed)
constexpr Minutes kDayEnd = Minutes::of(1439);

class Clocks {
public:
    Clocks(const Agency &agency, const calendar::Zone &zone)
        : agency_(agency), s_(agency.snapshot()), zone_(zone), now_(s_.now),
          backTo_(s_.asOf.plusDays(-kBackDays)) {
        for (int k = 0; k < kDeadlineKindCount; ++k)
            list_.counts.push_back({.kind = static_cast<DeadlineKind>(k),
                                    .hasRecord = static_cast<DeadlineKind>(k) != DeadlineKind::Assessment});
    }

    DeadlineList run() {
        for (const Patient &patient : s_.patients) {
            firstVisit(patient);
            assessment(patient);
            recertifications(patient);
        }
        for (const Hold &hold : s_.holds)
            resumption(hold);
        for (const Catheter &catheter : s_.catheters)
            for (const DrainOrder *order : agency_.index().ordersOf(catheter.id))
                signature(catheter, *order);
        for (const Nurse &nurse : s_.nurses)
            if (nurse.isActive)
                for (const SkillGrant &grant : nurse.skills)
                    competence(nurse, grant);
        std::ranges::stable_sort(list_.rows, {}, [](const DeadlineRow &r) {
            return std::tuple(!r.isPressing(), !r.isOverdue, r.due, r.kind);
        });
        return std::move(list_);
    }

private:
    DeadlineCount &count(DeadlineKind kind) { return list_.counts[static_cast<std::size_t>(kind)]; }

    DeadlineRow &open(DeadlineKind kind, LocalTime due, const QString &who, const QString &detail) {
        DeadlineRow row;
        row.kind = kind;
        row.due = due;
        row.isOverdue = due < now_;
        row.who = who;
        row.detail = detail;
        ++(row.isOverdue ? count(kind).overdue : count(kind).soon);
        list_.rows.push_back(std::move(row));
        return list_.rows.back();
    }
    DeadlineRow &openOf(const Patient &patient, DeadlineKind kind, LocalTime due, const QString &detail) {
        DeadlineRow &row = open(kind, due, personName(patient), detail);
        row.patient = patient.id;
        return row;
    }

    // The first visit of the kind done on or after the day; its moment, or the end of its day.
    std::optional<LocalTime> done(PatientId patient, VisitKind kind, Date since) const {
        std::optional<LocalTime> first;
        for (const Visit *visit : agency_.index().visitsOf(patient)) {
            if (visit->kind != kind || visit->status != VisitStatus::Done)
                continue;
            const LocalTime at =
                visit->startedAt.value_or(LocalTime{visit->on.value_or(visit->dueFrom), kDayEnd});
            if (at.date >= since && (!first || at < *first))
                first = at;
        }
        return first;
    }
    const Visit *plannedVisit(PatientId patient, VisitKind kind, Date since) const {
        for (const Visit *visit : agency_.index().visitsOf(patient))
            if (visit->kind == kind && visit->on && *visit->on >= since &&
                (visit->status == VisitStatus::Published || visit->status == VisitStatus::Drafted))
                return visit;
        return nullptr;
    }
    QString planned(PatientId patient, VisitKind kind, Date since) const {
        if (const Visit *visit = plannedVisit(patient, kind, since))
            return Text::tr("Planned for %1%2.")
                .arg(dayText(*visit->on),
                     visit->status == VisitStatus::Drafted ? Text::tr(", not published") : QString());
        const Hold *hold = agency_.index().holdOn(patient, s_.asOf);
        return hold ? onHoldText(*hold, s_.asOf) : Text::tr("No visit planned.");
    }

    // Something that fell due within the look-back, or stands open and is near.
    void clock(const Patient &patient, DeadlineKind kind, VisitKind visit, Date since, LocalTime due,
               bool isWork) {
        const auto made = done(patient.id, visit, since);
        if (due.date >= backTo_ && (made || due < now_)) {
            ++count(kind).due;
            // A visit whose hour nobody wrote down is in time on the last day as a whole.
            const bool isInTime = made && (made->minute == kDayEnd ? made->date <= due.date : *made <= due);
            count(kind).inTime += isInTime ? 1 : 0;
        }
        if (!made && isOnService(patient.status) && isWork && due.date <= s_.asOf.plusDays(kSoonDays))
            markUnplanned(openOf(patient, kind, due, planned(patient.id, visit, since)), visit, since);
    }
    void markUnplanned(DeadlineRow &row, VisitKind visit, Date since) {
        row.isUnplanned =
            !plannedVisit(*row.patient, visit, since) && !agency_.index().holdOn(*row.patient, s_.asOf);
        count(row.kind).unplanned += row.isUnplanned && !row.isOverdue ? 1 : 0;
    }

    void firstVisit(const Patient &patient) {
        const auto due = calendar::firstVisitDue(patient, s_.settings);
        if (!due) {
            unknownClock(patient);
            return;
        }
        const Instant from =
            std::max(patient.referredAt.value_or(Instant{}), patient.homeFrom.value_or(Instant{}));
        const Date since = zone_.toLocal(from).date;
        // Started by the record, though the visit itself may be older than the loaded log.
        if (patient.startOfCare && !done(patient.id, VisitKind::StartOfCare, since)) {
            const LocalTime at = zone_.toLocal(*due);
            if (at.date >= backTo_) {
                ++count(DeadlineKind::FirstVisit).due;
                count(DeadlineKind::FirstVisit).inTime += *patient.startOfCare <= at.date ? 1 : 0;
            }
            return;
        }
        clock(patient, DeadlineKind::FirstVisit, VisitKind::StartOfCare, since, zone_.toLocal(*due), true);
    }

    // The clock runs, only nobody wrote down since when: neither in time nor late, and not to be lost.
    void unknownClock(const Patient &patient) {
        if (patient.status != CareStatus::Referred || patient.startOfCare ||
            done(patient.id, VisitKind::StartOfCare, backTo_))
            return;
        DeadlineRow row;
        row.kind = DeadlineKind::FirstVisit;
        row.isClockKnown = false;
        row.due = {s_.asOf, Minutes::of(0)}; // above what has a time
        row.who = personName(patient);
        row.detail = clockNotKnownText() + u' ' + planned(patient.id, VisitKind::StartOfCare, s_.asOf);
        row.patient = patient.id;
        list_.rows.push_back(std::move(row));
    }

    // Complete within 5 calendar days, the start of care being day 1 (42 CFR 484.55(b)). The records do not
    // say when it was, so it is shown while it runs and never counted.
    void assessment(const Patient &patient) {
        if (!patient.startOfCare || patient.status != CareStatus::Active)
            return;
        const Date last = patient.startOfCare->plusDays(s_.settings[SettingKey::AssessmentDays]);
        if (*patient.startOfCare <= s_.asOf && last >= s_.asOf)
            openOf(patient, DeadlineKind::Assessment, {last, kDayEnd},
                   Text::tr("Care started on %1; the assessment is complete by the day shown.")
                       .arg(dayText(*patient.startOfCare)));
    }

    void resumption(const Hold &hold) {
        const Patient *patient = agency_.index().patient(hold.patient);
        if (!patient || hold.kind != HoldKind::Hospital || !hold.to || *hold.to <= hold.from ||
            *hold.to > s_.asOf)
            return;
        // Only the day of return is known, so the clock starts with it: rather early than late.
        const Instant due = zone_.toUtc({*hold.to, Minutes::of(0)}) +
                            Minutes::of(60 * s_.settings[SettingKey::FirstVisitHours]);
        const LocalTime at = zone_.toLocal(due);
        clock(*patient, DeadlineKind::Resumption, VisitKind::Resumption, *hold.to, at,
              at.date >= s_.asOf.plusDays(-kListedDays));
    }

    void recertifications(const Patient &patient) {
        if (!patient.startOfCare || *patient.startOfCare > s_.asOf)
            return;
        const Date until = patient.exitedAt
                               ? std::min(zone_.toLocal(*patient.exitedAt).date, s_.asOf.plusDays(kSoonDays))
                               : s_.asOf.plusDays(kSoonDays);
        const auto missed = rounds::missedRecertification(agency_.index(), patient);
        for (Date on = std::max(*patient.startOfCare, backTo_); on <= until;) {
            const auto period = calendar::certificationPeriod(*patient.startOfCare, on, s_.settings);
            const Date last = period.recertWindow.to.plusDays(-1);
            if (last <= until && last >= backTo_)
                clock(patient, DeadlineKind::Recertification, VisitKind::Recertification,
                      period.recertWindow.from, {last, kDayEnd},
                      last >= s_.asOf || (missed && missed->number == period.number));
            on = period.days.to;
        }
    }

    void signature(const Catheter &catheter, const DrainOrder &order) {
        const Date last = order.start.plusDays(kSignatureDays);
        if (!order.isVerbal)
            return;
        if (last >= backTo_ && last < s_.asOf) {
            ++count(DeadlineKind::Signature).due;
            count(DeadlineKind::Signature).inTime += order.signedOn && *order.signedOn <= last ? 1 : 0;
        }
        const Patient *patient = agency_.index().patient(catheter.patient);
        if (patient && !order.signedOn && isOnService(patient->status) && order.start <= s_.asOf)
            openOf(*patient, DeadlineKind::Signature, {last, kDayEnd},
                   Text::tr("Verbal order of %1, not signed yet.").arg(dayText(order.start, s_.asOf)));
    }

    void competence(const Nurse &nurse, const SkillGrant &grant) {
        DeadlineCount &c = count(DeadlineKind::Competence);
        ++c.due;
        const bool isExpired = grant.expiresOn && *grant.expiresOn <= s_.asOf;
        c.inTime += isExpired ? 0 : 1;
        if (!grant.expiresOn || *grant.expiresOn > s_.asOf + kSkillNotice)
            return;
        open(DeadlineKind::Competence, {grant.expiresOn->plusDays(-1), kDayEnd}, personName(nurse),
             isExpired
                 ? Text::tr("%1: expired; no visit that needs it is planned.").arg(words(grant.skill))
                 : Text::tr("%1: last valid day as shown; arrange the sign-off.").arg(words(grant.skill)))
            .nurse = nurse.id;
    }

    const Agency &agency_;
    const Snapshot &s_;
    const calendar::Zone &zone_;
    LocalTime now_;
    Date backTo_;
    DeadlineList list_;
};

} // namespace

QString overdueText() {
    return Text::tr("overdue");
}

QString unplannedText() {
    return Text::tr("due soon, no visit planned");
}

QString clockNotKnownText() {
    return Text::tr("Clock not known: enter the referral time.");
}

QString onHoldText(const Hold &hold, Date today) {
    return Text::tr("On hold: %1 since %2.").arg(words(hold.kind), dayText(hold.from, today));
}

QString words(DeadlineKind kind) {
    switch (kind) {
    case DeadlineKind::FirstVisit:
        return Text::tr("First visit");
    case DeadlineKind::Assessment:
        return Text::tr("Assessment complete");
    case DeadlineKind::Resumption:
        return Text::tr("Resumption after hospital");
    case DeadlineKind::Recertification:
        return Text::tr("Recertification");
    case DeadlineKind::Signature:
        return Text::tr("Signature");
    case DeadlineKind::Competence:
        return Text::tr("Competence");
    }
    return {};
}

namespace {

QString stateOf(const DeadlineRow &row) {
    return !row.isClockKnown  ? Text::tr("clock not known")
           : row.isOverdue    ? overdueText()
           : row.isPressing() ? unplannedText()
                              : Text::tr("due soon");
}

} // namespace

DeadlineList deadlineList(const Agency &agency) {
    const auto zone = calendar::Zone::named(agency.settings().timeZone);
    return zone ? Clocks(agency, *zone).run() : DeadlineList{};
}

int overdueCount(const DeadlineList &list) {
    return static_cast<int>(std::ranges::count_if(list.rows, [](const DeadlineRow &row) {
        return row.isOverdue || !row.isClockKnown || row.isPressing();
    }));
}

Table deadlineTable(const DeadlineList &list, const Agency &agency, PatientNamed named) {
    Table table;
    table.title = Text::tr("Deadlines").toStdString();
    table.key = "deadlines";
    table.columns = {textColumn(Text::tr("What"), "what"), textColumn(Text::tr("Who"), "who"),
                     textColumn(Text::tr("Due"), "due"), textColumn(Text::tr("State"), "state"),
                     textColumn(Text::tr("Detail"), "detail")};
    for (const DeadlineRow &row : list.rows)
        table.rows.push_back({cell(words(row.kind)),
                              row.patient ? patientOf(agency.index(), *row.patient, named) : cell(row.who),
                              row.isClockKnown ? toIso(row.due) : std::string(), cell(stateOf(row)),
                              cell(row.detail)});
    for (const DeadlineCount &c : list.counts)
        if (c.unplanned > 0)
            table.notes.push_back(Text::tr("%1: %2 due soon without a planned visit.")
                                      .arg(words(c.kind), numberText(c.unplanned))
                                      .toStdString());
    for (const DeadlineCount &c : list.counts)
        if (c.hasRecord && c.due > 0)
            table.notes.push_back((c.kind == DeadlineKind::Competence
                                       ? Text::tr("%1: %2 of %3 skills valid.")
                                       : Text::tr("%1: %2 of %3 in time over the last 12 weeks."))
                                      .arg(words(c.kind))
                                      .arg(numberText(c.inTime), numberText(c.due))
                                      .toStdString());
    return table;
}

} // namespace kitround::desk
