#pragma once
// The hand-over between shifts: what waits, what is open and who has it, and who accepted what. Handing over
// and accepting are written down line by line under the name of who works here.
#include "core/desk/views/HandOverView.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

class QComboBox;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class HandOverDialog : public QDialog {
    Q_OBJECT
public:
    HandOverDialog(Session &session, QWidget *parent);

private:
    static std::vector<RowsColumn<desk::HandOverRow>> columns();
    void fill();
    void showRows();
    void handOver();
    void accept(const std::vector<desk::HandOverRow> &rows);
    std::vector<desk::HandOverRow> chosen() const; // of those that wait
    void print();

    Session &session_;
    std::vector<desk::AttentionItem> items_;
    desk::HandOverBoard board_;
    RowsModel<desk::HandOverRow> model_;
    QLabel *head_;
    QComboBox *which_;
    DenseTable *table_;
    QPushButton *handOver_, *accept_, *acceptAll_;
};

} // namespace kitround::ui
