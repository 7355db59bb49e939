#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

constexpr Days kAgeTold = Days::of(2); // from here on the days are counted for the reader (assumed)

// What hurts first, among things of one urgency.
int harmRank(AttentionKind kind) {
    switch (kind) {
    case AttentionKind::CallAbout:
    case AttentionKind::WelfareCall: // somebody may lie behind that door
        return 0;
    case AttentionKind::LotRecalled:
    case AttentionKind::OrderToConfirm: // with what may be done wrongly today
    case AttentionKind::MaximumToConfirm:
        return 1;
    case AttentionKind::PlanChanged: // somebody drives to the wrong door, and another waits
    case AttentionKind::PatientsToPhone:
        return 2;
    case AttentionKind::RunOut:
        return 3;
    case AttentionKind::RefillCall:
        return 4;
    case AttentionKind::FirstVisitDue:
    case AttentionKind::HandOverWaiting: // nobody has taken what is in it
        return 5;
    case AttentionKind::LogSilent:
    case AttentionKind::WatchDue:
    case AttentionKind::MissUntold:
        return 6;
    case AttentionKind::VisitNotPlaced:
        return 7;
    case AttentionKind::RecertDue:
    case AttentionKind::IncidentReport:
    case AttentionKind::VisitsUnrecorded:
    case AttentionKind::MainNurseLeft:
        return 8;
    case AttentionKind::DeliveryDue:
    case AttentionKind::SubstitutionDue: // as a delivery: the home waits for what was ordered
        return 9;
    case AttentionKind::ReorderDue:
        return 10;
    case AttentionKind::OrderLate:
        return 11;
    case AttentionKind::UnknownStock:
        return 12;
    case AttentionKind::UnknownFact:
        return 13;
    case AttentionKind::HoldOverdue:
        return 14;
    case AttentionKind::PlanNotPublished:
    case AttentionKind::ShortRest:
        return 15;
    case AttentionKind::LotExpiring:
        return 16;
    case AttentionKind::SkillExpiring:
    case AttentionKind::LeaveWaiting:
        return 17;
    case AttentionKind::UnsignedOrder:
        return 18;
    }
    return 19;
}

// Every hour a home of a visit of today that changed waits in vain or stands before a closed door: one line,
// before all that is for today.
int rankOf(const AttentionItem &item, Date today) {
    const bool isOfToday = item.kind == AttentionKind::PatientsToPhone && item.dueOn && *item.dueOn <= today;
    return isOfToday ? -1 : harmRank(item.kind);
}

// Calls and questions carry the day they arose, not one by which they were to be done.
bool tellsWhenItArose(const AttentionItem &item) {
    const bool isAsked = item.order && item.kind != AttentionKind::UnsignedOrder;
    return item.callItem || item.toStore || item.phoneCall || isAsked ||
           item.kind == AttentionKind::WelfareCall || item.kind == AttentionKind::VisitsUnrecorded ||
           item.kind == AttentionKind::HandOverWaiting;
}

// What is overdue is for today, whatever stands in its way, and so is a call that is open since another day.
// A refill call that was answered waits for its delivery.
void raiseOverdue(std::vector<AttentionItem> &items, Date today) {
    for (AttentionItem &item : items) {
        const bool mayWait = item.kind == AttentionKind::RefillCall ||
                             (tellsWhenItArose(item) && !item.callItem && !item.phoneCall);
        if (item.harm == Harm::Soon && item.dueOn && *item.dueOn < today && !mayWait)
            item.harm = Harm::Today;
    }
}

} // namespace

QString words(AttentionKind kind) {
    switch (kind) {
    case AttentionKind::CallAbout:
        return Text::tr("call about");
    case AttentionKind::RunOut:
        return Text::tr("running out");
    case AttentionKind::RefillCall:
        return Text::tr("refill call");
    case AttentionKind::PlanChanged:
        return Text::tr("round changed");
    case AttentionKind::FirstVisitDue:
        return Text::tr("first visit due");
    case AttentionKind::RecertDue:
        return Text::tr("recertification due");
    case AttentionKind::VisitNotPlaced:
        return Text::tr("visit not placed");
    case AttentionKind::UnknownStock:
        return Text::tr("stock unknown");
    case AttentionKind::UnknownFact:
        return Text::tr("fact missing");
    case AttentionKind::LogSilent:
        return Text::tr("log silent");
    case AttentionKind::DeliveryDue:
        return Text::tr("delivery due");
    case AttentionKind::OrderLate:
        return Text::tr("supplier late");
    case AttentionKind::LotExpiring:
        return Text::tr("lot expiring");
    case AttentionKind::LotRecalled:
        return Text::tr("lot recalled");
    case AttentionKind::HoldOverdue:
        return Text::tr("return overdue");
    case AttentionKind::SkillExpiring:
        return Text::tr("skill expiring");
    case AttentionKind::PlanNotPublished:
        return Text::tr("plan not published");
    case AttentionKind::ReorderDue:
        return Text::tr("order due");
    case AttentionKind::UnsignedOrder:
        return Text::tr("order not signed");
    case AttentionKind::SubstitutionDue:
        return Text::tr("substitution to end");
    case AttentionKind::OrderToConfirm:
        return Text::tr("order to confirm");
    case AttentionKind::MaximumToConfirm:
        return Text::tr("maximum to confirm");
    case AttentionKind::HandOverWaiting:
        return Text::tr("hand-over waits");
    case AttentionKind::LeaveWaiting:
        return Text::tr("leave to decide");
    case AttentionKind::WatchDue:
        return Text::tr("watch list step");
    case AttentionKind::PatientsToPhone:
        return Text::tr("patients to phone");
    case AttentionKind::IncidentReport:
        return Text::tr("incident open");
    case AttentionKind::ShortRest:
        return Text::tr("rest too short");
    case AttentionKind::VisitsUnrecorded:
        return Text::tr("visits not recorded");
    case AttentionKind::MissUntold:
        return Text::tr("prescriber not told");
    case AttentionKind::WelfareCall:
        return Text::tr("welfare call");
    case AttentionKind::MainNurseLeft:
        return Text::tr("main nurse left");
    }
    return {};
}

QString words(Harm harm) {
    switch (harm) {
    case Harm::Emergency:
        return Text::tr("emergency");
    case Harm::Today:
        return Text::tr("today");
    case Harm::Soon:
        return Text::tr("soon");
    case Harm::Tidy:
        return Text::tr("when there is time");
    }
    return {};
}

namespace {

// Whose daily work a kind of line is; none: no one role's, so anybody's.
std::optional<UserRole> roleOf(AttentionKind kind) {
    switch (kind) {
    case AttentionKind::LotRecalled:
    case AttentionKind::RunOut:
    case AttentionKind::RefillCall:
    case AttentionKind::UnknownStock:
    case AttentionKind::DeliveryDue:
    case AttentionKind::OrderLate:
    case AttentionKind::LotExpiring:
    case AttentionKind::ReorderDue:
    case AttentionKind::SubstitutionDue:
        return UserRole::SupplyClerk;
    case AttentionKind::PlanChanged:
    case AttentionKind::PatientsToPhone:
    case AttentionKind::FirstVisitDue:
    case AttentionKind::RecertDue:
    case AttentionKind::VisitNotPlaced:
    case AttentionKind::PlanNotPublished:
    case AttentionKind::HoldOverdue:
    case AttentionKind::UnknownFact:
    case AttentionKind::VisitsUnrecorded:
    case AttentionKind::MissUntold:
        return UserRole::Coordinator;
    case AttentionKind::SkillExpiring:
    case AttentionKind::LeaveWaiting:
    case AttentionKind::IncidentReport:
    case AttentionKind::ShortRest:
    case AttentionKind::MainNurseLeft:
        return UserRole::NurseManager;
    case AttentionKind::CallAbout:
    case AttentionKind::WelfareCall:
    case AttentionKind::LogSilent:
    case AttentionKind::UnsignedOrder:
    case AttentionKind::OrderToConfirm:
    case AttentionKind::MaximumToConfirm:
    case AttentionKind::HandOverWaiting:
    case AttentionKind::WatchDue:
        return std::nullopt;
    }
    return std::nullopt;
}

// The other roles have no kinds that come before all else.
bool isSupply(AttentionKind kind) {
    return roleOf(kind) == UserRole::SupplyClerk;
}

// What is about a person's care is asked of whoever looks after people, not of who looks after the shelf.
bool isCare(AttentionKind kind) {
    return !roleOf(kind) && kind != AttentionKind::HandOverWaiting;
}

bool isHeld(UserRole role, const Agency &agency) {
    return std::ranges::any_of(agency.snapshot().users,
                               [&](const User &u) { return u.isActive && u.role == role; });
}

bool hasOnlyClerks(const Agency &agency) {
    return std::ranges::none_of(agency.snapshot().users,
                                [](const User &u) { return u.isActive && u.role != UserRole::SupplyClerk; });
}

UserRole roleOf(UserId user, const Agency &agency) {
    const auto &users = agency.snapshot().users;
    const auto found = std::ranges::find(users, user, &User::id);
    return found == users.end() ? UserRole::Coordinator : found->role;
}

// A call that came in says itself whose it is.
std::optional<UserRole> roleOf(const AttentionItem &item, const Agency &agency) {
    if (item.forRole)
        return item.forRole;
    const PhoneCall *call =
        item.phoneCall ? parts::recordOf(agency.snapshot().phoneCalls, *item.phoneCall) : nullptr;
    if (call && call->topic != CallTopic::Clinical)
        return call->topic == CallTopic::Supply ? UserRole::SupplyClerk : UserRole::Coordinator;
    return roleOf(item.kind);
}

bool isWorkOf(UserRole role, const AttentionItem &item, const Agency &agency) {
    const std::optional<UserRole> whose = roleOf(item, agency);
    if (whose)
        return *whose == role || !isHeld(*whose, agency);
    return !isCare(item.kind) || role != UserRole::SupplyClerk || hasOnlyClerks(agency);
}

} // namespace

bool isFirstFor(UserRole role, const AttentionItem &item) {
    return item.harm == Harm::Emergency || (item.forRole && *item.forRole == role) ||
           (role == UserRole::SupplyClerk && isSupply(item.kind));
}

QString dueWords(const AttentionItem &item, Date today) {
    if (!item.dueOn)
        return {};
    const QString day = dayText(*item.dueOn, today);
    if (*item.dueOn >= today)
        return day;
    const bool arose = tellsWhenItArose(item.folded.empty() ? item : item.folded.front());
    const QString since = (arose ? Text::tr("open since %1") : Text::tr("overdue since %1")).arg(day);
    const Days age = today - *item.dueOn;
    return age >= kAgeTold ? Text::tr("%1, %2 days").arg(since).arg(age.count()) : since;
}

QString parts::shortName(const Agency &agency, PatientId patient) {
    const Patient *p = agency.index().patient(patient);
    if (!p)
        return Text::tr("an unknown patient");
    const QString given = fromStd(p->givenName).left(1).toUpper();
    const QString name = given.isEmpty() ? fromStd(p->familyName)
                                         : QStringLiteral("%1. %2").arg(given, fromStd(p->familyName));
    return agency.index().hasNamesake(patient) ? QStringLiteral("%1 (%2)").arg(name, fromStd(p->code)) : name;
}

std::optional<UserId> parts::userNamed(const Agency &agency, const std::string &owner) {
    const QString name = fromStd(owner).trimmed();
    for (const User &user : agency.snapshot().users)
        if (user.isActive && !name.isEmpty() && name.compare(fromStd(user.name), Qt::CaseInsensitive) == 0)
            return user.id;
    return std::nullopt;
}

std::optional<UserId> parts::ifActive(const Agency &agency, std::optional<UserId> user) {
    const auto &users = agency.snapshot().users;
    const auto found = user ? std::ranges::find(users, *user, &User::id) : users.end();
    return found != users.end() && found->isActive ? user : std::nullopt;
}

std::vector<AttentionItem> attention(const Agency &agency, const StockPicture *stock, const WeekPicture *week,
                                     const WeekPicture *thisWeek) {
    std::vector<AttentionItem> items;
    parts::addCalls(items, agency);
    parts::addClocks(items, agency);
    parts::addUnknownFacts(items, agency);
    parts::addOddPlaces(items, agency);
    parts::addFirstSteps(items, agency);
    if (stock)
        parts::addHomes(items, *stock);
    parts::addStoreroom(items, agency, stock);
    parts::addTeam(items, agency, week, thisWeek);
    parts::addHandOvers(items, agency);
    parts::addOrderQuestions(items, agency);
    parts::addWatch(items, agency);
    parts::addIncidents(items, agency);
    parts::addShortRests(items, agency);
    parts::addVisitsOver(items, agency);
    parts::addClosedDoors(items, agency);
    parts::addNursesWhoLeft(items, agency);
    raiseOverdue(items, agency.today());
    parts::addTakers(items, agency);
    const auto key = [today = agency.today()](const AttentionItem &i) {
        const int rank = rankOf(i, today);
        const auto day = i.dueOn.value_or(Date::fromDayNumber(1 << 24)).dayNumber();
        return std::tuple(i.harm, i.harm == Harm::Tidy ? 0 : rank, i.harm == Harm::Emergency ? -day : day,
                          rank, i.title, i.detail);
    };
    std::ranges::stable_sort(items,
                             [&](const AttentionItem &a, const AttentionItem &b) { return key(a) < key(b); });
    return items;
}

std::vector<AttentionItem> attentionFor(UserId user, std::vector<AttentionItem> items, const Agency &agency) {
    const UserRole role = roleOf(user, agency);
    std::erase_if(items, [&](const AttentionItem &item) {
        return item.forRole && *item.forRole != role && item.owner != user && isHeld(*item.forRole, agency);
    });
    if (role == UserRole::SupplyClerk)
        std::ranges::stable_partition(items,
                                      [role](const AttentionItem &item) { return isFirstFor(role, item); });
    return items;
}

std::vector<AttentionItem> mineOf(UserId user, std::vector<AttentionItem> items, const Agency &agency) {
    const UserRole role = roleOf(user, agency);
    std::erase_if(items, [&](const AttentionItem &item) {
        if (item.harm == Harm::Emergency)
            return false;
        return item.owner ? *item.owner != user : !isWorkOf(role, item, agency);
    });
    return items;
}

QString countsText(const std::vector<AttentionItem> &items, bool isOwn, std::size_t ofOthers) {
    const auto now =
        std::ranges::count_if(items, [](const AttentionItem &i) { return i.harm <= Harm::Today; });
    const QString text = (isOwn ? Text::tr("Of yours: %1 to do today, %2 in all.")
                                : Text::tr("Everything: %1 to do today, %2 in all."))
                             .arg(numberText(now), numberText(static_cast<std::int64_t>(items.size())));
    if (isOwn || ofOthers == 0)
        return text;
    return text + u' ' +
           counted(static_cast<std::int64_t>(ofOthers), Text::tr("1 more is another role's alone."),
                   Text::tr("%1 more are another role's alone."));
}

QString formText(const AttentionItem &item, const Agency &agency) {
    switch (item.form) {
    case NextForm::None:
        return {};
    case NextForm::Count:
        return Text::tr("Record a count…");
    case NextForm::FirstDelivery:
        return Text::tr("Promise the first delivery…");
    case NextForm::Allergies:
        return item.patient || !item.formOf
                   ? Text::tr("Enter the allergies…")
                   : Text::tr("Enter those of %1…").arg(parts::shortName(agency, *item.formOf));
    }
    return {};
}

QString ownerText(const AttentionItem &item, const Agency &agency) {
    return item.owner ? Text::tr("%1 has it.").arg(fromStd(userOf(agency.index(), *item.owner))) : QString();
}

QString detailInCopies(const AttentionItem &item) {
    if (!item.unnamed.isEmpty())
        return item.unnamed.endsWith(u'?') ? item.unnamed : item.unnamed + u'.';
    return item.phoneCall ? Text::tr("A call that came in, still open.") : item.detail;
}

Table attentionTable(const std::vector<AttentionItem> &items, const Agency &agency) {
    const SnapshotIndex &index = agency.index();
    Table table;
    table.title = Text::tr("What needs doing, %1").arg(dayText(agency.today())).toStdString();
    table.key = "attention";
    table.columns = {textColumn(Text::tr("When"), "harm"),         textColumn(Text::tr("What"), "kind"),
                     textColumn(Text::tr("Due"), "due_on"),        textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"), textColumn(Text::tr("Nurse"), "nurse"),
                     textColumn(Text::tr("Item"), "item"),         textColumn(Text::tr("Detail"), "detail")};
    for (const AttentionItem &i : items)
        table.rows.push_back({cell(words(i.harm)), cell(words(i.kind)), cell(i.dueOn),
                              i.patient ? codeOf(index, *i.patient) : std::string(),
                              i.patient ? initialsOf(index, *i.patient) : std::string(),
                              i.nurse ? nurseOf(index, *i.nurse) : std::string(),
                              i.item ? codeOf(index, *i.item) : std::string(), cell(detailInCopies(i))});
    table.notes.push_back(planningCaution().toStdString());
    if (agency.settings().isInvented)
        table.notes.push_back(inventedMark().toStdString());
    return table;
}

} // namespace kitround::desk
