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

bool maySnooze(CautionUrgency urgency) {
    return urgency != CautionUrgency::Emergency && urgency != CautionUrgency::Now;
}

bool isClinical(CautionKind kind) {
    return kind != CautionKind::NoMaximumOnOrder && kind != CautionKind::NoOrder &&
           kind != CautionKind::RecalledLotAtHome;
}

} // namespace kitround::safety
