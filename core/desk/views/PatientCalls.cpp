#include "core/desk/views/PatientCalls.h"

#include "core/desk/views/Cells.h"
#include "core/desk/views/HomesTold.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>
#include <unordered_map>
#include <utility>

namespace kitround::desk {
namespace {

constexpr Days kRecordedBack = Days::of(1); // a slip of the evening is seen in the morning (assumed)

struct VisitMove {
    VisitKind kind;
    VisitPlace was, now;
};

// What one visit left and another of its kind took is one move to the home, or none.
void joinMoves(std::vector<VisitMove> &moves) {
    for (std::size_t i = 0; i < moves.size();) {
        const auto next = std::ranges::find_if(moves, [&](const VisitMove &other) {
            return &other != &moves[i] && other.kind == moves[i].kind && moves[i].now.isSet() &&
                   isAsAgreed(other.was, moves[i].now);
        });
        if (next == moves.end()) {
            ++i;
            continue;
        }
        moves[i].now = next->now;
        moves.erase(next);
        i = 0;
    }
    std::erase_if(moves, [](const VisitMove &move) { return isAsAgreed(move.was, move.now); });
}

LocalTime momentOf(const VisitPlace &place) {
    return {*place.on, *place.startAt};
}

class CallSentences {
public:
    explicit CallSentences(const Agency &agency) : agency_(agency) {}

    void fill(PatientCall &call, const Patient &patient, const std::vector<VisitMove> &moves) const {
        call.who = personName(patient, agency_.index());
        call.phone = fromStd(patient.phone);
        for (const VisitMove &move : moves)
            call.changes.push_back({move.was.isSet() ? placeText(move.was) : Text::tr("not expected"),
                                    nowText(move.now), nursesOf(move.now), sentence(move), words(move.kind)});
    }

    RecordedCall recorded(const PatientTold &told) const {
        RecordedCall call;
        call.told = told;
        const Patient *patient = agency_.index().patient(told.patient);
        call.who = patient ? personName(*patient, agency_.index()) : Text::tr("an unknown patient");
        call.at = recordedAt(agency_, told.at);
        call.reached = words(told.reached);
        call.by = fromStd(userOf(agency_.index(), told.by));
        QStringList about;
        for (const ToldPlace &visit : told.visits)
            about << (visit.place.isSet() ? placeText(visit.place) : Text::tr("no visit"));
        call.about = about.join(QStringLiteral("; "));
        call.putBack = putBackText(agency_, told);
        return call;
    }

    QString tried(const PatientTold &last, int times) const {
        const QString text = last.reached == Reached::Message
                                 ? Text::tr("message left %1, not confirmed (%2)")
                                 : Text::tr("tried %1, nobody answered (%2)");
        const QString told =
            text.arg(recordedAt(agency_, last.at), fromStd(userOf(agency_.index(), last.by)));
        return times > 1 ? told + Text::tr("; %1 calls so far").arg(times) : told;
    }

private:
    static QString when(const VisitPlace &place) { return momentText(momentOf(place)); }
    QString placeText(const VisitPlace &place) const {
        return QStringLiteral("%1, %2").arg(when(place), nursesOf(place));
    }

    bool hasBegun(const VisitPlace &now) const {
        return now.isSet() && now.on == agency_.today() && momentOf(now) <= agency_.snapshot().now;
    }
    QString nowText(const VisitPlace &now) const {
        if (!now.isSet())
            return Text::tr("no visit");
        return hasBegun(now) ? Text::tr("%1, the nurse may be there already: call").arg(when(now))
                             : when(now);
    }

    QString nursesOf(const VisitPlace &place) const {
        QStringList names;
        for (const std::optional<NurseId> id : {place.nurse, place.secondNurse})
            if (id) {
                const Nurse *nurse = agency_.index().nurse(*id);
                names << (nurse ? personName(*nurse) : Text::tr("another nurse"));
            }
        return names.join(Text::tr(" and "));
    }

    QString sentence(const VisitMove &move) const {
        const QString text = whatChanged(move);
        return hasBegun(move.now) ? text + u' ' + Text::tr("The nurse may be there already.") : text;
    }

    QString whatChanged(const VisitMove &move) const {
        QString kind = words(move.kind);
        kind[0] = kind[0].toUpper();
        if (!move.now.isSet())
            return Text::tr("%1 %2 with %3 does not take place.")
                .arg(kind, when(move.was), nursesOf(move.was));
        if (!move.was.isSet())
            return Text::tr("%1 %2 with %3 is new.").arg(kind, when(move.now), nursesOf(move.now));
        return Text::tr("%1 %2 with %3, instead of %4 with %5.")
            .arg(kind, when(move.now), nursesOf(move.now), when(move.was), nursesOf(move.was));
    }

    const Agency &agency_;
};

class CallSearch {
public:
    explicit CallSearch(const Agency &agency)
        : agency_(agency), sentences_(agency), days_(daysTold(agency)), told_(agency) {
        for (const PatientTold &told : agency.snapshot().patientTold)
            if (!told.isTakenBack())
                callsTo_[told.patient].push_back(&told);
    }

    std::vector<PatientCall> run() const {
        std::vector<PatientCall> calls;
        for (const Patient &patient : agency_.snapshot().patients)
            if (isOnService(patient.status))
                if (auto call = callOf(patient))
                    calls.push_back(*std::move(call));
        std::ranges::stable_sort(calls, {}, [this](const PatientCall &call) { return pressOf(call.first); });
        return calls;
    }

    CallFit fitOf(const PatientTold &told) const {
        bool isNews = false;
        for (const ToldPlace &said : told.visits) {
            const Visit *visit = agency_.index().visit(said.visit);
            if (!visit || visit->patient != told.patient || !isSamePlace(placeInForce(*visit), said.place))
                return CallFit::MovedOn;
            isNews = isNews || changeOf(*visit);
        }
        return isNews ? CallFit::News : CallFit::Known;
    }

private:
    std::optional<PatientCall> callOf(const Patient &patient) const {
        PatientCall call;
        std::vector<VisitMove> moves;
        for (const Visit *visit : agency_.index().visitsOf(patient.id))
            if (const auto move = moveOf(*visit)) {
                moves.push_back(*move);
                call.toTell.visits.push_back({visit->id, move->now});
            }
        joinMoves(moves);
        if (moves.empty())
            return std::nullopt;
        call.patient = call.toTell.patient = patient.id;
        std::ranges::stable_sort(moves, {}, [this](const VisitMove &move) { return pressOf(firstOf(move)); });
        call.first = firstOf(moves.front());
        sentences_.fill(call, patient, moves);
        lookForTries(call);
        return call;
    }

    std::optional<VisitMove> moveOf(const Visit &visit) const {
        const auto move = isOver(visit) ? std::nullopt : changeOf(visit);
        return move && isToTell(visit, move->was, move->now) ? move : std::nullopt;
    }

    // Where it stands elsewhere than the home heard, also of what is over.
    std::optional<VisitMove> changeOf(const Visit &visit) const {
        if (visit.kind == VisitKind::Phone)
            return std::nullopt;
        const VisitPlace now = placeInForce(visit);
        const VisitPlace &was = told_.expected(visit.id, now);
        return isAsAgreed(was, now) ? std::nullopt : std::optional(VisitMove{visit.kind, was, now});
    }

    static bool isOver(const Visit &visit) {
        return visit.status == VisitStatus::Done || visit.status == VisitStatus::Missed;
    }

    // A draft is not in force: while one is in hand a visit stands where the published plan has it. What was
    // called off, or left out by a plan that is published, stands nowhere.
    VisitPlace placeInForce(const Visit &visit) const {
        const VisitPlace &expected = told_.of(visit.id).places.back();
        const bool isOut = visit.status == VisitStatus::Cancelled ||
                           (visit.status == VisitStatus::Due &&
                            !(expected.isSet() && isBeingPlanned(agency_, *expected.on)));
        return isOut ? VisitPlace{} : agency_.index().toldPlace(visit);
    }

    // A place that was set only when its hour had gone by brought nobody to the door. Where by then somebody
    // in the home or the nurse had heard of it, or it was published, somebody came. A message may lie
    // unheard.
    bool wasExpected(const Visit &visit, const VisitPlace &now) const {
        const Snapshot &s = agency_.snapshot();
        const HomesTold::Told &said = told_.of(visit.id);
        const bool isSaid =
            isAsAgreed(said.places.front(), now) && (!said.heardAt || *said.heardAt <= momentOf(now));
        const bool wasTold = std::ranges::any_of(s.planTold, [&](const PlanTold &told) {
            return !told.isTakenBack() && told.nurse == now.nurse && told.on == now.on &&
                   told.at <= momentOf(now) &&
                   std::ranges::find(told.visits, ToldVisit{visit.id, *now.startAt}) != told.visits.end();
        });
        if (isSaid || wasTold)
            return true;
        return std::ranges::none_of(s.plansInForce, [&](const Plan &plan) {
            return std::ranges::find(plan.visits, visit.id, &PlannedVisit::visit) != plan.visits.end() &&
                   plan.publishedAt && localTimeOf(agency_, *plan.publishedAt) > momentOf(now);
        });
    }

    bool isToTell(const Visit &visit, const VisitPlace &was, const VisitPlace &now) const {
        // Of today it waits until a person was reached or what happened is recorded: the nurse may stand
        // before a closed door.
        if (now.isSet() && *now.on < agency_.today() && wasExpected(visit, now))
            return false; // the nurse has been at the door
        const bool isNear =
            (was.isSet() && days_.contains(*was.on)) || (now.isSet() && days_.contains(*now.on));
        if (!was.isSet()) // in a week whose first version nobody has seen nothing is new
            return isNear && told_.wasPublished(*now.on);
        const bool isAway = !now.isSet() && agency_.index().holdOn(visit.patient, *was.on);
        return isNear && !isAway;
    }

    // A call can still turn what is to come today; then what has passed today, then other days.
    std::pair<int, LocalTime> pressOf(LocalTime moment) const {
        if (moment.date != agency_.today())
            return {2, moment};
        return {moment < agency_.snapshot().now ? 1 : 0, moment};
    }

    LocalTime firstOf(const VisitMove &move) const {
        std::optional<LocalTime> first;
        for (const VisitPlace *place : {&move.was, &move.now})
            if (place->isSet() && *place->on >= agency_.today())
                if (const LocalTime moment = momentOf(*place); !first || pressOf(moment) < pressOf(*first))
                    first = moment;
        return first.value_or(agency_.snapshot().now);
    }

    // Calls that reached no person, about a place that still stands.
    void lookForTries(PatientCall &call) const {
        const PatientTold *last = nullptr;
        int times = 0;
        const auto calls = callsTo_.find(call.patient);
        if (calls == callsTo_.end())
            return;
        for (const PatientTold *told : calls->second) {
            if (isHeard(told->reached)) {
                last = nullptr;
                times = 0;
            } else if (isAboutSame(*told, call.toTell)) {
                last = told;
                ++times;
            }
        }
        if (last)
            call.tried = sentences_.tried(*last, times);
    }
    static bool isAboutSame(const PatientTold &told, const PatientTold &now) {
        return std::ranges::any_of(told.visits, [&](const ToldPlace &before) {
            return std::ranges::any_of(now.visits, [&](const ToldPlace &after) {
                return before.visit == after.visit && isAsAgreed(before.place, after.place);
            });
        });
    }

    const Agency &agency_;
    CallSentences sentences_;
    DateRange days_;
    HomesTold told_;
    std::unordered_map<PatientId, std::vector<const PatientTold *>> callsTo_; // that count, as they were made
};

} // namespace

std::vector<PatientCall> patientCalls(const Agency &agency) {
    return CallSearch(agency).run();
}

CallFit callFit(const Agency &agency, const PatientTold &told) {
    return CallSearch(agency).fitOf(told);
}

QString phoneText(const PatientCall &call) {
    return call.phone.isEmpty() ? Text::tr("no phone on record") : call.phone;
}

QString sentencesOf(const PatientCall &call) {
    QStringList lines;
    for (const VisitChange &change : call.changes)
        lines << change.sentence;
    return lines.join(QLatin1Char('\n'));
}

std::vector<PatientCallLine> callLines(const std::vector<PatientCall> &calls) {
    std::vector<PatientCallLine> lines;
    for (const PatientCall &call : calls)
        for (std::size_t i = 0; i < call.changes.size(); ++i)
            lines.push_back({call, call.changes[i], i == 0});
    return lines;
}

std::vector<RecordedCall> recordedCalls(const Agency &agency) {
    const Snapshot &s = agency.snapshot();
    const CallSentences sentences(agency);
    std::vector<RecordedCall> calls;
    for (const PatientTold &told : s.patientTold)
        if (told.at.date >= agency.today() - kRecordedBack)
            calls.push_back(sentences.recorded(told));
    std::ranges::reverse(calls); // they are read in the order in which they were made
    return calls;
}

QString toPhoneText(std::size_t homes) {
    return counted(static_cast<std::int64_t>(homes), Text::tr("1 patient to phone about changed visits"),
                   Text::tr("%1 patients to phone about changed visits"));
}

Table patientCallTable(const std::vector<PatientCall> &calls, const Agency &agency) {
    Table table;
    table.title = Text::tr("Patients to phone about changed visits").toStdString();
    table.key = "patient_calls";
    table.columns = {textColumn(Text::tr("First"), "first_at"),    textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"), textColumn(Text::tr("Phone"), "phone"),
                     textColumn(Text::tr("Visit"), "visit_kind"),  textColumn(Text::tr("Was"), "was"),
                     textColumn(Text::tr("Now"), "now"),           textColumn(Text::tr("Nurse"), "nurse"),
                     textColumn(Text::tr("Tried"), "tried")};
    for (const auto &[call, change, isFirst] : callLines(calls))
        table.rows.push_back({toIso(call.first), codeOf(agency.index(), call.patient),
                              initialsOf(agency.index(), call.patient), cell(call.phone), cell(change.kind),
                              cell(change.was), cell(change.now), cell(change.nurse), cell(call.tried)});
    return table;
}

} // namespace kitround::desk
