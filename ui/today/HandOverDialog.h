#pragma once
// The hand-over between shifts: what waits, what is open and who has it, and who accepted what. Many of a
// kind are one line, as under Today; handing over and accepting are written down line by line under the name
// of who works here.
#include "core/desk/views/HandOverView.h"
#include "ui/shared/RowsModel.h"
#include "ui/today/ListDialog.h"

#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace kitround::ui {

class HandOverDialog : public ListDialog {
    Q_OBJECT
public:
    HandOverDialog(Session &session, QWidget *parent);

private:
    // A line through every refresh: its hand-over, none while it is open, and its subject.
    using Line = std::pair<std::optional<HandOverId>, std::string>;

    static std::vector<RowsColumn<desk::HandOverRow>> columns();
    static Line lineOf(const desk::HandOverRow &row) { return {row.handOver, row.item.subject}; }
    const desk::HandOverRow *current() const;
    void showEach(); // those of the chosen line a line each, or as one again
    void followRow();
    void fill();
    QString headText(std::size_t own) const;
    void showRows();
    void choose(const std::set<Line> &lines, const std::optional<Line> &current);
    const desk::HandOverRow &rowAt(const QModelIndex &index) const; // of the table's model
    void handOver();
    void accept(const std::vector<desk::HandOverRow> &rows);
    std::vector<desk::HandOverRow> chosen() const;       // of those that wait
    std::vector<desk::HandOverRow> waitingForMe() const; // all but what was handed over under the same name
    void print();

    std::vector<desk::AttentionItem> items_;
    desk::HandOverBoard board_;
    RowsModel<desk::HandOverRow> model_;
    std::set<std::string> each_; // kinds that are shown one by one, by their key
    bool isFilled_ = false;      // the first fill alone chooses a row by itself
    QComboBox *which_;
    QPushButton *handOver_, *accept_, *acceptAll_, *eachButton_;
};

} // namespace kitround::ui
