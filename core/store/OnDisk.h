#pragma once
// Whether what a connection writes to is still what stands on the disk. A connection keeps its write-ahead
// log open for as long as it lives, so the log has one inode from its first read to its end. Where another
// program has taken the log away (see HeldFiles.h), or put another file in the place of this one, SQLite goes
// on without complaint, and what it says is saved is gone with the program.
#include <cstdint>
#include <optional>
#include <string>

namespace kitround::store {

class OnDisk {
public:
    // The connection has read already.
    explicit OnDisk(const std::string &path);
    bool isInPlace() const; // two looks at the folder; nothing is opened

private:
    struct Mark {
        std::uint64_t device = 0, inode = 0;
        friend bool operator==(const Mark &, const Mark &) = default;
    };
    static std::optional<Mark> markOf(const std::string &path);

    std::string path_;
    std::optional<Mark> file_, log_; // none: it was not there then, and says nothing later
};

// Beside the file and ending like one, so that File > Open lists it; a number is added where it is taken.
std::string rescueName(const std::string &path);

} // namespace kitround::store
