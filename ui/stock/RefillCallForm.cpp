// The phone script of a refill call. What was set aside, the counts and the answer (with what is promised on
// it) are separate steps of the desk; what was stored is remembered, so that a second try after a problem
// stores nothing twice.
#include "core/desk/views/RefillCallView.h"
#include "core/desk/words/PhoneScript.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/SupplyWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"
#include "ui/stock/CountFields.h"
#include "ui/stock/RecalledFields.h"
#include "ui/stock/SupplyForms.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QStandardItemModel>
#include <QTimer>

#include <algorithm>
#include <chrono>
#include <span>
#include <utility>

namespace kitround::ui {
namespace {

struct Call {
    std::vector<RecallOutcome> recalls;
    std::vector<HomeCount> counts;
    RefillContact contact;
    Delivery delivery;
    std::vector<std::size_t> rows; // of delivery.lines: line of the proposal
};

constexpr std::chrono::milliseconds kTypingPause{150};
constexpr qint64 kNoVisit = -1; // says why there is none, and can't be chosen

std::string numbered(const char *field, std::size_t row) {
    return field + ("_" + std::to_string(row));
}

class CallForm {
public:
    CallForm(QWidget *window, Session &session, const supply::RefillProposal &proposal,
             const std::optional<desk::TriedRefill> &tried)
        : session_(session), agency_(session.agency()), index_(agency_->index()), proposal_(proposal),
          tried_(tried), patient_(index_.patient(proposal.patient)),
          form_(
              QObject::tr("Refill call: %1").arg(patient_ ? desk::personName(*patient_, index_) : QString()),
              window),
          recalled_(form_, session, index_, proposal.patient), counted_(form_, session, proposal_.lines),
          picture_(session.stock()) {
        addScript();
        recalled_.add();
        addLines();
        addAnswer();
        form_.resize(780, 640);
        form_.setSaveText(QObject::tr("Record the call"));
        form_.require({"answer"});
        form_.onSave([this] { return read(); }, [this](const Call &call) { return write(call); });
        form_.addButton(QStringLiteral("countsFirst"), QObject::tr("Store the counts and work it out again"),
                        [this] { storeCounts(); });
    }
    // As it was before the counts were stored; it goes on where the new figures stand.
    void enter(const CallEntries &entries) {
        answer_->setCurrentIndex(entries.answer);
        answeredBy_->setText(QString::fromStdString(entries.answeredBy));
        reason_->setText(QString::fromStdString(entries.reasonForNeed));
        note_->setPlainText(QString::fromStdString(entries.note));
        form_.lookAt(quantities_.empty() ? "answer" : numbered("quantity", 0));
    }
    CallEntries entries() const {
        return {answer_->currentIndex(), form_.textOf("answered_by"), form_.textOf("reason_for_need"),
                form_.textOf("note")};
    }
    CallOutcome run() {
        if (!patient_)
            return CallOutcome::Nothing;
        const bool isDone = form_.exec() == QDialog::Accepted;
        if (isDone)
            return countsOnly_ ? CallOutcome::CountedFirst : CallOutcome::Stored;
        return !counted_.isStored() && !recalled_.isStored() ? CallOutcome::Nothing : CallOutcome::Stored;
    }

private:
    // What the home is asked.
    const supply::RefillProposal &offer() const { return tried_ ? tried_->offer : proposal_; }

    QString name(ItemId id) const {
        const Item *item = index_.item(id);
        return item ? QString::fromStdString(item->name) : QObject::tr("an unknown item");
    }

    void addScript() {
        if (patient_)
            form_.addNote(desk::phoneLine(*patient_));
        form_.addNote(desk::reason(proposal_, index_));
        int number = 0;
        for (const desk::ScriptStep &step : desk::phoneScript(offer(), index_))
            addStep(++number, step);
        for (const supply::BarredLine &barred : proposal_.barred)
            form_.addNote(
                QObject::tr("%1 is not offered: it does not suit this person. A nurse or the prescriber "
                            "decides.")
                    .arg(name(barred.item)));
    }

    // What is said stands in ink, what is for the caller alone is quiet.
    void addStep(int number, const desk::ScriptStep &step) {
        QString text = QStringLiteral("“%1”").arg(step.say.toHtmlEscaped());
        if (!step.note.isEmpty())
            text += QStringLiteral("<br><span style=\"color:%1\">%2</span>")
                        .arg(Look::colour(Role::FaintInk).name(), step.note.toHtmlEscaped());
        auto *label = new WrappedLabel(text);
        label->setTextFormat(Qt::RichText);
        label->setAlignment(Qt::AlignLeft | Qt::AlignTop); // beside its number
        form_.addWidget("script_" + std::to_string(number), QObject::tr("Say, %1").arg(number), label);
    }

    void addLines() {
        for (std::size_t i = 0; i < proposal_.lines.size(); ++i) {
            const supply::RefillLine &line = proposal_.lines[i];
            const Catheter *catheter = index_.catheter(line.catheter);
            const Item *item = index_.item(line.item);
            form_.addHeading(QObject::tr("%1, %2").arg(name(line.item),
                                                       catheter ? desk::catheterText(*catheter) : QString()));
            form_.addNote(desk::reason(line, index_));
            if (item)
                counted_.add(i, *item);
            if (tried_ && tried_->line == i)
                form_.addNote(tried_->note);
            quantities_.push_back(form_.addNumber(numbered("quantity", i), QObject::tr("To send"),
                                                  offer().lines[i].quantity.count(), QObject::tr("eaches")));
        }
    }

    void addAnswer() {
        form_.addHeading(QObject::tr("The answer"));
        answer_ = form_.addChoice(
            "answer", QObject::tr("The home said"),
            choicesOf({RefillAnswer::Confirmed, RefillAnswer::Declined, RefillAnswer::NoAnswer},
                      [](RefillAnswer answer) { return desk::words(answer); }),
            -1); // nobody's answer is chosen beforehand
        answer_->setPlaceholderText(QObject::tr("choose the answer"));
        answeredBy_ = form_.addText("answered_by", QObject::tr("Who answered"), {});
        reason_ = form_.addText("reason_for_need", QObject::tr("Why it is needed"), {});
        QObject::connect(answer_, &QComboBox::currentIndexChanged, &form_, [this] {
            const bool isYes = answer_->currentIndex() >= 0 &&
                               form_.choiceOf("answer") == static_cast<qint64>(RefillAnswer::Confirmed);
            for (const char *field : {"answered_by", "reason_for_need"})
                form_.setRequired(field, isYes);
        });
        std::vector<Choice> ways{{QObject::tr("by courier"), 0}};
        for (const Visit *visit : index_.visitsOf(proposal_.patient))
            if (visit->on && *visit->on >= session_.today() && visit->kind != VisitKind::Phone &&
                (visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published))
                ways.push_back(
                    {QObject::tr("with the visit on %1").arg(desk::dayText(*visit->on)), visit->id.value()});
        const bool rides = offer().way == DeliveryWay::WithVisit && offer().withVisit;
        QComboBox *way =
            form_.addChoice("way", QObject::tr("How it goes"), ways, rides ? offer().withVisit->value() : 0);
        if (way->currentIndex() < 0)
            way->setCurrentIndex(0);
        sayWhyNoVisit(*way);
        DateField *day =
            form_.addDate("promised_for", QObject::tr("Delivery day"), offer().deliverOn, session_.today());
        QObject::connect(way, &QComboBox::currentIndexChanged, day, [this, way, day] {
            const Visit *visit = index_.visit(VisitId(way->currentData().toLongLong()));
            day->setDate(visit ? visit->on : std::optional(offer().deliverOn));
            showDayRules(day->date());
        });
        addDayRules(*day);
        note_ = form_.addLongText("note", QObject::tr("Note"), {});
    }

    // A nurse is asked about where a refill is late: that none goes there in time is said where it would be
    // chosen.
    void sayWhyNoVisit(QComboBox &way) const {
        for (int i = 1; i < way.count(); ++i)
            if (const Visit *visit = index_.visit(VisitId(way.itemData(i).toLongLong()));
                visit && visit->on && *visit->on <= offer().deliverOn)
                return;
        way.addItem(
            QObject::tr("with a nurse: no visit is planned by %1").arg(desk::dayText(offer().deliverOn)),
            kNoVisit);
        if (auto *items = qobject_cast<QStandardItemModel *>(way.model()))
            items->item(way.count() - 1)->setEnabled(false);
    }

    // Told while the home is on the line, not only when the call is recorded; once for what was typed in one
    // go.
    void addDayRules(DateField &day) {
        dayRules_ = new WrappedLabel(QString());
        Look::setInk(dayRules_, Role::Act);
        form_.addWidget("day_rules", QObject::tr("That day"), dayRules_);
        typing_.setSingleShot(true);
        typing_.setInterval(kTypingPause);
        QObject::connect(&typing_, &QTimer::timeout, dayRules_,
                         [this, field = &day] { showDayRules(field->date()); });
        QObject::connect(&day, &DateField::changed, &typing_, qOverload<>(&QTimer::start));
        for (QLineEdit *quantity : quantities_)
            QObject::connect(quantity, &QLineEdit::textChanged, &typing_, qOverload<>(&QTimer::start));
        showDayRules(day.date());
    }

    void showDayRules(std::optional<Date> on) {
        typing_.stop();
        Delivery wanted;
        wanted.patient = proposal_.patient;
        setWay(wanted);
        QString text;
        if (on) {
            wanted.promisedFor = *on;
            for (std::size_t i = 0; i < quantities_.size(); ++i)
                if (const auto quantity = numberIn(quantities_[i]->text()).value_or(0); quantity != 0)
                    wanted.lines.push_back({proposal_.lines[i].catheter, proposal_.lines[i].item,
                                            std::nullopt, Eaches::of(quantity)});
            text = rulesOf(desk::parcelBreaks(index_, picture_.get(), proposal_, wanted));
        }
        dayRules_->setText(text);
        form_.setFieldShown("day_rules", !text.isEmpty());
    }

    QString rulesOf(const std::vector<supply::TrialBreak> &breaks) const {
        return desk::rulesText(index_, proposal_, breaks);
    }

    void setWay(Delivery &delivery) const {
        if (const VisitId visit(form_.choiceOf("way")); visit.isSet()) {
            delivery.way = DeliveryWay::WithVisit;
            delivery.visit = visit;
        }
    }

    std::vector<RecallOutcome> readRecalls() { return recalled_.read(form_.textOf("answered_by")); }

    // Whoever was reached was asked.
    void requireRecalls() {
        if (answer_->currentIndex() >= 0 &&
            desk::mustTellRecalled(static_cast<RefillAnswer>(form_.choiceOf("answer"))))
            recalled_.require();
    }

    Call read() {
        Call call;
        requireRecalls();
        call.recalls = readRecalls();
        call.counts = counted_.read();
        call.contact.patient = proposal_.patient;
        call.contact.at = momentNow(session_);
        if (answer_->currentIndex() < 0) {
            Problem missing;
            missing.code = ProblemCode::Missing;
            missing.field = "answer";
            form_.addReadFault(std::move(missing));
        }
        call.contact.answer = static_cast<RefillAnswer>(form_.choiceOf("answer"));
        call.contact.answeredBy = form_.textOf("answered_by");
        call.contact.reasonForNeed = form_.textOf("reason_for_need");
        call.contact.note = form_.textOf("note");
        if (call.contact.answer != RefillAnswer::Confirmed)
            return call;
        Delivery &delivery = call.delivery;
        delivery.patient = proposal_.patient;
        delivery.promisedFor = form_.neededDateOf("promised_for");
        delivery.deliverBy = proposal_.deliverBy;
        setWay(delivery);
        for (std::size_t i = 0; i < proposal_.lines.size(); ++i) {
            const Eaches quantity = Eaches::of(form_.numberOf(numbered("quantity", i)).value_or(0));
            if (quantity.isZero())
                continue;
            delivery.lines.push_back(
                {proposal_.lines[i].catheter, proposal_.lines[i].item, std::nullopt, quantity});
            call.rows.push_back(i);
        }
        return call;
    }

    // Before the counts, which are of what is left without them.
    std::optional<Problem> writeRecalls(const std::vector<RecallOutcome> &outcomes) {
        return recalled_.write(outcomes,
                               QObject::tr("Recorded a recall call to %1").arg(desk::initials(*patient_)));
    }

    std::optional<Problem> writeCounts(const std::vector<HomeCount> &counts) {
        return counted_.write(counts, QObject::tr("Recorded a count for %1").arg(desk::initials(*patient_)));
    }

    std::optional<Problem> askAboutSetAside(const Call &call) {
        return counted_.askWhy(call.counts, recalled_.notStored(call.recalls));
    }

    std::optional<Problem> write(const Call &call) {
        if (auto problem = askFirst(call))
            return problem;
        if (auto problem = writeRecalls(call.recalls))
            return problem;
        if (auto problem = writeCounts(call.counts))
            return problem;
        if (call.contact.answer != RefillAnswer::Confirmed)
            return recalled_.atFields(
                session_.write(QObject::tr("Recorded a refill call to %1").arg(desk::initials(*patient_)),
                               [&](desk::Desk &d) { return d.recordContact(call.contact); }));
        auto problem = session_.write(
            QObject::tr("Promised a delivery to %1").arg(desk::initials(*patient_)),
            [&](desk::Desk &d) { return d.promiseOffer(call.contact, call.delivery, proposal_, why_); });
        return recalled_.atFields(problem ? std::optional(atFields(*problem, call)) : std::nullopt);
    }

    // Before anything is written.
    std::optional<Problem> askFirst(const Call &call) {
        if (auto problem = askAboutSetAside(call))
            return problem;
        if (call.contact.answer != RefillAnswer::Confirmed)
            return std::nullopt;
        if (auto problem = askAboutMore(call))
            return problem;
        if (auto problem = askAboutDay(call))
            return problem;
        return askAboutCounts(call);
    }

    // A day that breaks a rule needs a reason, as too large a quantity does.
    std::optional<Problem> askAboutDay(const Call &call) {
        const std::vector<supply::TrialBreak> breaks =
            desk::breaksToExplain(index_, picture_.get(), proposal_, call.delivery);
        why_.shown = breaks;
        if (breaks.empty()) {
            why_.day.clear();
            return std::nullopt;
        }
        const auto why =
            Ask::line(&form_, QObject::tr("A day against the rules"),
                      QObject::tr("%1: %2\nWhy that day all the same? The reason is kept with the call.")
                          .arg(desk::dayText(call.delivery.promisedFor), rulesOf(breaks)),
                      QString::fromStdString(why_.day));
        why_.day = why ? why->trimmed().toStdString() : std::string();
        if (!why_.day.empty())
            return std::nullopt;
        Problem refused;
        refused.code = ProblemCode::NotAllowed;
        refused.field = "promised_for";
        refused.args = {"day_against_rules"};
        return refused;
    }

    // The script asks for a count before the offer. Asked about once: not everybody can count.
    std::optional<Problem> askAboutCounts(const Call &call) {
        const QStringList names = desk::notCounted(index_, call.delivery.lines, call.counts);
        if (names.isEmpty() || goesUncounted_)
            return std::nullopt;
        goesUncounted_ =
            Ask::confirm(&form_, QObject::tr("Record without a count?"),
                         QObject::tr("Nobody counted today: %1. What is sent then rests on the record alone.")
                             .arg(names.join(QStringLiteral(", "))),
                         QObject::tr("Record without a count"), QObject::tr("Enter the count"));
        if (goesUncounted_)
            return std::nullopt;
        Problem missing;
        missing.code = ProblemCode::Missing;
        missing.field = CountFields::field(firstUncounted(call));
        return missing;
    }

    std::size_t firstUncounted(const Call &call) const {
        for (std::size_t i = 0; i < call.rows.size(); ++i)
            if (!desk::notCounted(index_, std::span(&call.delivery.lines[i], 1), call.counts).isEmpty())
                return call.rows[i];
        return 0;
    }

    // Far more than was offered is asked about with its figures before anything is written.
    std::optional<Problem> askAboutMore(const Call &call) {
        const auto over = supply::overOffer(index_, proposal_, call.delivery);
        if (over.empty())
            return std::nullopt;
        QStringList figures;
        Problems tooMany;
        for (const supply::OverOffer &line : over) {
            figures << desk::words(line, index_);
            Problem p;
            p.code = ProblemCode::NotAllowed;
            p.field = numbered("quantity", call.rows[line.line]);
            p.args = {"more_than_offered", std::to_string(line.offered.count())};
            tooMany.push_back(std::move(p));
        }
        figures.removeDuplicates();
        const auto why =
            Ask::line(&form_, QObject::tr("More than was offered"),
                      QObject::tr("%1\nWhy is so much to be sent? The reason is kept with the delivery.")
                          .arg(figures.join(u'\n')),
                      QString::fromStdString(why_.more));
        why_.more = why ? why->trimmed().toStdString() : std::string();
        return why_.more.empty() ? std::optional(joined(std::move(tooMany))) : std::nullopt;
    }

    // Rows of the delivery's lines become the fields of the form.
    static Problem atFields(const Problem &problem, const Call &call) {
        Problems found = flattened(problem);
        for (Problem &p : found)
            if (p.row > 0 && static_cast<std::size_t>(p.row) <= call.rows.size()) {
                p.field = numbered("quantity", call.rows[static_cast<std::size_t>(p.row) - 1]);
                p.row = 0;
            }
        return joined(std::move(found));
    }

    void storeCounts() {
        form_.onSave(
            [this] {
                Call call;
                call.recalls = readRecalls();
                call.counts = counted_.read();
                return call;
            },
            [this](const Call &call) -> std::optional<Problem> {
                if (call.counts.empty()) {
                    Problem missing;
                    missing.code = ProblemCode::Missing;
                    missing.field = CountFields::field(0);
                    return missing;
                }
                countsOnly_ = true;
                if (auto problem = askAboutSetAside(call))
                    return problem;
                if (auto problem = writeRecalls(call.recalls))
                    return problem;
                return writeCounts(call.counts);
            });
        form_.save();
        if (form_.result() == QDialog::Accepted)
            return;
        countsOnly_ = false;
        form_.onSave([this] { return read(); }, [this](const Call &call) { return write(call); });
    }

    Session &session_;
    desk::AgencyPtr agency_; // kept: the form's records outlive a reload behind it
    const SnapshotIndex &index_;
    const supply::RefillProposal proposal_; // what more than was offered is measured against
    const std::optional<desk::TriedRefill> tried_;
    const Patient *patient_;
    RecordForm form_;
    RecalledFields recalled_;
    CountFields counted_;
    const desk::StockPicturePtr picture_; // of the proposal, for what only forecasts can tell
    desk::OfferReasons why_;
    bool goesUncounted_ = false;
    std::vector<QLineEdit *> quantities_; // by line
    QLabel *dayRules_ = nullptr;
    QTimer typing_; // runs while somebody types: the forecast is not asked at every key
    QComboBox *answer_ = nullptr;
    QLineEdit *answeredBy_ = nullptr, *reason_ = nullptr;
    QPlainTextEdit *note_ = nullptr;
    bool countsOnly_ = false;
};

} // namespace

CallOutcome refillCall(QWidget *window, Session &session, const supply::RefillProposal &proposal,
                       const std::optional<desk::TriedRefill> &tried, std::optional<CallEntries> *entries) {
    CallForm form(window, session, proposal, tried);
    if (entries && *entries)
        form.enter(**entries);
    const CallOutcome outcome = form.run();
    if (entries && outcome == CallOutcome::CountedFirst)
        *entries = form.entries();
    else if (entries)
        entries->reset();
    return outcome;
}

} // namespace kitround::ui
