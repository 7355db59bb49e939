#pragma once
// Everything the manager's meeting looks at besides the week's load itself: weeks gone by and planned side by
// side, travel by area, weeks ahead, frequency compliance, deadlines and the on-call rota.
#include "core/caseload/Compliance.h"
#include "core/caseload/OnCall.h"
#include "core/caseload/Quality.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/DeadlineList.h"
#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/JointVisits.h"
#include "core/desk/views/QualityView.h"
#include "core/desk/views/SkillMatrix.h"
#include "core/desk/views/WeeksAhead.h"

#include <QString>

#include <vector>

namespace kitround::desk {

// Points are the measure that weeks done and weeks planned have in common: minutes of travel are planned, but
// after the visit only the miles are on record.
struct HeatCell {
    double points = 0, inFull = 0; // inFull: by contract, less time off and holidays
    int visits = 0;
    bool isAway = false; // no capacity and no visits; the sign says why
    caseload::LoadSign sign = caseload::LoadSign::Free;
    double share() const { return inFull > 0 ? points / inFull : 0; }
};
struct LoadHeat {
    std::vector<DateRange> weeks; // four gone by, then up to and with the week in hand
    struct Row {
        NurseId nurse;
        QString name;
        std::vector<HeatCell> cells; // by week
    };
    std::vector<Row> rows;          // by name
    std::vector<double> gini, jain; // by week
};
LoadHeat loadHeat(const WeekPicture &week);
QString heatText(const HeatCell &cell);           // "18.3 (73 %)", "away", "no shifts"
QString heatWeekText(DateRange week, Date today); // "Mon 7 Dec, planned"
Table heatTable(const LoadHeat &heat, const Agency &agency);

// Rural and urban rounds are not compared by visits a day: each area stands by itself.
struct AreaTravel {
    AreaKind area = AreaKind::Urban;
    int patients = 0;
    int visits = 0; // planned and made; what two nurses make at once counts for each
    int second = 0; // of them as the second nurse
    Minutes direct, travel;
    Metres driven;        // a planned way home counts to the last visit's area
    double nurseDays = 0; // a day in two areas is shared out by its visits
    double visitsADay = 0, travelPerVisit = 0, milesPerVisit = 0;
};
std::vector<AreaTravel> travelByArea(const WeekPicture &week);
Table areaTable(const std::vector<AreaTravel> &areas);
// Mean travel of a placed visit; nothing where most of the week is not planned.
std::optional<Minutes> travelPerVisit(const WeekPicture &week);

Table complianceTable(const caseload::Compliance &compliance, const Agency &agency,
                      PatientNamed named = PatientNamed::Initials);
Table missedTable(const caseload::Compliance &compliance, const Agency &agency,
                  PatientNamed named = PatientNamed::Initials);
QString words(caseload::CallKind kind);
QString tooShortRestText(); // the mark of a turn on call with too little rest after it
struct OnCallReview {
    std::vector<caseload::CallDuty> duties; // four weeks from today
    std::vector<Date> bare;                 // days of those on which nobody is on call
    caseload::CallFairness fairness;        // those and the twelve weeks before
};
OnCallReview onCallReview(const Agency &agency);
// "Nobody is on call on 3 days: Sun 22 Nov; Tue 24 Nov to Wed 25 Nov."; empty where somebody always is, and
// where nobody is at all.
QString bareDaysText(const OnCallReview &review);
Table onCallTable(const OnCallReview &review, const Agency &agency);
Table callFairnessTable(const caseload::CallFairness &fairness, const Agency &agency);
// Visible weights: what a visit of each kind counts.
QString weightsText(const AgencySettings &settings);

struct ManagerReview {
    WeekPicturePtr week;
    caseload::LoadReview load;
    LoadHeat heat;
    std::vector<AreaTravel> areas;
    WeeksAhead ahead;
    IntakeCapacity intake;
    caseload::Compliance compliance; // the four whole weeks before today's
    DeadlineList deadlines;
    SkillMatrix skills;
    OnCallReview onCall;
    std::vector<caseload::QualityMonth> quality;
    QualityTrend trend;
    std::vector<JointVisit> joint;
};
inline constexpr int kWeeksAhead = 8;
ManagerReview managerReview(const WeekPicturePtr &week);

} // namespace kitround::desk
