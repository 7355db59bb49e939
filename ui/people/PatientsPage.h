#pragma once
// The people looked after: a list to find them by, and the chosen one's record.
#include "core/desk/views/PatientView.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

class QComboBox;
class QLineEdit;
class QTabWidget;

namespace kitround::ui {

class DenseTable;
class LogTab;
class RecordTab;

class PatientsPage : public Page {
    Q_OBJECT
public:
    explicit PatientsPage(Session &session, QWidget *parent = nullptr);
    void selectPatient(PatientId patient);
    void takeFocus() override;

private:
    QWidget *makeList(QWidget *parent);
    QWidget *makeRecord(QWidget *parent);
    void makeActions();
    void show();
    void filter();
    void narrow(const QString &text);
    void chooseListed();
    void showCount(); // of the rows that status and search leave
    void showRecord();
    bool isWanted(const desk::PatientRow &row) const;
    void newPatient();

    RowsModel<desk::PatientRow> model_;
    RowsProxy *proxy_;
    std::vector<desk::PatientRow> all_;
    QLineEdit *search_;
    QComboBox *status_;
    DenseTable *table_;
    QWidget *record_;
    QLabel *name_;
    QTabWidget *tabs_;
    LogTab *log_;
    std::vector<RecordTab *> records_; // by tab
    QPushButton *new_;
    std::optional<PatientId> current_;
    bool isFinding_ = false; // rows are being left out by the search
};

} // namespace kitround::ui
