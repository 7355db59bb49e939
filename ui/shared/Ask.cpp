#include "ui/shared/Ask.h"

#include "core/desk/Desk.h"
#include "core/desk/words/Words.h"
#include "ui/shared/FileDialog.h"

#include <QDir>
#include <QFileInfo>
#include <QFontMetrics>
#include <QGridLayout>
#include <QInputDialog>
#include <QMessageBox>
#include <QPushButton>
#include <QSpacerItem>
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
// Of a window that asks for a line, in pixels.
constexpr int kLineFrame = 120; // beside the text: margins, and the title bar's own buttons
constexpr int kNarrowestLine = 420;
constexpr int kWidestLine = 900;

// A box of a few words is narrower than its title, whose end then is not read: the column of its text gets
// the width that the title takes.
void makeRoomForTitle(QMessageBox &box) {
    auto *grid = qobject_cast<QGridLayout *>(box.layout());
    const int title = box.fontMetrics().horizontalAdvance(box.windowTitle()) + kLineFrame;
    if (grid)
        grid->addItem(
            new QSpacerItem(std::min(title, kWidestLine), 0, QSizePolicy::Minimum, QSizePolicy::Fixed),
            grid->rowCount(), 0, 1, grid->columnCount());
}

QString &lastFolder() {
    static QString folder;
    return folder;
}
QString folderToStart() {
    return QFileInfo(lastFolder()).isDir() ? lastFolder() : documentsFolder();
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
    makeRoomForTitle(box);
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
    if (script().silent)
        return;
    QMessageBox box(QMessageBox::NoIcon, title, text, QMessageBox::Ok, parent);
    makeRoomForTitle(box);
    box.exec();
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
    QInputDialog dialog(parent);
    dialog.setWindowTitle(title);
    dialog.setLabelText(label);
    dialog.setTextValue(preset);
    // What is proposed is read whole, and so is the title: the window is never as wide as its text by itself.
    const QFontMetrics letters = dialog.fontMetrics();
    const int text = std::max(letters.horizontalAdvance(preset), letters.horizontalAdvance(title));
    dialog.resize(std::clamp(text + kLineFrame, kNarrowestLine, kWidestLine), dialog.sizeHint().height());
    return dialog.exec() == QDialog::Accepted ? std::optional(dialog.textValue()) : std::nullopt;
}

std::optional<QString> Ask::openFile(QWidget *parent, const QString &title, const QString &filter) {
    if (const auto text = nextPreparedText())
        return text;
    if (script().silent)
        return std::nullopt;
    const auto file = chooseFile(parent, {title, filter, folderToStart()});
    if (file)
        lastFolder() = QFileInfo(*file).absolutePath();
    return file;
}

std::optional<QString> Ask::saveFile(QWidget *parent, const QString &title, const QString &filter,
                                     const QString &preset) {
    std::optional<QString> file = nextPreparedText();
    if (!file && !script().silent) {
        const QFileInfo wished(preset);
        const QString folder = wished.isAbsolute() ? wished.absolutePath() : folderToStart();
        file = chooseFile(parent, {title, filter, folder, wished.fileName(), true});
        if (file)
            lastFolder() = QFileInfo(*file).absolutePath();
    }
    if (file && desk::isOpenHere(file->toStdString())) {
        problem(parent, Problem{ProblemCode::Conflict, "target", {"same_file"}});
        return std::nullopt;
    }
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
