#pragma once
// One item's coming weeks in the storeroom as a picture: the table's figures (StoreroomWeek) with the days
// between them, what is on its way, what expires, and the level that orders fill up to.
#include "core/desk/views/StoreroomItem.h"

namespace kitround::desk {

struct StoreroomChart {
    // Free stock at the start of the day, as expected and in the worst and best of ten times; below nought it
    // is short. A week ends where the next begins, and there stands the table's figure. Where something
    // comes, a second point of the day has it on the shelf.
    struct Point {
        Date on;
        double left = 0;
        std::optional<double> low, high;
    };
    struct Arrival {
        Date on;
        Eaches units;
        bool isBackordered = false;
    };
    struct Expiry { // of what stands there today; the points do not take it off
        Date lastDay;
        Eaches units;
        QString lot;
    };
    Date today, last;
    QString itemName;
    std::vector<Point> points;     // none: `nothing` says why
    std::vector<Arrival> arrivals; // all that the points hold, by day
    std::vector<Expiry> expiries;  // up to the last day shown, by day
    std::optional<Eaches> orderUpTo;
    std::optional<Date> shortOn,
        shortEarly; // the shelf is expected to fall short; 1 time in 10 it has by then
    QString nothing;
};
// `weeks`, `open`: as the table has them (storeroomWeeks, openOrderRows).
StoreroomChart storeroomChart(const Agency &agency, const StoreroomRow &row,
                              const std::vector<StoreroomWeek> &weeks, const std::vector<OpenOrderRow> &open);
// When it falls short, in a sentence; how sure that it lasts, where it does.
QString shortText(const StoreroomChart &chart);
// The whole picture in words.
QString chartText(const StoreroomChart &chart);
// What it says about one day; empty outside it.
QString dayFigures(const StoreroomChart &chart, Date on);

} // namespace kitround::desk
