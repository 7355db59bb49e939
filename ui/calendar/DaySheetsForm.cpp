#include "ui/calendar/DaySheetsForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

std::optional<SheetsWanted> askDaySheets(QWidget *window, Session &session, const std::vector<Date> &days) {
    constexpr qint64 kEveryDay = -1; // no day's number
    constexpr qint64 kEverybody = 0; // no nurse's
    const Date today = session.today();
    std::vector<Choice> choices;
    for (const Date day : days)
        choices.push_back(
            {day == today ? QObject::tr("Today, %1").arg(desk::dayText(day)) : desk::dayText(day, today),
             day.dayNumber()});
    choices.push_back({QObject::tr("all these days, nurse by nurse"), kEveryDay});
    RecordForm form(QObject::tr("Day sheets"), window);
    form.addChoice("on_date", QObject::tr("Day"), choices,
                   days.empty() ? kEveryDay : days.front().dayNumber());
    form.addChoice("nurse_id", QObject::tr("Nurse"),
                   nurseChoices(session.agency()->snapshot(), QObject::tr("everybody")), kEverybody);
    form.addNote(QObject::tr("A page for each nurse and day with visits."));
    form.setSaveText(QObject::tr("Print or save…"));
    std::optional<SheetsWanted> wanted;
    form.onSave(
        [&] {
            SheetsWanted read;
            if (const qint64 on = form.choiceOf("on_date"); on != kEveryDay)
                read.on = Date::fromDayNumber(on);
            read.nurse = idOrNone<NurseId>(form.choiceOf("nurse_id"));
            return read;
        },
        [&](const SheetsWanted &read) -> std::optional<Problem> {
            wanted = read;
            return std::nullopt;
        });
    return form.exec() == QDialog::Accepted ? wanted : std::nullopt;
}

} // namespace kitround::ui
