#include "ui/stock/LineAtHome.h"

#include "core/desk/words/Words.h"
#include "ui/shared/Session.h"

namespace kitround::ui {

QString LineAtHome::who() const {
    return QObject::tr("%1, %2").arg(desk::personName(*patient), desk::catheterText(*catheter));
}

QString LineAtHome::itemName() const {
    return QString::fromStdString(item->name);
}

LineAtHome lineAtHome(const Session &session, CatheterId catheter, ItemId item) {
    LineAtHome line{.agency = session.agency()};
    const SnapshotIndex &index = line.agency->index();
    line.catheter = index.catheter(catheter);
    line.patient = line.catheter ? index.patient(line.catheter->patient) : nullptr;
    line.item = index.item(item);
    return line;
}

} // namespace kitround::ui
