// Caution texts: the numbers first, then whom to call. None says what to do about the treatment.
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/Cautions.h"

namespace kitround::desk {

QString words(CautionKind kind) {
    switch (kind) {
    case CautionKind::OverPrescribedMaximum:
        return Text::tr("over the prescribed maximum");
    case CautionKind::OverCommonMaximum:
        return Text::tr("a large volume");
    case CautionKind::TooSoon:
        return Text::tr("sooner than ordered");
    case CautionKind::LowOutputRun:
        return Text::tr("low output several times in a row");
    case CautionKind::SuddenDrop:
        return Text::tr("a sudden drop in volume");
    case CautionKind::SharpChange:
        return Text::tr("a sharp change in volume");
    case CautionKind::SymptomEmergency:
        return Text::tr("an emergency sign was reported");
    case CautionKind::SymptomToday:
        return Text::tr("a sign was reported: call today");
    case CautionKind::SymptomNow:
        return Text::tr("a sign was reported: call now");
    case CautionKind::Silence:
        return Text::tr("nothing heard from the home");
    case CautionKind::NoMaximumOnOrder:
        return Text::tr("no maximum on the order");
    case CautionKind::NoOrder:
        return Text::tr("no drain order");
    case CautionKind::RecalledLotAtHome:
        return Text::tr("a recalled lot is in the home");
    }
    return {};
}

QString words(CautionUrgency urgency) {
    switch (urgency) {
    case CautionUrgency::Emergency:
        return Text::tr("emergency");
    case CautionUrgency::Now:
        return Text::tr("now");
    case CautionUrgency::Today:
        return Text::tr("today");
    case CautionUrgency::Soon:
        return Text::tr("soon");
    }
    return {};
}

QString words(Symptom symptom) {
    switch (symptom) {
    case Symptom::WorseBreathlessness:
        return Text::tr("worse breathlessness");
    case Symptom::SeverePain:
        return Text::tr("severe pain");
    case Symptom::Collapse:
        return Text::tr("collapse");
    case Symptom::HeavyBleeding:
        return Text::tr("heavy bleeding");
    case Symptom::Fever:
        return Text::tr("fever or chills");
    case Symptom::Redness:
        return Text::tr("redness at the site");
    case Symptom::Swelling:
        return Text::tr("swelling at the site");
    case Symptom::PusOrSmell:
        return Text::tr("pus or smell at the site");
    case Symptom::CloudyFluid:
        return Text::tr("cloudy fluid");
    case Symptom::NewBlood:
        return Text::tr("new blood in the fluid");
    case Symptom::ColourChange:
        return Text::tr("a marked change of colour");
    case Symptom::Leak:
        return Text::tr("a leak round the tube");
    case Symptom::WetDressing:
        return Text::tr("a wet dressing");
    case Symptom::TubeMoved:
        return Text::tr("the tube moved or came out");
    case Symptom::CuffShowing:
        return Text::tr("the cuff is showing");
    case Symptom::TubeDamaged:
        return Text::tr("the tube or valve is damaged");
    case Symptom::NoFlow:
        return Text::tr("no flow where fluid was expected");
    case Symptom::SuddenFall:
        return Text::tr("a sudden fall in flow");
    case Symptom::PainOnDrain:
        return Text::tr("pain during the drain");
    case Symptom::Cough:
        return Text::tr("cough during the drain");
    case Symptom::LightHeaded:
        return Text::tr("light-headed or faint during the drain");
    case Symptom::Confusion:
        return Text::tr("confusion");
    case Symptom::LowUrine:
        return Text::tr("very little urine");
    case Symptom::FastWeightLoss:
        return Text::tr("fast weight loss");
    }
    return {};
}

QString callAdvice(Symptom symptom) {
    switch (symptom) {
    case Symptom::WorseBreathlessness:
    case Symptom::SeverePain:
    case Symptom::Collapse:
    case Symptom::HeavyBleeding:
        return Text::tr("Call the local emergency number first, then the nurse.");
    case Symptom::Fever:
    case Symptom::Redness:
    case Symptom::Swelling:
    case Symptom::PusOrSmell:
    case Symptom::CloudyFluid:
        return Text::tr("Call the nurse line today; the nurse tells the prescriber.");
    case Symptom::NewBlood:
    case Symptom::ColourChange:
        return Text::tr("Call the nurse line now; the nurse tells the prescriber.");
    case Symptom::Leak:
    case Symptom::WetDressing:
        return Text::tr("Call the nurse line today, and write down the extra dressings used.");
    case Symptom::TubeMoved:
    case Symptom::CuffShowing:
    case Symptom::TubeDamaged:
        return Text::tr(
            "Call the nurse at once and follow the sheet the local service gave; if breathless, call the "
            "local emergency number.");
    case Symptom::NoFlow:
    case Symptom::SuddenFall:
        return Text::tr(
            "Tell the nurse today; it is not taken as fluid drying up until a nurse confirms it.");
    case Symptom::PainOnDrain:
    case Symptom::Cough:
    case Symptom::LightHeaded:
        return Text::tr(
            "Stop as taught and call the nurse; if it does not settle, call the local emergency number.");
    case Symptom::Confusion:
    case Symptom::LowUrine:
    case Symptom::FastWeightLoss:
        return Text::tr("The nurse tells the prescriber the same day.");
    }
    return {};
}

QString planningCaution() {
    return Text::tr("Planning aid. Follow local policy and licensed judgement; not for deciding treatment.");
}

QString inventedMark() {
    return Text::tr("Invented data: no real person, place or firm.");
}

namespace {

QString evidence(const CallItem &item, std::size_t k) {
    return k < item.evidence.size() && !item.evidence[k].empty() ? fromStd(item.evidence[k])
                                                                 : Text::tr("unknown");
}

// Days are written as people say them where the evidence holds an ISO date.
QString day(const CallItem &item, std::size_t k) {
    const QString text = evidence(item, k);
    const auto date = Date::fromIso(text.left(10).toStdString());
    return date ? dayText(*date, item.raisedAt.date) : text;
}

QString symptomText(const CallItem &item) {
    QStringList signs, calls;
    for (const std::string &code : item.evidence) {
        const auto symptom = safety::symptomNamed(code);
        signs << (symptom ? words(*symptom) : fromStd(code));
        if (symptom && !calls.contains(callAdvice(*symptom)))
            calls << callAdvice(*symptom);
    }
    if (signs.isEmpty())
        signs << Text::tr("a sign not named");
    if (calls.isEmpty())
        calls << (item.urgency == CautionUrgency::Emergency
                      ? callAdvice(Symptom::Collapse)
                      : Text::tr("Call the nurse line; the nurse tells the prescriber."));
    return Text::tr("Reported: %1. %2").arg(signs.join(QStringLiteral(", ")), calls.join(u' '));
}

QString tooSoonText(const CallItem &item) {
    const QString measure = evidence(item, 0);
    QString numbers;
    if (measure == QStringLiteral("day"))
        numbers =
            Text::tr("%1 drains on one day; the order says %2.").arg(evidence(item, 1), evidence(item, 2));
    else if (measure == QStringLiteral("week"))
        numbers =
            Text::tr("%1 drains in one week; the order says %2.").arg(evidence(item, 1), evidence(item, 2));
    else
        numbers = Text::tr("%1 after the drain before; the order says every %2 days.")
                      .arg(counted(evidence(item, 1).toLongLong(), Text::tr("1 day"), Text::tr("%1 days")),
                           evidence(item, 2));
    return Text::tr("%1 The drain before was on %2. Call the home and tell the nurse today.")
        .arg(numbers, day(item, 3));
}

QString daysIn(const CallItem &item, std::size_t at) {
    bool isNumber = false;
    const qlonglong days = evidence(item, at).toLongLong(&isNumber);
    return isNumber ? counted(days, Text::tr("1 day"), Text::tr("%1 days"))
                    : Text::tr("%1 days").arg(evidence(item, at));
}

QString silenceText(const CallItem &item) {
    const bool hasLog = !item.evidence.empty() && !item.evidence[0].empty();
    const QString since =
        hasLog ? Text::tr("Nothing in the log for %1, since %2; the order lets %3 pass.")
                     .arg(daysIn(item, 1), day(item, 0), daysIn(item, 2))
               : Text::tr("Nothing in the log yet, %1 after the first drain was due; the order lets %2 pass.")
                     .arg(daysIn(item, 1), daysIn(item, 2));
    return since + u' ' + Text::tr("A missing log is not a missed drain: call the home and ask.");
}

QString sentence(const CallItem &item) {
    switch (item.kind) {
    case CautionKind::OverPrescribedMaximum:
        return Text::tr(
                   "%1 mL were entered; the order says at most %2 mL in one session. The value is kept as "
                   "entered. Have a nurse review it today; the nurse tells the prescriber.")
            .arg(evidence(item, 0), evidence(item, 1));
    case CautionKind::OverCommonMaximum:
        return Text::tr(
                   "%1 mL were entered; more than %2 mL in one session is uncommon, and the order gives no "
                   "maximum. The value is kept as entered. Have a nurse review it today, and ask the "
                   "prescriber for a maximum.")
            .arg(evidence(item, 0), evidence(item, 1));
    case CautionKind::TooSoon:
        return tooSoonText(item);
    case CautionKind::LowOutputRun:
        return Text::tr(
                   "%1 drains in a row below %2 mL (%3). Report it to the prescriber; the order stands until "
                   "the prescriber changes it.")
            .arg(evidence(item, 0), evidence(item, 1), evidence(item, 2));
    case CautionKind::SuddenDrop:
        return Text::tr(
                   "From %1 mL down to %2 mL on %3; %4 since. Tell the nurse today: it is not taken as fluid "
                   "drying up until a nurse confirms it.")
            .arg(evidence(item, 0), evidence(item, 1), day(item, 2),
                 counted(evidence(item, 3).toLongLong(), Text::tr("1 low drain"), Text::tr("%1 low drains")));
    case CautionKind::SharpChange:
        return Text::tr(
                   "From %1 mL to %2 mL, a change of %3 %. Have a nurse call the home today; the nurse tells "
                   "the prescriber.")
            .arg(evidence(item, 0), evidence(item, 1), evidence(item, 2));
    case CautionKind::SymptomEmergency:
    case CautionKind::SymptomNow:
    case CautionKind::SymptomToday:
        return symptomText(item);
    case CautionKind::Silence:
        return silenceText(item);
    case CautionKind::NoMaximumOnOrder:
        return evidence(item, 0) == QStringLiteral("as-needed")
                   ? Text::tr("The order of %1 says as needed and not how often at most. Ask the prescriber; "
                              "none is "
                              "assumed.")
                         .arg(day(item, 1))
                   : Text::tr("The order of %1 gives no maximum for one session. Ask the prescriber; none is "
                              "assumed.")
                         .arg(day(item, 1));
    case CautionKind::NoOrder:
        return !item.evidence.empty() && !item.evidence[0].empty()
                   ? Text::tr("The catheter is in place; its last drain order ended on %1. Ask the "
                              "prescriber: nothing "
                              "can be forecast without one.")
                         .arg(day(item, 0))
                   : Text::tr("The catheter is in place and has no drain order. Ask the prescriber: nothing "
                              "can be "
                              "forecast without one.");
    case CautionKind::RecalledLotAtHome:
        return Text::
            tr("%1 of %2, recalled lot %3, stand in the home by the record (%4). Call the home: do not use "
               "them, set them aside with the label. Tell supply to replace them.")
                .arg(evidence(item, 2), evidence(item, 0), evidence(item, 1), evidence(item, 3));
    }
    return {};
}

bool isAboutTreatment(CautionKind kind) {
    return kind != CautionKind::Silence && kind != CautionKind::RecalledLotAtHome;
}

} // namespace

QString cautionText(const CallItem &item) {
    QString text = sentence(item);
    if (isAboutTreatment(item.kind))
        text += u' ' + Text::tr("Follow local policy; this tool does not advise a change of treatment.");
    return text;
}

} // namespace kitround::desk
