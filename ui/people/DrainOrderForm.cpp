#include "ui/people/DrainOrderForm.h"

#include "core/desk/words/Words.h"
#include "ui/people/OrderPreview.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr qint64 kNotChosen = -1;

// A new order has no pattern yet: how often is the prescriber's to say, so nothing of it is preset.
void addPattern(RecordForm &form, const std::optional<DrainPattern> &ordered, Date today) {
    const DrainPattern pattern = ordered.value_or(DrainPattern{});
    auto *kind = form.addChoice("pattern", QObject::tr("How often"),
                                {{QObject::tr("Every so many days"), qint64(DrainPatternKind::EveryNDays)},
                                 {QObject::tr("So many times a week"), qint64(DrainPatternKind::TimesAWeek)},
                                 {QObject::tr("As needed"), qint64(DrainPatternKind::AsNeeded)}},
                                ordered ? static_cast<qint64>(pattern.kind) : kNotChosen);
    const bool isEvery = ordered && pattern.kind == DrainPatternKind::EveryNDays;
    form.addNumber("every_days", QObject::tr("Every"),
                   isEvery ? std::optional<std::int64_t>(pattern.everyDays) : std::nullopt,
                   QObject::tr("days"));
    form.addDate("anchor", QObject::tr("Counted from a drain on"),
                 isEvery ? std::optional(pattern.anchor) : std::nullopt, today);
    form.addNumber("times_a_week", QObject::tr("Times a week"),
                   pattern.timesAWeek > 0 ? std::optional<std::int64_t>(pattern.timesAWeek) : std::nullopt,
                   QObject::tr("drains"));
    form.addWeekdays("weekdays", QObject::tr("On (none: the home chooses)"), pattern.weekdays);
    form.addNumber("most_per_day", QObject::tr("Most a day"),
                   pattern.mostPerDay ? std::optional<std::int64_t>(*pattern.mostPerDay) : std::nullopt,
                   QObject::tr("drains"));
    form.addNumber("most_per_week", QObject::tr("Most a week"),
                   pattern.mostPerWeek ? std::optional<std::int64_t>(*pattern.mostPerWeek) : std::nullopt,
                   QObject::tr("drains"));
    const auto showKind = [&form, kind] {
        const bool isChosen = kind->currentIndex() >= 0;
        const auto chosen = static_cast<DrainPatternKind>(form.choiceOf("pattern"));
        const std::pair<const char *, DrainPatternKind> kinds[] = {
            {"every_days", DrainPatternKind::EveryNDays},   {"anchor", DrainPatternKind::EveryNDays},
            {"times_a_week", DrainPatternKind::TimesAWeek}, {"weekdays", DrainPatternKind::TimesAWeek},
            {"most_per_day", DrainPatternKind::AsNeeded},   {"most_per_week", DrainPatternKind::AsNeeded}};
        for (const auto &[field, of] : kinds)
            form.setFieldShown(field, isChosen && of == chosen);
    };
    QObject::connect(kind, &QComboBox::currentIndexChanged, &form, showKind);
    showKind();
}

DrainPattern readPattern(RecordForm &form) {
    DrainPattern pattern;
    pattern.kind = static_cast<DrainPatternKind>(form.neededChoiceOf("pattern"));
    const auto small = [](std::int64_t n) {
        return static_cast<int>(std::clamp<std::int64_t>(n, -1, 1'000'000));
    };
    switch (pattern.kind) {
    case DrainPatternKind::EveryNDays:
        pattern.everyDays = small(form.neededNumberOf("every_days"));
        pattern.anchor = form.neededDateOf("anchor");
        break;
    case DrainPatternKind::TimesAWeek:
        pattern.timesAWeek = small(form.neededNumberOf("times_a_week"));
        pattern.weekdays = form.weekdaysOf("weekdays");
        break;
    case DrainPatternKind::AsNeeded:
        if (const auto n = form.numberOf("most_per_day"))
            pattern.mostPerDay = small(*n);
        if (const auto n = form.numberOf("most_per_week"))
            pattern.mostPerWeek = small(*n);
        break;
    }
    return pattern;
}

DrainOrder readOrder(RecordForm &form, CatheterId catheter) {
    DrainOrder order;
    order.catheter = catheter;
    order.start = form.neededDateOf("start");
    order.end = form.dateOf("end");
    order.pattern = readPattern(form);
    if (const auto most = form.numberOf("most_per_session_ml"))
        order.mostPerSession = Millilitres::of(*most);
    order.kit = ItemId(form.choiceOf("kit_id"));
    order.extraBottle = idOrNone<ItemId>(form.choiceOf("extra_bottle_id"));
    order.allowsSubstitute = form.checkOf("allows_substitute");
    order.prescriber = form.textOf("prescriber");
    order.isVerbal = form.checkOf("is_verbal");
    order.signedOn = form.dateOf("signed_on");
    order.callParameters = form.textOf("call_parameters");
    return order;
}

void addFields(RecordForm &form, const desk::Agency &agency, const DrainOrder *before) {
    const DrainOrder seed = before ? *before : DrainOrder{};
    const Date today = agency.today();
    form.addPage(QObject::tr("The order"));
    form.addNote(
        QObject::tr("Enter what the prescriber ordered. The order in force is ended, not overwritten."));
    form.addDate("start", QObject::tr("In force from"), today, today);
    form.addDate("end", QObject::tr("Until, not including"), std::nullopt, today);
    addPattern(form, before ? std::optional(before->pattern) : std::nullopt, today);
    form.addPage(QObject::tr("Maximum, supplies and prescriber"));
    form.addNumber("most_per_session_ml", QObject::tr("Most in one session"),
                   seed.mostPerSession ? std::optional(seed.mostPerSession->count()) : std::nullopt,
                   QObject::tr("mL"));
    form.addNote(QObject::tr(
        "Leave it empty where the order names no maximum: the prescriber is asked, and nothing is guessed."));
    form.addChoice("kit_id", QObject::tr("Kit"), itemChoices(agency.snapshot(), {}, ItemKind::Kit),
                   seed.kit.value());
    form.addChoice("extra_bottle_id", QObject::tr("Further bottle"),
                   itemChoices(agency.snapshot(), QObject::tr("The kit again"), ItemKind::Bottle),
                   seed.extraBottle ? seed.extraBottle->value() : 0);
    form.addCheck("allows_substitute", QObject::tr("Another bottle size may stand in"),
                  seed.allowsSubstitute);
    form.addText("prescriber", QObject::tr("Prescriber"), seed.prescriber);
    form.addCheck("is_verbal", QObject::tr("Given by word of mouth"), false);
    form.addDate("signed_on", QObject::tr("Signed on"), std::nullopt, today);
    form.addLongText("call_parameters", QObject::tr("When to call, in the prescriber's words"),
                     seed.callParameters);
}

} // namespace

bool newDrainOrder(QWidget *window, Session &session, CatheterId catheter, const DrainOrder *before) {
    const desk::AgencyPtr agency = session.agency();
    RecordForm form(QObject::tr("New drain order: %1").arg(desk::nameWithCode(agency->index(), catheter)),
                    window);
    addFields(form, *agency, before);
    form.setSaveText(QObject::tr("Show what changes…"));
    form.require({"start", "pattern", "every_days", "anchor", "times_a_week", "kit_id"});
    form.onSave([&] { return readOrder(form, catheter); },
                [&](const DrainOrder &order) -> std::optional<Problem> {
                    const auto preview = session.desk().previewOrder(order);
                    if (!preview)
                        return preview.error();
                    OrderPreviewDialog dialog(*preview, *agency, &form);
                    if (dialog.exec() != QDialog::Accepted)
                        return Problem{ProblemCode::Cancelled};
                    return session.write(QObject::tr("Saved a drain order"),
                                         [&](desk::Desk &d) { return d.acceptOrder(*preview); });
                });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
