#include "ui/stock/StockPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/stock/CarPanel.h"
#include "ui/stock/DeliveryPanel.h"
#include "ui/stock/ExpiryPanel.h"
#include "ui/stock/ForecastCheckDialog.h"
#include "ui/stock/HomesPanel.h"
#include "ui/stock/RefillPanel.h"
#include "ui/stock/ReturnPanel.h"
#include "ui/stock/StartUpPanel.h"
#include "ui/stock/StoreroomPanel.h"
#include "ui/stock/SubstitutionPanel.h"
#include "ui/stock/UseColumns.h"

#include <QAction>
#include <QHBoxLayout>
#include <QPushButton>
#include <QTabWidget>

namespace kitround::ui {

StockPage::StockPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("stockPage"), tr("Stock forecast"), parent) {
    tabs_ = new QTabWidget(this);
    tabs_->setObjectName(QStringLiteral("stockTabs"));
    tabs_->setDocumentMode(true);
    homes_ = new HomesPanel(session, tabs_);
    storeroom_ = new StoreroomPanel(session, tabs_);
    refills_ = new RefillPanel(session, tabs_);
    refills_->takeTriedFrom([this] { return homes_->triedRefill(); });
    deliveries_ = new DeliveryPanel(session, tabs_);
    tabs_->addTab(homes_, tr("Homes"));
    tabs_->addTab(storeroom_, tr("Storeroom"));
    tabs_->addTab(refills_, tr("Refill calls"));
    tabs_->addTab(deliveries_, tr("Deliveries"));
    use_ = new RowsPanel<desk::UseRow>(
        {.objectName = QStringLiteral("useTable"),
         .title = tr("Use against order"),
         .explanation = tr("Kits used in the last four weeks, as logged, against the drains the order plans. "
                           "What parts goes to the nurse; less use is no saving while drains may be missed. "
                           "Enter opens the patient."),
         .nothing = tr("No home has an order with planned drains and two weeks of log yet."),
         .stretched = 7},
        useColumns(), [](const desk::StockPicture &p) { return desk::useRows(*p.agency); }, tabs_);
    tabs_->addTab(use_, tr("Use against order"));
    substitutions_ = new SubstitutionPanel(session, tabs_);
    cars_ = new CarPanel(session, tabs_);
    returns_ = new ReturnPanel(session, tabs_);
    tabs_->addTab(substitutions_, tr("Substitutions"));
    tabs_->addTab(cars_, tr("Cars"));
    tabs_->addTab(returns_, tr("Closed homes"));
    expiry_ = new ExpiryPanel(session, tabs_);
    tabs_->addTab(expiry_, tr("Expiry"));
    starts_ = new StartUpPanel(session, tabs_);
    tabs_->addTab(starts_, tr("First deliveries"));
    setBody(tabs_);
    head()->addStretch(1);
    auto *good = new QPushButton(tr("How good is the forecast?"), this);
    good->setObjectName(QStringLiteral("stockHowGood"));
    head()->addWidget(good);
    main_ = setMainAction(QStringLiteral("stockMain"), tr("Record a count…"));
    makeActions();
    connect(good, &QPushButton::clicked, this, &StockPage::showHowGood);

    connect(main_, &QPushButton::clicked, this, &StockPage::mainAction);
    connect(tabs_, &QTabWidget::currentChanged, this, &StockPage::nameMainAction);
    connect(homes_, &HomesPanel::patientAsked, this, &Page::showPatient);
    connect(homes_, &HomesPanel::callAsked, this, [this](qint64 patient) { callHome(PatientId(patient)); });
    connect(refills_, &RefillPanel::homeAsked, this,
            [this](qint64 patient) { selectHome(PatientId(patient)); });
    connect(storeroom_, &StoreroomPanel::patientAsked, this, &Page::showPatient);
    connect(substitutions_, &SubstitutionPanel::patientAsked, this, &Page::showPatient);
    connect(returns_, &ReturnPanel::patientAsked, this, &Page::showPatient);
    connect(starts_, &StartUpPanel::patientAsked, this, &Page::showPatient);
    connect(use_->table(), &DenseTable::opened, this,
            [this](int row) { Q_EMIT showPatient(use_->model().row(row).patient.value()); });
    connect(&session, &Session::agencyChanged, this, &StockPage::agencyChanged);
    connect(&session, &Session::computed, this, &StockPage::computed);
    connect(&session, &Session::closed, this, [this] {
        homes_->show(nullptr);
        refills_->show(nullptr);
        storeroom_->show(nullptr);
        deliveries_->clear();
        substitutions_->clear();
        cars_->clear();
        returns_->clear();
        use_->show(nullptr);
        expiry_->show(nullptr);
        starts_->show(nullptr);
        showEmpty(tr("No file is open."));
        nameMainAction();
    });
    connect(&session, &Session::opened, this,
            [this] { showEmpty(tr("The stock forecast is being worked out.")); });
    showEmpty(tr("The stock forecast is being worked out."));
    nameMainAction();
}

void StockPage::makeActions() {
    const auto action = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    QAction *step = addMainStep(tr("&Do the main step"), this, [this] { mainAction(); });
    step->setShortcuts({step->shortcut(), QKeySequence(Qt::Key_Insert)});
    action(tr("&Print…"), QKeySequence::Print, [this] {
        const auto stock = this->session().stock();
        if (!stock)
            return;
        if (tabs_->currentWidget() == refills_)
            offerPaper(this, this->session(), desk::refillCallList(*stock));
        else if (tabs_->currentWidget() == deliveries_)
            deliveries_->printPickList();
        else if (tabs_->currentWidget() == expiry_)
            expiry_->print();
        else if (tabs_->currentWidget() == starts_)
            starts_->print();
        else
            offerPaper(this, this->session(), desk::forecastPaper(*stock));
    });
    action(tr("&Recall notice…"), {}, [this] {
        tabs_->setCurrentWidget(storeroom_);
        storeroom_->askForNotice();
    });
    action(tr("How &good is the forecast…"), {}, [this] { showHowGood(); });
    addTabKeys(*tabs_);
}

void StockPage::showHowGood() {
    if (!session().agency())
        return;
    auto *dialog = new ForecastCheckDialog(session(), this);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    dialog->show();
}

void StockPage::takeFocus() {
    if (tabs_->currentWidget() == homes_)
        homes_->takeFocus();
    else if (tabs_->currentWidget() == storeroom_)
        storeroom_->takeFocus();
    else if (tabs_->currentWidget() == refills_)
        refills_->takeFocus();
    else if (tabs_->currentWidget() == deliveries_)
        deliveries_->takeFocus();
    else if (tabs_->currentWidget() == substitutions_)
        substitutions_->takeFocus();
    else if (tabs_->currentWidget() == cars_)
        cars_->takeFocus();
    else if (tabs_->currentWidget() == returns_)
        returns_->takeFocus();
    else if (tabs_->currentWidget() == expiry_)
        expiry_->takeFocus();
    else if (tabs_->currentWidget() == starts_)
        starts_->takeFocus();
    else
        use_->takeFocus();
}

void StockPage::callHome(PatientId patient) {
    tabs_->setCurrentWidget(refills_);
    refills_->callPatient(patient);
}

void StockPage::countHome(PatientId patient) {
    tabs_->setCurrentWidget(homes_);
    homes_->countHome(patient);
}

void StockPage::startHome(PatientId patient, CatheterId catheter) {
    tabs_->setCurrentWidget(starts_);
    starts_->promiseFor(patient, catheter);
}

void StockPage::selectHome(PatientId patient) {
    tabs_->setCurrentWidget(homes_);
    homes_->select(patient);
}

void StockPage::selectItem(ItemId item) {
    tabs_->setCurrentWidget(storeroom_);
    storeroom_->select(item);
}

void StockPage::showMany(desk::AttentionKind kind) {
    if (kind == desk::AttentionKind::RefillCall)
        tabs_->setCurrentWidget(refills_);
    else if (kind == desk::AttentionKind::DeliveryDue)
        tabs_->setCurrentWidget(deliveries_);
    else
        tabs_->setCurrentWidget(homes_);
    takeFocus();
}

// The old forecast stays on the screen, marked, until the new one is there.
void StockPage::agencyChanged() {
    deliveries_->show();
    substitutions_->show();
    cars_->show();
    returns_->show();
    nameMainAction();
    setSubtitle((session().stock() ? tr("%1. The forecast is being worked out again.")
                                   : tr("%1. The forecast is being worked out."))
                    .arg(desk::dayText(session().today())));
}

void StockPage::computed() {
    const desk::StockPicturePtr stock = session().stock();
    if (!stock)
        return;
    homes_->show(stock);
    refills_->show(stock);
    storeroom_->show(stock);
    deliveries_->show();
    use_->show(stock);
    expiry_->show(stock);
    starts_->show(stock);
    const int calls = refills_->callsToday();
    tabs_->setTabText(tabs_->indexOf(refills_),
                      calls > 0 ? tr("Refill calls (%1 today)").arg(calls) : tr("Refill calls"));
    setSubtitle(tr("%1. %2").arg(desk::dayText(session().today()), desk::planningCaution()));
    if (stock->homes.empty() && stock->agency->snapshot().items.empty())
        showEmpty(tr("Nothing to forecast yet. Enter items under Items and suppliers, then patients with a "
                     "catheter and a drain "
                     "order; each home then appears here."),
                  tr("Enter items"), QStringLiteral("catalogue"));
    else
        showEmpty({});
    nameMainAction();
}

void StockPage::nameMainAction() {
    const QWidget *now = tabs_->currentWidget();
    main_->setText(now == refills_         ? tr("Record the call…")
                   : now == deliveries_    ? tr("Print the pick list…")
                   : now == storeroom_     ? tr("Recall notice…")
                   : now == substitutions_ ? tr("Record a substitution…")
                   : now == cars_          ? tr("Bring the car to par")
                   : now == returns_       ? tr("Settle…")
                                           : tr("Record a count…"));
    main_->setVisible(now != use_ && now != expiry_ && now != starts_);
    const bool isOnlyRead = now == deliveries_ || now == storeroom_;
    const bool hasHomes = session().stock() && !session().stock()->homes.empty();
    main_->setEnabled(isBodyShown() && session().isOpen() &&
                      (isOnlyRead || (!session().isReadOnly() && hasHomes)));
}

void StockPage::mainAction() {
    const QWidget *now = tabs_->currentWidget();
    if (!main_->isEnabled())
        return;
    if (now == refills_)
        refills_->callCurrent();
    else if (now == deliveries_)
        deliveries_->printPickList();
    else if (now == storeroom_)
        storeroom_->askForNotice();
    else if (now == substitutions_)
        substitutions_->recordNew();
    else if (now == cars_)
        cars_->refillCurrent();
    else if (now == returns_)
        returns_->settleCurrent();
    else if (now == homes_)
        homes_->recordCount();
}

} // namespace kitround::ui
