#include "ui/stock/RecalledFields.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/RecallForm.h"

#include <QCheckBox>
#include <QLineEdit>
#include <QObject>

#include <algorithm>

namespace kitround::ui {
namespace {

std::string recalledField(std::size_t i) {
    return "recalled_" + std::to_string(i);
}

std::string wouldNotField(std::size_t i) {
    return recalledField(i) + "_not_looked";
}

} // namespace

RecalledFields::RecalledFields(RecordForm &form, Session &session, const SnapshotIndex &agency,
                               PatientId patient)
    : form_(form), session_(session), agency_(agency),
      asked_(desk::recalledToAsk(agency, patient, session.today())) {}

void RecalledFields::add() {
    if (!asked_.empty())
        form_.addHeading(QObject::tr("Recalled lots: how many are set aside"));
    for (std::size_t i = 0; i < asked_.size(); ++i) {
        const Lot *lot = agency_.lot(asked_[i].lot);
        const Catheter *catheter = agency_.catheter(asked_[i].catheter);
        const QString number = lot ? QString::fromStdString(lot->number) : QString();
        QLineEdit *setAside =
            form_.addNumber(recalledField(i), QObject::tr("Lot %1").arg(number), std::nullopt,
                            QObject::tr("eaches, %1; 0 where none is there")
                                .arg(catheter ? desk::catheterText(*catheter) : QString()));
        // A home that will not look has not said that none is there.
        QCheckBox *wouldNot = form_.addCheck(
            wouldNotField(i), QObject::tr("They would not look for lot %1").arg(number), false);
        QObject::connect(wouldNot, &QCheckBox::toggled, setAside, &QLineEdit::setDisabled);
    }
}

void RecalledFields::require() {
    for (std::size_t i = 0; i < asked_.size(); ++i)
        if (form_.textOf(recalledField(i)).empty() && !form_.checkOf(wouldNotField(i))) {
            Problem missing = desk::recalledNotAsked(agency_, asked_[i].lot);
            missing.field = recalledField(i);
            form_.addReadFault(std::move(missing));
        }
}

// An empty number is no answer: what the ledger has of the lot stays in question.
std::vector<RecallOutcome> RecalledFields::read(const std::string &spokeWith) {
    std::vector<RecallOutcome> outcomes;
    for (std::size_t i = 0; i < asked_.size(); ++i) {
        const bool wouldNot = form_.checkOf(wouldNotField(i));
        const auto setAside = wouldNot ? std::nullopt : form_.numberOf(recalledField(i));
        if (!setAside && !wouldNot)
            continue;
        RecallOutcome outcome;
        outcome.lot = asked_[i].lot;
        outcome.catheter = asked_[i].catheter;
        outcome.at = momentNow(session_);
        outcome.toldBy = session_.userName().toStdString();
        outcome.spokeWith = spokeWith;
        outcome.answer = wouldNot         ? RecallAnswer::Declined
                         : *setAside == 0 ? RecallAnswer::NoneLeft
                                          : RecallAnswer::SetAside;
        outcome.setAside = Eaches::of(setAside.value_or(0));
        outcomes.push_back(std::move(outcome));
    }
    return outcomes;
}

bool RecalledFields::isStoredAs(const RecallOutcome &outcome) const {
    const auto found = told_.find({outcome.catheter, outcome.lot});
    return found != told_.end() && found->second == std::pair(outcome.answer, outcome.setAside);
}

std::vector<RecallOutcome> RecalledFields::notStored(std::vector<RecallOutcome> outcomes) const {
    std::erase_if(outcomes, [this](const RecallOutcome &outcome) { return isStoredAs(outcome); });
    return outcomes;
}

std::optional<Problem> RecalledFields::write(const std::vector<RecallOutcome> &outcomes,
                                             const QString &what) {
    for (const RecallOutcome &outcome : notStored(outcomes)) {
        if (auto problem = storeRecall(&form_, session_, what, outcome)) {
            const auto place = std::ranges::find(asked_, desk::RecalledToAsk{outcome.catheter, outcome.lot}) -
                               asked_.begin();
            problem->field = problem->field == "spoke_with" ? std::string("answered_by")
                                                            : recalledField(static_cast<std::size_t>(place));
            return problem;
        }
        told_[{outcome.catheter, outcome.lot}] = {outcome.answer, outcome.setAside};
    }
    return std::nullopt;
}

std::optional<Problem> RecalledFields::atFields(const std::optional<Problem> &problem) const {
    if (!problem)
        return std::nullopt;
    Problems found = flattened(*problem);
    for (Problem &p : found)
        for (std::size_t i = 0; i < asked_.size() && p.field == "set_aside"; ++i)
            if (desk::recalledNotAsked(agency_, asked_[i].lot) == p)
                p.field = recalledField(i);
    return joined(std::move(found));
}

} // namespace kitround::ui
