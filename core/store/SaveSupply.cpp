#include "core/store/UnitOfWorkInner.h"
#include "core/store/mapping/MapSupply.h"

namespace kitround::store {

Result<Item> UnitOfWork::save(Item record) {
    return inner_->save(std::move(record));
}
Result<Lot> UnitOfWork::save(Lot record) {
    return inner_->save(std::move(record));
}
Result<HomeCount> UnitOfWork::save(HomeCount record) {
    return inner_->save(std::move(record));
}
Result<Delivery> UnitOfWork::save(Delivery record) {
    return inner_->save(std::move(record));
}
Result<Supplier> UnitOfWork::save(Supplier record) {
    return inner_->save(std::move(record));
}
Result<SupplierItem> UnitOfWork::save(SupplierItem record) {
    return inner_->save(std::move(record));
}
Result<PurchaseOrder> UnitOfWork::save(PurchaseOrder record) {
    return inner_->save(std::move(record));
}
Result<RecallOutcome> UnitOfWork::save(RecallOutcome record) {
    return inner_->add(std::move(record));
}
Result<Substitution> UnitOfWork::save(Substitution record) {
    return inner_->save(std::move(record));
}
Result<ShortageAction> UnitOfWork::save(ShortageAction record) {
    return inner_->save(std::move(record));
}
Result<HomeReturn> UnitOfWork::save(HomeReturn record) {
    return inner_->add(std::move(record));
}
Result<CarPar> UnitOfWork::save(CarPar record) {
    return inner_->save(std::move(record));
}
Result<MonthClose> UnitOfWork::save(MonthClose record) {
    return inner_->save(std::move(record));
}
Result<RefillContact> UnitOfWork::save(RefillContact record) {
    return inner_->add(std::move(record));
}
Result<Receipt> UnitOfWork::save(Receipt record) {
    return inner_->add(std::move(record));
}
Result<StockMovement> UnitOfWork::post(StockMovement record) {
    return inner_->add(std::move(record));
}

} // namespace kitround::store
