// The month's books: what they say, closing and opening again.
#include "core/desk/tasks/DeskInner.h"

#include <algorithm>

namespace kitround::desk {
namespace {

const MonthClose *storedMonth(const Agency &agency, Date month) {
    const auto &closes = agency.snapshot().monthCloses;
    const auto found = std::ranges::find(closes, month, &MonthClose::month);
    return found == closes.end() ? nullptr : &*found;
}

// Asked to stop, it says so between two readings of the ledger: each may take long on a large file.
Result<supply::MonthBooks> booksFromLedger(store::AgencyFile &file, const Agency &agency, Date month,
                                           const std::stop_token &stop) {
    const auto stopped = [&] { return Problem{ProblemCode::Cancelled, "month_on", {}}; };
    if (stop.stop_requested())
        return stopped();
    const auto opening = file.balancesAtEndOf(month.plusDays(-1));
    if (!opening)
        return opening.error();
    if (stop.stop_requested())
        return stopped();
    const auto flows = file.movementSums(month, monthAfter(month));
    if (!flows)
        return flows.error();
    if (stop.stop_requested())
        return stopped();
    const auto closing = file.balancesAtEndOf(monthAfter(month).plusDays(-1));
    if (!closing)
        return closing.error();
    return supply::monthBooks(agency.index(), {month, *flows, *opening, *closing});
}

Result<void> mayClose(const Agency &agency, Date month, Date today) {
    if (monthAfter(month) > today)
        return problem(ProblemCode::NotAllowed, "month_on", {"month_running", monthAfter(month).toIso()});
    const std::optional<Date> open = firstOpenDay(agency.snapshot().monthCloses);
    if (open && month < *open)
        return problem(ProblemCode::NotAllowed, "month_on", {"already"});
    if (open && month > *open)
        return problem(ProblemCode::NotAllowed, "month_on", {"close_in_order", open->toIso()});
    return {};
}

Result<void> isTied(const Agency &agency, const std::vector<supply::Untied> &untied) {
    if (untied.empty())
        return {};
    const supply::Untied &first = untied.front();
    const Item *item = agency.index().item(first.item);
    return problem(ProblemCode::Conflict, "closing",
                   {"not_tied", item ? item->code : std::string(), std::to_string(first.books.count()),
                    std::to_string(first.ledger.count())});
}

Result<supply::MonthBooks> booksOf(store::AgencyFile &file, const Agency &agency, Date day,
                                   const std::stop_token &stop) {
    const Date month = monthOf(day);
    const MonthClose *stored = storedMonth(agency, month);
    if (stored && stored->isClosed)
        return supply::MonthBooks{*stored, {}};
    auto books = booksFromLedger(file, agency, month, stop);
    if (stored && books) {
        books->close.id = stored->id;
        books->close.reopenReason = stored->reopenReason;
    }
    if (books)
        books->close.isClosed = false;
    return books;
}

} // namespace

Result<supply::MonthBooks> readMonthBooks(const std::string &path, const Agency &agency, Date month,
                                          std::stop_token stop) {
    auto file = store::AgencyFile::open(path, store::OpenMode::ReadOnly);
    if (!file)
        return file.error();
    return booksOf(**file, agency, month, stop);
}

Result<supply::MonthBooks> Desk::monthBooks(Date month) {
    Result<AgencyPtr> agency = inner_->latest();
    if (!agency)
        return agency.error();
    return booksOf(*inner_->file, **agency, month, {});
}

Result<MonthClose> Desk::closeMonth(Date day) {
    const Date month = monthOf(day);
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<MonthClose> {
        if (Result<void> ok = mayClose(agency, month, inner_->now().date); !ok)
            return ok.error();
        auto books = booksFromLedger(*inner_->file, agency, month, {});
        if (!books)
            return books.error();
        if (Result<void> ok = isTied(agency, books->untied); !ok)
            return ok.error();
        const Result<User> me = inner_->me();
        if (!me)
            return me.error();
        MonthClose close = books->close;
        close.isClosed = true;
        close.closedBy = me->name;
        close.closedAt = inner_->now();
        if (const MonthClose *before = storedMonth(agency, month)) {
            close.id = before->id;
            close.rowVersion = before->rowVersion;
            close.reopenReason = before->reopenReason;
        }
        return unit.save(close);
    });
}

Result<MonthClose> Desk::reopenMonth(Date day, const std::string &why) {
    const Date month = monthOf(day);
    return inner_->writeOn([&](store::UnitOfWork &unit, const Agency &agency) -> Result<MonthClose> {
        const MonthClose *before = storedMonth(agency, month);
        if (!before || !before->isClosed)
            return problem(ProblemCode::NotAllowed, "month_on", {"not_closed"});
        for (const MonthClose &other : agency.snapshot().monthCloses)
            if (other.isClosed && other.month > month)
                return problem(ProblemCode::NotAllowed, "month_on",
                               {"reopen_last_first", other.month.toIso()});
        if (why.empty())
            return problem(ProblemCode::Missing, "reopen_reason");
        MonthClose open = *before;
        open.isClosed = false;
        open.reopenReason = why;
        return unit.save(open);
    });
}

} // namespace kitround::desk
