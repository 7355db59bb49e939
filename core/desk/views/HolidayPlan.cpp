#include "core/desk/views/HolidayPlan.h"

#include "core/calendar/Weeks.h"
#include "core/desk/views/AttentionParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "core/rounds/due/VisitsDue.h"
#include "core/supply/DeliveryDays.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace kitround::desk {
namespace {

constexpr int kHabitWeeks = 4; // how far back a usual weekday is looked for
constexpr int kHabitTimes = 2; // and how often it must have been that day (assumed)

bool isOwnHoliday(const AgencySettings &settings, Date day) {
    return std::ranges::find(settings.ownHolidays, day) != settings.ownHolidays.end();
}

QString holidayName(const AgencySettings &settings, Date day) {
    const QString federal = holidayText(day);
    return federal.isEmpty() && isOwnHoliday(settings, day) ? Text::tr("closed by the agency") : federal;
}

class Planning {
public:
    Planning(const StockPicture &stock, int weeks, std::stop_token stop)
        : stock_(stock), agency_(*stock.agency), index_(agency_.index()), settings_(agency_.settings()),
          today_(agency_.today()), end_(today_.plusDays(7 * std::clamp(weeks, 1, 12))),
          courier_(settings_, agency_.snapshot().now, end_ - today_), stop_(std::move(stop)) {}

    HolidayPlan run() {
        findStretches();
        for (std::size_t i = 0; i < plan_.stretches.size() && !isStopping(); ++i)
            addHomes(i);
        return std::move(plan_);
    }

private:
    bool isClosed(Date day) const { return !courier_.runsOn(day); }
    bool isStopping() const { return stop_.stop_requested(); }

    void findStretches() {
        for (Date day = today_; day < end_; day = day.plusDays(1)) {
            if (holidayName(settings_, day).isEmpty())
                continue;
            if (!plan_.stretches.empty() && plan_.stretches.back().days.contains(day))
                continue;
            plan_.stretches.push_back(stretchAround(day));
        }
    }

    HolidayStretch stretchAround(Date holiday) const {
        HolidayStretch stretch;
        stretch.days = {holiday, holiday.plusDays(1)};
        while (stretch.days.from > today_ && isClosed(stretch.days.from.plusDays(-1)))
            stretch.days.from = stretch.days.from.plusDays(-1);
        while (stretch.days.to < end_.plusDays(14) && isClosed(stretch.days.to))
            stretch.days.to = stretch.days.to.plusDays(1);
        for (Date day = stretch.days.from; day < stretch.days.to; day = day.plusDays(1)) {
            const QString name = holidayName(settings_, day);
            stretch.closed.push_back({day, name.isEmpty() ? Text::tr("no courier") : name, !name.isEmpty(),
                                      rounds::isVisitingDay(settings_, day)});
        }
        // The last day on which a parcel handed over from now on can still arrive.
        for (Date day = stretch.days.from.plusDays(-1); day >= today_; day = day.plusDays(-1))
            if (courier_.runsOn(day)) {
                if (courier_.earliest() && day >= *courier_.earliest()) {
                    stretch.lastCourier = day;
                    stretch.handOver = courier_.handOverFor(day);
                }
                break;
            }
        stretch.firstCourier = courier_.firstOnOrAfter(stretch.days.to);
        return stretch;
    }

    void addHomes(std::size_t at) {
        std::map<PatientId, HolidayHome> homes;
        addVisits(at, homes);
        addSupplies(at, homes);
        std::vector<HolidayHome> found;
        for (auto &[id, home] : homes) {
            if (home.onClosed.empty() && !home.fitsNot && !home.needsStock)
                continue;
            home.patient = id;
            home.stretch = at;
            home.who = parts::shortName(agency_, id);
            found.push_back(std::move(home));
        }
        std::ranges::stable_sort(found, {}, [](const HolidayHome &h) {
            return std::tuple(!h.needsStock, -h.chanceDry, !h.fitsNot, h.who);
        });
        std::ranges::move(found, std::back_inserter(plan_.homes));
    }

    // By week: a stretch over a week's end touches two.
    void addVisits(std::size_t at, std::map<PatientId, HolidayHome> &homes) {
        std::set<Date> weeks;
        for (const ClosedDay &day : plan_.stretches[at].closed)
            if (day.isHoliday && !day.hasVisits)
                weeks.insert(calendar::weekStartOf(day.on, settings_.weekStart));
        for (const Date week : weeks)
            if (!isStopping())
                addWeek(at, {week, week.plusDays(7)}, homes);
    }

    void addWeek(std::size_t at, DateRange week, std::map<PatientId, HolidayHome> &homes) {
        int openDays = 0;
        for (Date day = std::max(week.from, today_); day < week.to; day = day.plusDays(1))
            openDays += rounds::isVisitingDay(settings_, day) ? 1 : 0;
        std::map<PatientId, int> owed;
        for (const rounds::DueVisit &due : rounds::visitsDue(index_, week))
            ++owed[due.visit.patient];
        for (const auto &[patient, count] : owed) {
            if (isStopping())
                return;
            HolidayHome home = homes[patient];
            home.owed += count;
            home.openDays = openDays;
            home.fitsNot = home.fitsNot || count > openDays;
            std::vector<Date> planned, habits;
            for (const Visit *visit : index_.visitsOf(patient)) {
                const bool isPlanned =
                    visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published;
                if (isPlanned && visit->on && week.contains(*visit->on) && *visit->on >= today_)
                    planned.push_back(*visit->on);
            }
            for (const ClosedDay &day : plan_.stretches[at].closed) {
                if (!day.isHoliday || day.hasVisits || !week.contains(day.on))
                    continue;
                if (std::ranges::find(planned, day.on) != planned.end())
                    home.onClosed.push_back(day.on);
                else if (isUsual(patient, day.on))
                    habits.push_back(day.on);
            }
            if (home.onClosed.empty() && !habits.empty()) {
                home.onClosed = habits;
                home.isUsual = true;
            }
            for (const Date day : planned)
                if (rounds::isVisitingDay(settings_, day))
                    home.planned.push_back(day);
            std::ranges::sort(home.planned);
            homes[patient] = std::move(home);
        }
    }

    bool isUsual(PatientId patient, Date closed) const {
        std::set<Date> days;
        for (const Visit *visit : index_.visitsOf(patient)) {
            const std::optional<Date> on = visit->day();
            const bool happened =
                visit->status == VisitStatus::Done || visit->status == VisitStatus::Published;
            if (happened && on && *on < closed && *on >= closed.plusDays(-7 * kHabitWeeks) &&
                on->weekday() == closed.weekday())
                days.insert(*on);
        }
        return static_cast<int>(days.size()) >= kHabitTimes;
    }

    void addSupplies(std::size_t at, std::map<PatientId, HolidayHome> &homes) {
        const HolidayStretch &stretch = plan_.stretches[at];
        if (!stretch.firstCourier)
            return;
        const double target = static_cast<double>(settings_[SettingKey::RunOutTargetPermille]) / 1000.0;
        const auto days = static_cast<std::size_t>((*stretch.firstCourier - today_).count());
        for (const forecast::ItemForecast &f : stock_.homes) {
            if (isStopping())
                return;
            if (f.isOnHold || f.days.empty())
                continue;
            HolidayHome &home = homes[f.patient];
            if (f.knowledge == forecast::StockKnowledge::Unknown) {
                home.isUnknown = true;
                home.needsStock = true;
                continue;
            }
            const double chance = days == 0 ? 0 : f.days[std::min(days, f.days.size()) - 1].chanceDry;
            home.chanceDry = std::max(home.chanceDry, chance);
            home.needsStock = home.needsStock || chance > target;
            if (f.runOutP10 && (!home.dryBy || *f.runOutP10 < *home.dryBy))
                home.dryBy = f.runOutP10;
        }
        for (const supply::RefillProposal &refill : stock_.refills)
            if (const auto found = homes.find(refill.patient);
                found != homes.end() && stretch.lastCourier && refill.deliverFrom > *stretch.lastCourier)
                found->second.payerFrom = refill.deliverFrom;
    }

    const StockPicture &stock_;
    const Agency &agency_;
    const SnapshotIndex &index_;
    const AgencySettings &settings_;
    Date today_, end_;
    supply::CourierCalendar courier_;
    std::stop_token stop_;
    HolidayPlan plan_;
};

QString daysText(const std::vector<Date> &days) {
    QStringList texts;
    for (const Date day : days)
        texts << dayText(day);
    return texts.join(QStringLiteral(", "));
}

} // namespace

HolidayPlan holidayPlan(const StockPicture &stock, int weeks, std::stop_token stop) {
    return Planning(stock, weeks, std::move(stop)).run();
}

QString stretchText(const HolidayStretch &stretch, Date today) {
    QStringList names;
    for (const ClosedDay &day : stretch.closed)
        if (day.isHoliday)
            names << Text::tr("%1 (%2)").arg(dayText(day.on), day.name);
    QString text = Text::tr("%1: no courier for %2")
                       .arg(names.join(QStringLiteral(", ")),
                            counted(stretch.days.length().count(), Text::tr("1 day"), Text::tr("%1 days")));
    if (stretch.isTwoInARow())
        text += Text::tr(" in a row, %1 to %2")
                    .arg(dayText(stretch.days.from), dayText(stretch.days.to.plusDays(-1)));
    text += QStringLiteral(". ");
    text += stretch.lastCourier
                ? Text::tr("Last delivery before: %1, handed over by %2%3.")
                      .arg(dayText(*stretch.lastCourier), dayText(*stretch.handOver),
                           *stretch.handOver == today ? Text::tr(" (today)") : QString())
                : Text::tr("No parcel can arrive before it any more: only a visit brings something.");
    if (stretch.firstCourier)
        text += u' ' + Text::tr("Next delivery after: %1.").arg(dayText(*stretch.firstCourier));
    return text;
}

QString visitText(const HolidayHome &home) {
    if (home.owed == 0)
        return {};
    QString text = counted(home.owed, Text::tr("1 visit owed"), Text::tr("%1 visits owed"));
    if (home.fitsNot)
        text += Text::tr(", only %1: ask the prescriber before the frequency is missed")
                    .arg(counted(home.openDays, Text::tr("1 day open"), Text::tr("%1 days open")));
    if (!home.onClosed.empty())
        text += (home.isUsual ? Text::tr("; usually on the closed day (%1)")
                              : Text::tr("; planned on %1, closed"))
                    .arg(daysText(home.onClosed));
    if (!home.planned.empty())
        text += Text::tr("; planned %1").arg(daysText(home.planned));
    else if (!home.onClosed.empty())
        text += Text::tr("; not moved yet");
    return text;
}

QString stockText(const HolidayPlan &plan, const HolidayHome &home) {
    if (!home.needsStock)
        return {};
    const HolidayStretch &stretch = plan.stretches[home.stretch];
    QString text = home.isUnknown
                       ? Text::tr("stock unknown: ask for a count")
                       : Text::tr("dry before %1: %2")
                             .arg(stretch.firstCourier ? dayText(*stretch.firstCourier) : QString(),
                                  chanceText(home.chanceDry));
    if (stretch.handOver)
        text += Text::tr("; hand over by %1").arg(dayText(*stretch.handOver));
    else
        text += Text::tr("; only with a visit");
    if (home.payerFrom)
        text += Text::tr("; the payer allows nothing before %1").arg(dayText(*home.payerFrom));
    return text;
}

Table holidayTable(const HolidayPlan &plan, const Agency &agency) {
    Table table;
    table.title = Text::tr("Holiday plan, from %1").arg(dayText(agency.today())).toStdString();
    table.key = "holiday_plan";
    table.columns = {textColumn(Text::tr("Closed from"), "closed_from"),
                     textColumn(Text::tr("Closed to"), "closed_to"),
                     textColumn(Text::tr("Patient"), "patient"),
                     textColumn(Text::tr("Initials"), "initials"),
                     numberColumn(Text::tr("Visits owed"), "visits_owed"),
                     numberColumn(Text::tr("Days open"), "days_open"),
                     textColumn(Text::tr("Visits"), "visits"),
                     textColumn(Text::tr("Dry by"), "dry_by"),
                     textColumn(Text::tr("Supplies"), "supplies"),
                     textColumn(Text::tr("Hand over by"), "hand_over_by"),
                     textColumn(Text::tr("Next delivery"), "next_delivery"),
                     textColumn(Text::tr("To decide"), "to_decide")};
    for (const HolidayHome &home : plan.homes) {
        const HolidayStretch &stretch = plan.stretches[home.stretch];
        table.rows.push_back({cell(stretch.days.from), cell(stretch.days.to.plusDays(-1)),
                              codeOf(agency.index(), home.patient), initialsOf(agency.index(), home.patient),
                              cell(std::int64_t{home.owed}), cell(std::int64_t{home.openDays}),
                              cell(visitText(home)), home.needsStock ? cell(home.dryBy) : std::string(),
                              cell(stockText(plan, home)),
                              home.needsStock ? cell(stretch.handOver) : std::string(),
                              cell(stretch.firstCourier), yesNo(home.isOpen())});
    }
    for (const HolidayStretch &stretch : plan.stretches)
        table.notes.push_back(stretchText(stretch, agency.today()).toStdString());
    return table;
}

} // namespace kitround::desk
