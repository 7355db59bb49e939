// A packed parcel stays in the car of the nurse it was packed for. When its visit goes to another nurse,
// everybody whom that concerns is told: who plans, who publishes, both nurses, and their day sheets.
#include "core/desk/paper/Papers.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/PackedParcels.h"
#include "core/desk/views/PlanNews.h"
#include "core/desk/views/PublishNews.h"
#include "core/desk/views/VisitCards.h"
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Words.h"
#include "tests/core/desk/Story.h"

#include <algorithm>

namespace kitround::desk {
namespace {

constexpr Date kWeek = Date::of(2026, 3, 1);
constexpr Date kWednesday = kMonday.plusDays(2);

// A visit on Wednesday by `nurse`, with its parcel packed into her car.
struct PackedVisit {
    Story s;
    DeliveryId parcel;
    VisitId visit;

    PackedVisit() {
        const auto home = s.addHome("A");
        s.receive(s.kit500, "L1", 20, Date::of(2027, 6, 1));
        parcel = s.promise(home, s.kit500, 5, kMonday.plusDays(3), s.nurse).id;
        visit = s.publishVisit(home, kWednesday, 9).id;
        must(s.desk().pick(parcel));
        if (s.delivery(parcel).visit != visit || s.delivery(parcel).carriedBy != s.nurse)
            throw std::runtime_error("the parcel is to ride with the visit");
    }
    WeekPicturePtr open() const { return must(openWeek(s.agency(), kWeek, nullptr)); }
    std::int32_t jobIn(const WeekPicture &week) const {
        const auto due = std::ranges::find(week.due, visit, [](const auto &d) { return d.visit.id; });
        if (due == week.due.end())
            throw std::runtime_error("the visit is not of the week");
        return static_cast<std::int32_t>(due - week.due.begin());
    }
    WeekPicturePtr movedTo(NurseId nurse) const {
        const auto week = open();
        const MoveOffer offer = offerMove(*week, jobIn(*week), nurse, kWednesday);
        if (!offer.isAllowed())
            throw std::runtime_error(offer.summary.toStdString());
        return offer.after;
    }
    void publish(const WeekPicture &week) {
        must(s.desk().acceptPlan(kWeek, visitsOf(week), 1, week.plan.cost, true));
    }
    QString nameOf(NurseId nurse) const { return personName(*s.index().nurse(nurse)); }
    bool namesBoth(const QString &text) const {
        return text.contains(QStringLiteral("packed parcel")) && text.contains(nameOf(s.nurse)) &&
               text.contains(nameOf(s.otherNurse));
    }
};

std::string lineOf(const Paper &paper) {
    std::string text;
    for (const Paper::Section &section : paper.sections) {
        text += section.lines.join(u' ').toStdString();
        if (section.table)
            for (const auto &row : section.table->rows)
                for (const std::string &cell : row)
                    text += '|' + cell;
    }
    return text;
}

TEST(ParcelStory, WhereItsVisitStaysNothingIsSaid) {
    PackedVisit p;
    const auto week = p.open();
    EXPECT_TRUE(parcelsElsewhere(*week).empty());
    EXPECT_FALSE(takerOf(p.s.index(), p.s.delivery(p.parcel)));
    EXPECT_TRUE(must(publishNews(*week)).parcels.isEmpty());
    EXPECT_EQ(lineOf(daySheet(*week, p.s.nurse, kWednesday)).find("packed"), std::string::npos);
}

TEST(ParcelStory, WhoGivesItsVisitToAnotherNurseIsToldInTheDraftAndBeforePublishing) {
    PackedVisit p;
    const auto moved = p.movedTo(p.s.otherNurse);
    const std::int32_t job = p.jobIn(*moved);
    const QStringList facts = reasonsOf(*moved, job).facts;
    EXPECT_TRUE(std::ranges::any_of(facts, [&](const QString &fact) { return p.namesBoth(fact); }))
        << facts.join(u'|').toStdString();
    const auto changes = changesSincePublished(*moved);
    const auto hers = std::ranges::find(changes, job, &PlanChange::job);
    ASSERT_NE(hers, changes.end());
    EXPECT_TRUE(p.namesBoth(hers->note)) << hers->note.toStdString();
    EXPECT_NE(lineOf(changesPaper(*moved, changes)).find("packed parcel"), std::string::npos);
    const PublishNews news = must(publishNews(*moved));
    ASSERT_EQ(news.parcels.size(), 1);
    EXPECT_TRUE(p.namesBoth(news.parcels.front())) << news.parcels.front().toStdString();
    EXPECT_TRUE(publishNewsLines(news).contains(news.parcels.front()));
}

TEST(ParcelStory, ACallOutThatMovesItsVisitSaysWhoHasTheParcel) {
    PackedVisit p;
    const auto week = p.open();
    const auto mended = must(repairCallOut(*week, {p.s.nurse, kWednesday, {}, TimeOffKind::Sick}, {}));
    const auto hers = std::ranges::find(mended.changes, p.jobIn(*week), &PlanChange::job);
    ASSERT_NE(hers, mended.changes.end());
    EXPECT_TRUE(p.namesBoth(hers->note)) << hers->note.toStdString();
}

TEST(ParcelStory, PublishedBothNursesHearOfItAndItStandsOnBothDaySheetsAndUnderToday) {
    PackedVisit p;
    p.publish(*p.movedTo(p.s.otherNurse));
    EXPECT_EQ(p.s.delivery(p.parcel).carriedBy, p.s.nurse) << "nobody has carried it over yet";
    EXPECT_EQ(takerOf(p.s.index(), p.s.delivery(p.parcel)), std::optional(p.s.otherNurse));
    const auto news = roundNews(*p.s.agency());
    ASSERT_EQ(news.size(), 2U);
    for (const RoundNews &one : news)
        EXPECT_TRUE(p.namesBoth(one.changes.join(u' '))) << one.changes.join(u' ').toStdString();
    const auto week = p.open();
    EXPECT_TRUE(must(publishNews(*week)).parcels.isEmpty()) << "that has been said";
    const QString left = parcelText(p.s.index(), p.s.visit(p.visit), plannedPlace(p.s.visit(p.visit)));
    EXPECT_TRUE(p.namesBoth(left)) << left.toStdString();
    EXPECT_NE(lineOf(daySheet(*week, p.s.nurse, kWednesday)).find(left.toStdString()), std::string::npos);
    EXPECT_NE(lineOf(daySheet(*week, p.s.nurse, kMonday)).find(left.toStdString()), std::string::npos)
        << "the day before is early enough";
    EXPECT_EQ(lineOf(daySheet(*week, p.s.nurse, kWednesday.plusDays(1))).find("packed"), std::string::npos);
    EXPECT_NE(lineOf(daySheet(*week, p.s.otherNurse, kWednesday))
                  .find("take it over from " + p.nameOf(p.s.nurse).toStdString()),
              std::string::npos);
    p.s.now(at(kWednesday, 7));
    const auto items = attention(*p.s.agency(), nullptr, nullptr);
    EXPECT_TRUE(std::ranges::any_of(items, [&](const AttentionItem &item) {
        return item.kind == AttentionKind::DeliveryDue && p.namesBoth(item.detail);
    }));
}

TEST(ParcelStory, HandedOverItLiesInTheOtherCarAndNobodyIsToldOfItAnyMore) {
    PackedVisit p;
    p.publish(*p.movedTo(p.s.otherNurse));
    const Eaches before = p.s.total(p.s.kit500);
    const auto audit = p.s.auditLength();
    must(p.s.desk().passParcel(p.parcel, p.s.otherNurse));
    EXPECT_EQ(p.s.delivery(p.parcel).carriedBy, p.s.otherNurse);
    EXPECT_EQ(p.s.delivery(p.parcel).status, DeliveryStatus::Picked);
    EXPECT_EQ(p.s.balance(Place::car(p.s.nurse), p.s.kit500).count(), 0);
    EXPECT_EQ(p.s.balance(Place::car(p.s.otherNurse), p.s.kit500).count(), 5);
    EXPECT_EQ(p.s.total(p.s.kit500), before);
    EXPECT_GT(p.s.auditLength(), audit);
    EXPECT_TRUE(parcelsElsewhere(*p.open()).empty());
    EXPECT_EQ(firstArg(refused(p.s.desk().passParcel(p.parcel, p.s.otherNurse))), "already");
    // Cancelled, it goes back all the way.
    must(p.s.desk().cancelDelivery(p.parcel, "not wanted", CameBack::NeverLeft));
    EXPECT_EQ(p.s.balance(Place::storeroom(), p.s.kit500).count(), 20);
    EXPECT_EQ(p.s.balance(Place::car(p.s.otherNurse), p.s.kit500).count(), 0);
    EXPECT_EQ(refused(p.s.desk().passParcel(p.parcel, p.s.nurse)).field, "status");
}

TEST(ParcelStory, APackedParcelRidesWithItsOwnVisitAlone) {
    PackedVisit p;
    const auto week = p.open();
    const std::int32_t job = p.jobIn(*week);
    ASSERT_EQ(week->problem.riders.size(), 1U);
    EXPECT_EQ(week->problem.riders.front().packedFor, p.visit);
    EXPECT_EQ(week->plan.riderJob.front(), job);
    const MoveOffer out = offerRemoval(*week, job);
    EXPECT_EQ(out.after->plan.riderJob.front(), -1);
}

TEST(ParcelStory, OfAVisitWithoutAPlaceItGoesBackToTheStoreroom) {
    PackedVisit p;
    const auto week = p.open();
    const MoveOffer out = offerRemoval(*week, p.jobIn(*week));
    ASSERT_TRUE(out.isAllowed());
    const auto parcels = parcelsElsewhere(*out.after);
    ASSERT_EQ(parcels.size(), 1U);
    const QString text = parcelText(p.s.index(), parcels.front());
    EXPECT_TRUE(text.contains(p.nameOf(p.s.nurse)) && text.endsWith(QStringLiteral("back to the storeroom")))
        << text.toStdString();
}

} // namespace
} // namespace kitround::desk
