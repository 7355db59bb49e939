#pragma once
#include <QString>
#include <QStringList>

namespace kitround::store {

// The statements of a script, without their final semicolons. Knows strings, quoted names, comments and the
// semicolons inside CREATE TRIGGER.
QStringList statementsOf(const QString &script);

} // namespace kitround::store
