#include "ui/people/OrderPreview.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Look.h"

#include <QGridLayout>
#include <QLabel>
#include <QPushButton>
#include <QScrollArea>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kWidth = 760, kLowest = 480, kTallest = 660; // a screen of 720 holds it

QString dateOrUnknown(const std::optional<Date> &date, Date today) {
    return date ? desk::dayText(*date, today) : notKnown();
}

QString drainsText(const std::vector<Date> &drains, Date today) {
    if (drains.empty())
        return QObject::tr("none on named days");
    QStringList days;
    for (const Date on : drains)
        days << desk::dayText(on, today);
    return days.join(QStringLiteral(", "));
}

} // namespace

OrderPreviewDialog::OrderPreviewDialog(const desk::OrderChangePreview &preview, const desk::Agency &agency,
                                       QWidget *parent)
    : QDialog(parent) {
    const Date today = agency.today();
    setObjectName(QStringLiteral("orderPreview"));
    setWindowTitle(tr("What the new order changes"));
    auto *outer = new QVBoxLayout(this);
    outer->setSpacing(Look::kBetween);
    auto *area = new QScrollArea(this); // a long list of days is read to its end on a small screen too
    area->setObjectName(QStringLiteral("orderArea"));
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    auto *content = new QWidget(area);
    auto *layout = new QVBoxLayout(content);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(Look::kBetween);
    auto *whose = new QLabel(desk::nameWithCode(agency.index(), preview.order.catheter), this);
    whose->setObjectName(QStringLiteral("orderWhose"));
    whose->setFont(Look::titleFont());
    whose->setWordWrap(true);
    layout->addWidget(whose);
    auto *title = new QLabel(
        tr("From %1: %2")
            .arg(desk::dayText(preview.order.start, today), desk::words(preview.order.pattern, today)),
        this);
    title->setFont(Look::strongFont());
    title->setWordWrap(true);
    layout->addWidget(title);
    if (preview.endsOrder)
        layout->addWidget(new QLabel(
            tr("The order in force ends: %1").arg(desk::words(preview.endsOrder->pattern, today)), this));

    addFigures(*layout, preview, agency);
    for (const Problem &warning : preview.warnings) {
        auto *label = new QLabel(tr("Please note: %1").arg(desk::words(warning)), this);
        label->setObjectName(QStringLiteral("orderWarning"));
        label->setWordWrap(true);
        Look::setInk(label, Role::Act);
        layout->addWidget(label);
    }
    auto *note = new QLabel(desk::planningCaution(), this);
    note->setWordWrap(true);
    layout->addWidget(note);
    layout->addStretch(1);
    area->setWidget(content);
    outer->addWidget(area, 1);
    addButtons(*outer, desk::dayText(preview.order.start, today));
    const QMargins around = outer->contentsMargins();
    const int whole = layout->totalHeightForWidth(kWidth - around.left() - around.right()) +
                      outer->totalMinimumSize().height() - area->minimumSizeHint().height();
    resize(kWidth, std::clamp(whole, kLowest, kTallest));
}

void OrderPreviewDialog::addFigures(QVBoxLayout &layout, const desk::OrderChangePreview &preview,
                                    const desk::Agency &agency) {
    const Date today = agency.today();
    auto *grid = new QGridLayout;
    grid->setHorizontalSpacing(24);
    addLine(grid, {}, tr("Before"), tr("After"));
    const auto &b = preview.before;
    const auto &a = preview.after;
    const auto number = [](double value) { return QString::number(value, 'f', 1); };
    addLine(grid, tr("Kit"),
            preview.endsOrder ? desk::itemName(agency.index(), preview.endsOrder->kit) : tr("no order"),
            desk::itemName(agency.index(), preview.order.kit));
    const auto most = [](const DrainOrder &order) {
        return order.mostPerSession ? tr("%1 mL").arg(desk::numberText(order.mostPerSession->count()))
                                    : notKnown();
    };
    addLine(grid, tr("Most in one session"), preview.endsOrder ? most(*preview.endsOrder) : tr("no order"),
            most(preview.order));
    const auto further = [&](const DrainOrder &order) {
        return order.extraBottle ? desk::itemName(agency.index(), *order.extraBottle) : tr("the kit again");
    };
    addLine(grid, tr("Further bottle"), preview.endsOrder ? further(*preview.endsOrder) : tr("no order"),
            further(preview.order));
    addLine(grid, tr("Drains a week"), number(b.drainsPerWeek), number(a.drainsPerWeek));
    addLine(grid, tr("Supply ends"), dateOrUnknown(b.supplyEnds, today), dateOrUnknown(a.supplyEnds, today));
    addLine(grid, tr("Run-out, middle estimate"), dateOrUnknown(b.runOutP50, today),
            dateOrUnknown(a.runOutP50, today));
    addLine(grid, tr("Refill by"), dateOrUnknown(b.refillBy, today), dateOrUnknown(a.refillBy, today));
    addLine(grid, tr("Visits due in the week after"), desk::numberText(b.visitsDueNextWeek),
            desk::numberText(a.visitsDueNextWeek));
    addLine(grid, tr("Points of those visits"), number(b.pointsNextWeek), number(a.pointsNextWeek));
    addLine(grid, tr("Drains, next 14 days"), drainsText(b.drains, today), drainsText(a.drains, today));
    grid->setColumnStretch(1, 1);
    grid->setColumnStretch(2, 1);
    layout.addLayout(grid);
}

void OrderPreviewDialog::addButtons(QVBoxLayout &layout, const QString &from) {
    auto *buttons = new QHBoxLayout;
    auto *back = new QPushButton(tr("Back to the form"), this);
    back->setObjectName(QStringLiteral("orderBack"));
    back->setDefault(true); // Enter never saves what was not read
    auto *save = new QPushButton(tr("Save from %1").arg(from), this);
    save->setObjectName(QStringLiteral("orderSave"));
    save->setProperty("isMain", true);
    save->setAutoDefault(false);
    buttons->addStretch(1);
    buttons->addWidget(back);
    buttons->addWidget(save);
    layout.addLayout(buttons);
    back->setFocus(Qt::OtherFocusReason);
    connect(back, &QPushButton::clicked, this, &QDialog::reject);
    connect(save, &QPushButton::clicked, this, &QDialog::accept);
}

void OrderPreviewDialog::addLine(QGridLayout *grid, const QString &name, const QString &before,
                                 const QString &after) {
    const int row = grid->rowCount();
    int column = 0;
    for (const QString &text : {name, before, after}) {
        auto *label = new QLabel(text, this);
        label->setWordWrap(column > 0);
        // What changes is bold, so that it is seen without colour.
        if (name.isEmpty() || (column == 2 && before != after))
            label->setFont(Look::strongFont());
        label->setAlignment(Qt::AlignTop | Qt::AlignLeft);
        grid->addWidget(label, row, column++);
    }
}

} // namespace kitround::ui
