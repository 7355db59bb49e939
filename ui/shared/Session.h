#pragma once
// The open agency as the windows see it: the latest snapshot, what was computed from it (stock, this week,
// next week), and writing. Reading and computing run in the background; a write is one short transaction in
// this thread, after which everything is reloaded in the background and the signals tell who shows what.
#include "core/base/Clock.h"
#include "core/desk/Desk.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"
#include "ui/shared/Ask.h"

#include <QObject>
#include <QPointer>
#include <QString>

#include <memory>
#include <optional>

namespace kitround::ui {

class BackgroundJob;

class Session : public QObject {
    Q_OBJECT
public:
    explicit Session(const Clock &clock, QObject *parent = nullptr);
    ~Session() override;

    // Opens in the background; opened() or openFailed() follows. A file of an older version is first brought
    // to the new one, in the background too.
    void open(const QString &path, std::optional<Date> asOf);
    // Takes a desk made elsewhere (a new agency).
    void take(std::unique_ptr<desk::Desk> desk);
    void close();

    bool isOpen() const { return desk_ != nullptr; }
    bool isReadOnly() const { return desk_ && desk_->isReadOnly(); }
    const Clock &clock() const { return clock_; }
    // Precondition of all of these: isOpen() and agency() loaded (opened() has come).
    desk::Desk &desk() { return *desk_; }
    desk::AgencyPtr agency() const { return agency_; }
    Date today() const { return agency_->today(); }
    LocalTime now() const { return agency_->snapshot().now; }
    // nullptr until computed for the present snapshot.
    desk::StockPicturePtr stock() const { return stock_; }
    desk::WeekPicturePtr thisWeek() const { return thisWeek_; }
    desk::WeekPicturePtr nextWeek() const { return nextWeek_; }
    // Who sits here, for the record of changes and the foot of a paper.
    QString userName();
    // By the snapshot in hand; a coordinator where the file does not know the user.
    UserRole userRole() const;
    void workAs(UserId user); // remembered for this file on this machine
    // The name of who worked in this file last on this machine and does not work here any more: somebody
    // else works in it then. Empty else.
    QString userGone() const { return userGone_; }
    bool isBusy() const { return loading_ || computing_; }

    // One change by a person: `what` says in the past tense what was done ("Logged a drain for A. B."). On a
    // problem nothing was written; it is given back for the form to show beside its fields.
    template <class Change>
    std::optional<Problem> write(const QString &what, Change change) {
        auto result = change(*desk_);
        if (!result)
            return result.error();
        noteWritten(what);
        return std::nullopt;
    }
    // The same where there is no form: the problem is shown.
    template <class Change>
    bool writeOrTell(QWidget *window, const QString &what, Change change) {
        if (const auto problem = write(what, change)) {
            Ask::problem(window, *problem);
            return false;
        }
        return true;
    }
    QString lastWritten() const { return lastWritten_; }
    // Where the old file is kept if opening brought it to a new version; else empty.
    QString olderKeptAs() const { return olderKeptAs_; }

Q_SIGNALS:
    void opened();
    void openFailed(const kitround::Problem &problem);
    // A file that is open could not be read anew, or the forecast not be worked out: what is shown is older
    // than the file. `isSaved`: something was saved since it was read; entering it again would double it.
    void notUpToDate(const kitround::Problem &problem, bool isSaved);
    void closed();
    void agencyChanged(); // a new snapshot is in place; stock() and the weeks are not yet
    void computed();      // stock(), thisWeek(), nextWeek() belong to the present snapshot
    void busyChanged(bool busy, const QString &stage);
    void written(const QString &what);
    void userChanged();

public Q_SLOTS:
    void refresh(); // reloads in the background

private:
    struct Pictures;
    void openHere(const QString &path, std::optional<Date> asOf);
    bool holdsAllWrites() const;
    void rememberUser() const;
    void recallUser();
    void noteWritten(const QString &what);
    void loaded(Result<desk::AgencyPtr> agency);
    void compute();
    void setBusy(const QString &stage);

    const Clock &clock_;
    std::unique_ptr<desk::Desk> desk_;
    desk::AgencyPtr agency_;
    desk::StockPicturePtr stock_;
    desk::WeekPicturePtr thisWeek_, nextWeek_;
    QPointer<BackgroundJob> loader_, computer_;
    QString lastWritten_, userGone_, olderKeptAs_;
    std::uint64_t writesAtLoad_ = 0; // of the reading that runs
    std::uint64_t writesHeld_ = 0;   // of the snapshot in hand
    int generation_ = 0;             // stale answers are dropped by it
    bool loading_ = false, computing_ = false;
    bool announced_ = false;
};

} // namespace kitround::ui
