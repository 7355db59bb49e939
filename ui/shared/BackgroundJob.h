#pragma once
// Long work off the window: it gets a stop token and a progress sink, and its answer comes back in the
// window's thread. The job belongs to a context object; when that goes, the work is asked to stop, joined and
// its answer dropped. Stopping keeps what the work returns ("the best so far"); whether that is used is the
// caller's choice.
#include "core/base/Progress.h"

#include <QElapsedTimer>
#include <QFuture>
#include <QObject>
#include <QtConcurrent/QtConcurrentRun>

#include <atomic>
#include <functional>
#include <memory>
#include <mutex>
#include <stop_token>
#include <utility>

namespace kitround::ui {

class BackgroundJob : public QObject {
    Q_OBJECT
public:
    // work: T(std::stop_token, const ProgressSink &), on a pool thread. done: void(T), in this thread.
    template <class Work, class Done>
    static BackgroundJob *start(QObject *context, Work work, Done done) {
        auto *job = new BackgroundJob(context); // owned by the context, deletes itself when done
        using T = std::invoke_result_t<Work, std::stop_token, const ProgressSink &>;
        job->future_ = QtConcurrent::run([job, work = std::move(work), done = std::move(done),
                                          stop = job->stop_.get_token(), alive = job->alive_] {
            auto answer = std::make_shared<T>(work(stop, job->throttledSink()));
            const std::lock_guard lock(alive->mutex);
            if (!alive->isAlive)
                return;
            QMetaObject::invokeMethod(
                job,
                [job, answer, done] {
                    if (!job->isAbandoned_)
                        done(std::move(*answer));
                    Q_EMIT job->finished();
                    job->deleteLater();
                },
                Qt::QueuedConnection);
        });
        return job;
    }
    ~BackgroundJob() override;

    void stop() { stop_.request_stop(); }
    // Asks it to stop and drops its answer. Deleting a job waits until its work is left off; this does not,
    // so that the window goes on.
    void abandon() {
        stop();
        isAbandoned_ = true;
    }
    bool isStopping() const { return stop_.stop_requested(); }

Q_SIGNALS:
    void progressed(double share, const QString &stage, double measure, int open);
    void finished();

private:
    struct Alive { // guards the hand-over against a job that is just being destroyed
        std::mutex mutex;
        bool isAlive = true;
    };
    explicit BackgroundJob(QObject *context);
    ProgressSink throttledSink();

    std::stop_source stop_;
    bool isAbandoned_ = false; // of the thread that made it
    std::shared_ptr<Alive> alive_ = std::make_shared<Alive>();
    QFuture<void> future_;
};

} // namespace kitround::ui
