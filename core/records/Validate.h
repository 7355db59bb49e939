#pragma once
// What a record may not say, whoever made it: a form, an import, a test. Each check names the field as the
// schema does; inside a list, `row` is the 1-based place in the list. All problems are given, not the first.
// Facts that need other records (a code already taken, an unknown item) are the store's to find; limits of
// medicine are in core/safety and never refuse an entry that happened.
#include "core/base/Problem.h"
#include "core/records/Drains.h"
#include "core/records/MonthClose.h"
#include "core/records/Nurses.h"
#include "core/records/People.h"
#include "core/records/Purchasing.h"
#include "core/records/Safety.h"
#include "core/records/Settings.h"
#include "core/records/Stock.h"
#include "core/records/SupplyRecords.h"
#include "core/records/Team.h"
#include "core/records/Users.h"
#include "core/records/Visits.h"

#include <cstddef>

namespace kitround {

// A logged volume above this is a typing error, not a drain: no bottle set holds it.
inline constexpr Millilitres kLargestBelievableVolume = Millilitres::of(6000);

// Longest texts, in characters: a code, one line, free notes.
inline constexpr std::size_t kLongestCode = 40;
inline constexpr std::size_t kLongestLine = 200;
inline constexpr std::size_t kLongestNotes = 4000;

// A visit order's segments; the notation's parser holds to the same.
inline constexpr std::size_t kMostSegments = 20;
inline constexpr int kMostVisitsAWeek = 14;
inline constexpr int kMostSegmentWeeks = 26;
inline constexpr int kMostAsNeededVisits = 20;

Problems validate(const AgencySettings &settings);
Problems validate(const Patient &patient);
Problems validate(const Catheter &catheter);
Problems validate(const Payer &payer);
Problems validate(const Authorisation &authorisation);
Problems validate(const Hold &hold);
Problems validate(const DrainOrder &order);
Problems validate(const DrainEntry &entry);
Problems validate(const Item &item);
Problems validate(const Lot &lot);
Problems validate(const StockMovement &movement);
Problems validate(const HomeCount &count);
Problems validate(const RefillContact &contact);
Problems validate(const Delivery &delivery);
Problems validate(const RecallOutcome &outcome);
Problems validate(const Substitution &substitution);
Problems validate(const ShortageAction &action);
Problems validate(const HomeReturn &homeReturn);
Problems validate(const CarPar &par);
Problems validate(const Supplier &supplier);
Problems validate(const SupplierItem &offer);
Problems validate(const PurchaseOrder &order);
Problems validate(const Receipt &receipt);
Problems validate(const MonthClose &close);
Problems validate(const Nurse &nurse);
Problems validate(const ShiftPattern &pattern);
Problems validate(const ExtraShift &shift);
Problems validate(const TimeOff &off);
Problems validate(const KeptWhatIf &kept);
Problems validate(const IntakeClosure &closure);
Problems validate(const DecisionNote &note);
Problems validate(const HandOver &handOver);
Problems validate(const WatchEntry &entry);
Problems validate(const OrderAnswer &answer);
Problems validate(const VisitOrder &order);
Problems validate(const Visit &visit);
Problems validate(const Plan &plan);
Problems validate(const PlanTold &told);
Problems validate(const PatientTold &told);
Problems validate(const CallItem &item);
Problems validate(const PhoneCall &call);
Problems validate(const Incident &incident);
Problems validate(const User &user);

} // namespace kitround
