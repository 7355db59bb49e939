// The count of one item's lots in the storeroom.
#include "core/desk/views/StoreroomCounts.h"
#include "core/desk/views/StoreroomItem.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/shared/WrappedLabel.h"
#include "ui/stock/CountsDialog.h"
#include "ui/stock/FoundLots.h"

#include <utility>

namespace kitround::ui {
namespace {

class CountForm {
public:
    CountForm(QWidget *window, Session &session, desk::AgencyPtr agency, const Item &item)
        : session_(session), agency_(std::move(agency)), item_(item), lots_(lotsOf(*agency_, item.id)),
          form_(QObject::tr("Count: %1").arg(QString::fromStdString(item.name)), window),
          found_(form_, agency_, item.id, listed()) {
        addNotes();
        addFields();
        form_.setSaveText(QObject::tr("Record the count"));
        form_.onSave([this] { return read(); },
                     [this](const desk::StoreroomCount &count) { return write(count); });
    }

    bool exec() {
        if (form_.exec() != QDialog::Accepted)
            return false;
        QStringList said;
        for (const Problem &flag : counted_.flags)
            said << desk::words(flag);
        if (!said.isEmpty())
            Ask::tell(form_.parentWidget(), QObject::tr("Counted, with remarks"),
                      said.join(QLatin1Char('\n')));
        return true;
    }

private:
    static std::vector<desk::LotRow> lotsOf(const desk::Agency &agency, ItemId item) {
        std::vector<desk::LotRow> lots;
        for (desk::LotRow &lot : desk::lotRows(agency, item))
            if (!lot.storeroom.isZero())
                lots.push_back(std::move(lot));
        return lots;
    }

    static std::string field(std::size_t lot) { return "counted_" + std::to_string(lot); }

    std::vector<CountedLine> listed() const {
        std::vector<CountedLine> lines;
        for (std::size_t i = 0; i < lots_.size(); ++i)
            lines.push_back({field(i), lots_[i].lot ? lots_[i].number : QString(), lots_[i].storeroom});
        return lines;
    }

    void addNotes() {
        form_.addNote(QObject::tr("Count each lot on the shelf without looking at the ledger. A lot that is "
                                  "not there any more is 0; leave empty what was not counted. The item stays "
                                  "due until all its lots are counted at one go."));
        const int openPicks = supply::openPicksOf(agency_->index(), item_.id);
        if (openPicks > 0)
            form_.addNote(desk::counted(
                openPicks,
                QObject::tr("%1 delivery with this item is being picked. Count when it is through."),
                QObject::tr("%1 deliveries with this item are being picked. Count when they are through.")));
        if (lots_.empty())
            form_.addNote(QObject::tr("By the ledger nothing of it stands in the storeroom."));
    }

    void addFields() {
        if (lots_.empty())
            lots_.emplace_back();
        const std::int64_t perCase = item_.casePack.eachesPerCase.count();
        std::vector<Choice> units{{QObject::tr("eaches"), 1}};
        if (perCase > 1)
            units.push_back({QObject::tr("cases of %1").arg(perCase), perCase});
        form_.addChoice("counted_in", QObject::tr("Counted in"), units, 1);
        for (std::size_t i = 0; i < lots_.size(); ++i)
            form_.addNumber(field(i),
                            lots_[i].lot ? QObject::tr("Lot %1").arg(lots_[i].number)
                                         : QObject::tr("Without a lot"),
                            std::nullopt, {});
        found_.add();
        // Counted blind: what differs is told, and explained, once the numbers stand.
        variance_ = new WrappedLabel({}, &form_);
        form_.addWidget("variance", QObject::tr("A difference"), variance_);
        form_.addText("why", QObject::tr("What explains a difference"), {});
        form_.addText("second_person", QObject::tr("Second person, for a large difference"), {});
        form_.addCheck("is_counted_again", QObject::tr("counted again; the numbers are right"), false);
        showExplaining(false);
    }

    void showExplaining(bool isShown) {
        for (const char *name : {"variance", "why", "second_person", "is_counted_again"})
            form_.setFieldShown(name, isShown);
    }

    void tellVariances(const desk::StoreroomCount &count) {
        const desk::AgencyPtr now = session_.agency();
        QStringList told;
        for (const desk::CountVariance &variance : desk::countVariances(*now, count))
            told << desk::words(variance, now->settings().currency);
        if (told.isEmpty() && !hasDiffered_)
            return; // refused for something else: there is nothing to explain
        hasDiffered_ = true;
        if (told.isEmpty())
            told << QObject::tr("With the numbers above nothing differs from the books. Nothing is recorded "
                                "yet.");
        else
            told << QObject::tr("Count these once more before you explain it, and correct the number above "
                                "where it was wrong.");
        variance_->setText(told.join(QLatin1Char('\n')));
        showExplaining(true);
    }

    desk::StoreroomCount read() {
        desk::StoreroomCount count;
        count.item = item_.id;
        rows_.clear();
        const std::int64_t perUnit = form_.choiceOf("counted_in");
        for (std::size_t i = 0; i < lots_.size(); ++i)
            if (const auto counted = form_.numberOf(field(i))) {
                count.lots.push_back({lots_[i].lot, Eaches::of(*counted * perUnit), lots_[i].storeroom});
                rows_.push_back(field(i));
            }
        found_.read(count, perUnit, rows_);
        if (count.lots.empty()) {
            Problem missing;
            missing.field = field(0);
            form_.addReadFault(missing);
        }
        count.why = form_.textOf("why");
        count.secondPerson = form_.textOf("second_person");
        count.isCountedAgain = form_.checkOf("is_counted_again");
        return count;
    }

    std::optional<Problem> write(const desk::StoreroomCount &count) {
        const auto problem =
            session_.write(QObject::tr("Counted %1 in the storeroom").arg(QString::fromStdString(item_.name)),
                           [&](desk::Desk &d) {
                               auto done = d.countStoreroom(count);
                               if (done)
                                   counted_ = *done;
                               return done;
                           });
        if (!problem)
            return std::nullopt;
        tellVariances(count);
        Problems met = flattened(*problem);
        for (Problem &p : met)
            if (p.row > 0 && static_cast<std::size_t>(p.row) <= rows_.size()) {
                p = FoundLots::atField(p, rows_[static_cast<std::size_t>(p.row) - 1]);
                p.row = 0;
            }
        return joined(std::move(met));
    }

    Session &session_;
    const desk::AgencyPtr agency_; // kept: a reload may come while the form is open
    const Item &item_;             // of that agency
    std::vector<desk::LotRow> lots_;
    RecordForm form_;
    FoundLots found_;
    std::vector<std::string> rows_; // of the lots counted: their fields
    desk::StoreroomCounted counted_;
    QLabel *variance_ = nullptr;
    bool hasDiffered_ = false; // it was told so
};

} // namespace

bool countItem(QWidget *window, Session &session, ItemId itemId) {
    const desk::AgencyPtr agency = session.agency();
    const Item *item = agency->index().item(itemId);
    return item && CountForm(window, session, agency, *item).exec();
}

} // namespace kitround::ui
