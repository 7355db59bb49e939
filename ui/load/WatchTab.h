#pragma once
// The clinical watch list: who is on it and why, who has it, the next step and its day; what was put off, and
// what was closed with which outcome.
#include "core/desk/views/WatchList.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QComboBox;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class WatchTab : public QWidget {
    Q_OBJECT
public:
    explicit WatchTab(Session &session, QWidget *parent = nullptr);
    int show(const desk::Agency &agency); // how many patients are on the list

Q_SIGNALS:
    void opened(qint64 patient);

private:
    void showRows();
    void showChosen();
    void decide();
    void closeWatch();
    void print();
    const desk::WatchRow *current() const;

    Session &session_;
    desk::WatchList list_;
    RowsModel<desk::WatchRow> rows_;
    QComboBox *which_;
    QLabel *why_;
    DenseTable *table_;
    QPushButton *decide_, *close_, *open_;
};

} // namespace kitround::ui
