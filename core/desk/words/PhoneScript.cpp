#include "core/desk/words/PhoneScript.h"

#include "core/desk/words/AwayWords.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <optional>
#include <set>

namespace kitround::desk {
namespace {

ScriptStep greeting(const AgencySettings &settings, const QString &who) {
    return {Text::tr("Good day, this is … of %1, about the drainage supplies. Am I speaking with %2, or with "
                     "the one who looks after the supplies?")
                .arg(fromStd(settings.agencyName), who),
            Text::tr("Write down who answers. To anybody else: say only that you will call again.")};
}

ScriptStep changes() {
    return {Text::tr("Has anything changed: how often you drain, the doctor's order, the bottles you use, an "
                     "allergy, a stay elsewhere?"),
            Text::tr("Write it down and tell the nurse before anything is sent. The order decides, not the "
                     "habit.")};
}

ScriptStep signs() {
    return {Text::tr("Is there anything that troubles you: breathlessness, pain, fever, redness, a leak, "
                     "fluid that looks different?"),
            Text::tr("Give no advice. Any yes goes to the nurse today; where it sounds urgent, put the call "
                     "through at once.")};
}

ScriptStep need(const QString &what) {
    return {Text::tr("Do you need more supplies now? %1").arg(what),
            Text::tr("A clear yes is needed each time, with the reason in their own words. “Send all” is no "
                     "count: send what is needed. Nothing is sent without a yes.")};
}

// Rules differ from county to county, so only the agency's own sheet is named.
ScriptStep usedBottles(const AgencySettings &settings) {
    if (settings.usedBottleRules.empty())
        return {Text::tr("Where to put used bottles: I will have the nurse tell you."),
                Text::tr("Only if asked. ") + usedBottleText(settings)};
    return {Text::tr("About used bottles, our sheet says: %1").arg(fromStd(settings.usedBottleRules)),
            Text::tr("Only if asked, and nothing beyond the sheet.")};
}

ScriptStep goodbye() {
    return {Text::tr("Thank you. Please call us when fewer are left than you would like, or when anything "
                     "changes."),
            {}};
}

ScriptStep count(const supply::RefillProposal &proposal, const SnapshotIndex &agency) {
    QStringList names, record;
    std::set<ItemId> seen;
    for (const supply::RefillLine &line : proposal.lines) {
        if (seen.insert(line.item).second)
            names << itemName(agency, line.item);
        // What is set aside is not in the count, so it is not in the figure beside it.
        record << (line.stockIsUnknown ? Text::tr("%1: not known").arg(itemName(agency, line.item))
                   : line.recalled.isZero()
                       ? Text::tr("%1: %2").arg(itemName(agency, line.item), numberText(line.onHand.count()))
                       : Text::tr("%1: %2 without the recalled")
                             .arg(itemName(agency, line.item),
                                  numberText((line.onHand - line.recalled).count())));
    }
    return {Text::tr("Would you count for me, unopened: %1?").arg(names.join(QStringLiteral(", "))),
            Text::tr("Our record, not to be said first: %1.").arg(record.join(QStringLiteral("; ")))};
}

// Before the count, which is of the others alone. What to do about draining is the nurse's to say.
std::optional<ScriptStep> recallStep(const SnapshotIndex &agency, PatientId patient) {
    QStringList lots, record;
    for (const Catheter *catheter : agency.cathetersOf(patient))
        for (const safety::RecalledAtHome &r : safety::recalledAtHome(agency, catheter->id)) {
            const Lot *lot = agency.lot(r.lot);
            lots << Text::tr("lot %1 of %2")
                        .arg(lot ? fromStd(lot->number) : Text::tr("not known"), itemName(agency, r.item));
            record << words(r, agency);
        }
    if (lots.isEmpty())
        return std::nullopt;
    lots.removeDuplicates();
    return ScriptStep{
        Text::tr("The maker has called back %1. Would you look at the lot number on each package, set "
                 "those aside with their label, and not use them? How many are they? Please count what is "
                 "left without them.")
            .arg(lots.join(QStringLiteral(", "))),
        Text::tr("Our record, not to be said first: %1. Write down how many were set aside, also none. Too "
                 "few left until the delivery, or one already used: tell the nurse at once; give no advice.")
            .arg(record.join(QStringLiteral("; ")))};
}

// Nobody is told what to do about draining here; that is the nurse's to say.
std::optional<ScriptStep> pastDateStep(const SnapshotIndex &agency, PatientId patient) {
    const QString past = expiredText(agency, patient);
    if (past.isEmpty())
        return std::nullopt;
    return ScriptStep{
        Text::tr("Would you look at the date on each package, set apart those that are past it, "
                 "and not use them? How many are they?"),
        Text::tr("Our record, not to be said first: %1. %2 Too few left until the delivery, or "
                 "one already used: tell the nurse at once; give no advice.")
            .arg(past, countPastDateText())};
}

// Away, but draining: use goes on though nobody visits.
ScriptStep carry(const QStringList &lines) {
    return {Text::tr("You will be away and go on draining. Do you have enough with you, counted in packs?"),
            lines.join(QLatin1Char('\n'))};
}

ScriptStep offer(const supply::RefillProposal &proposal, const SnapshotIndex &agency) {
    QStringList lines;
    for (const supply::RefillLine &line : proposal.lines)
        if (line.quantity.count() > 0)
            lines << Text::tr("%1 of %2").arg(numberText(line.quantity.count()), itemName(agency, line.item));
    if (lines.isEmpty())
        return need({});
    ScriptStep step = need(Text::tr("We would send %1.").arg(lines.join(QStringLiteral(", "))));
    if (proposal.stockIsUnknown)
        step.note = Text::tr("Nobody knows what is there: store the count first and have the quantity worked "
                             "out again. ") +
                    step.note;
    return step;
}

// No date is read out as a promise that nobody can keep.
QString lateNote(const supply::RefillProposal &proposal) {
    QString text =
        Text::tr("It will be late: it is needed by %1 and comes on %2. Ask today whether the nurse "
                 "can carry it or a courier can go at once, and tell the clinical lead.")
            .arg(dayText(proposal.deliverBy), dayText(proposal.deliverOn));
    if (proposal.deliverBy < proposal.deliverFrom)
        text +=
            u' ' +
            Text::tr("The payer's first day is %1: ask the payer too.").arg(dayText(proposal.deliverFrom));
    return text + u' ' + Text::tr("A parcel is not left outside in heat or frost.");
}

ScriptStep day(const supply::RefillProposal &proposal, Date today) {
    const bool isLate = proposal.deliverBy < proposal.deliverOn || proposal.deliverBy < proposal.deliverFrom;
    if (proposal.hasNoWay)
        return {Text::tr("Which day suits you for the delivery?"),
                Text::tr("No courier and no visit is planned: agree on a day with the coordinator first.")};
    ScriptStep step;
    step.say = proposal.way == DeliveryWay::WithVisit
                   ? Text::tr("The nurse would bring it on %1. Is that right for you?")
                   : Text::tr("It would come by courier on %1. Will somebody be there to take it in, at the "
                              "same address?");
    step.say = step.say.arg(dayText(proposal.deliverOn));
    if (isLate && !proposal.stockIsUnknown) {
        step.note = lateNote(proposal);
        return step;
    }
    if (proposal.stockIsUnknown && isLate) {
        step.note = Text::tr("Not before %1; by when it is needed, the count will tell. A parcel is not left "
                             "outside in heat or frost.")
                        .arg(firstDayText(proposal, today));
        return step;
    }
    step.note = Text::tr("Not before %1; by %2 at the latest. A parcel is not left outside in heat or frost.")
                    .arg(firstDayText(proposal, today), dayText(proposal.deliverBy));
    return step;
}

} // namespace

QString phoneLine(const Patient &patient) {
    return patient.phone.empty() ? Text::tr("No phone on record.")
                                 : Text::tr("Phone %1.").arg(fromStd(patient.phone));
}

QString usedBottleText(const AgencySettings &settings) {
    return settings.usedBottleRules.empty()
               ? Text::tr("The agency has named no sheet on used bottles. Ask the nurse; say nothing else.")
               : fromStd(settings.usedBottleRules);
}

std::vector<ScriptStep> phoneScript(const supply::RefillProposal &proposal, const SnapshotIndex &agency) {
    const Patient *patient = agency.patient(proposal.patient);
    const QString who =
        patient ? fromStd(patient->givenName + " " + patient->familyName) : Text::tr("the patient");
    std::vector<ScriptStep> steps{greeting(agency.snapshot().settings, who)};
    if (auto step = recallStep(agency, proposal.patient))
        steps.push_back(*std::move(step));
    if (auto step = pastDateStep(agency, proposal.patient))
        steps.push_back(*std::move(step));
    steps.push_back(count(proposal, agency));
    steps.push_back(changes());
    steps.push_back(signs());
    if (const QStringList away = carryLines(agency, proposal.patient); !away.isEmpty())
        steps.push_back(carry(away));
    steps.push_back(offer(proposal, agency));
    steps.push_back(day(proposal, agency.snapshot().asOf));
    steps.push_back(usedBottles(agency.snapshot().settings));
    steps.push_back(goodbye());
    return steps;
}

std::vector<ScriptStep> phoneScript(const AgencySettings &settings) {
    return {greeting(settings, Text::tr("the patient")),
            {Text::tr("Would you count for me, unopened, what is on the shelf?"),
             Text::tr("Write the count on the list before you look at what should be there.")},
            changes(),
            signs(),
            need(Text::tr("We would send what the list says.")),
            {Text::tr("It would come on the day on the list. Will somebody be there to take it in, at the "
                      "same address?"),
             Text::tr("Not before the day the payer allows. A parcel is not left outside in heat or frost.")},
            usedBottles(settings),
            goodbye()};
}

} // namespace kitround::desk
