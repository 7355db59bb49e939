#pragma once
// The clinical watch list: who is on it and why, who has it, the next step and its day; what was put off, and
// what was closed with which outcome.
#include "core/desk/views/WatchList.h"
#include "ui/shared/RowsModel.h"

#include <QWidget>

#include <optional>

class QComboBox;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace kitround::ui {

class DenseTable;
class Session;

class WatchTab : public QWidget {
    Q_OBJECT
public:
    explicit WatchTab(Session &session, QWidget *parent = nullptr);
    int show(const desk::AgencyPtr &agency); // how many patients are on the list
    void clear();
    void takeFocus();
    bool isEmpty() const; // nobody is on the list, nothing was put off or closed

Q_SIGNALS:
    void opened(qint64 patient);

private:
    void makeButtons(QVBoxLayout *layout);
    const std::vector<desk::WatchRow> &listShown() const;
    void showOtherList();
    void showRows();
    void choose(int row);
    void showChosen();
    int rowOfChosen() const; // -1: not on the list shown
    QString textWithoutRow() const;
    void decide();
    void closeWatch();
    void print();
    const desk::WatchRow *current() const;

    struct Chosen { // rows come and go, a choice is about a patient
        PatientId patient;
        std::optional<WatchEntryId> entry;
        QString who;
    };

    Session &session_;
    desk::AgencyPtr shown_;
    desk::WatchList list_;
    std::optional<Chosen> chosen_;
    RowsModel<desk::WatchRow> rows_;
    QComboBox *which_;
    QLabel *why_;
    DenseTable *table_;
    QPushButton *decide_, *close_, *open_;
};

} // namespace kitround::ui
