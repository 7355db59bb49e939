#pragma once
// Nurses: what each may do, where and when they work.
#include "core/base/Date.h"
#include "core/base/Money.h"
#include "core/records/Ids.h"
#include "core/records/People.h"

#include <optional>
#include <string>
#include <vector>

namespace kitround {

enum class Credential : std::uint8_t { RegisteredNurse, PracticalNurse, Aide };
enum class Skill : std::uint8_t { DrainChest, DrainAbdomen, Teach, Assess, SiteCare, DrawBlood };
inline constexpr int kSkillCount = 6;

class SkillSet {
public:
    constexpr SkillSet() = default;
    constexpr SkillSet(std::initializer_list<Skill> skills) {
        for (Skill s : skills)
            insert(s);
    }
    static constexpr SkillSet fromBits(unsigned bits) {
        SkillSet s;
        s.bits_ = bits;
        return s;
    }
    constexpr unsigned bits() const { return bits_; }
    constexpr void insert(Skill s) { bits_ |= 1U << unsigned(s); }
    constexpr bool contains(Skill s) const { return (bits_ >> unsigned(s)) & 1U; }
    constexpr bool covers(SkillSet needed) const { return (needed.bits_ & ~bits_) == 0; }
    friend constexpr bool operator==(SkillSet, SkillSet) = default;

private:
    unsigned bits_ = 0;
};

struct SkillGrant {
    Skill skill = Skill::DrainChest;
    std::optional<Date> expiresOn; // first day no longer valid; none = does not expire
    friend bool operator==(const SkillGrant &, const SkillGrant &) = default;
};

struct Nurse {
    NurseId id;
    std::string code; // unique, short
    std::string familyName;
    std::string givenName;
    std::string phone;
    Credential credential = Credential::RegisteredNurse;
    std::optional<Gender> gender;
    std::vector<std::string> languages;
    std::vector<SkillGrant> skills;
    Address base;                   // where the day starts and ends
    bool startsAtStoreroom = false; // then `base` is where it ends (endsAtStoreroom)
    Minutes contractPerWeek = Minutes::of(40 * 60);
    int mostVisitsADay = 7;      // common practice: red above 7
    std::int64_t carSpaceMl = 0; // for supplies
    bool overtimeExempt = false;
    bool isActive = true;
    std::optional<UserId> user;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Nurse &, const Nurse &) = default;
};
// Whose day starts there ends there too, unless another place to end at is on the map.
bool endsAtStoreroom(const Nurse &nurse);
// Skills valid on a day.
SkillSet skillsOn(const Nurse &nurse, Date on);

struct ShiftPattern {
    ShiftPatternId id;
    NurseId nurse;
    Weekday weekday = Weekday::Monday;
    Minutes from;
    Minutes to;
    Minutes breakLength;   // 0 = none
    Minutes breakFrom;     // earliest start
    Minutes breakTo;       // latest end
    bool isOnCall = false; // on call: may be asked, not planned by default
    Date validFrom;
    std::optional<Date> validTo; // exclusive
    std::int64_t rowVersion = 0;
    friend bool operator==(const ShiftPattern &, const ShiftPattern &) = default;
};
// A single day that differs from the pattern: extra work, or other hours in its place.
struct ExtraShift {
    ExtraShiftId id;
    NurseId nurse;
    Date on;
    Minutes from;
    Minutes to;
    bool replacesPattern = true;
    bool isOnCall = false;
    std::int64_t rowVersion = 0;
    friend bool operator==(const ExtraShift &, const ExtraShift &) = default;
};
enum class TimeOffKind : std::uint8_t { Leave, Sick, Training, Other };
enum class LeaveStatus : std::uint8_t { Requested, Approved, Declined };
struct TimeOff {
    TimeOffId id;
    NurseId nurse;
    TimeOffKind kind = TimeOffKind::Leave;
    Date from;
    Date to; // exclusive
    std::string note;
    LeaveStatus status = LeaveStatus::Approved;
    std::optional<Date> askedOn;
    std::optional<UserId> decidedBy; // of a request: who approved or declined it
    std::optional<Instant> decidedAt;
    std::string decisionNote;
    std::int64_t rowVersion = 0;
    // A request takes nobody out of the plan before it is approved.
    bool coversDay(Date day) const { return status == LeaveStatus::Approved && from <= day && day < to; }
    friend bool operator==(const TimeOff &, const TimeOff &) = default;
};

// One stretch of work on one day, after patterns, extra shifts and time off.
struct Shift {
    NurseId nurse;
    Date on;
    Minutes from;
    Minutes to;
    Minutes breakLength;
    Minutes breakFrom;
    Minutes breakTo;
    bool isOnCall = false;
    Minutes working() const { return to - from - breakLength; } // of a shift that ends on its day
    friend bool operator==(const Shift &, const Shift &) = default;
};
// The shifts of all nurses in a range, by nurse, then day, then start. Only approved time off counts.
std::vector<Shift> shiftsIn(DateRange range, const std::vector<Nurse> &nurses,
                            const std::vector<ShiftPattern> &patterns, const std::vector<ExtraShift> &extras,
                            const std::vector<TimeOff> &off);

} // namespace kitround
