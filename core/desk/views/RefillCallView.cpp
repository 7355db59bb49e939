#include "core/desk/views/RefillCallView.h"

#include "core/desk/views/RefillWhatIf.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/RecalledStock.h"

#include <algorithm>
#include <utility>

namespace kitround::desk {
namespace {

constexpr const char *kMoreWithSetAside = "more_with_set_aside";

bool isOfSeveralCatheters(const supply::RefillProposal &offer) {
    return std::ranges::any_of(offer.lines, [&](const supply::RefillLine &line) {
        return line.catheter != offer.lines.front().catheter;
    });
}

QString ruleText(const SnapshotIndex &agency, const supply::RefillProposal &offer,
                 const supply::TrialBreak &rule) {
    if (!rule.otherLine || *rule.otherLine >= offer.lines.size())
        return words(rule);
    const supply::RefillLine &line = offer.lines[*rule.otherLine];
    return Text::tr("%1: %2").arg(lineName(agency, line, isOfSeveralCatheters(offer)), words(rule));
}

bool isSameOffer(const supply::RefillProposal &a, const supply::RefillProposal &b) {
    const auto isSameLine = [](const supply::RefillLine &x, const supply::RefillLine &y) {
        return x.catheter == y.catheter && x.item == y.item && x.quantity == y.quantity;
    };
    return a.patient == b.patient && a.deliverOn == b.deliverOn &&
           std::ranges::equal(a.lines, b.lines, isSameLine);
}

// By line of the offer; an item that stands there twice is judged by its first line.
std::vector<Eaches> quantitiesOf(const supply::RefillProposal &offer, const Delivery &wanted) {
    std::vector<Eaches> quantities(offer.lines.size());
    std::vector<bool> isTaken(wanted.lines.size());
    for (std::size_t i = 0; i < offer.lines.size(); ++i)
        for (std::size_t k = 0; k < wanted.lines.size(); ++k) {
            const DeliveryLine &line = wanted.lines[k];
            if (isTaken[k] || line.catheter != offer.lines[i].catheter || line.item != offer.lines[i].item)
                continue;
            quantities[i] = line.quantity;
            isTaken[k] = true;
            break;
        }
    return quantities;
}

// What only the homes' forecasts can tell: of an offer that is still the present one.
std::vector<supply::TrialBreak> byForecast(const StockPicture &picture, const supply::RefillProposal &offer,
                                           const Delivery &wanted) {
    for (const supply::RefillProposal &proposal : picture.refills) {
        if (!isSameOffer(proposal, offer))
            continue;
        for (const supply::RefillLine &line : proposal.lines) {
            const ItemId ordered = line.substituteFor.value_or(line.item);
            const bool isForecast =
                std::ranges::any_of(picture.homes, [&](const forecast::ItemForecast &home) {
                    return home.catheter == line.catheter && home.item == ordered;
                });
            if (isForecast)
                return supply::RefillTrial(picture.agency->index(), picture.refills, proposal, line,
                                           picture.homes)
                    .lineBreaks(wanted.promisedFor, quantitiesOf(proposal, wanted));
        }
    }
    return {};
}

} // namespace

QString rulesText(const SnapshotIndex &agency, const supply::RefillProposal &offer,
                  std::span<const supply::TrialBreak> breaks) {
    QStringList rules;
    for (const supply::TrialBreak &rule : breaks)
        rules << ruleText(agency, offer, rule);
    return againstRules(rules);
}

std::vector<supply::TrialBreak> parcelBreaks(const SnapshotIndex &agency, const StockPicture *picture,
                                             const supply::RefillProposal &offer, const Delivery &wanted) {
    std::vector<supply::TrialBreak> found = supply::dayBreaks(agency, offer, wanted);
    if (!picture || wanted.promisedFor < agency.snapshot().asOf)
        return found;
    return allBreaks(std::move(found), byForecast(*picture, offer, wanted));
}

std::vector<supply::TrialBreak> allBreaks(std::vector<supply::TrialBreak> first,
                                          std::span<const supply::TrialBreak> others) {
    for (const supply::TrialBreak &rule : others) {
        const bool isTold = std::ranges::any_of(first, [&](const supply::TrialBreak &told) {
            return told.rule == rule.rule && told.date == rule.date && told.most == rule.most &&
                   (!told.otherLine || told.otherLine == rule.otherLine);
        });
        if (!isTold)
            first.push_back(rule);
    }
    return first;
}

std::vector<supply::TrialBreak> breaksToExplain(const SnapshotIndex &agency, const StockPicture *picture,
                                                const supply::RefillProposal &offer, const Delivery &wanted) {
    if (wanted.promisedFor == offer.deliverOn && supply::dayBreaks(agency, offer, wanted).empty())
        return {};
    return parcelBreaks(agency, picture, offer, wanted);
}

std::string dayAgainstRules(const SnapshotIndex &agency, const supply::RefillProposal &offer,
                            std::span<const supply::TrialBreak> breaks, const std::string &why) {
    return Text::tr("%1 That day all the same: %2")
        .arg(rulesText(agency, offer, breaks), fromStd(why))
        .trimmed()
        .toStdString();
}

bool mustTellRecalled(RefillAnswer answer) {
    return answer != RefillAnswer::NoAnswer;
}

std::vector<RecalledToAsk> recalledToAsk(const SnapshotIndex &agency, PatientId patient, Date day) {
    const auto isTold = [&](const RecalledToAsk &asked) {
        return std::ranges::any_of(agency.snapshot().recallOutcomes, [&](const RecallOutcome &told) {
            return told.lot == asked.lot && told.catheter == asked.catheter && isReached(told.answer) &&
                   told.at.date == day;
        });
    };
    std::vector<RecalledToAsk> asked;
    for (const Catheter *catheter : agency.cathetersOf(patient))
        for (const safety::RecalledAtHome &recalled : safety::recalledAtHome(agency, catheter->id))
            if (!recalled.isSetAside && !isTold({catheter->id, recalled.lot}))
                asked.push_back({catheter->id, recalled.lot});
    return asked;
}

Problem recalledNotAsked(const SnapshotIndex &agency, LotId lot) {
    const Lot *record = agency.lot(lot);
    Problem missing;
    missing.code = ProblemCode::NotAllowed;
    missing.field = "set_aside";
    missing.args = {"recalled_not_asked", record ? record->number : std::string()};
    return missing;
}

Problems recalledNotAsked(const SnapshotIndex &agency, const RefillContact &call) {
    Problems missing;
    if (!mustTellRecalled(call.answer))
        return missing;
    for (const RecalledToAsk &asked : recalledToAsk(agency, call.patient, call.at.date))
        missing.push_back(recalledNotAsked(agency, asked.lot));
    return missing;
}

std::optional<Problem> moreWithSetAside(const SnapshotIndex &agency, const HomeCount &count, Eaches onRecord,
                                        std::span<const RecallOutcome> told) {
    const Eaches aside = safety::setAsideUncounted(agency, count.catheter, count.item, count.at, told);
    if (aside.isZero() || count.counted + aside <= onRecord)
        return std::nullopt;
    Problem asked;
    asked.code = ProblemCode::Conflict;
    asked.field = "counted";
    asked.args = {kMoreWithSetAside, std::to_string(count.counted.count()), std::to_string(aside.count()),
                  std::to_string(onRecord.count())};
    return asked;
}

bool asksAboutSetAside(const Problem &problem) {
    return problem.code == ProblemCode::Conflict && !problem.args.empty() &&
           problem.args.front() == kMoreWithSetAside;
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
    for (const RefillContact *contact : agency.refillContactsOf(patient))
        if (contact->at.date == agency.snapshot().asOf &&
            (!newest || newest->at < contact->at || newest->at == contact->at))
            newest = contact;
    return newest;
}

bool saidNoToday(const SnapshotIndex &agency, PatientId patient) {
    const RefillContact *call = calledToday(agency, patient);
    return call && call->answer == RefillAnswer::Declined;
}

bool saidYesToday(const SnapshotIndex &agency, PatientId patient) {
    const RefillContact *call = calledToday(agency, patient);
    return call && call->answer == RefillAnswer::Confirmed &&
           std::ranges::any_of(agency.deliveriesOf(patient), [&](const Delivery *delivery) {
               return delivery->contact == call->id && delivery->status != DeliveryStatus::Cancelled;
           });
}

QString answeredTodayText(const SnapshotIndex &agency, PatientId patient) {
    if (saidNoToday(agency, patient))
        return Text::tr("said no today");
    return saidYesToday(agency, patient) ? Text::tr("took less today") : QString();
}

QString calledTodayText(const SnapshotIndex &agency, PatientId patient) {
    const RefillContact *call = calledToday(agency, patient);
    return call ? Text::tr("%1: %2").arg(timeText(call->at.minute), words(call->answer)) : QString();
}

} // namespace kitround::desk
