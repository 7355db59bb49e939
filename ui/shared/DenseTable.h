#pragma once
// The table of the program: dense rows, whole-row selection, sortable heads, keyboard first. Enter or a
// double click opens the row.
#include <QTableView>

namespace kitround::ui {

class DenseTable : public QTableView {
    Q_OBJECT
public:
    explicit DenseTable(const QString &objectName, const QString &accessibleName, QWidget *parent = nullptr);
    // Source-model row of the current index, through any proxies; -1 for none.
    int currentSourceRow() const;
    void selectSourceRow(int row);
    // Sizes columns to their content once (an empty table waits for its first rows); the given one takes the
    // rest.
    void fitColumns(int stretched);
    void setModel(QAbstractItemModel *model) override;

Q_SIGNALS:
    void currentRowChanged(int sourceRow); // -1 for none
    void opened(int sourceRow);

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void fitNow();
    int stretched_ = -1;
    bool fitWaits_ = false;
};

} // namespace kitround::ui
