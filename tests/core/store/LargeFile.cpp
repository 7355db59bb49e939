// Makes a large agency's file and times building and loading it:  kitround_store_large <path> [each]
// 5,000 patients, 150 nurses, 120 days: about 250,000 drain entries with supplies, 400,000 movements, 85,000
// visits. "each" writes an audit entry a change; without it one a table. An existing file is only loaded.
#include "core/base/Random.h"
#include "core/store/AgencyFile.h"

#include <QCoreApplication>
#include <QFileInfo>

#include <chrono>
#include <cstdio>
#include <ctime>
#include <functional>

namespace kitround::store {
namespace {

constexpr int kPatients = 5000, kNurses = 150, kItems = 20, kLots = 200, kDays = 120;
const Date kToday = Date::of(2026, 11, 25);
const Instant kMoment = Instant::fromUnixSeconds(1'795'600'000);

double seconds(const std::function<void()> &work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

// What a busy machine does not blur.
double processorSeconds() {
    return double(std::clock()) / CLOCKS_PER_SEC;
}

template <class T>
T must(Result<T> result) {
    if (!result) {
        std::fprintf(stderr, "%s\n", debugText(result.error()).c_str());
        std::exit(1);
    }
    return std::move(*result);
}
void must(Result<void> result) {
    if (!result) {
        std::fprintf(stderr, "%s\n", debugText(result.error()).c_str());
        std::exit(1);
    }
}

class Builder {
public:
    Builder(AgencyFile &file, AuditDetail detail) : unit_(file, UserId(1), kMoment, detail) {}
    void build() {
        people();
        stock();
        for (int i = 0; i < kPatients; ++i)
            home(i);
        must(unit_.commit());
        std::printf("%d entries, %d movements, %d visits, %d deliveries\n", entries_, movements_, visits_,
                    deliveries_);
    }

private:
    LocalTime at(std::int64_t daysBack) {
        return {kToday.plusDays(-daysBack), Minutes::of(random_.between(420, 1200))};
    }
    void people() {
        Payer payer;
        payer.name = "Payer (invented)";
        payer_ = must(unit_.save(payer)).id;
        for (int i = 0; i < kNurses; ++i) {
            Nurse nurse;
            nurse.code = "N" + std::to_string(i);
            nurse.familyName = "Nurse " + std::to_string(i);
            nurse.languages = {"en"};
            nurse.skills = {{Skill::DrainChest, {}}, {Skill::DrainAbdomen, {}}, {Skill::Assess, {}}};
            nurses_.push_back(must(unit_.save(nurse)).id);
            for (Weekday day : kAllWeekdays) {
                ShiftPattern shift;
                shift.nurse = nurses_.back();
                shift.weekday = day;
                shift.from = Minutes::of(480);
                shift.to = Minutes::of(1000);
                must(unit_.save(shift));
            }
        }
    }
    void stock() {
        Supplier supplier;
        supplier.code = "S";
        supplier.name = "Supplier (invented)";
        supplier_ = must(unit_.save(supplier)).id;
        for (int i = 0; i < kItems; ++i) {
            Item item;
            item.code = "I" + std::to_string(i);
            item.name = "Kit " + std::to_string(i);
            item.bottleVolume = Millilitres::of(i % 2 ? 500 : 1000);
            items_.push_back(must(unit_.save(item)).id);
        }
        for (int i = 0; i < kLots; ++i) {
            Lot lot;
            lot.item = items_[std::size_t(i % kItems)];
            lot.number = "L" + std::to_string(i);
            lot.expiresOn = kToday.plusDays(100 + i);
            lots_.push_back(must(unit_.save(lot)));
            move(lots_.back(), 100000, {PlaceKind::Supplier, supplier_.value()}, Place::storeroom(),
                 at(kDays + 5));
        }
    }
    void move(const Lot &lot, std::int64_t quantity, Place from, Place to, LocalTime when,
              std::optional<DeliveryId> delivery = {}) {
        StockMovement m;
        m.at = when;
        m.item = lot.item;
        m.lot = lot.id;
        m.quantity = Eaches::of(quantity);
        m.from = from;
        m.to = to;
        m.delivery = delivery;
        must(unit_.post(m));
        ++movements_;
    }
    void home(int number) {
        Patient patient;
        patient.code = "P" + std::to_string(number);
        patient.familyName = "Family " + std::to_string(number);
        patient.givenName = "Given";
        patient.payer = payer_;
        patient.status = CareStatus::Active;
        patient.address = {"1 Example Road", "Exampletown", "00000", "", GeoPoint{41.1, -73.2}, {}, {}};
        patient.languages = {"en"};
        patient.windows = {{Weekday::Monday, Minutes::of(540), Minutes::of(720), true}};
        const PatientId id = must(unit_.save(patient)).id;
        Catheter catheter;
        catheter.patient = id;
        const CatheterId line = must(unit_.save(catheter)).id;
        const Lot &lot = lots_[random_.below(lots_.size())];
        DrainOrder order;
        order.catheter = line;
        order.kit = lot.item;
        order.start = kToday.plusDays(-kDays);
        order.pattern.anchor = order.start;
        must(unit_.save(order));
        VisitOrder visits;
        visits.patient = id;
        visits.start = order.start;
        visits.segments = {{1, 1, 20, false, ""}};
        const VisitOrderId visitOrder = must(unit_.save(visits)).id;
        for (int week = 0; week < kDays / 7; ++week) {
            visit(id, visitOrder, kToday.plusDays(-7 * week + 5));
            if (week % 2 == 0) // the home gets more than it uses
                deliver(id, line, lot, at(7 * week + 3), 10);
            if (week % 3 == 0)
                count(line, lot.item, at(7 * week + 1));
        }
        for (int session = 0; session < 50; ++session)
            drain(line, lot, at((session * 12) / 5));
    }
    void visit(PatientId patient, VisitOrderId order, Date on) {
        Visit v;
        v.patient = patient;
        v.order = order;
        v.status = on < kToday ? VisitStatus::Done : VisitStatus::Published;
        v.dueFrom = on.plusDays(-2);
        v.dueTo = on.plusDays(3);
        v.length = Minutes::of(45);
        v.on = on;
        v.startAt = Minutes::of(600);
        v.nurse = nurses_[random_.below(nurses_.size())];
        must(unit_.save(v));
        ++visits_;
    }
    void deliver(PatientId patient, CatheterId line, const Lot &lot, LocalTime when, std::int64_t quantity) {
        Delivery d;
        d.patient = patient;
        d.status = DeliveryStatus::Delivered;
        d.promisedFor = when.date;
        d.deliveredAt = when;
        d.lines = {{line, lot.item, lot.id, Eaches::of(quantity)}};
        const DeliveryId id = must(unit_.save(d)).id;
        move(lot, quantity, Place::storeroom(), Place::transit(id), when, id);
        move(lot, quantity, Place::transit(id), Place::home(line), when, id);
        ++deliveries_;
    }
    void count(CatheterId line, ItemId item, LocalTime when) {
        HomeCount c;
        c.catheter = line;
        c.item = item;
        c.at = when;
        c.counted = Eaches::of(random_.between(0, 30));
        must(unit_.save(c));
    }
    void drain(CatheterId line, const Lot &lot, LocalTime when) {
        DrainEntry e;
        e.catheter = line;
        e.at = when;
        e.volume = Millilitres::of(random_.between(50, 1000));
        e.supplies = {{lot.item, Eaches::of(1), {}, lot.id}};
        if (random_.chance(0.05))
            e.symptoms = {Symptom::Cough};
        const DrainEntryId id = must(unit_.save(e)).id;
        ++entries_;
        move(lot, 1, Place::home(line), Place::used(id), when);
    }

    UnitOfWork unit_;
    Random random_{1};
    PayerId payer_;
    SupplierId supplier_;
    std::vector<NurseId> nurses_;
    std::vector<ItemId> items_;
    std::vector<Lot> lots_;
    int entries_ = 0, movements_ = 0, visits_ = 0, deliveries_ = 0;
};

int run(const std::string &path, AuditDetail detail) {
    if (!QFileInfo::exists(QString::fromStdString(path))) {
        AgencySettings settings;
        settings.isInvented = true;
        User user;
        user.name = "Builder";
        auto file = must(AgencyFile::create(path, settings, user, kMoment));
        const double built = seconds([&] { Builder(*file, detail).build(); });
        std::printf("built in %.1f s, %.1f s of processor\n", built, processorSeconds());
    }
    std::printf("%.1f MB\n", double(QFileInfo(QString::fromStdString(path)).size()) / 1e6);
    for (int i = 0; i < 3; ++i) {
        auto file = must(AgencyFile::open(path, OpenMode::ReadOnly));
        const auto start = std::chrono::steady_clock::now();
        const double before = processorSeconds();
        std::string stages;
        Snapshot snapshot;
        const double took = seconds([&] {
            snapshot =
                must(file->load({{kToday, Minutes::of(1300)}, Days::of(kDays)}, {}, [&](const Progress &p) {
                    const std::chrono::duration<double> so = std::chrono::steady_clock::now() - start;
                    stages += " " + std::to_string(p.share).substr(0, 4) + "@" +
                              std::to_string(so.count()).substr(0, 5);
                }));
        });
        std::printf("loaded %zu patients, %zu entries, %zu visits, %zu balances in %.2f s, %.2f s of "
                    "processor (%s )\n",
                    snapshot.patients.size(), snapshot.drainEntries.size(), snapshot.visits.size(),
                    snapshot.balances.size(), took, processorSeconds() - before, stages.c_str());
    }
    auto file = must(AgencyFile::open(path, OpenMode::ReadOnly));
    Problems faults;
    const double checked = seconds([&] { faults = must(file->check({}, {})); });
    std::printf("checked in %.1f s, %zu findings\n", checked, faults.size());
    return 0;
}

} // namespace
} // namespace kitround::store

int main(int argc, char **argv) {
    const QCoreApplication application(argc, argv);
    if (argc < 2)
        return 2;
    const bool each = argc > 2 && std::string_view(argv[2]) == "each";
    return kitround::store::run(argv[1], each ? kitround::store::AuditDetail::EachChange
                                              : kitround::store::AuditDetail::Summary);
}
