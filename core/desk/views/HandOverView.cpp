#include "core/desk/views/HandOverView.h"

#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/Incidents.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <map>
#include <set>

namespace kitround::desk {
namespace {

constexpr Days kChangesBack = Days::of(1); // what the last shift did

std::optional<HandOverTopic> topicOf(AttentionKind kind) {
    using enum AttentionKind;
    switch (kind) {
    case CallAbout:
    case LogSilent:
    case LotRecalled:
    case OrderToConfirm:
    case MaximumToConfirm:
    case PatientsToPhone:
    case MissUntold:
    case WelfareCall:
        return HandOverTopic::Call;
    case RunOut:
    case RefillCall:
    case UnknownStock:
    case DeliveryDue:
    case OrderLate:
        return HandOverTopic::Stock;
    case FirstVisitDue:
    case RecertDue:
    case PlanChanged:
    case VisitNotPlaced:
    case HoldOverdue:
    case PlanNotPublished:
    case VisitsUnrecorded:
        return HandOverTopic::Clock;
    default:
        return std::nullopt;
    }
}

// Who has it already, by the call's own record.
QString ownerOf(const AttentionItem &item, const Agency &agency) {
    if (item.callItem)
        if (const CallItem *call = parts::recordOf(agency.snapshot().callItems, *item.callItem))
            return fromStd(call->owner);
    if (item.phoneCall)
        if (const PhoneCall *call = parts::recordOf(agency.snapshot().phoneCalls, *item.phoneCall))
            return fromStd(call->owner);
    return {};
}

const CallItem *callOf(const AttentionItem &item, const Agency &agency) {
    if (item.toStore)
        return &*item.toStore;
    return item.callItem ? parts::recordOf(agency.snapshot().callItems, *item.callItem) : nullptr;
}

// Names no patient: who it is about stands beside it, in full or as initials.
QString whatOf(const AttentionItem &item, const Agency &agency) {
    QString text = item.phoneCall               ? Text::tr("call back") // its title has the caller's words
                   : item.patient || item.nurse ? words(item.kind)
                                                : item.title;
    if (const CallItem *call = callOf(item, agency)) {
        text = words(call->kind);
        if (const Catheter *catheter = call->catheter ? agency.index().catheter(*call->catheter) : nullptr)
            text += QStringLiteral(" (%1)").arg(catheterText(*catheter));
    }
    if (item.form == NextForm::FirstDelivery)
        text = Text::tr("first supplies");
    if (const Catheter *fresh = item.firstFor ? agency.index().catheter(*item.firstFor) : nullptr)
        text += QStringLiteral(" (%1)").arg(catheterText(*fresh));
    if (item.nurse)
        if (const Nurse *nurse = agency.index().nurse(*item.nurse))
            text += QStringLiteral(", ") + personName(*nurse);
    if (item.item)
        if (const Item *stocked = agency.index().item(*item.item))
            text += QStringLiteral(", ") + fromStd(stocked->name);
    if (item.dueOn)
        text += QStringLiteral(", ") + Text::tr("by %1").arg(dayText(*item.dueOn));
    if (const QString owner = ownerOf(item, agency); !owner.isEmpty())
        text += QStringLiteral(", ") + Text::tr("with %1").arg(owner);
    text[0] = text[0].toUpper();
    return text;
}

HandOverItem line(HandOverTopic topic, const std::string &subject, std::optional<PatientId> patient,
                  const QString &what) {
    HandOverItem item;
    item.topic = topic;
    item.subject = subject;
    item.patient = patient;
    item.what = what.toStdString();
    return item;
}

void addHolds(std::vector<HandOverItem> &items, const Agency &agency, Date since) {
    for (const Hold &hold : agency.snapshot().holds) {
        const std::string subject = "hold:" + std::to_string(hold.id.value());
        if (hold.to && *hold.to >= since && *hold.to <= agency.today())
            items.push_back(line(HandOverTopic::Hold, subject + ":back", hold.patient,
                                 Text::tr("Back since %1 (%2)").arg(dayText(*hold.to), words(hold.kind))));
        else if (!hold.to && hold.from <= agency.today())
            items.push_back(line(
                HandOverTopic::Hold, subject, hold.patient,
                Text::tr("Away since %1 (%2), %3")
                    .arg(dayText(hold.from), words(hold.kind),
                         hold.expectedReturn ? Text::tr("expected back %1").arg(dayText(*hold.expectedReturn))
                                             : Text::tr("return not known"))));
    }
}

std::string incidentSubject(IncidentId incident) {
    return "incident:" + std::to_string(incident.value());
}

// What happened is not said: the sentence may name people, and this list is handed around.
void addOpenIncidents(std::vector<HandOverItem> &items, const Agency &agency) {
    for (const IncidentRow &row : incidentList(agency)) {
        const Incident &incident = row.incident;
        if (incident.closedOn)
            continue;
        QString what =
            Text::tr("Incident of %1 open (%2)").arg(momentText(incident.at), words(incident.kind));
        if (const qsizetype open = incidentOpenSteps(incident, agency).size(); open > 0)
            what += QStringLiteral(", ") +
                    counted(open, Text::tr("1 step not done"), Text::tr("%1 steps not done"));
        if (incident.reportDueOn && !incident.reportedOn)
            what += QStringLiteral(", ") + Text::tr("report by %1").arg(dayText(*incident.reportDueOn));
        if (!incident.owner.empty())
            what += QStringLiteral(", ") + Text::tr("with %1").arg(fromStd(incident.owner));
        items.push_back(line(HandOverTopic::Clock, incidentSubject(incident.id), incident.patient, what));
    }
}

void addChanges(std::vector<HandOverItem> &items, const Agency &agency, Date since) {
    const auto isNew = [&](const std::optional<Instant> &at) {
        return at && localTimeOf(agency, *at).date >= since;
    };
    const auto add = [&](const std::string &subject, std::optional<PatientId> patient, const QString &what) {
        items.push_back(line(HandOverTopic::Change, subject, patient, what));
    };
    for (const Plan &plan : agency.snapshot().plansInForce)
        if (isNew(plan.publishedAt))
            add("plan:" + std::to_string(plan.id.value()), std::nullopt,
                Text::tr("Plan of the week of %1 published, version %2, %3")
                    .arg(dayText(plan.weekStart))
                    .arg(plan.version)
                    .arg(momentText(localTimeOf(agency, *plan.publishedAt))));
    for (const Patient &patient : agency.snapshot().patients) {
        const std::string id = std::to_string(patient.id.value());
        if (patient.status == CareStatus::Referred && isNew(patient.referredAt))
            add("referred:" + id, patient.id, Text::tr("Referred"));
        if (isNew(patient.exitedAt))
            add("exit:" + id, patient.id, Text::tr("Left service (%1)").arg(words(patient.status)));
    }
    for (const DrainOrder &order : agency.snapshot().drainOrders)
        if (const Catheter *catheter = agency.index().catheter(order.catheter);
            catheter && order.start >= since && order.start <= agency.today() + kChangesBack)
            add("order:" + std::to_string(order.id.value()), catheter->patient,
                Text::tr("New drain order from %1 (%2)").arg(dayText(order.start), catheterText(*catheter)));
    for (const TimeOff &off : agency.snapshot().timeOff)
        if (isNew(off.decidedAt))
            add("leave:" + std::to_string(off.id.value()), std::nullopt,
                Text::tr("Leave of %1 from %2: %3")
                    .arg(fromStd(nurseOf(agency.index(), off.nurse)), dayText(off.from), words(off.status)));
}

HandOverRow rowOf(const HandOver &handOver, const HandOverItem &item, const Agency &agency) {
    HandOverRow row;
    row.item = item;
    row.who = item.patient ? parts::shortName(agency, *item.patient) : QString();
    row.handOver = handOver.id;
    row.handedById = handOver.handedBy;
    row.handedBy = fromStd(userOf(agency.index(), handOver.handedBy));
    row.handedAt = localTimeOf(agency, handOver.handedAt);
    if (item.acceptedAt) {
        row.takenBy = fromStd(userOf(agency.index(), *item.acceptedBy));
        row.takenAt = localTimeOf(agency, *item.acceptedAt);
    } else {
        const auto now = instantOf(agency, agency.snapshot().now).unixSeconds();
        row.isLate =
            now - handOver.handedAt.unixSeconds() > agency.settings()[SettingKey::HandOverHours] * 3600;
    }
    return row;
}

} // namespace

std::string handOverSubject(const AttentionItem &item, const Agency &agency) {
    if (const CallItem *call = callOf(item, agency))
        return "call:" + call->subject; // the same before and after it is stored
    if (item.phoneCall)
        return "phone:" + std::to_string(item.phoneCall->value());
    if (item.incident)
        return incidentSubject(*item.incident);
    std::string subject = "attention:" + std::to_string(static_cast<int>(item.kind));
    const auto add = [&](char what, std::int64_t id) { subject += ':' + (what + std::to_string(id)); };
    if (item.patient)
        add('p', item.patient->value());
    if (item.nurse)
        add('n', item.nurse->value());
    if (item.item)
        add('i', item.item->value());
    if (item.order)
        add('o', item.order->value());
    if (item.visit)
        add('v', item.visit->value());
    if (item.kind == AttentionKind::VisitsUnrecorded && item.dueOn)
        return subject + ':' + item.dueOn->toIso(); // its title counts down
    if (item.form == NextForm::FirstDelivery)
        subject += ":first"; // another matter than what the same home is asked about
    if (item.firstFor)
        add('c', item.firstFor->value());
    const bool isTheOnlyOne = item.kind == AttentionKind::PatientsToPhone; // its title counts down
    return item.patient || item.nurse || item.item || isTheOnlyOne ? subject
                                                                   : subject + ":" + item.title.toStdString();
}

std::vector<HandOverItem> handOverItems(const std::vector<AttentionItem> &items, const Agency &agency) {
    std::vector<HandOverItem> made;
    for (const AttentionItem &item : items)
        if (const auto topic = topicOf(item.kind); topic && item.harm != Harm::Tidy)
            made.push_back(line(*topic, handOverSubject(item, agency), item.patient, whatOf(item, agency)));
    std::ranges::stable_sort(made, {}, &HandOverItem::topic); // by topic, in it by harm as on the start page
    const Date since = agency.today() - kChangesBack;
    addOpenIncidents(made, agency);
    addHolds(made, agency, since);
    addChanges(made, agency, since);
    std::set<std::string> seen; // two deliveries to one home are one line
    std::erase_if(made, [&](const HandOverItem &item) { return !seen.insert(item.subject).second; });
    return made;
}

HandOverBoard handOverBoard(const std::vector<AttentionItem> &items, const Agency &agency) {
    HandOverBoard board;
    std::map<std::string, HandOverRow> last; // of each subject: who took it last since yesterday
    std::set<std::string> waits;
    const Date since = agency.today() - kChangesBack;
    for (const HandOver &handOver : agency.snapshot().handOvers)
        for (const HandOverItem &item : handOver.items) {
            HandOverRow row = rowOf(handOver, item, agency);
            if (row.isWaiting()) {
                waits.insert(item.subject);
                board.waiting.push_back(row);
                continue;
            }
            // Subjects come back (a kind of matter and its patient) and when the present matter opened is not
            // on record: an older acceptance may be of one long settled. What is still open is handed over
            // and taken anew from shift to shift, so that only the days shown tell who has it now.
            if (row.takenAt->date < since)
                continue;
            board.accepted.push_back(row);
            last[item.subject] = std::move(row);
        }
    for (HandOverItem &item : handOverItems(items, agency)) {
        if (waits.contains(item.subject))
            continue;
        HandOverRow row;
        if (const auto taken = last.find(item.subject); taken != last.end()) {
            row.takenBy = taken->second.takenBy;
            row.takenAt = taken->second.takenAt;
        }
        row.who = item.patient ? parts::shortName(agency, *item.patient) : QString();
        row.item = std::move(item);
        board.open.push_back(std::move(row));
    }
    std::ranges::stable_sort(board.waiting, {}, &HandOverRow::handedAt);
    std::ranges::stable_sort(board.accepted, std::greater{}, &HandOverRow::takenAt);
    parts::addFoldKinds(board, items, agency);
    return board;
}

QString stateText(const HandOverRow &row) {
    if (row.isWaiting())
        return row.isLate ? Text::tr("waits too long") : Text::tr("waits");
    if (row.handOver)
        return Text::tr("accepted");
    return row.takenAt ? Text::tr("open, taken") : Text::tr("open");
}

QString takenText(const HandOverRow &row) {
    if (row.isWaiting())
        return Text::tr("%1, since %2, from %3").arg(stateText(row), momentText(*row.handedAt), row.handedBy);
    return row.takenAt ? Text::tr("%1, %2").arg(row.takenBy, momentText(*row.takenAt)) : QString();
}

QString words(HandOverTopic topic) {
    switch (topic) {
    case HandOverTopic::Call:
        return Text::tr("call");
    case HandOverTopic::Stock:
        return Text::tr("stock");
    case HandOverTopic::Clock:
        return Text::tr("clock");
    case HandOverTopic::Hold:
        return Text::tr("hold");
    case HandOverTopic::Change:
        return Text::tr("change");
    }
    return {};
}

QStringList handOverLines(const Agency &agency) {
    QStringList lines;
    for (const HandOver &handOver : agency.snapshot().handOvers) {
        std::map<std::string, int> taken;
        int waiting = 0;
        std::optional<Instant> lastTaken;
        for (const HandOverItem &item : handOver.items) {
            if (!item.acceptedAt) {
                ++waiting;
                continue;
            }
            ++taken[userOf(agency.index(), *item.acceptedBy)];
            lastTaken = std::max(lastTaken, item.acceptedAt);
        }
        const LocalTime at = localTimeOf(agency, handOver.handedAt);
        if (waiting == 0 && at.date < agency.today() - kChangesBack)
            continue;
        QStringList parts;
        for (const auto &[name, count] : taken)
            parts << Text::tr("%1 took %2").arg(fromStd(name)).arg(count);
        if (lastTaken)
            parts << Text::tr("last at %1").arg(momentText(localTimeOf(agency, *lastTaken)));
        if (waiting > 0)
            parts << counted(waiting, Text::tr("1 line waits"), Text::tr("%1 lines wait"));
        lines << Text::tr("From %1, %2, %3: %4.")
                     .arg(fromStd(userOf(agency.index(), handOver.handedBy)), momentText(at),
                          counted(static_cast<std::int64_t>(handOver.items.size()), Text::tr("1 line"),
                                  Text::tr("%1 lines")),
                          parts.join(QStringLiteral(", ")));
        if (!handOver.note.empty())
            lines << Text::tr("Note: %1").arg(fromStd(handOver.note));
    }
    return lines;
}

Table handOverTable(const HandOverBoard &board, const Agency &agency) {
    Table table;
    table.title = Text::tr("Hand-over, %1").arg(momentText(agency.snapshot().now)).toStdString();
    table.key = "hand_over";
    table.columns = {
        textColumn(Text::tr("State"), "state"),      textColumn(Text::tr("Topic"), "topic"),
        textColumn(Text::tr("Patient"), "patient"),  textColumn(Text::tr("Initials"), "initials"),
        textColumn(Text::tr("What"), "what"),        textColumn(Text::tr("From"), "handed_by"),
        textColumn(Text::tr("Handed"), "handed_at"), textColumn(Text::tr("Taken by"), "taken_by"),
        textColumn(Text::tr("Taken"), "taken_at")};
    for (const auto *rows : {&board.waiting, &board.open, &board.accepted})
        for (const HandOverRow &row : *rows)
            table.rows.push_back(
                {cell(stateText(row)), cell(words(row.item.topic)),
                 row.item.patient ? codeOf(agency.index(), *row.item.patient) : std::string(),
                 row.item.patient ? initialsOf(agency.index(), *row.item.patient) : std::string(),
                 row.item.what, cell(row.handedBy), row.handedAt ? toIso(*row.handedAt) : std::string(),
                 cell(row.takenBy), row.takenAt ? toIso(*row.takenAt) : std::string()});
    return table;
}

namespace parts {

void addHandOvers(Items &items, const Agency &agency) {
    for (const HandOver &handOver : agency.snapshot().handOvers) {
        QStringList what;
        bool isLate = false;
        for (const HandOverItem &line : handOver.items) {
            const HandOverRow row = rowOf(handOver, line, agency);
            if (!row.isWaiting())
                continue;
            isLate = isLate || row.isLate;
            QString told = fromStd(line.what);
            if (!row.who.isEmpty())
                told = QStringLiteral("%1: %2").arg(row.who, told);
            what << told;
        }
        if (what.isEmpty())
            continue;
        const LocalTime at = localTimeOf(agency, handOver.handedAt);
        const QString from = fromStd(userOf(agency.index(), handOver.handedBy));
        AttentionItem item;
        item.kind = AttentionKind::HandOverWaiting;
        item.harm = isLate ? Harm::Today : Harm::Soon;
        item.dueOn = at.date;
        item.title = counted(what.size(), Text::tr("1 line handed over by %2 is not accepted"),
                             Text::tr("%1 lines handed over by %2 are not accepted"))
                         .replace(QStringLiteral("%2"), from);
        item.detail =
            (isLate
                 ? Text::tr("Handed over %1 and open for more than a shift: what was only said may be with "
                            "nobody. Accept each line by name under Hand-over, or ask who has it.")
                 : Text::tr("Handed over %1. Accept each line by name under Hand-over."))
                .arg(momentText(at)) +
            QLatin1Char('\n') + what.join(QLatin1Char('\n'));
        items.push_back(std::move(item));
    }
}

void addTakers(Items &items, const Agency &agency) {
    if (agency.snapshot().handOvers.empty())
        return;
    const HandOverBoard board = handOverBoard(items, agency);
    std::map<std::string, std::optional<UserId>> takers; // the newest first, as the board has them
    for (const HandOverRow &row : board.accepted)
        if (row.item.acceptedBy)
            takers.try_emplace(row.item.subject, ifActive(agency, row.item.acceptedBy));
    for (const HandOverRow &row : board.waiting) // handed on: whose it will be is open
        takers.erase(row.item.subject);
    for (AttentionItem &item : items)
        if (const auto taker = takers.find(handOverSubject(item, agency));
            taker != takers.end() && taker->second)
            item.owner = taker->second;
}

} // namespace parts

} // namespace kitround::desk
