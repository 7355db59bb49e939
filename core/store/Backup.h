#pragma once
// A consistent copy of an open file.
#include "core/store/Connection.h"

#include <QFileDevice>

#include <stop_token>

namespace kitround::store {

inline constexpr QFileDevice::Permissions kPrivateFile = QFileDevice::ReadOwner | QFileDevice::WriteOwner;

// Copies into a file beside the target, syncs it to the disk, reads it back, then renames it over the target.
// On failure the target is as it was and nothing is left beside it.
Result<void> copyTo(Connection &connection, const std::string &target, const std::stop_token &stop = {});

} // namespace kitround::store
