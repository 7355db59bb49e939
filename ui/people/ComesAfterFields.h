#pragma once
// The fields of a form that say what a visit comes after: which order or added visit, how far, by whom.
#include "core/records/Visits.h"
#include "ui/shared/RecordForm.h"

namespace kitround::desk {
class Agency;
}

namespace kitround::ui {

// Nothing, or what the desk says may be followed (`desk::mayBeFollowed`).
class ComesAfterFields {
public:
    enum class For { Order, AddedVisit };
    ComesAfterFields(RecordForm &form, const desk::Agency &agency, PatientId patient, For what,
                     const ComesAfter &after, std::optional<VisitOrderId> self);
    ComesAfter read(); // while the form reads

private:
    void showFields();

    RecordForm &form_;
    std::vector<ComesAfter> targets_; // by the value of the choice
};

} // namespace kitround::ui
