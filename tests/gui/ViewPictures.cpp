// Draws every workplace of an agency file and its tabs to PNG pictures, for looking at: view_pictures FILE
// FOLDER [light|dark] [WIDTHxHEIGHT] [plan [save]] [forms]. `plan` plans next week first, `save` stores it in
// the file; `forms` draws the forms instead, on a copy of the file. Not a test by itself; the gui tests
// assert, this shows.
#include "core/base/Clock.h"
#include "tests/gui/WaitFor.h"
#include "tests/gui/support/FormPictures.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"
#include "ui/shell/AboutBox.h"
#include "ui/shell/MainWindow.h"

#include <QApplication>
#include <QDir>
#include <QFile>
#include <QPushButton>
#include <QTabWidget>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>
#include <QToolButton>

#include <cstdio>

namespace {

using kitround::ui::waitFor;

void drawTabs(kitround::ui::MainWindow &window, QWidget &within, const QDir &folder, const QString &page,
              const QString &suffix) {
    QList<QTabWidget *> all = within.findChildren<QTabWidget *>();
    if (auto *itself = qobject_cast<QTabWidget *>(&within))
        all.prepend(itself);
    for (QTabWidget *tabs : all) {
        if (!tabs->isVisible())
            continue;
        for (int i = 0; i < tabs->count(); ++i) {
            tabs->setCurrentIndex(i);
            QTest::qWait(60);
            const QString name = page + QStringLiteral("-tab%1").arg(i);
            window.grab().save(folder.filePath(name + suffix));
            drawTabs(window, *tabs->currentWidget(), folder, name, suffix); // tabs within the tab
        }
        tabs->setCurrentIndex(0);
        return;
    }
}

// The what-if as it asks, and with its answer to the question it opens with.
void drawWhatIf(kitround::ui::MainWindow &window, const QDir &folder, const QString &suffix) {
    auto *open = window.findChild<QPushButton *>(QStringLiteral("loadWhatIf"));
    QTimer::singleShot(200, &window, [&] {
        QWidget *dialog = QApplication::activeModalWidget();
        if (!dialog)
            return;
        dialog->grab().save(folder.filePath(QStringLiteral("whatif") + suffix));
        dialog->findChild<QPushButton *>(QStringLiteral("whatIfRun"))->click();
        auto *keep = dialog->findChild<QPushButton *>(QStringLiteral("whatIfKeep"));
        waitFor([&] { return keep->isEnabled(); }, 60000);
        QTest::qWait(60);
        dialog->grab().save(folder.filePath(QStringLiteral("whatif-answer") + suffix));
        dialog->findChild<QPushButton *>(QStringLiteral("whatIfClose"))->click();
    });
    open->click();
}

} // namespace

int main(int argc, char **argv) {
    using namespace kitround;
    QApplication app(argc, argv);
    QApplication::setApplicationVersion(QStringLiteral("pictures"));
    const QStringList arguments = QApplication::arguments();
    if (arguments.size() < 3) {
        std::fprintf(stderr, "usage: view_pictures FILE FOLDER [light|dark] [WIDTHxHEIGHT] [plan [save]] "
                             "[forms]\n");
        return 2;
    }
    const bool dark = arguments.value(3) == QStringLiteral("dark");
    const QStringList size = arguments.value(4, QStringLiteral("1280x720")).split(QLatin1Char('x'));
    ui::Look::apply(app, dark ? ui::Theme::Dark : ui::Theme::Light);
    ui::Ask::setSilent(true);
    const SystemClock clock;
    ui::MainWindow window(clock);
    window.resize(size.value(0).toInt(), size.value(1).toInt());
    window.show();
    const QDir folder(arguments.value(2));
    folder.mkpath(QStringLiteral("."));
    const QString suffix =
        QStringLiteral("-%1-%2.png").arg(arguments.value(3, QStringLiteral("light")), size.value(0));
    QTest::qWait(50);
    window.grab().save(folder.filePath(QStringLiteral("start") + suffix));

    QElapsedTimer timer;
    timer.start();
    QString file = arguments.value(1);
    const QTemporaryDir copies;
    if (arguments.contains(QStringLiteral("forms"))) {
        const QString copy = copies.filePath(QStringLiteral("copy.kitround"));
        if (!QFile::copy(file, copy)) {
            std::fprintf(stderr, "can't be copied: %s\n", qPrintable(file));
            return 1;
        }
        file = copy;
    }
    window.openFile(file);
    if (!waitFor([&] { return window.session().agency() != nullptr; }, 60000)) {
        std::fprintf(stderr, "not opened: %s\n", qPrintable(ui::Ask::lastSaid()));
        return 1;
    }
    std::printf("usable after %lld ms\n", static_cast<long long>(timer.elapsed()));
    if (!waitFor([&] { return window.session().nextWeek() != nullptr; }, 120000))
        return 1;
    std::printf("computed after %lld ms\n", static_cast<long long>(timer.elapsed()));
    QTest::qWait(100);
    if (arguments.contains(QStringLiteral("forms"))) {
        ui::drawForms(window, folder, suffix);
        return 0;
    }
    for (const char *page :
         {"today", "calendar", "stock", "reorders", "load", "patients", "nurses", "catalogue", "settings"}) {
        timer.restart();
        window.showPage(QString::fromLatin1(page));
        QTest::qWait(60);
        std::printf("%s shown in %lld ms\n", page, static_cast<long long>(timer.elapsed()) - 60);
        if (QString::fromLatin1(page) == QStringLiteral("calendar") &&
            arguments.contains(QStringLiteral("plan"))) {
            auto *plan = window.findChild<QPushButton *>(QStringLiteral("planWeek"));
            auto *stop = window.findChild<QPushButton *>(QStringLiteral("planStop"));
            plan->click();
            QTest::qWait(100);
            window.grab().save(folder.filePath(QStringLiteral("planning") + suffix));
            waitFor([&] { return !stop->isVisible(); }, 60000);
            if (arguments.contains(QStringLiteral("save"))) {
                window.findChild<QPushButton *>(QStringLiteral("planSave"))->click();
                waitFor([&] { return !window.session().isBusy(); }, 60000);
            }
            QTest::qWait(50);
        }
        // The first homes are dry; a later one shows the fan of what may come.
        if (auto *homes = window.findChild<ui::DenseTable *>(QStringLiteral("homesTable"));
            homes && homes->isVisible() && homes->model()->rowCount() > 30) {
            homes->setCurrentIndex(homes->model()->index(30, 0));
            QTest::qWait(30);
        }
        window.grab().save(folder.filePath(QString::fromLatin1(page) + suffix));
        if (auto *asDay = window.findChild<QToolButton *>(QStringLiteral("showAsDay"));
            asDay->isVisible() && asDay->isEnabled()) {
            asDay->click();
            QTest::qWait(60);
            window.grab().save(folder.filePath(QStringLiteral("day") + suffix));
            asDay->click();
        }
        drawTabs(window, window, folder, QString::fromLatin1(page), suffix);
        if (QLatin1String(page) == QLatin1String("load"))
            drawWhatIf(window, folder, suffix);
    }
    ui::AboutBox about(&window);
    about.show();
    QTest::qWait(30);
    about.grab().save(folder.filePath(QStringLiteral("about") + suffix));
    return 0;
}
