#include "ui/shared/Session.h"

#include "ui/shared/BackgroundJob.h"

namespace kitround::ui {

struct Session::Pictures {
    desk::StockPicturePtr stock;
    desk::WeekPicturePtr thisWeek, nextWeek;
};

Session::Session(const Clock &clock, QObject *parent) : QObject(parent), clock_(clock) {}
Session::~Session() = default;

void Session::open(const QString &path, std::optional<Date> asOf) {
    close();
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
    Q_EMIT userChanged();
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
        if (!announced_)
            close();
        Q_EMIT openFailed(problem);
        return;
    }
    agency_ = *agency;
    desk_->adopt(agency_, writesAtLoad_);
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
                Q_EMIT openFailed(pictures.error());
                return;
            }
            stock_ = pictures->stock;
            thisWeek_ = pictures->thisWeek;
            nextWeek_ = pictures->nextWeek;
            Q_EMIT computed();
        });
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
