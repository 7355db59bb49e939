#include "core/desk/views/RefillWhatIf.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/forecast/HomeAlone.h"

#include <algorithm>
#include <cmath>

namespace kitround::desk {
namespace {

using supply::Shipment;
using supply::TrialRule;

// Up to and with the day before `on`.
double chanceDryUntil(const forecast::ItemForecast &home, Date on) {
    const auto days = std::min<std::int64_t>((on - home.asOf).count(), std::ssize(home.days));
    return days <= 0 ? 0 : home.days[static_cast<std::size_t>(days) - 1].chanceDry;
}

QString whyNoDelivery(TrialRule rule) {
    switch (rule) {
    case TrialRule::OnHold:
        return Text::tr("the home is on hold that day");
    case TrialRule::Holiday:
        return Text::tr("that day is a holiday");
    case TrialRule::TooSoon:
        return Text::tr("too soon for the courier");
    default:
        return Text::tr("nothing goes to this home that day");
    }
}

// What can bring something to the home that day.
std::optional<supply::DeliveryDay> deliveryOn(const SnapshotIndex &agency, PatientId patient, Date on) {
    const Snapshot &now = agency.snapshot();
    const supply::CourierCalendar courier(now.settings, now.now, on - now.asOf);
    const auto days = supply::deliveryDays(agency, *agency.patient(patient), courier, on);
    const auto day = std::ranges::find(days, on, &supply::DeliveryDay::on);
    return day == days.end() ? std::nullopt : std::optional(*day);
}

QString runOutText(const HomeChart &chart) {
    if (!chart.runOutP10)
        return Text::tr("lasts beyond the forecast");
    const QString early =
        Text::tr("may run out from %1 (1 in 10)").arg(dayText(*chart.runOutP10, chart.today));
    if (!chart.runOutP50 || chart.runOutP50 == chart.runOutP10)
        return early;
    return Text::tr("%1, middle %2").arg(early, dayText(*chart.runOutP50, chart.today));
}

} // namespace

QString words(const supply::TrialBreak &rule) {
    const QString date = rule.date ? dayText(*rule.date) : QString();
    const QString most = rule.most ? numberText(rule.most->count()) : QString();
    switch (rule.rule) {
    case TrialRule::PayerTooEarly:
        return rule.date ? Text::tr("the payer allows it from %1").arg(date)
                         : Text::tr("the payer allows none yet");
    case TrialRule::ContactTooEarly:
        return Text::tr("the payer lets the home be asked from %1, and that is too late for this day")
            .arg(date);
    case TrialRule::TooLate:
        return Text::tr("needed by %1 to keep the run-out target").arg(date);
    case TrialRule::DaysHeld:
        return Text::tr("at most %1, for the days a home may hold").arg(most);
    case TrialRule::Taper:
        return Text::tr("at most %1: less use is expected than ordered").arg(most);
    case TrialRule::Storeroom:
        return Text::tr("only %1 are free in the storeroom by then, after the homes that come first")
            .arg(most);
    case TrialRule::ShortDated:
        return Text::tr("only %1 by then are in date long enough for a home, after those that come first")
            .arg(most);
    case TrialRule::OnHold:
    case TrialRule::Holiday:
    case TrialRule::TooSoon:
    case TrialRule::NoDelivery:
        break;
    }
    const QString why = whyNoDelivery(rule.rule);
    return rule.date ? Text::tr("%1, the next day possible is %2").arg(why, date) : why;
}

QString lineName(const SnapshotIndex &agency, const supply::RefillLine &line, bool withCatheter) {
    const QString what = itemName(agency, line.item);
    const Catheter *catheter = withCatheter ? agency.catheter(line.catheter) : nullptr;
    return catheter ? Text::tr("%1, %2").arg(what, catheterText(*catheter)) : what;
}

QString againstRules(const QStringList &rules) {
    return rules.isEmpty() ? QString()
                           : Text::tr("Against the rules: %1.").arg(rules.join(QStringLiteral("; ")));
}

RefillWhatIf::RefillWhatIf(StockPicturePtr picture, const supply::RefillProposal &proposal,
                           const supply::RefillLine &line, const forecast::ItemForecast &home,
                           HomeChart chart)
    : picture_(std::move(picture)), proposal_(proposal), line_(line), home_(home), chart_(std::move(chart)),
      trial_(picture_->agency->index(), picture_->refills, proposal, line, picture_->homes) {
    if (trial_.isMovable())
        proposed_ = at(trial_.proposed());
}

Date RefillWhatIf::onADay(Date wanted) const {
    return std::clamp(wanted, chart_.today, trial_.lastDay());
}

Shipment RefillWhatIf::nearest(const Shipment &wanted) const {
    return {onADay(wanted.on), trial_.nearest(wanted.quantity)};
}

Shipment RefillWhatIf::stepped(const Shipment &from, int days, int quantities) const {
    return {onADay(from.on.plusDays(days)), trial_.stepped(from.quantity, quantities)};
}

RefillOutlook RefillWhatIf::at(const Shipment &shipment) const {
    const forecast::ItemForecast tried = forecast::withParcel(picture_->agency->index(), picture_->figures,
                                                              home_, {shipment.on, shipment.quantity});
    RefillOutlook outlook;
    outlook.shipment = shipment;
    outlook.chart = withRefill(chart_, tried, shipment.on, shipment.quantity);
    outlook.chanceDryBefore = chanceDryUntil(tried, shipment.on);
    outlook.chanceDryToNext = chanceDryUntil(tried, trial_.nextAfter(shipment.on));
    outlook.chanceDryAfter =
        supply::chanceDryAfter(supply::HomeLine(home_, chart_.today), (shipment.on - chart_.today).count(),
                               (trial_.nextAfter(shipment.on) - chart_.today).count(), shipment.quantity);
    outlook.daysHeld = trial_.daysHeld(shipment);
    outlook.breaks = trial_.breaks(shipment);
    outlook.sentence = sentence(outlook);
    for (const supply::TrialBreak &rule : outlook.breaks)
        outlook.rules << ruleText(rule);
    return outlook;
}

std::optional<TriedRefill> RefillWhatIf::toOffer(const Shipment &shipment) const {
    const Shipment own = trial_.proposed();
    if (shipment == own)
        return std::nullopt;
    TriedRefill tried{proposal_, static_cast<std::size_t>(&line_ - proposal_.lines.data()),
                      Text::tr("As tried on the chart; the proposal was %1 for %2.")
                          .arg(amountText(own.quantity), dayText(own.on, chart_.today))};
    tried.offer.lines[tried.line].quantity = shipment.quantity;
    if (shipment.on == own.on)
        return tried;
    const auto day = deliveryOn(picture_->agency->index(), proposal_.patient, shipment.on);
    tried.offer.deliverOn = shipment.on;
    tried.offer.hasNoWay = !day;
    tried.offer.way = day ? day->way : DeliveryWay::Courier;
    tried.offer.withVisit = day ? day->visit : std::nullopt;
    return tried;
}

QString RefillWhatIf::amountText(Eaches quantity) const {
    const Item *item = picture_->agency->index().item(home_.item);
    const std::int64_t pack = item && item->sendWholeCases ? item->casePack.eachesPerCase.count() : 1;
    if (pack <= 1 || quantity.count() % pack != 0)
        return counted(quantity.count(), Text::tr("1 each"), Text::tr("%1 eaches"));
    return Text::tr("%1 (%2)").arg(
        counted(quantity.count() / pack, Text::tr("%1 case"), Text::tr("%1 cases")),
        counted(quantity.count(), Text::tr("1 each"), Text::tr("%1 eaches")));
}

// How it differs from the proposal.
QString RefillWhatIf::moveText(const Shipment &shipment) const {
    const Shipment own = trial_.proposed();
    if (shipment == own)
        return Text::tr("as proposed");
    const std::int64_t days = (shipment.on - own.on).count();
    const std::int64_t more = (shipment.quantity - own.quantity).count();
    QStringList parts;
    if (days > 0)
        parts << counted(days, Text::tr("%1 day later"), Text::tr("%1 days later"));
    if (days < 0)
        parts << counted(-days, Text::tr("%1 day earlier"), Text::tr("%1 days earlier"));
    if (more != 0)
        parts << (more > 0 ? Text::tr("%1 more") : Text::tr("%1 fewer")).arg(std::abs(more));
    return Text::tr("%1 than proposed").arg(parts.join(Text::tr(" and ")));
}

QString RefillWhatIf::ruleText(const supply::TrialBreak &rule) const {
    if (!rule.otherLine)
        return words(rule);
    const SnapshotIndex &index = picture_->agency->index();
    const supply::RefillLine &other = proposal_.lines.at(*rule.otherLine);
    return Text::tr("%1 in the same parcel: %2")
        .arg(lineName(index, other, other.catheter != line_.catheter), words(rule));
}

// Days are counted as the proposal counts them; what may be held is judged in eaches, by the usual use.
QString RefillWhatIf::coverText(const RefillOutlook &outlook) const {
    const QString days = counted(std::llround(outlook.daysHeld), Text::tr("%1 day"), Text::tr("%1 days"));
    const QString covers = (trial_.coversByMean() ? Text::tr("covers %1 by the mean use")
                                                  : Text::tr("covers %1 by the plain rule"))
                               .arg(days);
    const auto most = trial_.mostHeld(outlook.shipment);
    return most ? Text::tr("%1; at most %2 for the %3 days a home may hold")
                      .arg(covers, numberText(most->count()), numberText(trial_.mostDaysHeld().count()))
                : covers;
}

QString RefillWhatIf::sentence(const RefillOutlook &outlook) const {
    const Shipment &sent = outlook.shipment;
    const Date next = trial_.nextAfter(sent.on);
    const QString until = next <= trial_.lastDay()
                              ? Text::tr("the delivery after it, %1").arg(dayText(next, chart_.today))
                              : Text::tr("the end of the forecast");
    QStringList parts{Text::tr("%1 to run dry before it comes").arg(chanceText(outlook.chanceDryBefore))};
    if (outlook.chanceDryBefore <= 0.999) // of what is certain no early day is told
        parts << runOutText(outlook.chart);
    parts << Text::tr("%1 to run dry once it has come, before %2")
                 .arg(chanceText(outlook.chanceDryAfter), until)
          << coverText(outlook);
    if (const QString promised = promisedText(chart_); !promised.isEmpty())
        parts << Text::tr("the %1 counted").arg(promised);
    return Text::tr("Delivered %1, %2, %3: %4.")
        .arg(dayText(sent.on, chart_.today), amountText(sent.quantity), moveText(sent),
             parts.join(QStringLiteral("; ")));
}

RefillWhatIfPtr refillWhatIf(const StockPicturePtr &picture, std::size_t forecast, const HomeChart &chart) {
    const forecast::ItemForecast &home = picture->homes.at(forecast);
    const SnapshotIndex &index = picture->agency->index();
    if (chart.fan.empty() || !index.item(home.item) || !index.patient(home.patient))
        return nullptr;
    for (const supply::RefillProposal &proposal : picture->refills)
        for (const supply::RefillLine &line : proposal.lines) {
            if (line.catheter != home.catheter || line.item != home.item)
                continue;
            auto whatIf = std::make_shared<const RefillWhatIf>(picture, proposal, line, home, chart);
            return whatIf->isMovable() ? whatIf : nullptr;
        }
    return nullptr;
}

} // namespace kitround::desk
