#include "ui/stock/CountFields.h"

#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Text.h"
#include "ui/shared/HomeCountStore.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/SupplyForms.h"

namespace kitround::ui {

CountFields::CountFields(RecordForm &form, Session &session, std::span<const supply::RefillLine> lines)
    : form_(form), session_(session), lines_(lines) {}

// What the home counts is seldom full cases; what is sent is decided in eaches.
void CountFields::add(std::size_t line, const Item &item) {
    if (!lines_[line].recalled.isZero())
        form_.addNote(QObject::tr("Those set aside are not counted."));
    if (!lines_[line].expired.isZero())
        form_.addNote(QObject::tr("%1 are past their last day by the record. %2")
                          .arg(desk::numberText(lines_[line].expired.count()), desk::countPastDateText()));
    addQuantity(form_, field(line), QObject::tr("Counted on the shelf"), std::nullopt, item);
    asked_.push_back(line);
}

std::string CountFields::field(std::size_t line) {
    return "counted_" + std::to_string(line);
}

std::vector<HomeCount> CountFields::read() {
    std::vector<HomeCount> counts;
    for (const std::size_t i : asked_) {
        const auto counted = quantityOf(form_, field(i));
        if (!counted)
            continue;
        HomeCount count;
        count.catheter = lines_[i].catheter;
        count.item = lines_[i].item;
        count.at = momentNow(session_);
        count.counted = *counted;
        counts.push_back(count);
    }
    return counts;
}

std::vector<HomeCount> CountFields::notStored(std::vector<HomeCount> counts) const {
    std::erase_if(counts, [this](const HomeCount &count) {
        const auto found = stored_.find(lineOf(count));
        return found != stored_.end() && found->second == count.counted;
    });
    return counts;
}

Problem CountFields::atField(Problem problem, const HomeCount &count) const {
    for (const std::size_t i : asked_)
        if (lines_[i].catheter == count.catheter && lines_[i].item == count.item)
            problem.field = field(i);
    return problem;
}

// Against the record as it is now, which may not be the one the form was opened on.
std::optional<Problem> CountFields::askWhy(const std::vector<HomeCount> &counts,
                                           const std::vector<RecallOutcome> &told) {
    const desk::AgencyPtr agency = session_.agency();
    for (const HomeCount &count : notStored(counts)) {
        const Eaches onRecord = agency->index().balance(Place::home(count.catheter), count.item);
        const auto asked = desk::moreWithSetAside(agency->index(), count, onRecord, told);
        if (!asked)
            continue;
        std::string &why = why_[lineOf(count)];
        why = askWhyCounted(&form_, *asked, why);
        if (why.empty())
            return atField(*asked, count);
    }
    return std::nullopt;
}

std::optional<Problem> CountFields::write(const std::vector<HomeCount> &counts, const QString &what) {
    for (const HomeCount &count : notStored(counts)) {
        if (auto problem = storeHomeCount(&form_, session_, what, count, why_[lineOf(count)]))
            return atField(*std::move(problem), count);
        stored_[lineOf(count)] = count.counted;
    }
    return std::nullopt;
}

} // namespace kitround::ui
