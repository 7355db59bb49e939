// A parcel at the home: who took it and what of it came whole; and the latter put right afterwards.
#include "core/desk/words/Words.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/SupplyForms.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>

#include <array>
#include <vector>

namespace kitround::ui {
namespace {

constexpr const char *kByHand = "typedByHand"; // a property of the fields for what came good

std::string arrivalField(std::size_t line) {
    return "arrived_" + std::to_string(line);
}

// Good, damaged and missing of each packed line. All is good until something else is typed.
class ArrivalFields {
public:
    ArrivalFields(RecordForm &form, const SnapshotIndex &index, const Delivery &delivery)
        : form_(form), delivery_(delivery) {
        form.addHeading(QObject::tr("What came, by line"));
        for (std::size_t i = 0; i < delivery.lines.size(); ++i)
            addLine(index, i);
        form.addText("why", QObject::tr("What happened"), {});
        for (const Row &row : rows_) {
            QObject::connect(row.good, &QLineEdit::textEdited, row.good,
                             [good = row.good] { good->setProperty(kByHand, true); });
            onEdit(*row.damaged, &form_, [this, row] { balance(row); });
            onEdit(*row.missing, &form_, [this, row] { balance(row); });
        }
        markWhy();
    }

    desk::Arrived read() const {
        desk::Arrived arrived;
        for (std::size_t i = 0; i < rows_.size(); ++i)
            arrived.lines.push_back(
                {countIn(*rows_[i].good, i), countIn(*rows_[i].damaged, i), countIn(*rows_[i].missing, i)});
        arrived.why = form_.textOf("why");
        return arrived;
    }

    // Problems of a line are told at its fields.
    std::optional<Problem> atFields(const std::optional<Problem> &problem) const {
        if (!problem)
            return std::nullopt;
        Problems found = flattened(*problem);
        for (Problem &p : found)
            if (p.row > 0 && static_cast<std::size_t>(p.row) <= rows_.size()) {
                p.field = arrivalField(static_cast<std::size_t>(p.row) - 1);
                p.row = 0;
            }
        return joined(std::move(found));
    }

private:
    struct Row {
        QLineEdit *good, *damaged, *missing;
        Eaches packed;
    };

    void addLine(const SnapshotIndex &index, std::size_t i) {
        const DeliveryLine &line = delivery_.lines[i];
        const Lot *lot = line.lot ? index.lot(*line.lot) : nullptr;
        const QString item = desk::itemName(index, line.item);
        const QString what =
            lot ? QObject::tr("%1, lot %2").arg(item, QString::fromStdString(lot->number)) : item;
        auto *cell = new QWidget(&form_);
        auto *layout = new QHBoxLayout(cell);
        layout->setContentsMargins(0, 0, 0, 0);
        layout->setSpacing(Look::kInside);
        const auto add = [&](const char *name, const QString &after, Eaches count) {
            auto *edit = new QLineEdit(QString::number(count.count()), cell);
            edit->setObjectName(QLatin1String(name) + QString::number(i));
            edit->setAccessibleName(QObject::tr("%1: %2").arg(what, after));
            edit->setAlignment(Qt::AlignRight);
            edit->setMaximumWidth(70);
            layout->addWidget(edit);
            layout->addWidget(new QLabel(after, cell));
            return edit;
        };
        Row row{};
        row.packed = line.quantity;
        row.good = add("good_", QObject::tr("good"), line.arrived());
        row.damaged = add("damaged_", QObject::tr("damaged"), line.damaged);
        row.missing = add("missing_", QObject::tr("missing"), line.missing);
        layout->addStretch(1);
        cell->setFocusProxy(row.good);
        form_.addWidget(arrivalField(i), QObject::tr("%1 × %2").arg(line.quantity.count()).arg(what), cell);
        rows_.push_back(row);
    }

    // What is damaged or missing is not good: who types the one need not work out the other. A count that was
    // typed stands: where it does not add up, that is told on saving.
    void balance(const Row &row) const {
        const auto damaged = numberIn(row.damaged->text()), missing = numberIn(row.missing->text());
        const bool isCounted = row.good->property(kByHand).toBool();
        if (!isCounted && damaged && missing && *damaged >= 0 && *missing >= 0 &&
            *damaged + *missing <= row.packed.count())
            row.good->setText(QString::number(row.packed.count() - *damaged - *missing));
        markWhy();
    }
    void markWhy() const {
        bool isShort = false;
        for (const Row &row : rows_)
            isShort = isShort || numberIn(row.damaged->text()).value_or(0) != 0 ||
                      numberIn(row.missing->text()).value_or(0) != 0;
        form_.setRequired("why", isShort);
    }

    Eaches countIn(const QLineEdit &edit, std::size_t line) const {
        const QString text = edit.text().trimmed();
        if (text.isEmpty())
            return {};
        const auto typed = numberIn(text);
        if (!typed) {
            Problem unread;
            unread.code = ProblemCode::NotANumber;
            unread.field = arrivalField(line);
            unread.args = {text.toStdString()};
            form_.addReadFault(std::move(unread));
        }
        return Eaches::of(typed.value_or(0));
    }

    RecordForm &form_;
    const Delivery &delivery_;
    std::vector<Row> rows_;
};

} // namespace

bool recordHandOver(QWidget *window, Session &session, Delivery delivery) {
    const desk::AgencyPtr agency = session.agency();
    const Patient *patient = agency->index().patient(delivery.patient);
    const QString who = patient ? desk::personName(*patient) : QString();
    RecordForm form(QObject::tr("Delivered: %1").arg(who), window);
    form.addNote(
        QObject::tr("Who in the home took it. Staff may not sign for the patient. A parcel left outside in "
                    "heat or frost is not delivered: cancel it and send again. Only what came good counts "
                    "as the home's stock."));
    form.addDate("delivered_at", QObject::tr("Day"), momentNow(session).date, session.today());
    form.addTime("delivered_time", QObject::tr("Time"), momentNow(session).minute);
    form.addText("received_by", QObject::tr("Received by"), {});
    form.addText("receiver_relation", QObject::tr("Relation to the patient"), {});
    const ArrivalFields fields(form, agency->index(), delivery);
    form.setSaveText(QObject::tr("Record the hand-over"));
    struct Proof {
        LocalTime at;
        std::string by, relation;
        desk::Arrived arrived;
    };
    form.require({"delivered_at", "received_by"});
    form.onSave(
        [&] {
            return Proof{{form.neededDateOf("delivered_at"),
                          form.timeOf("delivered_time").value_or(momentNow(session).minute)},
                         form.textOf("received_by"),
                         form.textOf("receiver_relation"),
                         fields.read()};
        },
        [&](const Proof &proof) {
            return fields.atFields(session.write(
                QObject::tr("Recorded a hand-over for %1").arg(patient ? desk::initials(*patient) : who),
                [&](desk::Desk &d) {
                    return d.deliver(delivery.id, proof.at, proof.by, proof.relation, proof.arrived);
                }));
        });
    return form.exec() == QDialog::Accepted;
}

bool correctArrival(QWidget *window, Session &session, Delivery delivery) {
    const desk::AgencyPtr agency = session.agency();
    const Patient *patient = agency->index().patient(delivery.patient);
    const QString who = patient ? desk::personName(*patient) : QString();
    RecordForm form(QObject::tr("How it arrived: %1").arg(who), window);
    form.addNote(QObject::tr("What of the parcel came good, damaged or not at all. The home's stock and the "
                             "books follow it from the hour of the hand-over on."));
    const ArrivalFields fields(form, agency->index(), delivery);
    form.setSaveText(QObject::tr("Put it right"));
    form.onSave(
        [&] { return fields.read(); },
        [&](const desk::Arrived &arrived) {
            return fields.atFields(session.write(
                QObject::tr("Put right how a delivery to %1 arrived")
                    .arg(patient ? desk::initials(*patient) : who),
                [&](desk::Desk &d) { return d.correctArrival(delivery.id, delivery.rowVersion, arrived); }));
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
