// Dates, times, chances, money and names as people read them. Never the machine's locale: a paper printed in
// two places must say the same.
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <array>
#include <cmath>
#include <cstdlib>

namespace kitround::desk {

QString numberText(std::int64_t value) {
    QString text = QString::number(value);
    const qsizetype first = value < 0 ? 1 : 0;
    for (qsizetype at = text.size() - 3; at > first; at -= 3)
        text.insert(at, u',');
    return text;
}

QString shortNumber(double value) {
    const double rounded = std::round(value * 10.0) / 10.0;
    return QString::number(rounded, 'f', std::abs(rounded - std::round(rounded)) < 0.05 ? 0 : 1);
}

QString signedText(std::int64_t difference) {
    const QString sign = difference > 0   ? QStringLiteral("+")
                         : difference < 0 ? QStringLiteral("\u2212")
                                          : QString();
    return sign + numberText(std::abs(difference));
}

QString counted(std::int64_t count, const QString &one, const QString &many) {
    QString text = count == 1 ? one : many;
    return text.replace(QStringLiteral("%1"), numberText(count));
}

QString words(Weekday day) {
    switch (day) {
    case Weekday::Sunday:
        return Text::tr("Sun");
    case Weekday::Monday:
        return Text::tr("Mon");
    case Weekday::Tuesday:
        return Text::tr("Tue");
    case Weekday::Wednesday:
        return Text::tr("Wed");
    case Weekday::Thursday:
        return Text::tr("Thu");
    case Weekday::Friday:
        return Text::tr("Fri");
    case Weekday::Saturday:
        return Text::tr("Sat");
    }
    return {};
}

namespace {

QString monthName(unsigned month) {
    static constexpr std::array<const char *, 12> kNames = {
        QT_TRANSLATE_NOOP("kitround", "Jan"), QT_TRANSLATE_NOOP("kitround", "Feb"),
        QT_TRANSLATE_NOOP("kitround", "Mar"), QT_TRANSLATE_NOOP("kitround", "Apr"),
        QT_TRANSLATE_NOOP("kitround", "May"), QT_TRANSLATE_NOOP("kitround", "Jun"),
        QT_TRANSLATE_NOOP("kitround", "Jul"), QT_TRANSLATE_NOOP("kitround", "Aug"),
        QT_TRANSLATE_NOOP("kitround", "Sep"), QT_TRANSLATE_NOOP("kitround", "Oct"),
        QT_TRANSLATE_NOOP("kitround", "Nov"), QT_TRANSLATE_NOOP("kitround", "Dec")};
    return Text::tr(kNames[month - 1]);
}

QChar firstLetter(const std::string &name) {
    for (const QChar c : fromStd(name))
        if (c.isLetter())
            return c.toUpper();
    return {};
}

} // namespace

QString shortDayText(Date date) {
    return QStringLiteral("%1 %2").arg(words(date.weekday()), QString::number(date.dayOfMonth()));
}

QString dayText(Date date) {
    return shortDayText(date) + u' ' + monthName(date.month());
}

QString dayText(Date date, Date reference) {
    const QString day = dayText(date);
    return date.year() == reference.year() ? day : day + u' ' + QString::number(date.year());
}

QString monthText(Date day) {
    return QStringLiteral("%1 %2").arg(monthName(day.month()), QString::number(day.year()));
}

QString timeText(Minutes minuteOfDay) {
    return fromStd(clockText(minuteOfDay));
}

QString momentText(LocalTime at) {
    return dayText(at.date) + u' ' + timeText(at.minute);
}

QString chanceText(double probability) {
    if (!(probability >= 0.001)) // nought too: nothing is known so well
        return Text::tr("less than 1 in 1000");
    if (probability > 0.999)
        return Text::tr("certain");
    if (probability > 0.5) { // "1 in 1" would say too much
        const int tenths = std::min(9, static_cast<int>(std::floor(probability * 10.0)));
        return tenths <= 5 ? Text::tr("more than 1 in 2") : Text::tr("%1 in 10").arg(tenths);
    }
    constexpr double kRough = 100; // a rare chance is not known to three figures
    const double one = 1.0 / probability;
    if (one < kRough)
        return Text::tr("1 in %1").arg(static_cast<int>(std::lround(one)));
    return Text::tr("about 1 in %1").arg(static_cast<int>(std::lround(one / kRough) * std::lround(kRough)));
}

QString moneyText(Money amount, const std::string &currency) {
    const std::int64_t minor = std::abs(amount.count());
    return QStringLiteral("%1%2.%3 %4")
        .arg(amount.isNegative() ? QStringLiteral("-") : QString(), numberText(minor / 100),
             QStringLiteral("%1").arg(minor % 100, 2, 10, QLatin1Char('0')), fromStd(currency));
}

QString itemName(const SnapshotIndex &index, ItemId item) {
    const Item *found = index.item(item);
    return found ? fromStd(found->name) : Text::tr("an unknown item");
}

QString personName(const Patient &patient) {
    if (patient.givenName.empty())
        return fromStd(patient.familyName);
    return QStringLiteral("%1, %2").arg(fromStd(patient.familyName), fromStd(patient.givenName));
}

QString personName(const Patient &patient, const SnapshotIndex &agency) {
    const QString name = personName(patient);
    return agency.hasNamesake(patient.id) ? QStringLiteral("%1 (%2)").arg(name, fromStd(patient.code)) : name;
}

QString nameWithCode(const SnapshotIndex &agency, PatientId id) {
    const Patient *patient = agency.patient(id);
    return patient ? QStringLiteral("%1 (%2)").arg(personName(*patient), fromStd(patient->code)) : QString();
}

QString nameWithCode(const SnapshotIndex &agency, CatheterId id) {
    const Catheter *catheter = agency.catheter(id);
    return catheter ? QStringLiteral("%1: %2").arg(nameWithCode(agency, catheter->patient),
                                                   catheterText(*catheter))
                    : QString();
}

QString personName(const Nurse &nurse) {
    if (nurse.givenName.empty())
        return fromStd(nurse.familyName);
    return QStringLiteral("%1, %2").arg(fromStd(nurse.familyName), fromStd(nurse.givenName));
}

QString initials(const Patient &patient) {
    QString text;
    for (const QChar c : {firstLetter(patient.givenName), firstLetter(patient.familyName)})
        if (!c.isNull())
            text += QString(c) + u'.';
    return text;
}

QString patientMark(const Patient &patient) {
    return QStringLiteral("%1 %2").arg(initials(patient), fromStd(patient.code)).trimmed();
}

QString catheterText(const Catheter &catheter) {
    return QStringLiteral("%1, %2").arg(words(catheter.site), words(catheter.side));
}

} // namespace kitround::desk
