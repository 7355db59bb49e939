#include "core/desk/views/PlanNews.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/rounds/problem/Fit.h"

#include <algorithm>
#include <cstdlib>

namespace kitround::desk {
namespace {

struct Known { // the round as she heard of it
    LocalTime since;
    std::vector<ToldVisit> visits;
};

std::optional<Known> knownOf(const Agency &agency, NurseId nurse, Date on) {
    const Snapshot &s = agency.snapshot();
    for (auto told = s.planTold.rbegin(); told != s.planTold.rend(); ++told)
        if (told->nurse == nurse && told->on == on && !told->isTakenBack())
            return Known{told->at, told->visits};
    const Date week = calendar::weekStartOf(on, agency.settings().weekStart);
    const auto plan = std::ranges::find(s.firstPublished, week, &Plan::weekStart);
    if (plan == s.firstPublished.end() || !plan->publishedAt)
        return std::nullopt;
    Known known{localTimeOf(agency, *plan->publishedAt), {}};
    for (const PlannedVisit &visit : plan->visits)
        if (visit.on == on && (visit.nurse == nurse || visit.secondNurse == nurse))
            known.visits.push_back({visit.visit, visit.startAt});
    return known;
}

bool isHers(const Visit &visit, NurseId nurse, Date on) {
    return visit.on == on && visit.startAt && (visit.nurse == nurse || visit.secondNurse == nurse);
}
bool isInForce(const Visit &visit) {
    return visit.status == VisitStatus::Published || visit.status == VisitStatus::Done ||
           visit.status == VisitStatus::Missed;
}

class Comparison {
public:
    // `ofDay`: every visit that stands on the day.
    Comparison(const Agency &agency, NurseId nurse, Date on, Known known,
               const std::vector<const Visit *> &ofDay, PatientNamed naming)
        : agency_(agency), nurse_(nurse), on_(on), known_(std::move(known)), ofDay_(ofDay), naming_(naming) {}

    std::optional<RoundNews> run() {
        for (const ToldVisit &told : known_.visits)
            lookAtKnown(told);
        for (const Visit *visit : ofDay_)
            lookAtNew(*visit);
        // Who is away herself has said so; her visits went to others, and these are told.
        const bool isAway = std::ranges::any_of(agency_.snapshot().timeOff, [&](const TimeOff &off) {
            return off.nurse == nurse_ && off.coversDay(on_);
        });
        if (changes_.empty() || (isAway && news_.toTell.visits.empty()))
            return std::nullopt;
        listChanges();
        news_.since = known_.since;
        news_.toTell.nurse = nurse_;
        news_.toTell.on = on_;
        std::ranges::stable_sort(news_.toTell.visits, {}, &ToldVisit::startAt);
        return std::move(news_);
    }

private:
    QString named(const Visit &visit, Minutes start) const {
        return Text::tr("%1 %2, %3").arg(timeText(start), nameOfPatient(visit.patient), words(visit.kind));
    }
    void keep(const Visit &visit, Minutes start) { news_.toTell.visits.push_back({visit.id, start}); }

    // What she knows: still so, at another time, or no longer hers.
    void lookAtKnown(const ToldVisit &told) {
        const Visit *visit = agency_.index().visit(told.visit);
        if (!visit)
            return;
        const QString what = named(*visit, told.startAt);
        if (isHers(*visit, nurse_, on_) && isInForce(*visit)) {
            const bool isOver = visit->status != VisitStatus::Published;
            keep(*visit, isOver ? told.startAt : *visit->startAt);
            if (!isOver && told.startAt != *visit->startAt)
                add(*visit, told.startAt,
                    Text::tr("%1, starts at %2 now.").arg(what, timeText(*visit->startAt)));
            return;
        }
        const bool isPending = visit->status == VisitStatus::Drafted ||
                               (visit->status == VisitStatus::Due && isBeingPlanned(agency_, on_));
        if (isPending || visit->status == VisitStatus::Done) {
            keep(*visit, told.startAt); // a draft is not in force; what was made is made
            return;
        }
        const bool standsElsewhere = visit->status == VisitStatus::Published && visit->on && visit->nurse;
        const auto parcel =
            parcelElsewhere(agency_.index(), *visit, standsElsewhere ? plannedPlace(*visit) : VisitPlace{});
        const QString left = parcel && parcel->inCarOf == nurse_ ? parcelSentence(*parcel) : QString();
        if (visit->status == VisitStatus::Cancelled)
            add(*visit, told.startAt, Text::tr("%1, is called off.").arg(what) + left);
        else if (standsElsewhere)
            add(*visit, told.startAt,
                Text::tr("%1, went to %2, %3.")
                        .arg(what, nurseName(*visit->nurse),
                             visit->startAt ? momentText({*visit->on, *visit->startAt})
                                            : dayText(*visit->on)) +
                    left);
        else
            add(*visit, told.startAt, Text::tr("%1, is out of the plan.").arg(what) + left);
    }

    void lookAtNew(const Visit &visit) {
        const bool isKnown =
            std::ranges::any_of(known_.visits, [&](const ToldVisit &told) { return told.visit == visit.id; });
        if (isKnown || visit.status != VisitStatus::Published || !isHers(visit, nurse_, on_))
            return;
        keep(visit, *visit.startAt);
        const auto parcel = parcelElsewhere(agency_.index(), visit, plannedPlace(visit));
        add(visit, *visit.startAt,
            Text::tr("%1, is new.").arg(named(visit, *visit.startAt)) +
                (parcel ? parcelSentence(*parcel) : QString()));
    }
    QString parcelSentence(const ParcelElsewhere &parcel) const {
        return u' ' + parcelText(agency_.index(), parcel) + u'.';
    }

    struct Change {
        Minutes at; // as the sentence begins
        QString text;
        PatientId patient;
    };
    void add(const Visit &visit, Minutes at, const QString &text) {
        changes_.push_back({at, text, visit.patient});
    }

    // In the order of her day, whether she knew of a visit or it is new.
    void listChanges() {
        std::ranges::stable_sort(changes_, {}, &Change::at);
        for (const Change &change : changes_) {
            news_.changes << change.text;
            if (std::ranges::find(news_.patients, change.patient) == news_.patients.end())
                news_.patients.push_back(change.patient);
        }
    }

    QString nameOfPatient(PatientId id) const {
        const Patient *patient = agency_.index().patient(id);
        return patient && naming_ == PatientNamed::Initials ? patientMark(*patient)
                                                            : parts::shortName(agency_, id);
    }

    QString nurseName(NurseId id) const {
        const Nurse *nurse = agency_.index().nurse(id);
        return nurse ? personName(*nurse) : Text::tr("another nurse");
    }

    const Agency &agency_;
    NurseId nurse_;
    Date on_;
    Known known_;
    const std::vector<const Visit *> &ofDay_;
    PatientNamed naming_;
    std::vector<Change> changes_;
    RoundNews news_;
};

std::vector<const Visit *> visitsOn(const Agency &agency, Date on) {
    std::vector<const Visit *> found;
    for (const Visit &visit : agency.snapshot().visits)
        if (visit.on == on)
            found.push_back(&visit);
    return found;
}

std::optional<RoundNews> newsOf(const Agency &agency, NurseId nurse, Date on,
                                const std::vector<const Visit *> &ofDay, PatientNamed naming) {
    std::optional<Known> known = knownOf(agency, nurse, on);
    if (!known)
        return std::nullopt;
    return Comparison(agency, nurse, on, *std::move(known), ofDay, naming).run();
}

template <class Told>
QString putBackTextOf(const Agency &agency, const Told &told) {
    if (!told.isTakenBack() || !told.takenBackBy)
        return {};
    return Text::tr("put back %1 (%2): %3")
        .arg(recordedAt(agency, *told.takenBackAt), fromStd(userOf(agency.index(), *told.takenBackBy)),
             fromStd(told.takenBackWhy));
}

} // namespace

DateRange daysTold(const Agency &agency) {
    const Date today = agency.today();
    Date to = calendar::weekStartOf(today.plusDays(1), agency.settings().weekStart).plusDays(7);
    for (const Plan &plan : agency.snapshot().plansInForce)
        to = std::max(to, plan.weekStart.plusDays(7));
    return {today, to};
}

bool isBeingPlanned(const Agency &agency, Date on) {
    const Date week = calendar::weekStartOf(on, agency.settings().weekStart);
    return std::ranges::any_of(agency.snapshot().plans, [&](const Plan &plan) {
        return plan.weekStart == week && plan.status == PlanStatus::Draft;
    });
}

bool isAsAgreed(Minutes told, Minutes now) {
    return std::abs((now - told).count()) <= rounds::kStillMinutes;
}

bool sameNurses(const VisitPlace &one, const VisitPlace &other) {
    return std::minmax({one.nurse, one.secondNurse}) == std::minmax({other.nurse, other.secondNurse});
}

bool isAsAgreed(const VisitPlace &told, const VisitPlace &now) {
    if (!told.isSet() || !now.isSet())
        return told.isSet() == now.isSet();
    return told.on == now.on && sameNurses(told, now) && isAsAgreed(*told.startAt, *now.startAt);
}

bool isSamePlace(const VisitPlace &one, const VisitPlace &other) {
    return isAsAgreed(one, other) && one.startAt == other.startAt;
}

QString recordedAt(const Agency &agency, LocalTime at) {
    return at.date == agency.today() ? timeText(at.minute) : momentText(at);
}

QString putBackText(const Agency &agency, const PlanTold &told) {
    return putBackTextOf(agency, told);
}
QString putBackText(const Agency &agency, const PatientTold &told) {
    return putBackTextOf(agency, told);
}

std::vector<RecordedTelling> recordedTellings(const Agency &agency) {
    std::vector<RecordedTelling> all;
    for (const PlanTold &told : agency.snapshot().planTold) {
        QStringList about;
        for (const ToldVisit &said : told.visits)
            if (const Visit *visit = agency.index().visit(said.visit))
                about << QStringLiteral("%1 %2").arg(timeText(said.startAt),
                                                     parts::shortName(agency, visit->patient));
        const Nurse *nurse = agency.index().nurse(told.nurse);
        all.push_back({told, nurse ? personName(*nurse) : Text::tr("another nurse"),
                       recordedAt(agency, told.at), dayText(told.on, agency.today()),
                       about.isEmpty() ? Text::tr("no visit") : about.join(QStringLiteral("; ")),
                       putBackText(agency, told)});
    }
    std::ranges::reverse(all); // they are read in the order in which they were told
    return all;
}

std::optional<RoundNews> roundNewsOf(const Agency &agency, NurseId nurse, Date on, PatientNamed named) {
    return newsOf(agency, nurse, on, visitsOn(agency, on), named);
}

std::vector<RoundNews> roundNews(const Agency &agency) {
    std::vector<RoundNews> all;
    const DateRange days = daysTold(agency);
    for (Date on = days.from; on < days.to; ++on) {
        const std::vector<const Visit *> ofDay = visitsOn(agency, on);
        for (const Nurse &nurse : agency.snapshot().nurses)
            if (auto news = newsOf(agency, nurse.id, on, ofDay, PatientNamed::InFull))
                all.push_back(*std::move(news));
    }
    return all;
}

} // namespace kitround::desk
