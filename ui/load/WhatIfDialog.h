#pragma once
// A what-if: choose one change, have the week planned again on a copy in the background, and read both plans
// side by side. Nothing is written; the answer is kept under a name or thrown away.
#include "core/desk/views/WhatIf.h"
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

struct KeptWhatIf {
    QString name;
    desk::WhatIfAnswer answer;
};

class WhatIfDialog : public QDialog {
    Q_OBJECT
public:
    WhatIfDialog(Session &session, DateRange week, QWidget *parent = nullptr);
    // A kept one, to read again.
    WhatIfDialog(Session &session, const KeptWhatIf &kept, QWidget *parent = nullptr);
    // What was asked to be kept, in order.
    const std::vector<KeptWhatIf> &kept() const { return kept_; }

private:
    void build(bool asks);
    void buildQuestion(QVBoxLayout *to);
    void showFields();
    desk::WhatIfQuestion question() const;
    void run();
    void answered(Result<desk::WhatIfAnswer> answer);
    void show(const desk::WhatIfAnswer &answer);
    void keep();
    void setRunning(bool on);

    Session &session_;
    DateRange week_;
    QFormLayout *form_ = nullptr;
    QComboBox *kind_ = nullptr, *nurse_ = nullptr, *day_ = nullptr, *setting_ = nullptr;
    QSpinBox *count_ = nullptr, *seed_ = nullptr;
    QLineEdit *from_ = nullptr, *to_ = nullptr, *value_ = nullptr;
    QLabel *settingNote_ = nullptr;
    QPushButton *run_ = nullptr, *stop_ = nullptr, *keep_ = nullptr;
    QProgressBar *progress_ = nullptr;
    QLabel *summary_ = nullptr, *notes_ = nullptr;
    RowsModel<desk::WhatIfLine> lines_, nurses_;
    DenseTable *lineTable_ = nullptr, *nurseTable_ = nullptr;
    std::optional<desk::WhatIfAnswer> answer_;
    std::vector<KeptWhatIf> kept_;
    BackgroundJob *job_ = nullptr;
};

} // namespace kitround::ui
