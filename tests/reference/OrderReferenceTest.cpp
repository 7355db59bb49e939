// Ordering policies against published values: (r, Q), (s, S), order sizes of known demand, joint orders,
// packs, what expires, and demand over an uncertain lead time.
#include "core/supply/CountSum.h"
#include "core/supply/Economics.h"
#include "core/supply/JointOrders.h"
#include "core/supply/LotSizing.h"
#include "core/supply/MinMax.h"
#include "core/supply/NormalLoss.h"
#include "core/supply/OrderPolicies.h"
#include "core/supply/OrderTerms.h"
#include "core/supply/Outdates.h"
#include "tests/reference/CheckValues.h"
#include "tests/reference/PoissonOf.h"

#include <gtest/gtest.h>

#include <cmath>
#include <sstream>

namespace kitround::supply {
namespace {

using forecast::Pmf;
using test::after;
using test::CheckRow;
using test::checkValues;
using test::expected;
using test::has;
using test::listAfter;
using test::poisson;
using test::tolerance;

ShelfCosts shelfCosts(const CheckRow &row) {
    return {after(row, "K"), after(row, "h"), after(row, "p")};
}
bool starts(const CheckRow &row, const std::string &with) {
    return row.at("quantity").rfind(with, 0) == 0;
}
// Sums of our own in other orders than the source's: exact rows too meet it to the last digits only.
double close(const CheckRow &row) {
    return tolerance(row) + 1e-9 * std::abs(expected(row)) + 1e-12;
}

TEST(OrderReferenceTest, TheNormalLossAndItsInverse) {
    const NormalDemand unit;
    for (const CheckRow &row : checkValues("normal-loss.csv")) {
        SCOPED_TRACE(row.at("id"));
        if (starts(row, "normal loss")) {
            const NormalDemand demand{after(row, "mean"), after(row, "sd")};
            const double x = after(row, "x"), missed = demand.loss(x);
            EXPECT_NEAR(has(row, "quantity", "nbar") ? x - demand.mean + missed : missed, expected(row),
                        tolerance(row));
        } else if (starts(row, "Phi"))
            EXPECT_NEAR(unit.cdf(after(row, "z")) - 0.5, expected(row), tolerance(row));
        else if (starts(row, "L^-1"))
            EXPECT_NEAR(unit.levelMissing(after(row, "t")), expected(row), tolerance(row));
        else if (starts(row, "L2bar")) // by symmetry
            EXPECT_NEAR(unit.secondLoss(-after(row, "z")), expected(row), tolerance(row));
        else
            EXPECT_NEAR(unit.secondLoss(after(row, "z")), expected(row), tolerance(row));
    }
}

WatchedShelf watched(const CheckRow &row) {
    const double rate = after(row, "lambda"), lead = after(row, "L");
    return {rate, {rate * lead, after(row, "tau") * std::sqrt(lead)}, shelfCosts(row)};
}

void checkWholePieces(const CheckRow &row) {
    const double rate = after(row, "lambda");
    const Pmf demand = poisson(rate * after(row, "L"));
    if (has(row, "quantity", "exact cost")) {
        const double found =
            cost(rate, demand, shelfCosts(row), std::llround(after(row, "r")), std::llround(after(row, "Q")));
        EXPECT_NEAR(found, expected(row), tolerance(row));
        return;
    }
    const WholePointAndSize best = bestPointAndSize(rate, demand, shelfCosts(row));
    EXPECT_EQ(has(row, "quantity", "r*") ? best.point : best.size, std::llround(expected(row)));
    EXPECT_NEAR(best.cost, cost(rate, demand, shelfCosts(row), best.point, best.size), 1e-9);
}

PointAndSize pairAskedFor(const CheckRow &row, const WatchedShelf &shelf) {
    if (starts(row, "expected-inventory-level"))
        return shelf.byExpectedStock();
    if (starts(row, "EOQB"))
        return shelf.byBackorderedSize();
    if (starts(row, "EOQ +"))
        return shelf.bySafetyStock();
    return starts(row, "loss-function") ? shelf.byLoss() : shelf.best();
}

TEST(OrderReferenceTest, PointAndSizeOfAShelfWatchedWithoutAPause) {
    for (const CheckRow &row : checkValues("point-and-size.csv")) {
        SCOPED_TRACE(row.at("id"));
        if (starts(row, "Poisson")) {
            checkWholePieces(row);
            continue;
        }
        const WatchedShelf shelf = watched(row);
        if (starts(row, "exact cost"))
            EXPECT_NEAR(shelf.cost({after(row, "r"), after(row, "Q")}), expected(row), tolerance(row));
        else if (starts(row, "optimal r"))
            EXPECT_NEAR(shelf.bestPoint(after(row, "Q")), expected(row), tolerance(row));
        else {
            const PointAndSize pair = pairAskedFor(row, shelf);
            const bool isCost = has(row, "quantity", "cost");
            const double found = isCost && starts(row, "exact optimum") ? shelf.cost(pair)
                                 : isCost                               ? shelf.expectedStockCost(pair)
                                 : has(row, "quantity", ": r")          ? pair.point
                                                                        : pair.size;
            EXPECT_NEAR(found, expected(row), tolerance(row));
        }
    }
}

TEST(OrderReferenceTest, LeastAndMostOfAShelfLookedAtOnceAPeriod) {
    for (const CheckRow &row : checkValues("min-max.csv")) {
        SCOPED_TRACE(row.at("id"));
        if (starts(row, "power")) {
            const double mean = after(row, "mean");
            const PowerMinMax found = powerMinMax(mean, {mean, after(row, "sd")}, shelfCosts(row));
            EXPECT_NEAR(row.at("quantity").back() == 's' ? found.least : found.most, expected(row),
                        tolerance(row));
            continue;
        }
        const Pmf demand = poisson(after(row, "Poisson mean"));
        const LookedAtShelf shelf{demand, demand, shelfCosts(row)};
        if (has(row, "parameters", ";S="))
            EXPECT_NEAR(shelf.cost({std::llround(after(row, "s")), std::llround(after(row, "S"))}),
                        expected(row), tolerance(row));
        else if (has(row, "quantity", "cost"))
            EXPECT_NEAR(shelf.cost(shelf.best()), expected(row), tolerance(row));
        else
            EXPECT_EQ(row.at("quantity") == "s*" ? shelf.best().least : shelf.best().most,
                      std::llround(expected(row)));
    }
}

// By hand against all pairs: an order that takes three periods, demand of nought to two a period.
TEST(OrderReferenceTest, TheBestPairIsTheBestOfAllPairsWithALeadTimeToo) {
    const Pmf day({0.5, 0.2, 0.3});
    const LookedAtShelf shelf{day, day.plus(day).plus(day).plus(day), {20, 1, 15}};
    const MinMax best = shelf.best();
    for (std::int64_t s = -10; s < 20; ++s)
        for (std::int64_t most = s + 1; most < 40; ++most)
            EXPECT_GE(shelf.cost({s, most}), shelf.cost(best) - 1e-9) << s << ' ' << most;
}

void checkKnownDemand(const CheckRow &row) {
    const std::vector<double> demand = listAfter(row, "demand");
    const std::vector<double> perOrder = has(row, "parameters", "K=[")
                                             ? listAfter(row, "K")
                                             : std::vector<double>(demand.size(), after(row, "K"));
    const OrderPlan plan = cheapestOrders(demand, perOrder, after(row, "h"));
    if (has(row, "quantity", "cost"))
        EXPECT_NEAR(plan.cost, expected(row), tolerance(row));
    else {
        const std::string &what = row.at("quantity");
        EXPECT_EQ(plan.orders.at(std::stoul(what.substr(what.rfind(' '))) - 1), expected(row));
    }
}

void checkJoint(const CheckRow &row) {
    const auto k = listAfter(row, "k"), h = listAfter(row, "h"), rate = listAfter(row, "lambda");
    std::vector<JointItem> items;
    for (std::size_t i = 0; i < k.size(); ++i)
        items.push_back({k[i], h[i], rate[i]});
    const double perOrder = after(row, "K");
    if (starts(row, "best cost")) {
        const std::vector<std::int64_t> choices = has(row, "quantity", "power")
                                                      ? std::vector<std::int64_t>{1, 2, 4, 8}
                                                      : std::vector<std::int64_t>{1, 2, 3, 4, 5, 6};
        EXPECT_NEAR(cheapestJointPlan(perOrder, items, choices).cost, expected(row), tolerance(row));
        return;
    }
    const JointPlan plan = silverPlan(perOrder, items);
    const std::string &what = row.at("quantity");
    if (has(row, "quantity", "m_"))
        EXPECT_EQ(plan.every.at(std::stoul(what.substr(what.find("m_") + 2)) - 1),
                  std::llround(expected(row)));
    else
        EXPECT_NEAR(has(row, "quantity", "cost") ? plan.cost : plan.cycle, expected(row), tolerance(row));
}

void checkDoubling(const CheckRow &row) {
    if (starts(row, "worst-case")) { // a base as far from the best time as can be
        const double best = std::sqrt(2.0);
        EXPECT_NEAR(doublingCycle(1, 1, 1, best / std::sqrt(2.0), 0).costRatio, expected(row),
                    tolerance(row));
        return;
    }
    if (starts(row, "average-case")) { // over bases from 1 to 2, each alike on the log scale
        constexpr int kSteps = 4000;
        double sum = 0;
        for (int i = 0; i < kSteps; ++i)
            sum += doublingCycle(1, 1, 1, std::exp2((i + 0.5) / kSteps), -3).costRatio;
        EXPECT_NEAR(sum / kSteps, expected(row), tolerance(row));
        return;
    }
    const DoublingCycle found =
        doublingCycle(after(row, "K"), after(row, "h"), after(row, "lambda"), after(row, "base"), -3);
    EXPECT_NEAR(starts(row, "T*")                  ? found.freeCycle
                : has(row, "quantity", "exponent") ? found.exponent
                                                   : found.costRatio,
                expected(row), close(row));
}

void checkEvenPace(const CheckRow &row) {
    const double rate = after(row, "lambda");
    if (has(row, "parameters", "breakpoints")) {
        const auto from = listAfter(row, "breakpoints"), price = listAfter(row, "unit_costs");
        std::vector<PriceRange> ranges;
        for (std::size_t i = 0; i < from.size(); ++i)
            ranges.push_back({from[i], price[i]});
        const RangedSize found = incrementalSize(rate, after(row, "K"), after(row, "i"), ranges);
        EXPECT_NEAR(has(row, "quantity", "Q*")       ? found.size
                    : has(row, "quantity", "region") ? static_cast<double>(found.range)
                                                     : found.cost,
                    expected(row), close(row));
        return;
    }
    if (has(row, "parameters", "mu=")) {
        const SizeAndCost found =
            graduallyReceivedSize(rate, after(row, "mu"), {after(row, "K"), after(row, "h"), 0});
        EXPECT_NEAR(has(row, "quantity", "Q*") ? found.size : found.cost, expected(row), tolerance(row));
        return;
    }
    const BackorderedSize found = backorderedSize(rate, shelfCosts(row));
    EXPECT_NEAR(has(row, "quantity", "Q*")         ? found.size
                : has(row, "quantity", "fraction") ? found.waiting
                                                   : found.cost,
                expected(row), tolerance(row));
}

TEST(OrderReferenceTest, OrdersOfKnownDemandAloneAndTogether) {
    for (const CheckRow &row : checkValues("lot-sizing.csv")) {
        SCOPED_TRACE(row.at("id"));
        const std::string family = row.at("id").substr(0, row.at("id").find('-'));
        if (family == "WW")
            checkKnownDemand(row);
        else if (family == "JRP")
            checkJoint(row);
        else if (family == "POT")
            checkDoubling(row);
        else
            checkEvenPace(row);
    }
}

// "(6, 1), (10, 3), ..." after the equals sign of the lots.
std::vector<std::pair<std::int64_t, int>> lotsOf(const CheckRow &row) {
    const std::string &text = row.at("parameters");
    std::vector<std::pair<std::int64_t, int>> lots;
    for (std::size_t at = text.find("=[") + 1; (at = text.find('(', at)) != std::string::npos; ++at) {
        char *rest = nullptr;
        const std::int64_t quantity = std::strtoll(text.c_str() + at + 1, &rest, 10);
        lots.push_back({quantity, static_cast<int>(std::strtol(rest + 1, nullptr, 10))});
    }
    return lots;
}

TEST(OrderReferenceTest, WholePacksAndWhatExpires) {
    for (const CheckRow &row : checkValues("packs-and-expiry.csv")) {
        SCOPED_TRACE(row.at("id"));
        if (starts(row, "order quantity")) {
            const auto number = [&](const std::string &key) { return std::llround(after(row, key)); };
            const PackSize pack{Eaches::of(number("pack"))};
            const Cases leastLine = casesCovering(Eaches::of(number("minimum")), pack);
            const Cases cases =
                casesToOrder({Eaches::of(number("IP")), Eaches::of(number("s")), Eaches::of(number("S")),
                              pack, std::max(leastLine, Cases::of(1))});
            EXPECT_EQ(toEaches(cases, pack).count(), std::llround(expected(row)));
            continue;
        }
        const double rate = after(row, "Poisson rate");
        std::vector<AgeingLot> lots;
        int from = 0;
        if (has(row, "parameters", "lots ("))
            for (const auto &[quantity, until] : lotsOf(row)) {
                lots.push_back({Eaches::of(quantity), poisson(rate * (until - from))});
                from = until;
            }
        else
            lots.push_back({Eaches::of(std::llround(after(row, "Q"))), poisson(rate * after(row, "life"))});
        ASSERT_FALSE(lots.empty());
        if (starts(row, "P(")) { // that not all is asked for
            EXPECT_NEAR(lots[0].demand.cdf(lots[0].quantity.count() - 1), expected(row), tolerance(row));
            continue;
        }
        const OutdateForecast found = expectedOutdates(lots);
        EXPECT_NEAR(has(row, "quantity", "first-expiring") ? found.byLot[0] : found.total, expected(row),
                    tolerance(row));
    }
}

// "0:0.2 1:0.5 2:0.3" after the name, up to a semicolon.
Pmf listedPmf(const CheckRow &row, const std::string &name) {
    const std::string &text = row.at("parameters");
    const std::size_t at = text.find(name) + name.size();
    std::istringstream in(text.substr(at, text.find(';', at) - at));
    std::vector<double> chances;
    for (std::string part; in >> part;) {
        const std::size_t colon = part.find(':');
        chances.resize(std::max<std::size_t>(chances.size(), std::stoul(part) + 1), 0.0);
        chances[std::stoul(part)] = std::stod(part.substr(colon + 1));
    }
    return Pmf(chances);
}

void checkLeadTimeDemand(const CheckRow &row) {
    const Pmf day = listedPmf(row, "daily pmf "), lead = listedPmf(row, "lead time pmf ");
    std::vector<Pmf> over(1);
    for (std::size_t days = 1; days < lead.size(); ++days)
        over.push_back(over.back().plus(day));
    const Pmf demand = Pmf::mixture(over, lead.values());
    const std::string &what = row.at("quantity");
    if (starts(row, "mean"))
        EXPECT_NEAR(demand.mean(), expected(row), close(row));
    else if (starts(row, "variance"))
        EXPECT_NEAR(demand.variance(), expected(row), close(row));
    else if (starts(row, "smallest r"))
        EXPECT_EQ(demand.quantile(std::stod(what.substr(what.rfind('=') + 1))), std::llround(expected(row)));
    else
        EXPECT_NEAR(demand.shortage(std::llround(after(row, "r"))), expected(row), close(row));
}

void checkFillRate(const CheckRow &row) {
    const NormalDemand demand{after(row, "LTD mean"), after(row, "LTD sd")};
    const double size = after(row, "Q");
    if (has(row, "parameters", "target P2")) {
        const double point = pointForFillRate(demand, size, after(row, "target P2"));
        EXPECT_NEAR(starts(row, "safety factor") ? (point - demand.mean) / demand.spread : point,
                    expected(row), tolerance(row));
        return;
    }
    const double point = after(row, "r");
    if (starts(row, "cycle service")) // the row's mean has ten digits, so that its chance has nine
        EXPECT_NEAR(demand.cdf(point), expected(row), tolerance(row) + 1e-9);
    else // with n(r + Q) next to nothing the exact rate and the short one are the same
        EXPECT_NEAR(fillRate(demand, {point, size}), expected(row), tolerance(row));
}

TEST(OrderReferenceTest, DemandOverAnUncertainLeadTimeAndTheShareServed) {
    for (const CheckRow &row : checkValues("lead-time-demand.csv")) {
        SCOPED_TRACE(row.at("id"));
        if (row.at("id").rfind("LTD", 0) == 0)
            checkLeadTimeDemand(row);
        else if (row.at("id").rfind("FR", 0) == 0)
            checkFillRate(row);
        else { // order up to the level that holds over review and lead time
            const double periods = after(row, "R") + after(row, "L");
            const NormalDemand demand{after(row, "mean") * periods, after(row, "sd") * std::sqrt(periods)};
            EXPECT_NEAR(demand.quantile(after(row, "P1")), expected(row), close(row));
        }
    }
}

// Profit is what the average demand would earn less the cost of the mismatch.
TEST(OrderReferenceTest, ProfitOfOnePeriod) {
    for (const CheckRow &row : checkValues("newsvendor-profit.csv")) {
        SCOPED_TRACE(row.at("id"));
        const double cost = after(row, "cost");
        const PieceCosts costs{after(row, "revenue") - cost, cost - after(row, "salvage")};
        const NormalDemand demand{after(row, "mean"), after(row, "sd")};
        const double level =
            has(row, "parameters", ";S=") ? after(row, "S") : demand.quantile(criticalRatio(costs));
        if (starts(row, "optimal"))
            EXPECT_NEAR(level, expected(row), tolerance(row));
        else
            EXPECT_NEAR(costs.missing * (demand.mean - demand.loss(level)) -
                            costs.leftOver * (level - demand.mean + demand.loss(level)),
                        expected(row), tolerance(row));
    }
}

} // namespace
} // namespace kitround::supply
