#pragma once
// What the papers share. Inside desk/paper only.
#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"

namespace kitround::desk::parts {

Paper blankPaper(const Agency &agency, const QString &title, const QString &subtitle, bool landscape);
Column column(const QString &name, Align align = Align::Left);
Table table(std::initializer_list<Column> columns);
void add(Paper &paper, const QString &heading, Table table, bool startsPage = false);
void addLines(Paper &paper, const QString &heading, const QStringList &lines, bool startsPage = false);
// Street and town; never the access notes.
QString addressLine(const Address &address);
QString addressWithPostcode(const Address &address); // for what is sent
// "Questions? Call 555-0100."; empty where the agency has named no phone, and the line is left out.
QString callUs(const Agency &agency);
using desk::patientMark;
QString patientMark(const Agency &agency, PatientId patient);
QString nurseName(const Agency &agency, NurseId nurse);
// "08:00-12:00, 14:00-16:00", or "any time".
QString windowsOn(const Patient &patient, Weekday day);

} // namespace kitround::desk::parts
