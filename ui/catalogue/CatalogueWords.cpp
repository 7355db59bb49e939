#include "ui/catalogue/CatalogueWords.h"

#include <QObject>

namespace kitround::ui {

QString itemKindText(ItemKind kind) {
    switch (kind) {
    case ItemKind::Kit:
        return QObject::tr("Kit");
    case ItemKind::Bottle:
        return QObject::tr("Bottle");
    case ItemKind::Dressing:
        return QObject::tr("Dressing");
    case ItemKind::Other:
        return QObject::tr("Other");
    }
    return {};
}

} // namespace kitround::ui
