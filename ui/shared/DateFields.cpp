// The fields of a date and of weekdays (declared in RecordForm.h).
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"

#include <QCalendarWidget>
#include <QCheckBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QTextCharFormat>
#include <QToolButton>
#include <QWidgetAction>

namespace kitround::ui {
namespace {

QDate toQDate(Date date) {
    return QDate(date.year(), int(date.month()), int(date.dayOfMonth()));
}
Date fromQDate(const QDate &date) {
    return Date::of(date.year(), unsigned(date.month()), unsigned(date.day()));
}

// "2026-12-01", "today", "+3" or "-2" days from today.
std::optional<Date> readDate(const QString &text, Date today) {
    const QString t = text.trimmed().toLower();
    if (t == QLatin1String("today"))
        return today;
    if (t.startsWith(QLatin1Char('+')) || t.startsWith(QLatin1Char('-'))) {
        bool ok = false;
        const int days = t.toInt(&ok);
        if (ok && days > -4000 && days < 4000)
            return today.plusDays(days);
        return std::nullopt;
    }
    return Date::fromIso(t.toStdString());
}

Weekday weeksStartOn = Weekday::Sunday; // of the agency that is open

// As it is about to be shown: the theme and the agency may be others than when the form was made. The
// toolkit's own weekends are red in every theme, and red means that something has to be done.
void dressCalendar(QCalendarWidget &calendar) {
    calendar.setFirstDayOfWeek(weeksStartOn == Weekday::Sunday ? Qt::Sunday
                                                               : Qt::DayOfWeek(int(weeksStartOn)));
    QTextCharFormat head, weekend;
    head.setForeground(Look::colour(Role::FaintInk));
    head.setBackground(Look::colour(Role::Ground));
    weekend.setForeground(Look::colour(Role::FaintInk));
    calendar.setHeaderTextFormat(head);
    calendar.setWeekdayTextFormat(Qt::Saturday, weekend);
    calendar.setWeekdayTextFormat(Qt::Sunday, weekend);
}

// Its own size counts neither the edge of the list nor the height that lines have here, and cuts the last
// week through: a heading and six weeks below the months' bar.
QSize calendarSize(const QCalendarWidget &calendar) {
    constexpr int kLines = 7, kDayWidth = 40, kBar = 48;
    return calendar.sizeHint().expandedTo(QSize(7 * kDayWidth, kLines * Look::kHit + kBar));
}

} // namespace

DateField::DateField(std::optional<Date> value, Date today, QWidget *parent)
    : QWidget(parent), today_(today) {
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    edit_ = new QLineEdit(this);
    edit_->setPlaceholderText(tr("YYYY-MM-DD"));
    edit_->setMaximumWidth(140);
    auto *open = new QToolButton(this);
    open->setIcon(Look::icon(QStringLiteral("calendar")));
    open->setAccessibleName(tr("Choose a date"));
    open->setPopupMode(QToolButton::InstantPopup);
    auto *menu = new QMenu(open);
    auto *calendar = new QCalendarWidget(menu);
    calendar->setVerticalHeaderFormat(QCalendarWidget::NoVerticalHeader);
    calendar->setMinimumSize(calendarSize(*calendar));
    auto *action = new QWidgetAction(menu);
    action->setDefaultWidget(calendar);
    menu->addAction(action);
    open->setMenu(menu);
    weekday_ = new QLabel(this);
    Look::setInk(weekday_, Role::FaintInk);
    layout->addWidget(edit_);
    layout->addWidget(open);
    layout->addWidget(weekday_, 1);
    setFocusProxy(edit_);
    connect(menu, &QMenu::aboutToShow, this, [this, calendar] {
        dressCalendar(*calendar);
        if (const auto d = date())
            calendar->setSelectedDate(toQDate(*d));
        else
            calendar->setSelectedDate(toQDate(today_));
        calendar->setFocus();
    });
    const auto chosen = [this, menu](const QDate &d) {
        setDate(fromQDate(d));
        menu->close();
        edit_->setFocus();
    };
    connect(calendar, &QCalendarWidget::clicked, this, chosen);
    connect(calendar, &QCalendarWidget::activated, this, chosen);
    connect(edit_, &QLineEdit::textChanged, this, [this] {
        const auto d = date();
        weekday_->setText(d ? desk::dayText(*d, today_) : QString());
        Q_EMIT changed();
    });
    setDate(value);
}

QString DateField::text() const {
    return edit_->text();
}
void DateField::setDate(std::optional<Date> date) {
    edit_->setText(date ? QString::fromStdString(date->toIso()) : QString());
}
std::optional<Date> DateField::date() const {
    return readDate(edit_->text(), today_);
}
bool DateField::isReadable() const {
    return edit_->text().trimmed().isEmpty() || date().has_value();
}

void DateField::setToday(Date today) {
    today_ = today;
}
void DateField::setWeekStart(Weekday day) {
    weeksStartOn = day;
}

WeekdayField::WeekdayField(WeekdaySet value, QWidget *parent) : QWidget(parent) {
    auto *layout = new QHBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    const QStringList names = {tr("Sun"), tr("Mon"), tr("Tue"), tr("Wed"), tr("Thu"), tr("Fri"), tr("Sat")};
    for (const QString &name : names) {
        boxes_.push_back(new QCheckBox(name, this));
        layout->addWidget(boxes_.back());
    }
    layout->addStretch(1);
    setFocusProxy(boxes_.front());
    setValue(value);
}
WeekdaySet WeekdayField::value() const {
    WeekdaySet set;
    for (const Weekday day : kAllWeekdays)
        if (boxes_[static_cast<std::size_t>(day)]->isChecked())
            set.insert(day);
    return set;
}
void WeekdayField::setValue(WeekdaySet value) {
    for (const Weekday day : kAllWeekdays)
        boxes_[static_cast<std::size_t>(day)]->setChecked(value.contains(day));
}

} // namespace kitround::ui
