#pragma once
// Receiving by scanner or keyboard: one line a lot, eaches or cases said for each, problems beside the line
// they are of. A label fills a line; what may not be taken in is refused before anything is booked.
#include "core/desk/views/ReceiveScan.h"

#include <QWidget>

#include <optional>

class QComboBox;
class QLabel;
class QLineEdit;
class QPushButton;
class QVBoxLayout;

namespace kitround::ui {

class DateField;
class ReceiveLineEdit;
class RefusedBoxes;
class ScanField;
class Session;
class SignedNote;
enum class Role : unsigned char;

class ReceivePanel : public QWidget {
    Q_OBJECT
public:
    ReceivePanel(Session &session, QWidget *parent);
    void show();
    void choose(PurchaseOrderId order);
    void takeFocus();
    void book();
    bool hasDraft() const;

Q_SIGNALS:
    void newsAsked(qint64 order); // of what is still to come of it

public Q_SLOTS:
    ReceiveLineEdit *addLine();

private:
    void scanned(const QString &text);
    void checkShortDated(ReceiveLineEdit *line, bool isAccepted);
    void sayScan(const QStringList &texts, std::optional<Role> role);
    bool isRefused(const desk::ScanReading &reading);
    void makeLines(); // anew for what is chosen
    void sourceChanged();
    void showExpected();
    void showHead(const Problems &problems);
    static void showLines(const std::vector<Problems> &byLine, const std::vector<ReceiveLineEdit *> &sent);
    bool mayBook(const desk::ReceiveRecord &record);
    void showRefusal(const Problem &problem, const std::vector<ReceiveLineEdit *> &sent);
    void reverse();
    void removeLine(ReceiveLineEdit *line);
    std::optional<PurchaseOrder> chosenOrder() const;
    std::vector<PurchaseLine> orderedLines() const; // none without an order
    std::vector<desk::ReceiveLine> broughtBeside(const ReceiveLineEdit *line) const;
    void tellLines(); // what the others bring, at every change
    void showFlags(const desk::Received &received, const desk::Agency &agency,
                   const desk::ReceiveRecord &record);

    Session &session_;
    QComboBox *source_; // orders as their id, suppliers as minus their id
    QLineEdit *slip_, *time_;
    ScanField *scan_;
    DateField *day_;
    QLabel *expected_, *flags_, *problem_;
    SignedNote *scanNote_;
    QPushButton *add_, *news_;
    RefusedBoxes *refused_;
    std::optional<PurchaseOrderId> newsOf_; // booked in last, with something still to come
    QWidget *list_;
    QVBoxLayout *listLayout_;
    std::vector<ReceiveLineEdit *> lines_;
    int made_ = 0;
    PurchaseOrderId left_; // chosen until it was received in full
};

} // namespace kitround::ui
