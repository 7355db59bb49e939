#pragma once
// A form for one record: labelled fields with their units, problems shown beside the field they name and told
// with its label, nothing closed until the record was really saved or what was entered is given up on
// purpose. Fields are named as the schema names them, so that a Problem finds its place.
#include "core/base/Date.h"
#include "core/base/Problem.h"
#include "core/records/Ids.h"

#include <QComboBox>
#include <QDialog>
#include <QString>
#include <QStringList>

#include <functional>
#include <initializer_list>
#include <map>
#include <memory>
#include <optional>
#include <vector>

class QCheckBox;
class QFormLayout;
class QHBoxLayout;
class QLabel;
class QLineEdit;
class QPlainTextEdit;
class QPushButton;
class QSpinBox;
class QTabWidget;

namespace kitround::ui {

class WeekdayField;

// A date typed as YYYY-MM-DD (or "today", "+3", "-2") or chosen from a calendar; empty is "not known".
class DateField;

struct Choice {
    QString text;
    qint64 value = 0;
};

class RecordForm : public QDialog {
    Q_OBJECT
public:
    RecordForm(const QString &title, QWidget *parent);

    // Starts a new tab; forms without one show a single page.
    void addPage(const QString &title);
    void addHeading(const QString &text);
    void addNote(const QString &text); // wrapped, quiet
    QLineEdit *addText(const std::string &field, const QString &label, const std::string &value);
    QPlainTextEdit *addLongText(const std::string &field, const QString &label, const std::string &value);
    DateField *addDate(const std::string &field, const QString &label, std::optional<Date> value, Date today);
    QLineEdit *addTime(const std::string &field, const QString &label, std::optional<Minutes> value);
    // Whole number with its unit after it; empty allowed where `optional`.
    QLineEdit *addNumber(const std::string &field, const QString &label, std::optional<std::int64_t> value,
                         const QString &unit);
    QCheckBox *addCheck(const std::string &field, const QString &label, bool value);
    QComboBox *addChoice(const std::string &field, const QString &label, const std::vector<Choice> &choices,
                         qint64 value);
    WeekdayField *addWeekdays(const std::string &field, const QString &label, WeekdaySet value);
    void addWidget(const std::string &field, const QString &label, QWidget *widget);

    // Marks fields that may not stay empty, and says once at the foot what the mark means.
    void require(std::initializer_list<std::string> fields);
    // The mark of a text that only some answers need.
    void setRequired(const std::string &field, bool isRequired);
    // Hides or shows a field with its label; what is hidden keeps its value and must not be read.
    void setFieldShown(const std::string &field, bool isShown);

    // Reading back. A text that cannot be read is kept as a problem and shown on save().
    std::string textOf(const std::string &field) const;
    std::optional<Date> dateOf(const std::string &field);
    Date neededDateOf(const std::string &field);
    std::optional<Minutes> timeOf(const std::string &field);
    std::optional<std::int64_t> numberOf(const std::string &field);
    std::int64_t neededNumberOf(const std::string &field);
    bool checkOf(const std::string &field) const;
    qint64 choiceOf(const std::string &field) const;
    // Where nothing may stay chosen: a fault at the field, and 0.
    qint64 neededChoiceOf(const std::string &field);
    WeekdaySet weekdaysOf(const std::string &field) const;

    // On Save, `read` makes the record from the fields; only where every field could be read does `write` get
    // it. `write` gives the problem it met, or nothing when the record is stored.
    template <class Read, class Write>
    void onSave(Read read, Write write) {
        save_ = [this, read = std::move(read), write = std::move(write)]() -> std::optional<Problem> {
            readFaults_.clear();
            auto record = read();
            if (!readFaults_.empty())
                return joined(readFaults_);
            return write(std::move(record));
        };
    }
    // For fields read by other means: while reading, keeps a problem that stops the save.
    void addReadFault(Problem problem) { readFaults_.push_back(std::move(problem)); }
    // While writing: keeps the form open with this sentence at its top, where no one field is at fault.
    void refuse(const QString &sentence) { refusal_ = sentence; }
    void setSaveText(const QString &text);
    void setLeaveText(const QString &text); // of the button that closes it unsaved
    void addButton(const QString &objectName, const QString &text, std::function<void()> clicked);
    void showProblem(const Problem &problem);
    // Brings the field's tab up and puts the keyboard there; before the form opens, to begin at that field.
    void lookAt(const std::string &field);
    // Whether a field holds something else than when the form opened.
    bool isChanged() const;

public Q_SLOTS:
    void save();
    // Escape, the window's own button and "Close without saving"; asks where something entered would be lost.
    void reject() override;

protected:
    // As tall as its tallest page, within reason; the first field has the focus.
    void showEvent(QShowEvent *event) override;
    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    struct Field {
        QWidget *widget = nullptr;
        QLabel *fault = nullptr;
        QLabel *name = nullptr;
        QString label; // as a person reads it, without the mark
        QFormLayout *form = nullptr;
        QWidget *cell = nullptr;
        int page = 0;
    };
    QWidget *place(const std::string &field, const QString &label, QWidget *widget, const QString &unit = {});
    QFormLayout *page();
    void growToPages();
    void growWith(const QWidget &content);
    void widenFor(const QWidget &content);
    int mostHeight() const;
    void orderTabs();
    void focusFirstField();
    void clearFaults();
    void clearFaultOf(const std::string &field);
    void clearWhenEdited(const std::string &field);
    void addEmpties(Problem &problem) const;
    QString labelOf(const std::string &field) const; // empty where it is no field of this form
    QStringList entered() const;
    Problem unreadable(ProblemCode code, const std::string &field, const QString &text) const;

    QTabWidget *tabs_;
    QFormLayout *form_ = nullptr;
    QLabel *top_;
    QLabel *requiredNote_;
    QPushButton *saveButton_;
    QHBoxLayout *buttons_;
    std::map<std::string, Field> fields_;
    std::vector<std::string> order_; // of the fields, as they stand in the form
    std::vector<std::string> required_;
    std::unique_ptr<QObject> faultWatch_; // lives as long as the faults that are shown
    int grownFor_ = 0;                    // the most height a page has asked for
    bool isTopAboutMarks_ = false;        // the line at the top only points to the marked fields
    Problems readFaults_;
    QString refusal_;
    std::optional<QStringList> asOpened_; // what stood in the fields then
    std::function<std::optional<Problem>()> save_;
};

class DateField : public QWidget {
    Q_OBJECT
public:
    DateField(std::optional<Date> value, Date today, QWidget *parent = nullptr);
    QString text() const;
    void setDate(std::optional<Date> date);
    // Nothing for an empty or an unreadable text; isReadable() tells which.
    std::optional<Date> date() const;
    bool isReadable() const;
    QLineEdit *edit() { return edit_; }
    void setToday(Date today); // what "today" and "+3" count from
    // On which day the weeks of every calendar start: as the agency's visit weeks do.
    static void setWeekStart(Weekday day);

Q_SIGNALS:
    void changed();

private:
    QLineEdit *edit_;
    QLabel *weekday_;
    Date today_;
};

class WeekdayField : public QWidget {
    Q_OBJECT
public:
    explicit WeekdayField(WeekdaySet value, QWidget *parent = nullptr);
    WeekdaySet value() const;
    void setValue(WeekdaySet value);

private:
    std::vector<QCheckBox *> boxes_;
};

// A combo box of an enum's values with their words.
template <class Enum, class Words>
std::vector<Choice> choicesOf(std::initializer_list<Enum> values, Words words) {
    std::vector<Choice> choices;
    for (const Enum value : values)
        choices.push_back({words(value), static_cast<qint64>(value)});
    return choices;
}

} // namespace kitround::ui
