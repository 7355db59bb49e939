#pragma once
// Groups of fields that several forms have: an address, a moment, languages, a check list, money; and the
// names of the records a form chooses from.
#include "core/base/Money.h"
#include "core/desk/Desk.h"
#include "core/records/Snapshot.h"
#include "ui/shared/ListEditor.h"
#include "ui/shared/RecordForm.h"

#include <QListWidget>

namespace kitround::ui {

void addAddress(RecordForm &form, const Address &address);
Address readAddress(RecordForm &form, Address before);
// `odd` says why a place can hardly be meant (desk/words/PlaceWords); asks then, and Enter goes back.
bool isPlaceMeant(QWidget *window, const QString &odd);
QString addressText(const Address &address); // in one line; empty where nothing of it is known

// Fields "<field>" (date) and "<field>_time".
struct MomentFields {
    DateField *day;
    QLineEdit *time;
};
MomentFields addMoment(RecordForm &form, const std::string &field, const QString &label,
                       std::optional<LocalTime> value, Date today);
// Nothing where the date is empty; a date without a time is a fault at the time.
std::optional<LocalTime> readMoment(RecordForm &form, const std::string &field);
LocalTime readNeededMoment(RecordForm &form, const std::string &field);

// Tags parted by commas, the preferred first.
std::string languagesText(const std::vector<std::string> &tags);
std::vector<std::string> readLanguages(const RecordForm &form, const std::string &field);

// Dates parted by commas: holidays, closed days.
std::string datesText(const std::vector<Date> &dates);
std::vector<Date> readDates(RecordForm &form, const std::string &field);

// "12.50" from minor units and back.
QString moneyEditText(Money amount);
std::optional<Money> moneyFromText(const QString &text);
Money readMoney(RecordForm &form, const std::string &field);

// What is typed in a list; a fault is told at the list's field, with its row.
struct ListCell {
    int row = 0, column = 0;
};
std::optional<std::int64_t> readListedNumber(RecordForm &form, const std::string &field,
                                             const ListEditor &list, ListCell cell);
std::int64_t readNeededListedNumber(RecordForm &form, const std::string &field, const ListEditor &list,
                                    ListCell cell);
std::optional<Date> readListedDate(RecordForm &form, const std::string &field, const ListEditor &list,
                                   ListCell cell);
Minutes readNeededListedTime(RecordForm &form, const std::string &field, const ListEditor &list,
                             ListCell cell);
Money readListedMoney(RecordForm &form, const std::string &field, const ListEditor &list, ListCell cell);

// A list with a box to tick on each line.
QListWidget *makeCheckList(const std::vector<Choice> &choices, const std::vector<qint64> &checked,
                           QWidget *parent);
std::vector<qint64> checkedOf(const QListWidget &list);

// Problems met inside a list are told at the list's own field.
Problem atField(Problem problem, const std::vector<std::string> &names, const std::string &field);

// A first line, `none`, stands for no gender.
std::vector<Choice> genderChoices(const QString &none);
qint64 genderValue(std::optional<Gender> gender);
std::optional<Gender> genderOf(qint64 value);
std::vector<Choice> skillChoices();
std::vector<Choice> weekdayChoices();
std::vector<Choice> materialChoices(); // what somebody may be allergic to
// The names of the tags, the preferred first, "not known" for none; a tag nobody knows stays as it is.
QString languageNames(const std::vector<std::string> &tags);

// Choices; with `none` a first line of value 0.
std::vector<Choice> nurseChoices(const Snapshot &agency, const QString &none);
std::vector<Choice> itemChoices(const Snapshot &agency, const QString &none,
                                std::optional<ItemKind> kind = {});
std::vector<Choice> lotChoices(const desk::Agency &agency, PatientId patient, const QString &none);
template <class RecordId>
std::optional<RecordId> idOrNone(qint64 value) {
    return value > 0 ? std::optional(RecordId(value)) : std::nullopt;
}

// "driven_m" as the agency enters distances, and whether it is an estimate ("driven_is_estimated").
void addDistance(RecordForm &form, DistanceUnit unit);
std::optional<Metres> distanceOf(RecordForm &form, DistanceUnit unit);

QString genderText(std::optional<Gender> gender); // "not known" for none
QString notKnown();

} // namespace kitround::ui
