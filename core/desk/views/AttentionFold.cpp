// Many lines that wait for the same step are told as one: how many there are, and which is the first.
#include "core/desk/views/AttentionParts.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <map>

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
        return true;
    default:
        return false;
    }
}

bool hurtsByItself(const AttentionItem &item) {
    return item.harm == Harm::Today &&
           (item.kind == AttentionKind::RunOut || item.kind == AttentionKind::FirstVisitDue ||
            item.kind == AttentionKind::RecertDue || item.kind == AttentionKind::MissUntold);
}

// So many of those of one key stay a line each; one more alone would gain nothing.
std::size_t linesKept(const AttentionItem &one, std::size_t all) {
    if (hurtsByItself(one))
        return all <= kUrgentEachFold + 1 ? all : kUrgentEachFold;
    return all <= kHandful ? all : 0;
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
    const QString number = numberText(static_cast<std::int64_t>(line.folded.size()));
    line.unnamed = manyTitle(first).arg(isRest ? Text::tr("%1 more").arg(number) : number);
    if (first.weekOf)
        line.unnamed = Text::tr("%1, week of %2").arg(line.unnamed, dayText(*first.weekOf));
    line.title = Text::tr("%1. First: %2").arg(line.unnamed, firstName(first, agency));
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

struct FoldGroup {
    std::size_t all = 0, kept = 0, told = 0;
    std::optional<std::size_t> at; // of the line that stands for the others
};

} // namespace

std::string foldKey(const AttentionItem &item) {
    if (!item.folded.empty())
        return foldKey(item.folded.front());
    if (item.harm == Harm::Emergency || item.owner || item.callItem || !isRoutine(item))
        return {};
    std::string key;
    for (const int part :
         {static_cast<int>(item.kind), static_cast<int>(item.harm), static_cast<int>(item.form),
          static_cast<int>(item.fact), item.toStore ? static_cast<int>(item.toStore->kind) + 1 : 0})
        key += std::to_string(part) + ':';
    return item.weekOf ? key + item.weekOf->toIso() : key;
}

std::vector<AttentionItem> foldedLines(std::vector<AttentionItem> items, const Agency &agency,
                                       const std::set<std::string> &shown) {
    std::map<std::string, FoldGroup> groups;
    for (const AttentionItem &item : items)
        if (const std::string key = foldKey(item); !key.empty() && !shown.contains(key)) {
            FoldGroup &group = groups[key];
            group.kept = linesKept(item, ++group.all);
        }
    std::vector<AttentionItem> lines;
    for (AttentionItem &item : items) {
        const auto found = groups.find(foldKey(item));
        if (found == groups.end() || found->second.told < found->second.kept) {
            if (found != groups.end())
                ++found->second.told;
            lines.push_back(std::move(item));
            continue;
        }
        FoldGroup &group = found->second;
        if (!group.at) {
            group.at = lines.size();
            lines.push_back(emptyFold(item));
        }
        lines[*group.at].folded.push_back(std::move(item));
    }
    for (const auto &[key, group] : groups)
        if (group.at)
            tellFold(lines[*group.at], group.kept > 0, agency);
    return lines;
}

} // namespace kitround::desk
