#include "core/desk/paper/PaperParts.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk {

QString fileNameOf(const Paper &paper) {
    constexpr qsizetype kLongest = 40;
    const QString name = QString(paper.title).toLower().replace(u' ', u'-').left(kLongest);
    return paper.about ? QStringLiteral("%1-%2").arg(name, fromStd(paper.about->toIso())) : name;
}

Paper signedBy(Paper paper, const QString &user, LocalTime at) {
    paper.foot += QStringLiteral(" · ") +
                  Text::tr("printed by %1 on %2 %3")
                      .arg(user.isEmpty() ? Text::tr("nobody signed in") : user, dayText(at.date),
                           QString::number(at.date.year()) + u' ' + timeText(at.minute));
    return paper;
}

namespace parts {

Paper blankPaper(const Agency &agency, const QString &title, const QString &subtitle, bool landscape) {
    Paper paper;
    paper.title = title;
    paper.subtitle = subtitle;
    paper.landscape = landscape;
    const Snapshot &s = agency.snapshot();
    paper.foot = Text::tr("%1 · as of %2 %3")
                     .arg(fromStd(s.settings.agencyName), dayText(s.now.date),
                          QString::number(s.now.date.year()) + u' ' + timeText(s.now.minute));
    if (s.settings.isInvented)
        paper.foot += QStringLiteral(" · ") + inventedMark();
    return paper;
}

Column column(const QString &name, Align align) {
    return {name.toStdString(), {}, align, align == Align::Right};
}

Table table(std::initializer_list<Column> columns) {
    Table made;
    made.columns = columns;
    return made;
}

void add(Paper &paper, const QString &heading, Table table, bool startsPage) {
    Paper::Section section;
    section.heading = heading;
    section.startsPage = startsPage;
    if (table.rows.empty())
        section.lines << Text::tr("Nothing.");
    else
        section.table = std::move(table);
    paper.sections.push_back(std::move(section));
}

void addLines(Paper &paper, const QString &heading, const QStringList &lines, bool startsPage) {
    Paper::Section section;
    section.heading = heading;
    section.lines = lines;
    section.startsPage = startsPage;
    paper.sections.push_back(std::move(section));
}

QString addressLine(const Address &address) {
    QStringList kept;
    for (const std::string &part : {address.street, address.town})
        if (!part.empty())
            kept << fromStd(part);
    return kept.isEmpty() ? Text::tr("address not known") : kept.join(QStringLiteral(", "));
}

QString addressWithPostcode(const Address &address) {
    const QString line = addressLine(address);
    return address.postalCode.empty() ? line : line + u' ' + fromStd(address.postalCode);
}

QString callUs(const Agency &agency) {
    const std::string &phone = agency.settings().phone;
    return phone.empty() ? QString() : Text::tr("Questions? Call %1.").arg(fromStd(phone));
}

QString patientMark(const Agency &agency, PatientId patient) {
    const Patient *p = agency.index().patient(patient);
    return p ? patientMark(*p) : QString();
}

QString nurseName(const Agency &agency, NurseId nurse) {
    const Nurse *n = agency.index().nurse(nurse);
    return n ? personName(*n) : Text::tr("unknown nurse");
}

QString windowsOn(const Patient &patient, Weekday day) {
    QStringList times;
    for (const VisitWindow &w : patient.windows)
        if (w.weekday == day)
            times << QStringLiteral("%1-%2").arg(timeText(w.from), timeText(w.to));
    return times.isEmpty() ? Text::tr("any time") : times.join(QStringLiteral(", "));
}

} // namespace parts
} // namespace kitround::desk
