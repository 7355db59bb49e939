#include "ui/shared/BackgroundJob.h"

namespace kitround::ui {

BackgroundJob::BackgroundJob(QObject *context) : QObject(context) {}

BackgroundJob::~BackgroundJob() {
    stop_.request_stop();
    {
        const std::lock_guard lock(alive_->mutex);
        alive_->isAlive = false;
    }
    future_.waitForFinished();
}

ProgressSink BackgroundJob::throttledSink() {
    auto timer = std::make_shared<QElapsedTimer>();
    return [this, timer](const Progress &p) {
        if (timer->isValid() && timer->elapsed() < 100 && p.share < 1)
            return;
        timer->start();
        const QString stage = QString::fromUtf8(p.stage.data(), static_cast<qsizetype>(p.stage.size()));
        const std::lock_guard lock(alive_->mutex);
        if (alive_->isAlive)
            QMetaObject::invokeMethod(
                this, [this, p, stage] { Q_EMIT progressed(p.share, stage, p.measure, p.open); },
                Qt::QueuedConnection);
    };
}

} // namespace kitround::ui
