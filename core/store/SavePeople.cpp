#include "core/store/UnitOfWorkInner.h"
#include "core/store/mapping/MapPeople.h"

namespace kitround::store {

Result<User> UnitOfWork::save(User record) {
    return inner_->save(std::move(record));
}
Result<Payer> UnitOfWork::save(Payer record) {
    return inner_->save(std::move(record));
}
Result<Patient> UnitOfWork::save(Patient record) {
    return inner_->save(std::move(record));
}
Result<Catheter> UnitOfWork::save(Catheter record) {
    return inner_->save(std::move(record));
}
Result<Authorisation> UnitOfWork::save(Authorisation record) {
    return inner_->save(std::move(record));
}
Result<Hold> UnitOfWork::save(Hold record) {
    return inner_->save(std::move(record));
}
Result<Nurse> UnitOfWork::save(Nurse record) {
    return inner_->save(std::move(record));
}
Result<ShiftPattern> UnitOfWork::save(ShiftPattern record) {
    return inner_->save(std::move(record));
}
Result<ExtraShift> UnitOfWork::save(ExtraShift record) {
    return inner_->save(std::move(record));
}
Result<TimeOff> UnitOfWork::save(TimeOff record) {
    return inner_->save(std::move(record));
}
Result<KeptWhatIf> UnitOfWork::save(KeptWhatIf record) {
    return inner_->save(std::move(record));
}
Result<IntakeClosure> UnitOfWork::save(IntakeClosure record) {
    return inner_->save(std::move(record));
}
Result<DecisionNote> UnitOfWork::save(DecisionNote record) {
    return inner_->save(std::move(record));
}
Result<HandOver> UnitOfWork::save(HandOver record) {
    return inner_->save(std::move(record));
}
Result<WatchEntry> UnitOfWork::save(WatchEntry record) {
    return inner_->save(std::move(record));
}

} // namespace kitround::store
