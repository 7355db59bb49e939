#include "ui/shared/FileDialog.h"

#include <QDir>
#include <QFileDialog>
#include <QFileIconProvider>
#include <QFileInfo>
#include <QSettings>
#include <QTemporaryDir>
#include <QUrl>

#include <utility>

namespace kitround::ui {
namespace {

class NamesOnly : public QFileIconProvider {
public:
    using QFileIconProvider::icon;
    QIcon icon(const QFileInfo &info) const override {
        return QFileIconProvider::icon(info.isDir() ? QAbstractFileIconProvider::Folder
                                                    : QAbstractFileIconProvider::File);
    }
    QString type(const QFileInfo &info) const override {
        if (info.isDir())
            return QObject::tr("Folder");
        return info.suffix().isEmpty() ? QObject::tr("File")
                                       : QObject::tr("%1 file").arg(info.suffix().toUpper());
    }
};

// A folder with nothing in it.
QString quietFolder() {
    static const QTemporaryDir folder;
    return folder.path();
}

// A new dialog lists the folder that was left last before it can be told to go by names: that of the dialog
// before, or of another run, as the library remembers it. So the remembered one is a quiet one while a dialog
// is made.
void rememberLastFolder(const QString &folder) {
    QSettings remembered(QSettings::UserScope, QStringLiteral("QtProject"));
    const QString key = QStringLiteral("FileDialog/lastVisited");
    if (remembered.contains(key))
        remembered.setValue(key, QUrl::fromLocalFile(folder).toString());
}

// Gives the folder that was left as well.
std::pair<std::optional<QString>, QString> askForFile(QWidget *parent, const FileWish &wish) {
    NamesOnly names; // outlives the dialog
    QFileDialog dialog(parent, wish.title, quietFolder(), wish.filter);
    // The desktop's own dialog would look into the files within this program.
    dialog.setOption(QFileDialog::DontUseNativeDialog);
    dialog.setIconProvider(&names);
    dialog.setAcceptMode(wish.isToSave ? QFileDialog::AcceptSave : QFileDialog::AcceptOpen);
    dialog.setFileMode(wish.isToSave ? QFileDialog::AnyFile : QFileDialog::ExistingFile);
    if (!wish.isToSave)
        dialog.setOption(QFileDialog::ReadOnly); // nothing is renamed or deleted on the way
    dialog.setDefaultSuffix(QFileInfo(wish.name).suffix());
    dialog.setDirectory(wish.folder);
    dialog.selectFile(wish.name);
    const bool isChosen = dialog.exec() == QDialog::Accepted && !dialog.selectedFiles().isEmpty();
    const std::optional<QString> file =
        isChosen ? std::optional(dialog.selectedFiles().front()) : std::nullopt;
    const QString left = dialog.directory().absolutePath();
    dialog.setDirectory(quietFolder()); // the next dialog lists it first
    return {file, left};
}

} // namespace

std::optional<QString> chooseFile(QWidget *parent, const FileWish &wish) {
    rememberLastFolder(quietFolder());
    const auto [file, left] = askForFile(parent, wish);
    rememberLastFolder(left);
    return file;
}

} // namespace kitround::ui
