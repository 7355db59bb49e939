#include "ui/today/TodayPage.h"

#include "core/desk/paper/Papers.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"
#include "ui/today/HandOverDialog.h"
#include "ui/today/HolidayDialog.h"
#include "ui/today/NursesToldDialog.h"
#include "ui/today/PatientCallsDialog.h"
#include "ui/today/PhoneCallForm.h"

#include <QAction>
#include <QCheckBox>
#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollBar>
#include <QSettings>
#include <QSignalBlocker>
#include <QSortFilterProxyModel>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

using desk::AttentionItem;
using desk::Harm;

Role inkOf(Harm harm) {
    switch (harm) {
    case Harm::Emergency:
        return Role::Act;
    case Harm::Today:
        return Role::Watch;
    case Harm::Soon:
        return Role::Ink;
    case Harm::Tidy:
        return Role::FaintInk;
    }
    return Role::Ink;
}

// What a line is about, whatever its number counts down to.
std::string matterOf(const AttentionItem &item, const desk::Agency &agency) {
    return item.folded.empty() ? desk::handOverSubject(item, agency) : "many:" + desk::foldKey(item);
}

std::vector<RowsColumn<AttentionItem>> columns(const Session &session) {
    return {
        {.head = QObject::tr("When"),
         .text =
             [](const AttentionItem &i) {
                 return i.harm == Harm::Tidy ? QObject::tr("later") : desk::words(i.harm); // a narrow column
             },
         .sortBy = [](const AttentionItem &i) { return QVariant(static_cast<int>(i.harm)); },
         .ink = [](const AttentionItem &i) { return std::optional(inkOf(i.harm)); },
         .tip = [](const AttentionItem &i) { return desk::words(i.harm); },
         .icon =
             [](const AttentionItem &i) {
                 return i.harm <= Harm::Today ? Look::icon(QStringLiteral("bell"), inkOf(i.harm)) : QIcon();
             }},
        {.head = QObject::tr("What"),
         .text = [](const AttentionItem &i) { return i.title; },
         .tip = [](const AttentionItem &i) { return i.detail; }},
        {.head = QObject::tr("Kind"), .text = [](const AttentionItem &i) { return desk::words(i.kind); }},
        {.head = QObject::tr("By"),
         .text =
             [&session](const AttentionItem &i) { // short: what it is about needs the room
                 const bool isPast = i.dueOn && *i.dueOn < session.today();
                 return isPast ? QObject::tr("since %1").arg(desk::dayText(*i.dueOn, session.today()))
                               : desk::dueWords(i, session.today());
             },
         .sortBy =
             [](const AttentionItem &i) {
                 return QVariant(i.dueOn ? static_cast<qlonglong>(i.dueOn->dayNumber()) : 1000000);
             },
         .tip = [&session](const AttentionItem &i) { return desk::dueWords(i, session.today()); }},
    };
}

} // namespace

TodayPage::TodayPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("todayPage"), tr("Today"), parent), model_(columns(session)) {
    makeHead();
    table_ = new DenseTable(QStringLiteral("attentionTable"), tr("What needs doing today"), this);
    table_->setModel(new RowsProxy(&model_, this));
    auto *body = new QWidget(this);
    auto *bodyLayout = new QVBoxLayout(body);
    bodyLayout->setContentsMargins(0, 0, 0, 0);
    bodyLayout->setSpacing(Look::kInside);
    news_ = new QPushButton(body);
    news_->setObjectName(QStringLiteral("attentionNews"));
    news_->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed); // its words never widen the page
    news_->hide();
    bodyLayout->addWidget(news_);
    bodyLayout->addWidget(table_, 1);
    setBody(body);
    connect(news_, &QPushButton::clicked, this, &TodayPage::chooseFirst);
    connect(table_->verticalScrollBar(), &QScrollBar::valueChanged, this, &TodayPage::hideSeenNews);
    makeSide();
    connect(table_, &DenseTable::currentRowChanged, this, &TodayPage::showDetail);
    connect(table_, &DenseTable::opened, this, &TodayPage::open);
    makeActions();

    connect(&session, &Session::agencyChanged, this, &TodayPage::show);
    connect(&session, &Session::computed, this, &TodayPage::show);
    connect(&session, &Session::userChanged, this, [this] {
        forgetNews(); // another person's list is not news
        if (this->session().agency())
            show();
    });
    connect(&session, &Session::closed, this, [this] {
        all_.clear();
        each_.clear();
        forgetNews();
        model_.setRows({});
    });
}

void TodayPage::makeHead() {
    const auto button = [this](const QString &objectName, const QString &text, auto slot) {
        auto *made = new QPushButton(text, this);
        made->setObjectName(objectName);
        head()->addWidget(made);
        connect(made, &QPushButton::clicked, this, slot);
    };
    button(QStringLiteral("callLog"), tr("&Log a phone call…"), &TodayPage::logCall);
    button(QStringLiteral("handOverOpen"), tr("Hand-&over…"), &TodayPage::openHandOver);
    button(QStringLiteral("holidayOpen"), tr("Holida&y plan…"), &TodayPage::openHolidays);
    head()->addStretch(1);
    mine_ = new QCheckBox(tr("&Mine"), this);
    mine_->setObjectName(QStringLiteral("attentionMine"));
    mine_->setToolTip(
        tr("What you have by name (a call, a watch, a line you accepted) and what is the work of "
           "your role. An emergency is everybody's."));
    head()->addWidget(mine_);
    connect(mine_, &QCheckBox::toggled, this, [this](bool on) {
        QSettings().setValue(mineKey(), on);
        filter();
    });
    harm_ = new QComboBox(this);
    harm_->setObjectName(QStringLiteral("harmFilter"));
    harm_->setAccessibleName(tr("Show"));
    harm_->addItem(tr("Everything"), static_cast<int>(Harm::Tidy));
    harm_->addItem(tr("Today and emergencies"), static_cast<int>(Harm::Today));
    harm_->addItem(tr("Up to soon"), static_cast<int>(Harm::Soon));
    head()->addWidget(harm_);
    connect(harm_, &QComboBox::currentIndexChanged, this, &TodayPage::filter);
}

void TodayPage::makeActions() {
    addMainStep(tr("&Record the call and close…"), this, &TodayPage::settleCall)
        ->setObjectName(QStringLiteral("actionSettleCall"));
    addPageAction(tr("&Print this list…"), QKeySequence::Print, this, [this] {
        if (session().agency())
            offerPaper(this, session(), desk::attentionPaper(model_.rows(), *session().agency()));
    });
    addPageAction(tr("Log a phone &call…"), QKeySequence(Qt::CTRL | Qt::Key_L), this, &TodayPage::logCall);
    addPageAction(tr("&Hand-over…"), QKeySequence(Qt::CTRL | Qt::Key_H), this, &TodayPage::openHandOver);
    addPageAction(tr("Patients &to phone…"), QKeySequence(Qt::CTRL | Qt::Key_T), this,
                  &TodayPage::openPatientCalls)
        ->setObjectName(QStringLiteral("actionPatientCalls"));
    addPageAction(tr("&Nurses told…"), {}, this, &TodayPage::openNursesTold)
        ->setObjectName(QStringLiteral("actionNursesTold"));
    addPageAction(tr("Holida&y plan…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_H), this,
                  &TodayPage::openHolidays);
    addPageAction(tr("&Mine or everybody's"), QKeySequence(Qt::CTRL | Qt::Key_M), mine_, &QCheckBox::toggle);
    // Ctrl+Shift+P is the window's own: what is needed while the computer is down.
    addPageAction(tr("Print the hand-over &list…"), QKeySequence(Qt::CTRL | Qt::SHIFT | Qt::Key_L), this,
                  [this] {
                      if (session().agency())
                          offerPaper(this, session(), desk::handOverPaper(all_, *session().agency()));
                  })
        ->setObjectName(QStringLiteral("actionHandOver"));
}

QString TodayPage::mineKey() const {
    return QStringLiteral("today/mine/") +
           QString::fromLatin1(session().userName().toUtf8().toPercentEncoding());
}

void TodayPage::makeSide() {
    auto *side = new QWidget(this);
    auto *layout = new QVBoxLayout(side);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(Look::kInside);
    const auto label = [&](const QString &objectName) {
        auto *l = new QLabel(side);
        l->setObjectName(objectName);
        l->setWordWrap(true);
        l->setTextInteractionFlags(Qt::TextSelectableByMouse);
        layout->addWidget(l);
        return l;
    };
    title_ = label(QStringLiteral("attentionTitle"));
    title_->setFont(Look::strongFont());
    detail_ = label(QStringLiteral("attentionDetail"));
    due_ = label(QStringLiteral("attentionDue"));
    const auto button = [&](const QString &objectName, const QString &text) {
        auto *b = new QPushButton(text, side);
        b->setObjectName(objectName);
        layout->addWidget(b);
        return b;
    };
    callButton_ = button(QStringLiteral("attentionClose"), tr("Record the call and close…"));
    formButton_ = button(QStringLiteral("attentionForm"), {});
    eachButton_ = button(QStringLiteral("attentionEach"), {});
    openButton_ = button(QStringLiteral("attentionOpen"), tr("Open the record"));
    homeButton_ = button(QStringLiteral("attentionHome"), tr("Show the home's stock"));
    layout->addStretch(1);
    setSide(side, 320);
    connect(formButton_, &QPushButton::clicked, this, &TodayPage::fillIn);
    connect(eachButton_, &QPushButton::clicked, this, &TodayPage::showEach);
    connect(openButton_, &QPushButton::clicked, this, [this] { openRecord(); });
    connect(callButton_, &QPushButton::clicked, this, &TodayPage::settleCall);
    callButton_->setToolTip(QKeySequence(Qt::CTRL | Qt::Key_Return).toString(QKeySequence::NativeText));
    connect(homeButton_, &QPushButton::clicked, this, [this] {
        if (const auto *item = current(); item && item->patient)
            Q_EMIT showHome(item->patient->value());
    });
}

void TodayPage::takeFocus() {
    if (model_.rowCount() == 0 && !all_.empty()) { // they are only left out
        mine_->setFocus(Qt::OtherFocusReason);
        isKeyboardLent_ = true;
        return;
    }
    table_->setFocus(Qt::OtherFocusReason);
    if (table_->currentSourceRow() < 0 && model_.rowCount() > 0)
        table_->selectSourceRow(0);
}

void TodayPage::show() {
    const desk::AgencyPtr agency = session().agency();
    std::vector<AttentionItem> lines = desk::attention(
        *agency, session().stock().get(), session().nextWeek().get(), session().thisWeek().get());
    ofOthers_ = lines.size();
    all_ = desk::attentionFor(session().desk().user(), std::move(lines), *agency);
    ofOthers_ -= all_.size();
    const QSignalBlocker quiet(mine_); // what this user chose is not chosen anew
    mine_->setChecked(QSettings().value(mineKey(), false).toBool());
    const bool isOpening = known_.empty() && table_->currentSourceRow() <= 0; // nobody chose a line yet
    isRefreshing_ = true;
    filter();
    isRefreshing_ = false;
    if (!session().stock()) // a part of the lines comes later
        return;
    if (isOpening && model_.rowCount() > 0)
        table_->selectSourceRow(0);
    noteNews();
}

bool TodayPage::isOnScreen(int sourceRow) const {
    const auto *proxy = static_cast<const QSortFilterProxyModel *>(table_->model());
    const QRect at = table_->visualRect(proxy->mapFromSource(model_.index(sourceRow, 0)));
    return at.isValid() && table_->viewport()->rect().contains(at.center());
}

std::string TodayPage::firstMatter() const {
    if (model_.rowCount() == 0)
        return {};
    const AttentionItem &line = model_.row(0);
    return desk::handOverSubject(line.folded.empty() ? line : line.folded.front(), *session().agency());
}

// The line that was chosen stays in view; where both have room the list goes back to its beginning, else it
// is said what stands there.
void TodayPage::noteNews() {
    const desk::AgencyPtr agency = session().agency();
    const std::string first = firstMatter();
    const bool isNew = !first.empty() && (first == unseen_ || (!known_.empty() && !known_.contains(first)));
    known_.clear();
    for (const AttentionItem &line : all_)
        known_.insert(desk::handOverSubject(line, *agency));
    if (!isNew || isOnScreen(0)) {
        hideSeenNews();
        return;
    }
    const int chosen = table_->currentSourceRow();
    table_->scrollToTop();
    if (chosen >= 0 && !isOnScreen(chosen))
        table_->selectSourceRow(chosen);
    constexpr int kTold = 80; // letters of a title; the tip has all of it
    const QString title = model_.row(0).title;
    QString told = tr("New: %1").arg(title.size() > kTold ? title.left(kTold) + u'…' : title);
    news_->setText(told.replace(u'&', QStringLiteral("&&"))); // it is no key
    news_->setToolTip(title);
    unseen_ = first;
    news_->show();
    hideSeenNews();
}

void TodayPage::hideSeenNews() {
    if (isRefreshing_ || (model_.rowCount() > 0 && !isOnScreen(0)))
        return;
    news_->hide();
    unseen_.clear();
}

void TodayPage::forgetNews() {
    known_.clear();
    unseen_.clear();
    news_->hide();
}

void TodayPage::chooseFirst() {
    table_->selectSourceRow(0); // scrolls to it
    hideSeenNews();
    table_->setFocus(Qt::OtherFocusReason);
}

void TodayPage::showCounts(const std::vector<AttentionItem> &own) {
    const bool isMine = mine_->isChecked();
    setSubtitle(tr("%1. %2").arg(desk::dayText(session().today()),
                                 desk::countsText(isMine ? own : all_, isMine, ofOthers_)) +
                (session().userRole() == UserRole::SupplyClerk ? tr(" Supplies come first.") : QString()) +
                (session().stock() ? QString() : tr(" The stock forecast is being worked out.")));
}

// A page's keys work only while the keyboard is on the page: it stays there where the list goes.
void TodayPage::lendKeyboard() {
    const QWidget *at = window()->focusWidget();
    if (!at || (at != table_ && !formButton_->parentWidget()->isAncestorOf(at)))
        return;
    mine_->setFocus(Qt::OtherFocusReason);
    isKeyboardLent_ = true;
}

void TodayPage::takeKeyboardBack() {
    if (isKeyboardLent_ && window()->focusWidget() == mine_)
        table_->setFocus(Qt::OtherFocusReason);
    isKeyboardLent_ = false;
}

void TodayPage::filter() {
    const desk::AgencyPtr agency = session().agency();
    if (!agency)
        return;
    const int most = harm_->currentData().toInt();
    const std::vector<AttentionItem> own = desk::mineOf(session().desk().user(), all_, *agency);
    mine_->setText(tr("&Mine (%1)").arg(own.size()));
    showCounts(own);
    std::vector<AttentionItem> shown;
    for (const AttentionItem &item : mine_->isChecked() ? own : all_)
        if (static_cast<int>(item.harm) <= most)
            shown.push_back(item);
    const int row = table_->currentSourceRow();
    const std::string chosen = row >= 0 ? matterOf(model_.row(row), *agency) : std::string();
    const std::string chosenKind = row >= 0 ? desk::foldKey(model_.row(row)) : std::string();
    model_.setRows(desk::foldedLines(std::move(shown), *agency, each_));
    table_->fitColumns(1);
    const std::vector<AttentionItem> &rows = model_.rows();
    // The same matter stays chosen; where it is told with others now, the line that tells of them. One that
    // comes back when the stock is worked out anew is waited for, unless another line was chosen meanwhile.
    const auto lineOf = [&](const std::string &matter, const std::string &kind) {
        return std::ranges::find_if(rows, [&](const AttentionItem &item) {
            return row >= 0 && (matterOf(item, *agency) == matter ||
                                (!item.folded.empty() && desk::foldKey(item) == kind));
        });
    };
    const bool isAwaited = !awaited_.matter.empty() && awaited_.standIn == chosen;
    auto same = isAwaited ? lineOf(awaited_.matter, awaited_.kind) : rows.end();
    if (same == rows.end())
        same = lineOf(chosen, chosenKind);
    if (!isAwaited)
        awaited_ = same == rows.end() ? Awaited{chosen, chosenKind, {}} : Awaited{};
    if (!rows.empty())
        table_->selectSourceRow(same != rows.end() ? static_cast<int>(same - rows.begin())
                                                   : std::clamp(row, 0, model_.rowCount() - 1));
    else
        lendKeyboard();
    const AttentionItem *standIn = current();
    awaited_.standIn = standIn ? matterOf(*standIn, *agency) : std::string();
    if (session().stock())
        awaited_ = {};
    if (!isRefreshing_ && firstMatter() != unseen_) { // they are of a line that is left out now
        unseen_.clear();
        news_->hide();
    }
    showDetail(table_->currentSourceRow());
    const bool isNew = session().agency()->snapshot().patients.empty();
    showEmpty(rows.empty() ? emptyText(!own.empty()) : QString(), isNew ? tr("Enter patients") : QString(),
              QStringLiteral("patients"));
    if (!rows.empty())
        takeKeyboardBack();
}

QString TodayPage::emptyText(bool hasOwn) const {
    if (session().agency()->snapshot().patients.empty())
        return tr("No patients yet. Begin under Patients: a referral, its catheter and the orders. What "
                  "needs doing then appears here by itself.");
    if (all_.empty())
        return tr("Nothing needs doing today.");
    if (!mine_->isChecked())
        return tr("Nothing is as urgent as that. Choose Everything to see what can wait.");
    return hasOwn ? tr("Nothing of yours is as urgent as that. Choose Everything to see what can wait.")
                  : tr("Nothing of this is yours. Untick Mine to see what others have to do.");
}

const AttentionItem *TodayPage::current() const {
    const int row = table_->currentSourceRow();
    return row >= 0 && row < model_.rowCount() ? &model_.row(row) : nullptr;
}

void TodayPage::showDetail(int row) {
    showSide(row >= 0);
    const AttentionItem *item = current();
    if (!item)
        return;
    title_->setText(item->title);
    detail_->setText(item->detail);
    const QString due = desk::dueWords(*item, session().today());
    const bool isAhead = item->dueOn && *item->dueOn >= session().today();
    due_->setText(isAhead ? tr("By %1").arg(due) : due.left(1).toUpper() + due.mid(1));
    callButton_->setVisible(maySettleCall(*item));
    callButton_->setText(callText(*item));
    if (const QString owner = desk::ownerText(*item, *session().agency()); !owner.isEmpty())
        due_->setText(due_->text() + (due.isEmpty() ? QString() : QStringLiteral(". ")) + owner);
    const QString form = desk::formText(*item, *session().agency());
    formButton_->setText(form);
    formButton_->setVisible(!form.isEmpty() && !session().isReadOnly());
    const bool isOfMany = item->folded.empty() && each_.contains(desk::foldKey(*item));
    eachButton_->setText(isOfMany
                             ? tr("Show them as one line")
                             : tr("Show each of the %1").arg(desk::numberText(std::ssize(item->folded))));
    eachButton_->setVisible(isOfMany || !item->folded.empty());
    const QString open = openText(*item);
    openButton_->setText(open);
    openButton_->setVisible(!open.isEmpty());
    homeButton_->setVisible(item->patient.has_value());
}

QString TodayPage::callText(const AttentionItem &item) {
    if (item.toTell)
        return tr("Record that the nurse was told…");
    if (item.toLog)
        return tr("Record who was reached…");
    if (item.order && item.kind == desk::AttentionKind::UnsignedOrder)
        return tr("Record the signature…");
    return item.order ? tr("Record the prescriber's answer…") : tr("Record the call and close…");
}

bool TodayPage::isCall(const AttentionItem &item) {
    return item.callItem || item.toStore || item.phoneCall || item.toTell || item.toLog || item.order;
}

bool TodayPage::maySettleCall(const AttentionItem &item) const {
    return isCall(item) && item.folded.empty() && !session().isReadOnly();
}

void TodayPage::logCall() {
    if (session().agency() && !session().isReadOnly())
        logPhoneCall(this, session());
}

void TodayPage::openHandOver() {
    if (session().agency())
        HandOverDialog(session(), this).exec();
}

void TodayPage::openPatientCalls() {
    if (session().agency())
        PatientCallsDialog(session(), this).exec();
}

void TodayPage::openNursesTold() {
    if (session().agency())
        NursesToldDialog(session(), this).exec();
}

void TodayPage::openHolidays() {
    if (!session().agency())
        return;
    HolidayDialog dialog(session(), this);
    connect(&dialog, &HolidayDialog::showPatient, this, &TodayPage::showPatient);
    dialog.exec();
}

} // namespace kitround::ui
