#pragma once
// A transaction that rolls back unless committed. Write takes the one writer's place at once (BEGIN
// IMMEDIATE), so that nothing read inside it can change before the commit; Read gives one consistent view.
#include "core/store/Connection.h"

namespace kitround::store {

class Transaction {
public:
    enum class Kind : std::uint8_t { Write, Read };
    static Result<Transaction> begin(Connection &connection, Kind kind);
    Transaction(Transaction &&other) noexcept : connection_(std::exchange(other.connection_, nullptr)) {}
    Transaction &operator=(Transaction &&) = delete;
    ~Transaction();

    Result<void> commit();

private:
    explicit Transaction(Connection &connection) : connection_(&connection) {}
    Connection *connection_; // nullptr once committed or moved from
};

} // namespace kitround::store
