#pragma once
// What a person can change in a field of a form, the fields inside a list included.
#include <QStringList>

#include <functional>

class QObject;
class QWidget;

namespace kitround::ui {

// Calls at every change, as long as `context` lives.
void onEdit(QWidget &field, QObject *context, const std::function<void()> &changed);

// What stands in it, part by part: the same list is the same entry.
QStringList enteredIn(const QWidget &field);

} // namespace kitround::ui
