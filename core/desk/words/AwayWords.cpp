#include "core/desk/words/AwayWords.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/forecast/AwayNeed.h"

namespace kitround::desk {
namespace {

QString lineOf(const forecast::AwayNeed &need, const SnapshotIndex &agency, double level, Date from) {
    const Item *item = agency.item(need.item);
    const Catheter *catheter = agency.catheter(need.catheter);
    QString text =
        Text::tr(
            "%1 × %2 (%3). Enough but for %4; by the plain rule (drains on the order × what each opens) %5.")
            .arg(QString::number(need.carry.count()), item ? fromStd(item->name) : QString(),
                 catheter ? catheterText(*catheter) : QString(), chanceText(1 - level),
                 QString::number(need.plain));
    if (need.toSend().count() > 0)
        text += u' ' +
                Text::tr("By the record %1: %2 before %3.")
                    .arg(counted(need.atHome.count(), Text::tr("1 is at home"), Text::tr("%1 are at home")),
                         counted(need.toSend().count(), Text::tr("1 more has to be there"),
                                 Text::tr("%1 more have to be there")),
                         dayText(from));
    return text;
}

} // namespace

QStringList carryLines(const SnapshotIndex &agency, PatientId patient, Date from, std::optional<Date> back) {
    if (!back)
        return {Text::tr(
            "How much to carry can't be said without a day of return. Enter when the patient is expected "
            "back.")};
    const Date first = std::max(from, agency.snapshot().asOf);
    if (*back <= first)
        return {};
    if (*back - first > forecast::kLongestAway)
        return {
            Text::tr("More than %1 days away: agree on a delivery there, the forecast does not reach so far.")
                .arg(forecast::kLongestAway.count())};
    const std::int64_t permille = 1000 - agency.snapshot().settings[SettingKey::RunOutTargetPermille];
    const auto needs = forecast::awayNeed(agency, patient, {first, *back}, permille);
    if (needs.empty())
        return {Text::tr("No drain order covers these days, so nothing can be said of what to carry. Ask the "
                         "prescriber.")};
    QStringList lines{Text::tr("For %1 to %2 (%3), drains going on, carry:")
                          .arg(dayText(first), dayText(back->plusDays(-1)),
                               counted((*back - first).count(), Text::tr("1 day"), Text::tr("%1 days")))};
    for (const forecast::AwayNeed &need : needs)
        lines << lineOf(need, agency, static_cast<double>(permille) / 1000.0, first);
    return lines;
}

const Hold *drainingAway(const SnapshotIndex &agency, PatientId patient) {
    for (const Hold *hold : agency.holdsOf(patient))
        if (hold->stillDraining && (!hold->to || *hold->to > agency.snapshot().asOf))
            return hold;
    return nullptr;
}

QStringList carryLines(const SnapshotIndex &agency, PatientId patient) {
    const Hold *hold = drainingAway(agency, patient);
    if (!hold)
        return {};
    return carryLines(agency, patient, hold->from, hold->to ? hold->to : hold->expectedReturn);
}

} // namespace kitround::desk
