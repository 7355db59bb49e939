#pragma once
// How the week goes, beside the work: it stays open while the window is worked in.
#include <QDialog>

class QListWidget;
class QTextBrowser;

namespace kitround::ui {

class HelpWindow : public QDialog {
    Q_OBJECT
public:
    explicit HelpWindow(QWidget *parent);
    // The workplace by its name; a name without a topic shows the first.
    void showTopicOf(const QString &page);

private:
    void showTopic(int row);

    QListWidget *topics_;
    QTextBrowser *text_;
};

} // namespace kitround::ui
