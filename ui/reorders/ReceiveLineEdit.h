#pragma once
// One line of a packing slip as it is typed or scanned: item, lot, last day of use, quantity in eaches or
// cases.
#include "core/desk/views/ReceiveScan.h"

#include <QWidget>

#include <map>
#include <optional>

class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace kitround::ui {

class DateField;
class SignedNote;

class ReceiveLineEdit : public QWidget {
    Q_OBJECT
public:
    // `ordered`: the lines of the order, none where it comes without one; `others`: what the other lines
    // hold.
    ReceiveLineEdit(const desk::Agency &agency, std::vector<PurchaseLine> ordered,
                    std::vector<desk::ReceiveLine> others, int number, QWidget *parent);
    // As the order and the other lines are now; what stands on this line is left as it is.
    void setOrder(std::vector<PurchaseLine> ordered, std::vector<desk::ReceiveLine> others);
    bool isEmpty() const;
    // Item and quantity, where both are there: what the other lines need not bring.
    std::optional<desk::ReceiveLine> brings() const;
    // The line, or the problems of what cannot be read.
    Problems read(desk::ReceiveLine &line) const;
    void showProblems(const Problems &problems); // empty: none
    bool hasProblems() const;                    // that are shown
    void focusFirst();
    void focusQuantity();
    // What a label said; what it did not say is left as it is. No item: none is chosen, and one must be.
    void fill(const desk::ScanReading &reading);
    bool isOf(ItemId item, const std::string &lotNumber) const;
    ItemId item() const;

Q_SIGNALS:
    void removeAsked();
    void quantityEntered();            // Enter in the quantity
    void changed();                    // something was typed, chosen or filled in
    void shortDatedToggled(bool isOn); // accepted, or no longer

private:
    static void nameField(QWidget *widget, const char *objectName, const QString &accessible, int number);
    void makeFields(const desk::Agency &agency, int number);
    void place(QPushButton *remove);
    desk::OrderStanding standingOf(ItemId item) const;
    void showOrder();
    void fillUnits();
    void showSum();
    std::int64_t perUnit() const;
    Eaches eachesOf(std::int64_t typed) const; // as the unit counts

    std::vector<PurchaseLine> ordered_;
    std::vector<desk::ReceiveLine> others_;
    std::map<qint64, std::int64_t> casePack_; // by item, the catalogue's
    QComboBox *item_, *unit_;
    QLineEdit *lot_, *quantity_, *damaged_;
    DateField *expires_;
    QCheckBox *shortDated_;
    QLabel *expiryDay_, *sum_, *fault_;
    SignedNote *order_;
};

} // namespace kitround::ui
