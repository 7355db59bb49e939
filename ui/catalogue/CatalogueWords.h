#pragma once
#include "core/records/Stock.h"

#include <QString>

namespace kitround::ui {

QString itemKindText(ItemKind kind);

} // namespace kitround::ui
