#pragma once
#include "core/store/AgencyFile.h"
#include "core/store/Connection.h"
#include "core/store/OnDisk.h"

namespace kitround::store {

struct AgencyFile::Inner {
    std::string path;
    OpenMode mode;
    int version;
    std::unique_ptr<Connection> connection;
    std::string keptAs{};         // the older version, where opening brought the file up to date
    std::optional<OnDisk> disk{}; // of a file that may be written
    std::string rescuedAs{};      // the copy made when the file's log was found gone

    // Asked before a change begins and again once it is committed: what is wrong where the connection writes
    // to what is not the file on the disk any more. All that this connection knows is copied beside the file
    // then, and nothing more is written. Conflict at "file", args {"log_gone" | "log_gone_kept", the copy},
    // or {"log_gone_no_copy", why}; "kept": the change is in the copy.
    std::optional<Problem> whatIsLost(bool isCommitted);
};

} // namespace kitround::store
