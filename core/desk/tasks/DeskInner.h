#pragma once
// What a Desk holds, and the one way its work reads and writes. Private to core/desk.
#include "core/calendar/Zone.h"
#include "core/desk/Desk.h"

#include <type_traits>
#include <utility>

namespace kitround::desk {

inline Problem problem(ProblemCode code, std::string field, std::vector<std::string> args = {}) {
    Problem p;
    p.code = code;
    p.field = std::move(field);
    p.args = std::move(args);
    return p;
}
// The store's name of a field, said as the form that was filled calls it.
inline Problem renamed(Problem p, const char *from, const char *to) {
    if (p.field == from)
        p.field = to;
    return p;
}
template <class Tag>
Problem unknown(const std::string &kind, const std::string &field, Id<Tag> id) {
    return problem(ProblemCode::UnknownRecord, field, {kind, std::to_string(id.value())});
}

// The moment a snapshot or an entry is made: `asOf` (or the sample agency's own day) with the clock's local
// time of day. Problem UnknownChoice for a zone we have no rules for.
Result<LocalTime> localNow(const AgencySettings &settings, std::optional<Date> asOf, const Clock &clock);

// Stands in the record of changes after the last change of an exit: what lies between the two was done by it,
// whoever did something else in the same second.
inline constexpr const char *kExitEnds = "left service, with all that ended by it";

struct Desk::Inner {
    std::unique_ptr<store::AgencyFile> file;
    const Clock *clock = nullptr;
    std::optional<Date> asOf;
    UserId user;
    AgencySettings settings; // as stored; known before the first load
    AgencyPtr agency;        // nullptr until the first load
    bool reloadsAfterWrites = true;
    std::uint64_t writes = 0;      // committed through this desk
    std::uint64_t loadedAfter = 0; // how many of them the snapshot in hand holds

    bool isStale() const { return !agency || loadedAfter < writes; }
    LocalTime now() const;
    Instant toUtc(LocalTime local) const;
    LocalTime toLocal(Instant utc) const;
    // Who works at this desk; nameless where the file does not know the user.
    Result<User> me() const;
    // Leave is agreed to by a nurse manager; who is ill or at a course asks nobody. NotAllowed at `field`,
    // {"manager_only", name, role}.
    Result<void> mayDecideLeave(const char *field) const;
    Instant nowUtc() const { return toUtc(now()); } // of the agency's day, which a sample may have set
    Result<void> reload();
    // The agency with every write of this desk in it.
    Result<AgencyPtr> latest();

    // One transaction: `work` gives a Result; a problem, or a failing commit, leaves nothing behind.
    template <class Work>
    auto write(Work &&work) -> std::invoke_result_t<Work, store::UnitOfWork &> {
        if (file->mode() == store::OpenMode::ReadOnly)
            return problem(ProblemCode::FileReadOnly, "file", {file->path()});
        store::UnitOfWork unit(*file, user, clock->now());
        auto result = work(unit);
        if (!result)
            return result;
        if (Result<void> done = unit.commit(); !done)
            return done.error();
        ++writes;
        // What was written stands even where reading it back fails; the next latest() then says why.
        if (reloadsAfterWrites)
            (void)reload();
        return result;
    }
    // The same for work that depends on what is stored now.
    template <class Work>
    auto writeOn(Work &&work) -> std::invoke_result_t<Work, store::UnitOfWork &, const Agency &> {
        if (file->mode() == store::OpenMode::ReadOnly)
            return problem(ProblemCode::FileReadOnly, "file", {file->path()});
        Result<AgencyPtr> current = latest();
        if (!current)
            return current.error();
        const AgencyPtr held = *current;
        return write([&](store::UnitOfWork &unit) { return work(unit, *held); });
    }
};

} // namespace kitround::desk
