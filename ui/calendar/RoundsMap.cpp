#include "ui/calendar/RoundsMap.h"

#include "core/desk/words/Distances.h"
#include "ui/calendar/CardPainting.h"
#include "ui/shared/LabelPlaces.h"
#include "ui/shared/Look.h"

#include <QHelpEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QToolTip>

#include <array>
#include <cmath>
#include <numbers>

namespace kitround::ui {
namespace {

constexpr double kStop = 9; // radius in pixels
constexpr double kHome = 5; // half the square a round starts from
constexpr double kShortName = 44;
constexpr double kMetresADegree = 111195; // of latitude, mean earth radius 6371.0088 km (IUGG)

// Rounds are told apart by the stroke, and the chosen one by colour and weight.
Qt::PenStyle strokeOf(int round) {
    constexpr std::array kStrokes{Qt::SolidLine, Qt::DashLine, Qt::DotLine, Qt::DashDotLine};
    return kStrokes[static_cast<std::size_t>(round) % kStrokes.size()];
}

QRectF squareAround(QPointF centre, double half) {
    return {centre.x() - half, centre.y() - half, 2 * half, 2 * half};
}

// On the home, else beside it.
std::vector<QRectF> numberPlaces(QPointF home) {
    constexpr double kAside = 2 * kStop + 2;
    std::vector<QRectF> places{squareAround(home, kStop)};
    for (const double far : {kAside, 2 * kAside})
        for (const QPointF aside : {QPointF(far, 0), QPointF(-far, 0), QPointF(0, -far), QPointF(0, far),
                                    QPointF(far, -far), QPointF(-far, far)})
            places.push_back(squareAround(home + aside, kStop));
    return places;
}

template <class Visit>
void forEachPoint(const desk::DayRound &round, Visit visit) {
    if (round.stops.empty())
        return;
    if (round.start)
        visit(*round.start);
    for (const desk::DayStop &stop : round.stops)
        if (stop.point)
            visit(*stop.point);
    if (round.end)
        visit(*round.end);
}

} // namespace

RoundsMap::RoundsMap(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("roundsMap"));
    setAccessibleName(tr("Rounds of the day, drawn from coordinates"));
}

void RoundsMap::setBoard(desk::DayBoard board) {
    board_ = std::move(board);
    QStringList unknown;
    for (const desk::DayRound &round : board_.rounds)
        for (const desk::DayStop &stop : round.stops)
            if (!stop.point)
                unknown << stop.card.name;
    unknown.removeDuplicates();
    unknown_ =
        unknown.isEmpty() ? QString() : tr("No place on the map: %1").arg(unknown.join(QStringLiteral(", ")));
    setCurrentJob(current_);
}

void RoundsMap::setCurrentJob(std::int32_t job) {
    current_ = job;
    currentRound_ = -1;
    for (std::size_t r = 0; r < board_.rounds.size(); ++r)
        for (const desk::DayStop &stop : board_.rounds[r].stops)
            if (stop.card.job == job)
                currentRound_ = static_cast<int>(r);
    update();
}

std::optional<RoundsMap::Frame> RoundsMap::frame() const {
    double west = 1e9, east = -1e9, south = 1e9, north = -1e9;
    for (const desk::DayRound &round : board_.rounds)
        forEachPoint(round, [&](GeoPoint p) {
            west = std::min(west, p.longitude);
            east = std::max(east, p.longitude);
            south = std::min(south, p.latitude);
            north = std::max(north, p.latitude);
        });
    if (west > east)
        return std::nullopt;
    Frame f;
    f.squeeze = std::cos((south + north) / 2 * std::numbers::pi / 180);
    f.box = QRectF(rect()).adjusted(16, 16, -16, -44);
    const double high = std::max(north - south, 0.002), wide = std::max((east - west) * f.squeeze, 0.002);
    f.pixelsADegreeNorth = std::min(f.box.height() / high, f.box.width() / wide);
    f.west = (west + east) / 2 - f.box.width() / f.pixelsADegreeNorth / f.squeeze / 2;
    f.south = (south + north) / 2 - f.box.height() / f.pixelsADegreeNorth / 2;
    return f;
}

QPointF RoundsMap::toWidget(const Frame &f, GeoPoint p) const {
    return {f.box.left() + (p.longitude - f.west) * f.squeeze * f.pixelsADegreeNorth,
            f.box.bottom() - (p.latitude - f.south) * f.pixelsADegreeNorth};
}

std::vector<RoundsMap::Stop> RoundsMap::stops(const Frame &f) const {
    std::vector<Stop> all;
    std::vector<std::vector<QRectF>> wishes;
    for (std::size_t r = 0; r < board_.rounds.size(); ++r) {
        int number = 0;
        for (const desk::DayStop &stop : board_.rounds[r].stops) {
            ++number;
            if (!stop.point)
                continue;
            const QPointF home = toWidget(f, *stop.point);
            all.push_back({home, home, static_cast<int>(r), number, &stop.card});
            wishes.push_back(numberPlaces(home));
        }
    }
    const auto places = placeLabels(wishes, {}, QRectF(rect()));
    for (std::size_t i = 0; i < all.size(); ++i)
        if (places[i])
            all[i].at = places[i]->center();
    return all;
}

void RoundsMap::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.fillRect(rect(), Look::colour(Role::Raised));
    painter.setRenderHint(QPainter::Antialiasing);
    const auto f = frame();
    painter.setFont(Look::smallFont());
    if (!f) {
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(rect(), Qt::AlignCenter, tr("No round to draw on this day."));
        return;
    }
    const std::vector<Stop> all = stops(*f);
    for (std::size_t r = 0; r < board_.rounds.size(); ++r)
        if (static_cast<int>(r) != currentRound_)
            paintRound(painter, *f, static_cast<int>(r), all);
    if (currentRound_ >= 0)
        paintRound(painter, *f, currentRound_, all); // on top
    paintNames(painter, *f, all);
    paintScale(painter, *f);
}

void RoundsMap::paintRound(QPainter &painter, const Frame &f, int index, const std::vector<Stop> &all) const {
    const bool isChosen = index == currentRound_;
    const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(index)];
    QPolygonF line;
    forEachPoint(round, [&](GeoPoint p) { line << toWidget(f, p); });
    if (line.isEmpty())
        return;
    const QColor ink = Look::colour(isChosen ? Role::Accent : Role::FaintInk);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(ink, isChosen ? 2.5 : 1.2, strokeOf(index)));
    painter.drawPolyline(line);
    if (round.start) {
        const QPointF home = toWidget(f, *round.start);
        painter.setPen(QPen(ink, 1.5));
        painter.setBrush(Look::colour(Role::Raised));
        painter.drawRect(squareAround(home, kHome));
    }
    for (const Stop &stop : all)
        if (stop.round == index)
            paintStop(painter, stop, isChosen);
}

void RoundsMap::paintStop(QPainter &painter, const Stop &stop, bool isChosen) const {
    const QColor ink = Look::colour(isChosen ? Role::Accent : Role::FaintInk);
    const bool isCurrent = stop.card->job == current_;
    painter.setPen(QPen(ink, 1));
    if (stop.at != stop.home)
        painter.drawLine(stop.home, stop.at);
    painter.setPen(QPen(ink, isCurrent ? 2.5 : 1.2));
    painter.setBrush(Look::colour(isCurrent ? Role::Chosen : isChosen ? Role::AccentGround : Role::Raised));
    painter.drawEllipse(stop.at, kStop, kStop);
    painter.setPen(Look::colour(Role::Ink));
    painter.drawText(squareAround(stop.at, kStop), Qt::AlignCenter, QString::number(stop.number));
}

// Each round's nurse where it starts, the chosen one's first; a name that finds no room is shortened, or left
// out: the lines above the drawing have it.
void RoundsMap::paintNames(QPainter &painter, const Frame &f, const std::vector<Stop> &all) const {
    const QFontMetrics metrics = painter.fontMetrics();
    std::vector<QRectF> taken;
    for (const Stop &stop : all)
        taken.push_back(squareAround(stop.at, kStop));
    std::vector<int> order;
    for (int r = 0; r < static_cast<int>(board_.rounds.size()); ++r) {
        const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(r)];
        if (!round.start || round.stops.empty())
            continue;
        taken.push_back(squareAround(toWidget(f, *round.start), kHome));
        order.insert(r == currentRound_ ? order.begin() : order.end(), r);
    }
    QStringList names;
    std::vector<std::vector<QRectF>> wishes;
    for (const int r : order) {
        const desk::DayRound &round = board_.rounds[static_cast<std::size_t>(r)];
        const QPointF home = toWidget(f, *round.start);
        names << round.name.section(QLatin1Char(','), 0, 0);
        const double wide = metrics.horizontalAdvance(names.last()) + 2;
        wishes.push_back(placesAround(home, QSizeF(wide, metrics.height()), kHome + 2));
        if (wide > kShortName)
            for (const QRectF &place : placesAround(home, QSizeF(kShortName, metrics.height()), kHome + 2))
                wishes.back().push_back(place);
    }
    const auto places = placeLabels(wishes, taken, QRectF(rect()).adjusted(2, 2, -2, -34)); // the scale below
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (!places[i])
            continue;
        painter.setPen(Look::colour(order[i] == currentRound_ ? Role::Accent : Role::FaintInk));
        painter.drawText(*places[i], Qt::AlignLeft | Qt::AlignVCenter,
                         metrics.elidedText(names[static_cast<qsizetype>(i)], Qt::ElideRight,
                                            static_cast<int>(places[i]->width())));
    }
}

void RoundsMap::paintScale(QPainter &painter, const Frame &f) const {
    const double one = static_cast<double>(desk::oneOf(board_.unit).count());
    const double pixelsAMetre = f.pixelsADegreeNorth / kMetresADegree;
    double metres = 0.1 * one;
    for (const double round : {0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0})
        if (round * one * pixelsAMetre < width() / 3.0)
            metres = round * one;
    const double length = metres * pixelsAMetre;
    const double y = height() - 26;
    painter.setPen(QPen(Look::colour(Role::FaintInk), 1.2));
    painter.drawLine(QPointF(16, y), QPointF(16 + length, y));
    painter.drawLine(QPointF(16, y - 3), QPointF(16, y + 3));
    painter.drawLine(QPointF(16 + length, y - 3), QPointF(16 + length, y + 3));
    painter.drawText(QPointF(22 + length, y + 4),
                     desk::distanceText(Metres::of(std::llround(metres)), board_.unit));
    if (!unknown_.isEmpty()) {
        painter.setPen(Look::colour(Role::Watch));
        painter.drawText(QRect(16, height() - 20, width() - 32, 16), Qt::AlignLeft | Qt::AlignVCenter,
                         painter.fontMetrics().elidedText(unknown_, Qt::ElideRight, width() - 32));
    }
}

const desk::VisitCard *RoundsMap::cardNear(QPoint p) const {
    const auto f = frame();
    if (!f)
        return nullptr;
    const desk::VisitCard *found = nullptr;
    double nearest = kStop + 3;
    for (const Stop &stop : stops(*f)) {
        const double far = std::hypot(stop.at.x() - p.x(), stop.at.y() - p.y());
        if (far < nearest) {
            nearest = far;
            found = stop.card;
        }
    }
    return found;
}

void RoundsMap::mousePressEvent(QMouseEvent *event) {
    if (const desk::VisitCard *card = cardNear(event->pos()))
        Q_EMIT chosen(card->job);
}

bool RoundsMap::event(QEvent *event) {
    if (event->type() == QEvent::ToolTip) {
        const auto *help = static_cast<QHelpEvent *>(event);
        if (const desk::VisitCard *card = cardNear(help->pos()))
            QToolTip::showText(help->globalPos(), cardTip(*card), this);
        else
            QToolTip::hideText();
        return true;
    }
    return QWidget::event(event);
}

} // namespace kitround::ui
