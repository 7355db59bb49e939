#include "ui/calendar/WrappedButton.h"

#include "ui/shared/Look.h"

#include <QFontMetrics>
#include <QStyleOptionButton>
#include <QStylePainter>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kBeside = 10, kAbove = 5; // between the text and the button's edge
constexpr int kUsualWidth = 240;
constexpr int kWrapped = Qt::AlignLeft | Qt::AlignVCenter | Qt::TextWordWrap;

} // namespace

WrappedButton::WrappedButton(const QString &text, QWidget *parent) : QPushButton(text, parent) {
    QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Minimum);
    policy.setHeightForWidth(true);
    setSizePolicy(policy);
}

int WrappedButton::heightForWidth(int width) const {
    const QRect room(0, 0, std::max(40, width - 2 * kBeside), 10000);
    const int high = QFontMetrics(font()).boundingRect(room, kWrapped, text()).height();
    return std::max(Look::kHit, high + 2 * kAbove);
}

QSize WrappedButton::sizeHint() const {
    return {kUsualWidth, heightForWidth(kUsualWidth)};
}

QSize WrappedButton::minimumSizeHint() const {
    return {kUsualWidth / 3, Look::kHit};
}

// Layouts within a scrolled area ask for the least height only.
void WrappedButton::resizeEvent(QResizeEvent *event) {
    QPushButton::resizeEvent(event);
    if (const int needed = heightForWidth(width()); minimumHeight() != needed)
        setMinimumHeight(needed);
}

void WrappedButton::paintEvent(QPaintEvent *) {
    QStylePainter painter(this);
    QStyleOptionButton option;
    initStyleOption(&option);
    option.text.clear();
    painter.drawControl(QStyle::CE_PushButton, option);
    painter.setPen(Look::colour(isEnabled() ? Role::Ink : Role::FaintInk));
    painter.drawText(rect().adjusted(kBeside, kAbove, -kBeside, -kAbove), kWrapped, text());
}

} // namespace kitround::ui
