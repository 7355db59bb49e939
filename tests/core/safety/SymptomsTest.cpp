#include "core/safety/Cautions.h"
#include "core/safety/Limits.h"

#include <gtest/gtest.h>

#include <set>

namespace kitround::safety {
namespace {

TEST(LimitsTest, AreTheFiguresOfCommonPractice) {
    // 1000 mL chest, 2000 mL abdomen: common practice, from memory. 1500 mL: British Thoracic Society pleural
    // guideline 2010, from memory.
    EXPECT_EQ(commonMaximum(CavitySite::Chest), Millilitres::of(1000));
    EXPECT_EQ(commonMaximum(CavitySite::Abdomen), Millilitres::of(2000));
    EXPECT_EQ(confirmAbove(CavitySite::Chest), Millilitres::of(1500));
    EXPECT_EQ(confirmAbove(CavitySite::Abdomen), Millilitres::of(4000));
}

TEST(SymptomsTest, EachHasACodeOfItsOwnThatReadsBack) {
    std::set<std::string_view> codes;
    for (int i = 0; i < kSymptomCount; ++i) {
        const auto symptom = static_cast<Symptom>(i);
        EXPECT_TRUE(codes.insert(codeOf(symptom)).second) << codeOf(symptom);
        EXPECT_EQ(symptomNamed(codeOf(symptom)), symptom);
    }
    EXPECT_TRUE(isInfectionSign(Symptom::PusOrSmell));
    EXPECT_FALSE(isInfectionSign(Symptom::Leak));
    EXPECT_FALSE(symptomNamed("headache"));
    EXPECT_FALSE(symptomNamed(""));
}

TEST(SymptomsTest, UrgencyFollowsTheTable) {
    // General clinical practice, from memory; the whole table, so that a new symptom can't slip in unjudged.
    const std::set<Symptom> emergency{Symptom::WorseBreathlessness, Symptom::SeverePain, Symptom::Collapse,
                                      Symptom::HeavyBleeding};
    const std::set<Symptom> now{Symptom::NewBlood,    Symptom::ColourChange, Symptom::TubeMoved,
                                Symptom::CuffShowing, Symptom::TubeDamaged,  Symptom::PainOnDrain,
                                Symptom::Cough,       Symptom::LightHeaded};
    for (int i = 0; i < kSymptomCount; ++i) {
        const auto symptom = static_cast<Symptom>(i);
        const CautionUrgency expected = emergency.contains(symptom) ? CautionUrgency::Emergency
                                        : now.contains(symptom)     ? CautionUrgency::Now
                                                                    : CautionUrgency::Today;
        EXPECT_EQ(urgencyOf(symptom), expected) << codeOf(symptom);
    }
}

TEST(CallFirstTest, TheEmergencyNumberComesBeforeEverybody) {
    EXPECT_EQ(callFirst(CautionKind::SymptomEmergency, CautionUrgency::Emergency),
              CallFirst::EmergencyNumber);
    EXPECT_EQ(callFirst(CautionKind::SymptomNow, CautionUrgency::Now), CallFirst::NurseNow);
    EXPECT_EQ(callFirst(CautionKind::SymptomToday, CautionUrgency::Today), CallFirst::NurseToday);
    EXPECT_EQ(callFirst(CautionKind::LowOutputRun, CautionUrgency::Soon), CallFirst::Prescriber);
    EXPECT_EQ(callFirst(CautionKind::SuddenDrop, CautionUrgency::Today), CallFirst::NurseToday);
    EXPECT_EQ(callFirst(CautionKind::NoMaximumOnOrder, CautionUrgency::Soon), CallFirst::Prescriber);
    EXPECT_EQ(callFirst(CautionKind::RecalledLotAtHome, CautionUrgency::Today), CallFirst::Supply);
    EXPECT_EQ(callFirst(CautionKind::Silence, CautionUrgency::Soon), CallFirst::Coordinator);
}

} // namespace
} // namespace kitround::safety
