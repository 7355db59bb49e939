#include "ui/people/OrdersTab.h"

#include "core/desk/views/LocalTimes.h"
#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/people/DrainOrderForm.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/OrderAnswerForm.h"
#include "ui/shared/RowsModel.h"

#include <QLabel>
#include <QScrollArea>

namespace kitround::ui {
namespace {

constexpr const char *kCatheterOf = "catheterOf"; // whose card a button stands on

std::vector<RowsColumn<DrainOrder>> historyColumns(Date today) {
    return {
        {.head = QObject::tr("From"),
         .text = [today](const DrainOrder &o) { return desk::dayText(o.start, today); },
         .sortBy = [](const DrainOrder &o) { return QVariant(qlonglong(o.start.dayNumber())); }},
        {.head = QObject::tr("Until"),
         .text =
             [today](const DrainOrder &o) {
                 if (o.end)
                     return desk::dayText(*o.end, today);
                 return safety::unsaidBy(o).empty() ? QObject::tr("in force")
                                                    : QObject::tr("in force, not complete");
             },
         .sortBy =
             [](const DrainOrder &o) { return QVariant(qlonglong(o.end ? o.end->dayNumber() : 1'000'000)); }},
        {.head = QObject::tr("Order"),
         .text = [today](const DrainOrder &o) { return desk::words(o.pattern, today); }},
        {.head = QObject::tr("Most, mL"),
         .text =
             [](const DrainOrder &o) {
                 return o.mostPerSession ? desk::numberText(o.mostPerSession->count())
                                         : QObject::tr("none named");
             },
         .sortBy =
             [](const DrainOrder &o) {
                 return QVariant(qlonglong(o.mostPerSession ? o.mostPerSession->count() : -1));
             },
         .isNumber = true},
        {.head = QObject::tr("Prescriber"),
         .text = [](const DrainOrder &o) { return QString::fromStdString(o.prescriber); }},
    };
}

QString orderText(const desk::CatheterCard &card, const desk::Agency &agency) {
    if (!card.order)
        return QObject::tr("No drain order is in force. Enter what the prescriber ordered.");
    const DrainOrder &order = *card.order;
    QStringList lines;
    lines << QObject::tr("Order since %1: %2")
                 .arg(desk::dayText(order.start, agency.today()), desk::words(order.pattern, agency.today()));
    lines << desk::mostPerSessionText(order, *card.catheter);
    const QString kit = desk::itemName(agency.index(), order.kit);
    lines << (order.extraBottle ? QObject::tr("Kit: %1; further bottle: %2")
                                      .arg(kit, desk::itemName(agency.index(), *order.extraBottle))
                                : QObject::tr("Kit: %1").arg(kit));
    lines << (order.isVerbal && !order.signedOn
                  ? QObject::tr("Prescriber: %1; by word of mouth, not signed yet")
                  : QObject::tr("Prescriber: %1"))
                 .arg(order.prescriber.empty() ? notKnown() : QString::fromStdString(order.prescriber));
    if (const QString open = desk::unsaidText(order); !open.isEmpty())
        lines << open;
    if (!order.callParameters.empty())
        lines << QObject::tr("Call when: %1").arg(QString::fromStdString(order.callParameters));
    return lines.join(QLatin1Char('\n'));
}

QString drainsText(const desk::CatheterCard &card, Date today) {
    QStringList days;
    for (const Date day : card.plannedDrains)
        days << desk::dayText(day, today);
    const QString last =
        card.lastDrain ? desk::dayText(*card.lastDrain, today) : QObject::tr("none in the log");
    const QString next = card.nextDrain ? desk::dayText(*card.nextDrain, today)
                         : card.order   ? QObject::tr("not on a named day")
                                        : QObject::tr("none is ordered");
    QStringList lines{QObject::tr("Last drain: %1. Next drain: %2.").arg(last, next)};
    if (!days.isEmpty())
        lines << QObject::tr("Next 14 days: %1").arg(days.join(QStringLiteral(", ")));
    return lines.join(QLatin1Char('\n'));
}

QString headText(const Catheter &c, const desk::Agency &agency) {
    const QString what = desk::catheterText(c);
    const QString name =
        c.removedAt
            ? QObject::tr("%1 (out since %2)")
                  .arg(what, desk::dayText(desk::localTimeOf(agency, *c.removedAt).date, agency.today()))
            : what;
    return QObject::tr("%1, inserted %2, connector class %3")
        .arg(name,
             c.insertedOn ? desk::dayText(*c.insertedOn, agency.today()) : QObject::tr("on a day not known"),
             c.connector.empty() ? notKnown() : QString::fromStdString(c.connector));
}

} // namespace

OrdersTab::OrdersTab(Session &session, QWidget *parent) : RecordTab(session, parent) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    add_ = addButton(row, QStringLiteral("catheterAdd"), tr("Add catheter…"), [this] {
        Catheter catheter;
        catheter.patient = patientId();
        editCatheter(this, this->session(), catheter);
    });
    row->addStretch(1);
    layout->addLayout(row);
    auto *area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    auto *content = new QWidget(area);
    cards_ = new QVBoxLayout(content);
    cards_->setContentsMargins(0, 0, 0, 0);
    cards_->setSpacing(Look::kBetween);
    area->setWidget(content);
    layout->addWidget(area, 1);
}

void OrdersTab::addCardButtons(QVBoxLayout *layout, const desk::CatheterCard &card) {
    auto *row = new QHBoxLayout;
    const Catheter catheter = *card.catheter;
    const std::optional<DrainOrder> order = card.order ? std::optional(*card.order) : std::nullopt;
    const bool isInPlace = !catheter.removedAt;
    const auto add = [&](const QString &name, const QString &text, auto slot) {
        QPushButton *button = addButton(row, name, text, slot);
        button->setEnabled(!session().isReadOnly());
        button->setAccessibleDescription(desk::catheterText(catheter));
        button->setProperty(kCatheterOf, static_cast<qlonglong>(catheter.id.value()));
        return button;
    };
    if (isInPlace)
        add(QStringLiteral("orderNew"), tr("New drain order…"), [this, catheter, order] {
            newDrainOrder(this, session(), catheter.id, order ? &*order : nullptr);
        });
    add(QStringLiteral("catheterEdit"), tr("Edit catheter…"),
        [this, catheter] { editCatheter(this, session(), catheter); });
    if (isInPlace && order && !order->signedOn)
        add(QStringLiteral("orderSigned"), tr("Record the signature…"),
            [this, order] { recordSignature(this, session(), order->id); });
    if (isInPlace)
        add(QStringLiteral("catheterOut"), tr("Catheter out…"),
            [this, catheter] { takeCatheterOut(this, session(), catheter); });
    row->addStretch(1);
    layout->addLayout(row);
}

void OrdersTab::addQuestion(QVBoxLayout *layout, QLabel &text, const safety::OrderQuestion &question) {
    text.setObjectName(QStringLiteral("orderQuestion"));
    Look::setInk(&text, Role::Act);
    auto *row = new QHBoxLayout;
    addButton(row, QStringLiteral("orderAnswer"), tr("Record the prescriber's answer…"), [this, question] {
        recordOrderAnswer(this, session(), question);
    })->setEnabled(!session().isReadOnly());
    row->addStretch(1);
    layout->addLayout(row);
}

QWidget *OrdersTab::makeCard(const desk::CatheterCard &card) {
    const desk::AgencyPtr agency = session().agency();
    auto *frame = new QFrame(this);
    frame->setFrameShape(QFrame::StyledPanel);
    frame->setObjectName(QStringLiteral("catheterCard"));
    auto *layout = new QVBoxLayout(frame);
    const auto label = [&](const QString &text) {
        auto *l = new QLabel(text, frame);
        l->setWordWrap(true);
        l->setTextInteractionFlags(Qt::TextSelectableByMouse);
        layout->addWidget(l);
        return l;
    };
    label(headText(*card.catheter, *agency))->setFont(Look::strongFont());
    label(orderText(card, *agency));
    if (card.order) {
        if (const QString answer = desk::answerText(card.order->id, agency->index()); !answer.isEmpty())
            label(answer);
    }
    for (const safety::OrderQuestion &question : safety::orderQuestions(agency->index()))
        if (question.catheter == card.catheter->id) // of an order to come as well
            addQuestion(layout, *label(desk::questionText(question, agency->index())), question);
    if (!card.catheter->removedAt)
        label(drainsText(card, agency->today()));
    addCardButtons(layout, card);
    if (!card.history.empty()) {
        std::vector<DrainOrder> history;
        for (auto order = card.history.rbegin(); order != card.history.rend(); ++order)
            history.push_back(**order);
        auto *table =
            new DenseTable(QStringLiteral("orderHistory"), tr("Drain orders of this catheter"), frame);
        auto *model = new RowsModel<DrainOrder>(historyColumns(agency->today()), table);
        const int rows = static_cast<int>(history.size());
        model->setRows(std::move(history));
        table->setModel(new RowsProxy(model, table));
        table->fitColumns(2);
        table->setFixedHeight(std::min(rows + 1, 6) * Look::kHit + 8);
        layout->addWidget(table);
    }
    return frame;
}

// The cards are made anew after every step: the keyboard stays at the button it was at, or where that is
// gone, at the first of the page.
void OrdersTab::fill() {
    const QWidget *before = window()->focusWidget();
    const bool hadFocus = before && before != this && isAncestorOf(before);
    const QString name = hadFocus ? before->objectName() : QString();
    const QVariant catheter = hadFocus ? before->property(kCatheterOf) : QVariant();
    fillCards();
    if (!hadFocus)
        return;
    for (QPushButton *button : findChildren<QPushButton *>(name))
        if (button->isVisible() && button->isEnabled() && button->property(kCatheterOf) == catheter) {
            button->setFocus(Qt::OtherFocusReason);
            return;
        }
    add_->setFocus(Qt::OtherFocusReason);
}

void OrdersTab::fillCards() {
    while (QLayoutItem *item = cards_->takeAt(0)) {
        if (QWidget *widget = item->widget()) {
            widget->hide();
            widget->deleteLater(); // a button in it may be what led here
        }
        delete item;
    }
    const Patient *p = patient();
    if (!p)
        return;
    add_->setEnabled(!session().isReadOnly() && isOnService(p->status));
    const auto cards = desk::catheterCards(*session().agency(), p->id);
    if (cards.empty())
        cards_->addWidget(new QLabel(tr("No catheter yet. Add it, then enter its drain order."), this));
    for (const desk::CatheterCard &card : cards) {
        QWidget *frame = makeCard(card);
        cards_->addWidget(frame);
        frame->show(); // at once, so that it can take the keyboard
    }
    cards_->addStretch(1);
}

} // namespace kitround::ui
