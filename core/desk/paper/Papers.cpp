#include "core/desk/paper/Papers.h"

#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/HolidayPlan.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <tuple>

namespace kitround::desk {
namespace {

using namespace parts;

constexpr int kDowntimeDays = 3;

std::string lastDrain(const Agency &agency, CatheterId catheter) {
    const DrainEntry *last = nullptr;
    for (const DrainEntry &entry : agency.index().entriesOf(catheter))
        if (!entry.isVoid && entry.outcome != DrainOutcome::NotDone)
            last = &entry;
    if (!last)
        return Text::tr("none logged").toStdString();
    const QString volume = last->outcome == DrainOutcome::Dry ? words(DrainOutcome::Dry)
                           : last->volume                     ? Text::tr("%1 mL").arg(last->volume->count())
                                                              : Text::tr("volume unknown");
    return QStringLiteral("%1, %2").arg(dayText(last->at.date), volume).toStdString();
}

std::string homeStock(const Agency &agency, const Catheter &catheter) {
    QStringList parts;
    for (const StockBalance &b : agency.index().balancesAt(Place::home(catheter.id))) {
        const std::int64_t there = agency.index().balance(b.place, b.item).count();
        const QString line =
            there < 0 ? Text::tr("%1: record below zero, count").arg(itemName(agency.index(), b.item))
                      : QStringLiteral("%1 × %2").arg(numberText(there), itemName(agency.index(), b.item));
        if (!parts.contains(line))
            parts << line;
    }
    return parts.isEmpty() ? Text::tr("unknown").toStdString()
                           : parts.join(QStringLiteral("; ")).toStdString();
}

std::vector<const Patient *> patientsInCare(const Agency &agency) {
    std::vector<const Patient *> patients;
    for (const Patient &p : agency.snapshot().patients)
        if (isOnService(p.status))
            patients.push_back(&p);
    std::ranges::stable_sort(patients, {},
                             [](const Patient *p) { return std::tuple(p->familyName, p->givenName, p->id); });
    return patients;
}

void append(Paper &whole, const Paper &part) {
    bool isFirst = true;
    for (Paper::Section section : part.sections) {
        if (isFirst) {
            section.startsPage = !whole.sections.empty();
            const QString head = part.subtitle.isEmpty()
                                     ? part.title
                                     : QStringLiteral("%1, %2").arg(part.title, part.subtitle);
            section.heading =
                section.heading.isEmpty() ? head : QStringLiteral("%1: %2").arg(head, section.heading);
        }
        isFirst = false;
        whole.sections.push_back(std::move(section));
    }
}

} // namespace

Paper onCallCard(const Agency &agency) {
    Paper paper = blankPaper(agency, Text::tr("On-call card"), dayText(agency.today()), true);
    Table made =
        table({column(Text::tr("Who")), column(Text::tr("Born")), column(Text::tr("Phone")),
               column(Text::tr("Catheter")), column(Text::tr("Order in force")),
               column(Text::tr("Most, mL"), Align::Right), column(Text::tr("Allergies")),
               column(Text::tr("Last drain")), column(Text::tr("In the home")), column(Text::tr("Away"))});
    for (const Patient *p : patientsInCare(agency)) {
        const Hold *hold = agency.index().holdOn(p->id, agency.today());
        for (const Catheter *catheter : agency.index().cathetersOf(p->id)) {
            if (catheter->removedAt)
                continue;
            const DrainOrder *order = agency.index().orderInForce(catheter->id, agency.today());
            made.rows.push_back(
                {patientMark(*p).toStdString(),
                 p->bornOn ? p->bornOn->toIso() : Text::tr("unknown").toStdString(), p->phone,
                 catheterText(*catheter).toStdString(),
                 order ? words(order->pattern, agency.today()).toStdString()
                       : Text::tr("NO ORDER").toStdString(),
                 order && order->mostPerSession ? std::to_string(order->mostPerSession->count())
                                                : Text::tr("not given").toStdString(),
                 allergiesText(*p, agency.today()).toStdString(), lastDrain(agency, catheter->id),
                 homeStock(agency, *catheter), hold ? words(hold->kind).toStdString() : std::string()});
        }
    }
    add(paper, {}, std::move(made));
    addLines(paper, {},
             {Text::tr("Worse breathlessness, severe pain, collapse or heavy bleeding: the local emergency "
                       "number first."),
              Text::tr("Write down every call, whom you told, and when; hand it over in the morning."),
              planningCaution()});
    return paper;
}

Paper holidayPaper(const HolidayPlan &plan, const Agency &agency, int weeks) {
    Paper paper = blankPaper(agency, Text::tr("Holiday plan"),
                             Text::tr("%1 weeks from %2").arg(weeks).arg(dayText(agency.today())), true);
    for (std::size_t i = 0; i < plan.stretches.size(); ++i) {
        Table made = table({column(Text::tr("Who")), column(Text::tr("Visits")), column(Text::tr("Supplies")),
                            column(Text::tr("To decide")), column(Text::tr("Done"))});
        for (const HolidayHome &home : plan.homes)
            if (home.stretch == i)
                made.rows.push_back({patientMark(agency, home.patient).toStdString(),
                                     visitText(home).toStdString(),
                                     stockText(plan, home).toStdString(),
                                     home.isOpen() ? Text::tr("yes").toStdString() : std::string(),
                                     {}});
        add(paper, stretchText(plan.stretches[i], agency.today()), std::move(made));
    }
    if (plan.stretches.empty())
        addLines(paper, {}, {Text::tr("No holiday in these weeks.")});
    addLines(
        paper, {},
        {Text::tr(
             "Visits move inside the ordered frequency; a refill goes out early only as far as the payer "
             "allows."),
         planningCaution()});
    return paper;
}

namespace {

constexpr std::size_t kMostOfAKind = 100; // more is no list to work from on paper (assumed)

std::vector<std::string> attentionRow(const AttentionItem &i, const Agency &agency) {
    QString who;
    if (i.patient)
        who = patientMark(agency, *i.patient);
    else if (i.nurse)
        who = nurseName(agency, *i.nurse);
    else if (i.item)
        who = itemName(agency.index(), *i.item);
    return {words(i.harm).toStdString(),
            words(i.kind).toStdString(),
            i.dueOn ? dayText(*i.dueOn).toStdString() : std::string(),
            who.toStdString(),
            detailInCopies(i).toStdString(),
            {}};
}

} // namespace

Paper attentionPaper(const std::vector<AttentionItem> &items, const Agency &agency) {
    Paper paper = blankPaper(agency, Text::tr("What needs doing"), dayText(agency.today()), true);
    Table made = table({column(Text::tr("When")), column(Text::tr("What")), column(Text::tr("Due")),
                        column(Text::tr("Who")), column(Text::tr("Detail")), column(Text::tr("Done"))});
    for (const AttentionItem &i : items) {
        if (i.folded.empty() || i.folded.size() > kMostOfAKind) {
            made.rows.push_back(attentionRow(i, agency));
            continue;
        }
        for (const AttentionItem &single : i.folded)
            made.rows.push_back(attentionRow(single, agency));
    }
    add(paper, {}, std::move(made));
    addLines(paper, {}, {planningCaution()});
    return paper;
}

Paper emergencyCallOrder(const Agency &agency) {
    Paper paper = blankPaper(agency, Text::tr("Emergency call order"), Text::tr("Whom to reach first"), true);
    auto patients = patientsInCare(agency);
    std::ranges::stable_sort(patients, {}, [](const Patient *p) { return emergencyPriorityOf(*p); });
    Table made = table({column(Text::tr("Reach")), column(Text::tr("Who")), column(Text::tr("Phone")),
                        column(Text::tr("Address")), column(Text::tr("Away")),
                        column(Text::tr("Reached, by whom, when"))});
    for (const Patient *p : patients) {
        const Hold *hold = agency.index().holdOn(p->id, agency.today());
        made.rows.push_back({words(p->emergencyPriority).toStdString(),
                             patientMark(*p).toStdString(),
                             p->phone,
                             addressLine(p->address).toStdString(),
                             hold ? words(hold->kind).toStdString() : std::string(),
                             {}});
    }
    add(paper, {}, std::move(made));
    return paper;
}

Paper downtimePack(const WeekPicture &week, const StockPicture &stock) {
    const Agency &agency = *week.agency;
    Paper paper =
        blankPaper(agency, Text::tr("Downtime pack"),
                   Text::tr("%1; shred when the computer is back").arg(dayText(agency.today())), true);
    append(paper, weekendList(week, stock));
    append(paper, onCallCard(agency));
    const Date first = std::max(agency.today(), week.week.from);
    for (Date on = first; on < std::min(first.plusDays(kDowntimeDays), week.week.to); ++on)
        append(paper, daySheets(week, on));
    append(paper, pickList(stock));
    append(paper, emergencyCallOrder(agency));
    return paper;
}

} // namespace kitround::desk
