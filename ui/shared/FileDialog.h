#pragma once
// The choosing of a file. The usual dialogs look into the files of a folder to show what they are, and a
// program that opens and closes the agency file it works in loses its locks on it (core/store/HeldFiles.h).
// This one goes by names alone.
#include <QString>

#include <optional>

class QWidget;

namespace kitround::ui {

struct FileWish {
    QString title, filter;
    QString folder;
    QString name = {}; // proposed; what is typed without an ending gets that of it
    bool isToSave = false;
};
// Nothing where the person leaves it.
std::optional<QString> chooseFile(QWidget *parent, const FileWish &wish);

} // namespace kitround::ui
