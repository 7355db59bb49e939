#pragma once
// What each nurse may do, and who goes with whom: skills with their ends, and visits by two nurses.
#include "core/desk/views/JointVisits.h"
#include "core/desk/views/SkillMatrix.h"

#include <QWidget>

namespace kitround::ui {

class PlainTable;
class Session;

class SkillTab : public QWidget {
    Q_OBJECT
public:
    explicit SkillTab(Session &session, QWidget *parent = nullptr);
    void show(const desk::Agency &agency, const desk::SkillMatrix &skills,
              const std::vector<desk::JointVisit> &joint);

Q_SIGNALS:
    void nurseOpened(qint64 nurse);
    void patientOpened(qint64 patient);

private:
    void saveCsv();

    Session &session_;
    PlainTable *skills_, *joint_;
    desk::SkillMatrix shownSkills_;
    std::vector<desk::JointVisit> shownJoint_;
};

} // namespace kitround::ui
