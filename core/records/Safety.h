#pragma once
// Things to call about, calls taken, incidents. The tool neither diagnoses nor advises a change.
#include "core/base/Date.h"
#include "core/records/Drains.h"
#include "core/records/Ids.h"

#include <optional>
#include <string>
#include <vector>

namespace kitround {

enum class CautionKind : std::uint8_t {
    OverPrescribedMaximum,
    OverCommonMaximum,
    TooSoon,
    LowOutputRun,
    SuddenDrop,
    SharpChange,
    SymptomEmergency,
    SymptomToday,
    SymptomNow,
    Silence,
    NoMaximumOnOrder,
    NoOrder,
    RecalledLotAtHome
};
enum class CautionUrgency : std::uint8_t { Emergency, Now, Today, Soon };
enum class CallItemStatus : std::uint8_t { Open, Closed };

// One call-about-it item. `subject` says what raised it ("entry:812", "silence:2026-11-20"), so that the same
// thing is not raised twice.
struct CallItem {
    CallItemId id;
    PatientId patient;
    std::optional<CatheterId> catheter;
    CautionKind kind = CautionKind::Silence;
    CautionUrgency urgency = CautionUrgency::Soon;
    std::string subject;
    LocalTime raisedAt;
    std::vector<std::string> evidence; // the numbers, in the order the words for the kind expect
    CallItemStatus status = CallItemStatus::Open;
    std::string owner;
    std::optional<LocalTime> closedAt;
    std::string outcome; // who was told and what they said
    std::int64_t rowVersion = 0;
    friend bool operator==(const CallItem &, const CallItem &) = default;
};

enum class CallTopic : std::uint8_t { Clinical, Supply, Schedule };
struct PhoneCall {
    PhoneCallId id;
    std::optional<PatientId> patient;
    LocalTime at;
    std::string caller;
    CallTopic topic = CallTopic::Clinical;
    std::string words;
    std::string owner;
    std::optional<LocalTime> closedAt;
    std::string outcome;
    std::int64_t rowVersion = 0;
    friend bool operator==(const PhoneCall &, const PhoneCall &) = default;
};

struct Incident {
    IncidentId id;
    std::optional<PatientId> patient;
    std::optional<LotId> lot;
    LocalTime at;
    std::string facts;
    std::optional<Date> reportDueOn;
    std::optional<Date> reportedOn;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Incident &, const Incident &) = default;
};

} // namespace kitround
