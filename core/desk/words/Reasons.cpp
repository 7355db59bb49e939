#include "core/desk/words/Reasons.h"

#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace kitround::desk {
namespace {

QString percent(std::int64_t permille) {
    return shortNumber(static_cast<double>(permille) / 10.0) + QStringLiteral(" %");
}

QString nurseOf(const rounds::WeekProblem &problem, std::int32_t duty, const SnapshotIndex &agency) {
    if (duty < 0 || static_cast<std::size_t>(duty) >= problem.duties.size())
        return Text::tr("no nurse");
    const auto nurse = static_cast<std::size_t>(problem.duties[static_cast<std::size_t>(duty)].nurse);
    const Nurse *record = agency.nurse(problem.nurses[nurse].id);
    return record ? personName(*record) : Text::tr("a nurse");
}

QString dayOf(const rounds::WeekProblem &problem, std::int32_t duty) {
    if (duty < 0 || static_cast<std::size_t>(duty) >= problem.duties.size())
        return {};
    return dayText(problem.firstDay.plusDays(problem.duties[static_cast<std::size_t>(duty)].day));
}

QString jobText(const rounds::WeekProblem &problem, std::int32_t job, const SnapshotIndex &agency,
                PatientNamed named) {
    if (job < 0 || static_cast<std::size_t>(job) >= problem.jobs.size())
        return Text::tr("a visit");
    const rounds::Job &j = problem.jobs[static_cast<std::size_t>(job)];
    const Patient *patient = agency.patient(j.patient);
    if (!patient)
        return words(j.kind);
    return named == PatientNamed::InFull
               ? QStringLiteral("%1 (%2)").arg(personName(*patient), words(j.kind))
               : QStringLiteral("%1 %2").arg(initials(*patient), words(j.kind)).trimmed();
}

} // namespace

QString words(rounds::Rule rule) {
    switch (rule) {
    case rounds::Rule::Skill:
        return Text::tr("a skill that is needed");
    case rounds::Rule::DutyHours:
        return Text::tr("the nurse's hours that day");
    case rounds::Rule::Break:
        return Text::tr("the nurse's break");
    case rounds::Rule::Window:
        return Text::tr("the times the patient can be visited");
    case rounds::Rule::Barred:
        return Text::tr("a nurse the patient is not to be visited by");
    case rounds::Rule::Day:
        return Text::tr("the days allowed for this visit");
    case rounds::Rule::LockedDay:
        return Text::tr("the day, which is locked");
    case rounds::Rule::LockedNurse:
        return Text::tr("the nurse, who is locked");
    case rounds::Rule::LockedTime:
        return Text::tr("the time, which is locked");
    case rounds::Rule::MostVisits:
        return Text::tr("the most visits in a day");
    case rounds::Rule::LeastGap:
        return Text::tr("the least gap between two visits of one order");
    case rounds::Rule::SameDayTwice:
        return Text::tr("one visit of an order a day");
    case rounds::Rule::TwoNurses:
        return Text::tr("two nurses at the same time");
    case rounds::Rule::CarSpace:
        return Text::tr("the space in the car");
    case rounds::Rule::NoDuty:
        return Text::tr("nobody on duty");
    case rounds::Rule::Overlap:
        return Text::tr("another visit at the same time");
    case rounds::Rule::Load:
        return Text::tr("the most that can be carried on a day");
    case rounds::Rule::Pattern:
        return Text::tr("the sets of days allowed for this order");
    case rounds::Rule::OneNurse:
        return Text::tr("one nurse for the whole order");
    case rounds::Rule::Linked:
        return Text::tr("the visit it is tied to");
    }
    return {};
}

QString words(rounds::WayOutKind kind) {
    switch (kind) {
    case rounds::WayOutKind::OtherDay:
        return Text::tr("another day");
    case rounds::WayOutKind::Overtime:
        return Text::tr("overtime");
    case rounds::WayOutKind::WiderWindow:
        return Text::tr("a wider visiting time");
    case rounds::WayOutKind::OtherSkill:
        return Text::tr("another skill");
    case rounds::WayOutKind::UnlockNurse:
        return Text::tr("unlocking the nurse");
    case rounds::WayOutKind::UnlockDay:
        return Text::tr("unlocking the day");
    case rounds::WayOutKind::UnlockTime:
        return Text::tr("unlocking the time");
    case rounds::WayOutKind::UnlockDayAndNurse:
        return Text::tr("unlocking the day and the nurse");
    case rounds::WayOutKind::UnlockDayAndTime:
        return Text::tr("unlocking the day and the time");
    case rounds::WayOutKind::UnlockNurseAndTime:
        return Text::tr("unlocking the nurse and the time");
    case rounds::WayOutKind::OneVisitMore:
        return Text::tr("one visit more on a day");
    }
    return {};
}

QString words(rounds::Priority priority) {
    switch (priority) {
    case rounds::Priority::Low:
        return Text::tr("low");
    case rounds::Priority::Middle:
        return Text::tr("middle");
    case rounds::Priority::High:
        return Text::tr("high");
    case rounds::Priority::Urgent:
        return Text::tr("urgent");
    }
    return {};
}

QString words(supply::RefillLimit limit) {
    switch (limit) {
    case supply::RefillLimit::None:
        return Text::tr("not limited");
    case supply::RefillLimit::DaysHeld:
        return Text::tr("limited by the most days a home may hold");
    case supply::RefillLimit::CasePack:
        return Text::tr("rounded to whole cases");
    case supply::RefillLimit::StoreroomShort:
        return Text::tr("limited by what the storeroom has");
    case supply::RefillLimit::Expiry:
        return Text::tr("limited by expiry dates");
    case supply::RefillLimit::TaperExpected:
        return Text::tr("limited because less use is expected than ordered");
    }
    return {};
}

QString words(supply::ReorderCause cause) {
    switch (cause) {
    case supply::ReorderCause::BelowLevel:
        return Text::tr("below the level");
    case supply::ReorderCause::TopUpToMinimum:
        return Text::tr("tops the order up to the supplier's minimum");
    case supply::ReorderCause::BackorderCover:
        return Text::tr("covers a backorder");
    }
    return {};
}

QString toppedUpText(const supply::ReorderLine &line) {
    if (line.toppedUp.isZero() || line.cause == supply::ReorderCause::TopUpToMinimum)
        return {};
    return counted(line.toppedUp.count(), Text::tr("1 case only to reach the supplier's minimum"),
                   Text::tr("%1 cases only to reach the supplier's minimum"));
}

QString words(supply::ReorderFlag flag) {
    switch (flag) {
    case supply::ReorderFlag::Backordered:
        return Text::tr("backordered by the supplier");
    case supply::ReorderFlag::PastCutOff:
        return Text::tr("today's cut-off has passed");
    case supply::ReorderFlag::NoSupplier:
        return Text::tr("nobody offers it: enter an offer");
    case supply::ReorderFlag::ShortBeforeArrival:
        return Text::tr("may run short before it arrives");
    case supply::ReorderFlag::Overstock:
        return Text::tr("more than is needed, because of the pack");
    }
    return {};
}

QString reason(const supply::RefillProposal &p, const SnapshotIndex &agency) {
    QStringList parts;
    if (p.stockIsUnknown)
        parts << Text::tr("What is in the home is not known: ask for a count first.");
    if (p.runOutP10)
        parts
            << Text::tr("May run out from %1 (1 in 10).").arg(dayText(*p.runOutP10, agency.snapshot().asOf));
    if (p.supplyEnds)
        parts << Text::tr("By the plain rule the supply ends on %1.")
                     .arg(dayText(*p.supplyEnds, agency.snapshot().asOf));
    if (p.deliverFrom > p.deliverBy)
        parts << Text::tr(
            "It is needed before the payer lets it be delivered: ask the payer, or agree another way.");
    const bool isLate = p.deliverBy < p.deliverOn || p.deliverBy < p.deliverFrom;
    parts << (isLate ? Text::tr("Call from %1 to %2; deliver from %3; needed by %4, which cannot be kept; "
                                "proposed %5, %6.")
                     : Text::tr("Call from %1 to %2; deliver from %3, by %4; proposed %5, %6."))
                 .arg(dayText(p.callFrom), dayText(p.callBy), firstDayText(p, agency.snapshot().asOf),
                      dayText(p.deliverBy), dayText(p.deliverOn), words(p.way));
    return parts.join(u' ');
}

QString reason(const supply::RefillLine &line, const SnapshotIndex &agency) {
    const QString count = line.quantity.isZero() ? Text::tr("none") : numberText(line.quantity.count());
    const QString inHome = line.onHand.isNegative()
                               ? Text::tr("none in the home (the ledger says %1)").arg(line.onHand.count())
                               : Text::tr("%1 in the home").arg(line.onHand.count());
    const QString notCounted = notCountedText(line.recalled, line.expired);
    const QString there = notCounted.isEmpty() ? inHome : Text::tr("%1, %2").arg(inHome, notCounted);
    QString text = Text::tr("Send %1 of %2: %3, %4 needed.")
                       .arg(count, itemName(agency, line.item), there,
                            numberText(std::max<std::int64_t>(0, line.exactNeed.count())));
    if (line.limitedBy != supply::RefillLimit::None)
        text += u' ' + Text::tr("The number is %1.").arg(words(line.limitedBy));
    if (line.substituteFor)
        text +=
            u' ' +
            Text::tr("It stands in for %1, as the order allows.").arg(itemName(agency, *line.substituteFor));
    if (line.onlyUntil)
        text += u' ' + Text::tr("It goes back on %1: this is for the drains before that day.")
                           .arg(dayText(*line.onlyUntil));
    if (line.onlyFrom)
        text += u' ' + Text::tr("Another size stands in until then: this is for the drains from %1 on.")
                           .arg(dayText(*line.onlyFrom));
    if (line.needsRecord)
        text +=
            u' ' + Text::tr("No record of it is in force: record who approved it, that the home was taught, "
                            "and the day it goes back, or it is not picked.");
    text += u' ' + Text::tr("Chance of running dry before the delivery: %1; if nothing is sent, %2: %3.")
                       .arg(chanceText(line.chanceDryBefore),
                            line.nextOn
                                ? Text::tr("before %1, the next possible delivery").arg(dayText(*line.nextOn))
                                : Text::tr("before the next possible delivery"),
                            chanceText(line.chanceDryIfNot));
    text += u' ' + (line.coversByMean ? Text::tr("Then lasts about %1 by the mean use.")
                                      : Text::tr("Then lasts about %1 by the plain rule."))
                       .arg(counted(std::lround(line.daysCovered), Text::tr("1 day"), Text::tr("%1 days")));
    return text;
}

QString reason(const supply::ReorderLine &line, const SnapshotIndex &agency) {
    const std::int64_t eaches = toEaches(line.cases, line.pack).count();
    const std::int64_t review = agency.snapshot().settings[SettingKey::ReviewDays];
    const std::int64_t lead = std::max<std::int64_t>(0, line.coverDays.count() - review);
    QString text = counted(line.cases.count(), Text::tr("Order 1 case (%2)"), Text::tr("Order %1 cases (%2)"))
                       .replace(QStringLiteral("%2"), numberText(eaches));
    QString stock = Text::tr("%1 on the shelf, %2 promised, %3 on order")
                        .arg(numberText(line.storeroom.count()), numberText(line.promised.count()),
                             numberText(line.onOrder.count()));
    if (!line.expiring.isZero())
        stock += Text::tr(", %1 likely to expire first").arg(numberText(line.expiring.count()));
    text += QStringLiteral(": ") + stock;
    text += Text::tr("; %1 expected over %2 days (review %3 + lead %4), level %5 at %6; need %7.")
                .arg(shortNumber(line.demandMean), numberText(line.coverDays.count()), numberText(review),
                     numberText(lead), numberText(line.orderUpTo.count()), percent(line.servicePermille),
                     numberText(line.exactNeed.count()));
    if (const QString referrals = referralsText(line.fromReferrals, agency); !referrals.isEmpty())
        text += u' ' + referrals;
    // Another stretch than the one above, so the rate stands beside what is worked out with it.
    if (line.meanPerDay > 0)
        text += u' ' + Text::tr("At %1 a week, the mean of the next four weeks, it lasts about %2 days.")
                           .arg(shortNumber(7 * line.meanPerDay))
                           .arg(std::lround(line.daysAfter));
    if (line.cause != supply::ReorderCause::BelowLevel)
        text += u' ' + Text::tr("This line %1.").arg(words(line.cause));
    if (const QString toppedUp = toppedUpText(line); !toppedUp.isEmpty())
        text += u' ' + Text::tr("Of these, %1.").arg(toppedUp);
    QStringList flags;
    for (const supply::ReorderFlag flag : line.flags)
        flags << words(flag);
    if (line.chanceShortBefore > 0.0005)
        flags << Text::tr("chance of running short before it arrives: %1")
                     .arg(chanceText(line.chanceShortBefore));
    if (!flags.isEmpty())
        text += u' ' + Text::tr("Note: %1.").arg(flags.join(QStringLiteral("; ")));
    return text;
}

namespace {

QString minutesText(std::int64_t minutes) {
    return counted(minutes, Text::tr("1 minute"), Text::tr("%1 minutes"));
}

// Nothing is in the way as long as one place takes it: what bars the others would only mislead.
QString freeText(const rounds::UnplacedReason &why, const QString &what) {
    const QString places =
        counted(why.freePlaces, Text::tr("1 place is free for it"), Text::tr("%1 places are free for it"));
    return why.freeCost > 0
               ? Text::tr("%1 is not placed although %2: placing it comes to more weighted minutes than "
                          "leaving it out (the cheapest %3).")
                     .arg(what, places, addedMinutesText(why.freeCost))
               : Text::tr(
                     "%1 is not placed, and %2: nothing is in the way. Place it, or plan the week again.")
                     .arg(what, places);
}

// "31 min", "133 h 20 min": of a drive, which a wrong point on the map makes long.
QString driveText(std::int64_t minutes) {
    const QString rest = Text::tr("%1 min").arg(minutes % 60);
    if (minutes < 60)
        return rest;
    const QString hours = Text::tr("%1 h").arg(numberText(minutes / 60));
    return minutes % 60 == 0 ? hours : hours + u' ' + rest;
}

// The visits of its series that stand too near to every day it might have.
QString nearVisitsText(const rounds::UnplacedReason &why, const rounds::WeekProblem &problem,
                       const SnapshotIndex &agency) {
    QStringList stands;
    for (const rounds::UnplacedReason::Beside &other : why.beside) {
        const QString day = dayText(problem.firstDay.plusDays(other.day));
        stands << (other.job < 0 ? Text::tr("%1, made or planned already").arg(day)
                                 : Text::tr("%1 at %2 with %3")
                                       .arg(day, timeText(Minutes::of(other.place.start)),
                                            nurseOf(problem, other.place.duty, agency)));
    }
    return stands.isEmpty() ? QString()
                            : u' ' + Text::tr("There it would be too near to the visit of %1.")
                                         .arg(stands.join(Text::tr(", and to that of ")));
}

QString dayNotAllowed(const rounds::RuleBreak &rule, const rounds::WeekProblem &problem,
                      const SnapshotIndex &agency, const QString &what) {
    const QString text = Text::tr("%1 is not allowed on %2").arg(what, dayOf(problem, rule.duty));
    if (rule.job < 0 || rule.duty < 0)
        return text + u'.';
    const rounds::Duty &duty = problem.duties[static_cast<std::size_t>(rule.duty)];
    const QString why =
        closedDayText(agency.snapshot().settings, problem.jobs[static_cast<std::size_t>(rule.job)].kind,
                      problem.firstDay.plusDays(duty.day));
    return why.isEmpty() ? text + u'.' : QStringLiteral("%1: %2.").arg(text, why);
}

} // namespace

QString reason(const rounds::RuleBreak &rule, const rounds::WeekProblem &problem, const SnapshotIndex &agency,
               PatientNamed named) {
    const auto by = [&](const QString &one, const QString &many) {
        return rule.amount > 0 ? QStringLiteral(" (") + counted(rule.amount, one, many) + u')' : QString();
    };
    const QString minutes = by(Text::tr("by 1 minute"), Text::tr("by %1 minutes"));
    const QString who = nurseOf(problem, rule.duty, agency), when = dayOf(problem, rule.duty);
    const QString what = jobText(problem, rule.job, agency, named);
    const auto locked = [&](const QString &text) {
        const bool hasBegun = rule.job >= 0 && problem.jobs[static_cast<std::size_t>(rule.job)].hasBegun;
        return (hasBegun ? Text::tr("%1 has begun and stays as it is.") : text).arg(what);
    };
    switch (rule.rule) {
    case rounds::Rule::Skill:
        return Text::tr("%1 lacks a skill that %2 needs.").arg(who, what);
    case rounds::Rule::DutyHours:
        return Text::tr("%1 is outside the hours of %2 on %3%4.").arg(what, who, when, minutes);
    case rounds::Rule::Break:
        return Text::tr("%1 leaves %2 no break on %3%4.").arg(what, who, when, minutes);
    case rounds::Rule::Window:
        return Text::tr("%1 is outside the times the patient can be visited%2.").arg(what, minutes);
    case rounds::Rule::Barred:
        return Text::tr("%1 is not to be visited by %2.").arg(what, who);
    case rounds::Rule::Day:
        return dayNotAllowed(rule, problem, agency, what);
    case rounds::Rule::LockedDay:
        return locked(Text::tr("The day of %1 is locked."));
    case rounds::Rule::LockedNurse:
        return locked(Text::tr("The nurse of %1 is locked."));
    case rounds::Rule::LockedTime:
        return locked(Text::tr("The time of %1 is locked."));
    case rounds::Rule::MostVisits:
        return Text::tr("%1 has too many visits on %2%3.")
            .arg(who, when, by(Text::tr("1 too many"), Text::tr("%1 too many")));
    case rounds::Rule::LeastGap:
        return Text::tr("%1 is too close to another visit of the same order%2.")
            .arg(what, by(Text::tr("by 1 day"), Text::tr("by %1 days")));
    case rounds::Rule::SameDayTwice:
        return Text::tr("%1 stands twice on %2.").arg(what, when);
    case rounds::Rule::TwoNurses:
        return Text::tr("%1 needs two nurses at the same time.").arg(what);
    case rounds::Rule::CarSpace:
        return Text::tr("The supplies do not fit the car of %1 on %2.").arg(who, when);
    case rounds::Rule::NoDuty:
        return Text::tr("Nobody is on duty for %1.").arg(what);
    case rounds::Rule::Overlap:
        return Text::tr("%1 overlaps another visit of %2 on %3%4.").arg(what, who, when, minutes);
    case rounds::Rule::Load:
        return Text::tr("%1 carries too much on %2.").arg(who, when);
    case rounds::Rule::Pattern:
        return Text::tr("The days of %1 are no set that its order allows.").arg(what);
    case rounds::Rule::OneNurse:
        return Text::tr("%1 is to have the same nurse every time.").arg(what);
    case rounds::Rule::Linked:
        for (const rounds::Follow &follow : problem.follows)
            if (follow.second == rule.job) {
                const QString off = follow.unit == GapUnit::Minute
                                        ? minutes
                                        : by(Text::tr("by 1 day"), Text::tr("by %1 days"));
                return Text::tr("%1 %2%3.")
                    .arg(what, followText(follow, problem, jobText(problem, follow.first, agency, named)),
                         off);
            }
        return Text::tr("%1 does not keep the time agreed with the visit it is tied to%2.")
            .arg(what, minutes);
    }
    return {};
}

QString reason(const rounds::UnplacedReason &why, const rounds::WeekProblem &problem,
               const SnapshotIndex &agency, PatientNamed named) {
    const QString what = jobText(problem, why.job, agency, named);
    if (rounds::hasPassed(problem))
        return Text::tr("%1 was not planned, and its week is over.").arg(what);
    if (why.tiedTo >= 0 && why.blockers.empty() && why.tooFar == 0)
        return Text::tr(
                   "%1 is not placed: alone it fits, but not together with %2, which is tied to it and has "
                   "no place either.")
            .arg(what, jobText(problem, why.tiedTo, agency, named));
    if (why.blockers.empty() && why.freePlaces == 0 && why.tooFar == 0)
        return Text::tr("%1 is not placed: placing it comes to more weighted minutes than leaving it out.")
            .arg(what);
    if (why.tiedTo < 0 && why.freePlaces > 0)
        return freeText(why, what);
    QStringList parts;
    const auto add = [&](const QString &barrier, const QString &where) {
        parts << (where.isEmpty() ? barrier : QStringLiteral("%1 (%2)").arg(barrier, where));
    };
    const auto nurseDays = [](int count) {
        return counted(count, Text::tr("1 nurse-day"), Text::tr("%1 nurse-days"));
    };
    if (why.tooFar > 0)
        add(Text::tr("the drive, which alone takes %1").arg(driveText(why.drive)), nurseDays(why.tooFar));
    for (const auto &[rule, count] : why.blockers)
        add(words(rule), count <= 0                 ? QString()
                         : rounds::isOfTheDay(rule) ? counted(count, Text::tr("1 day"), Text::tr("%1 days"))
                                                    : nurseDays(count));
    const QString text =
        Text::tr("%1 is not placed. In the way: %2.").arg(what, parts.join(QStringLiteral("; "))) +
        nearVisitsText(why, problem, agency);
    return why.tiedTo < 0 ? text
                          : text + u' ' +
                                Text::tr("%1 is tied to it and has no place either.")
                                    .arg(jobText(problem, why.tiedTo, agency, named));
}

QString reason(const rounds::WayOut &way, const rounds::WeekProblem &problem, const SnapshotIndex &agency,
               CostSaid said) {
    const QString who = nurseOf(problem, way.duty, agency), when = dayOf(problem, way.duty);
    const QString at = way.start >= 0 ? u' ' + timeText(Minutes::of(way.start)) : QString();
    const QString cost =
        said == CostSaid::Here ? QStringLiteral("; ") + addedMinutesText(way.addedCost) : QString();
    switch (way.kind) {
    case rounds::WayOutKind::OtherDay:
        if (way.amount <= 0) // no day is allowed from which to count
            return Text::tr("Allow %1%2 with %3%4.").arg(when, at, who, cost);
        return Text::tr("Allow %1%2 with %3, %4 from the nearest allowed day%5.")
            .arg(when, at, who, counted(way.amount, Text::tr("1 day"), Text::tr("%1 days")), cost);
    case rounds::WayOutKind::Overtime:
        return Text::tr("Let %1 work %2 longer on %3%4%5.").arg(who, minutesText(way.amount), when, at, cost);
    case rounds::WayOutKind::OneVisitMore:
        return Text::tr("%1%2 with %3: one visit more than the nurse's usual most (%4 a day)%5.")
            .arg(when, at, who, numberText(way.amount), cost);
    case rounds::WayOutKind::WiderWindow:
        return Text::tr("Ask the patient for %1 outside the visiting time, %2%3 with %4%5.")
            .arg(minutesText(way.amount), when, at, who, cost);
    case rounds::WayOutKind::OtherSkill:
        return Text::tr("Only if %1 is signed off for the skill first: %2%3%4.").arg(who, when, at, cost);
    case rounds::WayOutKind::UnlockNurse:
        return Text::tr("Unlock the nurse: %1 could go on %2%3%4.").arg(who, when, at, cost);
    case rounds::WayOutKind::UnlockDay:
        return Text::tr("Unlock the day: %1 could go on %2%3%4.").arg(who, when, at, cost);
    case rounds::WayOutKind::UnlockTime:
        return Text::tr("Unlock the time: %1 could go on %2%3%4.").arg(who, when, at, cost);
    case rounds::WayOutKind::UnlockDayAndNurse:
        return Text::tr("Unlock the day and the nurse together: %1 could go on %2%3%4.")
            .arg(who, when, at, cost);
    case rounds::WayOutKind::UnlockDayAndTime:
        return Text::tr("Unlock the day and the time together: %1 could go on %2%3%4.")
            .arg(who, when, at, cost);
    case rounds::WayOutKind::UnlockNurseAndTime:
        return Text::tr("Unlock the nurse and the time together: %1 could go on %2%3%4.")
            .arg(who, when, at, cost);
    }
    return {};
}

} // namespace kitround::desk
