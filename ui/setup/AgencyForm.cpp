#include "ui/setup/AgencyForm.h"

#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Distances.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QCheckBox>
#include <QComboBox>
#include <QLineEdit>
#include <QPlainTextEdit>

namespace kitround::ui {
namespace {

// Zones are names; a choice holds their place in the list.
std::vector<Choice> zoneChoices(const std::vector<std::string> &names) {
    std::vector<Choice> choices;
    for (std::size_t i = 0; i < names.size(); ++i)
        choices.push_back({QString::fromStdString(names[i]), static_cast<qint64>(i)});
    return choices;
}

void addFields(RecordForm &form, const AgencySettings &settings, const std::vector<std::string> &zones) {
    form.addPage(QObject::tr("Agency"));
    form.addText("agency_name", QObject::tr("Name"), settings.agencyName);
    form.addText("phone", QObject::tr("Phone"), settings.phone)
        ->setPlaceholderText(QObject::tr("as it stands on delivery slips, orders and letters"));
    form.addText("order_contact", QObject::tr("Contact for orders"), settings.orderContact)
        ->setPlaceholderText(QObject::tr("whom a supplier asks for"));
    const auto zone = std::ranges::find(zones, settings.timeZone);
    form.addChoice("time_zone", QObject::tr("Time zone"), zoneChoices(zones), zone - zones.begin());
    form.addChoice("week_start", QObject::tr("Visit weeks start on"),
                   choicesOf({Weekday::Sunday, Weekday::Monday}, [](Weekday d) { return desk::words(d); }),
                   static_cast<qint64>(settings.weekStart));
    form.addText("currency", QObject::tr("Currency"), settings.currency);
    form.addChoice("distance_unit", QObject::tr("Distances in"),
                   choicesOf({DistanceUnit::Miles, DistanceUnit::Kilometres},
                             [](DistanceUnit u) { return desk::words(u); }),
                   static_cast<qint64>(settings.distanceUnit));
    form.addWeekdays("visiting_days", QObject::tr("Visiting days"), settings.visitingDays);
    form.addCheck("holidays_worked", QObject::tr("Visits are made on federal holidays too"),
                  settings.holidaysAreWorked);
    form.addText("own_holidays", QObject::tr("Own holidays"), datesText(settings.ownHolidays))
        ->setPlaceholderText(QObject::tr("YYYY-MM-DD, YYYY-MM-DD"));
    form.addLongText("used_bottle_rules", QObject::tr("Local rules for used bottles"),
                     settings.usedBottleRules)
        ->setPlaceholderText(
            QObject::tr("Which sheet of the agency or the county says what to do with them"));
    form.addPage(QObject::tr("Storeroom"));
    addAddress(form, settings.storeroom);
}

} // namespace

bool editAgency(QWidget *window, Session &session) {
    const AgencySettings settings = session.agency()->settings();
    const std::vector<std::string> zones = desk::zoneNames();
    RecordForm form(QObject::tr("The agency"), window);
    addFields(form, settings, zones);
    form.require({"time_zone", "currency", "visiting_days"});
    form.onSave(
        [&] {
            AgencySettings record = settings;
            record.agencyName = form.textOf("agency_name");
            record.phone = form.textOf("phone");
            record.orderContact = form.textOf("order_contact");
            const auto zone = static_cast<std::size_t>(form.neededChoiceOf("time_zone"));
            if (zone < zones.size())
                record.timeZone = zones[zone];
            record.weekStart = static_cast<Weekday>(form.choiceOf("week_start"));
            record.currency = form.textOf("currency");
            record.distanceUnit = static_cast<DistanceUnit>(form.choiceOf("distance_unit"));
            record.visitingDays = form.weekdaysOf("visiting_days");
            record.holidaysAreWorked = form.checkOf("holidays_worked");
            record.usedBottleRules = form.textOf("used_bottle_rules");
            record.ownHolidays = readDates(form, "own_holidays");
            record.storeroom = readAddress(form, settings.storeroom);
            return record;
        },
        [&](const AgencySettings &record) -> std::optional<Problem> {
            const bool isMoved =
                record.storeroom.point != settings.storeroom.point || record.timeZone != settings.timeZone;
            if (isMoved && !isPlaceMeant(&form, desk::oddStoreroomText(record)))
                return Problem{ProblemCode::Cancelled, "longitude", {}};
            return session.write(QObject::tr("Saved the agency's facts"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

bool editUser(QWidget *window, Session &session, User user) {
    const bool isNew = !user.id.isSet();
    RecordForm form(isNew ? QObject::tr("New user") : QObject::tr("User"), window);
    form.addText("name", QObject::tr("Name"), user.name);
    form.addChoice(
        "role", QObject::tr("Role"),
        choicesOf({UserRole::Coordinator, UserRole::SupplyClerk, UserRole::NurseManager, UserRole::Nurse},
                  [](UserRole role) { return desk::words(role); }),
        static_cast<qint64>(user.role));
    if (!isNew)
        form.addCheck("is_active", QObject::tr("Still works here"), user.isActive);
    form.require({"name"});
    form.onSave(
        [&] {
            user.name = form.textOf("name");
            user.role = static_cast<UserRole>(form.choiceOf("role"));
            if (!isNew)
                user.isActive = form.checkOf("is_active");
            return user;
        },
        [&](const User &record) {
            return session.write(isNew ? QObject::tr("Added a user") : QObject::tr("Changed a user"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
