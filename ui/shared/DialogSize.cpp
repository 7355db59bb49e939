#include "ui/shared/DialogSize.h"

#include <QDialog>
#include <QScreen>
#include <QSettings>

namespace kitround::ui {

void keepSize(QDialog &dialog, QSize first) {
    const QString key = QStringLiteral("dialogSize/%1").arg(dialog.objectName());
    const QSize kept = QSettings().value(key).toSize();
    const QSize wanted = kept.isValid() ? kept : first;
    const QScreen *screen = dialog.screen();
    const QSize readable = QSize(1000, 560).boundedTo(wanted);
    dialog.resize(screen ? wanted.boundedTo(screen->availableSize()).expandedTo(readable) : wanted);
    QObject::connect(&dialog, &QDialog::finished, &dialog,
                     [&dialog, key] { QSettings().setValue(key, dialog.size()); });
}

} // namespace kitround::ui
