#pragma once
// What the weekly review decided: the notes of this and former weeks that are still open, and those of the
// week itself; noted, changed, and closed with what came of it. None is thrown away.
#include "core/desk/views/DecisionNotes.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

#include <optional>

class QComboBox;
class QHBoxLayout;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class DecisionsTab : public QWidget {
    Q_OBJECT
public:
    explicit DecisionsTab(Session &session, QWidget *parent = nullptr);
    // With the week the page looks at; gives how many are open.
    int show(const desk::AgencyPtr &agency, DateRange week);
    void clear();
    void takeFocus();
    bool isEmpty() const; // none was ever noted
    void add();           // a new one

private:
    void buildButtons(QHBoxLayout &row);
    void fill();
    void choose(DecisionNoteId id);
    void showChosen(int row);
    void edit(const DecisionNote &before);
    void change(int row);
    void closeOrReopen();
    void closeNote(const DecisionNote &note);
    const desk::DecisionRow *current() const;

    Session &session_;
    desk::AgencyPtr shown_;
    DateRange week_;
    std::optional<DecisionNoteId> saved_; // to be chosen once it is among the rows
    RowsModel<desk::DecisionRow> rows_;
    QComboBox *which_;
    DenseTable *table_;
    QLabel *nothing_, *facts_;
    QPushButton *add_, *change_, *close_, *csv_;
};

} // namespace kitround::ui
