#pragma once
// How the stock page shows homes and the storeroom: a row of steps, the table, and under it the chosen row by
// its name and in detail.
#include <QWidget>

class QHBoxLayout;
class QLabel;
class QPushButton;
class QSplitter;
class QVBoxLayout;

namespace kitround::ui {

class DenseTable;

class TableOverDetail : public QWidget {
public:
    void takeFocus();

protected:
    explicit TableOverDetail(QWidget *parent);
    QPushButton *addStep(const QString &objectName, const QString &text);
    // After the steps, so that Tab goes through them first.
    void addTable(const QString &objectName, const QString &title, const QString &nameOfChosen);
    // In place of the table and what is under it, where there is nothing to show; empty: they are back.
    void sayInstead(const QString &text);

    QHBoxLayout *steps_;
    QSplitter *splitter_ = nullptr;
    DenseTable *table_ = nullptr;
    QLabel *name_ = nullptr;        // of the chosen row
    QVBoxLayout *detail_ = nullptr; // beneath it

private:
    QVBoxLayout *body_;
    QLabel *instead_ = nullptr;
};

} // namespace kitround::ui
