#include "ui/shared/Session.h"

#include "ui/shared/BackgroundJob.h"
#include "ui/shared/RecordForm.h"

#include <QFileInfo>
#include <QSettings>

#include <algorithm>

namespace kitround::ui {
namespace {

QString userKey(const desk::Desk &desk) {
    const QString path = QFileInfo(QString::fromStdString(desk.path())).canonicalFilePath();
    return QStringLiteral("user/") + QString::fromLatin1(path.toUtf8().toPercentEncoding());
}
QString idOf(const QString &key) {
    return key + QStringLiteral("/id");
}
QString nameOf(const QString &key) {
    return key + QStringLiteral("/name");
}

} // namespace

struct Session::Pictures {
    desk::StockPicturePtr stock;
    desk::WeekPicturePtr thisWeek, nextWeek;
};

Session::Session(const Clock &clock, QObject *parent) : QObject(parent), clock_(clock) {}
Session::~Session() = default;

// Copying an old file and bringing it to the new version takes seconds, so that runs beside the window, which
// can say so. What hinders it is found again, and told, when the file is opened here.
void Session::open(const QString &path, std::optional<Date> asOf) {
    close();
    if (!desk::isOfOlderVersion(path.toStdString())) {
        openHere(path, asOf);
        return;
    }
    const int generation = generation_;
    loading_ = true;
    setBusy(tr("Bringing the file to the new version; the old one is kept beside it"));
    loader_ = BackgroundJob::start(
        this,
        [file = path.toStdString()](std::stop_token, const ProgressSink &) {
            return desk::bringUpToDate(file);
        },
        [this, generation, path, asOf](Result<std::string> keptAs) {
            if (generation != generation_)
                return;
            loading_ = false;
            setBusy({});
            openHere(path, asOf);
            if (keptAs && isOpen() && olderKeptAs_.isEmpty())
                olderKeptAs_ = QString::fromStdString(*keptAs);
        });
}

void Session::openHere(const QString &path, std::optional<Date> asOf) {
    // The connection belongs to this thread, so the file is opened here (quick) and read elsewhere (long).
    desk::OpenOptions options;
    options.asOf = asOf;
    options.loadNow = false;
    auto desk = desk::Desk::open(path.toStdString(), options, clock_, {}, {});
    if (!desk && desk.error().code == ProblemCode::FileReadOnly) {
        options.mode = store::OpenMode::ReadOnly; // looking is still possible; the window says so
        desk = desk::Desk::open(path.toStdString(), options, clock_, {}, {});
    }
    if (!desk) {
        Q_EMIT openFailed(desk.error());
        return;
    }
    take(std::move(*desk));
}

void Session::take(std::unique_ptr<desk::Desk> desk) {
    desk_ = std::move(desk);
    desk_->setReloadAfterWrites(false);
    announced_ = false;
    olderKeptAs_ = QString::fromStdString(desk_->olderKeptAs());
    writesHeld_ = 0;
    recallUser();
    refresh();
}

void Session::close() {
    ++generation_;
    delete loader_;
    delete computer_;
    desk_.reset();
    agency_.reset();
    stock_.reset();
    thisWeek_.reset();
    nextWeek_.reset();
    loading_ = computing_ = false;
    lastWritten_.clear();
    userGone_.clear();
    olderKeptAs_.clear();
    Q_EMIT closed();
}

QString Session::userName() {
    if (desk_)
        if (const auto users = desk_->users())
            for (const User &user : *users)
                if (user.id == desk_->user())
                    return QString::fromStdString(user.name);
    return {};
}

UserRole Session::userRole() const {
    if (desk_ && agency_)
        for (const User &user : agency_->snapshot().users)
            if (user.id == desk_->user())
                return user.role;
    return UserRole::Coordinator;
}

void Session::workAs(UserId user) {
    desk_->setUser(user);
    userGone_.clear();
    rememberUser();
    Q_EMIT userChanged();
}

void Session::rememberUser() const {
    const auto users = desk_->users();
    if (!users)
        return;
    const auto found = std::ranges::find(*users, desk_->user(), &User::id);
    if (found == users->end())
        return;
    const QString key = userKey(*desk_);
    QSettings().setValue(idOf(key), static_cast<qlonglong>(found->id.value()));
    QSettings().setValue(nameOf(key), QString::fromStdString(found->name));
}

// The name must be the same, too: another file may stand at the path by now, with its own numbers.
void Session::recallUser() {
    userGone_.clear();
    const QString key = userKey(*desk_);
    const QString name = QSettings().value(nameOf(key)).toString();
    const auto users = desk_->users();
    if (name.isEmpty() || !users)
        return;
    const UserId id(QSettings().value(idOf(key)).toLongLong());
    const auto found = std::ranges::find(*users, id, &User::id);
    if (found != users->end() && found->isActive && QString::fromStdString(found->name) == name)
        desk_->setUser(id);
    else
        userGone_ = name;
}

void Session::refresh() {
    if (!desk_)
        return;
    const int generation = ++generation_;
    if (loader_)
        loader_->stop();
    if (computer_)
        computer_->stop();
    writesAtLoad_ = desk_->writeCount();
    loading_ = true;
    computing_ = false;
    setBusy(tr("Reading the file"));
    loader_ = BackgroundJob::start(
        this,
        [path = desk_->path(), asOf = desk_->asOf(), clock = &clock_](std::stop_token stop,
                                                                      const ProgressSink &progress) {
            return desk::loadAgency(path, asOf, *clock, stop, progress);
        },
        [this, generation](Result<desk::AgencyPtr> agency) {
            if (generation == generation_)
                loaded(std::move(agency));
        });
}

void Session::loaded(Result<desk::AgencyPtr> agency) {
    loading_ = false;
    if (!agency) {
        setBusy({});
        const Problem problem = agency.error();
        if (announced_) {
            if (!stock_)
                compute(); // of the snapshot that stays: a reading that was begun had stopped it
            Q_EMIT notUpToDate(problem, !holdsAllWrites());
            return;
        }
        loader_.clear(); // it is telling this right now, and deletes itself
        close();
        Q_EMIT openFailed(problem);
        return;
    }
    agency_ = *agency;
    writesHeld_ = writesAtLoad_;
    desk_->adopt(agency_, writesAtLoad_);
    DateField::setWeekStart(agency_->settings().weekStart);
    if (QSettings().value(idOf(userKey(*desk_))).toLongLong() == desk_->user().value())
        rememberUser(); // the name may have been changed
    stock_.reset();
    thisWeek_.reset();
    nextWeek_.reset();
    if (!announced_) {
        announced_ = true;
        Q_EMIT opened();
    }
    Q_EMIT agencyChanged();
    compute();
}

void Session::compute() {
    const int generation = generation_;
    computing_ = true;
    setBusy(tr("Working out the stock forecast"));
    computer_ = BackgroundJob::start(
        this,
        [agency = agency_](std::stop_token stop, const ProgressSink &progress) -> Result<Pictures> {
            Pictures pictures;
            auto stock = desk::computeStock(agency, stop, progress);
            if (!stock)
                return stock.error();
            pictures.stock = *stock;
            auto thisWeek = desk::openWeek(agency, agency->today(), &pictures.stock->refills);
            if (!thisWeek)
                return thisWeek.error();
            pictures.thisWeek = *thisWeek;
            auto nextWeek = desk::openWeek(agency, desk::nextWeek(*agency), &pictures.stock->refills);
            if (!nextWeek)
                return nextWeek.error();
            pictures.nextWeek = *nextWeek;
            return pictures;
        },
        [this, generation](Result<Pictures> pictures) {
            if (generation != generation_)
                return;
            computing_ = false;
            setBusy({});
            if (!pictures) {
                Q_EMIT notUpToDate(pictures.error(), !holdsAllWrites());
                return;
            }
            stock_ = pictures->stock;
            thisWeek_ = pictures->thisWeek;
            nextWeek_ = pictures->nextWeek;
            Q_EMIT computed();
        });
}

bool Session::holdsAllWrites() const {
    return desk_->writeCount() <= writesHeld_;
}

void Session::setBusy(const QString &stage) {
    Q_EMIT busyChanged(isBusy(), stage);
}

void Session::noteWritten(const QString &what) {
    lastWritten_ = what;
    Q_EMIT written(what);
    refresh();
}

} // namespace kitround::ui
