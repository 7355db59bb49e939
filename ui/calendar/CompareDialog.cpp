#include "ui/calendar/CompareDialog.h"

#include "core/desk/words/Text.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/DialogSize.h"
#include "ui/shared/Look.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

#include <ranges>
#include <utility>

namespace kitround::ui {
namespace {

using desk::PlanChange;
using desk::PlanFigure;

std::vector<RowsColumn<PlanChange>> visitColumns() {
    const auto column = [](const QString &head, QString PlanChange::*value) {
        return RowsColumn<PlanChange>{.head = head,
                                      .text = [value](const PlanChange &c) { return c.*value; },
                                      .ink =
                                          [](const PlanChange &c) {
                                              return c.isSmall || c.isGone ? std::optional(Role::FaintInk)
                                                     : c.isUnplaced        ? std::optional(Role::Act)
                                                                           : std::nullopt;
                                          }};
    };
    return {column(QObject::tr("Patient"), &PlanChange::who), column(QObject::tr("Visit"), &PlanChange::kind),
            column(QObject::tr("In the first plan"), &PlanChange::was),
            column(QObject::tr("In the second plan"), &PlanChange::now),
            column(QObject::tr("Note"), &PlanChange::note)};
}

RowsColumn<PlanFigure> numberColumn(const QString &head, std::function<qint64(const PlanFigure &)> of,
                                    bool isSigned = false) {
    return {.head = head,
            .text =
                [of, isSigned](const PlanFigure &f) {
                    return isSigned ? desk::signedText(of(f)) : desk::numberText(of(f));
                },
            .sortBy = [of](const PlanFigure &f) { return QVariant(of(f)); },
            .isNumber = true};
}

std::vector<RowsColumn<PlanFigure>> figureColumns() {
    return {{.head = QObject::tr("Figure"), .text = [](const PlanFigure &f) { return f.name; }},
            numberColumn(QObject::tr("First plan"), [](const PlanFigure &f) { return f.first; }),
            numberColumn(QObject::tr("Second plan"), [](const PlanFigure &f) { return f.second; }),
            numberColumn(
                QObject::tr("Difference"), [](const PlanFigure &f) { return f.second - f.first; }, true)};
}

} // namespace

CompareDialog::CompareDialog(Session &session, const desk::WeekPicturePtr &hand, DateRange one, bool isSaved,
                             std::vector<Plan> versions, std::optional<desk::LaidPlan> before,
                             QWidget *parent)
    : QDialog(parent), session_(session), hand_(desk::planInHand(hand, one, isSaved)),
      before_(std::move(before)), visits_(visitColumns()), figures_(figureColumns()) {
    for (Plan &plan : versions | std::views::reverse) {
        const std::optional<Instant> saved = savedAt(plan);
        versions_.push_back({std::move(plan), saved});
    }
    build();
    for (QComboBox *choice : {first_, second_}) {
        choice->addItem(hand_.name);
        if (before_)
            choice->addItem(before_->name);
        for (const Version &version : versions_)
            choice->addItem(desk::versionName(*hand->agency, version.plan, version.savedAt));
    }
    // What is in hand against the plan before it: what is not saved yet against the newest version.
    const int versionsFrom = before_ ? 2 : 1;
    const int newest = versionsFrom + (isSaved && versions_.size() > 1 ? 1 : 0);
    first_->setCurrentIndex(!versions_.empty() ? newest : before_ ? 1 : 0);
    second_->setCurrentIndex(0);
    for (const QComboBox *choice : {first_, second_})
        connect(choice, &QComboBox::currentIndexChanged, this, &CompareDialog::compare);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    compare();
}

std::optional<Instant> CompareDialog::savedAt(const Plan &version) {
    if (version.status != PlanStatus::Draft)
        return std::nullopt;
    const auto last = session_.desk().audit(1, "plan", version.id.value());
    return last && !last->empty() ? std::optional(last->front().at) : std::nullopt;
}

QComboBox *CompareDialog::addChoice(QHBoxLayout *row, const QString &objectName, const QString &label) {
    auto *choice = new QComboBox(this);
    choice->setObjectName(objectName);
    auto *name = new QLabel(label, this);
    name->setBuddy(choice);
    row->addWidget(name);
    row->addWidget(choice, 1);
    return choice;
}

void CompareDialog::build() {
    setObjectName(QStringLiteral("compareDialog"));
    setWindowTitle(tr("Compare plans"));
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    auto *choices = new QHBoxLayout;
    first_ = addChoice(choices, QStringLiteral("compareFirst"), tr("&First plan"));
    second_ = addChoice(choices, QStringLiteral("compareSecond"), tr("&Second plan"));
    layout->addLayout(choices);
    summary_ = new QLabel(this);
    summary_->setObjectName(QStringLiteral("compareSummary"));
    summary_->setWordWrap(true);
    layout->addWidget(summary_);
    visitTable_ = new DenseTable(QStringLiteral("compareVisits"), tr("Visits that differ"), this);
    visitTable_->setModel(new RowsProxy(&visits_, this));
    visitTable_->keepReadable(0);
    visitTable_->wrapTexts();
    layout->addWidget(visitTable_, 3);
    figureTable_ = new DenseTable(QStringLiteral("compareFigures"), tr("Figures of both plans"), this);
    figureTable_->setModel(new RowsProxy(&figures_, this));
    layout->addWidget(figureTable_, 2);
    auto *steps = new QHBoxLayout;
    const auto step = [&](const QString &objectName, const QString &words, auto run) {
        auto *button = new QPushButton(words, this);
        button->setObjectName(objectName);
        button->setAutoDefault(false);
        connect(button, &QPushButton::clicked, this, run);
        steps->addWidget(button);
        return button;
    };
    save_ = step(QStringLiteral("compareCsv"), tr("Save as CS&V…"), [this] {
        saveTable(this, session_, desk::comparisonTable(comparison_, *hand_.week->agency));
    });
    print_ = step(QStringLiteral("comparePrint"), tr("&Print…"),
                  [this] { offerPaper(this, session_, desk::comparisonPaper(comparison_, *hand_.week)); });
    steps->addStretch(1);
    step(QStringLiteral("compareClose"), tr("&Close"), [this] { reject(); });
    layout->addLayout(steps);
    keepSize(*this, {1280, 700});
}

desk::LaidPlan CompareDialog::laid(int choice) const {
    if (choice == 0)
        return hand_;
    if (before_ && choice == 1)
        return *before_;
    const Version &version = versions_[static_cast<std::size_t>(choice - (before_ ? 2 : 1))];
    return desk::laidOver(hand_, version.plan, version.savedAt);
}

void CompareDialog::compare() {
    const bool hasTwo = before_ || !versions_.empty();
    for (QWidget *part : {static_cast<QWidget *>(first_), static_cast<QWidget *>(second_),
                          static_cast<QWidget *>(print_), static_cast<QWidget *>(save_)})
        part->setEnabled(hasTwo);
    if (!hasTwo) {
        visitTable_->fitColumns(4); // the heads are read all the same
        figureTable_->fitColumns(0);
        summary_->setText(tr("The plan in hand is the only one of this week so far. Save it as a draft, or "
                             "publish it: every published version is kept and can be compared here with "
                             "what came after it. A draft is written over by the next one."));
        return;
    }
    comparison_ = desk::comparePlans(laid(first_->currentIndex()), laid(second_->currentIndex()));
    summary_->setText(comparison_.summary);
    visits_.setRows(comparison_.visits);
    visitTable_->fitColumns(4);
    visitTable_->selectSourceRow(0);
    figures_.setRows(comparison_.figures);
    figureTable_->fitColumns(0);
}

} // namespace kitround::ui
