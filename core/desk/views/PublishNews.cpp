#include "core/desk/views/PublishNews.h"

#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/views/PlanAsStored.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <memory>
#include <unordered_map>

namespace kitround::desk {
namespace {

constexpr qsizetype kMostNamed = 6; // in a sentence; the rest is counted

// The records as they would stand once the weeks are published; of everything else only what news are worked
// out from.
class AsPublished {
public:
    explicit AsPublished(const Agency &agency) : agency_(agency) {
        const Snapshot &s = agency.snapshot();
        copy_.asOf = s.asOf;
        copy_.now = s.now;
        copy_.logFrom = s.logFrom;
        copy_.settings = s.settings;
        copy_.patients = s.patients;
        copy_.holds = s.holds;
        copy_.nurses = s.nurses;
        copy_.timeOff = s.timeOff;
        copy_.visits = s.visits;
        copy_.deliveries = s.deliveries;
        copy_.plans = s.plans;
        copy_.plansInForce = s.plansInForce;
        copy_.firstPublished = s.firstPublished;
        copy_.planTold = s.planTold;
        copy_.patientTold = s.patientTold;
        copy_.users = s.users;
        for (std::size_t i = 0; i < copy_.visits.size(); ++i) {
            places_[copy_.visits[i].id] = i;
            lastId_ = std::max(lastId_, copy_.visits[i].id.value());
        }
    }

    void add(const Desk::PlanRecord &record) {
        Plan plan;
        plan.weekStart = record.weekStart;
        plan.status = PlanStatus::Published;
        plan.publishedAt = instantOf(agency_, copy_.now);
        std::vector<Visit> visits = visitsAsStored(record.visits, agency_.index(), true);
        for (Visit &visit : visits)
            put(visit);
        plan.visits = placesAsStored(visits);
        const auto isOfWeek = [&](const Plan &other) { return other.weekStart == plan.weekStart; };
        if (std::ranges::none_of(copy_.firstPublished, isOfWeek))
            copy_.firstPublished.push_back(plan);
        for (std::vector<Plan> *plans : {&copy_.plans, &copy_.plansInForce}) {
            std::erase_if(*plans, isOfWeek);
            plans->push_back(plan);
        }
    }

    Snapshot take() { return std::move(copy_); }

private:
    void put(Visit &visit) {
        if (const auto place = places_.find(visit.id); place != places_.end()) {
            copy_.visits[place->second] = visit;
            return;
        }
        visit.id = VisitId(++lastId_);
        copy_.visits.push_back(visit);
    }

    const Agency &agency_;
    Snapshot copy_;
    std::unordered_map<VisitId, std::size_t> places_;
    std::int64_t lastId_ = 0;
};

Result<AgencyPtr> asPublished(const WeekPicture &week) {
    const auto records = planRecords(week);
    if (!records)
        return records.error();
    AsPublished published(*week.agency);
    for (const Desk::PlanRecord &record : *records)
        published.add(record);
    return std::make_shared<const Agency>(published.take());
}

void addPatients(PublishNews &news, const Agency &before, const Agency &after) {
    const std::vector<PatientCall> waiting = patientCalls(before);
    for (const PatientCall &call : patientCalls(after)) {
        const bool waits = std::ranges::any_of(waiting, [&](const PatientCall &other) {
            return other.patient == call.patient && other.toTell.visits == call.toTell.visits;
        });
        if (!waits)
            news.patients << call.who;
    }
}

void addNurses(PublishNews &news, const Agency &before, const Agency &after) {
    const std::vector<RoundNews> waiting = roundNews(before);
    for (const RoundNews &round : roundNews(after)) {
        const bool waits = std::ranges::any_of(waiting, [&](const RoundNews &other) {
            return other.toTell.nurse == round.toTell.nurse && other.toTell.on == round.toTell.on &&
                   other.changes == round.changes;
        });
        const Nurse *nurse = after.index().nurse(round.toTell.nurse);
        if (!waits && nurse && !news.nurses.contains(personName(*nurse)))
            news.nurses << personName(*nurse);
    }
}

// Told before and not seen to yet, it is no news.
void addParcels(PublishNews &news, const WeekPicture &week) {
    const SnapshotIndex &index = week.agency->index();
    for (std::size_t j = 0; j < week.due.size(); ++j) {
        const Visit &visit = week.due[j].visit;
        const VisitPlace place = placeIn(week, week.plan.placements[j]);
        const auto parcel = parcelElsewhere(index, visit, place);
        const Patient *patient = index.patient(visit.patient);
        const VisitPlace told = index.toldPlace(visit);
        if (parcel && patient && (!told.isSet() || !place.isSet() || !sameNurses(told, place)))
            news.parcels << QStringLiteral("%1: %2.").arg(personName(*patient), parcelText(index, *parcel));
    }
}

} // namespace

Result<PublishNews> publishNews(const WeekPicture &week) {
    const auto published = asPublished(week);
    if (!published)
        return published.error();
    const Agency &before = *week.agency;
    PublishNews news;
    news.isAgain = wasEverPublished(week);
    addPatients(news, before, **published);
    addNurses(news, before, **published);
    addParcels(news, week);
    return news;
}

Result<std::set<PatientId>> homesToPhone(const WeekPicture &week) {
    const auto published = asPublished(week);
    if (!published)
        return published.error();
    std::set<PatientId> homes;
    for (const PatientCall &call : patientCalls(**published))
        homes.insert(call.patient);
    return homes;
}

QString fewNamesText(const QStringList &names) {
    QStringList shown = names.mid(0, kMostNamed);
    if (names.size() > kMostNamed)
        shown << counted(names.size() - kMostNamed, Text::tr("1 more"), Text::tr("%1 more"));
    return shown.join(QStringLiteral("; "));
}

QStringList publishNewsLines(const PublishNews &news) {
    QStringList lines;
    if (!news.patients.isEmpty())
        lines << Text::tr("%1: %2.").arg(
            counted(news.patients.size(), Text::tr("1 patient to phone"), Text::tr("%1 patients to phone")),
            fewNamesText(news.patients));
    if (!news.nurses.isEmpty())
        lines << Text::tr("%1: %2.").arg(
            counted(news.nurses.size(), Text::tr("1 nurse to tell"), Text::tr("%1 nurses to tell")),
            fewNamesText(news.nurses));
    lines << news.parcels;
    if (lines.isEmpty() && news.isAgain)
        lines << Text::tr("No patient has to be phoned and no nurse told because of it.");
    return lines;
}

} // namespace kitround::desk
