#include "core/desk/views/HomeChart.h"

#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <QStringList>

#include <algorithm>
#include <map>

namespace kitround::desk {
namespace {

using Units = std::int64_t;

// What is left along one path of cumulated use. A home that is dry does not drain, so that the path rests at
// nought until the next parcel.
class Path {
public:
    explicit Path(Units start) : left_(std::max<Units>(start, 0)) {}
    Eaches after(Units arrived, Units cumulated) {
        left_ = std::max<Units>(left_ + arrived - (cumulated - used_), 0);
        used_ = cumulated;
        return Eaches::of(left_);
    }

private:
    Units left_;
    Units used_ = 0;
};

void addArrivals(HomeChart &chart, const SnapshotIndex &index, const forecast::ItemForecast &home) {
    for (const Delivery *delivery : index.deliveriesOf(home.patient)) {
        if (delivery->status == DeliveryStatus::Cancelled)
            continue;
        Eaches units;
        for (const DeliveryLine &line : delivery->lines)
            if (line.catheter == home.catheter && line.item == home.item)
                units += line.arrived();
        Date on = delivery->promisedFor;
        if (delivery->status == DeliveryStatus::Delivered)
            on = delivery->deliveredAt ? delivery->deliveredAt->date : on;
        else if (on < chart.today) // late: expected tomorrow, as the forecast takes it
            on = chart.today.plusDays(1);
        if (units.count() > 0 && on >= chart.today - HomeChart::kPastDays)
            chart.arrivals.push_back({on, units, delivery->status});
    }
    std::ranges::stable_sort(chart.arrivals, {}, &HomeChart::Arrival::on);
}

void addPast(HomeChart &chart, const Place &home, std::span<const StockMovement> movements) {
    if (movements.empty())
        return;
    const Date from = chart.today - HomeChart::kPastDays;
    std::map<Date, Units> change;
    Units balance = 0;
    Date first = chart.today;
    for (const StockMovement &m : movements) {
        const Units moved =
            (m.to == home ? m.quantity.count() : 0) - (m.from == home ? m.quantity.count() : 0);
        first = std::min(first, m.at.date);
        if (m.at.date < from)
            balance += moved;
        else
            change[m.at.date] += moved;
    }
    for (Date day = std::max(from, first); day <= chart.today; ++day) {
        if (const auto found = change.find(day); found != change.end())
            balance += found->second;
        chart.past.push_back({day, Eaches::of(balance)});
    }
}

void setRunOut(HomeChart &chart, const forecast::ItemForecast &home) {
    chart.runOutP10 = home.runOutP10;
    chart.runOutP50 = home.runOutP50;
    chart.runOutP90 = home.runOutP90;
}

void addFan(HomeChart &chart, const forecast::ItemForecast &home,
            std::span<const HomeChart::Arrival> arrivals) {
    const auto isCounted = [&](DeliveryStatus status) {
        return status == DeliveryStatus::Picked || status == DeliveryStatus::InTransit ||
               (chart.isTried && status == DeliveryStatus::Promised);
    };
    chart.fan.clear();
    if (home.knowledge == forecast::StockKnowledge::Unknown)
        return;
    const Units ledger = std::max<Units>(home.usable().count(), 0); // what may be used
    const Units likely = ledger - home.unloggedP50.count();
    Path p05(likely), p25(likely), p50(likely), p75(likely), p95(likely), plain(ledger);
    for (std::size_t i = 0; i < home.days.size(); ++i) {
        const forecast::DayUse &use = home.days[i];
        HomeChart::Fan day;
        day.on = home.dayOf(i);
        Units arrived = 0;
        for (const HomeChart::Arrival &a : arrivals)
            if (a.on == day.on && isCounted(a.status))
                arrived += a.units.count();
        day.p05 = p05.after(arrived, use.p95);
        day.p25 = p25.after(arrived, use.p75);
        day.p50 = p50.after(arrived, use.p50);
        day.p75 = p75.after(arrived, use.p25);
        day.p95 = p95.after(arrived, use.p05);
        if (chart.hasPlainRule)
            day.plain = plain.after(arrived, home.plain.cumulated[i]);
        day.chanceDry = use.chanceDry;
        chart.fan.push_back(day);
    }
}

void addProposal(HomeChart &chart, const StockPicture &picture, const forecast::ItemForecast &home) {
    for (const supply::RefillProposal &p : picture.refills)
        for (const supply::RefillLine &line : p.lines) {
            if (line.catheter != home.catheter || line.item != home.item || line.quantity.count() <= 0)
                continue;
            chart.refill = HomeChart::Arrival{p.deliverOn, line.quantity, DeliveryStatus::Promised};
            if (p.urgency == supply::RefillUrgency::Overdue && !p.hasNoWay)
                chart.notes << Text::tr("No day possible keeps the run-out target: it would have to be "
                                        "delivered by %1, and %2 is the first day possible.")
                                   .arg(dayText(p.deliverBy, chart.today), dayText(p.deliverOn, chart.today));
        }
}

} // namespace

QString promisedText(const HomeChart &chart) {
    QStringList promised;
    for (const HomeChart::Arrival &a : chart.arrivals)
        if (a.status == DeliveryStatus::Promised)
            promised << promisedText(a.units, a.on, chart.today);
    return promised.join(Text::tr(" and "));
}

HomeChart homeChart(const StockPicture &picture, std::size_t forecast,
                    std::span<const StockMovement> movements) {
    const SnapshotIndex &index = picture.agency->index();
    const forecast::ItemForecast &home = picture.homes.at(forecast);
    HomeChart chart;
    chart.today = picture.agency->today();
    chart.knowledge = home.knowledge;
    const Patient *patient = index.patient(home.patient);
    const Catheter *catheter = index.catheter(home.catheter);
    const Item *item = index.item(home.item);
    chart.itemName = item ? fromStd(item->name) : Text::tr("an unknown item");
    chart.title = Text::tr("%1, %2: %3")
                      .arg(patient ? personName(*patient) : QString(),
                           catheter ? catheterText(*catheter) : QString(), chart.itemName);
    for (const HomeCount *count : index.countsOf(home.catheter))
        if (count->item == home.item && count->at.date >= chart.today - HomeChart::kPastDays)
            chart.counted.push_back({count->at.date, count->counted});
    chart.hasPlainRule = !home.plain.cumulated.empty() && home.plain.cumulated.size() == home.days.size();
    setRunOut(chart, home);
    addArrivals(chart, index, home);
    addPast(chart, Place::home(home.catheter), movements);
    addFan(chart, home, chart.arrivals);
    if (!chart.fan.empty()) {
        chart.recalled = home.recalled;
        chart.expired = home.expired;
    }
    if (const QString promised = promisedText(chart); !promised.isEmpty() && !chart.fan.empty())
        chart.notes << Text::tr("The %1 are not in the lines before they are sent; the refill day, and a "
                                "refill moved in the picture, count on them.")
                           .arg(promised);
    addProposal(chart, picture, home);
    return chart;
}

HomeChart withRefill(HomeChart chart, const forecast::ItemForecast &tried, Date on, Eaches quantity) {
    chart.refill = HomeChart::Arrival{on, quantity, DeliveryStatus::InTransit};
    chart.isTried = true;
    std::vector<HomeChart::Arrival> arrivals = chart.arrivals;
    arrivals.push_back(*chart.refill);
    setRunOut(chart, tried);
    addFan(chart, tried, arrivals);
    return chart;
}

QString dayFigures(const HomeChart &chart, Date on) {
    QStringList lines;
    for (const HomeChart::Point &p : chart.counted)
        if (p.on == on)
            lines << Text::tr("Counted: %1").arg(numberText(p.units.count()));
    for (const HomeChart::Point &p : chart.past)
        if (p.on == on && on < chart.today)
            lines << Text::tr("By the ledger: %1 left").arg(numberText(p.units.count()));
    for (const HomeChart::Fan &f : chart.fan)
        if (f.on == on) {
            if (on == chart.today && chart.recalled.count() > 0)
                lines << Text::tr("Recalled, not counted: up to %1").arg(numberText(chart.recalled.count()));
            if (on == chart.today && chart.expired.count() > 0)
                lines
                    << Text::tr("Past its last day, not counted: %1").arg(numberText(chart.expired.count()));
            lines << Text::tr("Middle: %1 left").arg(numberText(f.p50.count()));
            lines << Text::tr("1 in 2 between %1 and %2; 9 in 10 between %3 and %4")
                         .arg(f.p25.count())
                         .arg(f.p75.count())
                         .arg(f.p05.count())
                         .arg(f.p95.count());
            if (chart.hasPlainRule)
                lines << Text::tr("Plain rule: %1 left").arg(numberText(f.plain.count()));
            lines << Text::tr("Chance of having run dry: %1").arg(chanceText(f.chanceDry));
        }
    for (const HomeChart::Arrival &a : chart.arrivals)
        if (a.on == on)
            lines << Text::tr("%1: %2").arg(words(a.status), numberText(a.units.count()));
    if (chart.refill && chart.refill->on == on)
        lines << (chart.isTried ? Text::tr("Refill tried: %1") : Text::tr("Refill proposed: %1"))
                     .arg(numberText(chart.refill->units.count()));
    if (lines.isEmpty())
        return {};
    lines.prepend(dayText(on, chart.today));
    return lines.join(u'\n');
}

} // namespace kitround::desk
