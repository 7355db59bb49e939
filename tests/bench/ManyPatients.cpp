#include "tests/bench/ManyPatients.h"

#include "core/base/Random.h"
#include "core/calendar/DrainCalendar.h"
#include "sample-db/History.h"

#include <algorithm>
#include <cmath>

namespace kitround::bench {
namespace {

using sample::added;

constexpr double kDegreesAKilometre = 1.0 / 111.195;

// Six for sixty, forty-five for a thousand, 225 for five thousand: enough for the visits they owe.
int nursesFor(int patients) {
    const double small = 6.0 * std::sqrt(patients / 60.0);
    return std::max(2, static_cast<int>(std::lround(std::max(small, 0.045 * patients))));
}

class Maker {
public:
    explicit Maker(const ManyPatients &wish) : wish_(wish), random_(wish.seed) {
        s_.today = wish.today;
        plan_.seed = wish.seed;
        plan_.visitWeeksBack = wish.visitWeeksBack;
        side_ = 2.0 * std::sqrt(static_cast<double>(wish.patients));
    }

    sample::Scenario make() {
        makeAgency();
        makeStock();
        const int nurses = nursesFor(wish_.patients);
        for (int i = 0; i < nurses; ++i)
            makeNurse(i);
        for (int i = 0; i < wish_.patients; ++i)
            makePatient(i);
        makeArrivals();
        sample::addVisits(s_, plan_);
        sample::addSupplyHistory(s_, plan_);
        return std::move(s_);
    }

private:
    static std::string number(const char *prefix, int i) { return prefix + std::to_string(1000 + i); }

    Address somewhere() {
        Address address;
        address.street = std::to_string(random_.between(1, 200)) + " Numbered Street";
        address.town = "Invented town";
        address.postalCode = "00000";
        // Open ocean: no real town stands there.
        address.point = GeoPoint{38.0 + random_.uniform() * side_ * kDegreesAKilometre,
                                 -60.0 + random_.uniform() * side_ * kDegreesAKilometre / 0.788};
        return address;
    }

    void makeAgency() {
        s_.settings.agencyName = "Invented agency of " + std::to_string(wish_.patients);
        s_.settings.isInvented = true;
        s_.settings.demoToday = wish_.today;
        s_.settings.storeroom = somewhere();
        User user;
        user.name = "Coordinator";
        added(s_.users, user);
        Payer payer;
        payer.name = "Payer";
        added(s_.payers, payer);
    }

    void makeStock() {
        Supplier supplier;
        supplier.code = "S1";
        supplier.name = "Supplier";
        added(s_.suppliers, supplier);
        for (const int ml : {500, 1000})
            makeItem("KIT-", ItemKind::Kit, ml);
        for (const int ml : {500, 1000})
            makeItem("BOT-", ItemKind::Bottle, ml);
    }
    void makeItem(const char *prefix, ItemKind kind, int ml) {
        Item item;
        item.code = prefix + std::to_string(ml);
        item.name = item.code;
        item.kind = kind;
        item.bottleVolume = Millilitres::of(ml);
        item.casePack = {Eaches::of(10)};
        item.unitVolumeMl = 3 * ml;
        const ItemId id = added(s_.items, item).id;
        SupplierItem offer;
        offer.supplier = SupplierId(1);
        offer.item = id;
        offer.supplierCode = item.code;
        offer.pack = {Eaches::of(10)};
        offer.perCase = Money::of(20000);
        added(s_.supplierItems, offer);
    }

    void makeNurse(int i) {
        Nurse nurse;
        nurse.code = number("N", i);
        nurse.familyName = "Nurse";
        nurse.givenName = std::to_string(i + 1);
        nurse.languages = {"en"};
        nurse.skills = {
            {Skill::DrainChest, {}}, {Skill::DrainAbdomen, {}}, {Skill::SiteCare, {}}, {Skill::Teach, {}}};
        if (i % 3 != 2)
            nurse.skills.push_back({Skill::Assess, {}});
        nurse.base = somewhere();
        nurse.carSpaceMl = 200'000;
        const NurseId id = added(s_.nurses, nurse).id;
        const bool weekend = i % 7 == 6;
        for (const Weekday day : kAllWeekdays) {
            const bool works = weekend ? day != Weekday::Wednesday && day != Weekday::Thursday
                                       : WeekdaySet::mondayToFriday().contains(day);
            if (!works)
                continue;
            ShiftPattern shift;
            shift.nurse = id;
            shift.weekday = day;
            shift.from = Minutes::of(8 * 60);
            shift.to = Minutes::of(16 * 60 + 30);
            shift.breakLength = Minutes::of(30);
            shift.breakFrom = Minutes::of(11 * 60 + 30);
            shift.breakTo = Minutes::of(13 * 60 + 30);
            shift.validFrom = wish_.today.plusDays(-365);
            added(s_.shiftPatterns, shift);
        }
    }

    NurseId nearestNurse(const Address &address) const {
        const auto far = [&](const Nurse &n) {
            return std::pow(n.base.point->latitude - address.point->latitude, 2) +
                   std::pow(n.base.point->longitude - address.point->longitude, 2);
        };
        return std::ranges::min_element(s_.nurses, {}, far)->id;
    }

    void makePatient(int i) {
        const bool drainsItself = random_.chance(0.85);
        const Date start = wish_.today.plusDays(-random_.between(10, 150));
        Patient patient;
        patient.code = number("P", i);
        patient.familyName = "Patient";
        patient.givenName = std::to_string(i + 1);
        patient.address = somewhere();
        patient.languages = {"en"};
        patient.payer = PayerId(1);
        patient.status = CareStatus::Active;
        patient.referredAt = Instant::fromUnixSeconds((start.dayNumber() - 1) * 86400 + 15 * 3600);
        patient.startOfCare = start;
        patient.primaryNurse = nearestNurse(patient.address);
        patient.patientCompetence = drainsItself ? Competence::Alone : Competence::None;
        if (random_.chance(0.15))
            for (const Weekday day : kAllWeekdays)
                patient.windows.push_back({day, Minutes::of(9 * 60), Minutes::of(12 * 60), true});
        if (random_.chance(0.04)) {
            patient.status = CareStatus::Discharged;
            patient.exitedAt =
                Instant::fromUnixSeconds((wish_.today.dayNumber() - random_.between(1, 8)) * 86400);
        }
        const PatientId id = added(s_.patients, patient).id;
        makeCatheter(id, start);
        if (random_.chance(0.06))
            makeCatheter(id, start);
        makeHold(id);
        if (!drainsItself || random_.chance(0.75)) // the others are followed by phone
            makeVisitOrder(id, start, drainsItself);
    }

    void makeHold(PatientId patient) {
        if (!random_.chance(0.03))
            return;
        Hold hold;
        hold.patient = patient;
        hold.from = wish_.today.plusDays(-random_.between(0, 7));
        hold.expectedReturn = wish_.today.plusDays(random_.between(1, 9));
        added(s_.holds, hold);
    }

    void makeCatheter(PatientId patient, Date start) {
        const bool chest = random_.chance(0.75);
        const bool large = !chest || random_.chance(0.2);
        Catheter catheter;
        catheter.patient = patient;
        catheter.site = chest ? CavitySite::Chest : CavitySite::Abdomen;
        catheter.side = chest ? Side::Right : Side::Midline;
        catheter.insertedOn = start.plusDays(-2);
        const CatheterId id = added(s_.catheters, catheter).id;

        DrainOrder order;
        order.catheter = id;
        order.start = start;
        order.pattern = makePattern(start);
        order.mostPerSession = Millilitres::of(chest ? 1000 : 2000);
        order.kit = ItemId(large ? 2 : 1);
        order.extraBottle = ItemId(large ? 4 : 3);
        order.prescriber = "Prescriber";
        order.signedOn = start;
        added(s_.drainOrders, order);

        sample::HomePlan home;
        home.catheter = id;
        home.meanMl = chest ? 200 + 500 * random_.uniform() : 700 + 900 * random_.uniform();
        home.trendPercent = -6 + 8 * random_.uniform();
        home.adherence = 0.85 + 0.13 * random_.uniform();
        home.logShare = 0.85 + 0.15 * random_.uniform();
        home.stockIsUnknown = random_.chance(0.02);
        if (random_.chance(0.1))
            home.noRefillFrom = wish_.today.plusDays(-random_.between(10, 25));
        plan_.homes.push_back(home);
    }

    DrainPattern makePattern(Date start) {
        DrainPattern pattern;
        pattern.anchor = start;
        switch (random_.below(4)) {
        case 0:
            pattern.everyDays = 1;
            break;
        case 1:
            pattern.kind = DrainPatternKind::TimesAWeek;
            pattern.timesAWeek = 3;
            pattern.weekdays = {Weekday::Monday, Weekday::Wednesday, Weekday::Friday};
            break;
        default:
            pattern.everyDays = 2;
        }
        return pattern;
    }

    void makeVisitOrder(PatientId patient, Date start, bool drainsItself) {
        for (Date from = start; from <= wish_.today.plusDays(9); from = from.plusDays(60)) {
            VisitOrder order;
            order.patient = patient;
            order.kind = drainsItself ? VisitKind::Routine : VisitKind::DrainOnly;
            order.start = from;
            order.end = from.plusDays(60);
            const int weekly = drainsItself ? 1 : 2;
            order.segments = {{weekly, weekly, 9, false, ""}};
            order.needs = {Skill::SiteCare};
            order.prescriber = "Prescriber";
            added(s_.visitOrders, order);
        }
    }

    // Enough of each item every fortnight: what the orders mean, and a fifth more.
    void makeArrivals() {
        std::vector<double> perDay(s_.items.size(), 0.0);
        for (const DrainOrder &order : s_.drainOrders) {
            const double drains = calendar::drainsPerDay(order.pattern);
            perDay[static_cast<std::size_t>(order.kit.value()) - 1] += drains;
            perDay[static_cast<std::size_t>(order.extraBottle->value()) - 1] += drains * 0.4;
        }
        for (std::int64_t day = -98, n = 0; day < -1; day += 14, ++n)
            makeArrival(wish_.today.plusDays(day), n, perDay);
    }

    void makeArrival(Date on, std::int64_t n, const std::vector<double> &perDay) {
        sample::Arrival arrival;
        arrival.on = on;
        arrival.supplier = SupplierId(1);
        PurchaseOrder order;
        order.number = "PO-" + std::to_string(n);
        order.supplier = SupplierId(1);
        order.status = PurchaseStatus::Received;
        order.orderedOn = on.plusDays(-random_.between(4, 8));
        order.expectedOn = order.orderedOn->plusDays(5);
        for (std::size_t i = 0; i < s_.items.size(); ++i) {
            const double days = n == 0 ? 30 : 14 * 0.93;
            const Cases cases = Cases::of(1 + std::llround(perDay[i] * days / 10));
            const Eaches quantity = toEaches(cases, {Eaches::of(10)});
            Lot lot;
            lot.item = s_.items[i].id;
            lot.number = "L" + std::to_string(n) + "-" + std::to_string(i);
            lot.expiresOn = on.plusDays(random_.between(400, 700));
            arrival.lines.push_back({lot.item, added(s_.lots, lot).id, quantity, {}});
            order.lines.push_back({lot.item, cases, {Eaches::of(10)}, Money::of(20000), quantity, {}, ""});
        }
        arrival.order = added(s_.purchaseOrders, order).id;
        plan_.arrivals.push_back(arrival);
    }

    ManyPatients wish_;
    Random random_;
    double side_ = 10; // kilometres
    sample::Scenario s_;
    sample::HistoryPlan plan_;
};

} // namespace

sample::Scenario manyPatients(const ManyPatients &wish) {
    return Maker(wish).make();
}

Result<void> makeManyPatients(const std::string &path, const ManyPatients &wish,
                              const ProgressSink &progress) {
    return sample::writeScenario(path, manyPatients(wish), progress);
}

} // namespace kitround::bench
