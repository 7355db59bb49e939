// What the window does with an agency file: opens it, sets a new one up, makes the sample, backs up and
// checks.
#include "sample-db/SampleAgency.h"
#include "ui/setup/ImportDialog.h"
#include "ui/setup/NewAgency.h"
#include "ui/setup/StartPage.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/Printing.h"
#include "ui/shell/MainWindow.h"

#include <QDir>
#include <QFile>
#include <QFileInfo>
#include <QLabel>
#include <QSettings>

namespace kitround::ui {
namespace {

const QString kFileFilter = QStringLiteral("Kitround (*.kitround);;*");

// A second connection, for work in the background.
Result<std::unique_ptr<desk::Desk>> openForReading(const std::string &path, const Clock &clock) {
    desk::OpenOptions options;
    options.mode = store::OpenMode::ReadOnly;
    options.loadNow = false;
    return desk::Desk::open(path, options, clock, {}, {});
}

} // namespace

QString backupName(const desk::Agency &agency) {
    QString name;
    for (const QChar c : QString::fromStdString(agency.settings().agencyName).toLower())
        if (c.isLetterOrNumber())
            name += c;
        else if (!name.isEmpty() && !name.endsWith(u'-'))
            name += u'-';
    name.truncate(60);
    if (name.endsWith(u'-'))
        name.chop(1);
    return QStringLiteral("%1-%2.kitround")
        .arg(name.isEmpty() ? QStringLiteral("agency") : name,
             QString::fromStdString(agency.today().toIso()));
}

void MainWindow::openFile(const QString &path, std::optional<Date> asOf) {
    start_->setBusy(tr("Opening…"));
    session_.open(path, asOf);
}

void MainWindow::askOpen() {
    if (!mayLeaveDraft())
        return;
    if (const auto file = Ask::openFile(this, tr("Open an agency file"), kFileFilter))
        openFile(*file);
}

void MainWindow::askNew() {
    if (!mayLeaveDraft())
        return;
    NewAgency wizard(session_.clock(), this);
    if (wizard.exec() == QDialog::Accepted) {
        session_.close();
        session_.take(wizard.takeDesk());
    }
}

void MainWindow::askSample() {
    if (!mayLeaveDraft())
        return;
    const auto file = Ask::saveFile(this, tr("Where to put the sample agency"), kFileFilter,
                                    QDir::home().filePath(QStringLiteral("sample-agency.kitround")));
    if (file)
        buildSample(*file);
}

void MainWindow::buildSample(const QString &path) {
    start_->setBusy(tr("Making the sample agency…"));
    if (QFileInfo::exists(path) && !QFile::remove(path)) { // the person agreed to replace it in the dialog
        start_->setBusy({});
        Ask::problem(this, Problem{ProblemCode::FileExists, path.toStdString()});
        return;
    }
    for (const QLatin1String tail : {QLatin1String("-wal"), QLatin1String("-shm")})
        QFile::remove(path + tail); // of the replaced one: what is in it is not for the new one
    BackgroundJob::start(
        this,
        [path](std::stop_token, const ProgressSink &progress) {
            return sample::buildSampleAgency(path.toStdString(), std::nullopt, progress);
        },
        [this, path](Result<void> built) {
            start_->setBusy({});
            if (!built)
                Ask::problem(this, built.error());
            else
                openFile(path);
        });
}

void MainWindow::bringInList() {
    ImportDialog(session_, this).exec();
}

void MainWindow::backUp() {
    const QString key = QStringLiteral("backupFolder"); // they are kept in one place, and not beside the file
    const QString folder = QSettings().value(key).toString();
    const QString name = backupName(*session_.agency());
    const auto file =
        Ask::saveFile(this, tr("Back up to"), kFileFilter,
                      !folder.isEmpty() && QFileInfo(folder).isDir() ? QDir(folder).filePath(name) : name);
    if (!file)
        return;
    footBusy_->setText(tr("Backing up…"));
    BackgroundJob::start(
        this,
        [path = session_.desk().path(),
         target = file->toStdString()](std::stop_token stop, const ProgressSink &progress) -> Result<void> {
            const SystemClock clock; // outlives the desk
            auto source = openForReading(path, clock);
            if (!source)
                return source.error();
            return (*source)->backupTo(target, stop, progress);
        },
        [this, to = *file, key](Result<void> done) {
            footBusy_->clear();
            if (!done) {
                Ask::problem(this, done.error());
                return;
            }
            QSettings().setValue(key, QFileInfo(to).absolutePath());
            sayAtFoot(tr("Backed up to %1 and read back. To use it: copy it, then File > Open the copy.")
                          .arg(QDir::toNativeSeparators(to)));
        });
}

void MainWindow::checkFile() {
    footBusy_->setText(tr("Checking the file…"));
    BackgroundJob::start(
        this,
        [path = session_.desk().path()](std::stop_token stop,
                                        const ProgressSink &progress) -> Result<Problems> {
            const SystemClock clock; // outlives the desk
            auto source = openForReading(path, clock);
            if (!source)
                return source.error();
            return (*source)->check(stop, progress);
        },
        [this](Result<Problems> found) {
            footBusy_->clear();
            if (!found)
                Ask::problem(this, found.error());
            else if (!found->empty())
                Ask::problem(this, joined(*found));
            else
                Ask::tell(this, tr("Check the file"),
                          tr("The file is sound: integrity, references, audit chain "
                             "and stock ledger agree."));
        });
}

void MainWindow::printDowntimePack() {
    const desk::WeekPicturePtr week = session_.thisWeek();
    const desk::StockPicturePtr stock = session_.stock();
    if (!week || !stock) {
        Ask::tell(this, tr("Not ready yet"),
                  tr("The forecast is still being worked out. Try again in a moment."));
        return;
    }
    offerPaper(this, session_, desk::downtimePack(*week, *stock));
}

} // namespace kitround::ui
