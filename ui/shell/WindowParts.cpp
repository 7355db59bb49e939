#include "ui/shell/WindowParts.h"

#include "ui/shared/Look.h"

#include <QAbstractItemView>
#include <QApplication>
#include <QList>
#include <QTabBar>
#include <QWidget>

#include <algorithm>
#include <tuple>

namespace kitround::ui {
namespace {

// Only what shows that it has the keyboard: an area that merely scrolls does not.
bool isPart(const QWidget &widget, const QWidget &within) {
    const bool isKind = qobject_cast<const QAbstractItemView *>(&widget) ||
                        qobject_cast<const QTabBar *>(&widget) || widget.property(Look::kIsPart).toBool();
    return isKind && widget.isVisible() && widget.isEnabled() && widget.window() == within.window() &&
           widget.focusPolicy() != Qt::NoFocus;
}

QList<QWidget *> partsOf(const QWidget &within) {
    QList<QWidget *> parts;
    for (QWidget *widget : within.findChildren<QWidget *>())
        if (isPart(*widget, within))
            parts << widget;
    std::ranges::stable_sort(parts, {}, [&within](const QWidget *part) {
        const QPoint at = part->mapTo(&within, QPoint());
        return std::tuple(at.y(), at.x());
    });
    return parts;
}

} // namespace

void focusNextPart(QWidget &within, bool isForward) {
    const QList<QWidget *> parts = partsOf(within);
    if (parts.isEmpty())
        return;
    const QWidget *focused = QApplication::focusWidget();
    // The innermost part that holds the keyboard: a table in a page that scrolls comes after the page.
    qsizetype now = -1;
    for (qsizetype i = 0; focused && i < parts.size(); ++i)
        if (parts[i] == focused || parts[i]->isAncestorOf(focused))
            now = now < 0 || parts[now]->isAncestorOf(parts[i]) ? i : now;
    const qsizetype count = parts.size();
    const qsizetype next =
        now < 0 ? (isForward ? 0 : count - 1) : (now + (isForward ? 1 : count - 1)) % count;
    parts[next]->setFocus(isForward ? Qt::TabFocusReason : Qt::BacktabFocusReason);
}

} // namespace kitround::ui
