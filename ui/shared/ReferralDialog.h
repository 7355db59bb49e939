#pragma once
// Who can take a referral: nurses ranked by what the first visit would cost, with their first free day, and
// why the others cannot. Worked out in the background; the main and backup nurse can be named from here.
#include "core/desk/views/ReferralPlaces.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

class QComboBox;
class QLabel;
class QPlainTextEdit;
class QPushButton;

namespace kitround::ui {

class BackgroundJob;
class DenseTable;
class Session;

class ReferralDialog : public QDialog {
    Q_OBJECT
public:
    // Starts with the patient where one is given, else with the first referral that waits; where none waits
    // it asks nothing before somebody is chosen.
    ReferralDialog(Session &session, std::optional<PatientId> patient, QWidget *parent = nullptr);
    ~ReferralDialog() override;

private:
    void fillPatients(std::optional<PatientId> patient);
    void ask();
    void answered(Result<desk::ReferralAnswer> answer);
    void showChoice();
    void showCautions(); // of the nurse chosen, read in full
    void nameNurse();
    void offerFirstVisit(const desk::ReferralPlace &main);

    Session &session_;
    QComboBox *patient_;
    QLabel *summary_;
    RowsModel<desk::ReferralPlace> places_;
    DenseTable *table_;
    QLabel *cautions_;
    QPlainTextEdit *reason_;
    QPushButton *name_;
    desk::ReferralAnswer answer_; // its places are in places_ too
    PatientId asked_;
    BackgroundJob *job_ = nullptr;
    int generation_ = 0; // answers to a patient no longer chosen are dropped by it
};

} // namespace kitround::ui
