#pragma once
// Receiving by keyboard: one line a lot, eaches or cases said for each, problems beside the line they are of.
#include "core/desk/Desk.h"

#include <QWidget>

#include <map>
#include <optional>

class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QVBoxLayout;

namespace kitround::ui {

class DateField;
class Session;

// One line of a packing slip as it is typed.
class ReceiveLineEdit : public QWidget {
    Q_OBJECT
public:
    ReceiveLineEdit(const desk::Agency &agency, const std::vector<PurchaseLine> &ordered, int number,
                    QWidget *parent);
    bool isEmpty() const;
    // The line, or the problems of what cannot be read.
    Problems read(desk::ReceiveLine &line) const;
    void showProblems(const Problems &problems); // empty: none
    void focusFirst();

Q_SIGNALS:
    void removeAsked();

private:
    void fillUnits();
    void showSum();
    std::int64_t perUnit() const;

    const std::vector<PurchaseLine> ordered_;
    std::map<qint64, std::int64_t> casePack_; // by item, the catalogue's
    QComboBox *item_, *unit_;
    QLineEdit *lot_, *quantity_, *damaged_;
    DateField *expires_;
    QCheckBox *shortDated_;
    QLabel *sum_, *fault_;
};

class ReceivePanel : public QWidget {
    Q_OBJECT
public:
    ReceivePanel(Session &session, QWidget *parent);
    void show();
    void choose(PurchaseOrderId order);
    void takeFocus();
    void book();
    bool hasDraft() const;

public Q_SLOTS:
    void addLine();

private:
    void makeLines(); // anew for what is chosen
    void removeLine(ReceiveLineEdit *line);
    std::optional<PurchaseOrder> chosenOrder() const;
    void showFlags(const desk::Received &received, const desk::Agency &agency);

    Session &session_;
    QComboBox *source_; // orders as their id, suppliers as minus their id
    QLineEdit *slip_, *time_;
    DateField *day_;
    QLabel *expected_, *flags_, *problem_;
    QPushButton *add_;
    QWidget *list_;
    QVBoxLayout *listLayout_;
    std::vector<ReceiveLineEdit *> lines_;
    int made_ = 0;
};

} // namespace kitround::ui
