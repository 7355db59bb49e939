#pragma once
// "Why": the selected visit's facts, what stands in the way, ways out and other places with their price;
// locks.
#include "core/desk/views/WeekBoard.h"

#include <QWidget>

class QCheckBox;
class QLabel;
class QPushButton;
class QScrollArea;
class QVBoxLayout;

namespace kitround::ui {

class ReasonsPanel : public QWidget {
    Q_OBJECT
public:
    explicit ReasonsPanel(QWidget *parent = nullptr);
    void show(const desk::WeekPicture &week, std::int32_t job);
    void showOver(const desk::WeekPicture &week, const Visit &visit); // one that is over: it has no place
    void clear();
    void takeFocus(); // to the first thing that may be done here

Q_SIGNALS:
    void moveAsked(int job, qint64 nurse, qint64 dayNumber, int startMinute); // -1: best time
    void locksAsked(int job, bool day, bool nurse, bool time);
    void unlockAsked(int job, const kitround::desk::Suggestion &place); // and to be placed there
    void removalAsked(int job);
    void patientAsked(qint64 patient);
    void nurseAsked(qint64 nurse);
    void closeVisitAsked(int job); // -1: the one that is over
    void dropAsked(int job);
    void closeAsked();

protected:
    void keyPressEvent(QKeyEvent *event) override; // Escape closes, Page Up and Down scroll

private:
    void addHeading(const QString &heading);
    void addLines(const QString &heading, const QStringList &lines);
    void addPlaces(const QString &heading, const std::vector<desk::Suggestion> &places);
    void addWaysOut(const std::vector<desk::Suggestion> &ways);
    void showLocks(const desk::VisitReasons &reasons, const Visit &visit, bool isPlaced);
    void showSteps(const desk::VisitReasons &reasons, const Visit &visit, bool isPlaced);
    void goToTop(std::int32_t job, VisitId over);
    QPushButton *addOffer(const QString &objectName, const QString &text, const QString &tip);
    void orderTabs();

    QLabel *title_;
    QScrollArea *area_;
    QVBoxLayout *content_;
    QWidget *contentHost_;
    QCheckBox *lockDay_, *lockNurse_, *lockTime_;
    QPushButton *remove_, *drop_, *patient_, *close_;
    std::vector<QPushButton *> offers_; // places to go to and ways out, as they stand
    std::int32_t job_ = -1;
    std::int32_t lastJob_ = -1; // that was read here, and how far down, while it is the same
    VisitId lastOver_;
    qint64 patientId_ = 0;
};

} // namespace kitround::ui
