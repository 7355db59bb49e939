// The phone script of a refill call. Its three records (counts, the answer, the promise) are separate steps
// of the desk; what was stored is remembered, so that a second try after a problem stores nothing twice.
#include "core/desk/words/PhoneScript.h"
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"
#include "ui/shared/Moment.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/SupplyForms.h"

#include <QComboBox>
#include <QLabel>

#include <map>

namespace kitround::ui {
namespace {

struct Call {
    std::vector<HomeCount> counts;
    RefillContact contact;
    Delivery delivery;
    std::vector<std::size_t> rows; // of delivery.lines: line of the proposal
};

std::string numbered(const char *field, std::size_t row) {
    return field + ("_" + std::to_string(row));
}

class CallForm {
public:
    CallForm(QWidget *window, Session &session, const supply::RefillProposal &proposal)
        : session_(session), agency_(session.agency()), index_(agency_->index()), proposal_(proposal),
          patient_(index_.patient(proposal.patient)),
          form_(QObject::tr("Refill call: %1").arg(patient_ ? desk::personName(*patient_) : QString()),
                window) {
        addScript();
        addLines();
        addAnswer();
        form_.resize(780, 640);
        form_.setSaveText(QObject::tr("Record the call"));
        form_.onSave([this] { return read(); }, [this](const Call &call) { return write(call); });
        form_.addButton(QStringLiteral("countsFirst"), QObject::tr("Store the counts and work it out again"),
                        [this] { storeCounts(); });
    }
    CallOutcome run() {
        if (!patient_)
            return CallOutcome::Nothing;
        const bool isDone = form_.exec() == QDialog::Accepted;
        if (isDone)
            return countsOnly_ ? CallOutcome::CountedFirst : CallOutcome::Stored;
        return stored_.empty() && !contact_ ? CallOutcome::Nothing : CallOutcome::Stored;
    }

private:
    QString name(ItemId id) const {
        const Item *item = index_.item(id);
        return item ? QString::fromStdString(item->name) : QObject::tr("an unknown item");
    }

    void addScript() {
        if (patient_)
            form_.addNote(QObject::tr("Phone %1").arg(QString::fromStdString(patient_->phone)));
        form_.addNote(desk::reason(proposal_, index_));
        int number = 0;
        for (const desk::ScriptStep &step : desk::phoneScript(proposal_, index_))
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
        auto *label = new QLabel(text);
        label->setTextFormat(Qt::RichText);
        label->setWordWrap(true);
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
            // What the home counts is seldom full cases; what is sent is decided in eaches.
            const std::string counted = numbered("counted", i);
            if (item)
                addQuantity(form_, counted, QObject::tr("Counted on the shelf"), std::nullopt, *item);
            form_.addNumber(numbered("quantity", i), QObject::tr("To send"), line.quantity.count(),
                            QObject::tr("eaches"));
        }
    }

    void addAnswer() {
        form_.addHeading(QObject::tr("The answer"));
        form_.addChoice("answer", QObject::tr("The home said"),
                        {{QObject::tr("yes, send it"), static_cast<qint64>(RefillAnswer::Confirmed)},
                         {QObject::tr("no, nothing now"), static_cast<qint64>(RefillAnswer::Declined)},
                         {QObject::tr("nobody answered"), static_cast<qint64>(RefillAnswer::NoAnswer)}},
                        static_cast<qint64>(RefillAnswer::Confirmed));
        form_.addText("answered_by", QObject::tr("Who answered"), {});
        form_.addText("reason_for_need", QObject::tr("Why it is needed"), {});
        std::vector<Choice> ways{{QObject::tr("by courier"), 0}};
        for (const Visit *visit : index_.visitsOf(proposal_.patient))
            if (visit->on && *visit->on >= session_.today() && visit->kind != VisitKind::Phone &&
                (visit->status == VisitStatus::Drafted || visit->status == VisitStatus::Published))
                ways.push_back(
                    {QObject::tr("with the visit on %1").arg(desk::dayText(*visit->on)), visit->id.value()});
        const bool rides = proposal_.way == DeliveryWay::WithVisit && proposal_.withVisit;
        QComboBox *way = form_.addChoice("way", QObject::tr("How it goes"), ways,
                                         rides ? proposal_.withVisit->value() : 0);
        if (way->currentIndex() < 0)
            way->setCurrentIndex(0);
        DateField *day =
            form_.addDate("promised_for", QObject::tr("Delivery day"), proposal_.deliverOn, session_.today());
        QObject::connect(way, &QComboBox::currentIndexChanged, day, [this, way, day] {
            const Visit *visit = index_.visit(VisitId(way->currentData().toLongLong()));
            day->setDate(visit ? visit->on : std::optional(proposal_.deliverOn));
        });
        form_.addLongText("note", QObject::tr("Note"), {});
    }

    std::vector<HomeCount> readCounts() {
        std::vector<HomeCount> counts;
        for (std::size_t i = 0; i < proposal_.lines.size(); ++i) {
            if (!index_.item(proposal_.lines[i].item))
                continue;
            const auto counted = quantityOf(form_, numbered("counted", i));
            if (!counted)
                continue;
            HomeCount count;
            count.catheter = proposal_.lines[i].catheter;
            count.item = proposal_.lines[i].item;
            count.at = momentNow(session_);
            count.counted = *counted;
            counts.push_back(count);
        }
        return counts;
    }

    Call read() {
        Call call;
        call.counts = readCounts();
        call.contact.patient = proposal_.patient;
        call.contact.at = momentNow(session_);
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
        if (const VisitId visit(form_.choiceOf("way")); visit.isSet()) {
            delivery.way = DeliveryWay::WithVisit;
            delivery.visit = visit;
        }
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

    std::optional<Problem> writeCounts(const std::vector<HomeCount> &counts) {
        for (const HomeCount &count : counts) {
            const auto key = std::pair(count.catheter, count.item);
            if (const auto found = stored_.find(key);
                found != stored_.end() && found->second == count.counted)
                continue;
            if (auto problem =
                    session_.write(QObject::tr("Recorded a count for %1").arg(desk::initials(*patient_)),
                                   [&](desk::Desk &d) { return d.countHome(count); })) {
                for (std::size_t i = 0; i < proposal_.lines.size(); ++i)
                    if (proposal_.lines[i].catheter == count.catheter &&
                        proposal_.lines[i].item == count.item)
                        problem->field = numbered("counted", i);
                return problem;
            }
            stored_[key] = count.counted;
        }
        return std::nullopt;
    }

    std::optional<Problem> write(const Call &call) {
        if (auto problem = writeCounts(call.counts))
            return problem;
        RefillContact asked = call.contact;
        if (contact_) // the same answer again, after a problem with the delivery
            asked.id = contact_->id;
        if (!contact_ || asked != *contact_) {
            asked.id = {};
            if (auto problem =
                    session_.write(QObject::tr("Recorded a refill call to %1").arg(desk::initials(*patient_)),
                                   [&](desk::Desk &d) -> Result<void> {
                                       auto stored = d.recordContact(asked);
                                       if (!stored)
                                           return stored.error();
                                       contact_ = *stored;
                                       return {};
                                   }))
                return problem;
        }
        if (call.contact.answer != RefillAnswer::Confirmed)
            return std::nullopt;
        Delivery delivery = call.delivery;
        delivery.contact = contact_->id;
        auto problem = session_.write(QObject::tr("Promised a delivery to %1").arg(desk::initials(*patient_)),
                                      [&](desk::Desk &d) { return d.promise(delivery); });
        return problem ? std::optional(atFields(*problem, call)) : std::nullopt;
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
        form_.onSave([this] { return readCounts(); },
                     [this](const std::vector<HomeCount> &counts) -> std::optional<Problem> {
                         if (counts.empty()) {
                             Problem missing;
                             missing.code = ProblemCode::Missing;
                             missing.field = numbered("counted", 0);
                             return missing;
                         }
                         countsOnly_ = true;
                         return writeCounts(counts);
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
    const supply::RefillProposal proposal_;
    const Patient *patient_;
    RecordForm form_;
    std::map<std::pair<CatheterId, ItemId>, Eaches> stored_;
    std::optional<RefillContact> contact_;
    bool countsOnly_ = false;
};

} // namespace

CallOutcome refillCall(QWidget *window, Session &session, const supply::RefillProposal &proposal) {
    return CallForm(window, session, proposal).run();
}

} // namespace kitround::ui
