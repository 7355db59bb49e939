#pragma once
// Where a visit of the calendar is sought: what is typed is sought at once; Return goes on to the next, with
// Shift back, Down to the cards, Escape leaves. Where there is little room it is a button until it is asked
// for.
#include <QString>
#include <QWidget>

class QLineEdit;
class QToolButton;

namespace kitround::ui {

class ElidedLabel;

class FindField : public QWidget {
    Q_OBJECT
public:
    explicit FindField(QWidget *parent = nullptr);

    void open(); // with the keyboard in it
    void leave();
    QString text() const;                   // without blanks around it
    bool isOpen() const { return isOpen_; } // it was asked for, or something is sought
    void setRoomy(bool on);
    void tell(const QString &found); // beside it
    QString told() const;

Q_SIGNALS:
    void sought(const QString &text);
    void stepAsked(int step);
    void cardsAsked(); // the keyboard leaves for them
    void opened(bool isOpen);

protected:
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    bool keyPressed(int key, bool hasShift);
    void setOpen(bool on);

    QToolButton *button_;
    QLineEdit *edit_;
    ElidedLabel *found_;
    bool isOpen_ = false, isRoomy_ = true;
};

} // namespace kitround::ui
