#pragma once
// What the values of a stored record say to people, for the record of changes (ChangeRecord.h): columns are
// named as the schema names them, values are those of its JSON.
#include "core/desk/Desk.h"
#include "core/desk/words/Words.h"

#include <QJsonArray>
#include <QJsonObject>
#include <QJsonValue>
#include <QString>

#include <string_view>
#include <vector>

namespace kitround::desk {

QString emptyValue();
bool isNeverTold(std::string_view column);
bool isReasonColumn(std::string_view column);
// Says nothing where the whole record is told: empty, or what it is when nobody entered anything.
bool isUnsaid(std::string_view column, const QJsonObject &side);
QString datedText(Date day); // "Mon 23 Nov 2026"
QString datedMoment(LocalTime at);

QString recordNamed(std::string_view column, std::int64_t id, const Agency &agency, PatientNamed named);
QString valueStored(std::string_view column, const QJsonValue &value, const Agency &agency,
                    PatientNamed named);
QString listedStored(const QString &list, const QJsonObject &row, const Agency &agency, PatientNamed named);
QString placeStored(const QJsonObject &side, const char *kindColumn, const char *refColumn,
                    const Agency &agency, PatientNamed named);

// The lists that place visits, of plans and of what people were told: a line a visit, with what differs.
bool isVisitList(const QString &list);
struct PlacedChange {
    QString visit;         // "Okafor, Adaeze (Q-200) | routine visit"
    QString before, after; // "Field, Flor | Mon 23 Nov 2026 08:09"; empty where it does not stand there
};
std::vector<PlacedChange> placedChanges(const QJsonArray &before, const QJsonArray &after,
                                        const Agency &agency, PatientNamed named);

} // namespace kitround::desk
