#pragma once
// A call that came in: who, what about, in the caller's words, and whose it is now. True when it was stored.
class QWidget;

namespace kitround::ui {

class Session;

bool logPhoneCall(QWidget *window, Session &session);

} // namespace kitround::ui
