#pragma once
// Words that want looking at, with a sign before them: nothing hangs on the colour alone.
#include "ui/shared/Look.h"

#include <QWidget>

#include <optional>

namespace kitround::ui {

class SignedNote : public QWidget {
public:
    // The words are a label of that name, the sign one of the name with "Sign" behind it.
    SignedNote(const QString &objectName, QWidget *parent);
    // No words: nothing is shown. No role: plain words without a sign.
    void say(const QString &text, std::optional<Role> role);

protected:
    void changeEvent(QEvent *event) override;

private:
    void drawSign();

    QLabel *sign_, *text_;
    std::optional<Role> role_;
};

} // namespace kitround::ui
