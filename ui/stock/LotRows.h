#pragma once
// The lots one line of a delivery was filled from: number and quantity, a row each, and a row to spare.
#include "core/desk/views/LotsTaken.h"

#include <QWidget>

#include <vector>

class QComboBox;
class QLineEdit;
class QVBoxLayout;

namespace kitround::ui {

class LotRows : public QWidget {
public:
    // `offers`: what may be chosen; any other number can be typed. `number`: of the line, in the fields'
    // names.
    LotRows(std::size_t number, const std::vector<desk::LotOffer> &offers, QWidget *parent);
    void add(const QString &lot, Eaches quantity);
    // A scanned lot takes the place of the first one that was not scanned; where all were, it is one more.
    // Says what it did.
    QString take(const QString &lot);
    bool awaitsScan() const;

    struct Entered {
        QString lot, quantity;
        std::size_t place = 0; // its row
        bool isEmpty() const { return lot.isEmpty() && quantity.isEmpty(); }
    };
    std::vector<Entered> entered() const;
    // Whoever asks for the focus gets it there: the first lot, or how many of the row.
    void pointToFirst();
    void pointToQuantity(std::size_t place);

private:
    struct Row {
        QComboBox *lot;
        QLineEdit *quantity;
        bool isScanned = false;
        Entered entered() const;
    };
    void addRow();
    void keepOneToSpare();

    const std::size_t number_;
    const std::vector<desk::LotOffer> offers_;
    QVBoxLayout *layout_;
    std::vector<Row> rows_;
};

} // namespace kitround::ui
