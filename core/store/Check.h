#pragma once
// What can be wrong with a file, listed in full. Reads only.
#include "core/base/Progress.h"
#include "core/store/Connection.h"

#include <stop_token>

namespace kitround::store {

Result<Problems> checkFile(Connection &connection, const std::stop_token &stop, const ProgressSink &progress);

} // namespace kitround::store
