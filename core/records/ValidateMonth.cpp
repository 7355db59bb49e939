// A month of the supply books.
#include "core/records/Checks.h"
#include "core/records/Validate.h"

namespace kitround {

Problems validate(const MonthClose &close) {
    Checks checks;
    if (close.month.dayOfMonth() != 1)
        checks.add(ProblemCode::OutOfRange, "month_on",
                   {close.month.toIso(), monthOf(close.month).toIso(), monthOf(close.month).toIso()});
    checks.requiredText("closed_by", close.closedBy, kLongestLine);
    checks.moment("closed_at", close.closedAt);
    if (close.isClosed)
        checks.text("reopen_reason", close.reopenReason, kLongestNotes);
    else
        checks.requiredText("reopen_reason", close.reopenReason, kLongestNotes);
    checks.countTo("patient_days", close.patientDays, 100'000'000);
    checks.each(close.lines, [&](const MonthLine &line) {
        checks.known("item_id", line.item);
        checks.range("eaches_per_case", line.pack.eachesPerCase.count(), 1, 100'000);
        const Eaches sum = line.opening + line.received - line.returned - line.issued - line.used -
                           line.wasted + line.adjusted;
        if (sum != line.closing)
            checks.range("closing", line.closing.count(), sum.count(), sum.count());
    });
    return checks.take();
}

} // namespace kitround
