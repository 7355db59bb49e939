#include "core/desk/views/Cells.h"

#include "core/desk/words/Words.h"

namespace kitround::desk {

std::string cell(double value, int decimals) {
    std::string text = QString::number(value, 'f', decimals).toStdString();
    const bool isZero = text.find_first_not_of("-0.") == std::string::npos;
    return isZero && text.starts_with('-') ? text.substr(1) : text;
}

QString readable(const std::string &cell) {
    if (const auto day = Date::fromIso(cell))
        return dayText(*day);
    if (cell.size() > 1 && cell.front() == '-' && cell[1] >= '0' && cell[1] <= '9')
        return QChar(0x2212) + QString::fromStdString(cell.substr(1)); // copies keep the plain hyphen
    const auto moment = localTimeFromIso(cell);
    return moment ? momentText(*moment) : QString::fromStdString(cell);
}

std::string codeOf(const SnapshotIndex &agency, PatientId patient) {
    const Patient *p = agency.patient(patient);
    return p ? p->code : std::string();
}
std::string initialsOf(const SnapshotIndex &agency, PatientId patient) {
    const Patient *p = agency.patient(patient);
    return p ? initials(*p).toStdString() : std::string();
}
std::string patientOf(const SnapshotIndex &agency, PatientId patient, PatientNamed named) {
    const Patient *p = agency.patient(patient);
    if (!p)
        return {};
    return (named == PatientNamed::InFull ? personName(*p, agency) : patientMark(*p)).toStdString();
}
std::string nurseOf(const SnapshotIndex &agency, NurseId nurse) {
    const Nurse *n = agency.nurse(nurse);
    return n ? personName(*n).toStdString() : std::string();
}
std::string userOf(const SnapshotIndex &agency, UserId user) {
    for (const User &u : agency.snapshot().users)
        if (u.id == user)
            return u.name;
    return {};
}
std::string codeOf(const SnapshotIndex &agency, ItemId item) {
    const Item *i = agency.item(item);
    return i ? i->code : std::string();
}
std::string nameOf(const SnapshotIndex &agency, ItemId item) {
    const Item *i = agency.item(item);
    return i ? i->name : std::string();
}
std::string placeOf(const SnapshotIndex &agency, CatheterId catheter) {
    const Catheter *c = agency.catheter(catheter);
    return c ? catheterText(*c).toStdString() : std::string();
}

} // namespace kitround::desk
