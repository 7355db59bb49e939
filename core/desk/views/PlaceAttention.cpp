// Places that are on the map where they can hardly be meant: a wrong sign makes a week that cannot be
// planned.
#include "core/desk/views/AttentionParts.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

namespace kitround::desk::parts {

void addOddPlaces(Items &items, const Agency &agency) {
    const Snapshot &s = agency.snapshot();
    const auto add = [&](MissingFact fact, std::optional<PatientId> patient, std::optional<NurseId> nurse,
                         const QString &title, const QString &odd) {
        if (odd.isEmpty())
            return;
        AttentionItem item;
        item.kind = AttentionKind::UnknownFact;
        item.fact = fact;
        item.harm = Harm::Soon;
        item.patient = patient;
        item.nurse = nurse;
        item.title = title;
        item.detail = odd;
        items.push_back(std::move(item));
    };
    if (!s.patients.empty()) // before, it is a first step
        add(MissingFact::None, std::nullopt, std::nullopt,
            Text::tr("Is the storeroom's place on the map right?"), oddStoreroomText(s.settings));
    for (const Patient &patient : s.patients)
        if (isOnService(patient.status))
            add(MissingFact::LikelyPlace, patient.id, std::nullopt,
                Text::tr("Is the home of %1 right on the map?").arg(shortName(agency, patient.id)),
                oddPlaceText(patient.address.point, s.settings));
    for (const Nurse &nurse : s.nurses)
        if (nurse.isActive)
            add(MissingFact::LikelyPlace, std::nullopt, nurse.id,
                Text::tr("Is the address of %1 right on the map?").arg(personName(nurse)),
                oddPlaceText(nurse.base.point, s.settings));
}

} // namespace kitround::desk::parts
