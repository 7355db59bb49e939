#include "core/safety/Cautions.h"

namespace kitround::safety {

CallFirst callFirst(CautionKind kind, CautionUrgency urgency) {
    if (urgency == CautionUrgency::Emergency)
        return CallFirst::EmergencyNumber;
    if (urgency == CautionUrgency::Now)
        return CallFirst::NurseNow;
    switch (kind) {
    case CautionKind::LowOutputRun:
    case CautionKind::NoMaximumOnOrder:
    case CautionKind::NoOrder:
        return CallFirst::Prescriber;
    case CautionKind::Silence:
        return CallFirst::Coordinator;
    case CautionKind::RecalledLotAtHome:
        return CallFirst::Supply;
    default:
        return CallFirst::NurseToday;
    }
}

} // namespace kitround::safety
