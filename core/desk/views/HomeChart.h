#pragma once
// One home's item as a picture over time: what was counted and used, what is left tomorrow and later, what is
// on its way. Units are eaches left at the end of a day.
#include "core/desk/views/StockView.h"

#include <QString>
#include <QStringList>

#include <span>

namespace kitround::desk {

struct HomeChart {
    struct Point {
        Date on;
        Eaches units;
    };
    // Left at the end of the day; p05: with 1 chance in 20 not more than that. Each is the path of one
    // quantile of the cumulated use, so that the bands say how sure the day is, not one home's true course.
    struct Fan {
        Date on;
        Eaches p05, p25, p50, p75, p95;
        Eaches plain; // by the plain rule
        double chanceDry = 0;
    };
    struct Arrival {
        Date on;
        Eaches units;
        DeliveryStatus status = DeliveryStatus::Promised; // promised is not counted as stock
    };
    Date today;
    QString title; // "Alder, Jo, chest, right: drain kit 1000 mL"
    QString itemName;
    forecast::StockKnowledge knowledge = forecast::StockKnowledge::Unknown;
    std::vector<Point> counted;    // what somebody counted
    std::vector<Point> past;       // the ledger at the end of each day, the last kPastDays
    std::vector<Fan> fan;          // from today; empty where the stock is not known
    std::vector<Arrival> arrivals; // delivered since kPastDays ago and under way, by day
    std::optional<Date> runOutP10, runOutP50, runOutP90;
    std::optional<Arrival> refill; // proposed, or tried: then it is in the fan and in the run-out days
    bool isTried = false;          // then what is promised is in them too, as the proposal has it
    Eaches recalled;               // of what is there today, at most: in the ledger, but not in the fan
    Eaches expired;                // of what is there today, past its last day: likewise
    QStringList notes;             // what the picture does not show and its reader has to know
    bool hasPlainRule = false;
    static constexpr Days kPastDays = Days::of(28);
};
// `movements`: all of the home's and item's (Desk::movementsAt); without them the past stays empty.
HomeChart homeChart(const StockPicture &picture, std::size_t forecast,
                    std::span<const StockMovement> movements);
// The same with this refill on its way; `tried` is the home's forecast with it (forecast::withParcel).
HomeChart withRefill(HomeChart chart, const forecast::ItemForecast &tried, Date on, Eaches quantity);
// What is promised and not sent yet: "11 promised for Fri 20 Nov"; empty where nothing is.
QString promisedText(const HomeChart &chart);
// What the chart says about one day, in words; empty outside it.
QString dayFigures(const HomeChart &chart, Date on);

} // namespace kitround::desk
