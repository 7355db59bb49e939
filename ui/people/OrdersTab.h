#pragma once
// A card for each catheter: what it is, the order in force in words, the drains to come, the orders before.
#include "core/desk/views/PatientView.h"
#include "core/desk/words/OrderQuestionWords.h"
#include "ui/people/RecordTab.h"

class QLabel;
class QVBoxLayout;

namespace kitround::ui {

class OrdersTab : public RecordTab {
    Q_OBJECT
public:
    OrdersTab(Session &session, QWidget *parent);

protected:
    void fill() override;

private:
    void fillCards();
    QWidget *makeCard(const desk::CatheterCard &card);
    void addQuestion(QVBoxLayout *layout, QLabel &text, const safety::OrderQuestion &question);
    void addCardButtons(QVBoxLayout *layout, const desk::CatheterCard &card);

    QPushButton *add_;
    QVBoxLayout *cards_;
};

} // namespace kitround::ui
