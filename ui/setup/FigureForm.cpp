#include "ui/setup/FigureForm.h"

#include "core/desk/words/Figures.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QLineEdit>

namespace kitround::ui {
namespace {

QString text(std::string_view view) {
    return QString::fromUtf8(view.data(), static_cast<qsizetype>(view.size()));
}

std::int64_t readFigure(RecordForm &form, const SettingInfo &info) {
    const std::string name(info.name);
    if (desk::isWeekdays(info))
        return static_cast<std::int64_t>(form.weekdaysOf(name).bits());
    const auto figure = desk::figureFrom(QString::fromStdString(form.textOf(name)), info.key, name);
    if (figure)
        return *figure;
    form.addReadFault(figure.error());
    return info.preset;
}

} // namespace

bool editFigure(QWidget *window, Session &session, SettingKey key) {
    const SettingInfo &info = infoOf(key);
    const AgencySettings settings = session.agency()->settings();
    const std::string name(info.name);
    RecordForm form(desk::label(key), window);
    if (desk::isWeekdays(info))
        form.addWeekdays(name, desk::label(key), WeekdaySet::fromBits(static_cast<unsigned>(settings[key])));
    else if (desk::isClock(info))
        form.addTime(name, desk::label(key), Minutes::of(settings[key]));
    else
        form.addNumber(name, desk::label(key), std::nullopt, desk::figureUnit(key, settings.currency))
            ->setText(desk::figureText(key, settings[key]));
    if (!desk::isWeekdays(info))
        form.addNote(QObject::tr("From %1 to %2.")
                         .arg(desk::figureText(key, info.least), desk::figureText(key, info.most)));
    form.addNote(
        QObject::tr("Preset: %1. Source: %2.").arg(desk::figureText(key, info.preset), text(info.source)));
    if (!desk::isWeekdays(info))
        form.require({name});
    form.resize(560, 300);
    form.onSave(
        [&] {
            AgencySettings record = settings;
            record.set(key, readFigure(form, info));
            return record;
        },
        [&](const AgencySettings &record) {
            return session.write(QObject::tr("Set: %1").arg(desk::label(key)),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
