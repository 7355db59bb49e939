#pragma once
// Waits for a condition while the windows go on working.
#include <QElapsedTimer>
#include <QTest>

#include <functional>

namespace kitround::ui {

// Whether it holds at last.
inline bool waitFor(const std::function<bool()> &condition, int milliseconds = 60000) {
    QElapsedTimer timer;
    timer.start();
    while (!condition() && timer.elapsed() < milliseconds)
        QTest::qWait(10);
    return condition();
}

} // namespace kitround::ui
