// Lot taken was another: what is really in a packed parcel, typed, chosen or scanned.
#include "core/desk/views/LotsTaken.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/ScanField.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"
#include "ui/stock/LotRows.h"
#include "ui/stock/SupplyForms.h"

#include <QLabel>
#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {
namespace {

struct TakenLine { // what one home's line gets of an item, whatever the lots
    CatheterId catheter;
    ItemId item;
    Eaches quantity;
    LotRows *rows = nullptr;
};

std::string lotsField(std::size_t line) {
    return "lots_" + std::to_string(line);
}

std::vector<TakenLine> linesOf(const Delivery &delivery) {
    std::vector<TakenLine> lines;
    for (const DeliveryLine &packed : delivery.lines) {
        const auto same = std::ranges::find_if(lines, [&](const TakenLine &line) {
            return line.catheter == packed.catheter && line.item == packed.item;
        });
        if (same == lines.end())
            lines.push_back({packed.catheter, packed.item, packed.quantity});
        else
            same->quantity += packed.quantity;
    }
    return lines;
}

QString headingOf(const SnapshotIndex &index, const TakenLine &line) {
    const QString what =
        QObject::tr("%1 × %2").arg(line.quantity.count()).arg(desk::itemName(index, line.item));
    const Catheter *catheter = index.catheter(line.catheter);
    return catheter && index.cathetersOf(catheter->patient).size() > 1
               ? QObject::tr("%1, %2").arg(what, desk::catheterText(*catheter))
               : what;
}

void addLine(RecordForm &form, const desk::Agency &agency, const Delivery &delivery, TakenLine &line,
             std::size_t number) {
    line.rows = new LotRows(number, desk::lotOffers(agency, delivery, line.item), &form);
    for (const DeliveryLine &packed : delivery.lines)
        if (packed.catheter == line.catheter && packed.item == line.item) {
            const Lot *lot = packed.lot ? agency.index().lot(*packed.lot) : nullptr;
            line.rows->add(lot ? QString::fromStdString(lot->number) : QString(), packed.quantity);
        }
    form.addHeading(headingOf(agency.index(), line));
    form.addWidget(lotsField(number), QObject::tr("Lots taken"), line.rows);
}

// One item may go to two lines: a scan goes where one is still waited for.
QString takeLot(const std::vector<TakenLine> &lines, const Lot &lot) {
    const auto isOfItem = [&](const TakenLine &line) { return line.item == lot.item; };
    auto line =
        std::ranges::find_if(lines, [&](const TakenLine &l) { return isOfItem(l) && l.rows->awaitsScan(); });
    if (line == lines.end())
        line = std::ranges::find_if(lines, isOfItem);
    return line == lines.end() ? QString() : line->rows->take(QString::fromStdString(lot.number));
}

// Of a parcel that has left, a lot out of use is entered all the same: the home has to be rung.
QString warningOf(const desk::Agency &agency, const Delivery &delivery, const Lot &lot) {
    auto unfit = desk::lotOutOfUse(agency, delivery, lot);
    if (!unfit)
        return {};
    unfit->field.clear(); // it is a sentence of its own
    return desk::words(*unfit);
}

QLabel *addNoteBelow(QVBoxLayout &column, const QString &objectName, QWidget *parent) {
    auto *note = new WrappedLabel({}, parent);
    note->setObjectName(objectName);
    note->hide();
    column.addWidget(note);
    return note;
}

// What became of the scan stands below its field. `lines` are made after it.
ScanField *addScan(RecordForm &form, const desk::AgencyPtr &agency, const Delivery &delivery,
                   const std::vector<TakenLine> &lines) {
    auto *field = new QWidget(&form);
    auto *scan = new ScanField(field);
    scan->setObjectName(QStringLiteral("lotScan"));
    scan->setAccessibleName(QObject::tr("Scanned label"));
    scan->setPlaceholderText(QObject::tr("Scan what is in the parcel, or type (01)…(10)…, then Enter"));
    auto *column = new QVBoxLayout(field);
    column->setContentsMargins(0, 0, 0, 0);
    column->addWidget(scan);
    QLabel *warning = addNoteBelow(*column, QStringLiteral("lotScanWarning"), field);
    Look::setInk(warning, Role::Act);
    QLabel *note = addNoteBelow(*column, QStringLiteral("lotScanNote"), field);
    field->setFocusProxy(scan);
    form.addWidget("scan", QObject::tr("Scan"), field);
    QObject::connect(scan, &ScanField::scanned, field,
                     [&form, agency, &delivery, &lines, scan, warning, note](const QString &text) {
                         note->hide();
                         warning->hide();
                         const Result<LotId> lot = desk::scannedLot(*agency, delivery, text.toStdString());
                         if (!lot) {
                             form.showProblem(lot.error());
                             scan->selectAll();
                             return;
                         }
                         scan->clear();
                         const Lot &taken = *agency->index().lot(*lot);
                         note->setText(takeLot(lines, taken));
                         note->show();
                         warning->setText(warningOf(*agency, delivery, taken));
                         warning->setVisible(!warning->text().isEmpty());
                     });
    return scan;
}

// A box that was put aside stands in the field until another one is scanned, or it is emptied.
void checkScan(RecordForm &form, const desk::Agency &agency, const Delivery &delivery,
               const ScanField &scan) {
    const QString left = scan.text().trimmed();
    if (left.isEmpty())
        return;
    const Result<LotId> lot = desk::scannedLot(agency, delivery, left.toStdString());
    if (!lot && desk::putsBoxAside(lot.error()))
        form.addReadFault(lot.error());
}

Problem faultAt(const std::string &field, ProblemCode code, std::vector<std::string> args) {
    Problem problem;
    problem.code = code;
    problem.field = field;
    problem.args = std::move(args);
    return problem;
}

// The lines as entered; a lot set to nought was not taken.
std::vector<DeliveryLine> readLots(RecordForm &form, const desk::Agency &agency, const TakenLine &line,
                                   const std::string &field) {
    std::vector<DeliveryLine> taken;
    bool isPointed = false;
    line.rows->pointToFirst();
    for (const LotRows::Entered &row : line.rows->entered()) {
        const auto count = numberIn(row.quantity);
        std::optional<LotId> lot;
        if (!row.lot.isEmpty()) {
            const Result<LotId> found =
                desk::numberedLot(agency.snapshot(), line.item, row.lot.toStdString());
            if (!found) {
                form.addReadFault(faultAt(field, found.error().code, found.error().args));
                continue;
            }
            lot = *found;
        }
        if (!count) {
            form.addReadFault(row.quantity.isEmpty()
                                  ? faultAt(field, ProblemCode::Missing, {"how_many", row.lot.toStdString()})
                                  : faultAt(field, ProblemCode::NotANumber, {row.quantity.toStdString()}));
            if (!isPointed)
                line.rows->pointToQuantity(row.place);
            isPointed = true;
        } else if (*count != 0) {
            taken.push_back({line.catheter, line.item, lot, Eaches::of(*count)});
        }
    }
    return taken;
}

QString noteOf(DeliveryStatus status) {
    const QString what = QObject::tr("Enter what is really in the parcel. The lot that was written down goes "
                                     "back to the storeroom's books");
    return status == DeliveryStatus::Delivered
               ? QObject::tr("%1, and the one that was taken stands at the home.").arg(what)
               : QObject::tr("%1, and the one that was taken leaves them.").arg(what);
}

} // namespace

bool correctLots(QWidget *window, Session &session, const Delivery &delivery) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const Patient *patient = agency->index().patient(delivery.patient);
    const QString who = patient ? desk::personName(*patient) : QString();
    RecordForm form(QObject::tr("Lot taken was another: %1").arg(who), window);
    form.addNote(noteOf(delivery.status));
    std::vector<TakenLine> lines = linesOf(delivery);
    const ScanField *scan = addScan(form, agency, delivery, lines);
    for (std::size_t i = 0; i < lines.size(); ++i)
        addLine(form, *agency, delivery, lines[i], i);
    form.addText("why", QObject::tr("Why, if it should be known"), {});
    form.setSaveText(QObject::tr("Put the lots right"));
    std::vector<std::string> fieldOf; // of each line that was sent
    Problems flags;
    form.onSave(
        [&] {
            desk::LotsTaken taken{delivery.id, delivery.rowVersion, {}, form.textOf("why")};
            fieldOf.clear();
            checkScan(form, *agency, delivery, *scan);
            for (std::size_t i = 0; i < lines.size(); ++i)
                for (DeliveryLine &line : readLots(form, *agency, lines[i], lotsField(i))) {
                    taken.lines.push_back(std::move(line));
                    fieldOf.push_back(lotsField(i));
                }
            return taken;
        },
        [&](const desk::LotsTaken &taken) -> std::optional<Problem> {
            const auto problem = session.write(QObject::tr("Put the lots of a delivery to %1 right").arg(who),
                                               [&](desk::Desk &d) -> Result<void> {
                                                   auto done = d.correctLots(taken);
                                                   if (!done)
                                                       return done.error();
                                                   flags = std::move(done->flags);
                                                   return {};
                                               });
            if (!problem)
                return std::nullopt;
            Problems found = flattened(*problem);
            for (Problem &p : found)
                if (p.row > 0 && static_cast<std::size_t>(p.row) <= fieldOf.size()) {
                    p.field = fieldOf[static_cast<std::size_t>(p.row) - 1];
                    p.row = 0;
                }
            return joined(std::move(found));
        });
    const bool isStored = form.exec() == QDialog::Accepted;
    if (!flags.empty())
        Ask::tell(window, QObject::tr("Put right, with remarks"),
                  desk::allWords(joined(std::move(flags))).join(QLatin1Char('\n')));
    return isStored;
}

} // namespace kitround::ui
