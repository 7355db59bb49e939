#pragma once
// What the program is and is not: the cautions that hold for everything it shows.
#include <QDialog>

namespace kitround::ui {

class AboutBox : public QDialog {
    Q_OBJECT
public:
    explicit AboutBox(QWidget *parent);
};

} // namespace kitround::ui
