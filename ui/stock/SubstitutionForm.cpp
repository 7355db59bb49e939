// Who approved another size at a home, that it was taught, and until when.
#include "core/desk/words/Words.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/SubstitutionPanel.h"

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr int kUsualDays = 14; // offered as the length of a substitution (assumed)

// The places where one may be recorded; one that stands keeps its own.
std::vector<desk::SubstitutionPlace> placesFor(const desk::Agency &agency, const Substitution &seed) {
    std::vector<desk::SubstitutionPlace> places = desk::substitutionPlaces(agency);
    if (seed.id.isSet())
        std::erase_if(places, [&](const desk::SubstitutionPlace &p) {
            return p.catheter != seed.catheter || p.item != seed.item;
        });
    return places;
}

void fillStandIns(QComboBox *box, const desk::SubstitutionPlace &place, const SnapshotIndex &index) {
    const qint64 before = box->currentData().toLongLong();
    box->clear();
    for (const ItemId id : place.standIns)
        box->addItem(desk::standInText(index, place.item, id), qint64(id.value()));
    box->setCurrentIndex(std::max(box->findData(before), 0));
}

} // namespace

bool editSubstitution(QWidget *window, Session &session, Substitution seed) {
    const desk::AgencyPtr agency = session.agency(); // kept: a reload may come while the form is open
    const auto places = placesFor(*agency, seed);
    if (places.empty()) {
        Ask::tell(
            window, QObject::tr("Record a substitution"),
            QObject::tr("No drain order in force lets another size stand in, or no item names one. The order "
                        "is the prescriber's; what may stand in is set with the item.\n%1")
                .arg(desk::notSubstitutable(*agency))
                .trimmed());
        return false;
    }
    const Date today = session.today();
    RecordForm form(seed.id.isSet() ? QObject::tr("Change a substitution")
                                    : QObject::tr("Record a substitution"),
                    window);
    form.addNote(
        QObject::tr("Two small bottles for a large one mean two connections: a nurse or the prescriber "
                    "approves it, the home is taught first, and it has an end."));
    if (const QString left = desk::notSubstitutable(*agency); !left.isEmpty() && !seed.id.isSet())
        form.addNote(left);
    std::vector<Choice> homes;
    for (std::size_t i = 0; i < places.size(); ++i)
        homes.push_back({places[i].text, qint64(i)});
    QComboBox *home = form.addChoice("item_id", QObject::tr("Home and ordered item"), homes,
                                     seed.id.isSet() ? 0 : -1); // a patient is chosen, never offered
    home->setPlaceholderText(QObject::tr("choose the patient"));
    QComboBox *standIn = form.addChoice("stand_in_item_id", QObject::tr("Stands in"), {}, 0);
    const auto refill = [&places, &agency, home, standIn] {
        if (home->currentIndex() < 0)
            return;
        fillStandIns(standIn, places[static_cast<std::size_t>(home->currentData().toLongLong())],
                     agency->index());
    };
    QObject::connect(home, &QComboBox::currentIndexChanged, standIn, refill);
    refill();
    if (seed.id.isSet())
        standIn->setCurrentIndex(std::max(standIn->findData(qint64(seed.standIn.value())), 0));
    const bool isNew = !seed.id.isSet();
    QComboBox *approver = form.addChoice(
        "approver", QObject::tr("Approved by a"),
        choicesOf({Approver::Prescriber, Approver::Nurse}, [](Approver a) { return desk::words(a); }),
        isNew ? -1 : static_cast<qint64>(seed.approver)); // who approved it is said, never offered
    approver->setPlaceholderText(QObject::tr("choose who"));
    form.addText("approved_by", QObject::tr("Name"), seed.approvedBy);
    form.addDate("approved_on", QObject::tr("Approved on"),
                 isNew ? std::nullopt : std::optional(seed.approvedOn), today);
    form.addText("taught_by", QObject::tr("Home taught by"), seed.taughtBy);
    form.addDate("taught_on", QObject::tr("Taught on"), isNew ? std::nullopt : std::optional(seed.taughtOn),
                 today);
    form.addDate("from_on", QObject::tr("From"), isNew ? today : seed.from, today);
    form.addDate("revert_on", QObject::tr("Goes back on"), isNew ? today.plusDays(kUsualDays) : seed.revertOn,
                 today);
    form.addText("note", QObject::tr("Note"), seed.note);
    form.setSaveText(QObject::tr("Record it"));
    form.require({"item_id", "stand_in_item_id", "approver", "approved_by", "approved_on", "taught_by",
                  "taught_on", "from_on", "revert_on"});
    form.onSave(
        [&] {
            Substitution s = seed;
            if (home->currentIndex() < 0) {
                Problem missing;
                missing.code = ProblemCode::Missing;
                missing.field = "item_id";
                form.addReadFault(std::move(missing));
                return s;
            }
            const desk::SubstitutionPlace &place = places[static_cast<std::size_t>(form.choiceOf("item_id"))];
            s.catheter = place.catheter;
            s.item = place.item;
            s.standIn = ItemId(form.choiceOf("stand_in_item_id"));
            s.approver = static_cast<Approver>(form.neededChoiceOf("approver"));
            s.approvedBy = form.textOf("approved_by");
            s.approvedOn = form.neededDateOf("approved_on");
            s.taughtBy = form.textOf("taught_by");
            s.taughtOn = form.neededDateOf("taught_on");
            s.from = form.neededDateOf("from_on");
            s.revertOn = form.neededDateOf("revert_on");
            s.note = form.textOf("note");
            return s;
        },
        [&](const Substitution &s) {
            return session.write(QObject::tr("Recorded a substitution"),
                                 [&](desk::Desk &d) { return d.save(s); });
        });
    return form.exec() == QDialog::Accepted;
}

} // namespace kitround::ui
