#include "tests/core/desk/Story.h"

#include "core/calendar/Weeks.h"
#include "core/calendar/Zone.h"

#include <algorithm>

namespace kitround::desk {
namespace {

calendar::Zone newYork() {
    return must(calendar::Zone::named("America/New_York"));
}

Item itemOf(const std::string &code, ItemKind kind, int volume) {
    Item item;
    item.code = code;
    item.name = code + " (invented)";
    item.kind = kind;
    item.bottleVolume = Millilitres::of(volume);
    item.connector = "round";
    item.casePack = {Eaches::of(10)};
    item.unitVolumeMl = volume * 3;
    return item;
}

} // namespace

Story::Story() : clock_(newYork().toUtc(at(kMonday, 8))) {
    path_ = (folder_.path() + QStringLiteral("/agency.kitround")).toStdString();
    AgencySettings settings;
    settings.agencyName = "Story agency (invented)";
    settings.isInvented = true;
    settings.storeroom.point = GeoPoint{40.0, -75.0};
    desk_ = must(Desk::create(path_, settings, "Ada Planner", clock_));

    Payer paying;
    paying.name = "Payer (invented)";
    payer = must(desk_->save(paying)).id;
    kit500 = must(desk_->save(itemOf("KIT-500", ItemKind::Kit, 500))).id;
    kit1000 = must(desk_->save(itemOf("KIT-1000", ItemKind::Kit, 1000))).id;
    bottle500 = must(desk_->save(itemOf("BOT-500", ItemKind::Bottle, 500))).id;
    Item latex = itemOf("KIT-LATEX", ItemKind::Kit, 500);
    latex.contains = {Material::Latex};
    latexKit = must(desk_->save(latex)).id;
    Supplier selling;
    selling.code = "SUP";
    selling.name = "Supplier (invented)";
    supplier = must(desk_->save(selling)).id;
    for (ItemId item : {kit500, kit1000, bottle500}) {
        SupplierItem offer;
        offer.supplier = supplier;
        offer.item = item;
        offer.pack = {Eaches::of(10)};
        offer.perCase = Money::of(10000);
        must(desk_->save(offer));
    }
    for (const char *code : {"N1", "N2"}) {
        Nurse working;
        working.code = code;
        working.familyName = code == std::string("N1") ? "Birch" : "Cedar";
        working.givenName = code == std::string("N1") ? "Bea" : "Cas";
        for (Skill skill :
             {Skill::DrainChest, Skill::DrainAbdomen, Skill::Teach, Skill::Assess, Skill::SiteCare})
            working.skills.push_back({skill, std::nullopt});
        working.base.point = GeoPoint{40.0, -75.0};
        working.carSpaceMl = 1'000'000;
        const NurseId id = must(desk_->save(working)).id;
        (code == std::string("N1") ? nurse : otherNurse) = id;
        for (Weekday day :
             {Weekday::Monday, Weekday::Tuesday, Weekday::Wednesday, Weekday::Thursday, Weekday::Friday}) {
            ShiftPattern shift;
            shift.nurse = id;
            shift.weekday = day;
            shift.from = Minutes::of(8 * 60);
            shift.to = Minutes::of(16 * 60 + 30);
            shift.validFrom = Date::of(2026, 1, 1);
            must(desk_->save(shift));
        }
    }
}

Story::~Story() = default;

void Story::now(LocalTime local) {
    clock_.set(newYork().toUtc(local));
    if (desk_)
        must(desk_->reload());
}
void Story::openFile(store::OpenMode mode) {
    OpenOptions options;
    options.mode = mode;
    desk_ = must(Desk::open(path_, options, clock_, {}, {}));
}
Instant Story::utc(LocalTime local) const {
    return newYork().toUtc(local);
}

Story::Home Story::addHome(const std::string &code) {
    Patient patient;
    patient.code = code;
    patient.familyName = "Family " + code;
    patient.givenName = "Given";
    patient.payer = payer;
    patient.status = CareStatus::Active;
    patient.startOfCare = Date::of(2026, 2, 2);
    patient.noAllergiesOn = patient.startOfCare;
    patient.referredAt = utc(at(Date::of(2026, 1, 31), 9));
    patient.address.point = GeoPoint{40.02, -75.02};
    patient.caregiverCompetence = Competence::Alone;
    Home home;
    home.patient = must(desk_->save(patient)).id;
    return addCatheter(home, CavitySite::Chest, Side::Right);
}

Story::Home Story::addCatheter(const Home &home, CavitySite site, Side side) {
    Catheter catheter;
    catheter.patient = home.patient;
    catheter.site = site;
    catheter.side = side;
    catheter.connector = "round";
    catheter.insertedOn = Date::of(2026, 2, 1);
    return {home.patient, must(desk_->save(catheter)).id};
}

DrainOrder Story::blankOrder(const Home &home, const DrainPattern &pattern, Date start, ItemId kit) const {
    DrainOrder order;
    order.catheter = home.catheter;
    order.pattern = pattern;
    order.start = start;
    order.mostPerSession = Millilitres::of(1000);
    order.kit = kit;
    order.prescriber = "Dr. Invented";
    order.signedOn = std::min(start, agency()->today());
    return order;
}
DrainOrder Story::order(const Home &home, const DrainPattern &pattern, Date start, ItemId kit) {
    return must(desk_->acceptOrder(must(desk_->previewOrder(blankOrder(home, pattern, start, kit)))));
}

VisitOrder Story::visits(const Home &home, int aWeek, int weeks, Date start) {
    VisitOrder order;
    order.patient = home.patient;
    order.start = start;
    VisitSegment segment;
    segment.leastPerWeek = segment.mostPerWeek = aWeek;
    segment.weeks = weeks;
    order.segments = {segment};
    return must(desk_->save(order));
}

LotId Story::receive(ItemId item, const std::string &lot, std::int64_t eaches, Date expiresOn) {
    ReceiveRecord record;
    record.supplier = supplier;
    record.at = desk_->agency()->snapshot().now;
    record.lines = {{item, lot, expiresOn, Eaches::of(eaches), Eaches{}, false}};
    return must(desk_->receive(record)).receipt.lines.front().lot;
}

HomeCount Story::count(const Home &home, ItemId item, std::int64_t eaches, LocalTime when) {
    HomeCount counted;
    counted.catheter = home.catheter;
    counted.item = item;
    counted.at = when;
    counted.counted = Eaches::of(eaches);
    return must(desk_->countHome(counted));
}

DrainEntry Story::entry(const Home &home, LocalTime when, std::optional<int> volume) const {
    DrainEntry made;
    made.catheter = home.catheter;
    made.at = when;
    if (volume)
        made.volume = Millilitres::of(*volume);
    return made;
}
Desk::Logged Story::drain(const Home &home, LocalTime when, int volume, ItemId item,
                          std::optional<LotId> lot) {
    DrainEntry made = entry(home, when, volume);
    made.supplies = {{item, Eaches::of(1), Eaches{}, lot}};
    return must(desk_->logDrain(made));
}

RefillContact Story::contact(const Home &home, RefillAnswer answer) {
    RefillContact made;
    made.patient = home.patient;
    made.at = desk_->agency()->snapshot().now;
    made.answeredBy = "Given Family";
    made.answer = answer;
    return must(desk_->recordContact(made));
}

Delivery Story::promise(const Home &home, ItemId item, std::int64_t eaches, Date on,
                        std::optional<NurseId> carriedBy) {
    Delivery wanted;
    wanted.patient = home.patient;
    wanted.contact = contact(home).id;
    wanted.promisedFor = on;
    wanted.way = carriedBy ? DeliveryWay::WithVisit : DeliveryWay::Courier;
    wanted.carriedBy = carriedBy;
    wanted.lines = {{home.catheter, item, std::nullopt, Eaches::of(eaches)}};
    return must(desk_->promise(wanted));
}

Visit Story::publishVisit(const Home &home, Date on, int hour, VisitKind kind) {
    const Date week = calendar::weekStartOf(on, Weekday::Sunday);
    Visit wanted;
    wanted.patient = home.patient;
    wanted.kind = kind;
    wanted.dueFrom = on;
    wanted.dueTo = on + Days::of(1);
    wanted.length = Minutes::of(45);
    wanted.on = on;
    wanted.startAt = Minutes::of(60 * hour);
    wanted.nurse = nurse;
    const Plan plan = must(desk_->acceptPlan(week, {wanted}, 1, 0, true));
    return visit(plan.visits.front().visit);
}

Eaches Story::total(ItemId item) const {
    Eaches sum;
    for (const StockBalance &balance : snapshot().balances)
        if (balance.item == item)
            sum += balance.quantity;
    return sum;
}
const Delivery &Story::delivery(DeliveryId id) const {
    const auto found = std::ranges::find(snapshot().deliveries, id, &Delivery::id);
    if (found == snapshot().deliveries.end())
        throw std::runtime_error("no such delivery");
    return *found;
}
const Visit &Story::visit(VisitId id) const {
    const Visit *found = index().visit(id);
    if (!found)
        throw std::runtime_error("no such visit");
    return *found;
}
std::size_t Story::auditLength() const {
    return must(desk_->audit(100000)).size();
}

} // namespace kitround::desk
