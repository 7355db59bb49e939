#pragma once
// A receipt that was booked by mistake: chosen, a reason given, undone by contrary movements.
#include "core/desk/Desk.h"

#include <functional>

class QWidget;

namespace kitround::ui {

class Session;

using ReceiptFilter = std::function<bool(const Receipt &)>;

bool hasReceipt(const desk::Agency &agency, const ReceiptFilter &fits);
// Says so where no receipt fits.
void reverseReceipt(QWidget *window, Session &session, const ReceiptFilter &fits);

} // namespace kitround::ui
