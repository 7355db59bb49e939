#include "ui/calendar/DayPanel.h"

#include "ui/calendar/DayLines.h"
#include "ui/calendar/RoundsMap.h"

#include <QSplitter>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {

DayPanel::DayPanel(QWidget *parent) : QWidget(parent) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    auto *splitter = new QSplitter(Qt::Vertical, this);
    lines_ = new DayLines(splitter);
    map_ = new RoundsMap(splitter);
    splitter->addWidget(lines_);
    splitter->addWidget(map_);
    splitter->setStretchFactor(0, 3);
    splitter->setStretchFactor(1, 2);
    splitter->setChildrenCollapsible(true);
    layout->addWidget(splitter);
    connect(lines_, &DayLines::currentChanged, this, [this](int job) {
        map_->setCurrentJob(job);
        Q_EMIT currentChanged(job);
    });
    connect(lines_, &DayLines::found, map_, &RoundsMap::setCurrentJob);
    connect(lines_, &DayLines::moveAsked, this, &DayPanel::moveAsked);
    connect(lines_, &DayLines::removalAsked, this, &DayPanel::removalAsked);
    connect(lines_, &DayLines::activated, this, &DayPanel::activated);
    connect(map_, &RoundsMap::chosen, this, [this](int job) {
        setCurrentJob(job);
        Q_EMIT currentChanged(job);
    });
}

void DayPanel::show(desk::WeekPicturePtr week, Date on) {
    week_ = std::move(week);
    on_ = on;
    const desk::DayBoard board = desk::dayBoardOf(*week_, on);
    // Of a day whose rounds are over nothing is drawn: the lines take its room.
    map_->setVisible(
        std::ranges::any_of(board.rounds, [](const desk::DayRound &r) { return !r.stops.empty(); }));
    map_->setBoard(board);
    lines_->setBoard(board);
    map_->setCurrentJob(lines_->currentJob());
}

void DayPanel::setCurrentJob(std::int32_t job) {
    lines_->setCurrentJob(job);
    map_->setCurrentJob(job);
}

} // namespace kitround::ui
