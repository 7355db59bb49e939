#pragma once
// Pages alone on a fresh sample agency, without the window around them; found by object names. Nothing
// sleeps: every wait has a condition.
#include "core/base/Clock.h"
#include "sample-db/SampleAgency.h"
#include "tests/gui/WaitFor.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Session.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include <algorithm>
#include <functional>

namespace kitround::ui {

class PageStory : public testing::Test {
protected:
    // The sample's Thursday, noon in New York.
    explicit PageStory(const char *now = "2026-11-19T17:00:00Z")
        : clock_(*Instant::fromIso(now)), session_(clock_) {
        Ask::setSilent(true); // nothing waits for a person who is not there
    }
    ~PageStory() override {
        EXPECT_EQ(dialogsAwaited_, 0) << "a dialog that the test was to drive never opened";
    }

    // Opens once the pages that listen to the session are there.
    void openSample() {
        const std::string file = path("a.kitround").toStdString();
        const auto made = sample::buildSampleAgency(file, {}, {});
        EXPECT_TRUE(made) << (made ? "" : debugText(made.error()));
        session_.open(QString::fromStdString(file), std::nullopt);
        EXPECT_TRUE(settled());
    }
    bool settled() {
        return waitFor([&] { return !session_.isBusy() && session_.nextWeek() != nullptr; });
    }
    void workAs(UserRole role) {
        const auto &users = session_.agency()->snapshot().users;
        const auto found = std::ranges::find(users, role, &User::role);
        ASSERT_NE(found, users.end());
        session_.workAs(found->id);
    }
    template <class Widget>
    static Widget &in(QWidget &form, const char *name) {
        auto *widget = form.findChild<Widget *>(QString::fromLatin1(name));
        EXPECT_NE(widget, nullptr) << name;
        return *widget;
    }
    // While a modal dialog is open, `drive` gets it, and must close it.
    void withNextDialog(const std::function<void(QWidget &)> &drive) {
        ++dialogsAwaited_;
        auto *timer = new QTimer(&timers_); // ends itself once a dialog was driven
        timer->setInterval(5);
        QObject::connect(timer, &QTimer::timeout, timer, [this, timer, drive] {
            QWidget *dialog = QApplication::activeModalWidget();
            if (!dialog || !dialog->isVisible())
                return;
            timer->stop();
            timer->deleteLater();
            --dialogsAwaited_;
            drive(*dialog);
        });
        timer->start();
    }
    // Where the environment names a folder (KITROUND_PICTURES), for looking at.
    static void picture(QWidget &widget, const char *name) {
        const QString folder = qEnvironmentVariable("KITROUND_PICTURES");
        if (!folder.isEmpty())
            widget.grab().save(folder + QLatin1Char('/') + QLatin1String(name) + QStringLiteral(".png"));
    }
    QString path(const char *name) const { return folder_.filePath(QString::fromLatin1(name)); }

    int dialogsAwaited_ = 0;
    QTemporaryDir folder_;
    FixedClock clock_;
    Session session_;
    QObject timers_;
};

} // namespace kitround::ui
