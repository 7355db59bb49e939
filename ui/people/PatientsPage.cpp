#include "ui/people/PatientsPage.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/people/HomeStockTab.h"
#include "ui/people/LogTab.h"
#include "ui/people/OrdersTab.h"
#include "ui/people/PatientForm.h"
#include "ui/people/SummaryTab.h"
#include "ui/people/VisitTabs.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/ReferralDialog.h"

#include <QAction>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QSplitter>
#include <QTabWidget>

namespace kitround::ui {
namespace {

constexpr int kStatus = 2, kMainNurse = 3, kCatheters = 4; // columns
constexpr int kReadableStatus = 200;                       // "active; no drain order"

enum class Wanted { OnService, OnHold, Referred, Former, Everybody };

std::vector<RowsColumn<desk::PatientRow>> columns() {
    using Row = desk::PatientRow;
    return {
        {.head = QObject::tr("Name"), .text = [](const Row &r) { return r.name; }},
        {.head = QObject::tr("Reference"), .text = [](const Row &r) { return r.code; }},
        {.head = QObject::tr("Status"),
         .text =
             [](const Row &r) {
                 return r.note.isEmpty() ? r.status : QStringLiteral("%1; %2").arg(r.status, r.note);
             },
         .ink = [](const Row &r) { return r.note.isEmpty() ? std::nullopt : std::optional(Role::Watch); },
         .tip = [](const Row &r) { return r.note; }},
        {.head = QObject::tr("Main nurse"),
         .text = [](const Row &r) { return r.primaryNurse; },
         .ink = [](const Row &r) { return r.isNurseGone ? std::optional(Role::Watch) : std::nullopt; },
         .tip = [](const Row &r) { return r.primaryNurse; }},
        {.head = QObject::tr("Catheters"), .text = [](const Row &r) { return r.catheters; }},
    };
}

} // namespace

PatientsPage::PatientsPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("patientsPage"), tr("Patients"), parent), model_(columns()) {
    search_ = new QLineEdit(this);
    search_->setObjectName(QStringLiteral("patientSearch"));
    search_->setAccessibleName(tr("Find by name, reference, nurse or site"));
    search_->setPlaceholderText(tr("Find by name, reference, nurse…"));
    search_->setClearButtonEnabled(true);
    search_->setMaximumWidth(280);
    status_ = new QComboBox(this);
    status_->setObjectName(QStringLiteral("patientStatus"));
    status_->setAccessibleName(tr("Show"));
    status_->addItem(tr("On service"), int(Wanted::OnService));
    status_->addItem(tr("On hold, now or soon"), int(Wanted::OnHold));
    status_->addItem(tr("Referred, not started"), int(Wanted::Referred));
    status_->addItem(tr("Former patients"), int(Wanted::Former));
    status_->addItem(tr("Everybody"), int(Wanted::Everybody));
    head()->addWidget(search_);
    head()->addWidget(status_);
    head()->addStretch(1);
    new_ = setMainAction(QStringLiteral("patientNew"), tr("New patient"));

    auto *body = new QSplitter(Qt::Horizontal, this);
    body->setChildrenCollapsible(false);
    body->setHandleWidth(Look::kBetween);
    body->addWidget(makeList(body));
    body->addWidget(makeRecord(body));
    body->setStretchFactor(0, 2);
    body->setStretchFactor(1, 3);
    body->setSizes({560, 520}); // the list shows all its columns before the record gets more
    setBody(body);
    makeActions();

    leadToRows(*search_, *table_);
    connect(search_, &QLineEdit::textChanged, this, &PatientsPage::narrow);
    connect(status_, &QComboBox::currentIndexChanged, this, &PatientsPage::filter);
    connect(new_, &QPushButton::clicked, this, &PatientsPage::newPatient);
    connect(this, &Page::emptyActionAsked, this, &PatientsPage::newPatient);
    connect(&session, &Session::agencyChanged, this, &PatientsPage::show);
    connect(&session, &Session::closed, this, [this] {
        all_.clear();
        setSubtitle({});
        model_.setRows({});
        current_.reset();
        search_->clear(); // of another file it would hide whoever it does not fit
        status_->setCurrentIndex(0);
        showRecord();
    });
}

QWidget *PatientsPage::makeList(QWidget *parent) {
    table_ = new DenseTable(QStringLiteral("patientTable"), tr("Patients"), parent);
    proxy_ = new RowsProxy(&model_, this);
    table_->setModel(proxy_);
    table_->cutFirst(kCatheters); // on a narrow screen what has to be acted on is read
    table_->cutFirst(kMainNurse);
    table_->keepReadable(kStatus, kReadableStatus);
    connect(table_, &DenseTable::currentRowChanged, this, [this](int row) {
        if (row < 0 || row >= model_.rowCount())
            return;
        current_ = model_.row(row).patient;
        if (!isFinding_)
            showRecord();
    });
    connect(table_, &DenseTable::opened, this, [this] { tabs_->setFocus(Qt::OtherFocusReason); });
    return table_;
}

QWidget *PatientsPage::makeRecord(QWidget *parent) {
    record_ = new QWidget(parent);
    auto *layout = new QVBoxLayout(record_);
    layout->setContentsMargins(0, 0, 0, 0);
    name_ = new QLabel(record_);
    name_->setObjectName(QStringLiteral("patientName"));
    name_->setFont(Look::titleFont());
    name_->setWordWrap(true);
    name_->setAlignment(Qt::AlignLeft | Qt::AlignTop);
    layout->addWidget(name_);
    tabs_ = new QTabWidget(record_);
    tabs_->setObjectName(QStringLiteral("patientTabs"));
    tabs_->setDocumentMode(true);
    log_ = new LogTab(session(), tabs_);
    const auto add = [this](RecordTab *tab, const QString &title) {
        tabs_->addTab(tab, title);
        connect(tab, &RecordTab::stepDone, this, &PatientsPage::takeFocus);
        records_.push_back(tab);
    };
    add(new SummaryTab(session(), tabs_), tr("Summary"));
    add(new OrdersTab(session(), tabs_), tr("Catheters and orders"));
    add(log_, tr("Drain log"));
    add(new HomeStockTab(session(), tabs_), tr("Stock"));
    add(new VisitOrdersTab(session(), tabs_), tr("Visit orders"));
    add(new VisitsTab(session(), tabs_), tr("Visits"));
    layout->addWidget(tabs_, 1);
    connect(tabs_, &QTabWidget::currentChanged, this, &PatientsPage::showRecord);
    record_->setMinimumWidth(520);
    return record_;
}

void PatientsPage::makeActions() {
    const auto add = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    add(tr("&New patient…"), Qt::Key_Insert, [this] { newPatient(); });
    add(tr("&Edit the patient…"), Qt::Key_F2, [this] {
        if (!current_ || session().isReadOnly())
            return;
        if (const Patient *patient = session().agency()->index().patient(*current_))
            editPatient(this, session(), *patient);
    });
    add(tr("&Log a drain…"), Qt::CTRL | Qt::Key_L, [this] {
        if (!current_ || session().isReadOnly())
            return;
        tabs_->setCurrentWidget(log_);
        log_->log();
    });
    add(tr("&Find a patient"), QKeySequence::Find, [this] {
        search_->setFocus(Qt::ShortcutFocusReason);
        search_->selectAll();
    });
    add(tr("Show the home's &stock"), Qt::CTRL | Qt::Key_H, [this] {
        if (current_)
            Q_EMIT showHome(current_->value());
    });
    add(tr("&Who can take this referral?"), Qt::CTRL | Qt::Key_R, [this] {
        const Patient *patient =
            current_ && session().agency() ? session().agency()->index().patient(*current_) : nullptr;
        if (patient && isOnService(patient->status))
            ReferralDialog(session(), patient->id, this).exec();
    });
}

void PatientsPage::takeFocus() {
    table_->setFocus(Qt::OtherFocusReason);
}

void PatientsPage::show() {
    all_ = desk::patientRows(*session().agency());
    new_->setEnabled(!session().isReadOnly());
    if (all_.empty()) {
        model_.setRows({});
        current_.reset();
        setSubtitle({});
        showEmpty(tr("No patients yet. A record begins with a referral; then come its catheter, the drain "
                     "order and "
                     "the visit order."),
                  session().isReadOnly() ? QString() : tr("New patient"));
        return;
    }
    showEmpty({});
    filter();
}

bool PatientsPage::isWanted(const desk::PatientRow &row) const {
    const Patient *patient = session().agency()->index().patient(row.patient);
    switch (static_cast<Wanted>(status_->currentData().toInt())) {
    case Wanted::OnService:
        return isOnService(patient->status);
    case Wanted::OnHold:
        return isOnService(patient->status) && (row.isOnHold || row.isHoldToCome);
    case Wanted::Referred:
        return patient->status == CareStatus::Referred;
    case Wanted::Former:
        return isExit(patient->status);
    case Wanted::Everybody:
        return true;
    }
    return true;
}

// The rows go in many steps, and the choice with them from one to the next: only the record it ends at is
// shown.
void PatientsPage::narrow(const QString &text) {
    const std::optional<PatientId> before = current_;
    isFinding_ = true;
    proxy_->setFilterFixedString(text);
    chooseListed();
    isFinding_ = false;
    showCount();
    if (current_ != before)
        showRecord();
}

// Who is not listed is in nobody's hand: what is entered next would be about them.
void PatientsPage::chooseListed() {
    if (proxy_->rowCount() == 0)
        current_.reset();
    else if (!table_->currentIndex().isValid())
        table_->setCurrentIndex(proxy_->index(0, 0));
}

void PatientsPage::showCount() {
    if (!all_.empty())
        setSubtitle(tr("%1 shown of %2")
                        .arg(desk::numberText(proxy_->rowCount()),
                             desk::numberText(static_cast<std::int64_t>(all_.size()))));
}

void PatientsPage::filter() {
    if (!session().agency())
        return;
    std::vector<desk::PatientRow> shown;
    for (const desk::PatientRow &row : all_)
        if (isWanted(row))
            shown.push_back(row);
    const bool isFirst = model_.rowCount() == 0;
    int at = 0;
    for (std::size_t i = 0; i < shown.size(); ++i)
        if (current_ && shown[i].patient == *current_)
            at = static_cast<int>(i);
    model_.setRows(std::move(shown));
    showCount();
    if (isFirst)
        table_->fitColumns(kStatus);
    table_->selectSourceRow(at);
    chooseListed(); // the search may leave that one out
    showRecord();
}

void PatientsPage::showRecord() {
    const Patient *patient =
        current_ && session().agency() ? session().agency()->index().patient(*current_) : nullptr;
    record_->setEnabled(patient != nullptr);
    tabs_->setHidden(patient == nullptr); // nobody's record is read under a name that is not theirs
    if (!patient) {
        name_->setText(tr("Choose a patient in the list"));
        return;
    }
    const QString name = desk::personName(*patient, session().agency()->index());
    const Hold *hold = desk::holdToTell(*session().agency(), patient->id);
    name_->setText(hold && isOnService(patient->status)
                       ? tr("%1, %2").arg(name, desk::holdText(*hold, session().today()))
                       : name);
    // The others are filled when they are looked at.
    records_[static_cast<std::size_t>(tabs_->currentIndex())]->showPatient(patient->id);
}

void PatientsPage::selectPatient(PatientId patient) {
    search_->clear(); // which may choose another on its way
    current_ = patient;
    if (!session().agency())
        return;
    const Patient *found = session().agency()->index().patient(patient);
    if (found && isExit(found->status))
        status_->setCurrentIndex(status_->findData(int(Wanted::Everybody)));
    else
        status_->setCurrentIndex(status_->findData(int(Wanted::OnService)));
    filter();
}

void PatientsPage::newPatient() {
    if (session().isReadOnly() || !session().agency())
        return;
    Patient patient;
    if (const auto stored = editPatient(this, session(), patient)) {
        search_->clear();
        current_ = *stored; // chosen as soon as the list is read again
        status_->setCurrentIndex(status_->findData(int(Wanted::OnService)));
        current_ = *stored;
    }
}

} // namespace kitround::ui
