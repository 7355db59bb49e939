#pragma once
// Two plans of a week side by side, each chosen from the one in hand and every version on record: which
// visits stand elsewhere, and what each plan comes to. To read, to print and to save; nothing is taken over.
#include "core/desk/views/PlanComparison.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

class QComboBox;
class QHBoxLayout;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class CompareDialog : public QDialog {
    Q_OBJECT
public:
    // `versions`: of the week `one`, by number; `before`: the plan before the last step, where there is one.
    CompareDialog(Session &session, const desk::WeekPicturePtr &hand, DateRange one, bool isSaved,
                  std::vector<Plan> versions, std::optional<desk::LaidPlan> before,
                  QWidget *parent = nullptr);

private:
    void build();
    QComboBox *addChoice(QHBoxLayout *row, const QString &objectName, const QString &label);
    std::optional<Instant> savedAt(const Plan &version); // of a draft
    desk::LaidPlan laid(int choice) const; // 0 is the plan in hand, then the one before, then the versions
    void compare();

    struct Version {
        Plan plan;
        std::optional<Instant> savedAt;
    };
    Session &session_;
    desk::LaidPlan hand_;
    std::optional<desk::LaidPlan> before_;
    std::vector<Version> versions_; // newest first
    desk::PlanComparison comparison_;
    RowsModel<desk::PlanChange> visits_;
    RowsModel<desk::PlanFigure> figures_;
    QComboBox *first_, *second_;
    QLabel *summary_;
    DenseTable *visitTable_, *figureTable_;
    QPushButton *print_, *save_;
};

} // namespace kitround::ui
