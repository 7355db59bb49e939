#pragma once
// The part of a refill call that asks what was set aside of recalled lots, or whether the home would not
// look: its fields, what is read from them and stored. What was stored is remembered, so that a second try
// stores nothing twice.
#include "core/desk/views/RefillCallView.h"

#include <QString>

#include <map>
#include <optional>
#include <utility>

namespace kitround::ui {

class RecordForm;
class Session;

class RecalledFields {
public:
    // Borrows all; `agency` is the form's own and stays.
    RecalledFields(RecordForm &form, Session &session, const SnapshotIndex &agency, PatientId patient);
    void add();
    // A fault at each lot that was left without an answer: it would stay in question.
    void require();
    std::vector<RecallOutcome> read(const std::string &spokeWith);
    std::optional<Problem> write(const std::vector<RecallOutcome> &outcomes, const QString &what);
    std::vector<RecallOutcome> notStored(std::vector<RecallOutcome> outcomes) const;
    // What the desk misses of a recalled lot, at the field that asks for it.
    std::optional<Problem> atFields(const std::optional<Problem> &problem) const;
    bool isStored() const { return !told_.empty(); }

private:
    bool isStoredAs(const RecallOutcome &outcome) const;

    RecordForm &form_;
    Session &session_;
    const SnapshotIndex &agency_;
    const std::vector<desk::RecalledToAsk> asked_; // by field
    std::map<std::pair<CatheterId, LotId>, std::pair<RecallAnswer, Eaches>> told_;
};

} // namespace kitround::ui
