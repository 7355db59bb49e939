#pragma once
// A list in a window of its own: what it says above with a choice beside it, the rows, and the steps below;
// those that change something to the left, those that take the list elsewhere to the right.
#include <QDialog>
#include <QKeySequence>

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
    // shown. It opens as large as it was left; the first time in proportion to the window it stands over.
    ListDialog(const QString &name, const QString &title, Session &session, QWidget *parent);

    // In the order in which they are to stand.
    void addChoice(QComboBox *choice, const QString &name, const QString &accessibleName);
    void setRows(QAbstractItemModel *rows, const QString &accessibleName);
    // A second list under the first, a third of its height, with a line of its own above.
    DenseTable *addRowsBelow(QLabel *head, QAbstractItemModel *rows, const QString &name,
                             const QString &accessibleName);
    // With `keys` the step works from anywhere in the dialog; the button tells them to who points at it.
    QPushButton *addStep(const QString &name, const QString &text, std::function<void()> step,
                         const QKeySequence &keys = {});
    void addRoom(); // between the steps to the left and those to the right
    void addClose(const QString &name);

    Session &session_;
    QLabel *head_;
    DenseTable *table_ = nullptr;

private:
    DenseTable *makeTable(const QString &name, QAbstractItemModel *rows, const QString &accessibleName);
    const QString name_;
    QHBoxLayout *top_, *foot_;
    QVBoxLayout *middle_;
};

} // namespace kitround::ui
