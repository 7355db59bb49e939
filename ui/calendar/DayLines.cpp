#include "ui/calendar/DayLines.h"

#include "core/desk/words/Distances.h"
#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/calendar/CardPainting.h"
#include "ui/shared/LabelPlaces.h"
#include "ui/shared/Look.h"

#include <QMouseEvent>
#include <QPainter>
#include <QScrollBar>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kRight = 26; // room for the last hour's name
constexpr int kAxisHeight = 30;
constexpr int kRowHeight = 58;
constexpr std::int64_t kSnap = 5; // minutes
constexpr std::int64_t kQuarter = 15;

} // namespace

DayLines::DayLines(QWidget *parent) : CardArea(parent) {
    setObjectName(QStringLiteral("dayLines"));
    setAccessibleName(tr("Day: nurses on a time line"));
}

void DayLines::setBoard(desk::DayBoard board) {
    board_ = std::move(board);
    isDragging_ = false;
    drop_.reset();
    arrange();
    leaveWhatIsGone(); // or stands on another day
    viewport()->update();
}

void DayLines::setCurrentJob(std::int32_t job) {
    showCurrent(job);
}

// With the start above it and the hours below.
QRect DayLines::sightOf(const PlacedCard &placed) const {
    return placed.box.adjusted(0, -20, 0, 12);
}

int DayLines::headHeight() const {
    return kAxisHeight;
}

int DayLines::x(Minutes at) const {
    const double span = static_cast<double>(std::max<std::int64_t>(60, (board_.to - board_.from).count()));
    const double width = std::max(60, viewport()->width() - kNurseWidth - kRight);
    return kNurseWidth + static_cast<int>(width * static_cast<double>((at - board_.from).count()) / span);
}

Minutes DayLines::timeAt(int px) const {
    const double span = static_cast<double>(std::max<std::int64_t>(60, (board_.to - board_.from).count()));
    const double width = std::max(60, viewport()->width() - kNurseWidth - kRight);
    const double minutes = static_cast<double>(px - kNurseWidth) * span / width;
    const std::int64_t wanted = board_.from.count() + std::llround(minutes / kSnap) * kSnap;
    return Minutes::of(std::clamp(wanted, board_.from.count(), board_.to.count()));
}

int DayLines::rowAt(int y) const {
    if (y < kAxisHeight || y >= contentHeight_)
        return -1;
    return std::min((y - kAxisHeight) / kRowHeight, static_cast<int>(board_.rounds.size()));
}

void DayLines::arrange() {
    placed_.clear();
    past_.clear();
    const int h = cardHeight();
    for (std::size_t r = 0; r < board_.rounds.size(); ++r) {
        const int top = kAxisHeight + static_cast<int>(r) * kRowHeight;
        const auto boxOf = [&](const desk::VisitCard &card) {
            const int left = x(card.start);
            return QRect(left, top + 20, std::max(10, x(card.end) - left), h);
        };
        for (const desk::VisitCard &card : board_.rounds[r].past)
            past_.push_back({boxOf(card), static_cast<int>(r), -1, &card});
        for (std::size_t i = 0; i < board_.rounds[r].stops.size(); ++i) {
            const desk::VisitCard &card = board_.rounds[r].stops[i].card;
            placed_.push_back({boxOf(card), static_cast<int>(r), static_cast<int>(i), &card});
        }
    }
    const int rows = static_cast<int>(board_.rounds.size()), trayTop = kAxisHeight + rows * kRowHeight;
    setContentHeight(trayTop + placeTray(board_.tray, trayTop, rows) + 24, kRowHeight / 2);
}

void DayLines::paintEvent(QPaintEvent *) {
    QPainter painter(viewport());
    painter.fillRect(viewport()->rect(), Look::colour(Role::Ground));
    painter.translate(0, -verticalScrollBar()->value());
    for (std::size_t r = 0; r < board_.rounds.size(); ++r)
        drawRound(painter, static_cast<int>(r));
    drawTray(painter);
    drawMayStart(painter);
    paintCards(painter, nameTexts);
    drawDrop(painter);
    painter.resetTransform();
    drawAxis(painter); // stays in sight while scrolling
    paintTrayStrip(painter, trayHead());
    paintFocus(painter);
    if (isDragging_)
        paintHint(painter, viewport()->rect(), dragPoint_, hint_.text, hint_.isAllowed);
}

void DayLines::drawAxis(QPainter &painter) const {
    painter.fillRect(0, 0, viewport()->width(), kAxisHeight, Look::colour(Role::Ground));
    painter.setPen(Look::colour(Role::Line));
    painter.drawLine(0, kAxisHeight - 1, viewport()->width(), kAxisHeight - 1);
    painter.setFont(Look::smallFont());
    const int hourWidth = x(board_.from + Minutes::of(60)) - x(board_.from);
    const int every = hourWidth < 44 ? 2 : 1;
    for (std::int64_t hour = board_.from.count() / 60; hour <= board_.to.count() / 60; hour += every) {
        const int at = x(Minutes::of(hour * 60));
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRect(at - 24, 8, 48, 16), Qt::AlignCenter, desk::timeText(Minutes::of(hour * 60)));
    }
    if (!board_.note.isEmpty()) {
        painter.setPen(Look::colour(Role::Watch));
        painter.drawText(QRect(8, 8, kNurseWidth - 16, 16), Qt::AlignLeft | Qt::AlignVCenter,
                         painter.fontMetrics().elidedText(board_.note, Qt::ElideRight, kNurseWidth - 16));
    }
}

void DayLines::drawRound(QPainter &painter, int row) const {
    const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(row)];
    const int top = kAxisHeight + row * kRowHeight;
    const QRect shift(x(round.from), top, x(round.to) - x(round.from), kRowHeight - 1);
    if (round.hasDuty && !round.isOnCall)
        painter.fillRect(shift, Look::colour(Role::Raised));
    painter.setPen(QPen(Look::colour(Role::Line), 1, Qt::DotLine));
    for (std::int64_t hour = board_.from.count() / 60 + 1; hour < board_.to.count() / 60; ++hour)
        painter.drawLine(x(Minutes::of(hour * 60)), top, x(Minutes::of(hour * 60)), top + kRowHeight - 1);
    const auto hatch = [&](const desk::TimeSpan &span) {
        painter.fillRect(QRect(x(span.from), top + 20, x(span.to) - x(span.from), cardHeight()),
                         QBrush(Look::colour(Role::Line), Qt::BDiagPattern));
    };
    if (round.breakTime)
        hatch(*round.breakTime);
    for (const desk::TimeSpan &blocked : round.blocked)
        hatch(blocked);
    drawTravel(painter, round, top);
    drawTimes(painter, round, top);
    painter.setPen(Look::colour(Role::Line));
    painter.drawLine(0, top + kRowHeight - 1, viewport()->width(), top + kRowHeight - 1);
    painter.setFont(Look::strongFont());
    painter.setPen(Look::colour(Role::Ink));
    painter.drawText(QRect(8, top + 6, kNurseWidth - 16, 18), Qt::AlignLeft,
                     painter.fontMetrics().elidedText(round.name, Qt::ElideRight, kNurseWidth - 16));
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::FaintInk));
    painter.drawText(QRect(8, top + 26, kNurseWidth - 16, 16), Qt::AlignLeft,
                     painter.fontMetrics().elidedText(roundText(round), Qt::ElideRight, kNurseWidth - 16));
}

// Under the nurse's name.
QString DayLines::roundText(const desk::DayRound &round) const {
    const auto visits = [](std::size_t count) { return desk::visitsText(static_cast<std::int64_t>(count)); };
    if (!round.hasDuty)
        return tr("%1 on record").arg(visits(round.past.size()));
    if (!round.stops.empty())
        return tr("%1, %2 min, %3")
            .arg(visits(round.stops.size()))
            .arg(round.travel.count())
            .arg(desk::aboutDistanceText(round.distance, board_.unit));
    if (round.isOnCall)
        return tr("on call");
    return (round.past.empty() ? tr("%1 to %2, no visit") : tr("%1 to %2, no visit left"))
        .arg(desk::timeText(round.from), desk::timeText(round.to));
}

// Travel is a thin line before each visit and on the way home.
void DayLines::drawTravel(QPainter &painter, const desk::DayRound &round, int top) const {
    if (round.stops.empty())
        return;
    const int y = top + 20 + cardHeight() / 2;
    painter.setPen(QPen(Look::colour(Role::Accent), 3));
    for (const desk::DayStop &stop : round.stops)
        painter.drawLine(x(stop.card.start - stop.card.travelBefore), y, x(stop.card.start), y);
    painter.drawLine(x(round.stops.back().card.end), y, x(round.back), y);
}

// Over the line: when each visit starts, and what the hatched spans are. What finds no room beside the one
// before is in the tip of its card or span.
void DayLines::drawTimes(QPainter &painter, const desk::DayRound &round, int top) const {
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::FaintInk));
    QStringList texts;
    std::vector<std::vector<QRectF>> wishes;
    const auto add = [&](const QString &text, Minutes from, Minutes to, bool isCentred) {
        const int left = x(from), right = x(to), wide = painter.fontMetrics().horizontalAdvance(text) + 4;
        texts << text;
        std::vector<QRectF> &places = wishes.emplace_back();
        if (isCentred)
            places.emplace_back((left + right - wide) / 2.0, top + 3, wide, 15);
        else
            places.emplace_back(left, top + 3, wide, 15);
        if (right - wide >= left)
            places.emplace_back(right - wide, top + 3, wide, 15);
    };
    for (const desk::VisitCard &over : round.past)
        add(desk::timeText(over.start), over.start, over.end, false);
    for (const desk::DayStop &stop : round.stops)
        add(desk::timeText(stop.card.start), stop.card.start, stop.card.end, false);
    if (round.breakTime)
        add(tr("break"), round.breakTime->from, round.breakTime->to, true);
    for (const desk::TimeSpan &blocked : round.blocked)
        add(tr("away"), blocked.from, blocked.to, true);
    const auto places =
        placeLabels(wishes, {}, QRectF(kNurseWidth, top, viewport()->width() - kNurseWidth, kRowHeight));
    for (std::size_t i = 0; i < places.size(); ++i)
        if (places[i])
            painter.drawText(*places[i], Qt::AlignLeft | Qt::AlignVCenter, texts[static_cast<qsizetype>(i)]);
}

// The hours in which the chosen visit may start, under its card, on its own line.
void DayLines::drawMayStart(QPainter &painter) const {
    const PlacedCard *placed = currentCard();
    if (!placed || isInTray(*placed))
        return;
    const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(placed->row)];
    const desk::DayStop &stop = round.stops[static_cast<std::size_t>(placed->column)];
    const int y = kAxisHeight + placed->row * kRowHeight + kRowHeight - 8;
    painter.setPen(QPen(Look::colour(Role::Good), 3));
    for (const desk::TimeSpan &span : stop.mayStart) {
        const int from = x(std::max(span.from, board_.from)), to = x(std::min(span.to, board_.to));
        painter.drawLine(from, y, to, y);
        painter.drawLine(from, y - 3, from, y + 3);
        painter.drawLine(to, y - 3, to, y + 3);
    }
}

void DayLines::drawTray(QPainter &painter) const {
    paintTray(painter, board_.tray.empty(), trayHead());
    if (!board_.away.isEmpty()) {
        painter.setFont(Look::smallFont());
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(QRect(8, contentHeight_ - 20, viewport()->width() - 16, 16), Qt::AlignLeft,
                         tr("Away: %1").arg(board_.away.join(QStringLiteral("; "))));
    }
}

QString DayLines::trayHead() const {
    if (!board_.tray.empty())
        return tr("Not placed, possible on this day: %1").arg(board_.tray.size());
    return board_.hasUnplaced ? tr("Nothing more could be placed on this day.")
                              : tr("No visit of this week waits for a place.");
}

void DayLines::drawDrop(QPainter &painter) const {
    const PlacedCard *held = currentCard();
    const auto over = std::ranges::find_if(
        board_.rounds, [&](const desk::DayRound &r) { return isHeldOver(r.nurse, board_.on); });
    if (!held || over == board_.rounds.end() || !drop_->start)
        return;
    const auto row = static_cast<int>(over - board_.rounds.begin());
    const int length =
        isInTray(*held) ? x(board_.from + Minutes::of(45)) - x(board_.from) : held->box.width();
    const QRect box(x(*drop_->start), kAxisHeight + row * kRowHeight + 20, length, cardHeight());
    painter.setBrush(Look::colour(hint_.isAllowed ? Role::AccentGround : Role::ActGround));
    painter.setPen(QPen(Look::colour(hint_.isAllowed ? Role::Accent : Role::Act), 2));
    painter.drawRoundedRect(box, 3, 3);
    painter.setFont(Look::smallFont());
    painter.drawText(box, Qt::AlignCenter, desk::timeText(*drop_->start));
}

std::optional<CardDrop> DayLines::dropAt(QPoint content) const {
    const int row = rowAt(content.y());
    if (row < 0)
        return std::nullopt;
    if (row == static_cast<int>(board_.rounds.size()))
        return CardDrop{};
    return CardDrop{board_.rounds[static_cast<std::size_t>(row)].nurse, board_.on,
                    timeAt(content.x() - grabbedAt_)};
}

void DayLines::chooseBeside(int along, int across) {
    const PlacedCard *from = chosenCard();
    const std::vector<const PlacedCard *> cards = workedOn();
    if (!from) {
        choose(cards.empty() ? nullptr : cards.front());
        return;
    }
    const QPoint centre = from->box.center();
    const PlacedCard *best = nullptr;
    int bestDistance = 0;
    for (const PlacedCard *p : cards) {
        const QPoint d = p->box.center() - centre;
        const bool fits =
            along != 0 ? p->row == from->row && d.x() * along > 0 : (p->row - from->row) * across > 0;
        const int distance = along != 0 ? std::abs(d.x()) : std::abs(d.x()) + 10 * std::abs(d.y());
        if (fits && (!best || distance < bestDistance)) {
            best = p;
            bestDistance = distance;
        }
    }
    if (best)
        choose(best);
}

void DayLines::askMoveBeside(int quarterHours, int rows) {
    const PlacedCard *from = currentCard();
    const auto onDuty = std::ranges::count(board_.rounds, true, &desk::DayRound::hasDuty); // they come first
    if (!from || onDuty == 0)
        return;
    const int last = static_cast<int>(onDuty) - 1;
    if (rows == 0) {
        const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(std::min(from->row, last))];
        askMove({round.nurse, board_.on,
                 isInTray(*from) ? round.from : from->card->start + Minutes::of(kQuarter * quarterHours)});
        return;
    }
    // To the next nurse who takes it: at the best time there.
    std::vector<CardDrop> drops;
    const int first = isInTray(*from) ? last + 1 : from->row;
    for (int row = first + rows; row >= 0 && row <= last; row += rows)
        drops.push_back({board_.rounds[static_cast<std::size_t>(row)].nurse, board_.on, std::nullopt});
    askFirstMove(drops);
}

QString DayLines::tipAt(QPoint content) const {
    if (const QString tip = cardTipAt(content); !tip.isEmpty())
        return tip;
    const int row = rowAt(content.y());
    if (row < 0 || row >= static_cast<int>(board_.rounds.size()))
        return {};
    const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(row)];
    const auto isOver = [&](const desk::TimeSpan &span) {
        return content.x() >= x(span.from) && content.x() < x(span.to);
    };
    const auto tip = [](const QString &text, const desk::TimeSpan &span) {
        return text.arg(desk::timeText(span.from), desk::timeText(span.to));
    };
    if (round.breakTime && isOver(*round.breakTime))
        return tip(tr("Break, %1 to %2"), *round.breakTime);
    const auto away = std::ranges::find_if(round.blocked, isOver);
    return away == round.blocked.end() ? QString() : tip(tr("Away, %1 to %2"), *away);
}

QString DayLines::nurseOf(const PlacedCard &placed) const {
    return isInTray(placed) ? QString() : board_.rounds[static_cast<std::size_t>(placed.row)].name;
}

QString DayLines::textOf(const PlacedCard &placed) const {
    const desk::VisitCard &card = *placed.card;
    return isInTray(placed) ? tr("%1, %2, not placed").arg(card.name, card.kind)
                            : tr("%1, %2, %3, %4")
                                  .arg(card.name, card.kind, desk::timeText(card.start),
                                       board_.rounds[static_cast<std::size_t>(placed.row)].name);
}

} // namespace kitround::ui
