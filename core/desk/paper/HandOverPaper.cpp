#include "core/calendar/Weeks.h"
#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <set>

namespace kitround::desk {
namespace {

using namespace parts;

constexpr Days kChangesBack = Days::of(1); // what the last shift did

std::string ownerOf(const AttentionItem &item, const Agency &agency) {
    if (item.callItem)
        for (const CallItem &call : agency.snapshot().callItems)
            if (call.id == *item.callItem)
                return call.owner;
    if (item.phoneCall)
        for (const PhoneCall &call : agency.snapshot().phoneCalls)
            if (call.id == *item.phoneCall)
                return call.owner;
    return {};
}

Table openItems(const std::vector<AttentionItem> &items, const Agency &agency,
                const std::set<AttentionKind> &kinds) {
    Table made = table({column(Text::tr("When")), column(Text::tr("Who")), column(Text::tr("What")),
                        column(Text::tr("By")), column(Text::tr("With")), column(Text::tr("Taken by"))});
    for (const AttentionItem &item : items) {
        if (!kinds.contains(item.kind) || item.harm == Harm::Tidy)
            continue;
        const QString who = item.patient ? initialsOf(agency, *item.patient)
                            : item.nurse ? nurseName(agency, *item.nurse)
                                         : QString();
        made.rows.push_back({words(item.harm).toStdString(),
                             who.toStdString(),
                             words(item.kind).toStdString(),
                             item.dueOn ? dayText(*item.dueOn).toStdString() : std::string(),
                             ownerOf(item, agency),
                             {}});
    }
    return made;
}

QStringList holdLines(const Agency &agency, Date since) {
    QStringList lines;
    for (const Hold &hold : agency.snapshot().holds) {
        const QString who = initialsOf(agency, hold.patient);
        if (hold.to && *hold.to >= since && *hold.to <= agency.today())
            lines << Text::tr("%1: back since %2 (%3)").arg(who, dayText(*hold.to), words(hold.kind));
        else if (!hold.to && hold.from <= agency.today())
            lines << Text::tr("%1: away since %2 (%3), %4")
                         .arg(who, dayText(hold.from), words(hold.kind),
                              hold.expectedReturn
                                  ? Text::tr("expected back %1").arg(dayText(*hold.expectedReturn))
                                  : Text::tr("return not known"));
    }
    return lines;
}

QStringList changeLines(const Agency &agency, Date since) {
    QStringList lines;
    const auto isNew = [&](const std::optional<Instant> &at) {
        return at && localTimeOf(agency, *at).date >= since;
    };
    for (const Plan &plan : agency.snapshot().plans)
        if (plan.status == PlanStatus::Published && isNew(plan.publishedAt))
            lines << Text::tr("Plan of the week of %1 published, version %2, %3")
                         .arg(dayText(plan.weekStart))
                         .arg(plan.version)
                         .arg(momentText(localTimeOf(agency, *plan.publishedAt)));
    for (const Patient &patient : agency.snapshot().patients) {
        if (patient.status == CareStatus::Referred && isNew(patient.referredAt))
            lines << Text::tr("%1: referred").arg(initialsOf(agency, patient.id));
        if (isNew(patient.exitedAt))
            lines << Text::tr("%1: left service (%2)")
                         .arg(initialsOf(agency, patient.id), words(patient.status));
    }
    for (const TimeOff &off : agency.snapshot().timeOff)
        if (isNew(off.decidedAt))
            lines << Text::tr("Leave of %1 from %2: %3")
                         .arg(nurseName(agency, off.nurse), dayText(off.from), words(off.status));
    return lines;
}

void addLinesOrNone(Paper &paper, const QString &heading, QStringList lines) {
    if (lines.isEmpty())
        lines << Text::tr("none");
    addLines(paper, heading, lines);
}

} // namespace

Paper handOverPaper(const std::vector<AttentionItem> &items, const Agency &agency) {
    using enum AttentionKind;
    const Date since = agency.today() - kChangesBack;
    Paper paper = blankPaper(agency, Text::tr("Hand-over list"), momentText(agency.snapshot().now), true);
    add(paper, Text::tr("Open calls and signs to call about"),
        openItems(items, agency, {CallAbout, LogSilent, LotRecalled}));
    add(paper, Text::tr("Stock at risk and deliveries"),
        openItems(items, agency, {RunOut, RefillCall, UnknownStock, DeliveryDue, OrderLate}));
    add(paper, Text::tr("Visits and clocks"),
        openItems(items, agency,
                  {PlanChanged, FirstVisitDue, RecertDue, VisitNotPlaced, HoldOverdue, PlanNotPublished}));
    addLinesOrNone(paper, Text::tr("On hold, or back since yesterday"), holdLines(agency, since));
    addLinesOrNone(paper, Text::tr("Changed since yesterday"), changeLines(agency, since));
    addLines(paper, Text::tr("Handed over"),
             {Text::tr("From: ______________________   To: ______________________   Time: __________"),
              Text::tr("Every line has a name under \"Taken by\" before the last one leaves.")});
    return paper;
}

} // namespace kitround::desk
