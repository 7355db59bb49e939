// The views on tiny invented agencies, from the engines up: what the clerk, the coordinator and the start
// page see.
#include "core/desk/views/Attention.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/views/ReorderEdits.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/StoreroomItem.h"
#include "core/desk/views/WeekView.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/views/ThreeHomes.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace kitround::desk {
namespace {

using namespace three_homes;

std::size_t rowOf(const std::vector<HomeRow> &rows, PatientId patient) {
    return static_cast<std::size_t>(std::ranges::find(rows, patient, &HomeRow::patient) - rows.begin());
}

TEST(StockViewTest, DryHomesComeFirstThenUnknownOnesThenSafeOnes) {
    const Three three;
    const auto stock = stockOf(three.build());
    const auto rows = homeRows(*stock);
    EXPECT_LT(rowOf(rows, three.dry.patient), rowOf(rows, three.unknown.patient));
    EXPECT_LT(rowOf(rows, three.unknown.patient), rowOf(rows, three.full.patient));
}

TEST(StockViewTest, WhatIsPromisedIsToldWithItsNumberAndDay) {
    Three three;
    three.agency.delivery(three.dry, SmallAgency::kKit500, 6, kToday.plusDays(1), DeliveryStatus::Promised)
        .delivery(three.dry, SmallAgency::kKit500, 5, kToday.plusDays(1), DeliveryStatus::Promised)
        .delivery(three.dry, SmallAgency::kKit500, 3, kToday.plusDays(3), DeliveryStatus::Promised)
        .delivery(three.full, SmallAgency::kKit500, 4, kToday.plusDays(1), DeliveryStatus::InTransit);
    const auto stock = stockOf(three.build());
    for (const HomeRow &row : homeRows(*stock)) {
        const bool isPromised = row.patient == three.dry.patient && row.item == SmallAgency::kKit500;
        EXPECT_EQ(row.promised, isPromised
                                    ? QStringLiteral("11 promised for Tue 3 Mar and 3 promised for Thu 5 Mar")
                                    : QString());
    }
}

TEST(StockViewTest, UnknownStockIsBlankInTheTableAndNeverZero) {
    const Three three;
    const Table table = forecastTable(*stockOf(three.build()));
    std::size_t stockIs = 0, onHand = 0, runOut = 0;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        if (table.columns[c].key == "stock_is")
            stockIs = c;
        if (table.columns[c].key == "on_hand")
            onHand = c;
        if (table.columns[c].key == "run_out_p10")
            runOut = c;
    }
    int unknown = 0;
    for (const auto &row : table.rows) {
        ASSERT_EQ(row.size(), table.columns.size());
        if (row[stockIs] != "unknown")
            continue;
        ++unknown;
        EXPECT_EQ(row[onHand], "");
        EXPECT_EQ(row[runOut], "");
    }
    EXPECT_GE(unknown, 1);
}

TEST(StockViewTest, AStopAskedForBeforehandGivesCancelled) {
    std::stop_source stop;
    stop.request_stop();
    const auto stock = computeStock(Three().build(), stop.get_token(), {});
    ASSERT_FALSE(stock);
    EXPECT_EQ(stock.error().code, ProblemCode::Cancelled);
}

TEST(StockViewTest, DraftOrdersSayWhatTheReorderListSays) {
    const auto stock = stockOf(Three().build());
    ASSERT_FALSE(stock->reorders.empty());
    std::size_t listed = 0, drafted = 0;
    for (const auto &reorder : stock->reorders)
        for (const auto &line : reorder.lines)
            listed += reorder.supplier.isSet() && line.cases.count() > 0 ? 1U : 0U;
    for (const PurchaseOrder &order : draftOrders(*stock)) {
        EXPECT_EQ(order.status, PurchaseStatus::Draft);
        EXPECT_FALSE(order.number.empty());
        EXPECT_FALSE(order.id.isSet());
        for (const PurchaseLine &line : order.lines) {
            ++drafted;
            const auto reorder =
                std::ranges::find(stock->reorders, order.supplier, &supply::SupplierReorder::supplier);
            ASSERT_NE(reorder, stock->reorders.end());
            const auto wanted = std::ranges::find(reorder->lines, line.item, &supply::ReorderLine::item);
            ASSERT_NE(wanted, reorder->lines.end());
            EXPECT_EQ(line.cases, wanted->cases);
            EXPECT_EQ(line.pack, wanted->pack);
            EXPECT_EQ(line.perCase, wanted->perCase);
            EXPECT_EQ(QString::fromStdString(line.reason), reason(*wanted, stock->agency->index()));
        }
    }
    EXPECT_EQ(drafted, listed);
    EXPECT_GE(drafted, 1U);
}

TEST(StockViewTest, OrdersAreNumberedByYearAfterTheHighest) {
    Three three;
    const auto first = draftOrders(*stockOf(three.build()));
    ASSERT_FALSE(first.empty());
    EXPECT_EQ(first[0].number, "PO-2026-0001");
    three.agency.edit([&](Snapshot &s) {
        for (const char *number : {"PO-2026-0041", "PO-2025-0900", "PO-2026-0099X", "1040",
                                   "PO-2026-9223372036854775807", "PO-2026-9223372036854775808"}) {
            PurchaseOrder old = first[0];
            old.id = PurchaseOrderId(900 + std::ssize(s.purchaseOrders));
            old.number = number;
            old.status = PurchaseStatus::Cancelled;
            s.purchaseOrders.push_back(old);
        }
    });
    std::string next = "PO-2026-0042";
    for (const PurchaseOrder &draft : draftOrders(*stockOf(three.build()))) {
        EXPECT_EQ(draft.number, next);
        next.back() = static_cast<char>(next.back() + 1);
    }
    EXPECT_NE(next, "PO-2026-0042");
}

TEST(StockViewTest, WhatWantsAPersonComesFirstInTheStoreroom) {
    const auto row = [](const char *code) {
        StoreroomRow r;
        r.code = QString::fromLatin1(code);
        return r;
    };
    std::vector<StoreroomRow> rows{row("A"), row("B"), row("C"), row("D"), row("E")};
    rows[1].isToReorder = true;
    rows[2].mayRunShort = true;
    rows[2].chanceShort = 0.2;
    rows[3].mayRunShort = true;
    rows[3].chanceShort = 0.6;
    rows[4].hasRecall = true;
    sortByRisk(rows);
    QString order;
    for (const StoreroomRow &r : rows)
        order += r.code;
    EXPECT_EQ(order, QStringLiteral("EDCBA"));
}

TEST(StockViewTest, StoreroomRowsNeverDivideByNoDemand) {
    const auto stock = stockOf(Three().build());
    for (const StoreroomRow &row : storeroomRows(*stock)) {
        EXPECT_GE(row.daysOfStock, 0) << row.code.toStdString();
        EXPECT_LE(row.daysOfStock, 999) << row.code.toStdString();
    }
}

TEST(StockViewTest, AnItemThatMayRunOutBeforeItsReceiptIsMarkedWhetherItIsToBeOrderedOrNot) {
    const auto stock = stockOf(Three().build());
    int marked = 0;
    for (const StoreroomRow &row : storeroomRows(*stock)) {
        EXPECT_GE(row.chanceShort, 0);
        EXPECT_LE(row.chanceShort, 1);
        if (!stock->agency->index().item(row.item)->isActive)
            continue;
        EXPECT_TRUE(row.orderUpTo) << row.code.toStdString();
        EXPECT_TRUE(row.nextReceipt) << row.code.toStdString();
        if (row.mayRunShort) {
            EXPECT_GT(row.chanceShort, 0);
            ++marked;
        }
        const bool isAskedFor = row.weeklyMean > 0;
        EXPECT_TRUE(isAskedFor || !row.mayRunShort) << "nobody asks for it: " << row.code.toStdString();
    }
    EXPECT_GE(marked, 1) << "five pieces on the shelf, and one home that is dry";
}

TEST(StockViewTest, WhatIsMissingIsNeverANegativeNumberOfPieces) {
    EXPECT_EQ(leftText(12505), QStringLiteral("12,505"));
    EXPECT_EQ(leftText(-0.4), QStringLiteral("0"));
    EXPECT_EQ(leftText(-966), QStringLiteral("short by 966"));
    const auto agency = Three().build();
    const auto weeks = storeroomWeeks(*agency, Eaches::of(100), {80, 80}, {}, {{60, 110}, {120, 200}});
    ASSERT_EQ(weeks.size(), 2U);
    EXPECT_EQ(weeks[0].left, 20);
    EXPECT_EQ(weeks[0].leftLow, -10) << "100 less what is asked for 1 time in 10";
    EXPECT_EQ(weeks[0].leftHigh, 40);
    EXPECT_EQ(weeks[1].left, -60);
    EXPECT_EQ(weeks[1].leftLow, -100);
    EXPECT_EQ(weeks[1].leftHigh, -20);
    for (const auto &[item, outlook] : itemOutlooks(*stockOf(agency))) {
        ASSERT_EQ(outlook.bands.size(), outlook.demand.size());
        for (const DemandBand &band : outlook.bands)
            EXPECT_LE(band.p10, band.p90);
    }
}

TEST(StockViewTest, AnEmptyReorderListSaysWhatIsStillToBeSetUp) {
    Three three;
    EXPECT_TRUE(nothingToOrderText(*three.build()).startsWith(QStringLiteral("Nothing needs")));
    three.agency.edit([](Snapshot &s) { s.supplierItems.clear(); });
    EXPECT_TRUE(nothingToOrderText(*three.build()).contains(QStringLiteral("offer")));
    three.agency.edit([](Snapshot &s) { s.items.clear(); });
    EXPECT_TRUE(nothingToOrderText(*three.build()).contains(QStringLiteral("enter items")));
}

TEST(StockViewTest, APurchaseOrderIsATableOfItsLines) {
    const auto stock = stockOf(Three().build());
    const auto drafts = draftOrders(*stock);
    ASSERT_FALSE(drafts.empty());
    const Table table = purchaseOrderTable(*stock->agency, drafts[0]);
    ASSERT_EQ(table.rows.size(), drafts[0].lines.size());
    for (const auto &row : table.rows) {
        EXPECT_EQ(row.size(), table.columns.size());
        EXPECT_EQ(row[0], drafts[0].number);
    }
}

const AttentionItem *find(const std::vector<AttentionItem> &items, AttentionKind kind,
                          std::optional<PatientId> patient = {}) {
    for (const AttentionItem &i : items)
        if (i.kind == kind && (!patient || i.patient == patient))
            return &i;
    return nullptr;
}

TEST(AttentionTest, IsOrderedByHarmAndEveryLineSaysWhatAndWhatToDo) {
    Three three;
    three.agency.edit([&](Snapshot &s) {
        CallItem call;
        call.id = CallItemId(5);
        call.patient = three.full.patient;
        call.kind = CautionKind::SymptomEmergency;
        call.urgency = CautionUrgency::Emergency;
        call.evidence = {"collapse"};
        call.raisedAt = s.now;
        s.callItems.push_back(call);
        call.id = CallItemId(6);
        call.status = CallItemStatus::Closed;
        s.callItems.push_back(call);
    });
    const auto agency = three.build();
    const auto stock = stockOf(agency);
    const auto week = weekOf(agency, *stock);
    const auto items = attention(*agency, stock.get(), week.get());
    ASSERT_FALSE(items.empty());
    EXPECT_EQ(items[0].harm, Harm::Emergency);
    EXPECT_EQ(items[0].callItem, CallItemId(5));
    EXPECT_TRUE(std::ranges::is_sorted(items, {}, &AttentionItem::harm));
    for (const AttentionItem &i : items) {
        EXPECT_FALSE(i.title.isEmpty());
        EXPECT_FALSE(i.detail.isEmpty()) << i.title.toStdString();
        EXPECT_NE(i.callItem, CallItemId(6)) << "a closed call is still listed";
    }
    EXPECT_NE(find(items, AttentionKind::RunOut, three.dry.patient), nullptr);
    EXPECT_EQ(find(items, AttentionKind::RunOut, three.full.patient), nullptr);
    EXPECT_NE(find(items, AttentionKind::UnknownStock, three.unknown.patient), nullptr);
    EXPECT_EQ(find(items, AttentionKind::UnknownStock, three.full.patient), nullptr);
}

TEST(AttentionTest, UnknownFactsAreListedUntilTheyAreKnown) {
    Three three;
    three.agency.edit([&](Snapshot &s) {
        for (Patient &p : s.patients)
            p.address.point = p.id == three.dry.patient ? std::nullopt : std::optional(GeoPoint{40.1, -75.2});
        for (Catheter &c : s.catheters)
            c.insertedOn =
                c.patient == three.full.patient ? std::nullopt : std::optional(kToday.plusDays(-60));
    });
    const auto agency = three.build();
    const auto items = attention(*agency, nullptr, nullptr);
    const AttentionItem *where = find(items, AttentionKind::UnknownFact, three.dry.patient);
    ASSERT_NE(where, nullptr);
    EXPECT_TRUE(where->detail.contains(QStringLiteral("coordinates")));
    EXPECT_NE(find(items, AttentionKind::UnknownFact, three.full.patient), nullptr);
    EXPECT_EQ(find(items, AttentionKind::UnknownFact, three.unknown.patient), nullptr);
    EXPECT_EQ(find(items, AttentionKind::RunOut), nullptr) << "no stock picture was given";
}

TEST(AttentionTest, WhoWasNotAskedAboutAllergiesStandsInOneLine) {
    Three three;
    const auto titles = [&] {
        QStringList found;
        for (const AttentionItem &item : attention(*three.build(), nullptr, nullptr))
            if (item.title.contains(QStringLiteral("allergies")))
                found << item.title;
        return found;
    };
    EXPECT_TRUE(titles().isEmpty()) << "asked, and none known";
    three.agency.edit([&](Snapshot &s) {
        for (Patient &p : s.patients)
            p.noAllergiesOn.reset();
        s.patients.front().allergies = {Material::Latex};
    });
    EXPECT_EQ(titles(), QStringList{QStringLiteral("2 patients were not asked about allergies")});
    three.agency.edit([&](Snapshot &s) { s.patients[1].status = CareStatus::Discharged; });
    ASSERT_EQ(titles().size(), 1);
    EXPECT_TRUE(titles().front().startsWith(QStringLiteral("Was "))) << titles().front().toStdString();
}

TEST(AttentionTest, ClocksAndPaperworkComeUpWhenTheyAreDue) {
    Three three;
    three.agency.hold(three.full, kToday.plusDays(-9), std::nullopt, kToday.plusDays(-1));
    three.agency.delivery(three.dry, SmallAgency::kKit500, 10, kToday.plusDays(-1), DeliveryStatus::Promised);
    three.agency.edit([&](Snapshot &s) {
        s.drainOrders[0].isVerbal = true;
        s.drainOrders[0].signedOn.reset();
        s.nurses[0].skills[0].expiresOn = kToday.plusDays(3);
        PurchaseOrder late;
        late.id = PurchaseOrderId(70);
        late.number = "L-1";
        late.supplier = SmallAgency::kSupplier;
        late.status = PurchaseStatus::Sent;
        late.orderedOn = kToday.plusDays(-12);
        late.expectedOn = kToday.plusDays(-2);
        s.purchaseOrders.push_back(late);
    });
    const auto agency = three.build();
    const auto items = attention(*agency, nullptr, nullptr);
    for (const AttentionKind kind :
         {AttentionKind::HoldOverdue, AttentionKind::DeliveryDue, AttentionKind::UnsignedOrder,
          AttentionKind::SkillExpiring, AttentionKind::OrderLate, AttentionKind::PlanNotPublished})
        EXPECT_NE(find(items, kind), nullptr) << words(kind).toStdString();
    EXPECT_EQ(find(items, AttentionKind::DeliveryDue)->harm, Harm::Today);
}

TEST(AttentionTest, TheMachinesCopyCarriesNoNames) {
    Three three;
    three.agency.edit([](Snapshot &s) {
        for (Patient &p : s.patients)
            p.familyName = "Quillfeather";
    });
    const auto agency = three.build();
    const auto stock = stockOf(agency);
    const auto week = weekOf(agency, *stock);
    const auto items = attention(*agency, stock.get(), week.get());
    EXPECT_NE(items.size(), 0U);
    const std::string copies =
        asJson({attentionTable(items, *agency), forecastTable(*stock), refillTable(*stock),
                reorderTable(*stock), storeroomTable(*stock), weekTable(*week), unplacedTable(*week)},
               "all", "");
    EXPECT_EQ(copies.find("Quillfeather"), std::string::npos);
    EXPECT_EQ(copies.find(kSecret), std::string::npos);
}

TEST(WeekViewTest, LockingAPlacedVisitHoldsItsDayNurseAndTime) {
    Three three;
    three.agency.edit([&](Snapshot &s) {
        VisitOrder order;
        order.id = VisitOrderId(1);
        order.patient = three.dry.patient;
        order.kind = VisitKind::Routine;
        order.start = kToday.plusDays(-14);
        order.segments = {
            {.leastPerWeek = 1, .mostPerWeek = 1, .weeks = 20, .isAsNeeded = false, .reason = {}}};
        s.visitOrders.push_back(order);
    });
    const auto agency = three.build();
    const auto stock = stockOf(agency);
    const auto open = weekOf(agency, *stock);
    ASSERT_FALSE(open->due.empty());
    auto planned =
        planWeek(*open, {.seed = 3, .iterations = 200, .seconds = 0, .keepPublished = true}, {}, {});
    ASSERT_TRUE(planned);
    const auto placed = placedJobs(**planned);
    ASSERT_FALSE(placed.empty());
    const auto job = placed[0].job;
    const auto at = static_cast<std::size_t>(job);
    const auto locked = withLocks(**planned, job, {.day = true, .nurse = true, .time = false});
    EXPECT_EQ(locked->problem.jobs[at].lockedDay,
              (*planned)->problem.duties[static_cast<std::size_t>(placed[0].duty)].day);
    EXPECT_EQ(locked->problem.jobs[at].lockedStart, -1);
    EXPECT_TRUE(visitsOf(*locked)[at].dayIsLocked);
    EXPECT_TRUE(visitsOf(*locked)[at].nurseIsLocked);
    EXPECT_FALSE(visitsOf(*locked)[at].timeIsLocked);
    EXPECT_TRUE(locked->evaluation.broken.empty());
    EXPECT_EQ((*planned)->problem.jobs[at].lockedDay, -1) << "the picture given is not changed";
    const auto unlocked = withLocks(*locked, job, {});
    EXPECT_EQ(unlocked->problem.jobs[at].lockedDay, -1);
    EXPECT_FALSE(visitsOf(*unlocked)[at].dayIsLocked);
}

TEST(WeekViewTest, PlanningAgainNeverMakesASoundPlanWorse) {
    Three three;
    three.agency.edit([&](Snapshot &s) {
        for (const Home &home : {three.dry, three.full, three.unknown}) {
            VisitOrder order;
            order.id = VisitOrderId(home.patient.value());
            order.patient = home.patient;
            order.kind = VisitKind::Routine;
            order.start = kToday.plusDays(-14);
            order.segments = {
                {.leastPerWeek = 3, .mostPerWeek = 3, .weeks = 20, .isAsNeeded = false, .reason = {}}};
            s.visitOrders.push_back(order);
        }
    });
    const auto agency = three.build();
    const auto open = weekOf(agency, *stockOf(agency));
    const auto plan = [](const WeekPicture &from, std::uint64_t seed, std::int64_t iterations) {
        auto planned = planWeek(
            from, {.seed = seed, .iterations = iterations, .seconds = 0, .keepPublished = true}, {}, {});
        EXPECT_TRUE(planned);
        return *planned;
    };
    const auto good = plan(*open, 1, 2000);
    ASSERT_TRUE(good->evaluation.broken.empty());
    ASSERT_LT(good->evaluation.parts.total(), open->evaluation.parts.total());
    for (std::uint64_t seed = 2; seed < 6; ++seed)
        EXPECT_LE(plan(*good, seed, 1)->evaluation.parts.total(), good->evaluation.parts.total()) << seed;
}

TEST(WeekViewTest, NextWeekStartsOnTheAgencysWeekStart) {
    Three three;
    EXPECT_EQ(nextWeek(*three.build()), Date::of(2026, 3, 8)); // the Sunday after Monday 2 March
    three.agency.edit([](Snapshot &s) { s.settings.weekStart = Weekday::Monday; });
    EXPECT_EQ(nextWeek(*three.build()), Date::of(2026, 3, 9));
}

TEST(PatientViewTest, TheNextDrainIsThePlannedDayAfterTheLastOne) {
    const Three three;
    const auto agency = three.build();
    const auto cards = catheterCards(*agency, three.dry.patient);
    ASSERT_EQ(cards.size(), 1U);
    EXPECT_EQ(cards[0].lastDrain, kToday.plusDays(-2));
    EXPECT_EQ(cards[0].nextDrain, kToday);
    EXPECT_EQ(cards[0].plannedDrains.size(), 7U); // every other day in 14, from today
    EXPECT_EQ(logPoints(*agency, three.dry.catheter).size(), 10U);
}

TEST(PatientViewTest, RowsSayWhatIsOdd) {
    Three three;
    three.agency.hold(three.full, kToday.plusDays(-2), std::nullopt);
    const Home bare = three.agency.addHome();
    const auto agency = three.build();
    int held = 0, without = 0;
    for (const PatientRow &row : patientRows(*agency)) {
        held += row.isOnHold ? 1 : 0;
        if (row.patient == bare.patient) {
            ++without;
            EXPECT_TRUE(row.note.contains(QStringLiteral("no drain order")));
        }
    }
    EXPECT_EQ(held, 1);
    EXPECT_EQ(without, 1);
}

TEST(PatientViewTest, AReferralWithoutItsDayIsOdd) {
    Three three;
    three.agency.edit([&](Snapshot &s) {
        for (Patient &p : s.patients) {
            p.status = CareStatus::Referred;
            p.referredAt.reset();
        }
    });
    const auto agency = three.build();
    ASSERT_FALSE(patientRows(*agency).empty());
    for (const PatientRow &row : patientRows(*agency))
        EXPECT_TRUE(row.note.contains(QStringLiteral("referral day not entered"))) << row.note.toStdString();
}

TEST(StoreroomItemTest, ALotIsShortDatedBelowTheLifeItsItemAsksForHomes) {
    SmallAgency small(kToday);
    for (const int left : {60, 59, -1}) // an item asks for sixty days
        small.storeroom(SmallAgency::kKit500, 5, kToday.plusDays(left));
    const Agency agency(small.build());
    const auto rows = lotRows(agency, SmallAgency::kKit500); // by expiry
    ASSERT_EQ(rows.size(), 3U);
    EXPECT_TRUE(rows[0].isExpired && !rows[0].isShortDated);
    EXPECT_TRUE(rows[1].isShortDated);
    EXPECT_FALSE(rows[2].isShortDated);
}

TEST(StoreroomItemTest, StockUsedWithoutALotOnRecordSaysWhyItIsBelowNought) {
    SmallAgency small(kToday);
    const auto home = small.addHome();
    small.edit([&](Snapshot &s) {
        for (const std::int64_t eaches : {3, -3})
            s.balances.push_back({Place::home(home.catheter),
                                  eaches < 0 ? SmallAgency::kKit500 : SmallAgency::kKit1000, std::nullopt,
                                  Eaches::of(eaches)});
    });
    const Agency agency(small.build());
    const auto below = lotRows(agency, SmallAgency::kKit500);
    ASSERT_EQ(below.size(), 1U);
    EXPECT_TRUE(below[0].state.contains(QStringLiteral("without a lot on record")))
        << below[0].state.toStdString();
    EXPECT_TRUE(lotRows(agency, SmallAgency::kKit1000)[0].state.isEmpty());
}

} // namespace
} // namespace kitround::desk
