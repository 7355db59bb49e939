#pragma once
#include "core/store/AgencyFile.h"
#include "core/store/Connection.h"

namespace kitround::store {

struct AgencyFile::Inner {
    std::string path;
    OpenMode mode;
    int version;
    std::unique_ptr<Connection> connection;
    std::string keptAs{}; // the older version, where opening brought the file up to date
};

} // namespace kitround::store
