#include "core/desk/views/RefillCallView.h"

#include "core/desk/views/RefillWhatIf.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {

QString rulesText(std::span<const supply::TrialBreak> breaks) {
    QStringList rules;
    for (const supply::TrialBreak &rule : breaks)
        rules << words(rule);
    return againstRules(rules);
}

std::string dayAgainstRules(std::span<const supply::TrialBreak> breaks, const std::string &why) {
    return Text::tr("%1 That day all the same: %2").arg(rulesText(breaks), fromStd(why)).toStdString();
}

bool mustTellRecalled(RefillAnswer answer) {
    return answer != RefillAnswer::NoAnswer;
}

QStringList notCounted(const SnapshotIndex &agency, std::span<const DeliveryLine> lines,
                       std::span<const HomeCount> counts) {
    QStringList names;
    for (const DeliveryLine &line : lines) {
        const HomeCount *last = agency.lastCount(line.catheter, line.item);
        const bool isCounted = (last && last->at.date == agency.snapshot().asOf) ||
                               std::ranges::any_of(counts, [&](const HomeCount &count) {
                                   return count.catheter == line.catheter && count.item == line.item;
                               });
        if (!isCounted)
            names << itemName(agency, line.item);
    }
    names.removeDuplicates();
    return names;
}

const RefillContact *calledToday(const SnapshotIndex &agency, PatientId patient) {
    const RefillContact *newest = nullptr;
    for (const RefillContact &contact : agency.snapshot().refillContacts)
        if (contact.patient == patient && contact.at.date == agency.snapshot().asOf &&
            (!newest || newest->at < contact.at || newest->at == contact.at))
            newest = &contact;
    return newest;
}

bool saidNoToday(const SnapshotIndex &agency, PatientId patient) {
    const RefillContact *call = calledToday(agency, patient);
    return call && call->answer == RefillAnswer::Declined;
}

QString calledTodayText(const SnapshotIndex &agency, PatientId patient) {
    const RefillContact *call = calledToday(agency, patient);
    return call ? Text::tr("%1: %2").arg(timeText(call->at.minute), words(call->answer)) : QString();
}

} // namespace kitround::desk
