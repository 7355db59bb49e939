#pragma once
// What is seen before any file is open: open one, make a new agency, or try the sample agency.
#include <QWidget>

class QLabel;

namespace kitround::ui {

class StartPage : public QWidget {
    Q_OBJECT
public:
    explicit StartPage(QWidget *parent = nullptr);
    void setBusy(const QString &text); // empty: idle

Q_SIGNALS:
    void openAsked();
    void newAsked();
    void sampleAsked();

private:
    QLabel *busy_;
};

} // namespace kitround::ui
