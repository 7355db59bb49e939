#pragma once
// The snapshot out of the file, inside one read transaction, so that all of it is of one moment. Cost: one
// pass over each table and list, n log n for the drain log's order.
#include "core/store/AgencyFile.h"
#include "core/store/Connection.h"

namespace kitround::store {

Result<Snapshot> loadSnapshot(Connection &connection, const LoadOptions &options, const std::stop_token &stop,
                              const ProgressSink &progress);
Result<AgencySettings> loadSettings(Connection &connection);
// Balances of the inside places by place, item and lot over all movements not after `upTo`; zero rows left
// out; sorted.
Result<std::vector<StockBalance>> loadBalances(Connection &connection, LocalTime upTo,
                                               const std::stop_token &stop);

} // namespace kitround::store
