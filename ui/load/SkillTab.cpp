#include "ui/load/SkillTab.h"

#include "ui/load/PlainTable.h"
#include "ui/shared/Look.h"
#include "ui/shared/Printing.h"
#include "ui/shared/Session.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>

namespace kitround::ui {

SkillTab::SkillTab(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    skills_ = new PlainTable(QStringLiteral("skillTable"), tr("Skills by nurse"), this);
    layout->addWidget(skills_, 3);
    auto *csv = new QPushButton(tr("Save as CSV…"), this);
    csv->setObjectName(QStringLiteral("skillCsv"));
    layout->addWidget(csv, 0, Qt::AlignRight);
    auto *heading = new QLabel(
        tr("Visits by two nurses, planned and of the last %1 weeks").arg(desk::kJointWeeksBack), this);
    heading->setFont(Look::strongFont());
    layout->addWidget(heading);
    joint_ = new PlainTable(QStringLiteral("jointTable"), tr("Visits by two nurses"), this);
    layout->addWidget(joint_, 2);
    connect(csv, &QPushButton::clicked, this, &SkillTab::saveCsv);
    connect(skills_, &PlainTable::opened, this, [this](int at) {
        Q_EMIT nurseOpened(shownSkills_.rows[static_cast<std::size_t>(at)].nurse.value());
    });
    connect(joint_, &PlainTable::opened, this, [this](int at) {
        Q_EMIT patientOpened(shownJoint_[static_cast<std::size_t>(at)].patient.value());
    });
}

void SkillTab::show(const desk::Agency &agency, const desk::SkillMatrix &skills,
                    const std::vector<desk::JointVisit> &joint) {
    shownSkills_ = skills;
    shownJoint_ = joint;
    skills_->setTable(desk::skillTable(skills, agency), 0);
    joint_->setTable(
        desk::jointVisitTable(joint, agency, desk::PatientNamed::InFull), 5,
        tr("None. A visit is planned for two nurses at once where the patient's record or the visit "
           "order asks for two."));
}

void SkillTab::saveCsv() {
    if (const desk::AgencyPtr agency = session_.agency())
        saveTable(this, session_, desk::skillTable(desk::skillMatrix(*agency), *agency));
}

} // namespace kitround::ui
