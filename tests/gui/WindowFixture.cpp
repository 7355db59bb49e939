#include "tests/gui/WindowFixture.h"

#include "sample-db/SampleAgency.h"
#include "ui/calendar/CalendarPage.h"
#include "ui/calendar/WeekGrid.h"
#include "ui/shared/Ask.h"
#include "ui/shared/Look.h"

#include <QComboBox>
#include <QDialog>
#include <QElapsedTimer>
#include <QFile>
#include <QLineEdit>
#include <QPointer>
#include <QPushButton>
#include <QSettings>
#include <QTimer>

namespace kitround::ui {
namespace {

// Made once a run; every test works on its own copy.
QString sampleFile() {
    static const std::unique_ptr<QTemporaryDir> dir = std::make_unique<QTemporaryDir>();
    static const QString file = [] {
        const QString made = dir->filePath(QStringLiteral("sample.kitround"));
        const auto built = sample::buildSampleAgency(made.toStdString(), std::nullopt, {});
        EXPECT_TRUE(built) << (built ? std::string() : debugText(built.error()));
        return made;
    }();
    return file;
}

} // namespace

void WindowTest::SetUp() {
    dir_ = std::make_unique<QTemporaryDir>();
    Ask::setSilent(true);
    window_ = std::make_unique<MainWindow>(clock_);
    window_->resize(1280, 720);
    window_->show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(window_.get()));
}

void WindowTest::TearDown() {
    EXPECT_EQ(formsAwaited_, 0) << "a form that the test was to fill in never opened";
    window_.reset();
    QSettings().remove(QStringLiteral("dialogSize"));
    QSettings().remove(QStringLiteral("user")); // who worked in files that are gone now
    dir_.reset();
}

bool WindowTest::waitFor(const std::function<bool()> &condition, int milliseconds) {
    QElapsedTimer timer;
    timer.start();
    while (!condition() && timer.elapsed() < milliseconds)
        QTest::qWait(5);
    return condition();
}

void WindowTest::openSample() {
    const QString file = path("copy.kitround");
    ASSERT_TRUE(QFile::copy(sampleFile(), file));
    window_->openFile(file);
    waitComputed();
    // Today's round is still to be made, so the calendar opens with this week; the stories plan the next one.
    const Date next = session().nextWeek()->week.from;
    find<CalendarPage>("calendarPage").showWeek(next);
    ASSERT_TRUE(waitFor([&] {
        const desk::WeekBoard &board = find<WeekGrid>("weekGrid").board();
        return !board.rows.empty() && board.rows.front().days.front().on == next;
    }));
}

void WindowTest::planWeek() {
    window_->showPage(QStringLiteral("calendar"));
    find<QPushButton>("planWeek").click();
    auto &stop = find<QPushButton>("planStop");
    ASSERT_TRUE(waitFor([&] { return stop.isVisible(); }));
    ASSERT_TRUE(waitFor([&] { return !stop.isVisible(); }, 150000));
}

void WindowTest::waitComputed() {
    ASSERT_TRUE(waitFor([this] { return !session().isBusy() && session().nextWeek() != nullptr; }))
        << Ask::lastSaid().toStdString();
}

void WindowTest::withNextForm(const std::function<void(QWidget &)> &drive) {
    ++formsAwaited_;
    const QPointer<QWidget> before = QApplication::activeModalWidget(); // a dialog that the form opens from
    auto *timer = new QTimer(window_.get());                            // ends itself once a form was driven
    timer->setInterval(5);
    QObject::connect(timer, &QTimer::timeout, timer, [this, timer, drive, before] {
        QWidget *form = QApplication::activeModalWidget();
        if (!form || form == before || !form->isVisible())
            return;
        timer->stop();
        timer->deleteLater();
        --formsAwaited_;
        drive(*form);
    });
    timer->start();
}

void WindowTest::type(QWidget &form, const char *field, const QString &text) {
    auto *edit = form.findChild<QLineEdit *>(QString::fromLatin1(field));
    ASSERT_NE(edit, nullptr) << field;
    edit->setFocus();
    edit->selectAll();
    QTest::keyClicks(edit, text);
}

void WindowTest::choose(QWidget &form, const char *field, qint64 value) {
    auto *box = form.findChild<QComboBox *>(QString::fromLatin1(field));
    ASSERT_NE(box, nullptr) << field;
    const int at = box->findData(value);
    ASSERT_GE(at, 0) << field << " has no " << value;
    box->setCurrentIndex(at);
}

void WindowTest::leave(QWidget &form) {
    if (auto *dialog = qobject_cast<QDialog *>(&form))
        dialog->done(QDialog::Rejected);
}

} // namespace kitround::ui
