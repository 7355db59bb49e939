#include "ui/shared/ElidedLabel.h"

#include <QHelpEvent>
#include <QPainter>
#include <QResizeEvent>
#include <QTextLayout>
#include <QToolTip>

namespace kitround::ui {

void ElidedLabel::setMostLines(int lines) {
    mostLines_ = lines;
    updateGeometry();
}

QSize ElidedLabel::minimumSizeHint() const {
    const auto lines = mostLines_ > 1 ? qMax(qsizetype(1), shownLines().size()) : qsizetype(1);
    const int further = fontMetrics().lineSpacing() * static_cast<int>(lines - 1);
    return {fontMetrics().averageCharWidth() * 8, fontMetrics().height() + further};
}

QString ElidedLabel::wholeTip() const {
    QStringList lines;
    if (fontMetrics().horizontalAdvance(text()) > contentsRect().width())
        lines << text();
    if (!toolTip().isEmpty())
        lines << toolTip();
    return lines.join(u'\n');
}

// The last line takes all that is left, cut to the width.
QStringList ElidedLabel::shownLines() const {
    const int width = contentsRect().width();
    QString rest = text();
    QStringList lines;
    while (lines.size() + 1 < mostLines_ && fontMetrics().horizontalAdvance(rest) > width) {
        QTextLayout layout(rest, font());
        layout.setTextOption(QTextOption(Qt::AlignLeft)); // breaks at words; one that is too long, anywhere
        layout.beginLayout();
        QTextLine line = layout.createLine();
        line.setLineWidth(width);
        layout.endLayout();
        if (line.textLength() <= 0 || line.textLength() >= rest.size())
            break;
        lines << rest.left(line.textLength()).trimmed();
        rest = rest.mid(line.textLength());
    }
    if (!rest.isEmpty())
        lines << fontMetrics().elidedText(rest, Qt::ElideRight, width);
    return lines;
}

bool ElidedLabel::event(QEvent *event) {
    if (event->type() != QEvent::ToolTip)
        return QLabel::event(event);
    QToolTip::showText(static_cast<QHelpEvent *>(event)->globalPos(), wholeTip(), this); // none hides it
    return true;
}

void ElidedLabel::resizeEvent(QResizeEvent *event) {
    QLabel::resizeEvent(event);
    if (mostLines_ > 1 && event->size().width() != event->oldSize().width())
        updateGeometry();
}

void ElidedLabel::paintEvent(QPaintEvent *) {
    QPainter painter(this);
    painter.setPen(palette().color(QPalette::WindowText));
    painter.drawText(contentsRect(), Qt::AlignLeft | Qt::AlignVCenter, shownLines().join(u'\n'));
}

} // namespace kitround::ui
