#include "core/desk/paper/IncidentPaper.h"

#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/Cells.h"
#include "core/desk/words/Text.h"

namespace kitround::desk {
namespace {

// A file is read years later.
QString dated(const std::string &cell) {
    const auto moment = localTimeFromIso(cell);
    const auto day = moment ? std::optional(moment->date) : Date::fromIso(cell);
    if (!day)
        return readable(cell);
    const QString text = QStringLiteral("%1 %2").arg(dayText(*day), QString::number(day->year()));
    return moment ? text + u' ' + timeText(moment->minute) : text;
}

} // namespace

Paper incidentPaper(const IncidentRow &row, const Agency &agency, const Table &timeline) {
    const Incident &i = row.incident;
    Paper paper = parts::blankPaper(agency, Text::tr("Incident of %1").arg(dated(toIso(i.at))),
                                    QStringLiteral("%1, %2").arg(words(i.kind), words(row.state)), false);
    QStringList facts;
    const auto line = [&](const QString &name, const QString &text) {
        if (!text.isEmpty())
            facts << QStringLiteral("%1: %2").arg(name, text);
    };
    const auto day = [&](const std::optional<Date> &on) { return on ? dated(on->toIso()) : QString(); };
    line(Text::tr("Patient"), row.patient);
    line(Text::tr("Harm"), words(i.harm));
    line(Text::tr("Lot or device"), row.device);
    line(Text::tr("The piece is kept"), fromStd(i.keptPlace));
    line(Text::tr("Prescriber told"), day(i.prescriberToldOn));
    line(Text::tr("Supplier told"), day(i.supplierToldOn));
    line(Text::tr("Who was told"), fromStd(i.told));
    line(Text::tr("External report due"), day(i.reportDueOn));
    line(Text::tr("Reported"), day(i.reportedOn));
    line(Text::tr("With"), fromStd(i.owner));
    parts::addLines(paper, Text::tr("What happened"), {fromStd(i.facts)});
    parts::addLines(paper, {}, facts);
    parts::addLines(paper, i.closedOn ? Text::tr("What came of it") : Text::tr("What is left to do"),
                    incidentSteps(i, agency));
    Table done = timeline;
    for (std::vector<std::string> &cells : done.rows)
        cells.front() = dated(cells.front()).toStdString();
    parts::add(paper, Text::tr("What was done"), std::move(done));
    return paper;
}

} // namespace kitround::desk
