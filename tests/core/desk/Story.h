#pragma once
// A small invented agency in a real file, written only through the desk, with a clock that a story sets. It
// opens on Monday 2 March 2026 at 08:00 in New York; 8 March is the day on which the clocks go forward.
#include "core/desk/Desk.h"
#include "tests/support/SmallAgency.h"

#include <QTemporaryDir>

#include <gtest/gtest.h>

#include <stdexcept>
#include <string>

namespace kitround::desk {

// The value, or the test fails with the problem in plain words.
template <class T>
T must(Result<T> result) {
    if (!result)
        throw std::runtime_error(debugText(result.error()));
    return std::move(*result);
}
inline void must(const Result<void> &result) {
    if (!result)
        throw std::runtime_error(debugText(result.error()));
}
// The problem of something that must not succeed.
template <class T>
Problem refused(const Result<T> &result) {
    if (result)
        throw std::runtime_error("this should have been refused");
    return result.error();
}
inline std::string firstArg(const Problem &problem) {
    return problem.args.empty() ? std::string() : problem.args.front();
}

constexpr LocalTime at(Date on, int hour, int minute = 0) {
    return {on, Minutes::of(60 * hour + minute)};
}

class Story {
public:
    Story();
    ~Story();

    struct Home {
        PatientId patient;
        CatheterId catheter;
    };

    Desk &desk() { return *desk_; }
    AgencyPtr agency() const { return desk_->agency(); }
    const Snapshot &snapshot() const { return desk_->agency()->snapshot(); }
    const SnapshotIndex &index() const { return desk_->agency()->index(); }
    std::string path() const { return path_; }
    std::string folder() const { return folder_.path().toStdString(); }
    const FixedClock &clock() const { return clock_; }

    // Sets the wall clock and reads the file again as of then.
    void now(LocalTime local);
    void closeFile() { desk_.reset(); }
    void openFile(store::OpenMode mode = store::OpenMode::ReadWrite);
    Instant utc(LocalTime local) const;

    // An active patient with a chest catheter, right, in place since 1 February 2026; no order yet.
    Home addHome(const std::string &code);
    Home addCatheter(const Home &home, CavitySite site, Side side);
    // An order with a maximum of 1000 mL, previewed and accepted.
    DrainOrder order(const Home &home, const DrainPattern &pattern, Date start, ItemId kit);
    DrainOrder blankOrder(const Home &home, const DrainPattern &pattern, Date start, ItemId kit) const;
    VisitOrder visits(const Home &home, int aWeek, int weeks, Date start);
    LotId receive(ItemId item, const std::string &lot, std::int64_t eaches, Date expiresOn);
    HomeCount count(const Home &home, ItemId item, std::int64_t eaches, LocalTime when);
    DrainEntry entry(const Home &home, LocalTime when, std::optional<int> volume) const;
    Desk::Logged drain(const Home &home, LocalTime when, int volume, ItemId item,
                       std::optional<LotId> lot = std::nullopt);
    RefillContact contact(const Home &home, RefillAnswer answer = RefillAnswer::Confirmed);
    // Confirmed and promised for the day; by courier, or carried by the nurse.
    Delivery promise(const Home &home, ItemId item, std::int64_t eaches, Date on,
                     std::optional<NurseId> carriedBy = std::nullopt);
    // A published visit of the patient.
    Visit publishVisit(const Home &home, Date on, int hour, VisitKind kind = VisitKind::Routine);

    Eaches balance(const Place &place, ItemId item) const { return index().balance(place, item); }
    // Everything of the item that stands anywhere inside.
    Eaches total(ItemId item) const;
    const Delivery &delivery(DeliveryId id) const;
    const Visit &visit(VisitId id) const;
    std::size_t auditLength() const;

    PayerId payer;
    ItemId kit500, kit1000, bottle500, latexKit;
    SupplierId supplier;
    NurseId nurse, otherNurse;

private:
    QTemporaryDir folder_;
    std::string path_;
    FixedClock clock_;
    std::unique_ptr<Desk> desk_;
};

inline constexpr Date kMonday = Date::of(2026, 3, 2);

} // namespace kitround::desk
