#pragma once
// A real main window on a fresh copy of the sample file, found by object names and driven by keys and mouse.
// Nothing sleeps: every wait has a condition.
#include "core/base/Clock.h"
#include "ui/shell/MainWindow.h"

#include <QApplication>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <functional>
#include <memory>

namespace kitround::ui {

class WindowTest : public ::testing::Test {
protected:
    void SetUp() override;
    void TearDown() override;

    void openSample(); // a fresh copy; returns when everything is computed
    // Runs the event loop until the condition holds; false after `milliseconds`.
    static bool waitFor(const std::function<bool()> &condition, int milliseconds = 20000);
    // After a write: the reload and what follows from it are in place.
    void waitComputed();
    void planWeek(); // next week in the calendar, to the end of the search
    // While a modal form is open, `drive` gets it, and must close it. A form that never came fails the test.
    void withNextForm(const std::function<void(QWidget &form)> &drive);

    template <class Widget>
    Widget &find(const char *name) {
        auto *widget = window_->findChild<Widget *>(QString::fromLatin1(name));
        EXPECT_NE(widget, nullptr) << name;
        return *widget;
    }
    Session &session() { return window_->session(); }
    QString path(const char *name) const { return dir_->filePath(QString::fromLatin1(name)); }
    static void type(QWidget &form, const char *field, const QString &text);
    static void choose(QWidget &form, const char *field, qint64 value);
    static void leave(QWidget &form); // closes it, whatever was entered in it

    int formsAwaited_ = 0;

    // Noon of the sample's own day.
    FixedClock clock_{Instant::fromUnixSeconds(Date::of(2026, 11, 19).dayNumber() * 86400 + 17 * 3600)};
    std::unique_ptr<QTemporaryDir> dir_;
    std::unique_ptr<MainWindow> window_;
};

} // namespace kitround::ui
