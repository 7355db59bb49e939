#pragma once
// One day of the week in hand: its time line, and the rounds drawn from coordinates.
#include "core/desk/views/DayBoard.h"

#include <QWidget>

#include <optional>

namespace kitround::ui {

class DayLines;
class RoundsMap;

class DayPanel : public QWidget {
    Q_OBJECT
public:
    explicit DayPanel(QWidget *parent = nullptr);
    void show(desk::WeekPicturePtr week, Date on);
    Date day() const { return on_; }
    DayLines *lines() { return lines_; }
    void setCurrentJob(std::int32_t job);

Q_SIGNALS:
    void currentChanged(int job);
    void moveAsked(int job, qint64 nurse, qint64 dayNumber, int startMinute); // -1: best time
    void removalAsked(int job);
    void activated(int job);

private:
    desk::WeekPicturePtr week_;
    Date on_;
    DayLines *lines_;
    RoundsMap *map_;
};

} // namespace kitround::ui
