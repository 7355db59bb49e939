#include "core/safety/IncidentReports.h"

#include "core/calendar/Holidays.h"

namespace kitround::safety {
namespace {

bool isWorkDay(Date day) {
    return WeekdaySet::mondayToFriday().contains(day.weekday()) && !calendar::holidayOn(day);
}

Date workDaysAfter(Date day, int count) {
    while (count > 0)
        count -= isWorkDay(++day) ? 1 : 0;
    return day;
}

} // namespace

bool asksForReport(const Incident &incident) {
    return incident.kind == IncidentKind::Device && incident.harm >= IncidentHarm::Serious;
}

Date reportDue(Date learnedOn) {
    return workDaysAfter(learnedOn, kReportWorkDays);
}

bool isReportNear(Date due, Date today) {
    return due <= workDaysAfter(today, kReportNoticeWorkDays);
}

} // namespace kitround::safety
