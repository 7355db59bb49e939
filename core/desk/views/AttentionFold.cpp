// Many lines that wait for the same step are told as one: how many there are, and which is the first.
#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/FoldByKey.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <string>

namespace kitround::desk {
namespace {

constexpr std::size_t kHandful = 8;         // so many of a kind are still read one by one (assumed)
constexpr std::size_t kUrgentEachFold = 20; // of what hurts somebody by itself today (assumed)

// Daily routine, of which a large agency has many a day. What is rare, and what somebody has to be told in
// person, stands for itself.
bool isRoutine(const AttentionItem &item) {
    switch (item.kind) {
    case AttentionKind::UnknownFact:
        return item.fact != MissingFact::None || item.toStore.has_value();
    case AttentionKind::RunOut:
    case AttentionKind::RefillCall:
    case AttentionKind::FirstVisitDue:
    case AttentionKind::RecertDue:
    case AttentionKind::VisitNotPlaced:
    case AttentionKind::UnknownStock:
    case AttentionKind::LogSilent:
    case AttentionKind::DeliveryDue:
    case AttentionKind::OrderLate:
    case AttentionKind::LotExpiring:
    case AttentionKind::HoldOverdue:
    case AttentionKind::SkillExpiring:
    case AttentionKind::UnsignedOrder:
    case AttentionKind::SubstitutionDue:
    case AttentionKind::MissUntold:
    case AttentionKind::MaximumToConfirm:
        return true;
    default:
        return false;
    }
}

bool hurtsByItself(const AttentionItem &item) {
    return item.harm == Harm::Today &&
           (item.kind == AttentionKind::RunOut || item.kind == AttentionKind::FirstVisitDue ||
            item.kind == AttentionKind::RecertDue);
}

QString factTitle(MissingFact fact) {
    switch (fact) {
    case MissingFact::None:
        break;
    case MissingFact::Referral:
        return Text::tr("%1 patients without the time of their referral");
    case MissingFact::Address:
        return Text::tr("%1 patients' addresses without coordinates");
    case MissingFact::StartOfDay:
        return Text::tr("%1 nurses without a place where the day starts");
    case MissingFact::Connector:
        return Text::tr("%1 catheters whose connector is not known");
    case MissingFact::InsertedOn:
        return Text::tr("%1 catheters without the day they were put in");
    case MissingFact::FirstLog:
        return Text::tr("%1 catheters without a log yet");
    case MissingFact::LikelyPlace:
        return Text::tr("%1 places very far from the storeroom");
    }
    return Text::tr("%1 facts are missing");
}

// With a place for the number, which may be "12 more".
QString manyTitle(const AttentionItem &first) {
    if (first.toStore)
        return Text::tr("%1 calls to make: %2").arg(QStringLiteral("%1"), words(first.toStore->kind));
    switch (first.kind) {
    case AttentionKind::UnknownFact:
        return factTitle(first.fact);
    case AttentionKind::RunOut:
        return Text::tr("%1 items in homes may run out");
    case AttentionKind::RefillCall:
        return Text::tr("%1 refill calls to make");
    case AttentionKind::FirstVisitDue:
        return Text::tr("%1 first visits due");
    case AttentionKind::RecertDue:
        return Text::tr("%1 recertifications due");
    case AttentionKind::VisitNotPlaced:
        return Text::tr("%1 visits not placed");
    case AttentionKind::UnknownStock:
        return first.form == NextForm::FirstDelivery ? Text::tr("%1 catheters wait for their first supplies")
                                                     : Text::tr("%1 homes where the stock is not known");
    case AttentionKind::DeliveryDue:
        return Text::tr("%1 deliveries due");
    case AttentionKind::OrderLate:
        return Text::tr("%1 supplier orders are late");
    case AttentionKind::LotExpiring:
        return Text::tr("%1 places with a lot near or past its last day");
    case AttentionKind::HoldOverdue:
        return Text::tr("%1 patients who should be home again");
    case AttentionKind::SkillExpiring:
        return Text::tr("%1 sign-offs of nurses that end or have ended");
    case AttentionKind::UnsignedOrder:
        return Text::tr("%1 orders without the prescriber's signature");
    case AttentionKind::MaximumToConfirm:
        return Text::tr("%1 orders whose maximum is to be confirmed");
    case AttentionKind::SubstitutionDue:
        return Text::tr("%1 substitutions to end");
    case AttentionKind::MissUntold:
        return Text::tr("%1 missed visits: was the prescriber told?");
    default:
        return Text::tr("%1 lines: %2").arg(QStringLiteral("%1"), words(first.kind));
    }
}

QString firstName(const AttentionItem &first, const Agency &agency) {
    if (first.patient)
        return parts::shortName(agency, *first.patient);
    if (const Nurse *nurse = first.nurse ? agency.index().nurse(*first.nurse) : nullptr)
        return personName(*nurse);
    return first.title;
}

QString whereAll(const AttentionItem &first) {
    switch (first.kind) {
    case AttentionKind::VisitNotPlaced:
        return Text::tr("All are in the caseload calendar, below their week, each with what is in its way. "
                        "Planning the week places many at once.");
    case AttentionKind::RefillCall:
        return Text::tr("All are under Stock forecast, Refill calls.");
    case AttentionKind::DeliveryDue:
        return Text::tr("All are under Stock forecast, Deliveries.");
    case AttentionKind::RunOut:
        return Text::tr("All are under Stock forecast, Homes, by risk.");
    default:
        return Text::tr("Show each to settle them one by one.");
    }
}

// `isRest`: others of the kind stand above it, a line each.
void tellFold(AttentionItem &line, bool isRest, const Agency &agency) {
    const AttentionItem &first = line.folded.front();
    line.unnamed = parts::manyText(manyTitle(first), line.folded.size(), isRest);
    if (first.weekOf)
        line.unnamed = Text::tr("%1, week of %2").arg(line.unnamed, dayText(*first.weekOf));
    line.title = parts::withFirst(line.unnamed, firstName(first, agency));
    line.detail = Text::tr("The first: %1 %2 %3")
                      .arg(first.title.endsWith(u'?') ? first.title : first.title + u'.', first.detail,
                           whereAll(first));
    for (const AttentionItem &one : line.folded)
        if (one.dueOn && (!line.dueOn || *one.dueOn < *line.dueOn))
            line.dueOn = one.dueOn;
}

// What the line has in common with those it stands for; no step of a single one.
AttentionItem emptyFold(const AttentionItem &first) {
    AttentionItem line;
    line.kind = first.kind;
    line.harm = first.harm;
    line.forRole = first.forRole;
    line.weekOf = first.weekOf;
    return line;
}

// Whoever has it.
std::string routineKey(const AttentionItem &item) {
    if (item.harm == Harm::Emergency || item.callItem || !isRoutine(item))
        return {};
    std::string key;
    for (const int part :
         {static_cast<int>(item.kind), static_cast<int>(item.harm), static_cast<int>(item.form),
          static_cast<int>(item.fact), item.toStore ? static_cast<int>(item.toStore->kind) + 1 : 0})
        key += std::to_string(part) + ':';
    return item.weekOf ? key + item.weekOf->toIso() : key;
}

} // namespace

// One more alone would gain nothing.
std::size_t parts::linesKept(bool hurtsByItself, std::size_t all) {
    if (hurtsByItself)
        return all <= kUrgentEachFold + 1 ? all : kUrgentEachFold;
    return all <= kHandful ? all : 0;
}

QString parts::manyText(const QString &title, std::size_t many, bool isRest) {
    const QString number = numberText(static_cast<std::int64_t>(many));
    return title.arg(isRest ? Text::tr("%1 more").arg(number) : number);
}

QString parts::withFirst(const QString &many, const QString &first) {
    return (many.endsWith(u'?') ? Text::tr("%1 First: %2") : Text::tr("%1. First: %2")).arg(many, first);
}

parts::FoldKind parts::foldKindOf(const AttentionItem &item) {
    return {routineKey(item), manyTitle(item), hurtsByItself(item)};
}

std::string foldKey(const AttentionItem &item) {
    if (!item.folded.empty())
        return foldKey(item.folded.front());
    return item.owner ? std::string() : routineKey(item);
}

std::vector<AttentionItem> foldedLines(std::vector<AttentionItem> items, const Agency &agency,
                                       const std::set<std::string> &shown) {
    return parts::foldByKey(
        std::move(items),
        [&shown](const AttentionItem &item) {
            const std::string key = foldKey(item);
            return shown.contains(key) ? std::string() : key;
        },
        [](const AttentionItem &item, std::size_t all) { return parts::linesKept(hurtsByItself(item), all); },
        emptyFold, [&agency](AttentionItem &line, bool isRest) { tellFold(line, isRest, agency); });
}

} // namespace kitround::desk
