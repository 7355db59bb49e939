// The desktop program: reads its arguments, sets the look, opens the window. Everything else is in ui and
// core.
#include "core/base/Clock.h"
#include "ui/shell/MainWindow.h"

#include <QApplication>
#include <QCommandLineParser>
#include <QSettings>

#include <cstdio>

int main(int argc, char **argv) {
    QApplication app(argc, argv);
    QApplication::setApplicationName(QStringLiteral("kitround"));
    QApplication::setOrganizationName(QStringLiteral("kitround"));
    QApplication::setApplicationVersion(QStringLiteral(KITROUND_VERSION));

    QCommandLineParser arguments;
    arguments.setApplicationDescription(
        QObject::tr("Plans a home-infusion agency's visits and supplies together."));
    arguments.addHelpOption();
    arguments.addVersionOption();
    const QCommandLineOption agency(QStringLiteral("agency"), QObject::tr("Opens this agency file."),
                                    QStringLiteral("file"));
    const QCommandLineOption asOf(QStringLiteral("as-of"),
                                  QObject::tr("Takes this day for today (YYYY-MM-DD)."),
                                  QStringLiteral("date"));
    const QCommandLineOption theme(QStringLiteral("theme"), QObject::tr("light or dark."),
                                   QStringLiteral("theme"));
    arguments.addOptions({agency, asOf, theme});
    arguments.process(app);

    std::optional<kitround::Date> day;
    if (arguments.isSet(asOf)) {
        day = kitround::Date::fromIso(arguments.value(asOf).toStdString());
        if (!day) {
            std::fprintf(stderr, "kitround: --as-of %s is not a date; write it as YYYY-MM-DD.\n",
                         qPrintable(arguments.value(asOf)));
            return 2;
        }
    }
    const QString wanted = arguments.isSet(theme) ? arguments.value(theme)
                                                  : QSettings().value(QStringLiteral("theme")).toString();
    kitround::ui::Look::apply(app, wanted == QStringLiteral("dark") ? kitround::ui::Theme::Dark
                                                                    : kitround::ui::Theme::Light);
    const kitround::SystemClock clock;
    kitround::ui::MainWindow window(clock);
    window.show();
    if (arguments.isSet(agency))
        window.openFile(arguments.value(agency), day);
    return QApplication::exec();
}
