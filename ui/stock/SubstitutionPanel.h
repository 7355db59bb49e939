#pragma once
// Where one size stands in for another, by whose word, and when it goes back.
#include "core/desk/views/SubstitutionView.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

class QCheckBox;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
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
    const desk::SubstitutionRow *current() const;
    void enableSteps();
    void change();
    void goBack();

    Session &session_;
    RowsModel<desk::SubstitutionRow> model_;
    QLabel *head_;
    DenseTable *table_;
    QCheckBox *closed_;
    QPushButton *new_, *change_, *back_;
};

// A new record, or a change of one that is open. True when something was stored.
bool editSubstitution(QWidget *window, Session &session, const Substitution &seed);

} // namespace kitround::ui
