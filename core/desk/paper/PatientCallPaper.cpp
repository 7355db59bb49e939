#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/PatientCalls.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

Paper patientCallPaper(const std::vector<PatientCall> &calls, const Agency &agency) {
    using namespace parts;
    Paper paper = blankPaper(agency, Text::tr("Patients to phone about changed visits"),
                             momentText(agency.snapshot().now), true);
    Table homes = table({column(Text::tr("Who")), column(Text::tr("Phone")), column(Text::tr("Was")),
                         column(Text::tr("Now")), column(Text::tr("Nurse")), column(Text::tr("Tried")),
                         column(Text::tr("Reached whom, when"))});
    for (const PatientCall &call : calls)
        homes.rows.push_back({patientMark(agency, call.patient).toStdString(),
                              phoneText(call).toStdString(),
                              call.was.toStdString(),
                              call.now.toStdString(),
                              call.nurse.toStdString(),
                              call.tried.toStdString(),
                              {}}); // to be filled in by hand
    add(paper, {}, std::move(homes));
    if (!calls.empty())
        addLines(paper, {},
                 {Text::tr("Record each call under Today, Patients to phone: until then the home stays on "
                           "the list.")});
    return paper;
}

} // namespace kitround::desk
