#include "ui/people/SummaryTab.h"

#include "core/desk/views/DeadlineList.h"
#include "core/desk/views/LocalTimes.h"
#include "core/desk/views/NurseLeaving.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/views/SubstitutionView.h"
#include "core/desk/words/AwayWords.h"
#include "core/desk/words/OrderQuestionWords.h"
#include "core/desk/words/Words.h"
#include "ui/people/CareForms.h"
#include "ui/people/PatientForm.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/ReferralDialog.h"

#include <QLabel>
#include <QScrollArea>

namespace kitround::ui {
namespace {

class Facts { // "name: value" lines as a table
public:
    void add(const QString &name, const QString &value) {
        const QString shown = value.isEmpty() ? QStringLiteral("<i>%1</i>").arg(notKnown().toHtmlEscaped())
                                              : value.toHtmlEscaped();
        html_ +=
            QStringLiteral(
                "<tr><td style='padding:2px 24px 2px 0'>%1</td><td style='padding:2px 0'>%2</td></tr>")
                .arg(name.toHtmlEscaped(), QString(shown).replace(QLatin1Char('\n'), QStringLiteral("<br>")));
    }
    QString html() const { return QStringLiteral("<table>%1</table>").arg(html_); }

private:
    QString html_;
};

QString windowsText(const Patient &patient) {
    if (patient.windows.empty())
        return QObject::tr("any time of the visiting day");
    QStringList lines;
    for (const VisitWindow &w : patient.windows)
        lines << QObject::tr("%1 %2 to %3, %4")
                     .arg(desk::words(w.weekday), desk::timeText(w.from), desk::timeText(w.to),
                          w.isHard ? QObject::tr("only then") : QObject::tr("if possible"));
    return lines.join(QLatin1Char('\n'));
}

QString nurseText(const SnapshotIndex &index, const std::optional<NurseId> &id) {
    const Nurse *nurse = id ? index.nurse(*id) : nullptr;
    return nurse ? desk::nurseWithState(*nurse) : QObject::tr("none named");
}

// A guessed point makes every way to it a guess.
QString placeText(const Address &address) {
    if (!address.point)
        return {};
    switch (address.quality) {
    case PointQuality::Exact:
        return QObject::tr("known exactly");
    case PointQuality::StreetCentre:
        return QObject::tr("the middle of the street only: travel is a guess");
    case PointQuality::PostalAreaCentre:
        return QObject::tr("the middle of the postal area only: travel is a guess");
    }
    return {};
}

void addCare(Facts &facts, const Patient &p, const desk::Agency &agency) {
    const auto instant = [&](const std::optional<Instant> &at) {
        return at ? desk::momentText(desk::localTimeOf(agency, *at)) : QString();
    };
    const Hold *hold = desk::holdToTell(agency, p.id);
    facts.add(QObject::tr("Status"), hold ? QStringLiteral("%1; %2").arg(
                                                desk::words(p.status), desk::holdText(*hold, agency.today()))
                                          : desk::words(p.status));
    if (const QStringList carry = desk::carryLines(agency.index(), p.id); !carry.isEmpty())
        facts.add(QObject::tr("To carry"), carry.join(QLatin1Char('\n')));
    const bool isClockUnknown = p.status == CareStatus::Referred && !p.referredAt;
    facts.add(QObject::tr("Referred"), isClockUnknown ? desk::clockNotKnownText() : instant(p.referredAt));
    if (p.homeFrom)
        facts.add(QObject::tr("Home from"), instant(p.homeFrom));
    facts.add(QObject::tr("Start of care"),
              p.startOfCare ? desk::dayText(*p.startOfCare, agency.today()) : QString());
    if (p.exitedAt)
        facts.add(QObject::tr("Left service"),
                  QObject::tr("%1. %2").arg(instant(p.exitedAt), QString::fromStdString(p.exitReason)));
    facts.add(QObject::tr("In an emergency"), desk::words(p.emergencyPriority));
    facts.add(QObject::tr("Acuity"), desk::words(p.acuity));
    facts.add(QObject::tr("Allergies"), desk::allergiesText(p, agency.today()));
    facts.add(QObject::tr("Patient drains"), desk::words(p.patientCompetence));
    facts.add(QObject::tr("Caregiver drains"), desk::words(p.caregiverCompetence));
    facts.add(QObject::tr("Seen on"),
              p.competenceOn ? desk::dayText(*p.competenceOn, agency.today()) : QString());
}

QString factsHtml(const Patient &p, const desk::Agency &agency) {
    const SnapshotIndex &index = agency.index();
    Facts facts;
    for (const safety::OrderQuestion &question : safety::orderQuestions(index))
        if (question.patient == p.id)
            facts.add(QObject::tr("To confirm"), desk::questionText(question, index));
    facts.add(QObject::tr("Reference"), QString::fromStdString(p.code));
    addCare(facts, p, agency);
    facts.add(QObject::tr("Main nurse"), nurseText(index, p.primaryNurse));
    facts.add(QObject::tr("Second nurse"), nurseText(index, p.backupNurse));
    if (!p.assignmentReason.empty())
        facts.add(QObject::tr("Why these nurses"), QString::fromStdString(p.assignmentReason));
    QStringList barred;
    for (const NurseId nurse : p.barredNurses)
        barred << nurseText(index, nurse);
    if (!barred.isEmpty())
        facts.add(QObject::tr("Never to be sent"), barred.join(QStringLiteral("; ")));
    facts.add(QObject::tr("Nurses a visit"),
              p.needsTwoNurses ? QObject::tr("always two") : QObject::tr("one"));
    facts.add(QObject::tr("Date of birth"), p.bornOn ? desk::dayText(*p.bornOn, agency.today()) : QString());
    facts.add(QObject::tr("Gender"), genderText(p.gender));
    facts.add(QObject::tr("Phone"), QString::fromStdString(p.phone));
    facts.add(QObject::tr("Address"), addressText(p.address));
    facts.add(QObject::tr("Place on the map"), placeText(p.address));
    facts.add(QObject::tr("How to get in"), p.address.accessNotes.empty()
                                                ? QObject::tr("no notes")
                                                : QString::fromStdString(p.address.accessNotes));
    facts.add(QObject::tr("Languages"), p.languages.empty() ? QString() : languageNames(p.languages));
    facts.add(QObject::tr("Can be visited"), windowsText(p));
    for (const Substitution &s : agency.snapshot().substitutions)
        if (const Catheter *catheter = index.catheter(s.catheter);
            catheter && catheter->patient == p.id && !s.revertedOn)
            facts.add(QObject::tr("Stands in"), desk::substitutionText(agency, s));
    const Payer *payer = index.payer(p.payer);
    facts.add(QObject::tr("Payer"), payer ? QString::fromStdString(payer->name) : QString());
    facts.add(QObject::tr("Courier"), p.allowsCourier ? QObject::tr("may bring supplies")
                                                      : QObject::tr("no courier; with a visit only"));
    if (!p.notes.empty())
        facts.add(QObject::tr("Notes"), QString::fromStdString(p.notes));
    return facts.html();
}

} // namespace

SummaryTab::SummaryTab(Session &session, QWidget *parent) : RecordTab(session, parent) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, Look::kInside, 0, 0);
    auto *row = new QHBoxLayout;
    edit_ = addButton(row, QStringLiteral("patientEdit"), tr("Edit…"), [this] {
        if (const Patient *p = this->patient())
            editPatient(this, this->session(), *p);
    });
    auto *holdRow = new QHBoxLayout; // empty where there is no hold: one row of all would be too wide
    addHoldSteps(row, holdRow);
    leave_ = addButton(row, QStringLiteral("patientExit"), tr("Leaves service…"), [this] {
        if (const Patient *p = this->patient())
            if (leaveService(this, this->session(), *p))
                Q_EMIT stepDone();
    });
    back_ = addButton(row, QStringLiteral("patientBack"), tr("Left by mistake…"), [this] {
        if (const Patient *p = this->patient())
            if (backOnService(this, this->session(), *p))
                Q_EMIT stepDone();
    });
    places_ = addButton(row, QStringLiteral("patientPlaces"), tr("Who can visit?"), [this] {
        if (const Patient *p = this->patient())
            ReferralDialog(this->session(), p->id, this).exec();
    });
    row->addStretch(1);
    holdRow->addStretch(1);
    layout->addLayout(row);
    layout->addLayout(holdRow);
    auto *area = new QScrollArea(this);
    area->setWidgetResizable(true);
    area->setFrameShape(QFrame::NoFrame);
    facts_ = new QLabel(area);
    facts_->setObjectName(QStringLiteral("patientFacts"));
    facts_->setAccessibleName(tr("What is known of the patient"));
    facts_->setTextFormat(Qt::RichText);
    facts_->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    facts_->setAlignment(Qt::AlignTop | Qt::AlignLeft);
    facts_->setWordWrap(true);
    area->setWidget(facts_);
    layout->addWidget(area, 1);
}

void SummaryTab::addHoldSteps(QHBoxLayout *row, QHBoxLayout *holdRow) {
    hold_ = addButton(row, QStringLiteral("patientHold"), tr("Put on hold…"), [this] {
        if (const Patient *p = this->patient())
            if (putOnHold(this, this->session(), *p))
                Q_EMIT stepDone();
    });
    endHold_ = addButton(holdRow, QStringLiteral("patientEndHold"), tr("End the hold…"), [this] {
        const Patient *p = this->patient();
        const desk::AgencyPtr agency = this->session().agency();
        if (const Hold *hold = p ? agency->index().holdOn(p->id, agency->today()) : nullptr)
            if (endHold(this, this->session(), *p, *hold))
                Q_EMIT stepDone();
    });
    changeHold_ = addButton(holdRow, QStringLiteral("patientChangeHold"), tr("Change the hold…"), [this] {
        const Patient *p = this->patient();
        const Hold *hold = p ? desk::holdToTell(*this->session().agency(), p->id) : nullptr;
        if (hold && changeHold(this, this->session(), *p, *hold))
            Q_EMIT stepDone();
    });
    callOff_ = addButton(holdRow, QStringLiteral("patientCallOffHold"), tr("Call the hold off…"), [this] {
        const Patient *p = this->patient();
        const Hold *hold = p ? desk::holdToTell(*this->session().agency(), p->id) : nullptr;
        if (hold && callOffHold(this, this->session(), *p, *hold))
            Q_EMIT stepDone();
    });
}

void SummaryTab::fill() {
    const Patient *p = patient();
    if (!p)
        return;
    const desk::AgencyPtr agency = session().agency();
    facts_->setText(factsHtml(*p, *agency));
    const bool mayWrite = !session().isReadOnly();
    const bool isOnHold = agency->index().holdOn(p->id, agency->today()) != nullptr;
    edit_->setEnabled(mayWrite);
    const bool hasHold = isOnService(p->status) && desk::holdToTell(*agency, p->id) != nullptr;
    hold_->setVisible(!hasHold && isOnService(p->status));
    endHold_->setVisible(isOnHold);
    changeHold_->setVisible(hasHold);
    callOff_->setVisible(hasHold && !isOnHold);
    leave_->setVisible(isOnService(p->status));
    back_->setVisible(isExit(p->status));
    places_->setVisible(isOnService(p->status));
    places_->setText(p->status == CareStatus::Referred ? tr("Who can take this referral?")
                                                       : tr("Who can visit?"));
    for (QPushButton *button : {hold_, endHold_, changeHold_, callOff_, leave_, back_})
        button->setEnabled(mayWrite);
}

} // namespace kitround::ui
