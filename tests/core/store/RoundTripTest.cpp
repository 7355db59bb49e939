// What goes in comes out, whatever it is.
#include "core/store/AgencyFileInner.h"
#include "core/store/mapping/MapCare.h"
#include "core/store/mapping/MapPeople.h"
#include "core/store/mapping/MapSupply.h"
#include "core/store/mapping/Reading.h"
#include "tests/core/store/World.h"

#include <gtest/gtest.h>

namespace kitround::store {
namespace {

constexpr std::uint64_t kSeeds[] = {1, 2, 3, 20261125};

template <class R>
void expectStored(AgencyFile &file, const std::vector<R> &expected) {
    const auto found = readRecords<R>(*file.inner().connection, {}, {}, {});
    ASSERT_TRUE(found) << debugText(found.error());
    ASSERT_EQ(found->size(), expected.size()) << Mapping<R>::table;
    for (std::size_t i = 0; i < expected.size(); ++i)
        EXPECT_TRUE((*found)[i] == expected[i]) << Mapping<R>::table << " " << expected[i].id.value();
}

void expectWorld(AgencyFile &file, const World &world) {
    std::vector<User> users = world.users;
    User first = firstUser();
    first.id = kFirstUser;
    first.rowVersion = 1;
    users.insert(users.begin(), first);
    expectStored(file, users);
    expectStored(file, world.payers);
    expectStored(file, world.nurses);
    expectStored(file, world.shiftPatterns);
    expectStored(file, world.extraShifts);
    expectStored(file, world.timeOff);
    expectStored(file, world.keptWhatIfs);
    expectStored(file, world.intakeClosures);
    expectStored(file, world.decisionNotes);
    expectStored(file, world.patients);
    expectStored(file, world.catheters);
    expectStored(file, world.authorisations);
    expectStored(file, world.holds);
    expectStored(file, world.items);
    expectStored(file, world.lots);
    expectStored(file, world.suppliers);
    expectStored(file, world.supplierItems);
    expectStored(file, world.visitOrders);
    expectStored(file, world.visits);
    expectStored(file, world.drainOrders);
    expectStored(file, world.drainEntries);
    expectStored(file, world.homeCounts);
    expectStored(file, world.refillContacts);
    expectStored(file, world.deliveries);
    expectStored(file, world.recallOutcomes);
    expectStored(file, world.substitutions);
    expectStored(file, world.shortageActions);
    expectStored(file, world.homeReturns);
    expectStored(file, world.carPars);
    expectStored(file, world.purchaseOrders);
    expectStored(file, world.receipts);
    expectStored(file, world.monthCloses);
    expectStored(file, world.movements);
    expectStored(file, world.plans);
    expectStored(file, world.planTold);
    expectStored(file, world.patientTold);
    expectStored(file, world.callItems);
    expectStored(file, world.phoneCalls);
    expectStored(file, world.incidents);
    expectStored(file, world.handOvers);
    expectStored(file, world.watchEntries);
    expectStored(file, world.orderAnswers);
}

void commit(UnitOfWork &unit) {
    const auto done = unit.commit();
    ASSERT_TRUE(done) << debugText(done.error());
}

TEST(RoundTripTest, EveryRecordOfARandomAgencyComesBackUnchanged) {
    for (std::uint64_t seed : kSeeds) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const TestFolder folder;
        WorldBuilder builder(seed);
        {
            auto file = makeFile(folder.path("a.kitround"));
            UnitOfWork unit(*file, kFirstUser, kMoment);
            builder.grow(unit, 8);
            ASSERT_EQ(builder.refusal(), "");
            commit(unit);
        }
        auto file = mustOpen(folder.path("a.kitround"));
        expectWorld(*file, builder.world());
        const auto sound = file->check({}, {});
        ASSERT_TRUE(sound) << debugText(sound.error());
        for (const Problem &problem : *sound) // a random ledger may well be below zero
            EXPECT_EQ(problem.code, ProblemCode::Negative) << debugText(problem);
    }
}

TEST(RoundTripTest, EveryChangedRecordComesBackAsChanged) {
    for (std::uint64_t seed : kSeeds) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const TestFolder folder;
        auto file = makeFile(folder.path("a.kitround"));
        WorldBuilder builder(seed);
        for (int round = 0; round < 3; ++round) {
            UnitOfWork unit(*file, kFirstUser, kMoment);
            builder.grow(unit, 3);
            builder.change(unit);
            ASSERT_EQ(builder.refusal(), "");
            commit(unit);
        }
        expectWorld(*file, builder.world());
    }
}

TEST(RoundTripTest, SettingsComeBackUnchanged) {
    for (std::uint64_t seed : kSeeds) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        const TestFolder folder;
        auto file = makeFile(folder.path("a.kitround"));
        ASSERT_EQ(file->settings().value(), plainSettings());
        WorldBuilder builder(seed);
        for (int i = 0; i < 3; ++i) {
            const AgencySettings settings = builder.settings();
            UnitOfWork unit(*file, kFirstUser, kMoment);
            ASSERT_TRUE(unit.save(settings));
            commit(unit);
            EXPECT_EQ(file->settings().value(), settings);
        }
    }
}

TEST(RoundTripTest, AnEnumeratorWithoutAWordOfItsOwnDoesNotExist) {
    EXPECT_EQ(std::size(kWords<Symptom>), std::size_t(kSymptomCount));
    EXPECT_EQ(std::size(kWords<VisitKind>), std::size_t(kVisitKindCount));
    EXPECT_EQ(std::size(kWords<Skill>), std::size_t(kSkillCount));
    EXPECT_EQ(wordOf(CautionKind::RecalledLotAtHome), QLatin1String("recalled_lot_at_home"));
    EXPECT_EQ(wordOf(MovementReason::Correction), QLatin1String("correction"));
    EXPECT_EQ(wordOf(PlaceKind::Variance), QLatin1String("variance"));
    EXPECT_EQ(enumOf<Gender>(u"unknown"), std::nullopt);
}

} // namespace
} // namespace kitround::store
