#include "core/calendar/Deadlines.h"
#include "core/calendar/DrainCalendar.h"
#include "core/calendar/Zone.h"
#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/DeadlineList.h"
#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/Recertification.h"
#include "core/safety/Cautions.h"
#include "core/supply/ItemFit.h"

#include <algorithm>
#include <map>
#include <set>

namespace kitround::desk::parts {
namespace {

constexpr Days kRecertNotice = Days::of(7); // how long before its window a recertification is shown (assumed)
constexpr Days kFarAhead = Days::of(120);   // further than any plan reaches
constexpr qsizetype kNamedAtMost = 5;       // of a line about many (assumed)
constexpr qsizetype kSaidInTitle = 60;      // letters of a caller's words (assumed)
constexpr std::size_t kFoldRecalls = 4;     // so many homes and a recall is told in one line (assumed)
constexpr Days kSignatureGrace = Days::of(14); // a verbal order unsigned for longer is chased (assumed)

AttentionKind kindOf(CautionKind kind) {
    switch (kind) {
    case CautionKind::Silence:
        return AttentionKind::LogSilent;
    case CautionKind::NoMaximumOnOrder:
    case CautionKind::NoOrder:
        return AttentionKind::UnknownFact;
    case CautionKind::RecalledLotAtHome:
        return AttentionKind::LotRecalled;
    default:
        return AttentionKind::CallAbout;
    }
}

// As the words say: where a nurse is to call today, the line is for today, whatever the plan of visits makes
// of it.
Harm harmOf(const CallItem &call) {
    switch (call.urgency) {
    case CautionUrgency::Emergency:
        return Harm::Emergency;
    case CautionUrgency::Now:
    case CautionUrgency::Today:
        return Harm::Today;
    case CautionUrgency::Soon:
        return safety::callFirst(call.kind, call.urgency) == safety::CallFirst::NurseToday ? Harm::Today
                                                                                           : Harm::Soon;
    }
    return Harm::Today;
}

// Its order is drained by already, without a limit to hold the drain against.
bool lacksMaximumInForce(const CallItem &call, Date today) {
    if (call.kind != CautionKind::NoMaximumOnOrder || call.evidence.size() < 2)
        return false;
    const auto from = Date::fromIso(call.evidence[1]);
    return from && *from < today;
}

AttentionItem fromCall(const CallItem &call, const Agency &agency) {
    AttentionItem item;
    item.kind = kindOf(call.kind);
    item.harm = harmOf(call);
    if (item.harm == Harm::Soon && lacksMaximumInForce(call, agency.today()))
        item.harm = Harm::Today;
    item.title = Text::tr("Call about %1: %2").arg(shortName(agency, call.patient), words(call.kind));
    if (call.catheter)
        if (const Catheter *catheter = agency.index().catheter(*call.catheter))
            item.title += QStringLiteral(" (%1)").arg(catheterText(*catheter));
    item.detail = cautionText(call);
    if (call.catheter && agency.index().cathetersOf(call.patient).size() > 1)
        if (const Catheter *catheter = agency.index().catheter(*call.catheter))
            item.detail = QStringLiteral("%1: %2").arg(catheterText(*catheter), item.detail);
    item.dueOn = call.raisedAt.date;
    item.patient = call.patient;
    item.owner = userNamed(agency, call.owner);
    return item;
}

// A recall that stands in many homes is one job with a call list, not as many lines.
AttentionItem foldedRecall(const std::string &itemName, const std::string &lot,
                           const std::vector<CallItem> &calls, const Agency &agency) {
    AttentionItem item;
    item.kind = AttentionKind::LotRecalled;
    item.harm = Harm::Today;
    std::set<PatientId> patients;
    QStringList names;
    for (const CallItem &call : calls)
        if (patients.insert(call.patient).second)
            names << shortName(agency, call.patient);
    item.title =
        Text::tr("Recalled lot %1 stands in %2 homes: call each").arg(fromStd(lot)).arg(patients.size());
    item.detail = Text::tr("%1, lot %2. Do not use it, set it aside with its label, replace it. Homes: %3. "
                           "The call list with quantities is under Stock forecast, Storeroom.")
                      .arg(fromStd(itemName), fromStd(lot), names.join(QStringLiteral(", ")));
    item.dueOn = agency.today();
    for (const Item &record : agency.snapshot().items)
        if (record.name == itemName)
            item.item = record.id;
    return item;
}

// The notice of the visit's own kind that settles a clock: done, or in a plan that has been published.
bool hasVisit(const Agency &agency, PatientId patient, VisitKind kind, DateRange within) {
    for (const Visit *visit : agency.index().visitsOf(patient)) {
        const bool counts = visit->status == VisitStatus::Done || visit->status == VisitStatus::Published;
        const Date on = visit->day().value_or(visit->dueFrom);
        if (visit->kind == kind && counts && within.contains(on))
            return true;
    }
    return false;
}

void addFirstVisit(Items &items, const Agency &agency, const Patient &patient) {
    if (patient.startOfCare || !isOnService(patient.status))
        return;
    const Date today = agency.today();
    if (hasVisit(agency, patient.id, VisitKind::StartOfCare, {today.plusDays(-60), today.plusDays(60)}))
        return;
    AttentionItem item;
    item.patient = patient.id;
    const auto due = calendar::firstVisitDue(patient, agency.settings());
    const auto zone = calendar::Zone::named(agency.settings().timeZone);
    if (!due || !zone) {
        item.kind = AttentionKind::UnknownFact;
        item.fact = MissingFact::Referral;
        item.harm = Harm::Today;
        item.title = Text::tr("When was %1 referred?").arg(shortName(agency, patient.id));
        item.detail =
            Text::tr("Neither the referral nor the return home has a time, so the clock for the first visit "
                     "is not known. Enter it.");
        items.push_back(std::move(item));
        return;
    }
    const LocalTime at = zone->toLocal(*due);
    const LocalTime now = agency.snapshot().now;
    item.kind = AttentionKind::FirstVisitDue;
    item.harm = at.date <= today.plusDays(1) ? Harm::Today : Harm::Soon;
    item.dueOn = at.date;
    item.title = Text::tr("First visit to %1").arg(shortName(agency, patient.id));
    const QString hours = QString::number(agency.settings()[SettingKey::FirstVisitHours]);
    item.detail =
        at < now
            ? Text::tr(
                  "The %1 hours ended on %2, and no visit is planned. Visit first, and write down why it "
                  "is late.")
                  .arg(hours, momentText(at))
            : Text::tr("Due by %1 (%2 hours); no visit is published.").arg(momentText(at), hours);
    items.push_back(std::move(item));
}

void addRecertification(Items &items, const Agency &agency, const Patient &patient) {
    const Date today = agency.today();
    if (!isOnService(patient.status) || !patient.startOfCare || *patient.startOfCare > today)
        return;
    const auto missed = rounds::missedRecertification(agency.index(), patient);
    const bool isMissed =
        missed && !hasVisit(agency, patient.id, VisitKind::Recertification,
                            {missed->recertWindow.from, missed->recertWindow.to + kFarAhead});
    const auto period =
        isMissed ? *missed : calendar::certificationPeriod(*patient.startOfCare, today, agency.settings());
    const DateRange window = period.recertWindow;
    if (today < window.from - kRecertNotice)
        return;
    if (!isMissed && hasVisit(agency, patient.id, VisitKind::Recertification, window))
        return;
    AttentionItem item;
    item.kind = AttentionKind::RecertDue;
    item.harm = window.to - today <= Days::of(2) ? Harm::Today : Harm::Soon;
    item.patient = patient.id;
    item.dueOn = window.to.plusDays(-1);
    item.title = Text::tr("Recertification of %1").arg(shortName(agency, patient.id));
    item.detail =
        (isMissed
             ? Text::tr(
                   "Period %1 ended on %2; the visit belonged to the days from %3 to %4, was not made, and "
                   "none is published. Visit first, and write down why it is late.")
             : Text::tr("Period %1 ends on %2; the visit belongs to the days from %3 to %4 and is not "
                        "published."))
            .arg(QString::number(period.number), dayText(period.days.to.plusDays(-1)), dayText(window.from),
                 dayText(window.to.plusDays(-1)));
    if (const Hold *hold = agency.index().holdOn(patient.id, today)) {
        item.harm = Harm::Soon; // nobody can be visited away from home
        item.detail += u' ' + onHoldText(*hold, today);
    }
    items.push_back(std::move(item));
}

void addHold(Items &items, const Agency &agency, const Hold &hold) {
    const Patient *patient = agency.index().patient(hold.patient);
    if (!patient || !isOnService(patient->status) || hold.to || hold.from > agency.today())
        return;
    if (!hold.expectedReturn || *hold.expectedReturn > agency.today())
        return;
    AttentionItem item;
    item.kind = AttentionKind::HoldOverdue;
    item.harm = Harm::Soon;
    item.patient = hold.patient;
    item.dueOn = hold.expectedReturn;
    item.title = Text::tr("Is %1 home again?").arg(shortName(agency, hold.patient));
    item.detail = Text::tr("%1 since %2, expected back on %3. Ask, and end the hold or enter a new date: "
                           "visits, refill calls "
                           "and alerts are paused until then.")
                      .arg(words(hold.kind), dayText(hold.from), dayText(*hold.expectedReturn));
    item.detail[0] = item.detail[0].toUpper();
    items.push_back(std::move(item));
}

// A signature without a name: what is written in the order tells whose.
void addNoPrescriber(Items &items, const Agency &agency, const Catheter &catheter) {
    AttentionItem item;
    item.kind = AttentionKind::UnknownFact;
    item.harm = Harm::Soon;
    item.patient = catheter.patient;
    item.title = Text::tr("Who prescribed the order of %1 (%2)?")
                     .arg(shortName(agency, catheter.patient), catheterText(catheter));
    item.detail =
        Text::tr("The order in force names no prescriber, so nobody can be asked about it. Look at the "
                 "written order, and enter who prescribed it.");
    items.push_back(std::move(item));
}

void addUnsigned(Items &items, const Agency &agency, const Catheter &catheter, const DrainOrder &order) {
    if (order.signedOn) {
        if (order.prescriber.empty())
            addNoPrescriber(items, agency, catheter);
        return;
    }
    AttentionItem item;
    item.kind = AttentionKind::UnsignedOrder;
    item.order = order.id;
    item.harm = agency.today() - order.start > kSignatureGrace ? Harm::Soon : Harm::Tidy;
    item.patient = catheter.patient;
    item.dueOn = order.start + kSignatureGrace;
    item.title = Text::tr("Signature for the order of %1 (%2)")
                     .arg(shortName(agency, catheter.patient), catheterText(catheter));
    item.detail =
        (order.isVerbal
             ? Text::tr("Taken by phone, in force since %1, not signed by the prescriber yet.")
             : Text::tr("In force since %1, and the day of the signature is not entered. Look at the "
                        "written order; where it is not signed, ask the prescriber."))
            .arg(dayText(order.start, agency.today()));
    if (order.prescriber.empty()) { // nothing on record says that anybody ordered it
        item.harm = Harm::Today;
        item.detail += u' ' + Text::tr("Nor is it entered who prescribed it.");
    }
    items.push_back(std::move(item));
}

// One line for all of them: in records kept for long before it could be entered it may be everybody.
void addNotAskedAllergies(Items &items, const Agency &agency) {
    std::vector<PatientId> notAsked;
    for (const Patient &patient : agency.snapshot().patients)
        if (isOnService(patient.status) && !isAllergyKnown(patient))
            notAsked.push_back(patient.id);
    if (notAsked.empty())
        return;
    AttentionItem item;
    item.kind = AttentionKind::UnknownFact;
    item.harm = Harm::Tidy;
    item.form = NextForm::Allergies;
    item.formOf = notAsked.front();
    item.detail =
        Text::tr("The record says neither which allergies there are nor that none are known. Ask at "
                 "the next call or visit, and enter the answer.");
    if (notAsked.size() == 1) {
        item.patient = notAsked.front();
        item.title = Text::tr("Was %1 asked about allergies?").arg(shortName(agency, *item.patient));
    } else {
        item.title = Text::tr("%1 patients were not asked about allergies").arg(notAsked.size());
        QStringList who;
        for (const PatientId patient : notAsked)
            if (who.size() < kNamedAtMost)
                who << shortName(agency, patient);
        const auto more = static_cast<qsizetype>(notAsked.size()) - who.size();
        if (more > 0)
            who << Text::tr("%1 more").arg(more);
        item.detail = Text::tr("%1. %2").arg(who.join(QStringLiteral(", ")), item.detail);
    }
    items.push_back(std::move(item));
}

// What is sent may not fit: nobody has entered which class of line the catheter has.
void addUnknownFit(Items &items, const Agency &agency, const Catheter &catheter) {
    const DrainOrder *order = agency.index().orderInForce(catheter.id, agency.today());
    const Item *kit = order ? agency.index().item(order->kit) : nullptr;
    if (!kit || !supply::isFitUnknown(*kit, catheter))
        return;
    AttentionItem item;
    item.kind = AttentionKind::UnknownFact;
    item.fact = MissingFact::Connector;
    item.harm = Harm::Tidy;
    item.patient = catheter.patient;
    item.title = Text::tr("Which connector has the catheter of %1 (%2)?")
                     .arg(shortName(agency, catheter.patient), catheterText(catheter));
    item.detail =
        Text::tr("%1 fits class %2 only, and the class of the catheter is not known. Have it looked at at "
                 "the next visit, and enter it.")
            .arg(itemName(agency.index(), kit->id), fromStd(kit->connector));
    items.push_back(std::move(item));
}

QString topicText(CallTopic topic) {
    switch (topic) {
    case CallTopic::Clinical:
        return Text::tr("clinical");
    case CallTopic::Supply:
        return Text::tr("about supplies");
    case CallTopic::Schedule:
        return Text::tr("about a visit");
    }
    return {};
}

// Today: symptoms; and who is not on record, for that may be a referral, whose clock runs from the call.
Harm harmOf(const PhoneCall &call) {
    const bool mayBeReferral = !call.patient && call.topic != CallTopic::Supply;
    return call.topic == CallTopic::Clinical || mayBeReferral ? Harm::Today : Harm::Soon;
}

void addPhoneCall(Items &items, const Agency &agency, const PhoneCall &call) {
    AttentionItem item;
    item.kind = AttentionKind::CallAbout;
    item.harm = harmOf(call);
    item.patient = call.patient;
    item.dueOn = call.at.date;
    const QString caller = fromStd(call.caller).simplified(), said = fromStd(call.words).simplified();
    item.title = caller.isEmpty() ? Text::tr("Call back") : Text::tr("Call %1 back").arg(caller);
    if (call.patient)
        item.title = Text::tr("%1 about %2").arg(item.title, shortName(agency, *call.patient));
    if (!said.isEmpty()) {
        const bool isLong = said.size() > kSaidInTitle;
        item.title = QStringLiteral("%1: %2").arg(
            item.title, isLong ? said.left(kSaidInTitle).trimmed() + QStringLiteral("…") : said);
    }
    item.detail = Text::tr("%1 called on %2, %3.")
                      .arg(caller.isEmpty() ? Text::tr("Somebody") : caller, momentText(call.at),
                           topicText(call.topic));
    if (!said.isEmpty())
        item.detail += u' ' + Text::tr("Said: \"%1\"").arg(said);
    item.detail += u' ' + Text::tr("The call is still open. Close it with what was said and done.");
    item.phoneCall = call.id;
    item.owner = userNamed(agency, call.owner);
    items.push_back(std::move(item));
}

} // namespace

void addCalls(Items &items, const Agency &agency) {
    const auto isOpen = [](const CallItem &c) { return c.status == CallItemStatus::Open; };
    for (const CallItem &call : agency.snapshot().callItems)
        if (isOpen(call)) {
            items.push_back(fromCall(call, agency));
            items.back().callItem = call.id;
        }
    std::map<std::vector<std::string>, std::vector<CallItem>> recalls; // by item and lot number
    for (const CallItem &call : safety::standingCautions(agency.index())) {
        if (call.kind == CautionKind::RecalledLotAtHome && call.evidence.size() >= 2) {
            recalls[{call.evidence[0], call.evidence[1]}].push_back(call);
            continue;
        }
        items.push_back(fromCall(call, agency));
        items.back().toStore = call;
    }
    for (const auto &[lot, calls] : recalls) {
        if (calls.size() >= kFoldRecalls) {
            items.push_back(foldedRecall(lot[0], lot[1], calls, agency));
            continue;
        }
        for (const CallItem &call : calls) {
            items.push_back(fromCall(call, agency));
            items.back().toStore = call;
        }
    }
    for (const PhoneCall &call : agency.snapshot().phoneCalls)
        if (!call.closedAt)
            addPhoneCall(items, agency, call);
}

void addOrderQuestions(Items &items, const Agency &agency) {
    for (const safety::OrderQuestion &question : safety::orderQuestions(agency.index())) {
        const bool isMaximum = question.why == safety::OrderDoubt::AboveCommon;
        AttentionItem item;
        item.kind = isMaximum ? AttentionKind::MaximumToConfirm : AttentionKind::OrderToConfirm;
        item.harm = question.on > agency.today() ? Harm::Soon : Harm::Today; // one to come
        item.patient = question.patient;
        item.order = question.order;
        item.dueOn = question.on;
        item.title = (isMaximum ? Text::tr("Is the maximum of %1 as prescribed?")
                                : Text::tr("Does the order of %1 still hold?"))
                         .arg(shortName(agency, question.patient));
        item.detail = questionText(question, agency.index());
        items.push_back(std::move(item));
    }
}

void addClocks(Items &items, const Agency &agency) {
    for (const Patient &patient : agency.snapshot().patients) {
        addFirstVisit(items, agency, patient);
        addRecertification(items, agency, patient);
    }
    for (const Hold &hold : agency.snapshot().holds)
        addHold(items, agency, hold);
    for (const Catheter &catheter : agency.snapshot().catheters)
        if (agency.index().isInService(catheter))
            if (const DrainOrder *order = agency.index().orderInForce(catheter.id, agency.today()))
                addUnsigned(items, agency, catheter, *order);
}

void addUnknownFacts(Items &items, const Agency &agency) {
    const auto add = [&](MissingFact fact, std::optional<PatientId> patient, std::optional<NurseId> nurse,
                         Harm harm, QString title, QString detail) {
        AttentionItem item;
        item.kind = AttentionKind::UnknownFact;
        item.fact = fact;
        item.harm = harm;
        item.patient = patient;
        item.nurse = nurse;
        item.title = std::move(title);
        item.detail = std::move(detail);
        items.push_back(std::move(item));
    };
    const QString noPoint =
        Text::tr("The address has no coordinates, so travel there is a guess from the middle of the area. "
                 "Enter them.");
    const Agency &a = agency;
    for (const Patient &patient : a.snapshot().patients)
        if (isOnService(patient.status) && !patient.address.point)
            add(MissingFact::Address, patient.id, std::nullopt, Harm::Soon,
                Text::tr("Where does %1 live?").arg(shortName(a, patient.id)), noPoint);
    addNotAskedAllergies(items, a);
    for (const Nurse &nurse : a.snapshot().nurses)
        if (nurse.isActive && !nurse.startsAtStoreroom && !nurse.base.point)
            add(MissingFact::StartOfDay, std::nullopt, nurse.id, Harm::Soon,
                Text::tr("Where does the day of %1 start?").arg(personName(nurse)), noPoint);
    if (!a.settings().storeroom.point && !a.snapshot().patients.empty()) // before, it is a first step
        add(MissingFact::None, std::nullopt, std::nullopt, Harm::Soon, Text::tr("Where is the storeroom?"),
            noPoint);
    for (const Catheter &catheter : a.snapshot().catheters) {
        if (!a.index().isInService(catheter))
            continue;
        addUnknownFit(items, a, catheter);
        const QString who =
            QStringLiteral("%1 (%2)").arg(shortName(a, catheter.patient), catheterText(catheter));
        if (!catheter.insertedOn)
            add(MissingFact::InsertedOn, catheter.patient, std::nullopt, Harm::Tidy,
                Text::tr("When was the catheter of %1 put in?").arg(who),
                Text::tr("The date is not known; catheter days can't be counted without it."));
        const DrainOrder *order = a.index().orderInForce(catheter.id, a.today());
        if (!order || order->pattern.kind != DrainPatternKind::AsNeeded)
            continue;
        // Ordered drains that nobody logs are called silent elsewhere; as-needed ones have no day to be late
        // on.
        if (a.index().entriesOf(catheter.id).empty() && !a.index().holdOn(catheter.patient, a.today()))
            add(MissingFact::FirstLog, catheter.patient, std::nullopt, Harm::Soon,
                Text::tr("No log from %1 yet").arg(who),
                Text::tr("Nothing is logged under an as-needed order. A missing log is not a missed drain: "
                         "ask at the next "
                         "call."));
    }
}

} // namespace kitround::desk::parts
