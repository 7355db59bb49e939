#include "core/calendar/Weeks.h"
#include "core/safety/Cautions.h"
#include "core/safety/Limits.h"

#include <algorithm>
#include <cstdlib>

namespace kitround::safety {
namespace {

std::string text(std::int64_t number) {
    return std::to_string(number);
}
std::string text(Millilitres volume) {
    return std::to_string(volume.count());
}

bool isSession(const DrainEntry &entry) {
    return !entry.isVoid && entry.outcome != DrainOutcome::NotDone;
}

// A dry tap is a measured 0; a drain without a volume is unknown, which is not 0.
std::optional<Millilitres> knownVolume(const DrainEntry &entry) {
    if (!entry.volume && entry.outcome == DrainOutcome::Dry)
        return Millilitres::of(0);
    return entry.volume;
}

class EntryCheck {
public:
    EntryCheck(const DrainEntry &entry, const Catheter &catheter, const DrainOrder *order,
               std::span<const DrainEntry> earlier, const AgencySettings &settings)
        : entry_(entry), catheter_(catheter), order_(order), settings_(settings) {
        for (const DrainEntry &e : earlier)
            if (isSession(e) && e.at <= entry.at && !isSameOrReplaced(e))
                sessions_.push_back(&e);
    }

    std::vector<CallItem> run() {
        if (entry_.isVoid)
            return {};
        checkSymptoms();
        if (isSession(entry_)) {
            checkVolume();
            checkTooSoon();
            checkOutput();
        }
        return std::move(items_);
    }

private:
    bool isSameOrReplaced(const DrainEntry &e) const {
        return e.id.isSet() && (e.id == entry_.id || e.id == entry_.corrects);
    }

    void raise(CautionKind kind, CautionUrgency urgency, std::string subject,
               std::vector<std::string> evidence) {
        CallItem item;
        item.patient = catheter_.patient;
        item.catheter = catheter_.id;
        item.kind = kind;
        item.urgency = urgency;
        item.subject = std::move(subject);
        item.raisedAt = entry_.at;
        item.evidence = std::move(evidence);
        items_.push_back(std::move(item));
    }
    std::string ofEntry(std::string_view what) const {
        return "entry:" + text(entry_.id.value()) + ":" + std::string(what);
    }

    void checkSymptoms() {
        raiseSymptoms(CautionKind::SymptomEmergency, CautionUrgency::Emergency, "symptom-emergency");
        raiseSymptoms(CautionKind::SymptomNow, CautionUrgency::Now, "symptom-now");
        raiseSymptoms(CautionKind::SymptomToday, CautionUrgency::Today, "symptom-today");
    }
    void raiseSymptoms(CautionKind kind, CautionUrgency urgency, std::string_view subject) {
        std::vector<std::string> codes;
        for (const Symptom symptom : entry_.symptoms)
            if (urgencyOf(symptom) == urgency)
                codes.emplace_back(codeOf(symptom));
        if (!codes.empty())
            raise(kind, urgency, ofEntry(subject), std::move(codes));
    }

    void checkVolume() {
        if (!entry_.volume)
            return;
        const bool isPrescribed = order_ && order_->mostPerSession;
        const Millilitres most = isPrescribed ? *order_->mostPerSession : commonMaximum(catheter_.site);
        if (*entry_.volume <= most)
            return;
        raise(isPrescribed ? CautionKind::OverPrescribedMaximum : CautionKind::OverCommonMaximum,
              CautionUrgency::Today, ofEntry(isPrescribed ? "over-max" : "over-common"),
              {text(*entry_.volume), text(most)});
    }

    // Sessions in the range up to and with this entry.
    std::int64_t drainsIn(DateRange range) const {
        return 1 + std::ranges::count_if(sessions_,
                                         [&](const DrainEntry *e) { return range.contains(e->at.date); });
    }
    void raiseTooSoon(std::string_view measure, std::int64_t found, std::int64_t ordered) {
        raise(CautionKind::TooSoon, CautionUrgency::Today, ofEntry("too-soon"),
              {std::string(measure), text(found), text(ordered), sessions_.back()->at.date.toIso()});
    }
    void checkTooSoon() {
        if (!order_ || sessions_.empty())
            return;
        const DrainPattern &pattern = order_->pattern;
        const Date on = entry_.at.date;
        const std::int64_t today = drainsIn({on, on.plusDays(1)});
        const std::int64_t thisWeek = drainsIn(calendar::weekOf(on, settings_.weekStart));
        switch (pattern.kind) {
        case DrainPatternKind::EveryNDays: {
            const std::int64_t days = (on - sessions_.back()->at.date).count();
            if (days < pattern.everyDays)
                raiseTooSoon("gap", days, pattern.everyDays);
            break;
        }
        case DrainPatternKind::TimesAWeek:
            if (today > 1)
                raiseTooSoon("day", today, 1);
            else if (pattern.weekdays.isEmpty() && thisWeek > pattern.timesAWeek)
                raiseTooSoon("week", thisWeek, pattern.timesAWeek);
            break;
        case DrainPatternKind::AsNeeded:
            if (pattern.mostPerDay && today > *pattern.mostPerDay)
                raiseTooSoon("day", today, *pattern.mostPerDay);
            else if (pattern.mostPerWeek && thisWeek > *pattern.mostPerWeek)
                raiseTooSoon("week", thisWeek, *pattern.mostPerWeek);
            break;
        }
    }

    bool isLow(Millilitres volume) const {
        return volume < Millilitres::of(settings_[SettingKey::LowOutputMl]);
    }
    // Change in per cent of the larger, compared without rounding.
    bool isSharp(Millilitres a, Millilitres b) const {
        const std::int64_t larger = std::max(a, b).count();
        return std::abs((a - b).count()) * 100 > settings_[SettingKey::SharpChangePercent] * larger;
    }

    void checkOutput() {
        if (!knownVolume(entry_))
            return;
        std::vector<const DrainEntry *> known; // with a volume, oldest first, this entry last
        for (const DrainEntry *e : sessions_)
            if (knownVolume(*e))
                known.push_back(e);
        known.push_back(&entry_);

        std::size_t first = known.size(); // of the low run that ends with this entry
        while (first > 0 && isLow(*knownVolume(*known[first - 1])))
            --first;
        if (first < known.size() && checkLowRun(known, first))
            return;
        if (known.size() > 1)
            checkSharpChange(*known[known.size() - 2]);
    }
    // True where the run is a sudden fall.
    bool checkLowRun(const std::vector<const DrainEntry *> &known, std::size_t first) {
        const DrainEntry &start = *known[first];
        const auto length = static_cast<std::int64_t>(known.size() - first);
        if (first > 0 && isSharp(*knownVolume(*known[first - 1]), *knownVolume(start))) {
            raise(CautionKind::SuddenDrop, CautionUrgency::Today, "sudden-drop:" + text(start.id.value()),
                  {text(*knownVolume(*known[first - 1])), text(*knownVolume(start)), start.at.date.toIso(),
                   text(length)});
            return true;
        }
        if (length >= settings_[SettingKey::LowOutputRun])
            raise(CautionKind::LowOutputRun, CautionUrgency::Soon, "low-run:" + text(start.id.value()),
                  {text(length), text(settings_[SettingKey::LowOutputMl]), lastVolumes(known, first)});
        return false;
    }
    static std::string lastVolumes(const std::vector<const DrainEntry *> &known, std::size_t first) {
        std::string volumes;
        for (std::size_t i = std::max(first, known.size() - std::min<std::size_t>(known.size(), 5));
             i < known.size(); ++i)
            volumes.append(volumes.empty() ? "" : ", ").append(text(*knownVolume(*known[i])));
        return volumes;
    }
    void checkSharpChange(const DrainEntry &before) {
        const Millilitres was = *knownVolume(before), is = *knownVolume(entry_);
        if ((isLow(was) && isLow(is)) || !isSharp(was, is))
            return;
        const std::int64_t larger = std::max(was, is).count();
        raise(CautionKind::SharpChange, CautionUrgency::Soon, ofEntry("sharp-change"),
              {text(was), text(is), text((std::abs((was - is).count()) * 100 + larger / 2) / larger)});
    }

    const DrainEntry &entry_;
    const Catheter &catheter_;
    const DrainOrder *order_;
    const AgencySettings &settings_;
    std::vector<const DrainEntry *> sessions_; // before this one, by time
    std::vector<CallItem> items_;
};

} // namespace

std::vector<CallItem> cautionsOf(const DrainEntry &entry, const Catheter &catheter, const DrainOrder *order,
                                 std::span<const DrainEntry> earlier, const AgencySettings &settings) {
    return EntryCheck(entry, catheter, order, earlier, settings).run();
}

} // namespace kitround::safety
