// Words for what the supply clerk keeps beside the ledger.
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

QString words(RecallAnswer answer) {
    switch (answer) {
    case RecallAnswer::NoAnswer:
        return Text::tr("no answer");
    case RecallAnswer::MessageLeft:
        return Text::tr("message left");
    case RecallAnswer::SetAside:
        return Text::tr("set aside");
    case RecallAnswer::NoneLeft:
        return Text::tr("none left");
    case RecallAnswer::Declined:
        return Text::tr("told, will not set aside");
    }
    return {};
}

QString words(Approver approver) {
    switch (approver) {
    case Approver::Prescriber:
        return Text::tr("prescriber");
    case Approver::Nurse:
        return Text::tr("nurse");
    }
    return {};
}

QString words(Disposition disposition) {
    switch (disposition) {
    case Disposition::Destroyed:
        return Text::tr("destroyed");
    case Disposition::Donated:
        return Text::tr("donated, as the policy allows");
    case Disposition::KeptByHome:
        return Text::tr("left with the patient or family");
    case Disposition::SupplierCredit:
        return Text::tr("returned to the supplier for credit");
    }
    return {};
}

} // namespace kitround::desk
