#include "ui/people/NursesPage.h"

#include "core/desk/views/SkillMatrix.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/people/NurseForm.h"
#include "ui/people/ShiftForms.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QAction>
#include <QCheckBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSplitter>
#include <QTabWidget>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

enum Tab { kShifts, kExtras, kTimeOff };

std::vector<RowsColumn<Nurse>> nurseColumns(const Session &session) {
    const Session *s = &session;
    return {
        {.head = QObject::tr("Name"), .text = [](const Nurse &n) { return desk::personName(n); }},
        {.head = QObject::tr("Credential"), .text = [](const Nurse &n) { return desk::words(n.credential); }},
        {.head = QObject::tr("Skills"),
         .text = [s](const Nurse &n) { return desk::skillsText(n, s->today()); },
         .tip = [s](const Nurse &n) { return desk::skillsText(n, s->today()); }},
        {.head = QObject::tr("Please look at"),
         .text = [s](const Nurse &n) { return desk::skillNotice(n, s->today()); },
         .ink = [](const Nurse &) { return std::optional(Role::Watch); },
         .tip = [s](const Nurse &n) { return desk::skillNotice(n, s->today()); },
         .icon =
             [s](const Nurse &n) {
                 return desk::skillNotice(n, s->today()).isEmpty()
                            ? QIcon()
                            : Look::icon(QStringLiteral("bell"), Role::Watch);
             }},
        {.head = QObject::tr("Contract, h a week"),
         .text =
             [](const Nurse &n) {
                 return QString::number(static_cast<double>(n.contractPerWeek.count()) / 60, 'f', 1);
             },
         .sortBy = [](const Nurse &n) { return QVariant(qlonglong(n.contractPerWeek.count())); },
         .isNumber = true},
        {.head = QObject::tr("Works here"),
         .text = [](const Nurse &n) { return n.isActive ? QObject::tr("yes") : QObject::tr("no longer"); }},
    };
}

QString span(Minutes from, Minutes to) {
    return QObject::tr("%1 to %2").arg(desk::timeText(from), desk::timeText(to));
}

std::vector<RowsColumn<ShiftPattern>> shiftColumns(const Session &session) {
    using Row = ShiftPattern;
    return {
        {.head = QObject::tr("Every"),
         .text = [](const Row &s) { return desk::words(s.weekday); },
         .sortBy = [](const Row &s) { return QVariant(static_cast<int>(s.weekday)); }},
        {.head = QObject::tr("Hours"), .text = [](const Row &s) { return span(s.from, s.to); }},
        {.head = QObject::tr("Break"),
         .text =
             [](const Row &s) {
                 return s.breakLength.isZero() ? QObject::tr("none")
                                               : QObject::tr("%1 min, %2")
                                                     .arg(s.breakLength.count())
                                                     .arg(span(s.breakFrom, s.breakTo));
             }},
        {.head = QObject::tr("On call"),
         .text = [](const Row &s) { return s.isOnCall ? QObject::tr("on call") : QString(); }},
        {.head = QObject::tr("Valid from"),
         .text = [&session](const Row &s) { return desk::dayText(s.validFrom, session.today()); },
         .sortBy = [](const Row &s) { return QVariant(qlonglong(s.validFrom.dayNumber())); }},
        {.head = QObject::tr("Until, not including"),
         .text =
             [&session](const Row &s) {
                 return s.validTo ? desk::dayText(*s.validTo, session.today()) : QObject::tr("open");
             },
         .sortBy =
             [](const Row &s) {
                 return QVariant(qlonglong(s.validTo ? s.validTo->dayNumber() : 1'000'000));
             }},
    };
}

std::vector<RowsColumn<ExtraShift>> extraColumns() {
    using Row = ExtraShift;
    return {
        {.head = QObject::tr("On"),
         .text = [](const Row &s) { return desk::dayText(s.on); },
         .sortBy = [](const Row &s) { return QVariant(qlonglong(s.on.dayNumber())); }},
        {.head = QObject::tr("Hours"), .text = [](const Row &s) { return span(s.from, s.to); }},
        {.head = QObject::tr("Usual shift"),
         .text =
             [](const Row &s) { return s.replacesPattern ? QObject::tr("replaced") : QObject::tr("kept"); }},
        {.head = QObject::tr("On call"),
         .text = [](const Row &s) { return s.isOnCall ? QObject::tr("on call") : QString(); }},
    };
}

std::vector<RowsColumn<TimeOff>> offColumns() {
    using Row = TimeOff;
    return {
        {.head = QObject::tr("First day off"),
         .text = [](const Row &o) { return desk::dayText(o.from); },
         .sortBy = [](const Row &o) { return QVariant(qlonglong(o.from.dayNumber())); }},
        {.head = QObject::tr("First day back"),
         .text = [](const Row &o) { return desk::dayText(o.to); },
         .sortBy = [](const Row &o) { return QVariant(qlonglong(o.to.dayNumber())); }},
        {.head = QObject::tr("Kind"), .text = [](const Row &o) { return desk::words(o.kind); }},
        {.head = QObject::tr("Status"), .text = [](const Row &o) { return desk::words(o.status); }},
        {.head = QObject::tr("Note"),
         .text = [](const Row &o) { return QString::fromStdString(o.note).simplified(); }},
    };
}

template <class Record>
std::vector<Record> ofNurse(const std::vector<Record> &all, NurseId nurse) {
    std::vector<Record> own;
    for (const Record &record : all)
        if (record.nurse == nurse)
            own.push_back(record);
    return own;
}

} // namespace

NursesPage::NursesPage(Session &session, QWidget *parent)
    : Page(session, QStringLiteral("nursesPage"), tr("Nurses"), parent), model_(nurseColumns(session)),
      shifts_(shiftColumns(session)), extras_(extraColumns()), off_(offColumns()) {
    search_ = new QLineEdit(this);
    search_->setObjectName(QStringLiteral("nurseSearch"));
    search_->setAccessibleName(tr("Find a nurse or a skill"));
    search_->setPlaceholderText(tr("Find a nurse or a skill…"));
    search_->setClearButtonEnabled(true);
    search_->setMaximumWidth(280);
    former_ = new QCheckBox(tr("Former nurses too"), this);
    former_->setObjectName(QStringLiteral("nurseFormer"));
    head()->addWidget(search_);
    head()->addWidget(former_);
    head()->addStretch(1);
    new_ = setMainAction(QStringLiteral("nurseNew"), tr("New nurse"));
    auto *body = new QSplitter(Qt::Vertical, this);
    body->setChildrenCollapsible(false);
    body->setHandleWidth(Look::kBetween);
    nurses_ = new DenseTable(QStringLiteral("nurseTable"), tr("Nurses"), body);
    proxy_ = new RowsProxy(&model_, this);
    nurses_->setModel(proxy_);
    body->addWidget(nurses_);
    body->addWidget(makeRecord(body));
    setBody(body);
    makeActions();
    leadToRows(*search_, *nurses_);
    connect(search_, &QLineEdit::textChanged, this, [this](const QString &text) {
        proxy_->setFilterFixedString(text);
        chooseListed();
    });
    connect(former_, &QCheckBox::toggled, this, &NursesPage::show);
    connect(new_, &QPushButton::clicked, this, &NursesPage::newNurse);
    connect(this, &Page::emptyActionAsked, this, &NursesPage::newNurse);
    connect(nurses_, &DenseTable::opened, this, &NursesPage::editCurrent);
    connect(nurses_, &DenseTable::currentRowChanged, this, [this](int row) {
        if (row < 0 || row >= model_.rowCount())
            return;
        current_ = model_.row(row).id;
        showRecord();
    });
    connect(&session, &Session::agencyChanged, this, &NursesPage::show);
    connect(&session, &Session::closed, this, [this] {
        model_.setRows({});
        current_.reset();
        record_->setEnabled(false);
    });
}

QWidget *NursesPage::makeRecord(QWidget *parent) {
    record_ = new QWidget(parent);
    auto *layout = new QVBoxLayout(record_);
    layout->setContentsMargins(0, 0, 0, 0);
    name_ = new QLabel(record_);
    name_->setObjectName(QStringLiteral("nurseName"));
    name_->setFont(Look::strongFont());
    facts_ = new QLabel(record_);
    facts_->setObjectName(QStringLiteral("nurseFacts"));
    facts_->setWordWrap(true);
    facts_->setTextInteractionFlags(Qt::TextSelectableByMouse);
    layout->addWidget(name_);
    layout->addWidget(facts_);
    auto *row = new QHBoxLayout;
    const auto button = [&](const QString &objectName, const QString &text, auto slot) {
        auto *b = new QPushButton(text, record_);
        b->setObjectName(objectName);
        row->addWidget(b);
        connect(b, &QPushButton::clicked, this, slot);
        return b;
    };
    edit_ = button(QStringLiteral("nurseEdit"), tr("Edit the nurse…"), &NursesPage::editCurrent);
    row->addStretch(1);
    add_ = button(QStringLiteral("entryAdd"), tr("Add…"), &NursesPage::addEntry);
    change_ = button(QStringLiteral("entryEdit"), tr("Edit…"),
                     [this] { editEntry(table(tabs_->currentIndex())->currentSourceRow()); });
    remove_ = button(QStringLiteral("entryRemove"), tr("Remove…"), &NursesPage::removeEntry);
    layout->addLayout(row);
    hint_ = new QLabel(record_);
    hint_->setObjectName(QStringLiteral("entryHint"));
    hint_->setWordWrap(true);
    layout->addWidget(hint_);
    tabs_ = new QTabWidget(record_);
    tabs_->setDocumentMode(true);
    connect(tabs_, &QTabWidget::currentChanged, this, &NursesPage::showHint);
    const auto add = [&](const QString &objectName, const QString &title, QAbstractItemModel *model) {
        auto *t = new DenseTable(objectName, title, tabs_);
        t->setModel(new RowsProxy(model, this));
        entryTables_.push_back(t);
        tabs_->addTab(t, title);
        connect(t, &DenseTable::opened, this, &NursesPage::editEntry);
    };
    add(QStringLiteral("shiftTable"), tr("Shifts"), &shifts_);
    add(QStringLiteral("extraTable"), tr("Extra shifts"), &extras_);
    add(QStringLiteral("offTable"), tr("Time off"), &off_);
    layout->addWidget(tabs_, 1);
    return record_;
}

void NursesPage::makeActions() {
    const auto add = [this](const QString &text, const QKeySequence &keys, auto slot) {
        addPageAction(text, keys, this, slot);
    };
    add(tr("&New nurse…"), Qt::Key_Insert, &NursesPage::newNurse);
    add(tr("&Edit the nurse…"), Qt::Key_F2, &NursesPage::editCurrent);
    add(tr("&Find a nurse"), QKeySequence::Find, [this] {
        search_->setFocus(Qt::ShortcutFocusReason);
        search_->selectAll();
    });
}

void NursesPage::takeFocus() {
    nurses_->setFocus(Qt::OtherFocusReason);
}

void NursesPage::show() {
    if (!session().agency())
        return;
    const Snapshot &agency = session().agency()->snapshot();
    new_->setEnabled(!session().isReadOnly());
    std::vector<Nurse> nurses;
    for (const Nurse &nurse : agency.nurses)
        if (nurse.isActive || former_->isChecked())
            nurses.push_back(nurse);
    std::ranges::stable_sort(nurses, {}, [](const Nurse &n) { return desk::personName(n); });
    int expiring = 0, at = 0;
    for (std::size_t i = 0; i < nurses.size(); ++i) {
        expiring += desk::skillNotice(nurses[i], session().today()).isEmpty() ? 0 : 1;
        if (current_ == nurses[i].id)
            at = static_cast<int>(i);
    }
    const QString all =
        desk::counted(static_cast<std::int64_t>(nurses.size()), tr("1 nurse"), tr("%1 nurses"));
    setSubtitle(expiring > 0 ? tr("%1, %2 with a skill that expires or has expired").arg(all).arg(expiring)
                             : all);
    showEmpty(agency.nurses.empty()
                  ? tr("No nurses yet. Add each with skills and shifts; only then can a week be planned.")
                  : QString(),
              session().isReadOnly() ? QString() : tr("New nurse"));
    const bool isFirst = model_.rowCount() == 0;
    model_.setRows(std::move(nurses));
    if (isFirst)
        nurses_->fitColumns(2);
    nurses_->selectSourceRow(at);
    chooseListed();
}

// Who is not listed is in nobody's hand: what is entered next would be about them.
void NursesPage::chooseListed() {
    if (proxy_->rowCount() == 0)
        current_.reset();
    else if (!nurses_->currentIndex().isValid())
        nurses_->setCurrentIndex(proxy_->index(0, 0));
    showRecord();
}

void NursesPage::showRecord() {
    const Nurse *nurse =
        current_ && session().agency() ? session().agency()->index().nurse(*current_) : nullptr;
    record_->setEnabled(nurse != nullptr);
    if (!nurse) {
        name_->setText(tr("Choose a nurse in the list"));
        facts_->clear();
        shifts_.setRows({});
        extras_.setRows({});
        off_.setRows({});
        showHint();
        return;
    }
    const Snapshot &agency = session().agency()->snapshot();
    name_->setText(desk::personName(*nurse));
    facts_->setText(tr("%1. Phone: %2. Languages: %3. Most visits a day: %4. Car space: %5 L. %6")
                        .arg(desk::words(nurse->credential),
                             nurse->phone.empty() ? notKnown() : QString::fromStdString(nurse->phone),
                             languageNames(nurse->languages))
                        .arg(nurse->mostVisitsADay)
                        .arg(nurse->carSpaceMl / 1000)
                        .arg(nurse->startsAtStoreroom || nurse->base.point
                                 ? QString()
                                 : tr("The place where the day starts is not known.")));
    shifts_.setRows(ofNurse(agency.shiftPatterns, nurse->id));
    extras_.setRows(ofNurse(agency.extraShifts, nurse->id));
    off_.setRows(ofNurse(agency.timeOff, nurse->id));
    for (DenseTable *t : entryTables_)
        t->fitColumns(t == table(kTimeOff) ? 4 : 3);
    const bool mayWrite = !session().isReadOnly();
    for (QPushButton *b : {edit_, add_, change_, remove_})
        b->setEnabled(mayWrite);
    showHint();
}

// What an empty list is for, and that it is not forgotten.
void NursesPage::showHint() {
    QString hint;
    if (current_ && tabs_->currentIndex() == kShifts && shifts_.rowCount() == 0)
        hint = extras_.rowCount() == 0 ? tr("No shifts yet: nothing is planned for this nurse. “Add…” enters "
                                            "them for all weekdays at once.")
                                       : tr("No weekly shifts: this nurse works the extra shifts alone.");
    else if (current_ && tabs_->currentIndex() == kExtras && extras_.rowCount() == 0)
        hint = tr("No extra shifts. “Add…” enters work on one day, beside the usual shift or in its place.");
    else if (current_ && tabs_->currentIndex() == kTimeOff && off_.rowCount() == 0)
        hint = tr("No time off. “Add…” enters leave, sickness or training; nothing is planned on its days.");
    hint_->setText(hint);
    hint_->setHidden(hint.isEmpty());
}

void NursesPage::selectNurse(NurseId nurse) {
    search_->clear(); // which may choose another on its way
    current_ = nurse;
    const Nurse *found = session().agency() ? session().agency()->index().nurse(nurse) : nullptr;
    if (found && !found->isActive)
        former_->setChecked(true);
    show();
}

void NursesPage::newNurse() {
    if (session().isReadOnly() || !session().agency())
        return;
    if (const auto stored = editNurse(this, session(), Nurse{})) {
        search_->clear();
        current_ = *stored;
    }
}

void NursesPage::editCurrent() {
    const Nurse *nurse =
        current_ && session().agency() ? session().agency()->index().nurse(*current_) : nullptr;
    if (nurse && !session().isReadOnly())
        editNurse(this, session(), *nurse);
}

void NursesPage::addEntry() {
    if (!current_)
        return;
    if (tabs_->currentIndex() == kShifts) {
        ShiftPattern shift;
        shift.nurse = *current_;
        editShift(this, session(), shift);
    } else if (tabs_->currentIndex() == kExtras) {
        ExtraShift shift;
        shift.nurse = *current_;
        editExtraShift(this, session(), shift);
    } else {
        TimeOff off;
        off.nurse = *current_;
        editTimeOff(this, session(), off);
    }
}

void NursesPage::editEntry(int row) {
    if (row < 0 || session().isReadOnly())
        return;
    if (tabs_->currentIndex() == kShifts && row < shifts_.rowCount())
        editShift(this, session(), shifts_.row(row));
    else if (tabs_->currentIndex() == kExtras && row < extras_.rowCount())
        editExtraShift(this, session(), extras_.row(row));
    else if (tabs_->currentIndex() == kTimeOff && row < off_.rowCount())
        editTimeOff(this, session(), off_.row(row));
}

void NursesPage::removeEntry() {
    const int tab = tabs_->currentIndex();
    const int row = table(tab)->currentSourceRow();
    if (row < 0)
        return;
    const auto remove = [this](auto record, const QString &what) {
        if (Ask::confirm(this, tr("Remove"), what, tr("Remove it"), tr("Keep it")))
            session().writeOrTell(this, tr("Removed hours of a nurse"),
                                  [&](desk::Desk &d) { return d.remove(record); });
    };
    if (tab == kShifts)
        remove(shifts_.row(row),
               tr("The weekly shift on %1 is taken away, also for the past. To end it from a day on, "
                  "edit it and give its last day instead.")
                   .arg(desk::words(shifts_.row(row).weekday)));
    else if (tab == kExtras)
        remove(extras_.row(row),
               tr("The extra shift on %1 is taken away.").arg(desk::dayText(extras_.row(row).on)));
    else
        remove(off_.row(row),
               tr("The time off from %1 is taken away.").arg(desk::dayText(off_.row(row).from)));
}

} // namespace kitround::ui
