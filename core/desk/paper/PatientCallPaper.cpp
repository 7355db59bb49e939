#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {

Paper patientCallPaper(const std::vector<PatientCall> &calls, const Agency &agency) {
    using namespace parts;
    Paper paper = blankPaper(agency, Text::tr("Patients to phone about changed visits"),
                             momentText(agency.snapshot().now), true);
    Table homes = table({column(Text::tr("Who")), column(Text::tr("Phone")), column(Text::tr("Visit")),
                         column(Text::tr("Was")), column(Text::tr("Now")), column(Text::tr("Nurse"))});
    // Left out where nobody was tried: an empty column takes the room of what is written by hand.
    const bool isTried = std::ranges::any_of(calls, [](const PatientCall &c) { return !c.tried.isEmpty(); });
    if (isTried)
        homes.columns.push_back(column(Text::tr("Tried")));
    homes.columns.push_back(column(Text::tr("Reached whom, when")));
    for (const auto &[call, change, isFirst] : callLines(calls)) {
        const auto once = [isNamed = isFirst](const QString &text) {
            return isNamed ? text.toStdString() : std::string();
        };
        std::vector<std::string> row = {
            once(call.who),           once(phoneText(call)),    change.kind.toStdString(),
            change.was.toStdString(), change.now.toStdString(), change.nurse.toStdString()};
        if (isTried)
            row.push_back(once(call.tried));
        row.emplace_back(); // to be filled in by hand
        homes.rows.push_back(std::move(row));
    }
    add(paper, {}, std::move(homes));
    if (!calls.empty())
        addLines(paper, {},
                 {Text::tr("Record each call under Today, Patients to phone: until then the home stays on "
                           "the list.")});
    return paper;
}

} // namespace kitround::desk
