#include "ui/calendar/WeekGrid.h"

#include "core/desk/views/PlanState.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/CardPainting.h"
#include "ui/shared/Look.h"

#include <QMouseEvent>
#include <QPainter>
#include <QScrollBar>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kHeadHeight = 44;
constexpr int kCardGap = 2;
constexpr int kLeastRow = 56;
constexpr int kSignHeight = 16; // "on call", below the cards
constexpr int kNarrow = 900;    // of the view, as with the reasons open in a small window
constexpr int kNarrowNurse = 132;
constexpr int kRoomyDay = 110;

// With every card in one line.
int leastHeight(const desk::BoardDay &day) {
    return static_cast<int>(day.past.size() + day.cards.size()) * (cardHeight() + kCardGap) + 8 +
           (day.sign.isEmpty() ? 0 : kSignHeight);
}

bool isWeekend(Date day) {
    return day.weekday() == Weekday::Saturday || day.weekday() == Weekday::Sunday;
}

// From the longest on. What gives the bar its colour is said first, and is not cut for the visits' sake.
QStringList loadTexts(const caseload::NurseLoad &load) {
    const QString visits = desk::visitsText(load.visits);
    if (load.sign == caseload::LoadSign::Free || load.sign == caseload::LoadSign::Light ||
        load.sign == caseload::LoadSign::Usual)
        return {QObject::tr("%1  %2 %").arg(visits).arg(static_cast<int>(load.share * 100 + 0.5))};
    const QString why = desk::shareText(load);
    return {QObject::tr("%1 · %2").arg(why, visits), why};
}

Role loadRole(caseload::LoadSign sign) {
    switch (sign) {
    case caseload::LoadSign::Red:
        return Role::Act;
    case caseload::LoadSign::Amber:
        return Role::Watch;
    default:
        return Role::Accent;
    }
}

} // namespace

WeekGrid::WeekGrid(QWidget *parent) : CardArea(parent) {
    setObjectName(QStringLiteral("weekGrid"));
    setAccessibleName(tr("Week: nurses and days"));
    viewport()->setMouseTracking(false);
    viewport()->setAutoFillBackground(false);
}

void WeekGrid::setBoard(desk::WeekBoard board, Date today, std::vector<desk::DayMark> marks) {
    board_ = std::move(board);
    marks_ = std::move(marks);
    today_ = today;
    isDragging_ = false;
    drop_.reset();
    arrange();
    leaveWhatIsGone();
    viewport()->update();
}

void WeekGrid::setCurrentJob(std::int32_t job) {
    showCurrent(job);
    Q_EMIT currentChanged(job);
}

QRect WeekGrid::sightOf(const PlacedCard &placed) const {
    return placed.box.adjusted(0, -kCardGap, 0, kCardGap);
}

int WeekGrid::headHeight() const {
    return kHeadHeight;
}

int WeekGrid::nurseWidth() const {
    return viewport()->width() < kNarrow ? kNarrowNurse : kNurseWidth;
}

// Weekends are narrower where there is room for it, never hidden.
void WeekGrid::arrangeDays() {
    dayLeft_.clear();
    dayWidth_.clear();
    const int days = board_.rows.empty() ? 7 : static_cast<int>(board_.rows.front().days.size());
    const int width = viewport()->width() - nurseWidth();
    const bool isRoomy = width >= days * kRoomyDay;
    double parts = 0;
    std::vector<double> part;
    for (int d = 0; d < days; ++d) {
        const bool isNarrow = isRoomy && !board_.rows.empty() &&
                              isWeekend(board_.rows.front().days[static_cast<std::size_t>(d)].on);
        part.push_back(isNarrow ? 0.7 : 1.0);
        parts += part.back();
    }
    double x = nurseWidth();
    for (int d = 0; d < days; ++d) {
        const double w = width * part[static_cast<std::size_t>(d)] / parts;
        dayLeft_.push_back(static_cast<int>(x));
        dayWidth_.push_back(static_cast<int>(x + w) - static_cast<int>(x));
        x += w;
    }
}

void WeekGrid::arrange() {
    placed_.clear();
    past_.clear();
    rowTop_.clear();
    rowHeight_.clear();
    arrangeDays();
    int y = kHeadHeight;
    for (std::size_t r = 0; r < board_.rows.size(); ++r) {
        int height = kLeastRow;
        for (const desk::BoardDay &day : board_.rows[r].days)
            height = std::max(height, leastHeight(day));
        rowTop_.push_back(y);
        rowHeight_.push_back(height);
        for (std::size_t d = 0; d < board_.rows[r].days.size(); ++d)
            placeDay(r, d, height);
        y += height;
    }
    rowTop_.push_back(y);
    rowHeight_.push_back(placeTray(board_.tray, y, static_cast<int>(board_.rows.size())) + 8);
    setContentHeight(y + rowHeight_.back(), cardHeight());
}

// The fullest day makes the row as high as it is. Where another has room to spare, a card whose text is
// longer than its line takes a second one. By the clock, what is over among what is to come.
void WeekGrid::placeDay(std::size_t row, std::size_t day, int height) {
    const desk::BoardDay &shown = board_.rows[row].days[day];
    const int one = cardHeight(), more = cardHeight(2) - one, width = dayWidth_[day] - 6;
    const QFontMetrics metrics(Look::smallFont());
    int spare = height - leastHeight(shown), y = rowTop_[row] + 4;
    const auto place = [&](const desk::VisitCard &card, std::vector<PlacedCard> &among) {
        const bool isLong = metrics.horizontalAdvance(timedTexts(card).first()) > textRoom(card, width);
        const int extra = isLong && spare >= more ? more : 0;
        among.push_back({QRect(dayLeft_[day] + 3, y, width, one + extra), static_cast<int>(row),
                         static_cast<int>(day), &card});
        spare -= extra;
        y += one + extra + kCardGap;
    };
    auto past = shown.past.begin();
    const auto placePastBefore = [&](std::optional<Minutes> start) {
        for (; past != shown.past.end() && (!start || past->start < *start); ++past)
            place(*past, past_);
    };
    for (const desk::VisitCard &card : shown.cards) {
        placePastBefore(card.start);
        place(card, placed_);
    }
    placePastBefore(std::nullopt);
}

std::optional<WeekGrid::Cell> WeekGrid::cellAt(QPoint p) const {
    for (std::size_t r = 0; r < rowTop_.size(); ++r) {
        if (p.y() < rowTop_[r] || p.y() >= rowTop_[r] + rowHeight_[r])
            continue;
        if (r == board_.rows.size())
            return Cell{static_cast<int>(r), 0};
        for (std::size_t d = 0; d < dayLeft_.size(); ++d)
            if (p.x() >= dayLeft_[d] && p.x() < dayLeft_[d] + dayWidth_[d])
                return Cell{static_cast<int>(r), static_cast<int>(d)};
    }
    return std::nullopt;
}

void WeekGrid::paintEvent(QPaintEvent *) {
    QPainter painter(viewport());
    painter.fillRect(viewport()->rect(), Look::colour(Role::Ground));
    if (rowTop_.empty())
        return;
    painter.translate(0, -verticalScrollBar()->value());
    for (std::size_t r = 0; r < board_.rows.size(); ++r)
        drawRow(painter, static_cast<int>(r));
    drawTray(painter);
    paintCards(painter, timedTexts);
    painter.resetTransform();
    drawHead(painter); // stays in sight while scrolling
    paintTrayStrip(painter, trayHead());
    paintFocus(painter);
    if (isDragging_)
        paintHint(painter, viewport()->rect(), dragPoint_, hint_.text, hint_.isAllowed);
}

void WeekGrid::drawHead(QPainter &painter) {
    painter.fillRect(0, 0, viewport()->width(), kHeadHeight, Look::colour(Role::Ground));
    painter.setPen(Look::colour(Role::Line));
    painter.drawLine(0, kHeadHeight - 1, viewport()->width(), kHeadHeight - 1);
    if (board_.rows.empty())
        return;
    // All without the month where one has no room for it.
    const QFontMetrics strong(Look::strongFont());
    bool isShort = false;
    for (std::size_t d = 0; d < dayLeft_.size(); ++d)
        isShort = isShort ||
                  strong.horizontalAdvance(desk::dayText(board_.rows.front().days[d].on)) > dayWidth_[d] - 10;
    for (std::size_t d = 0; d < dayLeft_.size(); ++d) {
        const Date day = board_.rows.front().days[d].on;
        const QRect box(dayLeft_[d], 0, dayWidth_[d], kHeadHeight - 1);
        const bool isToday = day == today_;
        if (isToday)
            painter.fillRect(box.adjusted(0, 0, 0, 0), Look::colour(Role::AccentGround));
        painter.setFont(Look::strongFont());
        painter.setPen(Look::colour(isToday ? Role::Accent : Role::Ink));
        painter.drawText(box.adjusted(6, 4, -4, 0), Qt::AlignLeft | Qt::AlignTop,
                         isShort ? desk::shortDayText(day) : desk::dayText(day));
        drawNotes(painter, d, box);
    }
}

// Under the day's name. What is to be minded comes first: the end is cut where there is no room.
void WeekGrid::drawNotes(QPainter &painter, std::size_t day, const QRect &box) {
    const bool isToday = board_.rows.front().days[day].on == today_;
    QStringList notes;
    if (day < marks_.size())
        notes << marks_[day].mark;
    if (isToday)
        notes << tr("today");
    if (day < board_.dayNotes.size())
        notes << board_.dayNotes[day];
    notes.removeAll(QString());
    if (notes.isEmpty())
        return;
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(isToday && notes.size() == 1 ? Role::Accent : Role::Watch));
    painter.drawText(
        box.adjusted(6, 0, -4, -4), Qt::AlignLeft | Qt::AlignBottom,
        painter.fontMetrics().elidedText(notes.join(QStringLiteral(", ")), Qt::ElideRight, box.width() - 10));
}

std::optional<std::size_t> WeekGrid::dayAtHead(QPoint view) const {
    if (view.y() >= kHeadHeight || board_.rows.empty())
        return std::nullopt;
    for (std::size_t d = 0; d < dayLeft_.size(); ++d)
        if (view.x() >= dayLeft_[d] && view.x() < dayLeft_[d] + dayWidth_[d])
            return d;
    return std::nullopt;
}

void WeekGrid::drawRow(QPainter &painter, int row) {
    const desk::BoardRow &nurse = board_.rows[static_cast<std::size_t>(row)];
    const int top = rowTop_[static_cast<std::size_t>(row)],
              height = rowHeight_[static_cast<std::size_t>(row)];
    for (std::size_t d = 0; d < nurse.days.size(); ++d) {
        const desk::BoardDay &day = nurse.days[d];
        const QRect box(dayLeft_[d], top, dayWidth_[d], height);
        if (day.hasDuty && !day.isOnCall)
            painter.fillRect(box, Look::colour(Role::Raised));
        if (isHeldOver(nurse.nurse, day.on))
            painter.fillRect(box, Look::colour(hint_.isAllowed ? Role::AccentGround : Role::ActGround));
        if (!day.hasDuty && day.past.empty() && day.cards.empty()) {
            painter.setFont(Look::smallFont());
            painter.setPen(Look::colour(Role::FaintInk));
            painter.drawText(box.adjusted(6, 6, -4, -4), Qt::AlignLeft | Qt::AlignTop,
                             painter.fontMetrics().elidedText(day.absence, Qt::ElideRight, box.width() - 10));
        }
        if (!day.sign.isEmpty()) {
            painter.setFont(Look::smallFont());
            painter.setPen(Look::colour(Role::FaintInk));
            painter.drawText(box.adjusted(6, 0, -4, -2), Qt::AlignLeft | Qt::AlignBottom,
                             painter.fontMetrics().elidedText(day.sign, Qt::ElideRight, box.width() - 10));
        }
        painter.setPen(Look::colour(Role::Line));
        painter.drawLine(box.topLeft(), box.bottomLeft());
    }
    painter.setPen(Look::colour(Role::Line));
    painter.drawLine(0, top + height - 1, viewport()->width(), top + height - 1);
    painter.setFont(Look::strongFont());
    painter.setPen(Look::colour(Role::Ink));
    const QRect name(8, top + 6, nurseWidth() - 16, painter.fontMetrics().height());
    painter.drawText(name, Qt::AlignLeft,
                     painter.fontMetrics().elidedText(nurse.name, Qt::ElideRight, name.width()));
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::FaintInk));
    painter.drawText(QRect(8, name.bottom() + 1, name.width(), painter.fontMetrics().height()), Qt::AlignLeft,
                     fittingText(painter.fontMetrics(), loadTexts(nurse.load), name.width()));
    // The slim load bar: direct, travel with notes and waiting, free.
    const QRect bar(8, name.bottom() + painter.fontMetrics().height() + 5, nurseWidth() - 24, 5);
    painter.fillRect(bar, Look::colour(Role::Line));
    const double capacity = std::max<double>(1, static_cast<double>(nurse.load.capacity.count()));
    const auto share = [&](std::int64_t minutes) {
        return static_cast<int>(bar.width() * std::min(1.0, static_cast<double>(minutes) / capacity));
    };
    const int direct = share(nurse.load.direct.count());
    const int all = std::max(
        direct,
        share((nurse.load.direct + nurse.load.travel + nurse.load.waiting + nurse.load.notes).count()));
    QColor rest = Look::colour(loadRole(nurse.load.sign));
    rest.setAlpha(120);
    painter.fillRect(QRect(bar.left(), bar.top(), all, bar.height()), rest);
    painter.fillRect(QRect(bar.left(), bar.top(), direct, bar.height()),
                     Look::colour(loadRole(nurse.load.sign)));
}

void WeekGrid::drawTray(QPainter &painter) {
    paintTray(painter, board_.tray.empty(), trayHead());
}

QString WeekGrid::trayHead() const {
    if (!board_.tray.empty())
        return tr("Not placed: %1").arg(desk::numberText(static_cast<std::int64_t>(board_.tray.size())));
    const QString first = desk::whatToEnterFirst(board_);
    return first.isEmpty() ? tr("Every visit of the week is placed.") : first;
}

void WeekGrid::mousePressEvent(QMouseEvent *event) {
    if (const auto day = dayAtHead(event->pos()); day && event->button() == Qt::LeftButton) {
        Q_EMIT dayAsked(board_.rows.front().days[*day].on.dayNumber());
        return;
    }
    CardArea::mousePressEvent(event);
}

std::optional<CardDrop> WeekGrid::dropAt(QPoint content) const {
    const auto cell = cellAt(content);
    if (!cell)
        return std::nullopt;
    if (cell->row == static_cast<int>(board_.rows.size()))
        return CardDrop{};
    const desk::BoardRow &row = board_.rows[static_cast<std::size_t>(cell->row)];
    return CardDrop{row.nurse, row.days[static_cast<std::size_t>(cell->day)].on, std::nullopt};
}

// On from line to line, as it is read; nothing behind its last card.
const CardArea::PlacedCard *WeekGrid::besideInTray(const std::vector<const PlacedCard *> &cards,
                                                   const PlacedCard *from, int dx) const {
    const auto order = [](const PlacedCard *card) { return std::pair(card->box.top(), card->box.left()); };
    const PlacedCard *next = nullptr;
    for (const PlacedCard *card : cards) {
        const bool isAhead = dx > 0 ? order(card) > order(from) : order(card) < order(from);
        if (!isInTray(*card) || !isAhead)
            continue;
        if (!next || (dx > 0 ? order(card) < order(next) : order(card) > order(next)))
            next = card;
    }
    return next;
}

// To the nearest card in the direction: within a cell up and down, else across cells.
void WeekGrid::chooseBeside(int dx, int dy) {
    const PlacedCard *from = chosenCard();
    const std::vector<const PlacedCard *> cards = workedOn();
    if (!from) {
        if (!cards.empty())
            choose(cards.front());
        return;
    }
    if (dx != 0 && isInTray(*from)) {
        if (const PlacedCard *next = besideInTray(cards, from, dx))
            choose(next);
        return;
    }
    const QPoint centre = from->box.center();
    const PlacedCard *best = nullptr;
    int bestDistance = 0;
    for (const PlacedCard *p : cards) {
        if (dx != 0 && isInTray(*p))
            continue; // it lies below, not beside
        const QPoint d = p->box.center() - centre;
        const int along = dx != 0 ? d.x() * dx : d.y() * dy;
        const int across = std::abs(dx != 0 ? d.y() : d.x());
        if (p == from || along <= 4)
            continue;
        const int distance = along + 4 * across;
        if (!best || distance < bestDistance) {
            best = p;
            bestDistance = distance;
        }
    }
    if (best)
        choose(best);
}

// On in that direction until a nurse's day takes it: a Tuesday off does not keep a visit from Friday.
void WeekGrid::askMoveBeside(int dDay, int dRow) {
    const PlacedCard *from = currentCard();
    if (!from || board_.rows.empty())
        return;
    const int rows = static_cast<int>(board_.rows.size());
    const int days = static_cast<int>(board_.rows.front().days.size());
    const bool fromTray = isInTray(*from);
    int row = fromTray && dRow == 0 ? rows - 1 : from->row;
    int day = fromTray ? 0 : from->column;
    std::vector<CardDrop> drops;
    for (row += dRow, day += dDay; row >= 0 && row < rows && day >= 0 && day < days;
         row += dRow, day += dDay) {
        const desk::BoardRow &target = board_.rows[static_cast<std::size_t>(row)];
        drops.push_back({target.nurse, target.days[static_cast<std::size_t>(day)].on, std::nullopt});
    }
    askFirstMove(drops);
}

QString WeekGrid::tipAt(QPoint content) const {
    if (const auto day = dayAtHead(content - QPoint(0, verticalScrollBar()->value())))
        return *day < marks_.size() ? marks_[*day].tip : QString();
    if (const QString tip = cardTipAt(content); !tip.isEmpty())
        return tip;
    const auto cell = cellAt(content);
    const auto rows = static_cast<int>(board_.rows.size());
    if (cell && cell->row < rows)
        return board_.rows[static_cast<std::size_t>(cell->row)]
            .days[static_cast<std::size_t>(cell->day)]
            .signTip;
    for (std::size_t r = 0; r < board_.rows.size(); ++r)
        if (content.x() < nurseWidth() && content.y() >= rowTop_[r] &&
            content.y() < rowTop_[r] + rowHeight_[r])
            return QStringLiteral("%1: %2").arg(board_.rows[r].name, desk::loadText(board_.rows[r].load));
    return {};
}

QString WeekGrid::nurseOf(const PlacedCard &placed) const {
    return isInTray(placed) ? QString() : board_.rows[static_cast<std::size_t>(placed.row)].name;
}

QString WeekGrid::textOf(const PlacedCard &placed) const {
    const desk::VisitCard &card = *placed.card;
    if (isInTray(placed))
        return tr("%1, %2, not placed").arg(card.name, card.kind);
    const desk::BoardRow &row = board_.rows[static_cast<std::size_t>(placed.row)];
    return tr("%1, %2, %3 %4, %5")
        .arg(card.name, card.kind, desk::dayText(row.days[static_cast<std::size_t>(placed.column)].on),
             desk::timeText(card.start), row.name);
}

} // namespace kitround::ui
