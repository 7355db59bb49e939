#pragma once
// A desk::Table on the screen: the same rows a paper or a copy holds, with its notes above it.
#include "core/desk/Table.h"
#include "ui/shared/Look.h"

#include <QStringList>
#include <QVariant>
#include <QWidget>

#include <optional>
#include <string>

class QAbstractItemModel;
class QLabel;

namespace kitround::ui {

class DenseTable;

// The number a text begins with ("12 (8–15)", "+3 min"); none where it goes on as a clock time or a day.
std::optional<double> leadingNumber(const QString &text);
// What such a text is sorted by; the others come before every number.
QVariant sortedByNumber(const QString &text);

class PlainTable : public QWidget {
    Q_OBJECT
public:
    PlainTable(const QString &objectName, const QString &accessibleName, QWidget *parent = nullptr);
    // `stretched`: the column that takes what room is left. `nothing`: said in place of an empty table.
    void setTable(const desk::Table &table, int stretched, const QString &nothing = {});
    // What asks to be acted on: rows whose column of that key says one of these words, inked there. Before
    // the rows come.
    void setUrgent(const std::string &key, const QStringList &words, Role ink = Role::Act);
    DenseTable *table() { return table_; }

Q_SIGNALS:
    void opened(int row); // of the table given

private:
    QLabel *notes_, *nothing_;
    DenseTable *table_;
    QAbstractItemModel *model_ = nullptr;
    std::string urgentKey_;
    QStringList urgentWords_;
    Role urgentInk_ = Role::Act;
    std::string key_; // of the table shown: the same one, filled anew, stays sorted as it was
};

} // namespace kitround::ui
