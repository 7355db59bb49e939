#pragma once
// The record of changes: a readable line a change, the whole of the chosen one below, found by words, person,
// kind of record and days; older ones page by page; as CSV and on paper.
#include "core/desk/views/ChangeRecord.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QComboBox;
class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QPushButton;
class QTimer;

namespace kitround::ui {

class DateField;
class DenseTable;
class Session;

class ChangesTab : public QWidget {
    Q_OBJECT
public:
    explicit ChangesTab(Session &session, QWidget *parent = nullptr);
    void show(); // reads the newest anew
    void clear();
    void takeFocus(); // to where words to find are typed

private:
    QWidget *makeFilter();
    QWidget *makeSteps();
    void offerChoices();
    desk::ChangeFilter wanted() const;
    void readOn(); // older ones
    void tellState();
    void showChosen(int row);
    void openWhole(int row);
    void print();

    Session &session_;
    RowsModel<desk::ChangeRow> rows_;
    desk::ChangePage page_; // where the next one goes on; its rows are in the model
    QLineEdit *words_;
    QComboBox *person_, *kind_;
    DateField *from_, *to_;
    QTimer *soon_; // waits until the typing pauses
    QLabel *state_;
    DenseTable *table_;
    QPlainTextEdit *whole_;
    QPushButton *older_, *csv_, *print_;
};

} // namespace kitround::ui
