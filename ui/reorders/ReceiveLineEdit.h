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
    ReceiveLineEdit(const desk::Agency &agency, const std::vector<PurchaseLine> &ordered, int number,
                    QWidget *parent);
    bool isEmpty() const;
    // The line, or the problems of what cannot be read.
    Problems read(desk::ReceiveLine &line) const;
    void showProblems(const Problems &problems); // empty: none
    void focusFirst();
    void focusQuantity();
    void clearQuantity();
    // What a label said; what it did not say is left as it is. No item: none is chosen, and one must be.
    void fill(const desk::ScanReading &reading);
    bool isOf(ItemId item, const std::string &lotNumber) const;
    ItemId item() const;

Q_SIGNALS:
    void removeAsked();
    void quantityEntered(const QString &text); // Enter in the quantity
    void changed();                            // something was typed or filled in

private:
    static void nameField(QWidget *widget, const char *objectName, const QString &accessible, int number);
    void makeFields(const desk::Agency &agency, int number);
    void place(QPushButton *remove);
    // How an item stands on the order: still to come, come already with what other lines say, or not on it.
    enum class Standing { Open, Complete, NotOrdered };
    Standing standingOf(ItemId item) const;
    void showOrder();
    void fillUnits();
    void showSum();
    std::int64_t perUnit() const;

    const std::vector<PurchaseLine> ordered_;
    std::map<qint64, std::int64_t> casePack_; // by item, the catalogue's
    QComboBox *item_, *unit_;
    QLineEdit *lot_, *quantity_, *damaged_;
    DateField *expires_;
    QCheckBox *shortDated_;
    QLabel *expiryDay_, *sum_, *fault_;
    SignedNote *order_;
};

} // namespace kitround::ui
