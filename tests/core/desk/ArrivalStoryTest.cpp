// A parcel arrives short: what came whole stands at the home, the rest leaves the books with its reason, and
// what was written down wrongly is put right by contrary movements.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/RecallView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/words/SupplyWords.h"
#include "core/supply/CarStock.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kFarOff = Date::of(2027, 6, 1);
constexpr LocalTime kHandedOver = at(kMonday, 8);

Arrived came(std::int64_t good, std::int64_t damaged, std::int64_t missing, const std::string &why) {
    return {{{Eaches::of(good), Eaches::of(damaged), Eaches::of(missing)}}, why};
}

// Forty on the shelf, and a home.
struct ArrivalStory : Story {
    Home home = addHome("A");
    LotId lot = receive(kit500, "L1", 40, kFarOff);

    DeliveryId sent(std::int64_t eaches) {
        return must(desk().ship(must(desk().pick(promise(home, kit500, eaches, kMonday).id)).id)).id;
    }
    Result<Delivery> arrives(DeliveryId id, const Arrived &arrived) {
        return desk().deliver(id, kHandedOver, "Dora Daughter", "daughter", arrived);
    }
    Result<Delivery> correct(DeliveryId id, const Arrived &arrived) {
        return desk().correctArrival(id, delivery(id).rowVersion, arrived);
    }
    std::int64_t atHome() const { return balance(Place::home(home.catheter), kit500).count(); }
    // Of the parcel, to a place outside, and undone by nothing.
    std::int64_t leftTo(PlaceKind kind, DeliveryId id) {
        std::int64_t sum = 0;
        for (const StockMovement &m : must(desk().movementsOfLot(lot))) {
            sum += m.to.kind == kind && m.delivery == id ? m.quantity.count() : 0;
            sum -= m.from.kind == kind && m.delivery == id ? m.quantity.count() : 0;
        }
        return sum;
    }
};

QString linesOf(const Paper &paper) {
    QStringList all;
    for (const Paper::Section &section : paper.sections)
        all << section.lines;
    return all.join(u'\n');
}

TEST(ArrivalStory, OnlyWhatCameGoodStandsAtTheHomeAndTheRestLeavesWithItsReason) {
    ArrivalStory s;
    const DeliveryId id = s.sent(10);
    const auto audit = s.auditLength();
    must(s.arrives(id, came(7, 2, 1, "box was torn")));
    EXPECT_GT(s.auditLength(), audit);
    EXPECT_EQ(s.delivery(id).status, DeliveryStatus::Delivered);
    EXPECT_EQ(s.delivery(id).lines.front().quantity, Eaches::of(10)) << "as packed";
    EXPECT_EQ(s.delivery(id).lines.front().damaged, Eaches::of(2));
    EXPECT_EQ(s.delivery(id).lines.front().missing, Eaches::of(1));
    EXPECT_EQ(s.atHome(), 7);
    EXPECT_EQ(s.balance(Place::transit(id), s.kit500), Eaches{});
    EXPECT_EQ(s.total(s.kit500), Eaches::of(40 - 3));
    int told = 0;
    for (const StockMovement &m : must(s.desk().movementsOfLot(s.lot))) {
        const bool isLoss = m.to.kind == PlaceKind::Wasted || m.to.kind == PlaceKind::Variance;
        if (!isLoss)
            continue;
        ++told;
        EXPECT_EQ(m.reason, m.to.kind == PlaceKind::Wasted ? MovementReason::Waste : MovementReason::Count);
        EXPECT_EQ(m.quantity, Eaches::of(m.to.kind == PlaceKind::Wasted ? 2 : 1));
        EXPECT_EQ(m.delivery, id);
        EXPECT_NE(m.note.find("box was torn"), std::string::npos) << m.note;
        EXPECT_EQ(m.at, kHandedOver);
    }
    EXPECT_EQ(told, 2) << "one movement for each reason";
    EXPECT_EQ(arrivedShort(s.delivery(id)), QStringLiteral("arrived short by 3 of 10"));
    const QString slip = linesOf(deliverySlip(*s.agency(), s.delivery(id)));
    EXPECT_TRUE(slip.contains(QStringLiteral("arrived short by 3 of 10"))) << slip.toStdString();
    EXPECT_TRUE(slip.contains(QStringLiteral("2 damaged, 1 missing"))) << slip.toStdString();
    EXPECT_TRUE(must(s.desk().monthBooks(Date::of(2026, 3, 1))).untied.empty());
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(ArrivalStory, ARecallOfTheLotSaysThatTheDamagedIsGoneAndTheMissingNotFound) {
    ArrivalStory s;
    must(s.arrives(s.sent(10), came(7, 2, 1, "box was torn")));
    const RecallView view = recallView(*s.agency(), s.lot, must(s.desk().movementsOfLot(s.lot)));
    ASSERT_EQ(view.homes.size(), 1U);
    EXPECT_EQ(view.homes.front().there, Eaches::of(7));
    EXPECT_EQ(view.gone, Eaches::of(2));
    EXPECT_EQ(view.notFound(), Eaches::of(1));
}

TEST(ArrivalStory, WithoutAWordAllOfItCameWhole) {
    ArrivalStory s;
    const DeliveryId id = s.sent(10);
    must(s.arrives(id, {}));
    EXPECT_EQ(s.atHome(), 10);
    EXPECT_TRUE(arrivedShort(s.delivery(id)).isEmpty());
    const DeliveryId said = s.sent(5);
    must(s.arrives(said, came(5, 0, 0, {})));
    EXPECT_EQ(s.atHome(), 15);
}

TEST(ArrivalStory, NumbersThatDoNotAddUpAndAReasonLeftOutAreRefused) {
    ArrivalStory s;
    const DeliveryId id = s.sent(10);
    const auto audit = s.auditLength();
    const Problem sum = refused(s.arrives(id, came(6, 2, 1, "torn")));
    EXPECT_EQ(sum.code, ProblemCode::Conflict);
    EXPECT_EQ(sum.field, "good");
    EXPECT_EQ(sum.row, 1);
    ASSERT_EQ(sum.args.size(), 4U);
    EXPECT_EQ(sum.args[0], "arrived_not_packed");
    EXPECT_EQ(sum.args[2], "10");
    EXPECT_EQ(sum.args[3], "9");
    EXPECT_EQ(refused(s.arrives(id, came(11, -1, 0, "torn"))).code, ProblemCode::Negative);
    EXPECT_EQ(refused(s.arrives(id, came(9, 0, 1, {}))).field, "why");
    Arrived twoLines = came(10, 0, 0, {});
    twoLines.lines.push_back({});
    EXPECT_EQ(refused(s.arrives(id, twoLines)).code, ProblemCode::ChangedMeanwhile);
    EXPECT_EQ(s.auditLength(), audit) << "nothing is written of what was refused";
    EXPECT_EQ(s.delivery(id).status, DeliveryStatus::InTransit);
    EXPECT_EQ(s.atHome(), 0);
}

TEST(ArrivalStory, TheForecastSeesWhatTrulyArrived) {
    ArrivalStory s;
    s.order(s.home, test::everyDays(1, Date::of(2026, 2, 2)), Date::of(2026, 2, 2), s.kit500);
    s.count(s.home, s.kit500, 3, at(kMonday, 7));
    const DeliveryId id = s.sent(30);
    must(s.arrives(id, came(1, 0, 29, "nearly all of it is missing")));
    const auto stock = must(computeStock(s.agency(), {}, {}));
    const auto rows = homeRows(*stock);
    const auto row = std::ranges::find(rows, s.home.patient, &HomeRow::patient);
    ASSERT_NE(row, rows.end());
    EXPECT_EQ(row->onHand, Eaches::of(3 + 1));
    EXPECT_TRUE(std::ranges::any_of(stock->refills, [&](const supply::RefillProposal &p) {
        return p.patient == s.home.patient;
    })) << "it is still owed its supplies";
}

TEST(ArrivalStory, OutOfANursesCarNothingStaysBehindInTheBooks) {
    ArrivalStory s;
    const DeliveryId id = must(s.desk().pick(s.promise(s.home, s.kit500, 6, kMonday, s.nurse).id)).id;
    must(s.arrives(id, came(4, 1, 1, "crushed in the car")));
    EXPECT_EQ(s.atHome(), 4);
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches{});
    EXPECT_EQ(s.total(s.kit500), Eaches::of(40 - 2));
}

TEST(ArrivalStory, HowItArrivedIsPutRightByContraryMovements) {
    ArrivalStory s;
    const DeliveryId id = s.sent(10);
    EXPECT_EQ(firstArg(refused(s.correct(id, came(9, 0, 1, "not in the box")))), "not_delivered");
    must(s.arrives(id, came(7, 2, 1, "box was torn")));
    EXPECT_EQ(firstArg(refused(s.correct(id, came(7, 2, 1, "again")))), "already");
    EXPECT_EQ(refused(s.correct(id, came(10, 0, 0, {}))).field, "why");
    EXPECT_EQ(
        refused(s.desk().correctArrival(id, s.delivery(id).rowVersion - 1, came(10, 0, 0, "found"))).code,
        ProblemCode::ChangedMeanwhile);
    s.now(at(kMonday, 12));
    must(s.correct(id, came(8, 2, 0, "it was in the bag")));
    EXPECT_EQ(s.atHome(), 8);
    EXPECT_EQ(s.leftTo(PlaceKind::Variance, id), 0);
    EXPECT_EQ(s.leftTo(PlaceKind::Wasted, id), 2);
    must(s.correct(id, came(10, 0, 0, "only the carton was torn")));
    EXPECT_EQ(s.atHome(), 10);
    EXPECT_EQ(s.total(s.kit500), Eaches::of(40));
    EXPECT_TRUE(arrivedShort(s.delivery(id)).isEmpty());
    EXPECT_EQ(must(s.desk().check({}, {})), Problems{});
}

TEST(ArrivalStory, ACountMadeSinceStaysTrueWhenTheArrivalIsPutRight) {
    ArrivalStory s;
    const DeliveryId id = s.sent(10);
    must(s.arrives(id, came(7, 2, 1, "box was torn")));
    s.now(at(kMonday, 12));
    s.count(s.home, s.kit500, 8, at(kMonday, 11));
    ASSERT_EQ(s.atHome(), 8);
    must(s.correct(id, came(8, 2, 0, "it was in the bag")));
    EXPECT_EQ(s.atHome(), 8) << "somebody counted";
    EXPECT_EQ(s.balance(Place::transit(id), s.kit500), Eaches{});
}

TEST(ArrivalStory, TwoCathetersOfOneParcelAreEachToldForThemselves) {
    ArrivalStory s;
    const auto left = s.addCatheter(s.home, CavitySite::Chest, Side::Left);
    Delivery both;
    both.patient = s.home.patient;
    both.contact = s.contact(s.home).id;
    both.promisedFor = kMonday;
    both.lines = {{s.home.catheter, s.kit500, std::nullopt, Eaches::of(5)},
                  {left.catheter, s.kit500, std::nullopt, Eaches::of(4)}};
    const DeliveryId id = must(s.desk().ship(must(s.desk().pick(must(s.desk().promise(both)).id)).id)).id;
    ASSERT_EQ(s.delivery(id).lines.size(), 2U);
    Arrived arrived = came(5, 0, 0, "one lay open");
    arrived.lines.push_back({Eaches::of(3), Eaches::of(1), {}});
    must(s.arrives(id, arrived));
    EXPECT_EQ(s.atHome(), 5);
    EXPECT_EQ(s.balance(Place::home(left.catheter), s.kit500), Eaches::of(3));
    arrived.lines[0] = {Eaches::of(4), {}, Eaches::of(1)};
    must(s.correct(id, arrived));
    EXPECT_EQ(s.atHome(), 4);
    EXPECT_EQ(s.balance(Place::home(left.catheter), s.kit500), Eaches::of(3));
    EXPECT_EQ(s.leftTo(PlaceKind::Wasted, id), 1);
    EXPECT_EQ(s.leftTo(PlaceKind::Variance, id), 1);
}

TEST(ArrivalStory, LotsOfAParcelThatArrivedShortWaitUntilItIsWhole) {
    ArrivalStory s;
    const LotId other = s.receive(s.kit500, "L2", 20, kFarOff.plusDays(30));
    const DeliveryId id = s.sent(10);
    must(s.arrives(id, came(9, 1, 0, "torn")));
    const auto taken = [&] {
        return LotsTaken{id,
                         s.delivery(id).rowVersion,
                         {{s.home.catheter, s.kit500, other, Eaches::of(10)}},
                         "at the back"};
    };
    EXPECT_EQ(firstArg(refused(s.desk().correctLots(taken()))), "arrived_short");
    must(s.correct(id, came(10, 0, 0, "to put the lot right")));
    must(s.desk().correctLots(taken()));
    must(s.correct(id, came(9, 1, 0, "torn")));
    EXPECT_EQ(s.atHome(), 9);
    EXPECT_EQ(s.total(s.kit500), Eaches::of(60 - 1));
}

TEST(ArrivalStory, ACancelledParcelMayStayInTheCarAsItsStock) {
    ArrivalStory s;
    const DeliveryId carried = must(s.desk().pick(s.promise(s.home, s.kit500, 6, kMonday, s.nurse).id)).id;
    EXPECT_EQ(supply::looseInCar(s.index(), s.nurse, s.kit500, s.lot), Eaches{});
    must(s.desk().cancelDelivery(carried, "not wanted", CameBack::InCar));
    EXPECT_EQ(s.delivery(carried).status, DeliveryStatus::Cancelled);
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(34));
    EXPECT_EQ(supply::looseInCar(s.index(), s.nurse, s.kit500, s.lot), Eaches::of(6));
    EXPECT_EQ(firstArg(refused(s.desk().cancelDelivery(s.sent(3), "not wanted", CameBack::InCar))),
              "not_in_car");
}

} // namespace
} // namespace kitround::desk
