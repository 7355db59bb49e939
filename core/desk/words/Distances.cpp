#include "core/desk/words/Distances.h"

#include "core/desk/words/Text.h"

#include <QRegularExpression>

namespace kitround::desk {
namespace {

constexpr std::int64_t kMillimetresAMile = 1609344; // international mile, exact
constexpr std::int64_t kMillimetresAKilometre = 1000000;

std::int64_t millimetresIn(DistanceUnit unit) {
    return unit == DistanceUnit::Miles ? kMillimetresAMile : kMillimetresAKilometre;
}

QString signOf(DistanceUnit unit) {
    return unit == DistanceUnit::Miles ? Text::tr(" mi") : Text::tr(" km");
}

Problem unreadable(ProblemCode code, const std::string &field, std::vector<std::string> args) {
    Problem problem;
    problem.code = code;
    problem.field = field;
    problem.args = std::move(args);
    return problem;
}

} // namespace

QString words(DistanceUnit unit) {
    return unit == DistanceUnit::Miles ? Text::tr("miles") : Text::tr("kilometres");
}

QString distanceText(Metres distance, DistanceUnit unit) {
    // A hundredth of either unit is more than ten metres, so two decimals tell apart whatever was typed.
    const std::int64_t hundredths =
        (distance.count() * 100 * 1000 + millimetresIn(unit) / 2) / millimetresIn(unit);
    QString text = QString::number(static_cast<double>(hundredths) / 100.0, 'f', 2);
    while (text.endsWith(u'0'))
        text.chop(1);
    if (text.endsWith(u'.'))
        text.chop(1);
    return text + signOf(unit);
}

QString aboutDistanceText(Metres distance, DistanceUnit unit) {
    return QString::number((distance.count() * 1000 + millimetresIn(unit) / 2) / millimetresIn(unit)) +
           signOf(unit);
}

Metres oneOf(DistanceUnit unit) {
    return Metres::of((millimetresIn(unit) + 500) / 1000);
}

Result<std::optional<Metres>> distanceFrom(const QString &text, DistanceUnit unit, const std::string &field) {
    const QString given = text.trimmed();
    if (given.isEmpty())
        return std::optional<Metres>();
    static const QRegularExpression pattern(
        QStringLiteral("^(-?)(\\d{1,5})(?:[.,](\\d*))?\\s*(km|kilomet(?:re|er)s?|mi|miles?)?$"),
        QRegularExpression::CaseInsensitiveOption);
    const QRegularExpressionMatch match = pattern.match(given);
    if (!match.hasMatch())
        return unreadable(ProblemCode::NotAllowed, field, {"not_a_distance", given.toStdString()});
    if (!match.captured(1).isEmpty())
        return unreadable(ProblemCode::Negative, field, {given.toStdString()});
    QString decimals = match.captured(3);
    while (decimals.endsWith(u'0'))
        decimals.chop(1);
    if (decimals.size() > 2)
        return unreadable(ProblemCode::NotAllowed, field, {"too_fine", given.toStdString()});
    if (const QString named = match.captured(4).toLower(); !named.isEmpty())
        unit = named.startsWith(u'k') ? DistanceUnit::Kilometres : DistanceUnit::Miles;
    const std::int64_t hundredths =
        match.captured(2).toLongLong() * 100 + decimals.leftJustified(2, u'0').toLongLong();
    constexpr std::int64_t aMetre = 100 * 1000; // in hundredths of a millimetre
    return std::optional(Metres::of((hundredths * millimetresIn(unit) + aMetre / 2) / aMetre));
}

} // namespace kitround::desk
