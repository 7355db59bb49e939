#include "core/desk/words/Words.h"

#include "core/desk/words/Text.h"

#include <cmath>

namespace kitround::desk {

QString words(VisitKind kind) {
    switch (kind) {
    case VisitKind::StartOfCare:
        return Text::tr("start of care");
    case VisitKind::Resumption:
        return Text::tr("resumption of care");
    case VisitKind::Recertification:
        return Text::tr("recertification");
    case VisitKind::Discharge:
        return Text::tr("discharge visit");
    case VisitKind::Routine:
        return Text::tr("routine visit");
    case VisitKind::Teaching:
        return Text::tr("teaching");
    case VisitKind::DrainOnly:
        return Text::tr("drain only");
    case VisitKind::DressingCheck:
        return Text::tr("dressing check");
    case VisitKind::SupplyCount:
        return Text::tr("supply count");
    case VisitKind::SymptomFollowUp:
        return Text::tr("symptom follow-up");
    case VisitKind::AsNeeded:
        return Text::tr("as-needed visit");
    case VisitKind::Supervisory:
        return Text::tr("supervisory visit");
    case VisitKind::Phone:
        return Text::tr("phone visit");
    }
    return {};
}

QString words(VisitStatus status) {
    switch (status) {
    case VisitStatus::Due:
        return Text::tr("due");
    case VisitStatus::Drafted:
        return Text::tr("drafted");
    case VisitStatus::Published:
        return Text::tr("published");
    case VisitStatus::Done:
        return Text::tr("done");
    case VisitStatus::Missed:
        return Text::tr("missed");
    case VisitStatus::Cancelled:
        return Text::tr("cancelled");
    }
    return {};
}

QString words(CareStatus status) {
    switch (status) {
    case CareStatus::Referred:
        return Text::tr("referred");
    case CareStatus::Active:
        return Text::tr("active");
    case CareStatus::Discharged:
        return Text::tr("discharged");
    case CareStatus::Transferred:
        return Text::tr("transferred");
    case CareStatus::Deceased:
        return Text::tr("died");
    }
    return {};
}

QString words(CavitySite site) {
    switch (site) {
    case CavitySite::Chest:
        return Text::tr("chest");
    case CavitySite::Abdomen:
        return Text::tr("abdomen");
    }
    return {};
}

QString words(Side side) {
    switch (side) {
    case Side::Left:
        return Text::tr("left");
    case Side::Right:
        return Text::tr("right");
    case Side::Midline:
        return Text::tr("midline");
    }
    return {};
}

QString words(HoldKind kind) {
    switch (kind) {
    case HoldKind::Hospital:
        return Text::tr("in hospital");
    case HoldKind::Facility:
        return Text::tr("in a facility");
    case HoldKind::Travel:
        return Text::tr("travelling");
    case HoldKind::Other:
        return Text::tr("away");
    }
    return {};
}

QString words(Material material) {
    switch (material) {
    case Material::Latex:
        return Text::tr("latex");
    case Material::Adhesive:
        return Text::tr("adhesive");
    case Material::Chlorhexidine:
        return Text::tr("chlorhexidine");
    case Material::Iodine:
        return Text::tr("iodine");
    }
    return {};
}

QString allergiesText(const Patient &patient, Date reference) {
    QStringList names;
    for (const Material m : patient.allergies)
        names << words(m);
    if (!names.isEmpty())
        return names.join(QStringLiteral(", "));
    return patient.noAllergiesOn
               ? Text::tr("none known (asked %1)").arg(dayText(*patient.noAllergiesOn, reference))
               : Text::tr("NOT ASKED");
}

QString words(Skill skill) {
    switch (skill) {
    case Skill::DrainChest:
        return Text::tr("chest drainage");
    case Skill::DrainAbdomen:
        return Text::tr("abdominal drainage");
    case Skill::Teach:
        return Text::tr("teaching");
    case Skill::Assess:
        return Text::tr("assessment");
    case Skill::SiteCare:
        return Text::tr("site care");
    case Skill::DrawBlood:
        return Text::tr("drawing blood");
    }
    return {};
}

QString words(Credential credential) {
    switch (credential) {
    case Credential::RegisteredNurse:
        return Text::tr("registered nurse");
    case Credential::PracticalNurse:
        return Text::tr("practical nurse");
    case Credential::Aide:
        return Text::tr("aide");
    }
    return {};
}

QString words(Competence competence) {
    switch (competence) {
    case Competence::None:
        return Text::tr("not taught yet");
    case Competence::Shown:
        return Text::tr("has been shown");
    case Competence::Helped:
        return Text::tr("drains with help");
    case Competence::Alone:
        return Text::tr("drains alone, signed off");
    }
    return {};
}

QString words(Acuity acuity) {
    switch (acuity) {
    case Acuity::Low:
        return Text::tr("low");
    case Acuity::Medium:
        return Text::tr("medium");
    case Acuity::High:
        return Text::tr("high");
    }
    return {};
}

QString words(std::optional<Acuity> acuity) {
    return acuity ? words(*acuity) : Text::tr("not assessed");
}

QString words(DeliveryStatus status) {
    switch (status) {
    case DeliveryStatus::Promised:
        return Text::tr("promised");
    case DeliveryStatus::Picked:
        return Text::tr("picked");
    case DeliveryStatus::InTransit:
        return Text::tr("on the way");
    case DeliveryStatus::Delivered:
        return Text::tr("delivered");
    case DeliveryStatus::Cancelled:
        return Text::tr("cancelled");
    }
    return {};
}

QString words(UserRole role) {
    switch (role) {
    case UserRole::Coordinator:
        return Text::tr("coordinator");
    case UserRole::SupplyClerk:
        return Text::tr("supply clerk");
    case UserRole::NurseManager:
        return Text::tr("nurse manager");
    case UserRole::Nurse:
        return Text::tr("nurse");
    }
    return {};
}
QString words(DeliveryWay way) {
    switch (way) {
    case DeliveryWay::Courier:
        return Text::tr("courier");
    case DeliveryWay::WithVisit:
        return Text::tr("with a visit");
    }
    return {};
}

QString words(PurchaseStatus status) {
    switch (status) {
    case PurchaseStatus::Draft:
        return Text::tr("draft");
    case PurchaseStatus::Sent:
        return Text::tr("sent");
    case PurchaseStatus::PartlyReceived:
        return Text::tr("partly received");
    case PurchaseStatus::Received:
        return Text::tr("received");
    case PurchaseStatus::Cancelled:
        return Text::tr("cancelled");
    }
    return {};
}

QString words(LotState state) {
    switch (state) {
    case LotState::Usable:
        return Text::tr("usable");
    case LotState::Quarantined:
        return Text::tr("in quarantine");
    case LotState::Recalled:
        return Text::tr("recalled");
    }
    return {};
}

QString words(MissReason reason) {
    switch (reason) {
    case MissReason::None:
        return Text::tr("no reason given");
    case MissReason::Refused:
        return Text::tr("declined by the patient");
    case MissReason::NotHome:
        return Text::tr("not at home");
    case MissReason::Hospital:
        return Text::tr("in hospital");
    case MissReason::NurseAway:
        return Text::tr("nurse away");
    case MissReason::Weather:
        return Text::tr("weather");
    case MissReason::Other:
        return Text::tr("other reason");
    }
    return {};
}

QString words(DrainOutcome outcome) {
    switch (outcome) {
    case DrainOutcome::Drained:
        return Text::tr("drained");
    case DrainOutcome::Dry:
        return Text::tr("dry, nothing came");
    case DrainOutcome::NotDone:
        return Text::tr("not done");
    }
    return {};
}

QString words(EntrySource source) {
    switch (source) {
    case EntrySource::HomeLog:
        return Text::tr("home log");
    case EntrySource::Nurse:
        return Text::tr("nurse");
    case EntrySource::Phone:
        return Text::tr("phone");
    case EntrySource::Import:
        return Text::tr("import");
    }
    return {};
}

QString words(EmergencyPriority priority) {
    switch (priority) {
    case EmergencyPriority::First:
        return Text::tr("first");
    case EmergencyPriority::Second:
        return Text::tr("second");
    case EmergencyPriority::Third:
        return Text::tr("third");
    }
    return {};
}

QString words(std::optional<EmergencyPriority> priority) {
    return priority ? words(*priority) : Text::tr("not assessed");
}

QString words(PlaceKind place) {
    switch (place) {
    case PlaceKind::Supplier:
        return Text::tr("supplier");
    case PlaceKind::Storeroom:
        return Text::tr("storeroom");
    case PlaceKind::Quarantine:
        return Text::tr("quarantine");
    case PlaceKind::Car:
        return Text::tr("nurse's car");
    case PlaceKind::Transit:
        return Text::tr("on the way");
    case PlaceKind::Home:
        return Text::tr("home");
    case PlaceKind::Used:
        return Text::tr("used");
    case PlaceKind::Wasted:
        return Text::tr("wasted");
    case PlaceKind::Returned:
        return Text::tr("returned");
    case PlaceKind::Variance:
        return Text::tr("count difference");
    }
    return {};
}

QString words(TimeOffKind kind) {
    switch (kind) {
    case TimeOffKind::Leave:
        return Text::tr("leave");
    case TimeOffKind::Sick:
        return Text::tr("sick");
    case TimeOffKind::Training:
        return Text::tr("training");
    case TimeOffKind::Other:
        return Text::tr("away");
    }
    return {};
}

QString words(LeaveStatus status) {
    switch (status) {
    case LeaveStatus::Requested:
        return Text::tr("requested");
    case LeaveStatus::Approved:
        return Text::tr("approved");
    case LeaveStatus::Declined:
        return Text::tr("declined");
    }
    return {};
}

QString words(AreaKind area) {
    switch (area) {
    case AreaKind::Urban:
        return Text::tr("urban");
    case AreaKind::Suburban:
        return Text::tr("suburban");
    case AreaKind::Rural:
        return Text::tr("rural");
    }
    return {};
}

QString words(caseload::LoadSign sign) {
    switch (sign) {
    case caseload::LoadSign::NoShifts:
        return Text::tr("no shifts");
    case caseload::LoadSign::Away:
        return Text::tr("away");
    case caseload::LoadSign::Free:
        return Text::tr("free");
    case caseload::LoadSign::Light:
        return Text::tr("light");
    case caseload::LoadSign::Usual:
        return Text::tr("usual");
    case caseload::LoadSign::Amber:
        return Text::tr("nearly full");
    case caseload::LoadSign::Red:
        return Text::tr("over full");
    }
    return {};
}

namespace {

QString shareWith(const caseload::NurseLoad &load, const QString &sign) {
    return load.capacity.isZero() ? sign
                                  : QStringLiteral("%1 %, %2").arg(std::llround(load.share * 100)).arg(sign);
}

} // namespace

QString shareText(const caseload::NurseLoad &load) {
    return shareWith(load,
                     load.isByDay ? Text::tr("%1 on one day").arg(load.mostVisitsInADay) : words(load.sign));
}

QString loadText(const caseload::NurseLoad &load) {
    const QString text = shareWith(load, words(load.sign));
    if (load.isByDay)
        return Text::tr("%1: %2").arg(text, counted(load.mostVisitsInADay, Text::tr("1 visit on one day"),
                                                    Text::tr("%1 visits on one day")));
    return load.capacity.isZero() && load.visits > 0 ? Text::tr("%1: visits without a shift").arg(text)
                                                     : text;
}

QString words(supply::RefillUrgency urgency) {
    switch (urgency) {
    case supply::RefillUrgency::Overdue: // no parcel comes in time any more; the call itself is for today
        return Text::tr("late, call first");
    case supply::RefillUrgency::CallToday:
        return Text::tr("call today");
    case supply::RefillUrgency::CallSoon:
        return Text::tr("call soon");
    case supply::RefillUrgency::Later:
        return Text::tr("later");
    }
    return {};
}

QString words(forecast::StockKnowledge knowledge) {
    switch (knowledge) {
    case forecast::StockKnowledge::Counted:
        return Text::tr("counted");
    case forecast::StockKnowledge::DeliveredOnly:
        return Text::tr("from deliveries, never counted");
    case forecast::StockKnowledge::Unknown:
        return Text::tr("unknown");
    }
    return {};
}

QString words(const DrainPattern &pattern, Date reference) {
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        return counted(pattern.everyDays, Text::tr("every day from %2"), Text::tr("every %1 days from %2"))
            .replace(QStringLiteral("%2"), dayText(pattern.anchor, reference));
    case DrainPatternKind::TimesAWeek: {
        const QString times =
            counted(pattern.timesAWeek, Text::tr("once a week"), Text::tr("%1 times a week"));
        if (pattern.weekdays.isEmpty())
            return Text::tr("%1, on days the home chooses").arg(times);
        QStringList days;
        for (const Weekday d : kAllWeekdays)
            if (pattern.weekdays.contains(d))
                days << words(d);
        return Text::tr("%1 on %2").arg(times, days.join(QStringLiteral(", ")));
    }
    case DrainPatternKind::AsNeeded: {
        QStringList limits;
        if (pattern.mostPerDay)
            limits << Text::tr("%1 a day").arg(*pattern.mostPerDay);
        if (pattern.mostPerWeek)
            limits << Text::tr("%1 a week").arg(*pattern.mostPerWeek);
        if (limits.isEmpty())
            return Text::tr("as needed, no maximum given");
        return Text::tr("as needed, at most %1").arg(limits.join(Text::tr(" and ")));
    }
    }
    return {};
}

} // namespace kitround::desk
