#include "ui/setup/SettingsPage.h"

#include "core/desk/OwnFigures.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/Figures.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/setup/AgencyForm.h"
#include "ui/setup/ChangesTab.h"
#include "ui/setup/FigureForm.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

constexpr int kFigureName = 256; // what a figure is has to be read, however narrow the window
constexpr int kOwnFigure = 216;  // "12.34 from 123 observations"
constexpr int kSource = 168;     // the beginning tells what is assumed

QString view(std::string_view s) {
    return QString::fromUtf8(s.data(), static_cast<qsizetype>(s.size()));
}

QString groupText(std::string_view group) {
    if (group == "visits")
        return QObject::tr("Visits and load");
    if (group == "travel")
        return QObject::tr("Travel");
    if (group == "plan")
        return QObject::tr("Planning the week");
    if (group == "drains")
        return QObject::tr("Drains");
    if (group == "supplies")
        return QObject::tr("Supplies");
    if (group == "safety")
        return QObject::tr("What to call about");
    if (group == "team")
        return QObject::tr("Hand-over and watch list");
    if (group == "on_call")
        return QObject::tr("On call");
    return view(group);
}

QString ownText(const FigureRow &row) {
    if (!row.own)
        return {};
    const QString figure = QStringLiteral("%1 %2").arg(
        desk::figureText(row.info.key, row.own->value),
        desk::counted(row.own->n, QObject::tr("from 1 observation"), QObject::tr("from %1 observations")));
    if (row.ownIsUsed)
        return QObject::tr("%1; used").arg(figure);
    return row.own->isUsed ? QObject::tr("%1; not used, set by hand").arg(figure)
                           : QObject::tr("%1; too few yet").arg(figure);
}

std::vector<RowsColumn<FigureRow>> figureColumns(const Session &session) {
    using Row = FigureRow;
    const Session *s = &session;
    return {
        {.head = QObject::tr("Group"),
         .text = [](const Row &r) { return groupText(r.info.group); },
         .sortBy = [](const Row &r) { return QVariant(static_cast<int>(r.info.key)); }},
        {.head = QObject::tr("Figure"), .text = [](const Row &r) { return desk::label(r.info.key); }},
        {.head = QObject::tr("Value"),
         .text =
             [](const Row &r) {
                 const QString value = desk::figureText(r.info.key, r.inForce());
                 if (r.ownIsUsed)
                     return QObject::tr("%1, own").arg(value);
                 return r.value == r.info.preset ? value : QObject::tr("%1, by hand").arg(value);
             },
         .sortBy = [](const Row &r) { return QVariant(qlonglong(r.inForce())); },
         .isNumber = true,
         .ink =
             [](const Row &r) {
                 return r.value == r.info.preset ? std::nullopt : std::optional(Role::Accent);
             },
         .tip =
             [](const Row &r) {
                 if (r.ownIsUsed)
                     return QObject::tr("Your own figure; it replaces the preset");
                 return r.value == r.info.preset ? QObject::tr("As preset") : QObject::tr("Set by hand");
             }},
        {.head = QObject::tr("Unit"),
         .text =
             [s](const Row &r) {
                 return desk::figureUnit(r.info.key,
                                         s->agency() ? s->agency()->settings().currency : std::string());
             }},
        {.head = QObject::tr("Preset"),
         .text = [](const Row &r) { return desk::figureText(r.info.key, r.info.preset); },
         .sortBy = [](const Row &r) { return QVariant(qlonglong(r.info.preset)); },
         .isNumber = true},
        {.head = QObject::tr("Own figure"), .text = ownText, .tip = ownText},
        {.head = QObject::tr("Source of the preset"),
         .text = [](const Row &r) { return view(r.info.source); },
         .tip = [](const Row &r) { return view(r.info.source); }},
    };
}

std::vector<RowsColumn<User>> userColumns(Session &session) {
    Session *s = &session;
    return {
        {.head = QObject::tr("User"), .text = [](const User &u) { return QString::fromStdString(u.name); }},
        {.head = QObject::tr("Role"), .text = [](const User &u) { return desk::words(u.role); }},
        {.head = QObject::tr("Works here"),
         .text = [](const User &u) { return u.isActive ? QObject::tr("yes") : QObject::tr("no longer"); }},
        {.head = QObject::tr("Now"),
         .text =
             [s](const User &u) {
                 return s->isOpen() && s->desk().user() == u.id ? QObject::tr("at this desk") : QString();
             }},
    };
}

} // namespace

SettingsPage::SettingsPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("settingsPage"), tr("Settings"), parent), figures_(figureColumns(session)),
      users_(userColumns(session)) {
    head()->addStretch(1);
    tabs_ = new QTabWidget(this);
    tabs_->setObjectName(QStringLiteral("settingsTabs"));
    tabs_->setDocumentMode(true);
    tabs_->addTab(makeFigures(tabs_), tr("Figures"));
    tabs_->addTab(makeAgency(tabs_), tr("Agency and users"));
    changes_ = new ChangesTab(session, tabs_);
    tabs_->addTab(changes_, tr("Record of changes"));
    setBody(tabs_);
    connect(tabs_, &QTabWidget::currentChanged, this, &SettingsPage::showAudit);
    const auto add = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    add(tr("&Edit the figure…"), Qt::Key_F2, [this] { edit(figureTable_->currentSourceRow()); });
    add(tr("&Find a figure or a change"), QKeySequence::Find, [this] {
        if (tabs_->currentWidget() == changes_) {
            changes_->takeFocus();
            return;
        }
        tabs_->setCurrentIndex(0);
        search_->setFocus(Qt::ShortcutFocusReason);
    });
    connect(&session, &Session::agencyChanged, this, [this] {
        isStale_ = true;
        if (isVisible())
            show();
    });
    connect(&session, &Session::closed, this, [this] {
        figures_.setRows({});
        users_.setRows({});
        changes_->clear();
        facts_->clear();
        isStale_ = true;
    });
}

QWidget *SettingsPage::makeFigures(QWidget *parent) {
    auto *page = new QWidget(parent);
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    search_ = new QLineEdit(page);
    search_->setObjectName(QStringLiteral("figureSearch"));
    search_->setAccessibleName(tr("Find a figure"));
    search_->setPlaceholderText(tr("Find a figure…"));
    search_->setClearButtonEnabled(true);
    search_->setMaximumWidth(280);
    edit_ = new QPushButton(tr("Edit…"), page);
    edit_->setObjectName(QStringLiteral("figureEdit"));
    reset_ = new QPushButton(tr("Back to the preset"), page);
    reset_->setObjectName(QStringLiteral("figureReset"));
    row->addWidget(search_);
    row->addWidget(edit_);
    row->addWidget(reset_);
    row->addStretch(1);
    layout->addLayout(row);
    figureTable_ = new DenseTable(QStringLiteral("figureTable"), tr("Figures"), page);
    auto *proxy = new RowsProxy(&figures_, this);
    figureTable_->setModel(proxy);
    layout->addWidget(figureTable_, 1);
    figureTable_->keepReadable(1, kFigureName);
    figureTable_->cutFirst(3); // a unit is mostly "min" or "days"
    figureTable_->keepReadable(5, kOwnFigure);
    figureTable_->keepReadable(6, kSource);
    leadToRows(*search_, *figureTable_);
    connect(search_, &QLineEdit::textChanged, proxy, &QSortFilterProxyModel::setFilterFixedString);
    connect(figureTable_, &DenseTable::opened, this, &SettingsPage::edit);
    connect(edit_, &QPushButton::clicked, this, [this] { edit(figureTable_->currentSourceRow()); });
    connect(reset_, &QPushButton::clicked, this, &SettingsPage::reset);
    return page;
}

QWidget *SettingsPage::makeAgency(QWidget *parent) {
    auto *page = new QWidget(parent);
    auto *layout = new QVBoxLayout(page);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    editAgency_ = new QPushButton(tr("Edit the agency…"), page);
    editAgency_->setObjectName(QStringLiteral("agencyEdit"));
    addUser_ = new QPushButton(tr("Add a user…"), page);
    addUser_->setObjectName(QStringLiteral("userAdd"));
    editUser_ = new QPushButton(tr("Edit the user…"), page);
    editUser_->setObjectName(QStringLiteral("userEdit"));
    workAs_ = new QPushButton(tr("Work as this user"), page);
    workAs_->setObjectName(QStringLiteral("userWorkAs"));
    row->addWidget(editAgency_);
    row->addStretch(1);
    layout->addLayout(row);
    facts_ = new QLabel(page);
    facts_->setObjectName(QStringLiteral("agencyFacts"));
    facts_->setWordWrap(true);
    facts_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    layout->addWidget(facts_);
    layout->addSpacing(Look::kInside);
    auto *userRow = new QHBoxLayout;
    userRow->addWidget(addUser_);
    userRow->addWidget(editUser_);
    userRow->addWidget(workAs_);
    userRow->addStretch(1);
    layout->addLayout(userRow);
    userTable_ = new DenseTable(QStringLiteral("userTable"), tr("Users"), page);
    userTable_->setModel(&users_);
    userTable_->setSortingEnabled(false);
    layout->addWidget(userTable_, 1);
    connect(editAgency_, &QPushButton::clicked, this, [this] { editAgency(this, session()); });
    connect(addUser_, &QPushButton::clicked, this, [this] { editUser(this, session(), User{}); });
    const auto edit = [this](int at) {
        if (at >= 0 && !session().isReadOnly())
            editUser(this, session(), users_.row(at));
    };
    connect(editUser_, &QPushButton::clicked, this, [this, edit] { edit(userTable_->currentSourceRow()); });
    connect(userTable_, &DenseTable::opened, this, edit);
    connect(workAs_, &QPushButton::clicked, this, &SettingsPage::workAsCurrent);
    return page;
}

void SettingsPage::takeFocus() {
    figureTable_->setFocus(Qt::OtherFocusReason);
}

void SettingsPage::showEvent(QShowEvent *event) {
    Page::showEvent(event);
    if (isStale_ && session().isOpen() && session().agency())
        show();
}

void SettingsPage::show() {
    isStale_ = false;
    const bool mayWrite = !session().isReadOnly();
    for (QPushButton *b : {edit_, reset_, editAgency_, addUser_, editUser_})
        b->setEnabled(mayWrite);
    showFigures();
    showAgency();
    showUsers();
    showAudit();
}

void SettingsPage::showUsers() {
    auto users = session().desk().users();
    if (!users) {
        Ask::problem(this, users.error());
        return;
    }
    const int current = userTable_->currentSourceRow();
    users_.setRows(*std::move(users));
    userTable_->fitColumns(0);
    userTable_->selectSourceRow(std::max(0, current));
}

void SettingsPage::workAsCurrent() {
    const int row = userTable_->currentSourceRow();
    if (row < 0)
        return;
    if (!users_.row(row).isActive) {
        Ask::tell(this, tr("Work as this user"), tr("This user no longer works here."));
        return;
    }
    session().workAs(users_.row(row).id);
    showUsers();
}

void SettingsPage::showFigures() {
    const desk::AgencyPtr agency = session().agency();
    const AgencySettings &settings = agency->settings();
    const std::vector<LearnedFigure> own = desk::ownFigures(*agency);
    std::vector<FigureRow> rows;
    int byHand = 0;
    for (const SettingInfo &info : settingTable()) {
        FigureRow row{info, settings[info.key], std::nullopt, false};
        byHand += row.value == info.preset ? 0 : 1;
        if (const auto found = std::ranges::find(own, info.key, &LearnedFigure::key); found != own.end()) {
            row.own = *found;
            row.ownIsUsed = found->isUsed && row.value == info.preset;
        }
        rows.push_back(std::move(row));
    }
    setSubtitle(tr("%1 figures, %2 set by hand. A figure of your own replaces an untouched preset after %3 "
                   "observations.")
                    .arg(rows.size())
                    .arg(byHand)
                    .arg(settings[SettingKey::OwnFigureLeastN]));
    const bool isFirst = figures_.rowCount() == 0;
    const int current = figureTable_->currentSourceRow();
    figures_.setRows(std::move(rows));
    if (isFirst)
        figureTable_->fitColumns(6); // the longest texts
    figureTable_->selectSourceRow(std::max(0, current));
}

void SettingsPage::showAgency() {
    const AgencySettings &s = session().agency()->settings();
    QStringList days, lines;
    for (const Weekday d : kAllWeekdays)
        if (s.visitingDays.contains(d))
            days << desk::words(d);
    lines << tr("Name: %1").arg(s.agencyName.empty() ? notKnown() : QString::fromStdString(s.agencyName));
    lines << tr("Phone: %1").arg(s.phone.empty() ? notKnown() : QString::fromStdString(s.phone));
    if (!s.orderContact.empty())
        lines << tr("Contact for orders: %1").arg(QString::fromStdString(s.orderContact));
    lines << tr("Time zone: %1").arg(QString::fromStdString(s.timeZone));
    lines << tr("Visit weeks start on: %1").arg(desk::words(s.weekStart));
    lines << tr("Visiting days: %1").arg(days.join(QLatin1Char(' ')));
    lines << (s.holidaysAreWorked ? tr("Visits are made on federal holidays")
                                  : tr("No visits on federal holidays"));
    lines << tr("Own holidays: %1")
                 .arg(s.ownHolidays.empty() ? tr("none") : QString::fromStdString(datesText(s.ownHolidays)));
    lines << tr("Local rules for used bottles: %1")
                 .arg(s.usedBottleRules.empty() ? tr("none named")
                                                : QString::fromStdString(s.usedBottleRules));
    const QString address = addressText(s.storeroom);
    lines << tr("Storeroom: %1; place on the map %2")
                 .arg(address.isEmpty() ? notKnown() : address, s.storeroom.point ? tr("known") : notKnown());
    if (s.isInvented)
        lines << desk::inventedMark();
    facts_->setText(lines.join(QLatin1Char('\n')));
}

void SettingsPage::showAudit() {
    if (tabs_->currentWidget() == changes_)
        changes_->show();
}

void SettingsPage::edit(int row) {
    if (row >= 0 && row < figures_.rowCount() && !session().isReadOnly())
        editFigure(this, session(), figures_.row(row).info.key);
}

void SettingsPage::reset() {
    const int row = figureTable_->currentSourceRow();
    if (row < 0)
        return;
    const SettingInfo info = figures_.row(row).info;
    AgencySettings settings = session().agency()->settings();
    settings.set(info.key, info.preset);
    session().writeOrTell(this, tr("Back to the preset: %1").arg(desk::label(info.key)),
                          [&](desk::Desk &d) { return d.save(settings); });
}

} // namespace kitround::ui
