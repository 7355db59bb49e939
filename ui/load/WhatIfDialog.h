#pragma once
// A what-if: choose one change, have the week planned again on a copy in the background, and read both plans
// side by side. The question is kept under a name or thrown away; nothing else is written.
#include "core/desk/views/KeptWhatIfs.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

#include <optional>

class QComboBox;
class QDateEdit;
class QFormLayout;
class QLabel;
class QLineEdit;
class QProgressBar;
class QPushButton;
class QSpinBox;
class QVBoxLayout;

namespace kitround::ui {

class BackgroundJob;
class DenseTable;
class Session;

class WhatIfDialog : public QDialog {
    Q_OBJECT
public:
    WhatIfDialog(Session &session, DateRange week, QWidget *parent = nullptr);
    // A kept one: asked at once of today's records.
    WhatIfDialog(Session &session, const KeptWhatIf &kept, const desk::ReopenedWhatIf &again,
                 QWidget *parent = nullptr);
    // The same for a question that comes from elsewhere (leave somebody asks for).
    WhatIfDialog(Session &session, Date week, const desk::WhatIfQuestion &asked, QWidget *parent = nullptr);
    bool hasKept() const { return hasKept_; }

private:
    void build(bool asks);
    void buildQuestion(QVBoxLayout *to);
    void buildNurse();
    void buildReferrals();
    void buildDays();
    void buildSetting();
    QWidget *sideBySide(QWidget *first, const QString &between, QWidget *second);
    void showShiftNow();
    void watchFields();
    void buildRun(QVBoxLayout *to);
    QWidget *named(QWidget *widget, const char *name);
    QComboBox *dayChoice(const char *name); // of the days of the week that are not over
    void showFields();
    desk::WhatIfQuestion question() const;
    bool canReadFields();
    void run();
    void forgetAnswer();
    void refuse(const QString &why); // until another question is asked
    void answered(Result<desk::WhatIfAnswer> answer);
    void show(const desk::WhatIfAnswer &answer);
    void keep();
    void setRunning(bool on);

    Session &session_;
    DateRange week_;
    QWidget *question_ = nullptr, *awayRow_ = nullptr, *hoursRow_ = nullptr;
    QFormLayout *form_ = nullptr;
    QComboBox *kind_ = nullptr, *nurse_ = nullptr, *awayFrom_ = nullptr, *awayTo_ = nullptr, *day_ = nullptr,
              *setting_ = nullptr;
    QSpinBox *count_ = nullptr, *seed_ = nullptr;
    QLineEdit *from_ = nullptr, *to_ = nullptr, *value_ = nullptr;
    QLabel *settingNote_ = nullptr, *shiftNow_ = nullptr;
    QPushButton *run_ = nullptr, *stop_ = nullptr, *keep_ = nullptr;
    QProgressBar *progress_ = nullptr;
    QLabel *summary_ = nullptr, *notes_ = nullptr;
    RowsModel<desk::WhatIfLine> lines_, nurses_;
    DenseTable *lineTable_ = nullptr, *nurseTable_ = nullptr;
    std::optional<desk::WhatIfQuestion> fixed_; // asked as it is; there are no fields
    QString opening_;                           // said above the answer to a fixed question
    std::optional<desk::WhatIfAnswer> answer_;
    bool hasKept_ = false, isRefused_ = false;
    BackgroundJob *job_ = nullptr;
};

} // namespace kitround::ui
