#include "core/store/Loader.h"

#include "core/store/Transaction.h"
#include "core/store/mapping/MapCare.h"
#include "core/store/mapping/MapPeople.h"
#include "core/store/mapping/MapSupply.h"
#include "core/store/mapping/Reading.h"

#include <algorithm>
#include <numeric>

namespace kitround::store {
namespace {

class Loading {
public:
    Loading(Connection &connection, const LoadOptions &options, const std::stop_token &stop,
            const ProgressSink &progress)
        : connection_(connection), options_(options), stop_(stop), progress_(progress),
          logFrom_(options.now.date - options.logBack), since_(text(logFrom_)), now_(text(options.now)) {}

    Result<Snapshot> run();

private:
    static QString text(Date date) { return QString::fromStdString(date.toIso()); }
    static QString text(LocalTime time) { return QString::fromStdString(toIso(time)); }

    void loadPeople();
    void loadSupply();
    void loadLog();
    void loadCounts();
    void loadVisits();
    void finish(double share);

    // Does nothing after the first problem.
    template <class R>
    void read(std::vector<R> &into, const QString &where = {}, const QVariantList &values = {}) {
        if (failure_)
            return;
        auto records = readRecords<R>(connection_, where, values, stop_);
        if (records)
            into = std::move(*records);
        else
            failure_ = records.error();
    }

    Connection &connection_;
    const LoadOptions &options_;
    const std::stop_token &stop_;
    const ProgressSink &progress_;
    Date logFrom_;
    QString since_; // the first day of the log; sorts before every moment of that day
    QString now_;
    Snapshot snapshot_;
    std::optional<Problem> failure_;
};

void Loading::finish(double share) {
    if (!failure_ && stop_.stop_requested())
        failure_ = problem(ProblemCode::Cancelled, "load");
    if (progress_)
        progress_({.share = share, .stage = "loading"});
}

void Loading::loadPeople() {
    read(snapshot_.payers);
    read(snapshot_.nurses);
    read(snapshot_.shiftPatterns);
    read(snapshot_.extraShifts, QStringLiteral("WHERE shift_on >= ?"), {since_});
    read(snapshot_.timeOff, QStringLiteral("WHERE to_on > ?"), {since_});
    read(snapshot_.keptWhatIfs);
    read(snapshot_.intakeClosures, QStringLiteral("WHERE to_on IS NULL OR to_on >= ?"), {since_});
    read(snapshot_.decisionNotes); // one a week or two, and looked back at
    read(snapshot_.users);
    for (User &user : snapshot_.users)
        user.passwordHash.clear(); // no business of anything that is computed or shown
    read(snapshot_.handOvers,
         QStringLiteral("WHERE handed_at >= ? OR id IN "
                        "(SELECT hand_over_id FROM hand_over_item WHERE accepted_at IS NULL)"),
         {since_});
    read(snapshot_.watchEntries); // what was settled long ago stays settled
    read(snapshot_.orderAnswers);
    read(snapshot_.patients);
    read(snapshot_.catheters);
    read(snapshot_.authorisations);
    read(snapshot_.holds);
    read(snapshot_.drainOrders);
    read(snapshot_.visitOrders);
    read(snapshot_.callItems, QStringLiteral("WHERE status = 'open' OR closed_at >= ? OR raised_at >= ?"),
         {since_, since_});
    read(snapshot_.phoneCalls, QStringLiteral("WHERE closed_at IS NULL OR closed_at >= ? OR at >= ?"),
         {since_, since_});
    read(snapshot_.incidents); // few, and each is asked about for years
}

void Loading::loadSupply() {
    const QString yearAgo = text(options_.now.date.plusDays(-365));
    read(snapshot_.items);
    read(snapshot_.lots);
    read(snapshot_.suppliers);
    read(snapshot_.supplierItems);
    read(snapshot_.purchaseOrders,
         QStringLiteral("WHERE status IN ('draft', 'sent', 'partly_received') "
                        "OR coalesce(expected_on, ordered_on, '9999') >= ? OR coalesce(ordered_on, '') >= ?"),
         {yearAgo, yearAgo});
    // A reversed receipt went back to the supplier, movement by movement: it tells nothing of lead or price.
    read(snapshot_.receipts,
         QStringLiteral("WHERE at >= ? AND id NOT IN (SELECT receipt_id FROM stock_movement "
                        "WHERE to_kind = 'supplier' AND receipt_id IS NOT NULL AND undoes_id IS NOT NULL)"),
         {yearAgo});
    read(snapshot_.monthCloses);
    read(snapshot_.deliveries,
         QStringLiteral("WHERE status IN ('promised', 'picked', 'in_transit') "
                        "OR coalesce(delivered_at, promised_for_on) >= ?"),
         {since_});
    read(snapshot_.refillContacts,
         QStringLiteral("WHERE at >= ? OR id IN (SELECT refill_contact_id FROM delivery "
                        "WHERE status IN ('promised', 'picked', 'in_transit'))"),
         {since_});
    read(snapshot_.recallOutcomes);
    read(snapshot_.substitutions);
    read(snapshot_.shortageActions, QStringLiteral("WHERE closed_at IS NULL OR closed_at >= ?"), {since_});
    read(snapshot_.homeReturns, QStringLiteral("WHERE at >= ?"), {since_});
    read(snapshot_.carPars);
    if (failure_)
        return;
    auto balances = loadBalances(connection_, options_.now, stop_);
    if (balances)
        snapshot_.balances = std::move(*balances);
    else
        failure_ = balances.error();
}

void Loading::loadLog() {
    // An entry without a known time belongs to its whole day.
    std::vector<DrainEntry> entries;
    read(entries,
         QStringLiteral("WHERE at >= ? AND at < ? AND is_void = 0 AND (at <= ? OR time_is_known = 0)"),
         {since_, text(options_.now.date.plusDays(1)), now_});
    // Sorting keys and moving each entry once is several times faster than sorting the entries.
    struct Key {
        CatheterId catheter;
        LocalTime at;
        std::size_t index; // by id
        auto operator<=>(const Key &) const = default;
    };
    std::vector<Key> keys;
    keys.reserve(entries.size());
    for (std::size_t i = 0; i < entries.size(); ++i)
        keys.push_back({entries[i].catheter, entries[i].at, i});
    std::sort(keys.begin(), keys.end());
    snapshot_.drainEntries.reserve(entries.size());
    for (const Key &key : keys)
        snapshot_.drainEntries.push_back(std::move(entries[key.index]));
}

void Loading::loadCounts() {
    // The last count of a line is what its stock stands on, however old.
    read(snapshot_.homeCounts,
         QStringLiteral(
             "WHERE at <= ? AND (at >= ? OR id IN (SELECT id FROM (SELECT id, max(at) FROM home_count "
             "WHERE at <= ? GROUP BY catheter_id, item_id)))"),
         {now_, since_, now_});
    std::stable_sort(snapshot_.homeCounts.begin(), snapshot_.homeCounts.end(),
                     [](const HomeCount &a, const HomeCount &b) {
                         return std::tuple(a.catheter, a.item, a.at) < std::tuple(b.catheter, b.item, b.at);
                     });
}

void Loading::loadVisits() {
    read(snapshot_.visits, QStringLiteral("WHERE due_to_on > ? OR planned_on >= ?"), {since_, since_});
    // A week that begins before the log may reach into it.
    read(snapshot_.plans,
         QStringLiteral("WHERE week_start_on > ? AND version = (SELECT max(version) FROM plan AS other "
                        "WHERE other.week_start_on = plan.week_start_on)"),
         {text(logFrom_.plusDays(-7))});
    const QString afterLastWeek = text(options_.now.date.plusDays(-7)); // a week from then on is not over
    read(snapshot_.plansInForce, QStringLiteral("WHERE week_start_on > ? AND status = 'published'"),
         {afterLastWeek});
    std::ranges::stable_sort(snapshot_.plansInForce, {}, &Plan::publishedAt);
    read(snapshot_.firstPublished,
         QStringLiteral("WHERE week_start_on > ? AND version = (SELECT min(version) FROM plan AS other "
                        "WHERE other.week_start_on = plan.week_start_on AND "
                        "other.published_at IS NOT NULL)"),
         {afterLastWeek});
    std::ranges::stable_sort(snapshot_.firstPublished, {}, &Plan::publishedAt);
    read(snapshot_.planTold, QStringLiteral("WHERE told_for_on >= ?"), {text(options_.now.date)});
    read(snapshot_.patientTold, QStringLiteral("WHERE at >= ?"), {since_});
}

Result<Snapshot> Loading::run() {
    auto transaction = Transaction::begin(connection_, Transaction::Kind::Read);
    if (!transaction)
        return transaction.error();
    snapshot_.asOf = options_.now.date;
    snapshot_.now = options_.now;
    snapshot_.logFrom = logFrom_;
    auto settings = loadSettings(connection_);
    if (!settings)
        return settings.error();
    snapshot_.settings = std::move(*settings);
    finish(0.02);
    loadPeople();
    finish(0.15);
    loadSupply();
    finish(0.4);
    loadLog();
    finish(0.8);
    loadCounts();
    loadVisits();
    finish(1.0);
    if (failure_)
        return *failure_;
    if (auto done = transaction->commit(); !done)
        return done.error();
    return std::move(snapshot_);
}

// One direction: sums of what came to (sign 1) or left (sign -1) the inside places; the index alone is read.
Result<void> addSums(Connection &connection, const QString &end, int sign, const QString &upTo,
                     const std::stop_token &stop, std::vector<StockBalance> &sums) {
    std::optional<Problem> failure;
    const auto read = connection.each(
        QStringLiteral("SELECT %1_kind, %1_ref, item_id, lot_id, sum(quantity) FROM stock_movement "
                       "WHERE %1_kind IN ('storeroom', 'quarantine', 'car', 'transit', 'home') AND at <= ? "
                       "GROUP BY %1_kind, %1_ref, item_id, lot_id")
            .arg(end),
        {upTo}, [&](const QSqlQuery &row) {
            StockBalance &sum = sums.emplace_back();
            TakeVisitor take{row};
            take("kind", sum.place.kind);
            take("ref", sum.place.ref);
            take("item_id", sum.item);
            take("lot_id", sum.lot);
            take("quantity", sum.quantity);
            sum.quantity = sum.quantity * sign;
            if (take.bad)
                failure = problem(ProblemCode::FileCorrupt, "stock_movement", {take.bad});
            else if (sums.size() % kRowsBetweenStops == 0 && stop.stop_requested())
                failure = problem(ProblemCode::Cancelled, "load");
            return !failure;
        });
    if (failure)
        return *failure;
    return read;
}

} // namespace

Result<Snapshot> loadSnapshot(Connection &connection, const LoadOptions &options, const std::stop_token &stop,
                              const ProgressSink &progress) {
    return Loading(connection, options, stop, progress).run();
}

Result<AgencySettings> loadSettings(Connection &connection) {
    const auto rows = readRecords<SettingsRow>(connection, {}, {}, {});
    if (!rows)
        return rows.error();
    if (rows->empty())
        return problem(ProblemCode::FileCorrupt, "agency_settings", {"missing"});
    return settingsOf(rows->front());
}

Result<std::vector<StockBalance>> loadBalances(Connection &connection, LocalTime upTo,
                                               const std::stop_token &stop) {
    const QString until = QString::fromStdString(toIso(upTo));
    std::vector<StockBalance> sums;
    for (const auto &[end, sign] : {std::pair("to", 1), std::pair("from", -1)})
        if (auto added = addSums(connection, QLatin1String(end), sign, until, stop, sums); !added)
            return added.error();
    const auto line = [](const StockBalance &b) { return std::tuple(b.place, b.item, b.lot); };
    std::sort(sums.begin(), sums.end(),
              [&](const StockBalance &a, const StockBalance &b) { return line(a) < line(b); });
    std::vector<StockBalance> balances;
    for (const StockBalance &sum : sums) {
        if (!balances.empty() && line(balances.back()) == line(sum)) {
            balances.back().quantity += sum.quantity;
            continue;
        }
        if (!balances.empty() && balances.back().quantity.isZero())
            balances.pop_back();
        balances.push_back(sum);
    }
    if (!balances.empty() && balances.back().quantity.isZero())
        balances.pop_back();
    return balances;
}

} // namespace kitround::store
