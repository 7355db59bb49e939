#include "ui/people/VisitOrderForm.h"

#include "core/desk/views/VisitOrderView.h"
#include "core/desk/words/Words.h"
#include "ui/people/ComesAfterFields.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"

#include <QFontDatabase>
#include <QLabel>
#include <QLineEdit>
#include <QVBoxLayout>

namespace kitround::ui {
namespace {

constexpr VisitKind kKinds[] = {
    VisitKind::StartOfCare, VisitKind::Resumption,      VisitKind::Recertification, VisitKind::Discharge,
    VisitKind::Routine,     VisitKind::Teaching,        VisitKind::DrainOnly,       VisitKind::DressingCheck,
    VisitKind::SupplyCount, VisitKind::SymptomFollowUp, VisitKind::AsNeeded,        VisitKind::Supervisory,
    VisitKind::Phone};

// The line edit with the explanation, or the fault with a caret below the character, under it.
class NotationField : public QWidget {
public:
    NotationField(const QString &text, QWidget *parent) : QWidget(parent) {
        auto *layout = new QVBoxLayout(this);
        layout->setContentsMargins(0, 0, 0, 0);
        const QFont fixed = QFontDatabase::systemFont(QFontDatabase::FixedFont);
        edit_ = new QLineEdit(text, this);
        edit_->setObjectName(QStringLiteral("notation"));
        edit_->setAccessibleName(QObject::tr("Visits, for example 2W4, 1W5, 2PRN"));
        edit_->setPlaceholderText(QStringLiteral("2W4, 1W5, 2PRN"));
        edit_->setFont(fixed);
        place_ = new QLabel(this);
        place_->setFont(fixed);
        place_->setTextFormat(Qt::PlainText);
        place_->setObjectName(QStringLiteral("notationPlace"));
        meaning_ = new WrappedLabel({}, this);
        meaning_->setObjectName(QStringLiteral("notationMeaning"));
        layout->addWidget(edit_);
        layout->addWidget(place_);
        layout->addWidget(meaning_);
        setFocusProxy(edit_);
        QObject::connect(edit_, &QLineEdit::textChanged, this, [this] { explain(); });
        explain();
    }
    Result<std::vector<VisitSegment>> segments() const { return desk::readNotation(edit_->text()); }
    bool isEmpty() const { return edit_->text().trimmed().isEmpty(); }

private:
    void explain() {
        place_->hide();
        if (isEmpty()) {
            meaning_->setText(QObject::tr("2W4 is two a week for four weeks; 2PRN is two as needed."));
            return;
        }
        const auto read = segments();
        if (read) {
            meaning_->setText(desk::segmentsText(*read));
            return;
        }
        const Problem &problem = read.error();
        if (problem.args.size() > 1) {
            const int offset = QString::fromStdString(problem.args[1]).toInt();
            place_->setText(edit_->text() + QLatin1Char('\n') + QString(offset, QLatin1Char(' ')) +
                            QLatin1Char('^'));
            place_->show();
        }
        meaning_->setText(desk::words(problem));
    }
    QLineEdit *edit_;
    QLabel *place_, *meaning_;
};

void addFields(RecordForm &form, const VisitOrder &order, Date today) {
    std::vector<Choice> kinds;
    for (const VisitKind kind : kKinds)
        kinds.push_back({desk::words(kind), static_cast<qint64>(kind)});
    form.addChoice("kind", QObject::tr("Kind of visit"), kinds, static_cast<qint64>(order.kind));
    form.addDate("start", QObject::tr("From"), order.id.isSet() ? order.start : today, today);
    form.addDate("end", QObject::tr("Until, not including"), order.end, today);
    form.addWeekdays("allowed_days", QObject::tr("Only on (none: any day)"), order.allowedDays);
    const auto days = [](const std::optional<Days> &d) {
        return d ? std::optional(d->count()) : std::nullopt;
    };
    form.addNumber("length_min", QObject::tr("Length"),
                   order.length ? std::optional(order.length->count()) : std::nullopt,
                   QObject::tr("min; empty: as set for the kind"));
    form.addNumber("least_gap_days", QObject::tr("Least gap"), days(order.leastGap),
                   QObject::tr("days; empty: spread evenly"));
    form.addNumber("most_gap_days", QObject::tr("Longest gap"), days(order.mostGap), QObject::tr("days"));
    form.addCheck("two_nurses", QObject::tr("By two nurses"), order.twoNurses);
    form.addText("prescriber", QObject::tr("Prescriber"), order.prescriber);
}

} // namespace

bool editVisitOrder(QWidget *window, Session &session, VisitOrder order) {
    const QString title =
        order.id.isSet() ? QObject::tr("Visit order: %1") : QObject::tr("New visit order: %1");
    RecordForm form(title.arg(desk::nameWithCode(session.agency()->index(), order.patient)), window);
    auto *notation = new NotationField(desk::notation(order), &form);
    form.addWidget("segments", QObject::tr("Visits"), notation);
    addFields(form, order, session.today());
    std::vector<qint64> needed;
    for (int i = 0; i < kSkillCount; ++i)
        if (order.needs.contains(static_cast<Skill>(i)))
            needed.push_back(i);
    auto *skills = makeCheckList(skillChoices(), needed, &form);
    form.addWidget("needs", QObject::tr("Needs a nurse who can"), skills);
    ComesAfterFields after(form, *session.agency(), order.patient, ComesAfterFields::For::Order, order.after,
                           order.id.isSet() ? std::optional(order.id) : std::nullopt);
    form.require({"segments", "start"});
    form.onSave(
        [&] {
            VisitOrder record = order;
            if (const auto segments = notation->segments())
                record.segments = *segments;
            else
                form.addReadFault(notation->isEmpty() ? Problem{ProblemCode::Missing, "segments"}
                                                      : segments.error());
            record.kind = static_cast<VisitKind>(form.choiceOf("kind"));
            record.start = form.neededDateOf("start");
            record.end = form.dateOf("end");
            record.allowedDays = form.weekdaysOf("allowed_days");
            const auto length = form.numberOf("length_min");
            record.length = length ? std::optional(Minutes::of(*length)) : std::nullopt;
            const auto least = form.numberOf("least_gap_days");
            record.leastGap = least ? std::optional(Days::of(*least)) : std::nullopt;
            const auto most = form.numberOf("most_gap_days");
            record.mostGap = most ? std::optional(Days::of(*most)) : std::nullopt;
            record.twoNurses = form.checkOf("two_nurses");
            record.prescriber = form.textOf("prescriber");
            record.after = after.read();
            record.needs = {};
            for (const qint64 skill : checkedOf(*skills))
                record.needs.insert(static_cast<Skill>(skill));
            return record;
        },
        [&](const VisitOrder &record) {
            return session.write(QObject::tr("Saved a visit order"),
                                 [&](desk::Desk &d) { return d.save(record); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
