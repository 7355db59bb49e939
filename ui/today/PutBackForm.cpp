#include "ui/today/PutBackForm.h"

#include "ui/shared/RecordForm.h"

namespace kitround::ui {

bool askPutBack(QWidget *window, const QString &what,
                const std::function<std::optional<Problem>(const std::string &why)> &write) {
    RecordForm form(QObject::tr("Put back"), window);
    form.addNote(what);
    form.addText("taken_back_why", QObject::tr("Why it is put back"), {});
    form.addNote(QObject::tr("It stays on record with this reason."));
    form.setSaveText(QObject::tr("Put back"));
    form.require({"taken_back_why"});
    form.onSave([&] { return form.textOf("taken_back_why"); }, write);
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
