#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/WeekRepair.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {
namespace {

// What is grey on the screen is said on paper.
QString noteOnPaper(const PlanChange &change) {
    return change.isSmall ? Text::tr("%1; counts as agreed, no call").arg(change.note) : change.note;
}

} // namespace

Paper changesPaper(const WeekPicture &week, const std::vector<PlanChange> &changes) {
    using namespace parts;
    Paper paper = blankPaper(*week.agency, Text::tr("Calls about a changed plan"),
                             Text::tr("Week of %1").arg(dayText(week.week.from)), true);
    Table calls = table({column(Text::tr("Who")), column(Text::tr("Phone")), column(Text::tr("Visit")),
                         column(Text::tr("Was")), column(Text::tr("Now")), column(Text::tr("Note")),
                         column(Text::tr("Told, when, by"))});
    for (const PlanChange &change : changes)
        calls.rows.push_back({patientOf(week.agency->index(), change.patient, PatientNamed::InFull),
                              change.phone.toStdString(),
                              change.kind.toStdString(),
                              change.was.toStdString(),
                              change.now.toStdString(),
                              noteOnPaper(change).toStdString(),
                              {}});
    add(paper, {}, std::move(calls));
    return paper;
}

} // namespace kitround::desk
