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

enum class IncidentKind : std::uint8_t { Device, Infection, Injury, Exposure, Privacy, Other };
enum class IncidentHarm : std::uint8_t { NotKnown, None, Slight, Serious, Death };

// What went wrong, from the first word to the outcome. An external report and its day are a person's
// decision; whose it is stands in `owner`.
struct Incident {
    IncidentId id;
    IncidentKind kind = IncidentKind::Other;
    IncidentHarm harm = IncidentHarm::NotKnown;
    std::optional<PatientId> patient;
    std::optional<LotId> lot;
    std::string device; // the number on the piece or its label, where the lot is not on record
    LocalTime at;
    Date learnedOn; // when the agency learned of it: the clock of an external report starts
    std::string facts;
    std::string keptPlace; // where the faulty piece and its label are; empty: nobody has said
    std::optional<Date> prescriberToldOn, supplierToldOn;
    std::string told; // who was told, by whom, and what they said
    std::string owner;
    std::optional<Date> reportDueOn; // nothing: no external report, as far as anybody has decided
    std::optional<Date> reportedOn;
    std::optional<Date> closedOn;
    std::string outcome;
    std::int64_t rowVersion = 0;
    friend bool operator==(const Incident &, const Incident &) = default;
};

} // namespace kitround
