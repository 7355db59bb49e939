#include "core/store/UnitOfWorkInner.h"
#include "core/store/mapping/MapCare.h"

namespace kitround::store {

Result<DrainOrder> UnitOfWork::save(DrainOrder record) {
    return inner_->save(std::move(record));
}
Result<DrainEntry> UnitOfWork::save(DrainEntry record) {
    return inner_->save(std::move(record));
}
Result<OrderAnswer> UnitOfWork::save(OrderAnswer record) {
    return inner_->add(std::move(record));
}
Result<VisitOrder> UnitOfWork::save(VisitOrder record) {
    return inner_->save(std::move(record));
}
Result<Visit> UnitOfWork::save(Visit record) {
    return inner_->save(std::move(record));
}
Result<Plan> UnitOfWork::save(Plan record) {
    return inner_->save(std::move(record));
}
Result<PlanTold> UnitOfWork::save(PlanTold record) {
    return inner_->save(std::move(record));
}
Result<PatientTold> UnitOfWork::save(PatientTold record) {
    return inner_->save(std::move(record));
}
Result<CallItem> UnitOfWork::save(CallItem record) {
    return inner_->save(std::move(record));
}
Result<PhoneCall> UnitOfWork::save(PhoneCall record) {
    return inner_->save(std::move(record));
}
Result<Incident> UnitOfWork::save(Incident record) {
    return inner_->save(std::move(record));
}

} // namespace kitround::store
