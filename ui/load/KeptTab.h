#pragma once
// The what-ifs kept under a name: what each asks, what the answer was when it was kept; opened again on
// today's records, or thrown away.
#include "core/desk/views/KeptWhatIfs.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

#include <array>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

struct KeptRow {
    KeptWhatIf kept;
    QString asks;
};

class KeptTab : public QWidget {
    Q_OBJECT
public:
    explicit KeptTab(Session &session, QWidget *parent = nullptr);
    void show(const desk::Agency &agency);
    void clear();

private:
    void openAgain(int row);
    void drop();
    void readChosen(); // the answers of one or two in full, side by side

    Session &session_;
    RowsModel<KeptRow> rows_;
    DenseTable *table_;
    QLabel *nothing_; // said in place of an empty table
    std::array<QLabel *, 2> read_{};
    QPushButton *open_, *drop_;
};

} // namespace kitround::ui
