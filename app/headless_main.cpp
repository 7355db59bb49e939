// Kitround without windows: parses the command line, opens the agency file, prints what the desktop shows.
#include "app/headless/Arguments.h"
#include "app/headless/Output.h"
#include "app/headless/Run.h"
#include "core/desk/words/Words.h"

#include <QGuiApplication>

#include <cstdlib>
#include <exception>
#include <memory>

namespace {

using namespace kitround::headless;

// Standard error belongs to the one or two lines a caller reads; the library's own remarks are not for it.
void quietly(QtMsgType type, const QMessageLogContext &, const QString &message) {
    if (type == QtFatalMsg) {
        complain(message);
        std::_Exit(static_cast<int>(ExitCode::WorldSaidNo));
    }
}

int finished(const Stop &stop) {
    if (stop.code != ExitCode::Done) {
        complain(stop.said);
        return static_cast<int>(stop.code);
    }
    const auto written = writeText(stop.said);
    return static_cast<int>(written ? ExitCode::Done : ExitCode::WorldSaidNo);
}

int runAll(int argc, char **argv) {
    qInstallMessageHandler(quietly);
    QStringList words;
    for (int k = 1; k < argc; ++k)
        words << QString::fromLocal8Bit(argv[k]);
    int appArgc = 1; // the words are ours; the application object gets only the program's name
    const auto read = [&] {
        const QCoreApplication early(appArgc, argv); // the parser asks it for the program's name
        return readArguments(words);
    }();
    if (const Stop *stop = std::get_if<Stop>(&read))
        return finished(*stop);
    const Arguments &arguments = std::get<Arguments>(read);
    std::unique_ptr<QCoreApplication> app;
    if (arguments.verb == QStringLiteral("papers")) { // drawing needs fonts, not a screen
        qputenv("QT_QPA_PLATFORM", "offscreen");
        app = std::make_unique<QGuiApplication>(appArgc, argv);
    } else
        app = std::make_unique<QCoreApplication>(appArgc, argv);
    return static_cast<int>(run(arguments));
}

} // namespace

int main(int argc, char **argv) {
    try {
        return runAll(argc, argv);
    } catch (const std::exception &e) {
        complain(QStringLiteral("stopped by an unexpected fault (%1); nothing was changed.")
                     .arg(QString::fromUtf8(e.what())));
        return static_cast<int>(ExitCode::WorldSaidNo);
    }
}
