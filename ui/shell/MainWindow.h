#pragma once
// The window: a narrow list of workplaces at the left, the page in the middle, at the foot what changed last.
#include "core/base/Clock.h"
#include "ui/shared/Look.h"
#include "ui/shared/Session.h"

#include <QMainWindow>

#include <optional>

class QAction;
class QLabel;
class QListWidget;
class QProgressBar;
class QStackedWidget;

namespace kitround::ui {

class CalendarPage;
class CataloguePage;
class HelpWindow;
class LoadPage;
class NursesPage;
class Page;
class PatientsPage;
class ReorderPage;
class SettingsPage;
class StartPage;
class StockPage;
class TodayPage;

// "fern-hill-home-care-2026-11-19.kitround": which agency, and as of when, whatever folder it comes to lie
// in.
QString backupName(const desk::Agency &agency);

class MainWindow : public QMainWindow {
    Q_OBJECT
public:
    explicit MainWindow(const Clock &clock, QWidget *parent = nullptr);
    ~MainWindow() override;

    void openFile(const QString &path, std::optional<Date> asOf = std::nullopt);
    // "today", "calendar", "stock", "reorders", "load", "patients", "nurses", "catalogue", "settings".
    void showPage(const QString &name);
    Session &session() { return session_; }

public Q_SLOTS:
    void askOpen();
    void askNew();
    void askSample();

protected:
    void closeEvent(QCloseEvent *event) override;

private:
    void makeMenus();
    void makeWorkplaces();
    void addPage(Page *page, const QString &name, const QString &icon);
    void showWorkspace(bool on);
    void updateFoot();
    void tellNotUpToDate(const Problem &problem, bool isSaved);
    void sayAtFoot(const QString &text);
    bool mayLeaveDraft();
    void setTheme(Theme theme);
    void showHelp();
    void buildSample(const QString &path);
    void bringInList();
    void backUp();
    void checkFile();
    void printDowntimePack();

    Session session_;
    QStackedWidget *middle_;
    StartPage *start_;
    QWidget *workspace_;
    QListWidget *places_;
    QStackedWidget *pages_;
    TodayPage *today_;
    CalendarPage *calendar_;
    StockPage *stock_;
    ReorderPage *reorders_;
    LoadPage *load_;
    PatientsPage *patients_;
    NursesPage *nurses_;
    CataloguePage *catalogue_;
    SettingsPage *settings_;
    HelpWindow *help_ = nullptr; // made when it is asked for
    QLabel *footText_;
    QLabel *footBusy_;
    QLabel *footMark_;
    QMenu *pageMenu_ = nullptr;
    QList<QAction *> needFile_; // disabled until a file is open
};

} // namespace kitround::ui
