// The sample's text and the history made from it, without a file.
#include "sample-db/SampleText.h"
#include "sample-db/SampleAgency.h"
#include "sample-db/TextTable.h"

#include "core/records/Validate.h"
#include "core/safety/IncidentReports.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>

namespace kitround::sample {
namespace {

std::string textOf(std::string_view name) {
    std::ifstream in(std::string(KITROUND_SOURCE_DIR) + "/sample-db/" + std::string(name), std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

const Scenario &sample() {
    static const Scenario kScenario = [] {
        auto parts = readSampleText(textOf, kSampleDay);
        if (!parts)
            for (const Problem &p : flattened(parts.error()))
                ADD_FAILURE() << debugText(p);
        return parts ? completed(std::move(*parts)) : Scenario{};
    }();
    return kScenario;
}

template <class Record>
void expectValid(const std::vector<Record> &records, const char *family) {
    EXPECT_FALSE(records.empty()) << family;
    for (const Record &record : records)
        for (const Problem &p : validate(record))
            ADD_FAILURE() << family << " " << record.id.value() << ": " << debugText(p);
}

TEST(SampleText, EveryRecordOfTheSampleIsValid) {
    const Scenario &s = sample();
    for (const Problem &p : validate(s.settings))
        ADD_FAILURE() << debugText(p);
    expectValid(s.users, "user");
    expectValid(s.payers, "payer");
    expectValid(s.nurses, "nurse");
    expectValid(s.shiftPatterns, "shift");
    expectValid(s.extraShifts, "extra shift");
    expectValid(s.timeOff, "time off");
    expectValid(s.patients, "patient");
    expectValid(s.catheters, "catheter");
    expectValid(s.authorisations, "authorisation");
    expectValid(s.holds, "hold");
    expectValid(s.items, "item");
    expectValid(s.lots, "lot");
    expectValid(s.suppliers, "supplier");
    expectValid(s.supplierItems, "offer");
    expectValid(s.drainOrders, "drain order");
    expectValid(s.visitOrders, "visit order");
    expectValid(s.visits, "visit");
    expectValid(s.plans, "plan");
    expectValid(s.drainEntries, "entry");
    expectValid(s.homeCounts, "count");
    expectValid(s.refillContacts, "contact");
    expectValid(s.deliveries, "delivery");
    expectValid(s.purchaseOrders, "purchase order");
    expectValid(s.receipts, "receipt");
    expectValid(s.movements, "movement");
    expectValid(s.phoneCalls, "call");
    expectValid(s.incidents, "incident");
    expectValid(s.decisionNotes, "decision");
}

TEST(SampleText, TheBottleOfAnIncidentHadComeToThatHome) {
    const Scenario &s = sample();
    const auto incident = std::ranges::find(s.incidents, IncidentKind::Device, &Incident::kind);
    ASSERT_NE(incident, s.incidents.end());
    ASSERT_TRUE(incident->lot && incident->patient);
    EXPECT_TRUE(std::ranges::any_of(s.movements, [&](const StockMovement &m) {
        return m.lot == incident->lot && m.at < incident->at && m.to.kind == PlaceKind::Home &&
               s.catheters[static_cast<std::size_t>(m.to.ref - 1)].patient == *incident->patient;
    }));
    EXPECT_EQ(incident->reportDueOn, safety::reportDue(incident->learnedOn)) << "on the sample's own day";
}

TEST(SampleText, EveryFaultOfTheTextIsNamedWithItsFileAndLine) {
    const auto source = [](std::string_view name) {
        std::string text = textOf(name);
        if (name == "patients.csv")
            text.replace(text.find(",active,"), 8, ",asleep,");
        if (name == "orders.csv")
            text.replace(text.find("KIT-500-A"), 9, "KIT-404-A");
        return text;
    };
    const auto parts = readSampleText(source, kSampleDay);
    ASSERT_FALSE(parts);
    const Problems problems = flattened(parts.error());
    ASSERT_EQ(problems.size(), 2U);
    EXPECT_EQ(problems[0].field, "patients.csv:status");
    EXPECT_EQ(problems[0].args, std::vector<std::string>{"asleep"});
    EXPECT_GT(problems[0].row, 3);
    EXPECT_EQ(problems[1].code, ProblemCode::UnknownRecord);
    EXPECT_EQ(problems[1].field, "orders.csv:kit");
}

TEST(SampleText, DatesAreReadRelativeToTheDay) {
    const Date today = Date::of(2026, 11, 19); // a Thursday
    EXPECT_EQ(relativeDate("0", today), today);
    EXPECT_EQ(relativeDate("-19", today), Date::of(2026, 10, 31));
    EXPECT_EQ(relativeDate("+12", today), Date::of(2026, 12, 1));
    EXPECT_EQ(relativeDate("w0 Sun", today), Date::of(2026, 11, 15));
    EXPECT_EQ(relativeDate("w1 Thu", today), Date::of(2026, 11, 26));
    EXPECT_EQ(relativeDate("w-1 Sat", today), Date::of(2026, 11, 14));
    EXPECT_EQ(relativeDate("1961-02-28", today), Date::of(1961, 2, 28));
    for (const char *bad : {"", "tomorrow", "w1", "w1 Xyz", "1961-02-30", "3d"})
        EXPECT_FALSE(relativeDate(bad, today)) << bad;
}

TEST(SampleText, NothingLeavesTheStoreroomOrACarThatIsNotThere) {
    using Key = std::tuple<Place, ItemId, std::int64_t>;
    std::map<Key, std::int64_t> sums;
    for (const StockMovement &m : sample().movements) {
        const std::int64_t lot = m.lot ? m.lot->value() : 0;
        if (isInside(m.from.kind)) {
            const std::int64_t left = sums[{m.from, m.item, lot}] -= m.quantity.count();
            if (m.from.kind != PlaceKind::Home) {
                EXPECT_GE(left, 0) << "movement " << m.id.value();
            }
        }
        if (isInside(m.to.kind))
            sums[{m.to, m.item, lot}] += m.quantity.count();
    }
    EXPECT_GT(sums.size(), 100U);
}

TEST(SampleText, OnlyWhatHasLeftIsShipped) {
    std::size_t packed = 0;
    for (const Delivery &d : sample().deliveries)
        if (d.status == DeliveryStatus::Promised || d.status == DeliveryStatus::Picked) {
            packed += d.status == DeliveryStatus::Picked ? 1U : 0U;
            EXPECT_FALSE(d.shippedAt) << "delivery " << d.id.value();
        } else if (d.status == DeliveryStatus::InTransit) {
            EXPECT_TRUE(d.shippedAt) << "delivery " << d.id.value();
        }
    EXPECT_GT(packed, 0U);
}

TEST(SampleText, NoNurseIsAtTwoHomesAtOnce) {
    std::map<std::pair<NurseId, Date>, std::vector<std::pair<std::int64_t, std::int64_t>>> days;
    for (const Visit &v : sample().visits) {
        const std::pair busy{v.startAt->count(), v.startAt->count() + v.length.count()};
        days[{*v.nurse, *v.on}].push_back(busy);
        if (v.secondNurse)
            days[{*v.secondNurse, *v.on}].push_back(busy);
    }
    for (auto &[day, visits] : days) {
        std::ranges::sort(visits);
        for (std::size_t i = 1; i < visits.size(); ++i)
            EXPECT_GE(visits[i].first, visits[i - 1].second + 15) << day.second.toIso();
    }
    EXPECT_GT(days.size(), 300U);
}

TEST(SampleText, MostHomesWereVisitedAtTheStartAndTaughtInTimeAndSomeNot) {
    const Scenario &s = sample();
    int starts = 0, inTime = 0, late = 0;
    for (const Visit &v : s.visits) {
        const Patient &p = s.patients[static_cast<std::size_t>(v.patient.value()) - 1];
        if (v.status != VisitStatus::Done || !p.startOfCare)
            continue;
        starts += v.kind == VisitKind::StartOfCare && v.on == p.startOfCare ? 1 : 0;
        if (v.kind == VisitKind::Teaching)
            ++(*v.on < p.startOfCare->plusDays(14) ? inTime : late);
    }
    EXPECT_GT(starts, 5) << "where the nurse of that day had the time";
    EXPECT_GT(inTime, 15);
    EXPECT_GT(late, 0);
    EXPECT_GT(inTime, 2 * late);
}

TEST(SampleText, TheSameDayGivesTheSameHistory) {
    auto parts = readSampleText(textOf, kSampleDay);
    ASSERT_TRUE(parts);
    const Scenario again = completed(std::move(*parts));
    EXPECT_TRUE(again.movements == sample().movements);
    EXPECT_TRUE(again.drainEntries == sample().drainEntries);
    EXPECT_TRUE(again.visits == sample().visits);
}

} // namespace
} // namespace kitround::sample
