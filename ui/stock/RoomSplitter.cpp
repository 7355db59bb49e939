#include "ui/stock/RoomSplitter.h"

#include <QSettings>

namespace kitround::ui {
namespace {

QString keyOf(const QString &name) {
    return QStringLiteral("division/%1").arg(name);
}

} // namespace

void keepDivision(QSplitter &splitter, const QString &name) {
    const QString key = keyOf(name);
    if (const QByteArray kept = QSettings().value(key).toByteArray(); !kept.isEmpty())
        splitter.restoreState(kept);
    QObject::connect(&splitter, &QSplitter::splitterMoved, &splitter,
                     [&splitter, key] { QSettings().setValue(key, splitter.saveState()); });
}

RoomSplitter::RoomSplitter(const QString &name, int besideFrom, QWidget *parent)
    : QSplitter(parent), name_(name), besideFrom_(besideFrom) {
    setChildrenCollapsible(false);
    connect(this, &QSplitter::splitterMoved, this, [this] { QSettings().setValue(key(), saveState()); });
}

QString RoomSplitter::key() const {
    return keyOf(name_) +
           (orientation() == Qt::Horizontal ? QStringLiteral("/beside") : QStringLiteral("/below"));
}

void RoomSplitter::resizeEvent(QResizeEvent *event) {
    QSplitter::resizeEvent(event);
    arrange();
}

void RoomSplitter::arrange() {
    const Qt::Orientation wanted = width() >= besideFrom_ ? Qt::Horizontal : Qt::Vertical;
    if (isArranged_ && wanted == orientation())
        return;
    isArranged_ = true;
    setOrientation(wanted);
    if (!restoreState(QSettings().value(key()).toByteArray())) {
        const int half = (wanted == Qt::Horizontal ? width() : height()) / 2;
        setSizes({half, half});
    }
}

} // namespace kitround::ui
