#pragma once
// Who works with the file, and the append-only record of what they changed.
#include "core/base/Date.h"
#include "core/records/Ids.h"

#include <string>

namespace kitround {

enum class UserRole : std::uint8_t { Coordinator, SupplyClerk, NurseManager, Nurse };
struct User {
    UserId id;
    std::string name;
    UserRole role = UserRole::Coordinator;
    std::string passwordHash; // empty = no password set; else a hash from a library, with its parameters
    bool isActive = true;
    std::int64_t rowVersion = 0;
    friend bool operator==(const User &, const User &) = default;
};

enum class AuditAction : std::uint8_t { Insert, Update, Delete, View, Print, Export };
struct AuditEntry {
    std::int64_t number = 0; // 1, 2, 3, ... without a gap
    Instant at;
    UserId user;
    AuditAction action = AuditAction::Insert;
    std::string table;
    std::int64_t record = 0;
    std::string before; // JSON, empty for an insert
    std::string after;  // JSON, empty for a delete
    std::string chain;  // hash over this entry and the one before, hex
    friend bool operator==(const AuditEntry &, const AuditEntry &) = default;
};

} // namespace kitround
