#pragma once
// A desk::Table on the screen: the same rows a paper or a copy holds, with its notes above it.
#include "core/desk/Table.h"

#include <QWidget>

class QLabel;

namespace kitround::ui {

class DenseTable;

class PlainTable : public QWidget {
    Q_OBJECT
public:
    PlainTable(const QString &objectName, const QString &accessibleName, QWidget *parent = nullptr);
    // `stretched`: the column that takes what room is left. `nothing`: said in place of an empty table.
    void setTable(const desk::Table &table, int stretched, const QString &nothing = {});
    DenseTable *table() { return table_; }

Q_SIGNALS:
    void opened(int row); // of the table given

private:
    QLabel *notes_, *nothing_;
    DenseTable *table_;
    QAbstractItemModel *model_ = nullptr;
};

} // namespace kitround::ui
