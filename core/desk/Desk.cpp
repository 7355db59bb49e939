#include "core/desk/Desk.h"

#include "core/desk/OwnFigures.h"
#include "core/desk/tasks/DeskInner.h"
#include "core/store/HeldFiles.h"

#include <algorithm>

namespace kitround::desk {
namespace {

Result<AgencyPtr> loadFrom(store::AgencyFile &file, const AgencySettings &settings, std::optional<Date> asOf,
                           const Clock &clock, std::stop_token stop, const ProgressSink &progress) {
    Result<LocalTime> now = localNow(settings, asOf, clock);
    if (!now)
        return now.error();
    store::LoadOptions options;
    options.now = *now;
    Result<Snapshot> snapshot = file.load(options, stop, progress);
    if (!snapshot)
        return snapshot.error();
    return AgencyPtr(std::make_shared<const Agency>(std::move(*snapshot)));
}

Snapshot withSettingsInUse(Snapshot snapshot) {
    snapshot.settings = settingsInUse(snapshot);
    return snapshot;
}

} // namespace

Agency::Agency(Snapshot snapshot)
    : settings_(snapshot.settings), snapshot_(withSettingsInUse(std::move(snapshot))), index_(snapshot_) {}

Result<LocalTime> localNow(const AgencySettings &settings, std::optional<Date> asOf, const Clock &clock) {
    Result<calendar::Zone> zone = calendar::Zone::named(settings.timeZone);
    if (!zone)
        return zone.error();
    LocalTime now = zone->toLocal(clock.now());
    if (asOf)
        now.date = *asOf;
    else if (settings.demoToday)
        now.date = *settings.demoToday;
    return now;
}

Result<AgencyPtr> loadAgency(const std::string &path, std::optional<Date> asOf, const Clock &clock,
                             std::stop_token stop, const ProgressSink &progress) {
    auto file = store::AgencyFile::open(path, store::OpenMode::ReadOnly);
    if (!file)
        return file.error();
    Result<AgencySettings> settings = (*file)->settings();
    if (!settings)
        return settings.error();
    return loadFrom(**file, *settings, asOf, clock, stop, progress);
}

bool isOfOlderVersion(const std::string &path) {
    const auto file = store::AgencyFile::open(path, store::OpenMode::ReadOnly);
    if (file)
        return false;
    const Problem &why = file.error();
    return why.code == ProblemCode::FileReadOnly && !why.args.empty() && why.args.front() == "older";
}

Result<std::string> bringUpToDate(const std::string &path) {
    const auto file = store::AgencyFile::open(path, store::OpenMode::ReadWrite);
    if (!file)
        return file.error();
    return (*file)->olderKeptAs();
}

bool isOpenHere(const std::string &path) {
    return store::isHeld(path);
}

LocalTime Desk::Inner::now() const {
    // The zone was known when the file was opened, and save(AgencySettings) refuses another.
    return localNow(settings, asOf, *clock).value();
}
Instant Desk::Inner::toUtc(LocalTime local) const {
    return calendar::Zone::named(settings.timeZone).value().toUtc(local);
}
LocalTime Desk::Inner::toLocal(Instant utc) const {
    return calendar::Zone::named(settings.timeZone).value().toLocal(utc);
}

Result<User> Desk::Inner::me() const {
    const Result<std::vector<User>> users = file->users();
    if (!users)
        return users.error();
    const auto found = std::ranges::find(*users, user, &User::id);
    return found == users->end() ? User{} : *found;
}

Result<void> Desk::Inner::reload() {
    const std::uint64_t before = writes;
    Result<AgencySettings> stored = file->settings();
    if (!stored)
        return stored.error();
    settings = *stored;
    Result<AgencyPtr> loaded = loadFrom(*file, settings, asOf, *clock, {}, {});
    if (!loaded)
        return loaded.error();
    agency = *loaded;
    loadedAfter = before;
    return {};
}

Result<AgencyPtr> Desk::Inner::latest() {
    if (isStale())
        if (Result<void> done = reload(); !done)
            return done.error();
    return agency;
}

Result<std::unique_ptr<Desk>> Desk::open(const std::string &path, const OpenOptions &options,
                                         const Clock &clock, std::stop_token stop,
                                         const ProgressSink &progress) {
    auto file = store::AgencyFile::open(path, options.mode);
    if (!file)
        return file.error();
    Result<AgencySettings> settings = (*file)->settings();
    if (!settings)
        return settings.error();
    if (Result<LocalTime> now = localNow(*settings, options.asOf, clock); !now)
        return now.error();
    AgencyPtr agency;
    if (options.loadNow) {
        Result<AgencyPtr> loaded = loadFrom(**file, *settings, options.asOf, clock, stop, progress);
        if (!loaded)
            return loaded.error();
        agency = *loaded;
    }
    Result<std::vector<User>> users = (*file)->users();
    if (!users)
        return users.error();
    auto inner = std::make_unique<Inner>();
    inner->file = std::move(*file);
    inner->clock = &clock;
    inner->asOf = options.asOf;
    inner->settings = *settings;
    inner->agency = agency;
    const auto first = std::ranges::find_if(*users, &User::isActive);
    if (first != users->end())
        inner->user = first->id;
    return std::unique_ptr<Desk>(new Desk(std::move(inner)));
}

Result<std::unique_ptr<Desk>> Desk::create(const std::string &path, const AgencySettings &settings,
                                           const std::string &userName, const Clock &clock) {
    if (Result<LocalTime> now = localNow(settings, std::nullopt, clock); !now)
        return now.error();
    User user;
    user.name = userName;
    user.role = UserRole::NurseManager;
    auto file = store::AgencyFile::create(path, settings, user, clock.now());
    if (!file)
        return file.error();
    file->reset(); // one connection at a time; opening checks what was made
    return open(path, {}, clock, {}, {});
}

Desk::Desk(std::unique_ptr<Inner> inner) : inner_(std::move(inner)) {}
Desk::~Desk() = default;

const std::string &Desk::path() const {
    return inner_->file->path();
}
const std::string &Desk::olderKeptAs() const {
    return inner_->file->olderKeptAs();
}
bool Desk::isReadOnly() const {
    return inner_->file->mode() == store::OpenMode::ReadOnly;
}
AgencyPtr Desk::agency() const {
    return inner_->agency;
}
std::optional<Date> Desk::asOf() const {
    return inner_->asOf;
}
void Desk::setUser(UserId user) {
    inner_->user = user;
}
UserId Desk::user() const {
    return inner_->user;
}
Result<std::vector<User>> Desk::users() {
    return inner_->file->users();
}
std::uint64_t Desk::writeCount() const {
    return inner_->writes;
}
void Desk::adopt(AgencyPtr agency, std::optional<std::uint64_t> writesBefore) {
    const std::uint64_t holds = writesBefore.value_or(inner_->writes);
    if (holds < inner_->loadedAfter)
        return; // an answer older than what is in hand
    inner_->settings = agency->settings();
    inner_->agency = std::move(agency);
    inner_->loadedAfter = holds;
}
Result<void> Desk::reload() {
    return inner_->reload();
}
void Desk::setReloadAfterWrites(bool on) {
    inner_->reloadsAfterWrites = on;
}

Result<Problems> Desk::check(std::stop_token stop, const ProgressSink &progress) {
    return inner_->file->check(stop, progress);
}
Result<void> Desk::backupTo(const std::string &target, std::stop_token stop, const ProgressSink &progress) {
    return inner_->file->backupTo(target, stop, progress);
}
Result<std::vector<AuditEntry>> Desk::audit(std::int64_t most, const std::string &table,
                                            std::int64_t record) {
    return inner_->file->audit(most, table, record);
}
Result<std::vector<AuditEntry>> Desk::audit(const store::AuditQuery &query) {
    return inner_->file->audit(query);
}
Result<std::vector<std::string>> Desk::auditedTables() {
    return inner_->file->auditedTables();
}
Result<void> Desk::notePrinted(const std::string &paper) {
    return inner_->write(
        [&](store::UnitOfWork &unit) { return unit.note(AuditAction::Print, "paper", 0, paper); });
}

} // namespace kitround::desk
