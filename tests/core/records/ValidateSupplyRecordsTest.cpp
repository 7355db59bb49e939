#include "tests/core/records/BadRecords.h"

namespace kitround {
namespace {

using test::expectAllowed;
using test::expectEachNamed;
using enum ProblemCode;

const Date kDay = Date::of(2026, 3, 2);
const LocalTime kNine{kDay, Minutes::of(540)};

TEST(ValidateTest, RecallOutcome) {
    RecallOutcome good;
    good.lot = LotId(1);
    good.catheter = CatheterId(1);
    good.at = kNine;
    good.toldBy = "Ada Planner";
    good.spokeWith = "the daughter";
    good.answer = RecallAnswer::SetAside;
    good.setAside = Eaches::of(4);
    expectEachNamed<RecallOutcome>(
        good,
        {{"no lot", [](RecallOutcome &o) { o.lot = {}; }, Missing, "lot_id"},
         {"no home", [](RecallOutcome &o) { o.catheter = {}; }, Missing, "catheter_id"},
         {"nobody told", [](RecallOutcome &o) { o.toldBy = " "; }, Missing, "told_by"},
         {"reached nobody", [](RecallOutcome &o) { o.spokeWith.clear(); }, Missing, "spoke_with"},
         {"less than none", [](RecallOutcome &o) { o.replaced = Eaches::of(-1); }, Negative, "replaced"},
         {"none left and some set aside", [](RecallOutcome &o) { o.answer = RecallAnswer::NoneLeft; },
          Conflict, "set_aside"}});
    expectAllowed<RecallOutcome>(good, "nobody answered", [](RecallOutcome &o) {
        o.answer = RecallAnswer::NoAnswer;
        o.spokeWith.clear();
        o.setAside = {};
    });
}

TEST(ValidateTest, Substitution) {
    Substitution good;
    good.catheter = CatheterId(1);
    good.item = ItemId(2);
    good.standIn = ItemId(1);
    good.approvedBy = "Dr Reed (invented)";
    good.approvedOn = kDay;
    good.taughtBy = "B. Birch";
    good.taughtOn = kDay;
    good.from = kDay;
    good.revertOn = kDay.plusDays(14);
    expectEachNamed<Substitution>(
        good, {{"nobody approved", [](Substitution &s) { s.approvedBy.clear(); }, Missing, "approved_by"},
               {"nobody taught", [](Substitution &s) { s.taughtBy.clear(); }, Missing, "taught_by"},
               {"for itself", [](Substitution &s) { s.standIn = s.item; }, Conflict, "stand_in_item_id"},
               {"before the yes", [](Substitution &s) { s.approvedOn = kDay.plusDays(1); }, EndBeforeStart,
                "from_on"},
               {"without an end", [](Substitution &s) { s.revertOn = s.from; }, EndBeforeStart, "revert_on"},
               {"back before it began", [](Substitution &s) { s.revertedOn = kDay.plusDays(-1); },
                EndBeforeStart, "reverted_on"}});
    EXPECT_FALSE(isInForce(good, kDay.plusDays(-1)));
    EXPECT_TRUE(isInForce(good, kDay.plusDays(13)));
    EXPECT_FALSE(isInForce(good, kDay.plusDays(14))) << "that day the ordered item goes again";
    good.revertedOn = kDay.plusDays(3);
    EXPECT_FALSE(isInForce(good, kDay.plusDays(1)));
}

TEST(ValidateTest, ShortageActionHomeReturnAndCarPar) {
    ShortageAction action;
    action.item = ItemId(1);
    action.action = "ring the second supplier";
    action.owner = "Ada Planner";
    action.openedAt = kNine;
    expectEachNamed<ShortageAction>(
        action, {{"nothing done", [](ShortageAction &a) { a.action.clear(); }, Missing, "action"},
                 {"nobody's", [](ShortageAction &a) { a.owner.clear(); }, Missing, "owner"},
                 {"closed without an outcome", [](ShortageAction &a) { a.closedAt = a.openedAt; }, Missing,
                  "outcome"}});
    HomeReturn back;
    back.catheter = CatheterId(1);
    back.item = ItemId(1);
    back.at = kNine;
    back.quantity = Eaches::of(3);
    back.decidedBy = "Ada Planner";
    expectEachNamed<HomeReturn>(
        back, {{"nothing", [](HomeReturn &r) { r.quantity = {}; }, OutOfRange, "quantity"},
               {"more sealed than there are", [](HomeReturn &r) { r.sealed = Eaches::of(4); }, OutOfRange,
                "sealed"},
               {"nobody decided", [](HomeReturn &r) { r.decidedBy.clear(); }, Missing, "decided_by"},
               {"a gain", [](HomeReturn &r) { r.writeOff = Money::of(-1); }, Negative, "write_off_minor"}});
    CarPar par;
    par.nurse = NurseId(1);
    par.item = ItemId(1);
    par.par = Eaches::of(2);
    expectEachNamed<CarPar>(par,
                            {{"no nurse", [](CarPar &p) { p.nurse = {}; }, Missing, "nurse_id"},
                             {"no item", [](CarPar &p) { p.item = {}; }, Missing, "item_id"},
                             {"below none", [](CarPar &p) { p.par = Eaches::of(-1); }, Negative, "par"}});
}

} // namespace
} // namespace kitround
