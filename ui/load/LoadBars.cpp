#include "ui/load/LoadBars.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QPainter>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kRow = 26;
constexpr int kName = 150;
constexpr int kHead = 24;
constexpr int kShare = 130;           // the share with its sign or its reason: colour alone says neither
constexpr std::size_t kMostBars = 12; // more would push the table out of sight
constexpr int kFewestBars = 3;        // however low the page is
constexpr double kMostShare = 1.25;   // of capacity; longer bars are cut and say so

} // namespace

LoadBars::LoadBars(QWidget *parent) : QWidget(parent) {
    setObjectName(QStringLiteral("loadBars"));
    setAccessibleName(tr("Minutes by nurse as a share of capacity; the table below holds the same figures"));
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void LoadBars::setRows(std::vector<NurseLoadRow> rows, double amberShare, double redShare) {
    rows_ = std::move(rows);
    amber_ = amberShare;
    red_ = redShare;
    updateGeometry();
    update();
}

QStringList LoadBars::limitNames() const {
    const auto from = [](caseload::LoadSign sign, double share) {
        return tr("%1 above %2 %").arg(desk::words(sign)).arg(static_cast<int>(share * 100 + 0.5));
    };
    return {from(caseload::LoadSign::Amber, amber_), from(caseload::LoadSign::Red, red_)};
}

void LoadBars::setMostHeight(int height) {
    if (height == mostHeight_)
        return;
    mostHeight_ = height;
    updateGeometry();
    update();
}

std::size_t LoadBars::shownBars() const {
    const int rows = (mostHeight_ - kHead - 8) / kRow;
    if (rows_.size() <= kMostBars && static_cast<int>(rows_.size()) <= rows)
        return rows_.size();
    // The last line says how many are left out.
    return std::min({rows_.size(), kMostBars, static_cast<std::size_t>(std::max(kFewestBars, rows - 1))});
}

QSize LoadBars::sizeHint() const {
    const std::size_t bars = shownBars();
    const int rows = static_cast<int>(bars) + (rows_.size() > bars ? 1 : 0);
    return {600, kHead + kRow * rows + 8};
}

QString LoadBars::leftOut() const {
    const std::size_t bars = shownBars();
    return rows_.size() > bars
               ? tr("and %1 more in the table below").arg(static_cast<qlonglong>(rows_.size() - bars))
               : QString();
}

void LoadBars::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    const int left = kName, width = this->width() - kName - kShare - 8;
    const auto x = [&](double share) {
        return left + static_cast<int>(width * std::min(share, kMostShare) / kMostShare);
    };
    struct Part {
        QString name;
        Role role;
        int alpha;
        Minutes caseload::NurseLoad::*minutes;
    };
    const Part parts[] = {{tr("with patients"), Role::Accent, 255, &caseload::NurseLoad::direct},
                          {tr("travel"), Role::Accent, 150, &caseload::NurseLoad::travel},
                          {tr("waiting"), Role::Accent, 60, &caseload::NurseLoad::waiting},
                          {tr("notes"), Role::Good, 160, &caseload::NurseLoad::notes}};
    struct Limit {
        QString name;
        Role role;
        double share;
    };
    const QStringList names = limitNames();
    const Limit limits[] = {{names[0], Role::Watch, amber_}, {names[1], Role::Act, red_}};
    painter.setFont(Look::smallFont());
    int keyX = left;
    for (const Part &part : parts) {
        QColor colour = Look::colour(part.role);
        colour.setAlpha(part.alpha);
        painter.fillRect(keyX, 6, 10, 10, colour);
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(keyX + 14, 15, part.name);
        keyX += 26 + painter.fontMetrics().horizontalAdvance(part.name);
    }
    for (const Limit &limit : limits) {
        painter.setPen(QPen(Look::colour(limit.role), 1, Qt::DashLine));
        painter.drawLine(keyX + 5, 4, keyX + 5, 18);
        painter.setPen(Look::colour(Role::FaintInk));
        painter.drawText(keyX + 14, 15, limit.name);
        keyX += 26 + painter.fontMetrics().horizontalAdvance(limit.name);
    }
    int y = kHead;
    const std::size_t most = shownBars();
    for (std::size_t r = 0; r < most && y + kRow <= height(); ++r) {
        const NurseLoadRow &row = rows_[r];
        painter.setFont(font());
        painter.setPen(Look::colour(Role::Ink));
        painter.drawText(QRect(0, y, kName - 10, kRow), Qt::AlignVCenter | Qt::AlignLeft,
                         painter.fontMetrics().elidedText(row.name, Qt::ElideRight, kName - 12));
        const double capacity = static_cast<double>(row.load.capacity.count());
        if (capacity > 0) // who is away has none to fill
            painter.fillRect(QRect(left, y + 6, x(1.0) - left, kRow - 12), Look::colour(Role::Line));
        double share = 0;
        for (const Part &part : parts) {
            const double next =
                share + (capacity > 0 ? static_cast<double>((row.load.*part.minutes).count()) / capacity : 0);
            QColor colour = Look::colour(part.role);
            colour.setAlpha(part.alpha);
            painter.fillRect(QRect(x(share), y + 6, x(next) - x(share), kRow - 12),
                             Look::colour(Role::Ground));
            painter.fillRect(QRect(x(share), y + 6, x(next) - x(share), kRow - 12), colour);
            share = next;
        }
        painter.setPen(Look::colour(row.load.sign == caseload::LoadSign::Red     ? Role::Act
                                    : row.load.sign == caseload::LoadSign::Amber ? Role::Watch
                                                                                 : Role::Ink));
        painter.drawText(QRect(width + left + 6, y, kShare, kRow), Qt::AlignVCenter | Qt::AlignRight,
                         desk::shareText(row.load));
        y += kRow;
    }
    for (const Limit &limit : limits) {
        painter.setPen(QPen(Look::colour(limit.role), 1, Qt::DashLine));
        painter.drawLine(x(limit.share), kHead, x(limit.share), y);
    }
    painter.setFont(Look::smallFont());
    painter.setPen(Look::colour(Role::FaintInk));
    painter.drawText(QRect(left, y, width, kRow), Qt::AlignVCenter | Qt::AlignLeft, leftOut());
}

} // namespace kitround::ui
