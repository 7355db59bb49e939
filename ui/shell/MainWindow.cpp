#include "ui/shell/MainWindow.h"

#include "core/desk/words/Words.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/catalogue/CataloguePage.h"
#include "ui/load/LoadPage.h"
#include "ui/people/NursesPage.h"
#include "ui/people/PatientForm.h"
#include "ui/people/PatientsPage.h"
#include "ui/reorders/ReorderPage.h"
#include "ui/setup/SettingsPage.h"
#include "ui/setup/StartPage.h"
#include "ui/shell/AboutBox.h"
#include "ui/shell/HelpWindow.h"
#include "ui/shell/WindowParts.h"
#include "ui/stock/StockPage.h"
#include "ui/today/TodayPage.h"

#include <QActionGroup>
#include <QApplication>
#include <QCloseEvent>
#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QMenuBar>
#include <QScreen>
#include <QSettings>
#include <QStackedWidget>
#include <QTimer>
#include <QUndoGroup>
#include <QUndoStack>
#include <QVBoxLayout>

namespace kitround::ui {

MainWindow::MainWindow(const Clock &clock, QWidget *parent) : QMainWindow(parent), session_(clock) {
    setObjectName(QStringLiteral("mainWindow"));
    setWindowTitle(QStringLiteral("Kitround"));
    setWindowIcon(Look::icon(QStringLiteral("kitround"), Role::Accent));
    // As large as reads well, but never larger than the screen.
    resize(QSize(1440, 900).boundedTo(screen()->availableSize() - QSize(16, 48)));
    restoreGeometry(QSettings().value(QStringLiteral("window")).toByteArray());
    setMinimumSize(960, 600);

    middle_ = new QStackedWidget(this);
    setCentralWidget(middle_);
    start_ = new StartPage(middle_);
    middle_->addWidget(start_);
    connect(start_, &StartPage::openAsked, this, &MainWindow::askOpen);
    connect(start_, &StartPage::newAsked, this, &MainWindow::askNew);
    connect(start_, &StartPage::sampleAsked, this, &MainWindow::askSample);

    makeWorkplaces();
    makeMenus();

    connect(&session_, &Session::opened, this, [this] {
        showWorkspace(true);
        showPage(QStringLiteral("today"));
    });
    connect(&session_, &Session::closed, this, [this] { showWorkspace(false); });
    connect(&session_, &Session::openFailed, this, [this](const Problem &problem) {
        start_->setBusy({});
        Ask::problem(this, problem);
    });
    connect(&session_, &Session::notUpToDate, this, &MainWindow::tellNotUpToDate);
    connect(&session_, &Session::busyChanged, this, [this](bool busy, const QString &stage) {
        start_->setBusy(busy && middle_->currentWidget() == start_ ? stage + QStringLiteral("…") : QString());
        footBusy_->setText(busy ? stage + QStringLiteral("…") : QString());
    });
    connect(&session_, &Session::written, this, [this] { updateFoot(); });
    connect(&session_, &Session::agencyChanged, this, [this] { updateFoot(); });
    connect(&session_, &Session::userChanged, this, [this] { updateFoot(); });
    showWorkspace(false);
}

MainWindow::~MainWindow() {
    session_.close(); // before the pages go: they listen to it
}

void MainWindow::makeWorkplaces() {
    workspace_ = new QWidget(middle_);
    auto *column = new QVBoxLayout(workspace_);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    auto *row = new QHBoxLayout;
    row->setSpacing(0);
    places_ = new QListWidget(workspace_);
    places_->setObjectName(QStringLiteral("workplaces"));
    places_->setAccessibleName(tr("Workplaces"));
    places_->setFixedWidth(184);
    places_->setIconSize(QSize(20, 20));
    places_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    row->addWidget(places_);
    pages_ = new QStackedWidget(workspace_);
    row->addWidget(pages_, 1);
    column->addLayout(row, 1);

    auto *foot = new QWidget(workspace_);
    foot->setObjectName(QStringLiteral("foot"));
    auto *footRow = new QHBoxLayout(foot);
    footRow->setContentsMargins(Look::kPage, 4, Look::kPage, 4);
    footText_ = new QLabel(foot);
    footText_->setObjectName(QStringLiteral("lastChange"));
    footText_->setWordWrap(true); // why something was refused may take two lines
    // Always as high: what is pressed above it stays under the hand, however much is said here.
    footText_->setFixedHeight(2 * footText_->fontMetrics().lineSpacing());
    footBusy_ = new QLabel(foot);
    footBusy_->setObjectName(QStringLiteral("busyText"));
    footMark_ = new QLabel(foot);
    footMark_->setObjectName(QStringLiteral("fileMark"));
    footMark_->setFont(Look::strongFont());
    footRow->addWidget(footText_, 1);
    footRow->addWidget(footBusy_);
    footRow->addSpacing(Look::kBetween);
    footRow->addWidget(footMark_);
    column->addWidget(foot);
    middle_->addWidget(workspace_);

    addPage(today_ = new TodayPage(session_, pages_), QStringLiteral("today"), QStringLiteral("today"));
    addPage(calendar_ = new CalendarPage(session_, pages_), QStringLiteral("calendar"),
            QStringLiteral("calendar"));
    addPage(stock_ = new StockPage(session_, pages_), QStringLiteral("stock"), QStringLiteral("stock"));
    addPage(reorders_ = new ReorderPage(session_, pages_), QStringLiteral("reorders"),
            QStringLiteral("reorders"));
    addPage(load_ = new LoadPage(session_, pages_), QStringLiteral("load"), QStringLiteral("load"));
    load_->askUnsaved([this] { return calendar_->unsavedWeeks(); });
    addPage(patients_ = new PatientsPage(session_, pages_), QStringLiteral("patients"),
            QStringLiteral("people"));
    addPage(nurses_ = new NursesPage(session_, pages_), QStringLiteral("nurses"), QStringLiteral("nurse"));
    addPage(catalogue_ = new CataloguePage(session_, pages_), QStringLiteral("catalogue"),
            QStringLiteral("catalogue"));
    addPage(settings_ = new SettingsPage(session_, pages_), QStringLiteral("settings"),
            QStringLiteral("settings"));
    connect(today_, &Page::showWorkplace, this, [this](const QString &name) {
        if (name == QLatin1String("suppliers")) {
            showPage(QStringLiteral("catalogue"));
            catalogue_->newSupplier();
        }
    });
    connect(today_, &TodayPage::showWeek, this, [this](qint64 day) {
        showPage(QStringLiteral("calendar"));
        calendar_->leadTo(Date::fromDayNumber(day));
    });
    connect(calendar_, &CalendarPage::phoneAsked, this, [this] {
        showPage(QStringLiteral("today"));
        today_->openPatientCalls();
    });
    connect(today_, &TodayPage::showMany, this, [this](desk::AttentionKind kind) {
        showPage(QStringLiteral("stock"));
        stock_->showMany(kind);
    });
    connect(today_, &TodayPage::showLeave, this, [this] {
        showPage(QStringLiteral("load"));
        load_->showLeave();
    });
    connect(today_, &TodayPage::showIncidents, this, [this] {
        showPage(QStringLiteral("load"));
        load_->showIncidents();
    });
    connect(today_, &TodayPage::callHome, this, [this](qint64 id) {
        showPage(QStringLiteral("stock"));
        stock_->callHome(PatientId(id));
    });
    connect(today_, &TodayPage::formAsked, this, [this](desk::NextForm form, qint64 id, qint64 catheter) {
        if (form == desk::NextForm::Allergies) {
            if (const Patient *patient = session_.agency()->index().patient(PatientId(id)))
                editPatient(this, session_, *patient, "allergies");
            return;
        }
        showPage(QStringLiteral("stock"));
        if (form == desk::NextForm::Count)
            stock_->countHome(PatientId(id));
        else
            stock_->startHome(PatientId(id), CatheterId(catheter));
    });
    connect(places_, &QListWidget::currentRowChanged, pages_, &QStackedWidget::setCurrentIndex);
    // Who clicks a page works there next: its keys are its own, not the list's.
    connect(places_, &QListWidget::itemClicked, this, [this] {
        if (auto *page = qobject_cast<Page *>(pages_->currentWidget()))
            page->takeFocus();
    });
    connect(pages_, &QStackedWidget::currentChanged, this, [this] {
        const auto *page = qobject_cast<Page *>(pages_->currentWidget());
        if (pageMenu_ && page) {
            pageMenu_->clear();
            pageMenu_->addActions(qobject_cast<Page *>(pages_->currentWidget())->pageActions());
            pageMenu_->menuAction()->setVisible(!pageMenu_->isEmpty());
        }
    });
}

void MainWindow::addPage(Page *page, const QString &name, const QString &icon) {
    pages_->addWidget(page);
    auto *item = new QListWidgetItem(Look::icon(icon), page->title(), places_);
    item->setData(Qt::UserRole, name);
    item->setSizeHint(QSize(0, 40));
    connect(page, &Page::said, this, &MainWindow::sayAtFoot);
    connect(page, &Page::showWorkplace, this, &MainWindow::showPage);
    const auto showPatient = [this](qint64 id) {
        showPage(QStringLiteral("patients"));
        patients_->selectPatient(PatientId(id));
    };
    connect(page, &Page::showPatient, this, showPatient);
    connect(page, &Page::showHome, this, [this](qint64 id) {
        showPage(QStringLiteral("stock"));
        stock_->selectHome(PatientId(id));
    });
    connect(page, &Page::showItem, this, [this](qint64 id) {
        showPage(QStringLiteral("stock"));
        stock_->selectItem(ItemId(id));
    });
    connect(page, &Page::showNurse, this, [this](qint64 id) {
        showPage(QStringLiteral("nurses"));
        nurses_->selectNurse(NurseId(id));
    });
}

void MainWindow::makeMenus() {
    const auto action = [this](QMenu *menu, const QString &objectName, const QString &text,
                               const QKeySequence &keys, auto run, bool needsFile) {
        QAction *a = menu->addAction(text);
        a->setObjectName(objectName);
        a->setShortcut(keys);
        connect(a, &QAction::triggered, this, run);
        if (needsFile)
            needFile_ << a;
        return a;
    };
    QMenu *file = menuBar()->addMenu(tr("&File"));
    action(
        file, QStringLiteral("actionNew"), tr("Set up a &new agency…"), QKeySequence::New,
        [this] { askNew(); }, false);
    action(
        file, QStringLiteral("actionOpen"), tr("&Open an agency file…"), QKeySequence::Open,
        [this] { askOpen(); }, false);
    action(
        file, QStringLiteral("actionSample"), tr("Try the &sample agency…"), {}, [this] { askSample(); },
        false);
    action(
        file, QStringLiteral("actionImport"), tr("Bring in a &list from a spreadsheet…"), {},
        [this] { bringInList(); }, true);
    file->addSeparator();
    action(
        file, QStringLiteral("actionDowntime"), tr("&Print what is needed when the computer is down…"),
        QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_P), [this] { printDowntimePack(); }, true);
    action(
        file, QStringLiteral("actionBackup"), tr("&Back up…"), {}, [this] { backUp(); }, true);
    action(
        file, QStringLiteral("actionCheck"), tr("&Check the file"), {}, [this] { checkFile(); }, true);
    action(
        file, QStringLiteral("actionReload"), tr("&Read the file again"), Qt::Key_F5,
        [this] { session_.refresh(); }, true);
    file->addSeparator();
    action(
        file, QStringLiteral("actionQuit"), tr("&Quit"), QKeySequence::Quit, [this] { close(); }, false);

    auto *group = new QUndoGroup(this);
    group->addStack(calendar_->undoStack());
    QMenu *edit = menuBar()->addMenu(tr("&Edit"));
    QAction *undo = group->createUndoAction(this, tr("&Undo"));
    undo->setObjectName(QStringLiteral("actionUndo"));
    undo->setShortcut(QKeySequence::Undo);
    QAction *redo = group->createRedoAction(this, tr("&Redo"));
    redo->setObjectName(QStringLiteral("actionRedo"));
    redo->setShortcuts(QKeySequence::keyBindings(QKeySequence::Redo) +
                       QList<QKeySequence>{QKeySequence(Qt::CTRL | Qt::Key_Y)});
    edit->addActions({undo, redo});
    QAction *noUndo = action(
        edit, QStringLiteral("actionNoUndo"), tr("&Undo"), QKeySequence::Undo,
        [this] {
            sayAtFoot(
                tr("Undo is for the calendar's plan before it is saved; records are corrected, not undone."));
        },
        true);
    const auto follow = [this, group, undo, redo, noUndo] {
        auto *page = qobject_cast<Page *>(pages_->currentWidget());
        QUndoStack *stack = page ? page->undoStack() : nullptr;
        group->setActiveStack(stack);
        undo->setVisible(stack != nullptr);
        redo->setVisible(stack != nullptr);
        noUndo->setVisible(stack == nullptr); // says why, where there is nothing to undo
    };
    connect(pages_, &QStackedWidget::currentChanged, this, follow);
    follow();

    QMenu *go = menuBar()->addMenu(tr("&Go"));
    for (int i = 0; i < places_->count(); ++i) {
        const QString name = places_->item(i)->data(Qt::UserRole).toString();
        action(
            go, QStringLiteral("go_") + name, places_->item(i)->text(),
            QKeySequence(Qt::CTRL | Qt::Key(Qt::Key_1 + i)), [this, name] { showPage(name); }, true);
    }
    go->addSeparator();
    action(
        go, QStringLiteral("actionIncident"), tr("Report an &incident…"),
        QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_I),
        [this] {
            showPage(QStringLiteral("load"));
            load_->reportIncident();
        },
        true);
    go->addSeparator();
    action(
        go, QStringLiteral("actionNextPart"), tr("Ne&xt part of the window"), Qt::Key_F6,
        [this] { focusNextPart(*workspace_, true); }, true);
    action(
        go, QStringLiteral("actionPreviousPart"), tr("Pre&vious part of the window"),
        QKeySequence(Qt::SHIFT | Qt::Key_F6), [this] { focusNextPart(*workspace_, false); }, true);
    pageMenu_ = menuBar()->addMenu(tr("&Page"));
    pageMenu_->menuAction()->setVisible(false);

    QMenu *view = menuBar()->addMenu(tr("&View"));
    auto *themes = new QActionGroup(this); // ticks the present one
    QAction *light = action(
        view, QStringLiteral("actionLight"), tr("&Light"), {}, [this] { setTheme(Theme::Light); }, false);
    QAction *dark = action(
        view, QStringLiteral("actionDark"), tr("&Dark"), {}, [this] { setTheme(Theme::Dark); }, false);
    themes->setExclusive(true);
    for (QAction *a : {light, dark}) {
        a->setCheckable(true);
        themes->addAction(a);
    }
    (Look::theme() == Theme::Dark ? dark : light)->setChecked(true);

    QMenu *help = menuBar()->addMenu(tr("&Help"));
    action(
        help, QStringLiteral("actionHelp"), tr("&How the week goes"), QKeySequence::HelpContents,
        [this] { showHelp(); }, false);
    action(
        help, QStringLiteral("actionAbout"), tr("&About Kitround and its cautions"), {},
        [this] { AboutBox(this).exec(); }, false);
}

// Beside the window, about the page in front.
void MainWindow::showHelp() {
    if (!help_)
        help_ = new HelpWindow(this);
    const QListWidgetItem *place = session_.isOpen() ? places_->currentItem() : nullptr;
    help_->showTopicOf(place ? place->data(Qt::UserRole).toString() : QString());
    help_->show();
    help_->raise();
    help_->activateWindow();
}

void MainWindow::showWorkspace(bool on) {
    middle_->setCurrentWidget(on ? workspace_ : static_cast<QWidget *>(start_));
    for (QAction *a : needFile_)
        a->setEnabled(on);
    if (!on) {
        start_->setBusy({});
        setWindowTitle(QStringLiteral("Kitround"));
    }
}

void MainWindow::showPage(const QString &name) {
    for (int i = 0; i < places_->count(); ++i)
        if (places_->item(i)->data(Qt::UserRole).toString() == name) {
            places_->setCurrentRow(i);
            if (auto *page = qobject_cast<Page *>(pages_->widget(i)))
                page->takeFocus();
            return;
        }
}

void MainWindow::sayAtFoot(const QString &text) {
    footText_->setText(text);
    footText_->setToolTip(text);
}

void MainWindow::updateFoot() {
    if (!session_.agency())
        return;
    const AgencySettings &settings = session_.agency()->settings();
    const QString older = session_.olderKeptAs();
    sayAtFoot(!session_.lastWritten().isEmpty() ? tr("Last: %1").arg(session_.lastWritten())
              : !session_.userGone().isEmpty()
                  ? tr("%1, who worked in this file last on this machine, is not among those who work here "
                       "now. You work as %2: choose who you are under Settings.")
                        .arg(session_.userGone(), session_.userName())
              : older.isEmpty()
                  ? tr("Nothing changed since the file was opened.")
                  : tr("Brought to the new file version; the old one is kept as %1.").arg(older));
    QStringList marks;
    if (settings.isInvented)
        marks << tr("Invented data");
    if (const QString user = session_.userName(); !user.isEmpty())
        marks << user;
    if (session_.isReadOnly())
        marks << tr("Read only");
    marks << tr("Today is %1").arg(desk::dayText(session_.today()));
    footMark_->setText(marks.join(QStringLiteral("  ·  ")));
    setWindowTitle(QString::fromStdString(settings.agencyName) + QStringLiteral(" – Kitround"));
}

// Nothing is tried again by itself: what makes reading fail may last.
void MainWindow::tellNotUpToDate(const Problem &problem, bool isSaved) {
    const QString text = desk::notUpToDateText(problem, isSaved);
    sayAtFoot(text);
    if (Ask::confirm(this, tr("Not up to date"), text, tr("Read the file again"), tr("Go on as it is")))
        session_.refresh();
}

bool MainWindow::mayLeaveDraft() {
    for (int i = 0; i < pages_->count(); ++i) {
        const auto *page = qobject_cast<Page *>(pages_->widget(i));
        if (session_.isOpen() && page && page->hasUnsavedDraft())
            return Ask::confirm(this, tr("Leave the draft?"),
                                tr("%1 holds changes that are not saved.").arg(page->title()),
                                tr("Leave them"), tr("Go back"));
    }
    return true;
}

void MainWindow::setTheme(Theme theme) {
    QSettings().setValue(QStringLiteral("theme"),
                         theme == Theme::Dark ? QStringLiteral("dark") : QStringLiteral("light"));
    if (theme == Look::theme())
        return;
    // The menu that was chosen from is to be gone before the work starts.
    QTimer::singleShot(0, this, [this, theme] {
        setUpdatesEnabled(false); // drawn once, at the end
        Look::apply(*qApp, theme);
        setUpdatesEnabled(true);
    });
}

void MainWindow::closeEvent(QCloseEvent *event) {
    if (!mayLeaveDraft()) {
        event->ignore();
        return;
    }
    QSettings().setValue(QStringLiteral("window"), saveGeometry());
    session_.close();
    event->accept();
}

} // namespace kitround::ui
