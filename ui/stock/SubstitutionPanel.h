#pragma once
// Where one size stands in for another, by whose word, and when it goes back.
#include "core/desk/views/SubstitutionView.h"
#include "ui/shared/RowsTable.h"

class QCheckBox;

namespace kitround::ui {

class Session;

class SubstitutionPanel : public QWidget {
    Q_OBJECT
public:
    SubstitutionPanel(Session &session, QWidget *parent);
    void show(); // from the session's agency
    void clear();
    void takeFocus();
    void recordNew();

Q_SIGNALS:
    void patientAsked(qint64 patient);

private:
    void enableSteps();
    void change();
    void goBack();

    Session &session_;
    RowsTable<desk::SubstitutionRow> *rows_;
    QCheckBox *closed_;
    QPushButton *new_, *change_, *back_;
};

// A new record, or a change of one that is open. True when something was stored.
bool editSubstitution(QWidget *window, Session &session, Substitution seed);

} // namespace kitround::ui
