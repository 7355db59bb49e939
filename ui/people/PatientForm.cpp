#include "ui/people/PatientForm.h"

#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QLineEdit>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr qint64 kNone = -1;

std::vector<Choice> competenceChoices() {
    return choicesOf({Competence::None, Competence::Shown, Competence::Helped, Competence::Alone},
                     [](Competence c) { return desk::words(c); });
}

// How ill somebody is, and how soon to be reached, is judged by a person: until then the record says so.
template <class Enum>
void addJudged(RecordForm &form, const std::string &field, const QString &label,
               std::initializer_list<Enum> values, std::optional<Enum> value) {
    std::vector<Choice> choices = choicesOf(values, [](Enum e) { return desk::words(e); });
    choices.insert(choices.begin(), {QObject::tr("not assessed yet"), kNone});
    form.addChoice(field, label, choices, value ? static_cast<qint64>(*value) : kNone);
}
template <class Enum>
std::optional<Enum> judgedOf(const RecordForm &form, const std::string &field) {
    const qint64 value = form.choiceOf(field);
    return value == kNone ? std::nullopt : std::optional(static_cast<Enum>(value));
}

class PatientForm {
public:
    PatientForm(QWidget *window, Session &session, const Patient &patient)
        : session_(session), agency_(session.agency()), patient_(patient),
          form_(patient.id.isSet()
                    ? QObject::tr("Patient: %1").arg(desk::personName(patient, agency_->index()))
                    : QObject::tr("New patient"),
                window) {
        addWho();
        addHome();
        addCare();
        addNurses();
    }
    std::optional<PatientId> run(const std::string &startAt);

private:
    void addWho();
    void addHome();
    void addCare();
    void addReferral(QComboBox &status);
    // As Desk::save has it: what came without its day is not stopped by that.
    bool isReferralAsked(CareStatus status) const {
        const bool cameWithout =
            patient_.id.isSet() && patient_.status == CareStatus::Referred && !patient_.referredAt;
        return status == CareStatus::Referred && !cameWithout;
    }
    void addNurses();
    void addWindows();
    Patient read();
    bool isMeant(const Patient &record);
    void readWindows(Patient &record);
    std::optional<LocalTime> local(const std::optional<Instant> &at) const {
        return at ? std::optional(desk::localTimeOf(*agency_, *at)) : std::nullopt;
    }
    std::optional<Instant> readInstant(const std::string &field) {
        const auto at = readMoment(form_, field);
        return at ? std::optional(desk::instantOf(*agency_, *at)) : std::nullopt;
    }

    Session &session_;
    desk::AgencyPtr agency_; // kept while the form is open, whatever is reloaded meanwhile
    Patient patient_;
    RecordForm form_;
    ListEditor *windows_ = nullptr;
    QListWidget *allergies_ = nullptr;
    QListWidget *barred_ = nullptr;
};

void PatientForm::addWho() {
    form_.addPage(QObject::tr("Who"));
    form_.addText("code", QObject::tr("Reference"), patient_.code);
    form_.addText("family_name", QObject::tr("Family name"), patient_.familyName);
    form_.addText("given_name", QObject::tr("Given name"), patient_.givenName);
    form_.addDate("born_on", QObject::tr("Date of birth"), patient_.bornOn, session_.today());
    form_.addChoice("gender", QObject::tr("Gender"), genderChoices(notKnown()), genderValue(patient_.gender));
    form_.addText("phone", QObject::tr("Phone"), patient_.phone);
    form_.addText("languages", QObject::tr("Languages"), languagesText(patient_.languages))
        ->setPlaceholderText(QObject::tr("en, es: the preferred first; empty is not known"));
    std::vector<Choice> payers;
    for (const Payer &payer : agency_->snapshot().payers)
        payers.push_back({QString::fromStdString(payer.name), payer.id.value()});
    if (payers.empty())
        form_.addNote(QObject::tr("There is no payer yet: add one under Items and suppliers, Payers."));
    qint64 payer = patient_.payer.value();
    if (!patient_.payer.isSet() && payers.size() == 1)
        payer = payers.front().value;
    form_.addChoice("payer_id", QObject::tr("Payer"), payers, payer);
    form_.addLongText("notes", QObject::tr("Notes"), patient_.notes);
}

void PatientForm::addHome() {
    form_.addPage(QObject::tr("Home and windows"));
    addAddress(form_, patient_.address);
    addWindows();
    form_.addCheck("allows_courier", QObject::tr("A courier may bring supplies"), patient_.allowsCourier);
}

void PatientForm::addWindows() {
    windows_ = new ListEditor(QObject::tr("Add a window"),
                              {{.name = QObject::tr("Weekday"), .choices = weekdayChoices(), .width = 80},
                               {.name = QObject::tr("From"), .width = 70},
                               {.name = QObject::tr("Until"), .width = 70},
                               {.name = QObject::tr("Strictness"),
                                .choices = {{QObject::tr("Only then"), 1}, {QObject::tr("If possible"), 0}},
                                .width = 120}},
                              &form_);
    for (const VisitWindow &w : patient_.windows)
        windows_->addRow({QString::number(static_cast<int>(w.weekday)), desk::timeText(w.from),
                          desk::timeText(w.to), QString::number(w.isHard ? 1 : 0)});
    form_.addWidget("windows", QObject::tr("Can be visited"), windows_);
    form_.addNote(QObject::tr("No window at all means any time of the visiting day."));
}

void PatientForm::addCare() {
    form_.addPage(QObject::tr("Care"));
    if (patient_.status == CareStatus::Referred)
        for (const IntakeClosure &closure : agency_->snapshot().intakeClosures)
            if (closure.covers(agency_->today()))
                form_.addNote(desk::closedText(closure));
    std::vector<CareStatus> states = {CareStatus::Referred, CareStatus::Active};
    if (isExit(patient_.status))
        states.push_back(patient_.status);
    std::vector<Choice> statusChoices;
    for (const CareStatus s : states)
        statusChoices.push_back({desk::words(s), static_cast<qint64>(s)});
    QComboBox *status =
        form_.addChoice("status", QObject::tr("Status"), statusChoices, static_cast<qint64>(patient_.status));
    addReferral(*status);
    addMoment(form_, "home_from", QObject::tr("Home from, if later"), local(patient_.homeFrom),
              session_.today());
    form_.addNote(
        QObject::tr("The first visit is due within the hours set in Settings from the referral or from the "
                    "return home, not from the entry here."));
    form_.addDate("start_of_care", QObject::tr("Start of care"), patient_.startOfCare, session_.today());
    addJudged(form_, "acuity", QObject::tr("Acuity"), {Acuity::Low, Acuity::Medium, Acuity::High},
              patient_.acuity);
    addJudged(form_, "emergency_priority", QObject::tr("In an emergency"),
              {EmergencyPriority::First, EmergencyPriority::Second, EmergencyPriority::Third},
              patient_.emergencyPriority);
    std::vector<qint64> allergic;
    for (const Material m : patient_.allergies)
        allergic.push_back(static_cast<qint64>(m));
    allergies_ = makeCheckList(materialChoices(), allergic, &form_);
    form_.addWidget("allergies", QObject::tr("Allergic to"), allergies_);
    form_.addDate("no_allergies_on", QObject::tr("None known, asked on"), patient_.noAllergiesOn,
                  session_.today());
    form_.addNote(QObject::tr("Nothing ticked and no day: nobody has asked yet, and it is shown so."));
    form_.addChoice("patient_competence", QObject::tr("Patient drains"), competenceChoices(),
                    static_cast<qint64>(patient_.patientCompetence));
    form_.addChoice("caregiver_competence", QObject::tr("Caregiver drains"), competenceChoices(),
                    static_cast<qint64>(patient_.caregiverCompetence));
    form_.addDate("competence_on", QObject::tr("Seen on"), patient_.competenceOn, session_.today());
}

// A new referral has mostly just come. Of who is in care already nobody knows when it came: what was proposed
// is taken out again, for it would count as a first visit in time.
void PatientForm::addReferral(QComboBox &status) {
    const bool isNew = !patient_.id.isSet();
    const std::optional<LocalTime> at = isNew ? session_.now() : local(patient_.referredAt);
    const MomentFields fields =
        addMoment(form_, "referred_at", QObject::tr("Referred on"), at, session_.today());
    const auto follow = [this, fields, isNew, at, day = fields.day->text(), time = fields.time->text()] {
        const auto chosen = static_cast<CareStatus>(form_.choiceOf("status"));
        const bool isReferral = chosen == CareStatus::Referred;
        form_.setRequired("referred_at", isReferralAsked(chosen));
        const bool isEmpty = fields.day->text().isEmpty() && fields.time->text().isEmpty();
        const bool isProposed = fields.day->text() == day && fields.time->text() == time;
        if (!isNew || !(isReferral ? isEmpty : isProposed))
            return;
        fields.day->setDate(isReferral ? std::optional(at->date) : std::nullopt);
        fields.time->setText(isReferral ? time : QString());
    };
    QObject::connect(&status, &QComboBox::currentIndexChanged, &form_, follow);
    follow();
}

void PatientForm::addNurses() {
    form_.addPage(QObject::tr("Nurses"));
    std::vector<Choice> nurses = nurseChoices(agency_->snapshot(), QObject::tr("None"));
    for (Choice &nurse : nurses) // whom it would burden
        if (nurse.value > 0)
            nurse.text = QObject::tr("%1 (%2 own patients)")
                             .arg(nurse.text)
                             .arg(std::ranges::count_if(agency_->snapshot().patients, [&](const Patient &p) {
                                 return isOnService(p.status) && p.primaryNurse == NurseId(nurse.value);
                             }));
    const auto valueOf = [](const std::optional<NurseId> &n) { return n ? n->value() : 0; };
    form_.addChoice("primary_nurse_id", QObject::tr("Main nurse"), nurses, valueOf(patient_.primaryNurse));
    form_.addChoice("backup_nurse_id", QObject::tr("Second nurse"), nurses, valueOf(patient_.backupNurse));
    form_.addLongText("assignment_reason", QObject::tr("Why these nurses"), patient_.assignmentReason);
    form_.addChoice("nurse_gender_wish", QObject::tr("Wishes a nurse who is"),
                    genderChoices(QObject::tr("No wish")), genderValue(patient_.nurseGenderWish));
    form_.addCheck("needs_two_nurses", QObject::tr("Every visit by two nurses, for safety"),
                   patient_.needsTwoNurses);
    std::vector<qint64> barred;
    for (const NurseId nurse : patient_.barredNurses)
        barred.push_back(nurse.value());
    barred_ = makeCheckList(nurseChoices(agency_->snapshot(), {}), barred, &form_);
    form_.addWidget("barred_nurses", QObject::tr("Never to be sent"), barred_);
}

void PatientForm::readWindows(Patient &record) {
    record.windows.clear();
    for (int i = 0; i < windows_->rowCount(); ++i) {
        const auto time = [&](int column) {
            return readNeededListedTime(form_, "windows", *windows_, {i, column});
        };
        record.windows.push_back(
            {static_cast<Weekday>(windows_->choice(i, 0)), time(1), time(2), windows_->choice(i, 3) == 1});
    }
}

Patient PatientForm::read() {
    Patient r = patient_;
    r.code = form_.textOf("code");
    r.familyName = form_.textOf("family_name");
    r.givenName = form_.textOf("given_name");
    r.bornOn = form_.dateOf("born_on");
    r.gender = genderOf(form_.choiceOf("gender"));
    r.phone = form_.textOf("phone");
    r.languages = readLanguages(form_, "languages");
    r.payer = PayerId(form_.choiceOf("payer_id"));
    if (!r.payer.isSet())
        form_.addReadFault({ProblemCode::Missing, "payer_id"});
    r.notes = form_.textOf("notes");
    r.address = readAddress(form_, patient_.address);
    readWindows(r);
    r.allowsCourier = form_.checkOf("allows_courier");
    r.status = static_cast<CareStatus>(form_.choiceOf("status"));
    if (isOnService(r.status)) { // back on service
        r.exitedAt.reset();
        r.exitReason.clear();
    }
    r.referredAt = readInstant("referred_at");
    if (isReferralAsked(r.status) && form_.textOf("referred_at").empty())
        form_.addReadFault({ProblemCode::Missing, "referred_at"});
    r.homeFrom = readInstant("home_from");
    r.startOfCare = form_.dateOf("start_of_care");
    r.acuity = judgedOf<Acuity>(form_, "acuity");
    r.emergencyPriority = judgedOf<EmergencyPriority>(form_, "emergency_priority");
    r.noAllergiesOn = form_.dateOf("no_allergies_on");
    r.allergies.clear();
    for (const qint64 material : checkedOf(*allergies_))
        r.allergies.push_back(static_cast<Material>(material));
    r.patientCompetence = static_cast<Competence>(form_.choiceOf("patient_competence"));
    r.caregiverCompetence = static_cast<Competence>(form_.choiceOf("caregiver_competence"));
    r.competenceOn = form_.dateOf("competence_on");
    r.primaryNurse = idOrNone<NurseId>(form_.choiceOf("primary_nurse_id"));
    r.backupNurse = idOrNone<NurseId>(form_.choiceOf("backup_nurse_id"));
    r.assignmentReason = form_.textOf("assignment_reason");
    r.nurseGenderWish = genderOf(form_.choiceOf("nurse_gender_wish"));
    r.needsTwoNurses = form_.checkOf("needs_two_nurses");
    r.barredNurses.clear();
    for (const qint64 nurse : checkedOf(*barred_))
        r.barredNurses.push_back(NurseId(nurse));
    return r;
}

// A record that looks like one that is there already is saved only on purpose.
bool PatientForm::isMeant(const Patient &record) {
    const Patient *other = desk::sameName(*agency_, record);
    if (!other)
        return true;
    return Ask::confirm(&form_, QObject::tr("Is this another person?"), desk::sameNameText(*agency_, *other),
                        QObject::tr("Another person: save"), QObject::tr("Go back"));
}

std::optional<PatientId> PatientForm::run(const std::string &startAt) {
    std::optional<PatientId> stored;
    form_.require({"code", "family_name", "payer_id"});
    form_.onSave(
        [this] { return read(); },
        [&](const Patient &record) -> std::optional<Problem> {
            if (!isMeant(record))
                return Problem{ProblemCode::Cancelled, "family_name", {}};
            if (record.address.point != patient_.address.point &&
                !isPlaceMeant(&form_, desk::oddPlaceText(record.address.point, agency_->settings())))
                return Problem{ProblemCode::Cancelled, "longitude", {}};
            const IntakeClosure *closure =
                record.status == CareStatus::Referred && !record.id.isSet()
                    ? desk::closureOf(*agency_, record.address.area, agency_->today())
                    : nullptr;
            if (closure &&
                !Ask::confirm(&form_, QObject::tr("This area is closed"), desk::closedText(*closure),
                              QObject::tr("Put it on the wait list"), QObject::tr("Go back")))
                return Problem{ProblemCode::Cancelled, "area", {}};
            const auto problem = session_.write(
                QObject::tr("Saved the record of %1").arg(desk::personName(record)), [&](desk::Desk &d) {
                    auto saved = d.save(record);
                    if (saved)
                        stored = saved->id;
                    return saved;
                });
            return problem ? std::optional(atField(*problem, {"from", "to"}, "windows")) : std::nullopt;
        });
    if (!startAt.empty())
        form_.lookAt(startAt);
    form_.exec();
    return stored;
}

} // namespace

std::optional<PatientId> editPatient(QWidget *window, Session &session, const Patient &patient,
                                     const std::string &startAt) {
    return PatientForm(window, session, patient).run(startAt);
}

} // namespace kitround::ui
