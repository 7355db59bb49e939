// The clerk's month: closing the books, what that refuses, the budget, stock taken out, first deliveries.
#include "core/desk/paper/ClerkPapers.h"
#include "core/desk/views/MonthView.h"
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/Words.h"
#include "core/supply/StartUps.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const Date kMarch = Date::of(2026, 3, 1);
const Date kApril = Date::of(2026, 4, 1);

ReceiveRecord arrival(const Story &s, std::int64_t eaches, LocalTime when) {
    ReceiveRecord record;
    record.supplier = s.supplier;
    record.packingSlip = "slip";
    record.at = when;
    record.lines.push_back({s.kit500, "A1", kMonday.plusDays(400), Eaches::of(eaches), {}, false});
    return record;
}
const MonthLine *lineOf(const MonthClose &close, ItemId item) {
    const auto found = std::ranges::find(close.lines, item, &MonthLine::item);
    return found == close.lines.end() ? nullptr : &*found;
}

TEST(MonthStory, AClosedMonthKeepsItsFiguresAndTakesNoMoreStock) {
    Story s;
    const Story::Home home = s.addHome("H1");
    s.order(home, test::everyDays(2, kMonday), kMonday, s.kit500);
    must(s.desk().receive(arrival(s, 100, at(kMonday, 8))));
    s.now(at(kMonday, 9));
    const Delivery sent = s.promise(home, s.kit500, 20, kMonday.plusDays(1));
    must(s.desk().pick(sent.id));
    must(s.desk().ship(sent.id));
    s.now(at(kMonday.plusDays(1), 12));
    must(s.desk().deliver(sent.id, at(kMonday.plusDays(1), 11), "A Relative", "relative"));
    s.drain(home, at(kMonday.plusDays(1), 11, 30), 300, s.kit500);

    EXPECT_EQ(firstArg(refused(s.desk().closeMonth(kMarch))), "month_running");
    s.now(at(kApril.plusDays(2), 9));
    const MonthClose close = must(s.desk().closeMonth(Date::of(2026, 3, 17)));
    EXPECT_EQ(close.month, kMarch);
    EXPECT_FALSE(close.closedBy.empty());
    const MonthLine *line = lineOf(close, s.kit500);
    ASSERT_TRUE(line);
    EXPECT_EQ(line->received, Eaches::of(100));
    EXPECT_EQ(line->issued, Eaches::of(20));
    EXPECT_EQ(line->closing, Eaches::of(80));
    EXPECT_EQ(line->homeUsed, Eaches::of(1));
    EXPECT_GT(close.patientDays, 0);

    // Nothing of the agency's stock is dated into it; the field the form knows is named, and the remedy.
    const Problem late = refused(s.desk().receive(arrival(s, 10, at(Date::of(2026, 3, 30), 9))));
    EXPECT_EQ(late.code, ProblemCode::NotAllowed);
    EXPECT_EQ(late.field, "received_at");
    EXPECT_EQ(late.args, (std::vector<std::string>{"month_closed", "2026-04-01"}));
    EXPECT_TRUE(words(late).contains(QStringLiteral("Wed 1 Apr 2026"))) << words(late).toStdString();
    HomeCount count;
    count.catheter = home.catheter;
    count.item = s.kit500;
    count.at = at(Date::of(2026, 3, 31), 9);
    EXPECT_EQ(firstArg(refused(s.desk().countHome(count))), "month_closed");
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(80)) << "a refusal leaves nothing behind";

    // The correction goes into the open month.
    must(s.desk().receive(arrival(s, 10, at(kApril.plusDays(1), 9))));
    EXPECT_EQ(must(s.desk().monthBooks(kMarch)).close, close) << "as it was closed";
    EXPECT_EQ(lineOf(must(s.desk().monthBooks(kApril)).close, s.kit500)->received, Eaches::of(10));
}

TEST(MonthStory, ReadingAMonthEndsWhenItIsAskedToStop) {
    Story s;
    EXPECT_TRUE(readMonthBooks(s.desk().path(), *s.agency(), kMarch));
    std::stop_source asked;
    asked.request_stop();
    EXPECT_EQ(refused(readMonthBooks(s.desk().path(), *s.agency(), kMarch, asked.get_token())).code,
              ProblemCode::Cancelled);
}

TEST(MonthStory, ADrainOfAClosedMonthIsLoggedAndItsSupplyBookedInTheOpenOne) {
    Story s;
    const Story::Home home = s.addHome("H1");
    s.order(home, test::everyDays(2, kMonday), kMonday, s.kit500);
    s.count(home, s.kit500, 10, at(kMonday, 7));
    s.now(at(kApril.plusDays(2), 9));
    must(s.desk().closeMonth(kMarch));
    const auto logged = s.drain(home, at(Date::of(2026, 3, 20), 9), 300, s.kit500);
    EXPECT_EQ(logged.entry.at, at(Date::of(2026, 3, 20), 9)) << "what happened keeps its day";
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(9));
    const auto moved = must(s.desk().movementsAt(Place::home(home.catheter), s.kit500)).back();
    EXPECT_EQ(moved.at, at(kApril, 0));
    EXPECT_NE(moved.note.find("2026-03-20"), std::string::npos);
    // Struck out again: nothing is left of it.
    must(s.desk().voidDrain(logged.entry.id, "typed twice"));
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(10));
    // A count made in April stays true whatever March brings afterwards.
    s.count(home, s.kit500, 7, at(kApril.plusDays(1), 8));
    s.drain(home, at(Date::of(2026, 3, 22), 9), 300, s.kit500);
    EXPECT_EQ(s.balance(Place::home(home.catheter), s.kit500), Eaches::of(7));
}

TEST(MonthStory, OpeningAgainNeedsAReasonAndIsInTheRecordOfChanges) {
    Story s;
    must(s.desk().receive(arrival(s, 100, at(kMonday, 8))));
    s.now(at(kApril.plusDays(35), 9));
    must(s.desk().closeMonth(kMarch));
    EXPECT_EQ(firstArg(refused(s.desk().closeMonth(kMarch))), "already");
    EXPECT_EQ(firstArg(refused(s.desk().reopenMonth(kApril, "x"))), "not_closed");
    must(s.desk().closeMonth(kApril));
    EXPECT_EQ(firstArg(refused(s.desk().reopenMonth(kMarch, "a slip was found"))), "reopen_last_first");
    must(s.desk().reopenMonth(kApril, "to get at March"));
    EXPECT_EQ(refused(s.desk().reopenMonth(kMarch, "")).field, "reopen_reason");
    must(s.desk().reopenMonth(kMarch, "a slip was found"));
    const auto entries = must(s.desk().audit(5, "month_close"));
    ASSERT_FALSE(entries.empty());
    EXPECT_NE(entries.front().after.find("a slip was found"), std::string::npos);
    must(s.desk().receive(arrival(s, 10, at(Date::of(2026, 3, 30), 9))));
    const MonthClose again = must(s.desk().closeMonth(kMarch));
    EXPECT_EQ(lineOf(again, s.kit500)->received, Eaches::of(110));
    EXPECT_EQ(firstArg(refused(s.desk().closeMonth(Date::of(2026, 5, 1)))), "month_running");
}

TEST(MonthStory, AnOrderBeyondTheBudgetNeedsANameThatIsNotTheClerks) {
    Story s;
    User clerk;
    clerk.name = "Invented Clerk";
    clerk.role = UserRole::SupplyClerk;
    s.desk().setUser(must(s.desk().save(clerk)).id);
    AgencySettings settings = s.agency()->settings();
    settings.set(SettingKey::SupplyBudgetMinor, 50000);
    must(s.desk().save(settings));
    PurchaseOrder order;
    order.supplier = s.supplier;
    order.lines.push_back(
        {s.kit500, Cases::of(4), {Eaches::of(10)}, Money::of(10000), {}, std::nullopt, "needed"});
    const PurchaseOrder first = must(s.desk().saveOrder(order)); // 400.00 of 500.00
    const Problem over = refused(s.desk().saveOrder(order));
    EXPECT_EQ(over.field, "approved_by");
    EXPECT_EQ(over.args, (std::vector<std::string>{"over_budget", "30000", "50000", "2026-03-01"}));
    EXPECT_TRUE(words(over).contains(QStringLiteral("Name who approved it"))) << words(over).toStdString();
    order.approvedBy = clerk.name;
    EXPECT_EQ(firstArg(refused(s.desk().saveOrder(order))), "approver_is_user");
    order.approvedBy = "Invented Manager";
    const PurchaseOrder second = must(s.desk().saveOrder(order));
    must(s.desk().sendOrder(first.id));
    EXPECT_EQ(must(s.desk().sendOrder(second.id)).approvedBy, "Invented Manager");
    order.approvedBy = "Invented Manager";
    PurchaseOrder third = must(s.desk().saveOrder(order));
    EXPECT_EQ(must(s.desk().sendOrder(third.id, "Another Manager")).approvedBy, "Another Manager");
}

TEST(MonthStory, StockIsTakenOutWithAReasonAndNeverFromAHome) {
    Story s;
    const Story::Home home = s.addHome("H1");
    s.count(home, s.kit500, 5, at(kMonday, 7));
    const LotId lot = s.receive(s.kit500, "A1", 30, kMonday.plusDays(400));
    StockRemoval removal{Place::storeroom(), s.kit500, lot, Eaches::of(31), RemovalWay::WriteOff, {}, "torn"};
    EXPECT_EQ(firstArg(refused(s.desk().takeOut(removal))), "too_few");
    removal.quantity = Eaches::of(4);
    removal.why.clear();
    EXPECT_EQ(refused(s.desk().takeOut(removal)).field, "why");
    removal.why = "torn";
    EXPECT_EQ(must(s.desk().takeOut(removal)).to, Place::wasted());
    removal.way = RemovalWay::ToSupplier;
    EXPECT_EQ(refused(s.desk().takeOut(removal)).field, "supplier_id");
    removal.supplier = s.supplier;
    EXPECT_EQ(must(s.desk().takeOut(removal)).to, Place::supplier(s.supplier));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(22));
    removal.way = RemovalWay::ToStoreroom;
    EXPECT_EQ(firstArg(refused(s.desk().takeOut(removal))), "not_from_there");
    must(s.desk().topUpCar(s.nurse, s.kit500, Eaches::of(6)));
    removal.from = Place::car(s.nurse);
    must(s.desk().takeOut(removal));
    EXPECT_EQ(s.balance(Place::storeroom(), s.kit500), Eaches::of(20));
    EXPECT_EQ(s.balance(Place::car(s.nurse), s.kit500), Eaches::of(2));
    removal.from = Place::home(home.catheter);
    removal.way = RemovalWay::WriteOff;
    EXPECT_EQ(firstArg(refused(s.desk().takeOut(removal))), "home_stock_stays");
}

TEST(MonthStory, AFirstDeliveryAndItsYesAreStoredTogetherOrNotAtAll) {
    Story s;
    const Story::Home home = s.addHome("H1");
    s.order(home, test::everyDays(2, kMonday.plusDays(4)), kMonday, s.kit500);
    RefillContact agreed;
    agreed.patient = home.patient;
    agreed.at = at(kMonday, 8);
    Delivery delivery;
    delivery.patient = home.patient;
    delivery.promisedFor = kMonday.plusDays(2);
    delivery.lines.push_back({home.catheter, s.kit500, std::nullopt, Eaches::of(5)});
    supply::StartUp start;
    start.patient = home.patient;
    start.catheter = home.catheter;
    start.lines.push_back({s.kit500, Eaches::of(5), std::nullopt, {}});
    start.firstDrain = kMonday.plusDays(4);
    start.deliverOn = kMonday.plusDays(3);
    EXPECT_EQ(refused(s.desk().promiseFirst(agreed, delivery, start, {})).field, "answered_by");
    agreed.answeredBy = "A Relative";
    delivery.lines.front().quantity = Eaches::of(-1);
    EXPECT_EQ(refused(s.desk().promiseFirst(agreed, delivery, start, {})).field, "quantity");
    EXPECT_TRUE(s.snapshot().refillContacts.empty()) << "no yes without its delivery";
    delivery.lines.front().quantity = Eaches::of(5);
    const Delivery stored = must(s.desk().promiseFirst(agreed, delivery, start, {}));
    EXPECT_EQ(stored.status, DeliveryStatus::Promised);
    EXPECT_TRUE(stored.contact);
    EXPECT_TRUE(s.snapshot().refillContacts.back().note.empty()) << "as proposed, no reason is owed";

    // More than the starter set, or a day after the first drain, wants its reason, kept with the yes.
    delivery.lines.front().quantity = Eaches::of(50);
    EXPECT_EQ(refused(s.desk().promiseFirst(agreed, delivery, start, {})).field, "why_more");
    delivery.promisedFor = kMonday.plusDays(4);
    EXPECT_EQ(refused(s.desk().promiseFirst(agreed, delivery, start, {"two weeks away", {}, {}})).field,
              "why_day");
    must(s.desk().promiseFirst(agreed, delivery, start, {"two weeks away", "has some from the ward", {}}));
    const std::string &note = s.snapshot().refillContacts.back().note;
    EXPECT_NE(note.find("two weeks away"), std::string::npos) << note;
    EXPECT_NE(note.find("has some from the ward"), std::string::npos) << note;
    start.deliverOn = kMonday.plusDays(4); // nothing comes sooner: then that day owes no reason
    start.isLate = true;
    EXPECT_FALSE(supply::comesAfterFirstDrain(start, delivery));
}

TEST(MonthStory, ThePapersSayWhatTheyRestOnAndNoRuleOfOurs) {
    Story s;
    const Story::Home home = s.addHome("H1");
    must(s.desk().receive(arrival(s, 100, at(kMonday, 8))));
    s.now(at(kMonday, 9));
    const Delivery sent = s.promise(home, s.kit500, 5, kMonday.plusDays(1));
    const auto textOf = [](const Paper &paper) {
        QString text = paper.title + u' ' + paper.subtitle;
        for (const Paper::Section &section : paper.sections)
            text += u' ' + section.heading + u' ' + section.lines.join(u' ');
        return text;
    };
    EXPECT_TRUE(textOf(deliverySlip(*s.agency(), sent)).contains(QStringLiteral("has named no sheet")));
    AgencySettings settings = s.agency()->settings();
    settings.usedBottleRules = "Sheet 12 of the invented county";
    must(s.desk().save(settings));
    EXPECT_TRUE(textOf(deliverySlip(*s.agency(), sent)).contains(QStringLiteral("Sheet 12")));
    const QString month = textOf(monthPaper(*s.agency(), must(s.desk().monthBooks(kMarch))));
    EXPECT_TRUE(month.contains(QStringLiteral("Mar 2026")));
    EXPECT_TRUE(month.contains(QStringLiteral("last price paid")));
    EXPECT_TRUE(month.contains(QStringLiteral("days away without draining are taken out")));
}

} // namespace
} // namespace kitround::desk
