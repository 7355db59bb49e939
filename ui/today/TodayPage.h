#pragma once
// The start page: what needs doing today, ordered by harm, each line with its caution and the step to take.
#include "core/desk/views/Attention.h"
#include "ui/shared/Page.h"
#include "ui/shared/RowsModel.h"

#include <set>
#include <string>

class QCheckBox;
class QComboBox;
class QLabel;
class QPushButton;

namespace kitround::ui {

class DenseTable;

class TodayPage : public Page {
    Q_OBJECT
public:
    explicit TodayPage(Session &session, QWidget *parent = nullptr);
    void takeFocus() override;
    void openPatientCalls();

Q_SIGNALS:
    void showLeave();                                  // requests that wait for the nurse manager
    void showIncidents();                              // a report of one is due
    void showWeek(qint64 day);                         // the calendar at the week of that day
    void showMany(kitround::desk::AttentionKind kind); // the stock page's list of that kind
    void callHome(qint64 patient);                     // a refill is proposed: the call's form
    // The form that settles a line; a first delivery is of that catheter, else it is 0.
    void formAsked(kitround::desk::NextForm form, qint64 patient, qint64 catheter);

private:
    void makeHead();
    void makeSide();
    void makeActions();
    void show();
    void filter();
    void noteNews(); // what came first since the last whole list, and would not be seen
    void hideSeenNews();
    void forgetNews();
    void chooseFirst();
    bool isOnScreen(int sourceRow) const;
    std::string firstMatter() const; // of the line that comes first; empty where there is none
    void showCounts(const std::vector<desk::AttentionItem> &own); // what is counted is said with it
    void showDetail(int row);
    QString emptyText(bool hasOwn) const; // whether some of all there is is one's own
    void lendKeyboard();                  // the list is about to go
    void takeKeyboardBack();
    QString openText(const desk::AttentionItem &item) const;
    QString mineKey() const; // where it is remembered for who works here
    void open(int row);
    void showEach();
    void openMany(const desk::AttentionItem &many); // where all of them stand
    void fillIn();
    void openRecord();
    void logCall();
    void openHandOver();
    void openHolidays();
    void openNursesTold();
    void recordMissed(VisitId id);                             // now with whom was told
    void logWelfareCall(PhoneCall call, const QString &title); // closed with who was reached
    static QString callText(const desk::AttentionItem &item);  // of its button
    static bool
    isCall(const desk::AttentionItem &item); // or a question to the prescriber, or a nurse to tell
    bool maySettleCall(const desk::AttentionItem &item) const;
    QString noCallText(const desk::AttentionItem *item) const; // what there is to do instead
    void settleCall(); // the step of a call: closed with what was said, or the prescriber's answer
    void closeCall();
    Result<void> closePhoneCall(desk::Desk &desk, PhoneCallId id, const std::string &outcome) const;
    const desk::AttentionItem *current() const;

    RowsModel<desk::AttentionItem> model_;
    DenseTable *table_;
    QComboBox *harm_;
    QCheckBox *mine_;
    QPushButton *news_; // above the list: what came first while another line was looked at
    QLabel *title_, *detail_, *due_;
    QPushButton *formButton_, *eachButton_, *openButton_, *homeButton_, *callButton_;
    std::vector<desk::AttentionItem> all_;
    std::set<std::string> each_; // kinds of line that are shown one by one, by their key
    struct Awaited {
        std::string matter, kind, standIn; // standIn: what was chosen instead
    };
    Awaited awaited_;
    std::set<std::string> known_; // matters of the last whole list, to tell what came since
    std::size_t ofOthers_ = 0;    // lines that are another role's alone
    std::string unseen_;          // the matter the news are about
    bool isRefreshing_ = false;   // what moves now was not moved by a person
    bool isKeyboardLent_ = false; // of the list, until it has rows again
};

} // namespace kitround::ui
