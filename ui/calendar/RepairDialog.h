#pragma once
// A mended plan before it is taken: what moved, whom to phone, and who is left without a place. Worked out in
// the background while the dialog stands.
#include "core/desk/views/WeekBoard.h"
#include "core/desk/views/WeekRepair.h"
#include "ui/shared/RowsModel.h"

#include <QDialog>

#include <functional>
#include <optional>

class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;
class Session;

class RepairDialog : public QDialog {
    Q_OBJECT
public:
    using Work = std::function<Result<desk::Repaired>(std::stop_token)>;
    // Starts the work on the week at once.
    RepairDialog(Session &session, desk::WeekPicturePtr before, const QString &title,
                 const QString &acceptText, Work work, QWidget *parent = nullptr);
    // What changed since the week was published: to read and print, nothing to accept.
    RepairDialog(Session &session, desk::WeekPicturePtr week, std::vector<desk::PlanChange> changes,
                 QWidget *parent = nullptr);
    void setHead(const QString &text); // what taking the plan does
    // Nothing before the work is done, or where it failed.
    const std::optional<desk::Repaired> &repaired() const { return repaired_; }

private:
    void build(const QString &acceptText);
    void showChanges(std::vector<desk::PlanChange> changes);
    void showCosts(const desk::WeekPicture &before, const desk::WeekPicture &after);
    void worked(Result<desk::Repaired> result);

    Session &session_;
    desk::WeekPicturePtr before_; // what is mended; not set where only changes are shown
    desk::WeekPicturePtr week_;   // what the list is about
    std::optional<desk::Repaired> repaired_;
    RowsModel<desk::PlanChange> changes_;
    QLabel *head_, *summary_, *overFull_, *costs_;
    DenseTable *table_;
    QPushButton *print_, *accept_ = nullptr;
};

// A form for a nurse who cannot come; nothing where it was left.
std::optional<desk::CallOut> askCallOut(QWidget *window, Session &session, const desk::WeekPicture &week,
                                        NurseId preset, Date on);
// A form for two nurses' days; it stands until a swap was found that keeps every rule, or it was left.
std::optional<desk::MoveOffer> askSwap(QWidget *window, Session &session, const desk::WeekPicture &week,
                                       NurseId preset, Date on);

} // namespace kitround::ui
