#include "ui/shared/FormParts.h"

#include "core/desk/views/PatientView.h"
#include "core/desk/words/Distances.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"

#include <QLineEdit>
#include <QLocale>

#include <algorithm>
#include <utility>

namespace kitround::ui {
namespace {

constexpr qint64 kNoGender = -1;

std::optional<double> readDegrees(RecordForm &form, const std::string &field) {
    const QString text = QString::fromStdString(form.textOf(field));
    if (text.isEmpty())
        return std::nullopt;
    const auto value = decimalIn(text);
    if (!value)
        form.addReadFault({ProblemCode::NotANumber, field, {text.toStdString(), "decimals"}});
    return value;
}

QStringList commaParts(const std::string &text) {
    QStringList parts;
    for (const QString &part : QString::fromStdString(text).split(QLatin1Char(','), Qt::SkipEmptyParts))
        if (!part.trimmed().isEmpty())
            parts << part.trimmed();
    return parts;
}

Money moneyOrFault(RecordForm &form, const QString &text, const std::string &field, int row) {
    const auto money = moneyFromText(text);
    if (text.isEmpty())
        form.addReadFault({ProblemCode::Missing, field, {}, row});
    else if (!money)
        form.addReadFault({ProblemCode::NotANumber, field, {text.toStdString(), "decimals"}, row});
    return money.value_or(Money());
}

// What stands in the cell can't be read as it should, or nothing does.
void addListFault(RecordForm &form, ProblemCode code, const std::string &field, const ListEditor &list,
                  ListCell cell) {
    const std::string text = list.text(cell.row, cell.column).toStdString();
    form.addReadFault(text.empty() ? Problem{ProblemCode::Missing, field, {}, cell.row + 1}
                                   : Problem{code, field, {text}, cell.row + 1});
}

} // namespace

void addAddress(RecordForm &form, const Address &address) {
    form.addText("street", QObject::tr("Street"), address.street);
    form.addText("town", QObject::tr("Town"), address.town);
    form.addText("postal_code", QObject::tr("Postal code"), address.postalCode);
    form.addLongText("access_notes", QObject::tr("How to get in"), address.accessNotes);
    form.addChoice("area", QObject::tr("Area"),
                   {{QObject::tr("City"), qint64(AreaKind::Urban)},
                    {QObject::tr("Suburb"), qint64(AreaKind::Suburban)},
                    {QObject::tr("Country"), qint64(AreaKind::Rural)}},
                   static_cast<qint64>(address.area));
    const auto degrees = [](const std::optional<GeoPoint> &p, double GeoPoint::*part) {
        return p ? QString::number((*p).*part, 'f', 6).toStdString() : std::string();
    };
    form.addText("latitude", QObject::tr("Latitude, degrees north"),
                 degrees(address.point, &GeoPoint::latitude))
        ->setPlaceholderText(QObject::tr("40.75"));
    form.addText("longitude", QObject::tr("Longitude, degrees east"),
                 degrees(address.point, &GeoPoint::longitude))
        ->setPlaceholderText(desk::longitudeExample());
    form.addChoice("quality", QObject::tr("The point is"),
                   {{QObject::tr("Exact"), qint64(PointQuality::Exact)},
                    {QObject::tr("The middle of the street"), qint64(PointQuality::StreetCentre)},
                    {QObject::tr("The middle of the postal area"), qint64(PointQuality::PostalAreaCentre)}},
                   address.point ? static_cast<qint64>(address.quality) : -1); // of no point nothing is known
    form.addNote(QObject::tr("Without coordinates travel times to this place are not known."));
}

Address readAddress(RecordForm &form, Address address) {
    address.street = form.textOf("street");
    address.town = form.textOf("town");
    address.postalCode = form.textOf("postal_code");
    address.accessNotes = form.textOf("access_notes");
    address.area = static_cast<AreaKind>(form.choiceOf("area"));
    const auto latitude = readDegrees(form, "latitude");
    const auto longitude = readDegrees(form, "longitude");
    for (const auto &[one, other] : {std::pair("latitude", "longitude"), std::pair("longitude", "latitude")})
        if (form.textOf(one).empty() && !form.textOf(other).empty())
            form.addReadFault({ProblemCode::Missing, one});
    if (latitude && longitude)
        address.quality = static_cast<PointQuality>(form.neededChoiceOf("quality"));
    address.point = latitude && longitude ? std::optional(GeoPoint{*latitude, *longitude}) : std::nullopt;
    return address;
}

bool isPlaceMeant(QWidget *window, const QString &odd) {
    return odd.isEmpty() || Ask::confirm(window, QObject::tr("Is this place right?"), odd,
                                         QObject::tr("It is right: save"), QObject::tr("Go back"));
}

QString addressText(const Address &address) {
    QStringList parts;
    for (const std::string &part : {address.street, address.postalCode, address.town})
        if (!part.empty())
            parts << QString::fromStdString(part);
    return parts.join(QStringLiteral(", "));
}

MomentFields addMoment(RecordForm &form, const std::string &field, const QString &label,
                       std::optional<LocalTime> value, Date today) {
    DateField *day = form.addDate(field, label, value ? std::optional(value->date) : std::nullopt, today);
    QLineEdit *time =
        form.addTime(field + "_time", QObject::tr("at"), value ? std::optional(value->minute) : std::nullopt);
    return {day, time};
}

std::optional<LocalTime> readMoment(RecordForm &form, const std::string &field) {
    const auto date = form.dateOf(field);
    const auto time = form.timeOf(field + "_time");
    if (!date)
        return std::nullopt;
    if (!time && form.textOf(field + "_time").empty())
        form.addReadFault({ProblemCode::Missing, field + "_time"});
    return LocalTime{*date, time.value_or(Minutes())};
}

LocalTime readNeededMoment(RecordForm &form, const std::string &field) {
    const auto at = readMoment(form, field);
    if (!at && form.textOf(field).empty())
        form.addReadFault({ProblemCode::Missing, field});
    return at.value_or(LocalTime{});
}

std::string languagesText(const std::vector<std::string> &tags) {
    QStringList parts;
    for (const std::string &tag : tags)
        parts << QString::fromStdString(tag);
    return parts.join(QStringLiteral(", ")).toStdString();
}

std::vector<std::string> readLanguages(const RecordForm &form, const std::string &field) {
    std::vector<std::string> tags;
    for (const QString &part : commaParts(form.textOf(field)))
        tags.push_back(part.toStdString());
    return tags;
}

std::string datesText(const std::vector<Date> &dates) {
    QStringList parts;
    for (const Date date : dates)
        parts << QString::fromStdString(date.toIso());
    return parts.join(QStringLiteral(", ")).toStdString();
}

std::vector<Date> readDates(RecordForm &form, const std::string &field) {
    std::vector<Date> dates;
    for (const QString &part : commaParts(form.textOf(field))) {
        if (const auto date = Date::fromIso(part.toStdString()))
            dates.push_back(*date);
        else
            form.addReadFault({ProblemCode::NotADate, field, {part.toStdString()}});
    }
    std::ranges::sort(dates);
    return dates;
}

QString moneyEditText(Money amount) {
    return QStringLiteral("%1.%2")
        .arg(amount.count() / 100)
        .arg(amount.count() % 100, 2, 10, QLatin1Char('0'));
}

void addDistance(RecordForm &form, DistanceUnit unit) {
    form.addText("driven_m", QObject::tr("Driven to it, %1").arg(desk::words(unit)), {})
        ->setPlaceholderText(unit == DistanceUnit::Miles ? QObject::tr("7.7, or 12.4 km")
                                                         : QObject::tr("12.4, or 7.7 mi"));
    form.addCheck("driven_is_estimated", QObject::tr("Estimated from the map, not read off the car"), false);
}

std::optional<Metres> distanceOf(RecordForm &form, DistanceUnit unit) {
    auto distance = desk::distanceFrom(QString::fromStdString(form.textOf("driven_m")), unit, "driven_m");
    if (distance)
        return *distance;
    form.addReadFault(distance.error());
    return std::nullopt;
}

std::optional<Money> moneyFromText(const QString &text) {
    const QStringList parts = text.trimmed().split(QLatin1Char('.'));
    if (parts.size() > 2 || (parts.size() == 2 && (parts[1].isEmpty() || parts[1].size() > 2)))
        return std::nullopt;
    bool centsOk = true;
    const auto whole = numberIn(parts[0]);
    const qulonglong cents =
        parts.size() == 2 ? parts[1].leftJustified(2, QLatin1Char('0')).toULongLong(&centsOk) : 0;
    // Far above any price that is allowed, so that the multiplication below cannot overflow.
    if (!whole || !centsOk || *whole < 0 || *whole > 1'000'000'000'000)
        return std::nullopt;
    return Money::of(*whole * 100 + static_cast<qlonglong>(cents));
}

Money readMoney(RecordForm &form, const std::string &field) {
    return moneyOrFault(form, QString::fromStdString(form.textOf(field)), field, 0);
}

Money readListedMoney(RecordForm &form, const std::string &field, const ListEditor &list, ListCell cell) {
    return moneyOrFault(form, list.text(cell.row, cell.column), field, cell.row + 1);
}

std::optional<std::int64_t> readListedNumber(RecordForm &form, const std::string &field,
                                             const ListEditor &list, ListCell cell) {
    const QString text = list.text(cell.row, cell.column);
    const auto value = numberIn(text);
    if (!value && !text.isEmpty())
        addListFault(form, ProblemCode::NotANumber, field, list, cell);
    return value;
}

std::int64_t readNeededListedNumber(RecordForm &form, const std::string &field, const ListEditor &list,
                                    ListCell cell) {
    const auto value = numberIn(list.text(cell.row, cell.column));
    if (!value)
        addListFault(form, ProblemCode::NotANumber, field, list, cell);
    return value.value_or(0);
}

std::optional<Date> readListedDate(RecordForm &form, const std::string &field, const ListEditor &list,
                                   ListCell cell) {
    const QString text = list.text(cell.row, cell.column);
    const auto date = Date::fromIso(text.toStdString());
    if (!date && !text.isEmpty())
        addListFault(form, ProblemCode::NotADate, field, list, cell);
    return date;
}

Minutes readNeededListedTime(RecordForm &form, const std::string &field, const ListEditor &list,
                             ListCell cell) {
    const auto time = clockAsTyped(list.text(cell.row, cell.column).toStdString());
    if (!time)
        addListFault(form, ProblemCode::NotATime, field, list, cell);
    return time.value_or(Minutes());
}

QListWidget *makeCheckList(const std::vector<Choice> &choices, const std::vector<qint64> &checked,
                           QWidget *parent) {
    auto *list = new QListWidget(parent);
    for (const Choice &choice : choices) {
        auto *item = new QListWidgetItem(choice.text, list);
        item->setData(Qt::UserRole, choice.value);
        item->setSizeHint(QSize(0, Look::kHit));
        item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable | Qt::ItemIsUserCheckable);
        const bool isOn = std::ranges::find(checked, choice.value) != checked.end();
        item->setCheckState(isOn ? Qt::Checked : Qt::Unchecked);
    }
    const int rows = std::min(8, static_cast<int>(choices.size()));
    list->setFixedHeight(std::max(1, rows) * Look::kHit + 4); // with the ring that shows the keyboard
    return list;
}

std::vector<qint64> checkedOf(const QListWidget &list) {
    std::vector<qint64> values;
    for (int i = 0; i < list.count(); ++i)
        if (list.item(i)->checkState() == Qt::Checked)
            values.push_back(list.item(i)->data(Qt::UserRole).toLongLong());
    return values;
}

Problem atField(Problem problem, const std::vector<std::string> &names, const std::string &field) {
    const auto rename = [&](Problem &p) {
        if (std::ranges::find(names, p.field) != names.end())
            p.field = field;
    };
    rename(problem);
    for (Problem &p : problem.also)
        rename(p);
    return problem;
}

std::vector<Choice> genderChoices(const QString &none) {
    std::vector<Choice> choices = {{none, kNoGender}};
    for (const Gender g : {Gender::Female, Gender::Male, Gender::Other})
        choices.push_back({genderText(g), static_cast<qint64>(g)});
    return choices;
}

qint64 genderValue(std::optional<Gender> gender) {
    return gender ? static_cast<qint64>(*gender) : kNoGender;
}

std::optional<Gender> genderOf(qint64 value) {
    return value == kNoGender ? std::nullopt : std::optional(static_cast<Gender>(value));
}

std::vector<Choice> skillChoices() {
    std::vector<Choice> choices;
    for (int i = 0; i < kSkillCount; ++i)
        choices.push_back({desk::words(static_cast<Skill>(i)), i});
    return choices;
}

std::vector<Choice> weekdayChoices() {
    std::vector<Choice> choices;
    for (const Weekday day : kAllWeekdays)
        choices.push_back({desk::words(day), static_cast<qint64>(day)});
    return choices;
}

std::vector<Choice> materialChoices() {
    return choicesOf({Material::Latex, Material::Adhesive, Material::Chlorhexidine, Material::Iodine},
                     [](Material m) { return desk::words(m); });
}

QString languageNames(const std::vector<std::string> &tags) {
    QStringList names;
    for (const std::string &tag : tags) {
        const QString text = QString::fromStdString(tag);
        const QLocale::Language language = QLocale(text).language();
        names << (language == QLocale::C ? text : QLocale::languageToString(language));
    }
    return names.isEmpty() ? notKnown() : names.join(QStringLiteral(", "));
}

std::vector<Choice> nurseChoices(const Snapshot &agency, const QString &none) {
    std::vector<Choice> choices;
    for (const Nurse &nurse : agency.nurses)
        choices.push_back({nurse.isActive ? desk::personName(nurse)
                                          : QObject::tr("%1 (no longer active)").arg(desk::personName(nurse)),
                           nurse.id.value()});
    std::ranges::stable_sort(choices, {}, &Choice::text);
    if (!none.isEmpty())
        choices.insert(choices.begin(), {none, 0});
    return choices;
}

std::vector<Choice> itemChoices(const Snapshot &agency, const QString &none, std::optional<ItemKind> kind) {
    std::vector<Choice> choices;
    for (const Item &item : agency.items)
        if (!kind || item.kind == *kind)
            choices.push_back({QString::fromStdString(item.name), item.id.value()});
    std::ranges::stable_sort(choices, {}, &Choice::text);
    if (!none.isEmpty())
        choices.insert(choices.begin(), {none, 0});
    return choices;
}

std::vector<Choice> lotChoices(const desk::Agency &agency, PatientId patient, const QString &none) {
    std::vector<Choice> choices{{none, 0}};
    for (const Lot *lot : desk::lotsForHome(agency, patient))
        choices.push_back({QObject::tr("%1, %2").arg(QString::fromStdString(lot->number),
                                                     desk::itemName(agency.index(), lot->item)),
                           lot->id.value()});
    return choices;
}

QString genderText(std::optional<Gender> gender) {
    if (!gender)
        return notKnown();
    switch (*gender) {
    case Gender::Female:
        return QObject::tr("Female");
    case Gender::Male:
        return QObject::tr("Male");
    case Gender::Other:
        return QObject::tr("Other");
    }
    return {};
}

QString notKnown() {
    return QObject::tr("not known");
}

} // namespace kitround::ui
