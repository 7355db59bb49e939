#pragma once
// A workplace's page: title and step buttons at the top with the one main action at the right, the work in
// the middle, a panel of reasons at the right opened by need. Subclasses fill the parts and show what they
// have in refresh().
#include <QAction>
#include <QKeySequence>
#include <QWidget>

class QHBoxLayout;
class QLabel;
class QPushButton;
class QSplitter;
class QTabWidget;
class QUndoStack;
class QVBoxLayout;

namespace kitround::ui {

class Session;

class Page : public QWidget {
    Q_OBJECT
public:
    Page(Session &session, const QString &objectName, const QString &title, QWidget *parent = nullptr);

    QString title() const;
    void setTitle(const QString &title);
    void setSubtitle(const QString &text); // a quiet line under the title
    // Puts the keyboard where work starts.
    virtual void takeFocus();
    // Steps that can be undone here, or nullptr.
    virtual QUndoStack *undoStack() { return nullptr; }
    virtual bool hasUnsavedDraft() const { return false; }
    // Commands of the page for the menu bar ("Page" menu), in order; made once.
    QList<QAction *> pageActions() const { return actions_; }

Q_SIGNALS:
    void showPatient(qint64 patient);
    void showHome(qint64 patient);
    void showItem(qint64 item);
    void showNurse(qint64 nurse);
    void said(const QString &text); // for the foot line
    void showWorkplace(const QString &name);

protected:
    Session &session() const { return session_; }
    QHBoxLayout *head() { return head_; } // between title and main action
    void setBody(QWidget *body);
    void setSide(QWidget *side, int width = 340); // hidden until showSide(true)
    void showSide(bool on);
    // A command with its key, which works wherever the keyboard is inside the page.
    template <class Receiver, class Slot>
    QAction *addPageAction(const QString &text, const QKeySequence &keys, Receiver *receiver, Slot slot) {
        QAction *action = newPageAction(text, keys);
        connect(action, &QAction::triggered, receiver, slot);
        return action;
    }
    QPushButton *setMainAction(const QString &objectName, const QString &text);
    // The keys that every page has: Ctrl+Return for its main step, Alt with a number for its tabs. A page
    // whose body gives way to a message has no tabs to go to.
    template <class Receiver, class Slot>
    QAction *addMainStep(const QString &text, Receiver *receiver, Slot slot) {
        return addPageAction(text, QKeySequence(Qt::CTRL | Qt::Key_Return), receiver, slot);
    }
    void addTabKeys(QTabWidget &tabs);
    bool isBodyShown() const;
    // A message instead of the body: what to do when there is nothing yet, and its first step as a button: at
    // another workplace where one is named, else told by emptyActionAsked. Empty text shows the body again.
    void showEmpty(const QString &text, const QString &action = {}, const QString &workplace = {});

Q_SIGNALS:
    void emptyActionAsked();

private:
    QAction *newPageAction(const QString &text, const QKeySequence &keys);

    Session &session_;
    QList<QAction *> actions_;
    QLabel *title_;
    QLabel *subtitle_;
    QHBoxLayout *head_;
    QHBoxLayout *mainActions_;
    QSplitter *splitter_;
    QWidget *empty_;
    QLabel *emptyText_;
    QPushButton *emptyAction_;
    QString emptyLeadsTo_; // a workplace
    QWidget *body_ = nullptr;
    QWidget *side_ = nullptr;
};

} // namespace kitround::ui
