#include "ui/load/IntakeTab.h"

#include "core/desk/words/Words.h"
#include "ui/load/ListParts.h"
#include "ui/load/PlainTable.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"

#include <QVBoxLayout>

#include <algorithm>

namespace kitround::ui {

IntakeTab::IntakeTab(Session &session, QWidget *parent) : QWidget(parent), session_(session) {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    areas_ = new PlainTable(QStringLiteral("intakeTable"), tr("Room for referrals by area and week"), this);
    layout->addWidget(areas_, 3);
    auto *below = new QHBoxLayout;
    const auto half = [&](PlainTable *table, int stretch) {
        auto *side = new QVBoxLayout;
        side->addWidget(table, 1);
        auto *row = new QHBoxLayout;
        row->addStretch(1);
        side->addLayout(row);
        below->addLayout(side, stretch);
        return row;
    };
    waiting_ = new PlainTable(QStringLiteral("waitingTable"), tr("Referrals that wait"), this);
    QHBoxLayout *waitRow = half(waiting_, 3);
    closures_ = new PlainTable(QStringLiteral("closureTable"), tr("Areas closed to referrals"), this);
    QHBoxLayout *closeRow = half(closures_, 2);
    layout->addLayout(below, 2);
    take_ = addButton(*waitRow, "waitingTake", tr("Who can take it?"), this,
                      [this] { askReferral(waiting_->table()->currentSourceRow()); });
    open_ = addButton(*closeRow, "intakeOpen", tr("Open again"), this, &IntakeTab::openAgain);
    close_ = addButton(*closeRow, "intakeClose", tr("Close an area…"), this, &IntakeTab::closeArea);
    connect(waiting_, &PlainTable::opened, this, &IntakeTab::askReferral);
    connect(closures_, &PlainTable::opened, this, [this](int row) {
        if (!session_.isReadOnly())
            editClosure(intake_.closures[static_cast<std::size_t>(row)]);
    });
}

void IntakeTab::show(const desk::Agency &agency, const desk::IntakeCapacity &intake) {
    intake_ = intake;
    areas_->setTable(desk::intakeTable(intake), 7);
    waiting_->setTable(desk::waitingTable(intake, agency, desk::PatientNamed::InFull), 4,
                       tr("No referral waits: each has a planned first visit."));
    closures_->setTable(desk::closureTable(intake), 3, tr("Every area is open."));
    for (PlainTable *table : {waiting_, closures_})
        table->table()->selectSourceRow(0);
    take_->setEnabled(!intake.waiting.empty());
    close_->setEnabled(!session_.isReadOnly());
    open_->setEnabled(!session_.isReadOnly() && !intake.closures.empty());
}

void IntakeTab::askReferral(int row) {
    if (row >= 0 && static_cast<std::size_t>(row) < intake_.waiting.size())
        Q_EMIT referralAsked(intake_.waiting[static_cast<std::size_t>(row)].patient.value());
}

void IntakeTab::closeArea() {
    IntakeClosure closure;
    closure.from = session_.today();
    editClosure(closure);
}

void IntakeTab::openAgain() {
    const int row = closures_->table()->currentSourceRow();
    if (row < 0 || static_cast<std::size_t>(row) >= intake_.closures.size())
        return;
    IntakeClosure closure = intake_.closures[static_cast<std::size_t>(row)];
    closure.to = std::max(closure.from, session_.today()); // today is open
    session_.writeOrTell(this, tr("Opened the %1 area to referrals").arg(desk::words(closure.area)),
                         [&](desk::Desk &desk) { return desk.save(closure); });
}

void IntakeTab::editClosure(IntakeClosure closure) {
    RecordForm form(tr("Closed to referrals"), this);
    form.addChoice("area", tr("Area"),
                   choicesOf({AreaKind::Urban, AreaKind::Suburban, AreaKind::Rural},
                             [](AreaKind a) { return desk::words(a); }),
                   static_cast<qint64>(closure.area));
    form.addDate("from", tr("From"), closure.from, session_.today());
    form.addDate("to", tr("Open again on"), closure.to, session_.today());
    form.addText("reason", tr("Reason"), closure.reason);
    form.addNote(
        tr("Nothing is refused: who enters or places a referral from there is told, and it stands on "
           "the wait list."));
    form.require({"from", "reason"});
    form.onSave(
        [&] {
            IntakeClosure record = closure;
            record.area = static_cast<AreaKind>(form.choiceOf("area"));
            record.from = form.neededDateOf("from");
            record.to = form.dateOf("to");
            record.reason = form.textOf("reason");
            return record;
        },
        [&](const IntakeClosure &record) {
            return session_.write(tr("Closed the %1 area to referrals").arg(desk::words(record.area)),
                                  [&](desk::Desk &d) { return d.save(record); });
        });
    form.exec();
}

} // namespace kitround::ui
