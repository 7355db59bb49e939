#include "ui/load/IncidentForms.h"

#include "core/desk/views/Incidents.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"

#include <QCollator>
#include <QComboBox>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr qint64 kNoKind = -1; // what it is has to be chosen

// "Patient, 9" before "Patient, 10".
void sortAsRead(std::vector<Choice> &choices) {
    QCollator order{QLocale(QLocale::English)};
    order.setNumericMode(true);
    std::ranges::stable_sort(
        choices, [&](const Choice &a, const Choice &b) { return order.compare(a.text, b.text) < 0; });
}

// Those who left, too: an incident may come to light later.
std::vector<Choice> concernedPatients(const SnapshotIndex &agency) {
    std::vector<Choice> choices;
    for (const Patient &patient : agency.snapshot().patients)
        choices.push_back(
            {QStringLiteral("%1 (%2)").arg(desk::personName(patient), QString::fromStdString(patient.code)),
             patient.id.value()});
    sortAsRead(choices);
    choices.insert(choices.begin(), {QObject::tr("no patient"), 0});
    return choices;
}

// The lots that may be in the patient's home first, then all the others.
std::vector<Choice> concernedLots(const desk::Agency &agency, PatientId patient) {
    std::vector<Choice> choices = lotChoices(agency, patient, QObject::tr("none, or not on record"));
    for (const Lot &lot : agency.snapshot().lots)
        if (std::ranges::find(choices, lot.id.value(), &Choice::value) == choices.end())
            choices.push_back({QObject::tr("%1, %2").arg(QString::fromStdString(lot.number),
                                                         desk::itemName(agency.index(), lot.item)),
                               lot.id.value()});
    return choices;
}

void refillLots(QComboBox &lots, const desk::Agency &agency, PatientId patient) {
    const QVariant chosen = lots.currentData();
    lots.clear();
    for (const Choice &choice : concernedLots(agency, patient))
        lots.addItem(choice.text, choice.value);
    lots.setCurrentIndex(lots.findData(chosen));
}

// A text that is of no line is told, and nobody else is taken for it.
qint64 searchedOf(RecordForm &form, const char *field) {
    auto *box = form.findChild<QComboBox *>(QLatin1String(field));
    if (const std::optional<qint64> value = searchedValue(*box))
        return *value;
    Problem fault;
    fault.code = ProblemCode::UnknownChoice;
    fault.field = field;
    fault.args = {box->currentText().trimmed().toStdString()};
    form.addReadFault(std::move(fault));
    return 0;
}

// Keeps the proposed day in step with what is entered, as long as nobody set another.
class ProposedReport : public QObject {
public:
    ProposedReport(RecordForm &form, QComboBox *kind, QComboBox *harm, DateField *learned, DateField *due)
        : QObject(&form), kind_(kind), harm_(harm), learned_(learned), due_(due), last_(proposal()) {
        connect(kind, &QComboBox::currentIndexChanged, this, &ProposedReport::follow);
        connect(harm, &QComboBox::currentIndexChanged, this, &ProposedReport::follow);
        connect(learned, &DateField::changed, this, &ProposedReport::follow);
    }

private:
    std::optional<Date> proposal() const {
        if (kind_->currentIndex() < 0)
            return std::nullopt;
        return desk::reportProposed(static_cast<IncidentKind>(kind_->currentData().toInt()),
                                    static_cast<IncidentHarm>(harm_->currentData().toInt()),
                                    learned_->date());
    }
    void follow() {
        const std::optional<Date> now = proposal();
        if (due_->isReadable() && due_->date() == last_)
            due_->setDate(now);
        last_ = now;
    }

    QComboBox *kind_, *harm_;
    DateField *learned_, *due_;
    std::optional<Date> last_;
};

void addWhatHappened(RecordForm &form, const Incident &before, const desk::Agency &agency) {
    using enum IncidentKind;
    const bool isNew = !before.id.isSet();
    form.addPage(QObject::tr("What happened"));
    auto *kind = form.addChoice("kind", QObject::tr("It is about"),
                                choicesOf({Device, Infection, Injury, Exposure, Privacy, Other},
                                          [](IncidentKind k) { return desk::words(k); }),
                                isNew ? kNoKind : static_cast<qint64>(before.kind));
    addMoment(form, "at", QObject::tr("When it happened"), before.at, agency.today());
    auto *learned = form.addDate("learned_on", QObject::tr("The agency learned of it on"), before.learnedOn,
                                 agency.today());
    form.addLongText("facts", QObject::tr("What happened, without blame"), before.facts);
    const qint64 patient = before.patient ? before.patient->value() : 0;
    auto *patients =
        form.addChoice("patient_id", QObject::tr("Patient"), concernedPatients(agency.index()), patient);
    makeSearchable(*patients);
    auto *harm = form.addChoice("harm", QObject::tr("Harm"),
                                choicesOf({IncidentHarm::NotKnown, IncidentHarm::None, IncidentHarm::Slight,
                                           IncidentHarm::Serious, IncidentHarm::Death},
                                          [](IncidentHarm h) { return desk::words(h); }),
                                static_cast<qint64>(before.harm));
    auto *lots = form.addChoice("lot_id", QObject::tr("Lot"), concernedLots(agency, PatientId(patient)),
                                before.lot ? before.lot->value() : 0);
    makeSearchable(*lots);
    form.addText("device", QObject::tr("Number on the piece or its label"), before.device);
    form.addText("kept_place", QObject::tr("Where the piece is kept"), before.keptPlace);
    form.addNote(
        QObject::tr("Where supplies are concerned: keep the faulty bottle with its lot label, do not "
                    "throw it away. What is left of its lot can be set aside from the list."));

    form.addPage(QObject::tr("Told and reported"));
    form.addDate("prescriber_told_on", QObject::tr("Prescriber told on"), before.prescriberToldOn,
                 agency.today());
    form.addDate("supplier_told_on", QObject::tr("Supplier told on"), before.supplierToldOn, agency.today());
    form.addLongText("told", QObject::tr("Who was told, and what they said"), before.told);
    auto *due = form.addDate("report_due_on", QObject::tr("External report due on"), before.reportDueOn,
                             agency.today());
    form.addText("owner", QObject::tr("Who makes it and follows this up"), before.owner);
    form.addDate("reported_on", QObject::tr("Reported on"), before.reportedOn, agency.today());
    form.addNote(
        QObject::tr("After serious harm or a death with a device the day is proposed: ten work days "
                    "after the agency learned of it, weekends and federal holidays left out (21 CFR "
                    "803.30). Whether and to whom it is reported is decided here; local policy comes "
                    "first. Without a report leave the day empty."));
    new ProposedReport(form, kind, harm, learned, due); // the form's own
    QObject::connect(patients, &QComboBox::currentIndexChanged, lots, [lots, patients, &agency] {
        refillLots(*lots, agency, PatientId(patients->currentData().toLongLong()));
    });
}

Incident readIncident(RecordForm &form, Incident record) {
    record.kind = static_cast<IncidentKind>(form.neededChoiceOf("kind"));
    record.harm = static_cast<IncidentHarm>(form.choiceOf("harm"));
    record.at = readNeededMoment(form, "at");
    record.learnedOn = form.neededDateOf("learned_on");
    record.facts = form.textOf("facts");
    record.patient = idOrNone<PatientId>(searchedOf(form, "patient_id"));
    record.lot = idOrNone<LotId>(searchedOf(form, "lot_id"));
    record.device = form.textOf("device");
    record.keptPlace = form.textOf("kept_place");
    record.prescriberToldOn = form.dateOf("prescriber_told_on");
    record.supplierToldOn = form.dateOf("supplier_told_on");
    record.told = form.textOf("told");
    record.reportDueOn = form.dateOf("report_due_on");
    record.owner = form.textOf("owner");
    record.reportedOn = form.dateOf("reported_on");
    return record;
}

bool isClosedAllTheSame(QWidget *window, const QStringList &open) {
    return open.isEmpty() ||
           Ask::confirm(
               window, QObject::tr("Close all the same?"),
               QObject::tr("Not done, as far as it is written down:\n%1\nThese stay with the incident "
                           "when it is closed. Where one is done, open the incident and enter it "
                           "first.")
                   .arg(QStringLiteral("- ") + open.join(QStringLiteral("\n- "))),
               QObject::tr("Close all the same"), QObject::tr("Leave it open"));
}

} // namespace

std::optional<IncidentId> editIncident(QWidget *window, Session &session, const Incident &before) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const bool isNew = !before.id.isSet();
    RecordForm form(isNew ? QObject::tr("Report an incident")
                          : QObject::tr("Incident of %1").arg(desk::momentText(before.at)),
                    window);
    addWhatHappened(form, before, *agency);
    form.require({"kind", "at", "learned_on", "facts"});
    std::optional<IncidentId> kept;
    form.onSave([&] { return readIncident(form, before); },
                [&](const Incident &record) {
                    return session.write(isNew ? QObject::tr("Reported an incident")
                                               : QObject::tr("Changed an incident"),
                                         [&](desk::Desk &d) {
                                             Result<Incident> saved = d.save(record);
                                             if (saved)
                                                 kept = saved->id;
                                             return saved;
                                         });
                });
    form.exec();
    return kept;
}

bool closeIncident(QWidget *window, Session &session, const Incident &incident) {
    const desk::AgencyPtr agency = session.agency();
    if (!isClosedAllTheSame(window, desk::incidentOpenSteps(incident, *agency)))
        return false;
    RecordForm form(QObject::tr("Close the incident of %1").arg(desk::momentText(incident.at)), window);
    form.addNote(desk::incidentSteps(incident, *agency).join(u'\n'));
    if (incident.reportDueOn) {
        form.addDate("report_due_on", QObject::tr("External report due on"), incident.reportDueOn,
                     agency->today());
        form.addDate("reported_on", QObject::tr("Reported on"), incident.reportedOn, agency->today());
    }
    form.addLongText("outcome", QObject::tr("What came of it, and what is done differently"),
                     incident.outcome);
    form.addDate("closed_on", QObject::tr("Closed on"), agency->today(), agency->today());
    form.setSaveText(QObject::tr("Close it"));
    form.setLeaveText(QObject::tr("Leave it open"));
    form.require({"outcome", "closed_on"});
    form.onSave(
        [&] {
            Incident record = incident;
            if (incident.reportDueOn) {
                record.reportDueOn = form.dateOf("report_due_on");
                record.reportedOn = form.dateOf("reported_on");
            }
            record.outcome = form.textOf("outcome");
            record.closedOn = form.neededDateOf("closed_on");
            return record;
        },
        [&](const Incident &record) {
            return session.write(QObject::tr("Closed an incident"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
