#include "ui/people/NurseForm.h"

#include "core/desk/views/NurseLeaving.h"
#include "core/desk/words/Figures.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"

#include <QCheckBox>
#include <QLineEdit>

namespace kitround::ui {
namespace {

constexpr qint64 kNone = -1;
constexpr std::int64_t kMlPerLitre = 1000;

ListEditor *makeSkills(const Nurse &nurse, QWidget *parent) {
    auto *editor = new ListEditor(QObject::tr("Add a skill"),
                                  {{.name = QObject::tr("Skill"), .choices = skillChoices(), .width = 200},
                                   {.name = QObject::tr("Valid until, YYYY-MM-DD"), .width = 170}},
                                  parent);
    for (const SkillGrant &grant : nurse.skills)
        editor->addRow(
            {QString::number(static_cast<int>(grant.skill)),
             grant.expiresOn ? QString::fromStdString(grant.expiresOn->plusDays(-1).toIso()) : QString()});
    return editor;
}

std::vector<SkillGrant> readSkills(RecordForm &form, const ListEditor &editor) {
    std::vector<SkillGrant> skills;
    for (int i = 0; i < editor.rowCount(); ++i) {
        SkillGrant grant;
        grant.skill = static_cast<Skill>(editor.choice(i, 0));
        if (const auto last = readListedDate(form, "skills", editor, {i, 1}))
            grant.expiresOn = last->plusDays(1); // the form says the last valid day
        skills.push_back(grant);
    }
    return skills;
}

void addWho(RecordForm &form, const Nurse &nurse) {
    form.addText("code", QObject::tr("Reference"), nurse.code);
    form.addText("family_name", QObject::tr("Family name"), nurse.familyName);
    form.addText("given_name", QObject::tr("Given name"), nurse.givenName);
    form.addText("phone", QObject::tr("Phone"), nurse.phone);
    form.addChoice("credential", QObject::tr("Credential"),
                   choicesOf({Credential::RegisteredNurse, Credential::PracticalNurse, Credential::Aide},
                             [](Credential c) { return desk::words(c); }),
                   nurse.id.isSet() ? static_cast<qint64>(nurse.credential) : kNone); // nobody's by default
    form.addChoice("gender", QObject::tr("Gender"), genderChoices(notKnown()), genderValue(nurse.gender));
    form.addText("languages", QObject::tr("Languages"), languagesText(nurse.languages))
        ->setPlaceholderText(QObject::tr("en, es: the preferred first"));
    form.addCheck("is_active", QObject::tr("Works here now"), nurse.isActive);
}

void addWork(RecordForm &form, const Nurse &nurse) {
    form.addNumber("contract_min", QObject::tr("Contract a week"), std::nullopt,
                   QObject::tr("h (37.5 is 37 h 30 min)"))
        ->setText(desk::hoursText(nurse.contractPerWeek));
    form.addNumber("most_visits_a_day", QObject::tr("Most visits a day"), nurse.mostVisitsADay,
                   QObject::tr("visits"));
    form.addNumber("car_space_l", QObject::tr("Car space for supplies"), nurse.carSpaceMl / kMlPerLitre,
                   QObject::tr("L"));
    form.addCheck("overtime_exempt", QObject::tr("Exempt from overtime"), nurse.overtimeExempt);
    form.addHeading(QObject::tr("Where the day starts and ends"));
    auto *starts =
        form.addCheck("starts_at_storeroom", QObject::tr("Starts at the storeroom"), nurse.startsAtStoreroom);
    auto *meaning = new WrappedLabel({}, &form);
    form.addWidget("base_is", QObject::tr("The address below"), meaning);
    const auto follow = [starts, meaning] {
        meaning->setText(starts->isChecked()
                             ? QObject::tr("is where the day ends. Left empty, it ends at the storeroom.")
                             : QObject::tr("is where the day starts and ends."));
    };
    QObject::connect(starts, &QCheckBox::toggled, meaning, follow);
    follow();
    addAddress(form, nurse.base);
}

Minutes readContract(RecordForm &form) {
    const auto hours = desk::hoursFrom(QString::fromStdString(form.textOf("contract_min")), "contract_min");
    if (!hours)
        form.addReadFault(hours.error());
    return hours ? *hours : Minutes();
}

// What is still with a nurse who is marked as gone is read before it is saved.
bool isLeavingMeant(QWidget *form, const desk::Agency &agency, const Nurse &before, const Nurse &now) {
    const QString question = before.id.isSet() && before.isActive && !now.isActive
                                 ? desk::leavingQuestion(agency, before)
                                 : QString();
    return question.isEmpty() ||
           Ask::confirm(form, QObject::tr("%1 no longer works here?").arg(desk::personName(before)), question,
                        QObject::tr("No longer works here"), QObject::tr("Back to the form"));
}

// The record counts minutes; who typed hours is answered in hours.
Problem inHours(Problem problem) {
    if (problem.field == "contract_min")
        for (std::string &arg : problem.args)
            if (const auto minutes = desk::wholeNumberFrom(QString::fromStdString(arg)))
                arg = desk::hoursText(Minutes::of(*minutes)).toStdString();
    for (Problem &other : problem.also)
        other = inHours(std::move(other));
    return problem;
}

Nurse readNurse(RecordForm &form, Nurse record, const ListEditor &skills) {
    record.code = form.textOf("code");
    record.familyName = form.textOf("family_name");
    record.givenName = form.textOf("given_name");
    record.phone = form.textOf("phone");
    record.credential = static_cast<Credential>(form.neededChoiceOf("credential"));
    record.gender = genderOf(form.choiceOf("gender"));
    record.languages = readLanguages(form, "languages");
    record.isActive = form.checkOf("is_active");
    record.skills = readSkills(form, skills);
    record.contractPerWeek = readContract(form);
    record.mostVisitsADay =
        static_cast<int>(std::clamp<std::int64_t>(form.neededNumberOf("most_visits_a_day"), -1, 1000));
    const std::int64_t litres = form.neededNumberOf("car_space_l");
    // A part of a litre that a form cannot show is kept where nobody changed the figure.
    if (litres != record.carSpaceMl / kMlPerLitre)
        record.carSpaceMl = std::clamp<std::int64_t>(litres, -1, 1'000'000) * kMlPerLitre;
    record.overtimeExempt = form.checkOf("overtime_exempt");
    record.startsAtStoreroom = form.checkOf("starts_at_storeroom");
    record.base = readAddress(form, record.base);
    return record;
}

} // namespace

std::optional<NurseId> editNurse(QWidget *window, Session &session, Nurse nurse) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(nurse.id.isSet() ? QObject::tr("Nurse: %1").arg(desk::personName(nurse))
                                     : QObject::tr("New nurse"),
                    window);
    form.addPage(QObject::tr("Who"));
    addWho(form, nurse);
    form.addPage(QObject::tr("Skills"));
    auto *skills = makeSkills(nurse, &form);
    form.addWidget("skills", QObject::tr("Signed off for"), skills);
    form.addNote(
        QObject::tr("A skill counts up to and including its last valid day; empty does not expire."));
    form.addPage(QObject::tr("Work and start"));
    addWork(form, nurse);
    std::optional<NurseId> stored;
    form.require({"code", "family_name", "credential", "contract_min", "most_visits_a_day", "car_space_l"});
    form.onSave([&] { return readNurse(form, nurse, *skills); },
                [&](const Nurse &record) -> std::optional<Problem> {
                    if (record.base.point != nurse.base.point &&
                        !isPlaceMeant(&form, desk::oddPlaceText(record.base.point, agency->settings())))
                        return Problem{ProblemCode::Cancelled, "longitude", {}};
                    if (!isLeavingMeant(&form, *agency, nurse, record))
                        return Problem{ProblemCode::Cancelled, "is_active", {}};
                    const auto problem =
                        session.write(QObject::tr("Saved the record of %1").arg(desk::personName(record)),
                                      [&](desk::Desk &d) {
                                          auto saved = d.save(record);
                                          if (saved)
                                              stored = saved->id;
                                          return saved;
                                      });
                    return problem
                               ? std::optional(inHours(atField(*problem, {"car_space_ml"}, "car_space_l")))
                               : std::nullopt;
                });
    form.exec();
    return stored;
}

} // namespace kitround::ui
