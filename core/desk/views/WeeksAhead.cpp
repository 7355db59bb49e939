#include "core/desk/views/WeeksAhead.h"

#include "core/base/Random.h"
#include "core/calendar/Deadlines.h"
#include "core/calendar/LocalDay.h"
#include "core/calendar/VisitWeeks.h"
#include "core/caseload/Capacity.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/WeekView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/forecast/ExitOutlook.h"

#include <boost/math/distributions/gamma.hpp>

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

constexpr int kSeenWeeks = 12;
constexpr std::uint64_t kSeed = 20261;
constexpr std::int64_t kAssumedRoad = 15; // minutes on the road a visit (assumed)

struct Load {
    double visits = 0, minutes = 0; // visit and notes; travel is added by the visit
};
struct Home {
    const Patient *patient = nullptr;
    std::vector<Load> weeks;     // as asked of the agency while on service
    std::vector<double> staying; // chance to be on service in the week, by week
};

Load &operator+=(Load &a, const Load &b) {
    a.visits += b.visits;
    a.minutes += b.minutes;
    return a;
}

Load loadOf(const AgencySettings &settings, VisitKind kind, std::optional<Minutes> length, int visits) {
    const Minutes each = length.value_or(visitLength(settings, kind)) + notesLength(settings, kind);
    return {static_cast<double>(visits), static_cast<double>(visits * each.count())};
}

class Outlook {
public:
    Outlook(const Agency &agency, int weeks, std::optional<Minutes> travelPerVisit)
        : index_(agency.index()), s_(agency.snapshot()), exits_(forecast::ExitOutlook::learnFrom(index_)) {
        all_.travelIsAssumed = !travelPerVisit;
        all_.travelPerVisit =
            travelPerVisit.value_or(Minutes::of(s_.settings[SettingKey::StopMinutes] + kAssumedRoad));
        all_.exitsSeen = exits_.exitsSeen();
        all_.exitsAreLearned = exits_.isLearned();
        const Date first = nextWeek(agency);
        for (int k = 0; k < weeks; ++k) {
            WeekAhead week;
            week.week = {first.plusDays(7 * k), first.plusDays(7 * k + 7)};
            week.capacity = caseload::wholeCapacity(s_, week.week);
            all_.weeks.push_back(week);
        }
    }

    WeeksAhead run() {
        for (const Patient &patient : s_.patients)
            if (isOnService(patient.status))
                addHome(patient);
        addMix();
        countReferrals();
        simulate();
        return std::move(all_);
    }

private:
    std::size_t count() const { return all_.weeks.size(); }

    bool isHeldThrough(PatientId patient, DateRange week) const {
        for (Date day = week.from; day < week.to; ++day) {
            const Hold *hold = index_.holdOn(patient, day);
            const bool isBack = !hold || (!hold->to && hold->expectedReturn && *hold->expectedReturn <= day);
            if (isBack)
                return false;
        }
        return true;
    }

    void addHome(const Patient &patient) {
        Home home;
        home.patient = &patient;
        home.weeks.resize(count());
        for (const VisitOrder *order : index_.visitOrdersOf(patient.id))
            addOrder(home, *order);
        addAssessments(home, patient);
        home.staying = stayingOf(patient.id, std::nullopt);
        homes_.push_back(std::move(home));
    }

    void addOrder(Home &home, const VisitOrder &order) {
        if (order.kind == VisitKind::Phone)
            return;
        const DateRange whole{s_.asOf.plusDays(-70), all_.weeks.back().week.to};
        const auto owed =
            calendar::weeksOwed(order, index_.visitOrdersOf(home.patient->id), whole, s_.settings.weekStart);
        if (owed.empty())
            return;
        // A later order of the kind takes over; then nothing is renewed.
        const bool isFollowed =
            std::ranges::any_of(index_.visitOrdersOf(home.patient->id), [&](const VisitOrder *other) {
                return other->kind == order.kind &&
                       std::pair(other->start, other->id) > std::pair(order.start, order.id);
            });
        const bool isRunning = owed.back().days.to.plusDays(7) > s_.asOf; // not over for long
        for (std::size_t k = 0; k < count(); ++k) {
            WeekAhead &week = all_.weeks[k];
            if (isHeldThrough(home.patient->id, week.week))
                continue;
            const auto in = std::ranges::find_if(
                owed, [&](const calendar::WeekOwed &w) { return week.week.contains(w.days.from); });
            int visits = 0;
            if (in != owed.end()) {
                visits = in->least;
                week.inForce += visits;
            } else if (!isFollowed && isRunning && owed.back().days.to <= week.week.from) {
                visits = lastWhole(owed);
                week.ifRenewed += visits;
            }
            home.weeks[k] += loadOf(s_.settings, order.kind, order.length, visits);
        }
    }

    static int lastWhole(const std::vector<calendar::WeekOwed> &owed) {
        for (auto it = owed.rbegin(); it != owed.rend(); ++it)
            if (!it->isPartial)
                return it->least;
        return owed.back().least;
    }

    void addAssessments(Home &home, const Patient &patient) {
        if (patient.status == CareStatus::Referred && !patient.startOfCare) {
            addStart(home, patient);
            return;
        }
        if (!patient.startOfCare)
            return;
        for (std::size_t k = 0; k < count(); ++k) {
            WeekAhead &week = all_.weeks[k];
            const Date last = week.week.to.plusDays(-1);
            if (last < *patient.startOfCare || isHeldThrough(patient.id, week.week))
                continue;
            const Date due =
                calendar::certificationPeriod(*patient.startOfCare, last, s_.settings).recertWindow.from;
            if (!week.week.contains(due))
                continue;
            home.weeks[k] += loadOf(s_.settings, VisitKind::Recertification, {}, 1);
            week.inForce += 1;
        }
    }

    // In the week it is planned for, else in the first; one planned before that is none of these weeks'.
    void addStart(Home &home, const Patient &patient) {
        Date on = all_.weeks.front().week.from;
        for (const Visit *visit : index_.visitsOf(patient.id))
            if (visit->kind == VisitKind::StartOfCare && visit->on &&
                (visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published))
                on = *visit->on;
        for (std::size_t k = 0; k < count(); ++k)
            if (all_.weeks[k].week.contains(on)) {
                home.weeks[k] += loadOf(s_.settings, VisitKind::StartOfCare, {}, 1);
                all_.weeks[k].inForce += 1;
            }
    }

    // Chance to be on service in the middle of each week. On service as long as one catheter is in place.
    std::vector<double> stayingOf(PatientId patient, std::optional<Days> inServiceFor) const {
        std::vector<double> best(count(), 0), days;
        bool hasCatheter = false;
        const Days horizon = all_.weeks.back().week.to - s_.asOf;
        for (const Catheter *catheter : index_.cathetersOf(patient)) {
            const auto orders = index_.ordersOf(catheter->id);
            if (!index_.isInService(*catheter) || orders.empty())
                continue;
            hasCatheter = true;
            const Days tenure =
                inServiceFor.value_or(s_.asOf - catheter->insertedOn.value_or(orders.front()->start));
            exits_.staying(forecast::publishedExitPerDay(*catheter, *orders.back(), s_.settings), tenure,
                           horizon, days);
            for (std::size_t k = 0; k < count(); ++k)
                best[k] = std::max(
                    best[k], days[static_cast<std::size_t>((all_.weeks[k].week.from - s_.asOf).count() + 3)]);
        }
        return hasCatheter ? best : std::vector<double>(count(), 1.0);
    }

    // How present cases began: the first order's weeks from its start, with the first visit.
    void addMix() {
        for (const Home &home : homes_) {
            const auto orders = index_.visitOrdersOf(home.patient->id);
            if (orders.empty())
                continue;
            const VisitOrder &order = *orders.front();
            const auto owed = calendar::weeksOwed(
                order, {order.start, order.start.plusDays(7 * static_cast<std::int64_t>(count() + 1))},
                s_.settings.weekStart);
            Home begin;
            begin.patient = home.patient;
            begin.weeks.resize(count());
            for (std::size_t k = 0; k < count(); ++k) {
                const int visits = owed.empty() ? 0 : k < owed.size() ? owed[k].least : lastWhole(owed);
                begin.weeks[k] = loadOf(s_.settings, order.kind, order.length, visits);
            }
            begin.weeks.front() += loadOf(s_.settings, VisitKind::StartOfCare, {}, 1);
            begin.staying = stayingOf(home.patient->id, Days::of(0));
            mix_.push_back(std::move(begin));
        }
    }

    void countReferrals() {
        const DateRange seen{s_.asOf.plusDays(-7 * kSeenWeeks), s_.asOf.plusDays(1)};
        for (const Patient &p : s_.patients)
            if (p.referredAt && seen.contains(calendar::localDayOf(s_.settings, *p.referredAt)))
                ++all_.referralsSeen;
        all_.referralsAWeek = static_cast<double>(all_.referralsSeen) / kSeenWeeks;
    }

    static int poisson(Random &random, double mean) { // Knuth, TAOCP 2, 3.4.1
        const double floor = std::exp(-mean);
        int n = 0;
        for (double product = random.uniform(); product > floor; product *= random.uniform())
            ++n;
        return n;
    }

    void simulate() {
        const std::size_t draws = std::clamp<std::size_t>(2000000 / (homes_.size() + 1), 400, 2000);
        struct Draws {
            std::vector<double> exits, referrals, visits, minutes;
            std::array<std::vector<double>, kAreas> areaVisits, areaMinutes;
        };
        std::vector<Draws> of(count());
        const boost::math::gamma_distribution<double> rate(all_.referralsSeen + 0.5, 1.0 / kSeenWeeks);
        Random random(kSeed);
        const auto travel = static_cast<double>(all_.travelPerVisit.count());
        for (std::size_t d = 0; d < draws; ++d) {
            std::vector<std::array<Load, kAreas>> asked(count());
            std::vector<double> left(count(), 0), came(count(), 0);
            for (const Home &home : homes_) {
                const double u = random.uniform();
                for (std::size_t k = 0; k < count(); ++k) {
                    if (u >= home.staying[k]) {
                        left[k] += 1;
                        continue;
                    }
                    const auto area = indexOf(home.patient->address.area);
                    asked[k][area] += home.weeks[k];
                    all_.weeks[k].byArea[area] += home.weeks[k].visits;
                }
            }
            if (!mix_.empty()) {
                const double mean = boost::math::quantile(rate, std::clamp(random.uniform(), 1e-9, 1 - 1e-9));
                for (std::size_t k = 0; k < count(); ++k) {
                    const int n = poisson(random, mean);
                    came[k] = n;
                    for (int i = 0; i < n; ++i) {
                        const Home &like = mix_[random.below(mix_.size())];
                        const double u = random.uniform();
                        for (std::size_t later = k; later < count() && u < like.staying[later - k]; ++later) {
                            const auto area = indexOf(like.patient->address.area);
                            asked[later][area] += like.weeks[later - k];
                            all_.weeks[later].byArea[area] += like.weeks[later - k].visits;
                        }
                    }
                }
            }
            for (std::size_t k = 0; k < count(); ++k) {
                of[k].exits.push_back(left[k]);
                of[k].referrals.push_back(came[k]);
                Load whole;
                for (std::size_t a = 0; a < kAreas; ++a) {
                    const Load &there = asked[k][a];
                    of[k].areaVisits[a].push_back(there.visits);
                    of[k].areaMinutes[a].push_back(there.minutes + travel * there.visits);
                    whole += there;
                }
                of[k].visits.push_back(whole.visits);
                of[k].minutes.push_back(whole.minutes + travel * whole.visits);
            }
        }
        for (std::size_t k = 0; k < count(); ++k) {
            WeekAhead &week = all_.weeks[k];
            week.exits = spreadOf(of[k].exits);
            week.referrals = spreadOf(of[k].referrals);
            week.visits = spreadOf(of[k].visits);
            week.minutes = spreadOf(of[k].minutes);
            for (std::size_t a = 0; a < kAreas; ++a) {
                week.areaVisits[a] = spreadOf(of[k].areaVisits[a]);
                week.areaMinutes[a] = spreadOf(of[k].areaMinutes[a]);
            }
            for (double &visits : week.byArea)
                visits /= static_cast<double>(draws);
            judge(week);
        }
    }

    static Spread spreadOf(std::vector<double> &values) {
        std::ranges::sort(values);
        const auto at = [&](double share) { // the least value that so many do not exceed
            const auto rank = static_cast<std::size_t>(std::ceil(share * static_cast<double>(values.size())));
            return values[std::max<std::size_t>(rank, 1) - 1];
        };
        return {at(0.1), at(0.5), at(0.9)};
    }

    void judge(WeekAhead &week) const {
        const auto capacity = static_cast<double>(week.capacity.count());
        const auto minutesOf = [&](const Home &like) {
            return like.weeks.front().minutes +
                   like.weeks.front().visits * static_cast<double>(all_.travelPerVisit.count());
        };
        double sum = 0;
        std::array<double, kAreas> sums{}, cases{};
        for (const Home &like : mix_) {
            const auto area = indexOf(like.patient->address.area);
            sum += minutesOf(like);
            sums[area] += minutesOf(like);
            cases[area] += 1;
        }
        const double each = mix_.empty() ? 0 : sum / static_cast<double>(mix_.size());
        for (std::size_t a = 0; a < kAreas; ++a)
            week.startMinutes[a] = cases[a] > 0 ? sums[a] / cases[a] : each;
        if (each > 0)
            week.startsLeft = static_cast<int>(std::max(0.0, capacity - week.minutes.high) / each);
        week.room = roomIn(capacity, week.minutes,
                           week.knowsStarts() ? std::optional(week.startsLeft) : std::nullopt);
    }

    const SnapshotIndex &index_;
    const Snapshot &s_;
    forecast::ExitOutlook exits_;
    std::vector<Home> homes_, mix_;
    WeeksAhead all_;
};

QString spreadText(const Spread &s) {
    return QStringLiteral("%1 (%2\u2013%3)")
        .arg(std::lround(s.middle))
        .arg(std::lround(s.low))
        .arg(std::lround(s.high));
}

} // namespace

WeeksAhead weeksAhead(const Agency &agency, int weeks, std::optional<Minutes> travelPerVisit) {
    return Outlook(agency, std::clamp(weeks, 1, 8), travelPerVisit).run();
}

Room roomIn(double capacity, const Spread &minutes, std::optional<int> startsForSure) {
    if (minutes.middle > capacity)
        return Room::Full;
    if (minutes.high > capacity)
        return Room::IfOnTime;
    return startsForSure == 0 ? Room::Tight : Room::Free;
}

QString roomText(Room room, Minutes capacity, const Spread &minutes) {
    return capacity.isZero() && minutes.high <= 0 ? Text::tr("nothing yet") : words(room);
}

QString words(Room room) {
    switch (room) {
    case Room::Free:
        return Text::tr("free");
    case Room::Tight:
        return Text::tr("tight");
    case Room::IfOnTime:
        return Text::tr("only if exits come as expected");
    case Room::Full:
        return Text::tr("too much");
    }
    return {};
}

namespace {

// "Ordered" is not the number of visits that stands beside the nurses: where the two part.
QString besideText(const WeeksAhead &ahead) {
    const QString kinds = Text::tr("Ordered: what visit orders that run ask for, with first visits and "
                                   "recertifications, everybody staying.");
    if (!ahead.plan)
        return Text::tr("%1 A week's plan also holds dressing checks, counts of supplies, follow-ups and "
                        "returns from hospital, so its number differs.")
            .arg(kinds);
    const PlanBeside &plan = *ahead.plan;
    const auto week =
        std::ranges::find(ahead.weeks, plan.week, [](const WeekAhead &w) { return w.week.from; });
    QString text =
        Text::tr("%1 The plan of the week of %2 counts %3 visits: %4 of these kinds, and %5 that no "
                 "order asks for (dressing checks, counts of supplies, follow-ups, returns from "
                 "hospital).")
            .arg(kinds, dayText(plan.week), numberText(plan.ordered + plan.byEvents + plan.made),
                 numberText(plan.ordered), numberText(plan.byEvents));
    if (plan.made > 0)
        text += u' ' + counted(plan.made, Text::tr("1 is made or missed already."),
                               Text::tr("%1 are made or missed already."));
    if (week != ahead.weeks.end() && week->inForce != plan.ordered)
        text += u' ' + Text::tr("Of these kinds %1 are ordered: the plan leaves out what a hold takes of the "
                                "week, and counts a recertification in each week its window touches.")
                           .arg(numberText(week->inForce));
    return text;
}

// To the right, as the numbers beside it: a text to the left would touch the number before it.
Column spreadColumn(const QString &name, const char *key) {
    Column column = inText(textColumn(name, key));
    column.align = Align::Right;
    return column;
}

} // namespace

Table weeksAheadTable(const WeeksAhead &ahead) {
    Table table;
    table.title = Text::tr("Weeks ahead").toStdString();
    table.key = "weeks_ahead";
    table.columns = {textColumn(Text::tr("Week of"), "week"),
                     numberColumn(Text::tr("Ordered"), "in_force"),
                     numberColumn(Text::tr("If renewed"), "if_renewed"),
                     spreadColumn(Text::tr("Left"), "left"),
                     spreadColumn(Text::tr("Referrals"), "referrals"),
                     spreadColumn(Text::tr("Visits"), "visits"),
                     spreadColumn(Text::tr("Hours"), "hours"),
                     numberColumn(Text::tr("Capacity, h"), "capacity_h"),
                     inCopies(numberColumn(Text::tr("Visits, 10 %"), "visits_p10")),
                     inCopies(numberColumn(Text::tr("Visits, 50 %"), "visits_p50")),
                     inCopies(numberColumn(Text::tr("Visits, 90 %"), "visits_p90")),
                     inCopies(numberColumn(Text::tr("Minutes, 10 %"), "minutes_p10")),
                     inCopies(numberColumn(Text::tr("Minutes, 50 %"), "minutes_p50")),
                     inCopies(numberColumn(Text::tr("Minutes, 90 %"), "minutes_p90")),
                     textColumn(Text::tr("Room"), "room"),
                     numberColumn(Text::tr("New starts that fit"), "starts_left")};
    for (const WeekAhead &w : ahead.weeks) {
        const Spread hours{w.minutes.low / 60, w.minutes.middle / 60, w.minutes.high / 60};
        table.rows.push_back({cell(w.week.from), cell(std::int64_t{w.inForce}),
                              cell(std::int64_t{w.ifRenewed}), cell(spreadText(w.exits)),
                              cell(spreadText(w.referrals)), cell(spreadText(w.visits)),
                              cell(spreadText(hours)), cell(static_cast<double>(w.capacity.count()) / 60, 0),
                              cell(w.visits.low, 0), cell(w.visits.middle, 0), cell(w.visits.high, 0),
                              cell(w.minutes.low, 0), cell(w.minutes.middle, 0), cell(w.minutes.high, 0),
                              cell(roomText(w.room, w.capacity, w.minutes)),
                              w.knowsStarts() ? cell(std::int64_t{w.startsLeft}) : std::string()});
    }
    table.notes.push_back(
        Text::tr(
            "Middle (1 in 10 below, 1 in 10 above). Exits by chance, never by the calendar: an order that "
            "runs out is taken as renewed until the patient leaves, and room is judged by the upper end.")
            .toStdString());
    table.notes.push_back(besideText(ahead).toStdString());
    table.notes.push_back(
        Text::tr("%1 referrals in the last 12 weeks (%2 a week); time on service from %3. Travel %4 min a "
                 "visit%5.")
            .arg(QString::number(ahead.referralsSeen), shortNumber(ahead.referralsAWeek),
                 ahead.exitsAreLearned
                     ? Text::tr("the agency's own %1 exits").arg(ahead.exitsSeen)
                     : Text::tr("published figures (%1 own exits seen)").arg(ahead.exitsSeen),
                 numberText(ahead.travelPerVisit.count()),
                 ahead.travelIsAssumed ? Text::tr(", assumed")
                 : ahead.travelIsMade  ? Text::tr(", as made in the last four weeks")
                                       : Text::tr(", as planned"))
            .toStdString());
    return table;
}

} // namespace kitround::desk
