#pragma once
// Amounts in minor units (cents). One agency has one currency, named in its settings.
#include "core/base/Quantity.h"

namespace kitround {

using Money = Quantity<struct MoneyMinorTag>;

} // namespace kitround
