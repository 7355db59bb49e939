// The window tests need an application; without a display they run on the offscreen platform.
#include "ui/shared/Ask.h"
#include "ui/shared/Look.h"

#include <QApplication>
#include <QDialog>
#include <QTimer>

#include <gtest/gtest.h>

namespace {

constexpr int kPatience = 180'000; // milliseconds; a build with run-time checks is ten times slower

// A form that opens where no test expects one waits for a person who is not there: it is closed and the test
// fails, so that the run goes on and the name of the test is known.
class Watchdog : public testing::EmptyTestEventListener {
public:
    Watchdog() {
        timer_.setInterval(kPatience);
        QObject::connect(&timer_, &QTimer::timeout, &timer_, [this] {
            ADD_FAILURE() << "still running after three minutes";
            if (auto *dialog = qobject_cast<QDialog *>(QApplication::activeModalWidget())) {
                ADD_FAILURE() << "still open: " << dialog->windowTitle().toStdString();
                dialog->done(QDialog::Rejected); // whatever was entered in it
                timer_.start(200);               // another may stand behind it
            }
        });
    }
    void OnTestStart(const testing::TestInfo &) override { timer_.start(kPatience); }
    void OnTestEnd(const testing::TestInfo &test) override {
        timer_.stop();
        if (kitround::ui::Ask::forgetAnswers()) // else the next test would be answered with it
            ADD_FAILURE() << test.test_suite_name() << '.' << test.name()
                          << " prepared an answer that nothing asked for";
    }

private:
    QTimer timer_;
};

} // namespace

int main(int argc, char **argv) {
    ::testing::InitGoogleTest(&argc, argv);
    QApplication app(argc, argv);
    QApplication::setOrganizationName(QStringLiteral("kitround-tests"));
    kitround::ui::Look::apply(app, kitround::ui::Theme::Light);
    ::testing::UnitTest::GetInstance()->listeners().Append(new Watchdog);
    return RUN_ALL_TESTS();
}
