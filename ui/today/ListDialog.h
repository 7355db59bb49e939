#pragma once
// A list in a window of its own: what it says above with a choice beside it, the rows, and the steps below;
// those that change something to the left, those that take the list elsewhere to the right.
#include <QDialog>

#include <functional>

class QAbstractItemModel;
class QComboBox;
class QHBoxLayout;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace kitround::ui {

class DenseTable;
class Session;

class ListDialog : public QDialog {
    Q_OBJECT
protected:
    // Its parts are named after it: <name>Dialog, <name>Head, <name>Table. `rows` is read when something is
    // shown.
    ListDialog(const QString &name, const QString &title, Session &session, QWidget *parent);

    // In the order in which they are to stand.
    void addChoice(QComboBox *choice, const QString &name, const QString &accessibleName);
    void setRows(QAbstractItemModel *rows, const QString &accessibleName);
    QPushButton *addStep(const QString &name, const QString &text, std::function<void()> step);
    void addRoom(); // between the steps to the left and those to the right
    void addClose(const QString &name);

    Session &session_;
    QLabel *head_;
    DenseTable *table_ = nullptr;

private:
    const QString name_;
    QHBoxLayout *top_, *foot_;
    QVBoxLayout *middle_;
};

} // namespace kitround::ui
