#pragma once
// The table of the program: dense rows, whole-row selection, sortable heads, keyboard first. Enter or a
// double click opens the row.
#include <QTableView>

#include <utility>
#include <vector>

class QLineEdit;

namespace kitround::ui {

// Sorting by keys: Alt with left and right chooses the column (left of the first: as given), with up and down
// which way. False: it was another key.
bool sortByKey(QTableView &table, const QKeyEvent &event);

class DenseTable : public QTableView {
    Q_OBJECT
public:
    explicit DenseTable(const QString &objectName, const QString &accessibleName, QWidget *parent = nullptr);
    // Source-model row of the current index, through any proxies; -1 for none.
    int currentSourceRow() const;
    void selectSourceRow(int row);
    // Sizes columns to their content (an empty table waits for its first rows, and later rows may need more);
    // the given one takes the rest.
    // Where there is too little room, long texts are cut before anything scrolls.
    void fitColumns(int stretched);
    // Of names that differ at their ends: that column is cut later than the others, and the table scrolls
    // rather than that it becomes unreadable. Before fitColumns.
    void keepReadable(int column);
    void keepReadable(int column, int width);
    // Of what is short or empty in most rows: cut before every other column. Before fitColumns.
    void cutFirst(int column);
    // Of sentences that have to be read whole: what is too long for its column goes on in further lines.
    void wrapTexts();
    void setModel(QAbstractItemModel *model) override;

Q_SIGNALS:
    void currentRowChanged(int sourceRow); // -1 for none
    void opened(int sourceRow);

protected:
    void keyPressEvent(QKeyEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;

private:
    void fitNow();
    void grow();
    void growLater();
    void share();
    void fitRows(); // as high as their texts are, where these go on in further lines
    bool isText(int column) const;
    int stretched_ = -1;
    std::vector<std::pair<int, int>> readable_; // column, least width
    std::vector<int> cutFirst_;
    bool fitWaits_ = false, growWaits_ = false;
    bool isSharing_ = false;
    bool isSetByHand_ = false;
    std::vector<int> natural_, least_; // widths by column: wished for, and the least
};

// A field whose text filters the table: Down and Enter go to its rows (the first, where none is chosen),
// Escape clears the text and then goes there too. It is wide enough for what it says while it is empty.
void leadToRows(QLineEdit &search, DenseTable &table);

} // namespace kitround::ui
