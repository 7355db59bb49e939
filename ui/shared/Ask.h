#pragma once
// Every modal question of the program goes through here, so that a test can give the next answer and nothing
// ever waits for a person who is not there.
#include "core/base/Problem.h"

#include <QString>
#include <QStringList>

#include <optional>

class QWidget;

namespace kitround::ui {

class Ask {
public:
    // A yes-or-no whose buttons say what will happen.
    static bool confirm(QWidget *parent, const QString &title, const QString &text, const QString &doIt,
                        const QString &leaveIt);
    // One of several steps, by their index; nothing where the person leaves it. With words of its own for
    // leaving it, that is what Enter does.
    static std::optional<int> choose(QWidget *parent, const QString &title, const QString &text,
                                     const QStringList &steps, const QString &leaveIt = {});
    static void tell(QWidget *parent, const QString &title, const QString &text);
    static void problem(QWidget *parent, const Problem &problem);
    static std::optional<QString> line(QWidget *parent, const QString &title, const QString &label,
                                       const QString &preset = {});
    static std::optional<QString> openFile(QWidget *parent, const QString &title, const QString &filter);
    // `preset` is a name, or a whole path; a name starts in the folder that was used last, and what is typed
    // without an ending gets that of the preset. The agency file that is open is refused, in words.
    static std::optional<QString> saveFile(QWidget *parent, const QString &title, const QString &filter,
                                           const QString &preset);

    // For tests: the next answers, used up in order. With `silent` set, no dialog is ever shown: what has no
    // answer given is declined, and what was said is kept in lastSaid().
    static void setSilent(bool on);
    static void nextAnswer(bool yes);
    static void nextChoice(int index);
    static void nextText(const QString &text);
    static bool forgetAnswers(); // those that nothing has asked for; whether there were any
    static QString lastSaid();
};

} // namespace kitround::ui
