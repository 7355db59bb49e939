#include "core/safety/OrderQuestions.h"

#include "core/calendar/Zone.h"
#include "core/safety/Limits.h"

#include <algorithm>
#include <optional>
#include <tuple>

namespace kitround::safety {
namespace {

class Asking {
public:
    explicit Asking(const SnapshotIndex &agency) : agency_(agency), today_(agency.snapshot().asOf) {
        if (const auto zone = calendar::Zone::named(agency.snapshot().settings.timeZone))
            zone_ = *zone;
    }

    // `home`: as if the hold ended on that day.
    std::optional<OrderQuestion> ask(const Catheter &catheter, const Hold *hold = nullptr,
                                     Date home = {}) const {
        if (!agency_.isInService(catheter))
            return std::nullopt;
        const DrainOrder *order = agency_.orderInForce(catheter.id, std::max(today_, hold ? home : today_));
        if (!order)
            return std::nullopt;
        OrderQuestion question;
        question.patient = catheter.patient;
        question.catheter = catheter.id;
        question.order = order->id;
        question.orderFrom = order->start;
        const auto found = [&](OrderDoubt why, const std::optional<Date> &on) {
            question.why = why;
            question.on = on.value_or(Date());
            return on.has_value();
        };
        if (found(OrderDoubt::CatheterChanged, changed(catheter, *order)) ||
            found(OrderDoubt::OtherRemoved, removed(catheter, *order)) ||
            found(OrderDoubt::CameHome, cameHome(catheter, *order, hold, home)))
            return question;
        return std::nullopt;
    }

    // The same order is not asked about twice: what `ask` found comes first.
    void askMaximum(std::vector<OrderQuestion> &questions, const Catheter &catheter) const {
        if (!agency_.isInService(catheter))
            return;
        for (const DrainOrder *order : agency_.ordersOf(catheter.id)) {
            const bool isOver = order->end && (*order->end <= today_ || *order->end <= order->start);
            if (isOver || !isAboveCommon(*order, catheter) || isAnswered(*order))
                continue;
            if (std::ranges::find(questions, order->id, &OrderQuestion::order) == questions.end())
                questions.push_back({catheter.patient, catheter.id, order->id, order->start,
                                     OrderDoubt::AboveCommon, order->start});
        }
    }

private:
    bool isAnswered(const DrainOrder &order) const { return isAnswered(order, Date::fromDayNumber(0)); }
    bool isAnswered(const DrainOrder &order, Date from) const {
        return std::ranges::any_of(agency_.snapshot().orderAnswers, [&](const OrderAnswer &answer) {
            return answer.order == order.id && answer.wasReadBack && answer.at.date >= from;
        });
    }
    // An order is often written before the catheter is in; it is older than a change only where somebody
    // drained under it before.
    std::optional<Date> changed(const Catheter &catheter, const DrainOrder &order) const {
        if (!catheter.insertedOn || *catheter.insertedOn <= order.start || *catheter.insertedOn > today_ ||
            isAnswered(order, *catheter.insertedOn))
            return std::nullopt;
        const bool wasUsed =
            std::ranges::any_of(agency_.entriesOf(catheter.id), [&](const DrainEntry &entry) {
                return entry.outcome != DrainOutcome::NotDone && entry.at.date >= order.start &&
                       entry.at.date < *catheter.insertedOn;
            });
        return wasUsed ? catheter.insertedOn : std::nullopt;
    }
    std::optional<Date> removed(const Catheter &catheter, const DrainOrder &order) const {
        std::optional<Date> last;
        for (const Catheter *other : agency_.cathetersOf(catheter.patient)) {
            if (other->id == catheter.id || !other->removedAt || !zone_)
                continue;
            const Date on = zone_->toLocal(*other->removedAt).date;
            if (on > order.start && on <= today_ && today_ - on <= kAskAboutReturn && !isAnswered(order, on))
                last = std::max(last, std::optional(on));
        }
        return last;
    }
    std::optional<Date> cameHome(const Catheter &catheter, const DrainOrder &order, const Hold *ending,
                                 Date home) const {
        std::optional<Date> last;
        for (const Hold *hold : agency_.holdsOf(catheter.patient)) {
            const bool isEnding = ending && hold->id == ending->id;
            const std::optional<Date> to = isEnding ? std::optional(home) : hold->to;
            const bool isStay = hold->kind == HoldKind::Hospital || hold->kind == HoldKind::Facility;
            if (!isStay || !to || (!isEnding && *to > today_) || today_ - *to > kAskAboutReturn)
                continue;
            // Begun during the stay: made for the return.
            if (order.start <= hold->from && !isAnswered(order, hold->from.plusDays(1)))
                last = std::max(last, to);
        }
        return last;
    }

    const SnapshotIndex &agency_;
    Date today_;
    std::optional<calendar::Zone> zone_;
};

} // namespace

std::vector<std::string_view> unsaidBy(const DrainOrder &order) {
    std::vector<std::string_view> fields;
    if (!order.mostPerSession)
        fields.push_back("most_per_session_ml");
    if (order.pattern.kind == DrainPatternKind::AsNeeded && !order.pattern.mostPerDay &&
        !order.pattern.mostPerWeek)
        fields.push_back("most_per_day");
    if (order.prescriber.empty())
        fields.push_back("prescriber");
    if (!order.signedOn)
        fields.push_back("signed_on");
    return fields;
}

std::vector<OrderQuestion> orderQuestions(const SnapshotIndex &agency) {
    const Asking asking(agency);
    std::vector<OrderQuestion> questions;
    for (const Catheter &catheter : agency.snapshot().catheters) {
        std::vector<OrderQuestion> ofOne;
        if (const auto question = asking.ask(catheter))
            ofOne.push_back(*question);
        asking.askMaximum(ofOne, catheter);
        questions.insert(questions.end(), ofOne.begin(), ofOne.end());
    }
    std::ranges::stable_sort(questions, {},
                             [](const OrderQuestion &q) { return std::tie(q.patient, q.catheter); });
    return questions;
}

std::vector<OrderQuestion> questionsOnReturn(const SnapshotIndex &agency, const Hold &hold, Date home) {
    const Asking asking(agency);
    std::vector<OrderQuestion> questions;
    for (const Catheter *catheter : agency.cathetersOf(hold.patient))
        if (const auto question = asking.ask(*catheter, &hold, home))
            questions.push_back(*question);
    return questions;
}

} // namespace kitround::safety
