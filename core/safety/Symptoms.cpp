#include "core/base/Require.h"
#include "core/safety/Cautions.h"

#include <algorithm>
#include <array>

namespace kitround::safety {
namespace {

struct SymptomRow {
    Symptom symptom;
    std::string_view code;
    CautionUrgency urgency;
};

// In the order of the enumeration.
constexpr std::array<SymptomRow, kSymptomCount> kSymptoms = {{
    {Symptom::WorseBreathlessness, "worse_breathlessness", CautionUrgency::Emergency},
    {Symptom::SeverePain, "severe_pain", CautionUrgency::Emergency},
    {Symptom::Collapse, "collapse", CautionUrgency::Emergency},
    {Symptom::HeavyBleeding, "heavy_bleeding", CautionUrgency::Emergency},
    {Symptom::Fever, "fever", CautionUrgency::Today},
    {Symptom::Redness, "redness", CautionUrgency::Today},
    {Symptom::Swelling, "swelling", CautionUrgency::Today},
    {Symptom::PusOrSmell, "pus_or_smell", CautionUrgency::Today},
    {Symptom::CloudyFluid, "cloudy_fluid", CautionUrgency::Today},
    {Symptom::NewBlood, "new_blood", CautionUrgency::Now},
    {Symptom::ColourChange, "colour_change", CautionUrgency::Now},
    {Symptom::Leak, "leak", CautionUrgency::Today},
    {Symptom::WetDressing, "wet_dressing", CautionUrgency::Today},
    {Symptom::TubeMoved, "tube_moved", CautionUrgency::Now},
    {Symptom::CuffShowing, "cuff_showing", CautionUrgency::Now},
    {Symptom::TubeDamaged, "tube_damaged", CautionUrgency::Now},
    {Symptom::NoFlow, "no_flow", CautionUrgency::Today},
    {Symptom::SuddenFall, "sudden_fall", CautionUrgency::Today},
    {Symptom::PainOnDrain, "pain_on_drain", CautionUrgency::Now},
    {Symptom::Cough, "cough", CautionUrgency::Now},
    {Symptom::LightHeaded, "light_headed", CautionUrgency::Now},
    {Symptom::Confusion, "confusion", CautionUrgency::Today},
    {Symptom::LowUrine, "low_urine", CautionUrgency::Today},
    {Symptom::FastWeightLoss, "fast_weight_loss", CautionUrgency::Today},
}};

const SymptomRow &rowOf(Symptom symptom) {
    const auto i = static_cast<std::size_t>(symptom);
    KITROUND_REQUIRE(i < kSymptoms.size() && kSymptoms[i].symptom == symptom);
    return kSymptoms[i];
}

} // namespace

CautionUrgency urgencyOf(Symptom symptom) {
    return rowOf(symptom).urgency;
}
std::string_view codeOf(Symptom symptom) {
    return rowOf(symptom).code;
}

bool isInfectionSign(Symptom symptom) {
    switch (symptom) {
    case Symptom::Fever:
    case Symptom::Redness:
    case Symptom::Swelling:
    case Symptom::PusOrSmell:
    case Symptom::CloudyFluid:
        return true;
    default:
        return false;
    }
}

std::optional<Symptom> symptomNamed(std::string_view code) {
    const auto found = std::ranges::find(kSymptoms, code, &SymptomRow::code);
    if (found == kSymptoms.end())
        return std::nullopt;
    return found->symptom;
}

} // namespace kitround::safety
