#include "ui/people/ShiftForms.h"

#include "core/desk/views/RestFlags.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"

#include <QCheckBox>
#include <QLineEdit>

#include <iterator>
#include <utility>
#include <vector>

namespace kitround::ui {
namespace {

Minutes neededTime(RecordForm &form, const std::string &field) {
    const auto time = form.timeOf(field);
    if (!time && form.textOf(field).empty())
        form.addReadFault({ProblemCode::Missing, field});
    return time.value_or(Minutes());
}

// Says while a shift is entered where it leaves too short a rest; it is saved all the same. `read` makes the
// record as it stands; call this after the last field.
template <class Read>
void flagShortRests(RecordForm &form, Session &session, Read read) {
    auto *flags = new WrappedLabel({}, &form);
    Look::setInk(flags, Role::Watch);
    form.addWidget("short_rest", QObject::tr("Rest too short"), flags);
    const auto follow = [&form, &session, flags, read] {
        const bool isKnown = session.agency() && form.timeOf("from") && form.timeOf("to");
        flags->setText(isKnown ? desk::restFlags(*session.agency(), read()).join(u'\n') : QString());
        form.setFieldShown("short_rest", !flags->text().isEmpty());
    };
    for (const QLineEdit *edit : form.findChildren<QLineEdit *>())
        QObject::connect(edit, &QLineEdit::textChanged, flags, follow);
    for (const QCheckBox *box : form.findChildren<QCheckBox *>())
        QObject::connect(box, &QCheckBox::toggled, flags, follow);
    for (const QComboBox *box : form.findChildren<QComboBox *>())
        QObject::connect(box, &QComboBox::currentIndexChanged, flags, follow);
    follow();
}

// Most weeks go by one pattern: the hours entered last, hers before anybody's, are proposed.
void takeLastHours(ShiftPattern &shift, const Snapshot &agency) {
    const ShiftPattern *last = nullptr;
    const auto rank = [&](const ShiftPattern &p) { return std::pair(p.nurse == shift.nurse, p.id); };
    for (const ShiftPattern &p : agency.shiftPatterns)
        if (!p.isOnCall && (!last || rank(p) > rank(*last)))
            last = &p;
    if (!last)
        return;
    shift.from = last->from;
    shift.to = last->to;
    shift.breakLength = last->breakLength;
    shift.breakFrom = last->breakFrom;
    shift.breakTo = last->breakTo;
}

// One for each weekday ticked; the stored one by itself.
std::vector<ShiftPattern> readShifts(RecordForm &form, ShiftPattern record) {
    record.from = neededTime(form, "from");
    record.to = neededTime(form, "to");
    record.breakLength = Minutes::of(form.numberOf("break_min").value_or(0));
    record.breakFrom = form.timeOf("break_from").value_or(Minutes());
    record.breakTo = form.timeOf("break_to").value_or(Minutes());
    record.isOnCall = form.checkOf("is_on_call");
    record.validFrom = form.neededDateOf("valid_from");
    record.validTo = form.dateOf("valid_to");
    if (record.id.isSet()) {
        record.weekday = static_cast<Weekday>(form.choiceOf("weekday"));
        return {record};
    }
    std::vector<ShiftPattern> week;
    const WeekdaySet days = form.weekdaysOf("weekday");
    for (const Weekday day : kAllWeekdays)
        if (days.contains(day)) {
            record.weekday = day;
            week.push_back(record);
        }
    if (week.empty())
        form.addReadFault({ProblemCode::Missing, "weekday"});
    return week;
}

std::optional<Minutes> preset(bool isStored, Minutes value) {
    return isStored ? std::optional(value) : std::nullopt;
}

} // namespace

bool editShift(QWidget *window, Session &session, ShiftPattern shift) {
    const bool isStored = shift.id.isSet();
    RecordForm form(isStored ? QObject::tr("Shift") : QObject::tr("New shifts"), window);
    if (!isStored)
        takeLastHours(shift, session.agency()->snapshot());
    if (isStored)
        form.addChoice("weekday", QObject::tr("Every"), weekdayChoices(), static_cast<qint64>(shift.weekday));
    else
        form.addWeekdays("weekday", QObject::tr("Every"), {});
    const bool hasHours = shift.to > Minutes();
    form.addTime("from", QObject::tr("From"), preset(hasHours, shift.from));
    form.addTime("to", QObject::tr("Until"), preset(hasHours, shift.to));
    form.addNumber("break_min", QObject::tr("Break"), shift.breakLength.count(),
                   QObject::tr("min; 0 is none"));
    const bool hasBreak = !shift.breakLength.isZero();
    form.addTime("break_from", QObject::tr("Break not before"), preset(hasBreak, shift.breakFrom));
    form.addTime("break_to", QObject::tr("Break over by"), preset(hasBreak, shift.breakTo));
    form.addCheck("is_on_call", QObject::tr("On call: may be asked, is not planned"), shift.isOnCall);
    form.addDate("valid_from", QObject::tr("Valid from"), isStored ? shift.validFrom : session.today(),
                 session.today());
    form.addDate("valid_to", QObject::tr("Until, not including"), shift.validTo, session.today());
    form.require({"weekday", "from", "to", "valid_from"});
    const auto read = [&] { return readShifts(form, shift); };
    flagShortRests(form, session, read);
    form.onSave(read, [&](const std::vector<ShiftPattern> &week) {
        return session.write(
            desk::counted(std::ssize(week), QObject::tr("Saved a shift"), QObject::tr("Saved %1 shifts")),
            [&](desk::Desk &d) { return d.save(week); });
    });
    return form.exec() == QDialog::Accepted;
}

bool editExtraShift(QWidget *window, Session &session, ExtraShift shift) {
    const bool isStored = shift.id.isSet();
    RecordForm form(isStored ? QObject::tr("Extra shift") : QObject::tr("New extra shift"), window);
    form.addDate("on", QObject::tr("On"), isStored ? shift.on : session.today(), session.today());
    form.addTime("from", QObject::tr("From"), preset(isStored, shift.from));
    form.addTime("to", QObject::tr("Until"), preset(isStored, shift.to));
    form.addCheck("replaces_pattern", QObject::tr("In place of the usual shift of that day"),
                  shift.replacesPattern);
    form.addCheck("is_on_call", QObject::tr("On call: may be asked, is not planned"), shift.isOnCall);
    form.require({"on", "from", "to"});
    const auto read = [&] {
        ExtraShift record = shift;
        record.on = form.neededDateOf("on");
        record.from = neededTime(form, "from");
        record.to = neededTime(form, "to");
        record.replacesPattern = form.checkOf("replaces_pattern");
        record.isOnCall = form.checkOf("is_on_call");
        return record;
    };
    flagShortRests(form, session, read);
    form.onSave(read, [&](const ExtraShift &record) {
        return session.write(QObject::tr("Saved an extra shift"),
                             [&](desk::Desk &d) { return d.save(record); });
    });
    return form.exec() == QDialog::Accepted;
}

bool editTimeOff(QWidget *window, Session &session, TimeOff off) {
    const bool isStored = off.id.isSet();
    RecordForm form(isStored ? QObject::tr("Time off") : QObject::tr("New time off"), window);
    QComboBox *kind = form.addChoice(
        "kind", QObject::tr("Kind"),
        choicesOf({TimeOffKind::Leave, TimeOffKind::Sick, TimeOffKind::Training, TimeOffKind::Other},
                  [](TimeOffKind k) { return desk::words(k); }),
        static_cast<qint64>(off.kind));
    form.addDate("from", QObject::tr("First day off"), isStored ? off.from : session.today(),
                 session.today());
    form.addDate("to", QObject::tr("First day back"), isStored ? std::optional(off.to) : std::nullopt,
                 session.today());
    form.addLongText("note", QObject::tr("Note"), off.note);
    const auto isLeave = [&form] {
        return static_cast<TimeOffKind>(form.choiceOf("kind")) == TimeOffKind::Leave;
    };
    if (!isStored) {
        QCheckBox *request = form.addCheck(
            "status", QObject::tr("Only a request: the manager decides under Load review, Leave"),
            off.status == LeaveStatus::Requested || session.userRole() != UserRole::NurseManager);
        const auto follow = [request, isLeave] { request->setEnabled(isLeave()); }; // no other kind asks
        QObject::connect(kind, &QComboBox::currentIndexChanged, request, follow);
        follow();
    }
    form.addNote(
        QObject::tr("Visits already planned in these days are shown under Today as needing another nurse."));
    form.require({"from", "to"});
    form.onSave(
        [&] {
            TimeOff record = off;
            record.kind = static_cast<TimeOffKind>(form.choiceOf("kind"));
            record.from = form.neededDateOf("from");
            record.to = form.neededDateOf("to");
            record.note = form.textOf("note");
            if (!isStored)
                record.status =
                    isLeave() && form.checkOf("status") ? LeaveStatus::Requested : LeaveStatus::Approved;
            return record;
        },
        [&](const TimeOff &record) {
            return session.write(QObject::tr("Saved time off"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
