#include "core/desk/views/WatchList.h"

#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace kitround::desk {
namespace {

using ByPatient = std::map<PatientId, std::vector<WatchReason>>;

QString onCatheter(const Agency &agency, const std::optional<CatheterId> &id) {
    const Catheter *catheter = id ? agency.index().catheter(*id) : nullptr;
    return catheter ? QStringLiteral(" (%1)").arg(catheterText(*catheter)) : QString();
}

void addCautions(ByPatient &found, const Agency &agency) {
    const auto add = [&](const CallItem &call) {
        if (safety::isClinical(call.kind))
            found[call.patient].push_back({"call:" + call.subject, call.urgency, call.raisedAt.date,
                                           Text::tr("%1%2, %3")
                                               .arg(words(call.kind), onCatheter(agency, call.catheter),
                                                    dayText(call.raisedAt.date, agency.today()))});
    };
    for (const CallItem &call : agency.snapshot().callItems)
        if (call.status == CallItemStatus::Open)
            add(call);
    for (const CallItem &call : safety::standingCautions(agency.index()))
        add(call);
}

// One bad night is no pattern; several calls are.
void addTroubleCalls(ByPatient &found, const Agency &agency) {
    const std::int64_t days = agency.settings()[SettingKey::WatchCallDays];
    std::map<PatientId, std::vector<const PhoneCall *>> calls;
    for (const PhoneCall &call : agency.snapshot().phoneCalls)
        if (call.patient && call.topic == CallTopic::Clinical &&
            call.at.date > agency.today().plusDays(-days))
            calls[*call.patient].push_back(&call);
    for (const auto &[patient, of] : calls) {
        if (static_cast<std::int64_t>(of.size()) < agency.settings()[SettingKey::WatchCalls])
            continue;
        const PhoneCall *last = *std::ranges::max_element(of, {}, [](const PhoneCall *c) { return c->at; });
        const PhoneCall *first = *std::ranges::min_element(of, {}, [](const PhoneCall *c) { return c->at; });
        found[patient].push_back({"calls:" + std::to_string(last->id.value()), CautionUrgency::Soon,
                                  first->at.date,
                                  Text::tr("%1 in %2, the last on %3")
                                      .arg(counted(static_cast<std::int64_t>(of.size()),
                                                   Text::tr("1 trouble call"), Text::tr("%1 trouble calls")),
                                           counted(days, Text::tr("1 day"), Text::tr("%1 days")),
                                           dayText(last->at.date, agency.today()))});
    }
}

// Looked at anew each time as many days more have gone by.
void addLongDwell(ByPatient &found, const Agency &agency) {
    const std::int64_t most = agency.settings()[SettingKey::WatchDwellDays];
    for (const Catheter &catheter : agency.snapshot().catheters) {
        if (!catheter.insertedOn || !agency.index().isInService(catheter))
            continue;
        const std::int64_t days = (agency.today() - *catheter.insertedOn).count();
        const std::int64_t times = days / most;
        if (times < 1)
            continue;
        found[catheter.patient].push_back(
            {"dwell:" + std::to_string(catheter.id.value()) + ":" + std::to_string(times * most),
             CautionUrgency::Soon, catheter.insertedOn->plusDays(times * most),
             Text::tr("the catheter (%1) has been in place for %2 days")
                 .arg(catheterText(catheter))
                 .arg(days)});
    }
}

ByPatient allReasons(const Agency &agency) {
    ByPatient found;
    addCautions(found, agency);
    addTroubleCalls(found, agency);
    addLongDwell(found, agency);
    std::map<PatientId, std::set<std::string>> settled;
    for (const WatchEntry &entry : agency.snapshot().watchEntries)
        if (entry.closedAt)
            settled[entry.patient].insert(entry.known.begin(), entry.known.end());
    for (auto &[patient, reasons] : found) {
        const std::set<std::string> &closed = settled[patient];
        std::erase_if(reasons, [&](const WatchReason &r) { return closed.contains(r.subject); });
        std::ranges::stable_sort(
            reasons, {}, [](const WatchReason &r) { return std::tuple(r.urgency, r.since, r.subject); });
    }
    return found;
}

QString ownerOf(const WatchEntry &entry, const Agency &agency) {
    return fromStd(entry.ownerUser ? userOf(agency.index(), *entry.ownerUser)
                                   : nurseOf(agency.index(), entry.ownerNurse.value_or(NurseId())));
}

WatchState stateOf(const WatchRow &row, Date today) {
    if (!row.entry)
        return WatchState::NoOwner;
    const WatchEntry &entry = *row.entry;
    if (entry.closedAt)
        return WatchState::Closed;
    const std::set<std::string> known(entry.known.begin(), entry.known.end());
    const bool hasNews = std::ranges::any_of(
        row.reasons, [&](const WatchReason &reason) { return !known.contains(reason.subject); });
    if (hasNews)
        return WatchState::New;
    if (entry.snoozedTo && today < *entry.snoozedTo)
        return WatchState::Snoozed;
    return entry.nextOn && *entry.nextOn <= today ? WatchState::Overdue : WatchState::Waiting;
}

WatchRow rowOf(const Agency &agency, PatientId patient, std::vector<WatchReason> reasons,
               const WatchEntry *entry) {
    WatchRow row;
    row.patient = patient;
    row.who = parts::shortName(agency, patient);
    row.reasons = std::move(reasons);
    if (!row.reasons.empty()) {
        row.urgency = row.reasons.front().urgency;
        row.since = row.reasons.front().since;
    }
    if (entry) {
        row.entry = *entry;
        row.owner = ownerOf(*entry, agency);
        if (!row.since)
            row.since = entry->since.date;
    }
    row.state = stateOf(row, agency.today());
    return row;
}

} // namespace

std::vector<WatchReason> watchReasons(const Agency &agency, PatientId patient) {
    ByPatient found = allReasons(agency);
    return std::move(found[patient]);
}

WatchList watchList(const Agency &agency) {
    WatchList list;
    ByPatient found = allReasons(agency);
    for (const WatchEntry &entry : agency.snapshot().watchEntries) {
        if (entry.closedAt) {
            list.closed.push_back(rowOf(agency, entry.patient, {}, &entry));
            continue;
        }
        WatchRow row = rowOf(agency, entry.patient, std::move(found[entry.patient]), &entry);
        found.erase(entry.patient);
        (row.state == WatchState::Snoozed ? list.snoozed : list.rows).push_back(std::move(row));
    }
    for (auto &[patient, reasons] : found)
        if (!reasons.empty())
            list.rows.push_back(rowOf(agency, patient, std::move(reasons), nullptr));
    std::ranges::stable_sort(list.rows, {}, [](const WatchRow &r) {
        return std::tuple(r.reasons.empty(), r.urgency, r.since, r.who);
    });
    std::ranges::stable_sort(list.snoozed, {}, [](const WatchRow &r) { return r.entry->snoozedTo; });
    std::ranges::stable_sort(list.closed, std::greater{},
                             [](const WatchRow &r) { return r.entry->closedAt; });
    return list;
}

QString words(WatchState state) {
    switch (state) {
    case WatchState::NoOwner:
        return Text::tr("nobody has it");
    case WatchState::New:
        return Text::tr("something new");
    case WatchState::Overdue:
        return Text::tr("step is due");
    case WatchState::Waiting:
        return Text::tr("watched");
    case WatchState::Snoozed:
        return Text::tr("put off");
    case WatchState::Closed:
        return Text::tr("closed");
    }
    return {};
}

QString reasonsText(const WatchRow &row) {
    if (row.state == WatchState::Closed)
        return fromStd(row.entry->outcome);
    QStringList texts;
    for (const WatchReason &reason : row.reasons)
        texts << reason.text;
    if (texts.isEmpty())
        return Text::tr("No reason stands any more: close it with the outcome.");
    QString text = texts.join(QStringLiteral("; "));
    text[0] = text[0].toUpper();
    return text;
}

Table watchTable(const WatchList &list, const Agency &agency) {
    Table table;
    table.title = Text::tr("Watch list, %1").arg(dayText(agency.today())).toStdString();
    table.key = "watch_list";
    table.columns = {
        textColumn(Text::tr("Urgency"), "urgency"),   textColumn(Text::tr("Patient"), "patient"),
        textColumn(Text::tr("Initials"), "initials"), textColumn(Text::tr("Why"), "why"),
        textColumn(Text::tr("Since"), "since"),       textColumn(Text::tr("State"), "state"),
        textColumn(Text::tr("Owner"), "owner"),       textColumn(Text::tr("Next step"), "next_step"),
        textColumn(Text::tr("By"), "next_on"),        textColumn(Text::tr("Put off to"), "snoozed_to")};
    for (const auto *rows : {&list.rows, &list.snoozed})
        for (const WatchRow &row : *rows)
            table.rows.push_back(
                {cell(words(row.urgency)), codeOf(agency.index(), row.patient),
                 initialsOf(agency.index(), row.patient), cell(reasonsText(row)), cell(row.since),
                 cell(words(row.state)), cell(row.owner), row.entry ? row.entry->nextStep : std::string(),
                 row.entry ? cell(row.entry->nextOn) : std::string(),
                 row.state == WatchState::Snoozed ? cell(row.entry->snoozedTo) : std::string()});
    table.notes.push_back(planningCaution().toStdString());
    return table;
}

namespace parts {

void addWatch(Items &items, const Agency &agency) {
    if (agency.snapshot().watchEntries.empty())
        return;
    for (const WatchRow &row : watchList(agency).rows) {
        if (row.state != WatchState::New && row.state != WatchState::Overdue)
            continue;
        AttentionItem item;
        item.kind = AttentionKind::WatchDue;
        item.harm = Harm::Today;
        item.patient = row.patient;
        item.dueOn = row.entry->nextOn;
        item.owner = ifActive(agency, row.entry->ownerUser);
        item.title =
            row.state == WatchState::New
                ? Text::tr("Watch list: something new about %1 (%2)").arg(row.who, row.owner)
                : Text::tr("Watch list: %1, %2 (%3)").arg(row.who, fromStd(row.entry->nextStep), row.owner);
        item.detail = reasonsText(row);
        items.push_back(std::move(item));
    }
}

} // namespace parts

} // namespace kitround::desk
