#include "core/desk/views/ImportPreview.h"

#include "core/calendar/VisitNotation.h"
#include "core/desk/tasks/TeamWork.h"
#include "core/desk/views/Cells.h"
#include "core/desk/views/IntakeCapacity.h"
#include "core/desk/views/PatientView.h"
#include "core/desk/views/ReceiveScan.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"
#include "core/safety/Limits.h"
#include "core/safety/OrderQuestions.h"
#include "core/store/HeldFiles.h"
#include "core/supply/ItemFit.h"

#include <QFile>
#include <QFileInfo>
#include <QSaveFile>

#include <algorithm>
#include <map>
#include <unordered_map>

namespace kitround::desk {
namespace {

using exchange::CountEntry;
using exchange::ItemEntry;
using exchange::NurseEntry;
using exchange::PatientEntry;

std::string plainName(const Patient &p) {
    return (fromStd(p.familyName).simplified().toCaseFolded() + u'\n' +
            fromStd(p.givenName).simplified().toCaseFolded())
        .toStdString();
}

// Of lots on record and of those further up in the list.
class CountFaults {
public:
    CountFaults(const Agency &agency, Problems &faults) : agency_(agency), faults_(faults) {}

    void look(const CountEntry &entry) {
        const bool hasDay = entry.on != Date(); // else that is told already
        if (const auto open = firstOpenDay(agency_.snapshot().monthCloses);
            open && hasDay && entry.on < *open)
            add(entry, ProblemCode::NotAllowed, "counted_on", {"month_closed", open->toIso()});
        if (entry.lotNumber.empty() || !entry.item.isSet())
            return;
        // What has run out is counted all the same: it is on the books until somebody takes it off.
        for (Problem &of : lotLabelProblems(agency_, entry.item, entry.lotNumber, entry.expiresOn, Date()))
            add(entry, of.code, of.field == "lot_number" ? "lot" : "expires_on", std::move(of.args));
        const Lot *known = lotNumbered(agency_.snapshot(), entry.item, entry.lotNumber);
        if (known && known->state == LotState::Recalled)
            add(entry, ProblemCode::NotAllowed, "lot", {"recalled", known->number});
        else if (known && known->state == LotState::Quarantined)
            add(entry, ProblemCode::NotAllowed, "lot", {"lot_quarantined", known->number});
        if (!known || !known->expiresOn)
            lookAbove(entry);
    }

private:
    void lookAbove(const CountEntry &entry) {
        if (!entry.expiresOn)
            return;
        std::vector<const CountEntry *> &above = withExpiry_[entry.item];
        const auto same = std::ranges::find_if(above, [&](const CountEntry *other) {
            return isSameLotNumber(other->lotNumber, entry.lotNumber);
        });
        if (same == above.end())
            above.push_back(&entry);
        else if ((*same)->expiresOn != entry.expiresOn)
            add(entry, ProblemCode::Conflict, "expires_on",
                {"other_expiry", (*same)->lotNumber, (*same)->expiresOn->toIso()});
    }
    void add(const CountEntry &entry, ProblemCode code, const char *column, std::vector<std::string> args) {
        Problem fault;
        fault.code = code;
        fault.field = column;
        fault.args = std::move(args);
        fault.row = entry.row;
        faults_.push_back(std::move(fault));
    }

    const Agency &agency_;
    Problems &faults_;
    std::map<ItemId, std::vector<const CountEntry *>> withExpiry_; // of lots whose day is not on record
};

// Whoever is named has the skills that the patient's visits ask for, as wherever a patient is saved. The
// records of the row have no ids yet, so they are looked at as an agency of their own.
void checkNurses(const Agency &agency, const PatientEntry &entry, Problems &faults) {
    const std::pair<const char *, std::optional<NurseId>> named[] = {
        {"primary_nurse", entry.patient.primaryNurse}, {"backup_nurse", entry.patient.backupNurse}};
    if (!named[0].second && !named[1].second)
        return;
    Snapshot alone;
    alone.patients = {entry.patient};
    alone.patients.front().id = PatientId(1);
    if (entry.catheter) {
        alone.catheters = {*entry.catheter};
        alone.catheters.front().id = CatheterId(1);
        alone.catheters.front().patient = PatientId(1);
    }
    if (entry.visits) {
        alone.visitOrders = {*entry.visits};
        alone.visitOrders.front().patient = PatientId(1);
    }
    for (const auto &[column, id] : named)
        if (const Nurse *nurse = id ? agency.index().nurse(*id) : nullptr)
            alone.nurses.push_back(*nurse);
    const SnapshotIndex index(alone);
    for (const auto &[column, id] : named) {
        if (!id)
            continue;
        if (const auto ok = checkNamed(index, agency.today(), PatientId(1), *id, column); !ok) {
            Problem fault = ok.error();
            fault.row = entry.row;
            faults.push_back(std::move(fault));
        }
    }
}

QStringList orderCalls(const Agency &agency, const PatientEntry &entry) {
    QStringList calls;
    const DrainOrder &order = *entry.order;
    const Catheter &catheter = *entry.catheter;
    const Millilitres usual = safety::commonMaximum(catheter.site);
    if (order.mostPerSession && *order.mostPerSession > usual)
        calls << Text::tr(
                     "Most in one session: %1 mL is more than the %2 mL that are common for the %3. Read "
                     "the order again, and call the prescriber. It goes in as it is written.")
                     .arg(numberText(order.mostPerSession->count()), numberText(usual.count()),
                          words(catheter.site));
    for (const std::string_view field : safety::unsaidBy(order)) {
        Problem unsaid;
        unsaid.field = std::string(field);
        calls << words(unsaid);
    }
    const auto look = [&](ItemId id) {
        const Item *item = agency.index().item(id);
        if (!item)
            return;
        if (const auto bar = supply::barOf(agency.index(), *item, entry.patient, catheter))
            calls << (bar->kind == supply::BarKind::Allergy
                          ? Text::tr(
                                "%1 contains what the patient is allergic to. Ask before anything is sent.")
                                .arg(fromStd(item->name))
                          : Text::tr(
                                "%1 does not fit this catheter's connector. Ask before anything is sent.")
                                .arg(fromStd(item->name)));
        else if (supply::isFitUnknown(*item, catheter))
            calls << Text::tr("%1 fits connector %2 only, and the catheter's is not given. Look at the "
                              "catheter before anything is sent.")
                         .arg(fromStd(item->name), fromStd(item->connector));
    };
    look(order.kit);
    if (order.extraBottle)
        look(*order.extraBottle);
    return calls;
}

// Rows of one list; what needs the rows before is kept here.
class PreviewRows {
public:
    explicit PreviewRows(const Agency &agency) : agency_(agency) {}

    ImportRow of(const PatientEntry &entry);
    ImportRow of(const NurseEntry &entry) const;
    ImportRow of(const ItemEntry &entry) const;
    ImportRow of(const CountEntry &entry) const;

    void learnNames() {
        for (const Patient &patient : agency_.snapshot().patients)
            onRecord_.emplace(plainName(patient), 0);
    }

private:
    void askWho(const PatientEntry &entry, ImportRow &row);
    void askWhere(const Address &address, ImportRow &row) const;

    const Agency &agency_;
    std::unordered_map<std::string, int> onRecord_, inList_;
};

// The same person under two codes would be visited and supplied twice.
void PreviewRows::askWho(const PatientEntry &entry, ImportRow &row) {
    if (entry.patient.familyName.empty())
        return;
    const std::string name = plainName(entry.patient);
    if (onRecord_.contains(name))
        if (const Patient *other = sameName(agency_, entry.patient))
            row.calls << Text::tr("The same name is on record as %1. Is this another person?")
                             .arg(fromStd(other->code));
    if (const auto [first, isNew] = inList_.emplace(name, entry.row); !isNew)
        row.calls << Text::tr("The same name stands in row %1. Is this another person?").arg(first->second);
}

// A forgotten minus puts a home on the other side of the world, where no round can take it in.
void PreviewRows::askWhere(const Address &address, ImportRow &row) const {
    if (const QString odd = oddPlaceText(address.point, agency_.settings()); !odd.isEmpty())
        row.calls << odd;
}

ImportRow PreviewRows::of(const PatientEntry &entry) {
    ImportRow row;
    row.row = entry.row;
    row.code = fromStd(entry.patient.code);
    row.who = row.code + u' ' + personName(entry.patient);
    QStringList what = {words(entry.patient.status)};
    if (entry.catheter)
        what << catheterText(*entry.catheter);
    if (entry.order) {
        what << words(entry.order->pattern, agency_.today());
        if (const Item *kit = agency_.index().item(entry.order->kit))
            what << fromStd(kit->code);
        if (entry.order->mostPerSession)
            what << Text::tr("at most %1 mL").arg(numberText(entry.order->mostPerSession->count()));
        row.calls += orderCalls(agency_, entry);
    }
    if (entry.visits)
        what << Text::tr("visits %1").arg(fromStd(calendar::printVisitOrder(entry.visits->segments)));
    row.what = what.join(QStringLiteral("; "));
    askWho(entry, row);
    if (entry.patient.status == CareStatus::Referred)
        if (const IntakeClosure *closure = closureOf(agency_, entry.patient.address.area, agency_.today()))
            row.calls << closedText(*closure);
    askWhere(entry.patient.address, row);
    return row;
}

ImportRow PreviewRows::of(const NurseEntry &entry) const {
    ImportRow row;
    row.row = entry.row;
    row.code = fromStd(entry.nurse.code);
    row.who = row.code + u' ' + personName(entry.nurse);
    QStringList what = {words(entry.nurse.credential),
                        Text::tr("%1 h a week")
                            .arg(shortNumber(static_cast<double>(entry.nurse.contractPerWeek.count()) / 60))};
    QStringList skills, days;
    for (const SkillGrant &grant : entry.nurse.skills)
        skills << words(grant.skill);
    what << (skills.isEmpty() ? Text::tr("no skill") : skills.join(QStringLiteral(", ")));
    for (const ShiftPattern &shift : entry.shifts)
        days << words(shift.weekday);
    if (!entry.shifts.empty())
        days << QStringLiteral("%1–%2").arg(timeText(entry.shifts.front().from),
                                            timeText(entry.shifts.front().to));
    what << (days.isEmpty() ? Text::tr("no shifts yet") : days.join(u' '));
    row.what = what.join(QStringLiteral("; "));
    askWhere(entry.nurse.base, row);
    return row;
}

ImportRow PreviewRows::of(const ItemEntry &entry) const {
    const Item &item = entry.item;
    ImportRow row;
    row.row = entry.row;
    row.code = fromStd(item.code);
    row.who = row.code + u' ' + fromStd(item.name);
    QStringList what;
    if (item.bottleVolume)
        what << Text::tr("%1 mL").arg(numberText(item.bottleVolume->count()));
    what << Text::tr("%1 in a case").arg(numberText(item.casePack.eachesPerCase.count()));
    if (entry.fitsAny)
        what << Text::tr("fits any catheter");
    else if (!item.connector.empty())
        what << Text::tr("connector %1").arg(fromStd(item.connector));
    if (entry.offer)
        if (const Supplier *supplier = agency_.index().supplier(entry.offer->supplier))
            what << Text::tr("from %1 at %2 a case")
                        .arg(fromStd(supplier->name),
                             moneyText(entry.offer->perCase, agency_.settings().currency));
    row.what = what.join(QStringLiteral("; "));
    return row;
}

// What is past its last day goes on the books, where it has to be found, and is no stock.
QString pastItsDayCall(const Agency &agency, const CountEntry &entry) {
    const Lot *known = entry.lotNumber.empty() || !entry.item.isSet()
                           ? nullptr
                           : lotNumbered(agency.snapshot(), entry.item, entry.lotNumber);
    const std::optional<Date> last = entry.expiresOn ? entry.expiresOn
                                     : known         ? known->expiresOn
                                                     : std::nullopt;
    if (!last || *last >= agency.today() || entry.quantity.count() <= 0)
        return {};
    const QString day = dayText(*last, agency.today());
    return entry.home
               ? Text::tr("Past its last day, %1: look again, or call the home. It goes on the books and "
                          "is not counted as stock.")
                     .arg(day)
               : Text::tr("Past its last day, %1: look again, and set it aside. It goes on the books "
                          "and is not given out.")
                     .arg(day);
}

ImportRow PreviewRows::of(const CountEntry &entry) const {
    ImportRow row;
    row.row = entry.row;
    if (const Item *item = agency_.index().item(entry.item)) {
        row.code = fromStd(item->code);
        row.who = row.code + u' ' + fromStd(item->name);
    }
    if (const Catheter *catheter = entry.home ? agency_.index().catheter(*entry.home) : nullptr) {
        const Patient *patient = agency_.index().patient(catheter->patient);
        const QString home = Text::tr("at the home of %1");
        const QString gap = row.code.isEmpty() ? QString() : QStringLiteral(", ");
        row.who += gap + home.arg(nameWithCode(agency_.index(), *entry.home));
        if (patient)
            row.code += gap + home.arg(fromStd(patient->code));
    }
    QStringList what = {Text::tr("%1 of it").arg(numberText(entry.quantity.count()))};
    what << (entry.home ? nameWithCode(agency_.index(), *entry.home) : Text::tr("storeroom"));
    if (!entry.lotNumber.empty())
        what << Text::tr("lot %1").arg(fromStd(entry.lotNumber));
    if (entry.expiresOn)
        what << Text::tr("to be used by %1").arg(dayText(*entry.expiresOn, agency_.today()));
    if (const QString past = pastItsDayCall(agency_, entry); !past.isEmpty())
        row.calls << past;
    row.what = what.join(QStringLiteral("; "));
    return row;
}

// In the row it stands in, a fault says its column by both its names.
QString faultInRow(Problem fault) {
    fault.row = 0;
    fault.column = 0;
    return words(fault, [](const std::string &field) {
        return QStringLiteral("%1 (%2)").arg(fieldName(field), fromStd(field));
    });
}

void shareFaults(const Problems &faults, ImportPreview &preview) {
    std::unordered_map<int, std::size_t> at;
    for (std::size_t i = 0; i < preview.rows.size(); ++i)
        at.emplace(preview.rows[i].row, i);
    for (const Problem &fault : faults) {
        const auto row = at.find(fault.row);
        if (row == at.end())
            preview.ofFile << words(fault);
        else
            preview.rows[row->second].faults << faultInRow(fault);
    }
    for (ImportRow &row : preview.rows) {
        if (!row.faults.isEmpty()) { // of what could not be read nobody is to be called about yet
            row.calls.clear();
            row.what.clear(); // nor does it go in
        }
        preview.faulty += row.faults.isEmpty() ? 0 : 1;
        preview.toCall += row.calls.isEmpty() ? 0 : 1;
    }
}

// Which list the heads are of, where they are not of the one that was chosen.
std::optional<ListKind> listMeant(const Agency &agency, const exchange::ReadList &list,
                                  std::string_view bytes) {
    const auto isOfHead = [](const Problem &fault) { return fault.field == "head"; };
    if (std::ranges::none_of(list.faults, isOfHead))
        return std::nullopt;
    for (const ListKind other : exchange::kAllLists)
        if (other != list.kind && std::ranges::none_of(readForImport(agency, other, bytes).faults, isOfHead))
            return other;
    return std::nullopt;
}

} // namespace

exchange::ReadList readForImport(const Agency &agency, ListKind kind, std::string_view bytes) {
    exchange::ReadList list = exchange::readListText(kind, bytes, agency.index());
    CountFaults more(agency, list.faults);
    for (const CountEntry &entry : list.counts)
        more.look(entry);
    for (const PatientEntry &entry : list.patients)
        checkNurses(agency, entry, list.faults);
    std::ranges::stable_sort(list.faults, {}, &Problem::row);
    return list;
}

ImportPreview previewImport(const Agency &agency, ListKind kind, std::string_view bytes) {
    const exchange::ReadList list = readForImport(agency, kind, bytes);
    ImportPreview preview;
    preview.kind = kind;
    PreviewRows rows(agency);
    if (!list.patients.empty())
        rows.learnNames();
    const auto addAll = [&](const auto &entries) {
        for (const auto &entry : entries)
            preview.rows.push_back(rows.of(entry));
    };
    addAll(list.patients);
    addAll(list.nurses);
    addAll(list.items);
    addAll(list.counts);
    shareFaults(list.faults, preview);
    if (const auto meant = listMeant(agency, list, bytes))
        preview.ofFile = {Text::tr("This looks like another list: choose %1.").arg(words(*meant))};
    if (preview.rows.empty() && preview.ofFile.isEmpty())
        preview.ofFile << words(Problem{ProblemCode::NotAllowed, "row", {"list_empty"}});
    return preview;
}

// Never an agency file that is open, not even to look into it: see store/HeldFiles.
Result<std::string> readListFile(const std::string &path) {
    Result<std::string> read = Problem{ProblemCode::FileNotReadable, path};
    store::unlessHeld(path, [&] {
        QFile file(fromStd(path));
        if (!file.exists()) {
            read = Problem{ProblemCode::FileMissing, path};
            return;
        }
        if (!file.open(QIODevice::ReadOnly))
            return;
        const QByteArray bytes = file.readAll();
        if (file.error() == QFileDevice::NoError)
            read = bytes.toStdString();
    });
    return read;
}

Result<void> saveEmptyList(ListKind kind, const std::string &path) {
    Result<void> saved = Problem{ProblemCode::FileExists, path};
    store::unlessHeld(path, [&] {
        QSaveFile file(fromStd(path));
        const QByteArray bytes = QByteArray::fromStdString(exchange::emptyList(kind));
        const bool isDone =
            file.open(QIODevice::WriteOnly) && file.write(bytes) == bytes.size() && file.commit();
        saved = isDone ? Result<void>() : Problem{ProblemCode::FileReadOnly, path};
    });
    return saved;
}

std::string backupBeforeImport(const std::string &agencyPath, Date day) {
    const QFileInfo agency(fromStd(agencyPath));
    const QString stem = QStringLiteral("%1/%2-before-import-%3")
                             .arg(agency.absolutePath(), agency.completeBaseName(), fromStd(day.toIso()));
    QString path = stem + QStringLiteral(".kitround");
    for (int i = 2; QFileInfo::exists(path); ++i)
        path = QStringLiteral("%1-%2.kitround").arg(stem).arg(i);
    return path.toStdString();
}

Table importTable(const ImportPreview &preview) {
    Table table;
    table.title = words(preview.kind).toStdString();
    table.key = "import";
    table.columns = {numberColumn(Text::tr("Row"), "row"), textColumn(Text::tr("Kind"), "kind"),
                     textColumn(Text::tr("Record"), "record"), textColumn(Text::tr("What to do"), "what")};
    for (const QString &fault : preview.ofFile)
        table.rows.push_back({"", cell(Text::tr("fault")), "", cell(fault)});
    for (const ImportRow &row : preview.rows) {
        const std::string record = cell(row.code); // no name: what is printed leaves the desk
        for (const QString &fault : row.faults)
            table.rows.push_back({std::to_string(row.row), cell(Text::tr("fault")), record, cell(fault)});
        for (const QString &call : row.calls)
            table.rows.push_back(
                {std::to_string(row.row), cell(Text::tr("to look at or call about")), record, cell(call)});
    }
    table.notes.push_back(cell(importCountText(preview)));
    return table;
}

} // namespace kitround::desk
