#include "ui/shared/Ask.h"

#include "core/desk/words/Words.h"

#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QInputDialog>
#include <QMessageBox>
#include <QPushButton>
#include <QStandardPaths>

#include <algorithm>
#include <deque>
#include <vector>

namespace kitround::ui {
namespace {

struct Script { // what tests prepared
    bool silent = false;
    std::deque<bool> answers;
    std::deque<int> choices;
    std::deque<QString> texts;
    QString lastSaid;
};
Script &script() {
    static Script s;
    return s;
}
std::optional<QString> nextPreparedText() {
    auto &texts = script().texts;
    if (texts.empty())
        return std::nullopt;
    const QString text = texts.front();
    texts.pop_front();
    return text;
}

QString documentsFolder() {
    const QString folder = QStandardPaths::writableLocation(QStandardPaths::DocumentsLocation);
    return QFileInfo(folder).isDir() ? folder : QDir::homePath();
}

} // namespace

bool Ask::confirm(QWidget *parent, const QString &title, const QString &text, const QString &doIt,
                  const QString &leaveIt) {
    Script &s = script();
    s.lastSaid = text;
    if (!s.answers.empty()) {
        const bool yes = s.answers.front();
        s.answers.pop_front();
        return yes;
    }
    if (s.silent)
        return false;
    QMessageBox box(QMessageBox::NoIcon, title, text, QMessageBox::NoButton, parent);
    QPushButton *yes = box.addButton(doIt, QMessageBox::AcceptRole);
    QPushButton *no = box.addButton(leaveIt, QMessageBox::RejectRole);
    box.setDefaultButton(no);
    box.setEscapeButton(no);
    box.exec();
    return box.clickedButton() == yes;
}

std::optional<int> Ask::choose(QWidget *parent, const QString &title, const QString &text,
                               const QStringList &steps, const QString &leaveIt) {
    Script &s = script();
    s.lastSaid = text;
    if (!s.choices.empty()) {
        const int choice = s.choices.front();
        s.choices.pop_front();
        return choice;
    }
    if (s.silent)
        return std::nullopt;
    QMessageBox box(QMessageBox::NoIcon, title, text, QMessageBox::NoButton, parent);
    std::vector<QPushButton *> buttons;
    for (const QString &step : steps)
        buttons.push_back(box.addButton(step, QMessageBox::AcceptRole));
    QPushButton *leave = leaveIt.isEmpty() ? box.addButton(QMessageBox::Cancel)
                                           : box.addButton(leaveIt, QMessageBox::RejectRole);
    box.setEscapeButton(leave);
    if (!leaveIt.isEmpty())
        box.setDefaultButton(leave);
    box.exec();
    const auto at = std::ranges::find(buttons, box.clickedButton());
    if (at == buttons.end())
        return std::nullopt;
    return static_cast<int>(at - buttons.begin());
}

void Ask::tell(QWidget *parent, const QString &title, const QString &text) {
    script().lastSaid = text;
    if (!script().silent)
        QMessageBox(QMessageBox::NoIcon, title, text, QMessageBox::Ok, parent).exec();
}

void Ask::problem(QWidget *parent, const Problem &problem) {
    QStringList lines;
    for (const Problem &p : flattened(problem))
        lines << desk::words(p);
    script().lastSaid = lines.join(QStringLiteral("\n\n"));
    if (script().silent)
        return;
    QMessageBox box(QMessageBox::NoIcon, QObject::tr("This could not be done"), script().lastSaid,
                    QMessageBox::Ok, parent);
    box.setDetailedText(desk::technicalDetail(problem)); // behind a button, where there is any
    box.exec();
}

std::optional<QString> Ask::line(QWidget *parent, const QString &title, const QString &label,
                                 const QString &preset) {
    if (const auto text = nextPreparedText())
        return text;
    if (script().silent)
        return std::nullopt;
    bool accepted = false;
    const QString text = QInputDialog::getText(parent, title, label, QLineEdit::Normal, preset, &accepted);
    if (!accepted)
        return std::nullopt;
    return text;
}

std::optional<QString> Ask::openFile(QWidget *parent, const QString &title, const QString &filter) {
    if (const auto text = nextPreparedText())
        return text;
    if (script().silent)
        return std::nullopt;
    const QString file = QFileDialog::getOpenFileName(parent, title, {}, filter);
    return file.isEmpty() ? std::nullopt : std::optional(file);
}

std::optional<QString> Ask::saveFile(QWidget *parent, const QString &title, const QString &filter,
                                     const QString &preset) {
    if (const auto text = nextPreparedText())
        return text;
    if (script().silent)
        return std::nullopt;
    static QString lastFolder;
    const QFileInfo wished(preset);
    QFileDialog dialog(parent, title, {}, filter);
    dialog.setAcceptMode(QFileDialog::AcceptSave);
    dialog.setDefaultSuffix(wished.suffix());
    dialog.setDirectory(wished.isAbsolute()    ? wished.absolutePath()
                        : lastFolder.isEmpty() ? documentsFolder()
                                               : lastFolder);
    dialog.selectFile(wished.fileName());
    if (dialog.exec() != QDialog::Accepted || dialog.selectedFiles().isEmpty())
        return std::nullopt;
    const QString file = dialog.selectedFiles().front();
    lastFolder = QFileInfo(file).absolutePath();
    return file;
}

void Ask::setSilent(bool on) {
    script().silent = on;
}
void Ask::nextAnswer(bool yes) {
    script().answers.push_back(yes);
}
void Ask::nextChoice(int index) {
    script().choices.push_back(index);
}
void Ask::nextText(const QString &text) {
    script().texts.push_back(text);
}
bool Ask::forgetAnswers() {
    Script &s = script();
    const bool were = !s.answers.empty() || !s.choices.empty() || !s.texts.empty();
    s.answers.clear();
    s.choices.clear();
    s.texts.clear();
    return were;
}
QString Ask::lastSaid() {
    return script().lastSaid;
}

} // namespace kitround::ui
