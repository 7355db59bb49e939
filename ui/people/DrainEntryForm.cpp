#include "ui/people/DrainEntryForm.h"

#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QLineEdit>

namespace kitround::ui {
namespace {

std::vector<Choice> symptomChoices() {
    std::vector<Choice> choices;
    for (int i = 0; i < kSymptomCount; ++i)
        choices.push_back({desk::words(static_cast<Symptom>(i)), i});
    return choices;
}

class DrainEntryForm {
public:
    DrainEntryForm(QWidget *window, Session &session, PatientId patient, CatheterId preset,
                   const DrainEntry *old)
        : session_(session), agency_(session.agency()), isCorrection_(old != nullptr),
          old_(old ? *old : DrainEntry{}),
          form_(old ? QObject::tr("Correct a drain") : QObject::tr("Log a drain"), window) {
        if (!old)
            old_.catheter = preset;
        addSession(patient);
        addSupplies(patient);
        addSigns();
    }
    std::optional<std::vector<CallItem>> run();

private:
    void addSession(PatientId patient);
    void addSupplies(PatientId patient);
    void addSigns();
    DrainEntry read();
    void readSupplies(DrainEntry &entry);

    Session &session_;
    desk::AgencyPtr agency_;
    bool isCorrection_;
    DrainEntry old_;
    RecordForm form_;
    ListEditor *supplies_ = nullptr;
    QListWidget *symptoms_ = nullptr;
};

void DrainEntryForm::addSession(PatientId patient) {
    form_.addPage(QObject::tr("The drain"));
    std::vector<Choice> catheters;
    for (const Catheter *catheter : agency_->index().cathetersOf(patient)) {
        const QString name = desk::catheterText(*catheter);
        catheters.push_back(
            {catheter->removedAt ? QObject::tr("%1 (out)").arg(name) : name, catheter->id.value()});
    }
    form_.addChoice("catheter_id", QObject::tr("Catheter"), catheters, old_.catheter.value());
    form_.addDate("at", QObject::tr("Day"), isCorrection_ ? old_.at.date : session_.today(),
                  session_.today());
    form_.addTime("at_time", QObject::tr("Time"),
                  isCorrection_ && old_.timeIsKnown ? std::optional(old_.at.minute) : std::nullopt);
    form_.addNote(QObject::tr("Leave the time empty where only the day was written down."));
    form_.addChoice("outcome", QObject::tr("What happened"),
                    choicesOf({DrainOutcome::Drained, DrainOutcome::Dry, DrainOutcome::NotDone},
                              [](DrainOutcome o) { return desk::words(o); }),
                    static_cast<qint64>(old_.outcome));
    form_.addNumber("volume_ml", QObject::tr("Volume"),
                    old_.volume ? std::optional(old_.volume->count()) : std::nullopt, QObject::tr("mL"));
    form_.addNote(QObject::tr("Leave the volume empty where nobody wrote it down: not known is not zero."));
    form_.addChoice("source", QObject::tr("Told by"),
                    choicesOf({EntrySource::HomeLog, EntrySource::Nurse, EntrySource::Phone},
                              [](EntrySource s) { return desk::words(s); }),
                    static_cast<qint64>(old_.source));
    form_.addLongText("note", QObject::tr("Note"), old_.note);
}

void DrainEntryForm::addSupplies(PatientId patient) {
    form_.addPage(QObject::tr("Supplies"));
    supplies_ = new ListEditor(
        QObject::tr("Add an item"),
        {{.name = QObject::tr("Item"), .choices = itemChoices(agency_->snapshot(), {}), .width = 230},
         {.name = QObject::tr("Used"), .width = 50},
         {.name = QObject::tr("Lost"), .width = 50},
         {.name = QObject::tr("Lot"),
          .choices = lotChoices(*agency_, patient, QObject::tr("not known")),
          .width = 200}},
        &form_);
    for (const BottleUse &use : old_.supplies)
        supplies_->addRow({QString::number(use.item.value()), QString::number(use.used.count()),
                           QString::number(use.lost.count()),
                           QString::number(use.lot ? use.lot->value() : 0)});
    form_.addWidget("supplies", QObject::tr("Used and lost"), supplies_);
    form_.addNote(
        QObject::tr("Used: opened and drained into. Lost: opened and wasted. Without a line here the plain "
                    "rule counts: the ordered kit, and further bottles by volume."));
}

void DrainEntryForm::addSigns() {
    form_.addPage(QObject::tr("Signs"));
    std::vector<qint64> told;
    for (const Symptom s : old_.symptoms)
        told.push_back(static_cast<qint64>(s));
    symptoms_ = makeCheckList(symptomChoices(), told, &form_);
    symptoms_->setFixedHeight(380);
    form_.addWidget("symptoms", QObject::tr("Told or seen"), symptoms_);
}

void DrainEntryForm::readSupplies(DrainEntry &entry) {
    entry.supplies.clear();
    for (int i = 0; i < supplies_->rowCount(); ++i) {
        const auto count = [&](int column) {
            return Eaches::of(readListedNumber(form_, "supplies", *supplies_, {i, column}).value_or(0));
        };
        entry.supplies.push_back(
            {ItemId(supplies_->choice(i, 0)), count(1), count(2), idOrNone<LotId>(supplies_->choice(i, 3))});
    }
}

DrainEntry DrainEntryForm::read() {
    DrainEntry entry = old_;
    entry.catheter = CatheterId(form_.choiceOf("catheter_id"));
    entry.at.date = form_.neededDateOf("at");
    const auto time = form_.timeOf("at_time");
    entry.timeIsKnown = time.has_value();
    entry.at.minute = time.value_or(Minutes());
    entry.outcome = static_cast<DrainOutcome>(form_.choiceOf("outcome"));
    const auto volume = form_.numberOf("volume_ml");
    entry.volume = volume ? std::optional(Millilitres::of(*volume)) : std::nullopt;
    entry.source = static_cast<EntrySource>(form_.choiceOf("source"));
    entry.note = form_.textOf("note");
    readSupplies(entry);
    entry.symptoms.clear();
    for (const qint64 s : checkedOf(*symptoms_))
        entry.symptoms.push_back(static_cast<Symptom>(s));
    return entry;
}

std::optional<std::vector<CallItem>> DrainEntryForm::run() {
    std::optional<std::vector<CallItem>> raised;
    form_.require({"catheter_id", "at"});
    form_.onSave([this] { return read(); },
                 [&](const DrainEntry &entry) -> std::optional<Problem> {
                     const auto problem = session_.write(
                         isCorrection_ ? QObject::tr("Corrected a drain") : QObject::tr("Logged a drain"),
                         [&](desk::Desk &d) {
                             auto logged = isCorrection_ ? d.correctDrain(old_.id, entry) : d.logDrain(entry);
                             if (logged)
                                 raised = logged->raised;
                             return logged;
                         });
                     return problem ? std::optional(atField(*problem, {"item_id", "used", "lost", "lot_id"},
                                                            "supplies"))
                                    : std::nullopt;
                 });
    form_.exec();
    return raised;
}

} // namespace

std::optional<std::vector<CallItem>> logDrain(QWidget *window, Session &session, PatientId patient,
                                              CatheterId preset, const DrainEntry *old) {
    return DrainEntryForm(window, session, patient, preset, old).run();
}

} // namespace kitround::ui
