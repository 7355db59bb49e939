#pragma once
// What a person can change in a field of a form, the fields inside a list included.
#include <QStringList>

#include <cstdint>
#include <functional>
#include <optional>

class QComboBox;
class QObject;
class QWidget;

namespace kitround::ui {

// Calls at every change, as long as `context` lives.
void onEdit(QWidget &field, QObject *context, const std::function<void()> &changed);

// What stands in it, part by part: the same list is the same entry.
QStringList enteredIn(const QWidget &field);

// A whole number as people type it (desk::wholeNumberFrom). The one reader of all fields, so that what is
// shown while typing is what is stored.
std::optional<std::int64_t> numberIn(const QString &text);

// A number that may have decimals, behind a point.
std::optional<double> decimalIn(const QString &text);

// A long list of choices that is found by typing any part of one: the matching lines are offered, and a text
// that only one line holds chooses it. What is typed otherwise chooses nothing; searchedValue() tells.
void makeSearchable(QComboBox &box);
// The value of the line whose text stands in the box, or whose only one holds it; of an empty box that of the
// first line. Nothing where the text is of no line or of several.
std::optional<qint64> searchedValue(QComboBox &box);

} // namespace kitround::ui
