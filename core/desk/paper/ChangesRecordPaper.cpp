#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/ChangeRecord.h"
#include "core/desk/words/Text.h"

#include <algorithm>

namespace kitround::desk {
namespace {

using PaperLine = std::vector<std::string>;

// Nothing is to be written in by hand: what has no such side says so.
std::string sideOrNone(const QString &side) {
    return side.isEmpty() ? std::string("-") : side.toStdString();
}

QString reasonOf(const ChangeRow &row) {
    QStringList reasons;
    for (const FieldChange &field : row.fields)
        if (field.isReason)
            reasons << (row.entry.after.empty() ? field.before : field.after);
    return reasons.join(QStringLiteral("; "));
}

// The day stays on one line: between long texts its column would be squeezed to its longest word.
std::string momentOnPaper(const LocalTime &at) {
    QString day = QStringLiteral("%1 %2").arg(dayText(at.date), QString::number(at.date.year()));
    day.replace(u' ', QChar(QChar::Nbsp));
    return QStringLiteral("%1 %2").arg(day, timeText(at.minute)).toStdString();
}

// An audit's sample is looked at years later, so its moments carry the year. Of a change of several fields
// only the first line says when, by whom and of what.
std::vector<PaperLine> linesOf(const ChangeRow &row) {
    const PaperLine head = {std::to_string(row.entry.number), momentOnPaper(row.at), row.who.toStdString(),
                            QStringLiteral("%1: %2").arg(row.kind, words(row.entry.action)).toStdString(),
                            sideOrNone(row.about)};
    std::vector<PaperLine> lines;
    for (const FieldChange &field : row.fields) {
        if (field.isReason)
            continue;
        PaperLine line = lines.empty() ? head : PaperLine{head.front(), {}, {}, {}, {}};
        line.insert(line.end(),
                    {field.field.toStdString(), sideOrNone(field.before), sideOrNone(field.after), {}});
        lines.push_back(std::move(line));
    }
    if (lines.empty()) {
        lines.push_back(head);
        lines.back().insert(lines.back().end(), {"-", "-", "-", {}});
    }
    lines.front().back() = reasonOf(row).toStdString();
    return lines;
}

} // namespace

Paper changesRecordPaper(std::span<const ChangeRow> changes, const QString &asked, const Agency &agency) {
    Paper paper = parts::blankPaper(agency, Text::tr("Record of changes"),
                                    asked.isEmpty() ? Text::tr("The newest") : asked, true);
    Table told = parts::table({parts::column(Text::tr("Number"), Align::Right),
                               parts::column(Text::tr("When")), parts::column(Text::tr("By")),
                               parts::column(Text::tr("What")), parts::column(Text::tr("Whose or which")),
                               parts::column(Text::tr("Field")), parts::column(Text::tr("Before")),
                               parts::column(Text::tr("After")), parts::column(Text::tr("Reason"))});
    for (const ChangeRow &shown : changes)
        for (PaperLine &line : linesOf(changeRow(shown.entry, agency, PatientNamed::Initials)))
            told.rows.push_back(std::move(line));
    // A column without any text would be drawn as one to write in.
    if (std::ranges::all_of(told.rows, [](const PaperLine &line) { return line.back().empty(); })) {
        told.columns.pop_back();
        for (PaperLine &line : told.rows)
            line.pop_back();
    }
    parts::add(paper, {}, std::move(told));
    return paper;
}

} // namespace kitround::desk
