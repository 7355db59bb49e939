#pragma once
// Every figure the engines use, with its source and what the agency's own records say; the agency's facts;
// the record of changes.
#include "core/records/Settings.h"
#include "core/records/Users.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

class QLabel;
class QLineEdit;
class QTabWidget;

namespace kitround::ui {

class ChangesTab;
class DenseTable;

struct FigureRow {
    SettingInfo info;
    std::int64_t value = 0;
    std::optional<LearnedFigure> own;
    bool ownIsUsed = false;
    std::int64_t inForce() const { return ownIsUsed ? own->value : value; }
};

class SettingsPage : public Page {
    Q_OBJECT
public:
    explicit SettingsPage(Session &session, QWidget *parent = nullptr);
    void takeFocus() override;

protected:
    void showEvent(QShowEvent *event) override;

private:
    QWidget *makeFigures(QWidget *parent);
    QWidget *makeAgency(QWidget *parent);
    void show();
    void showFigures();
    void showAgency();
    void showUsers();
    void showAudit();
    void workAsCurrent();
    void edit(int row);
    void reset();

    RowsModel<FigureRow> figures_;
    RowsModel<User> users_;
    QTabWidget *tabs_;
    QLineEdit *search_;
    DenseTable *figureTable_, *userTable_;
    ChangesTab *changes_;
    QLabel *facts_;
    QPushButton *edit_, *reset_, *editAgency_, *addUser_, *editUser_, *workAs_;
    bool isStale_ = true; // the own figures take a while, so they are worked out when looked at
};

} // namespace kitround::ui
