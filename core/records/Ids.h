#pragma once
// One id type a kind of record.
#include "core/base/Id.h"

namespace kitround {

using PatientId = Id<struct PatientTag>;
using CatheterId = Id<struct CatheterTag>;
using PayerId = Id<struct PayerTag>;
using DrainOrderId = Id<struct DrainOrderTag>;
using DrainEntryId = Id<struct DrainEntryTag>;
using HoldId = Id<struct HoldTag>;
using HomeCountId = Id<struct HomeCountTag>;
using RefillContactId = Id<struct RefillContactTag>;
using DeliveryId = Id<struct DeliveryTag>;
using ItemId = Id<struct ItemTag>;
using LotId = Id<struct LotTag>;
using MovementId = Id<struct MovementTag>;
using SupplierId = Id<struct SupplierTag>;
using SupplierItemId = Id<struct SupplierItemTag>;
using PurchaseOrderId = Id<struct PurchaseOrderTag>;
using ReceiptId = Id<struct ReceiptTag>;
using MonthCloseId = Id<struct MonthCloseTag>;
using NurseId = Id<struct NurseTag>;
using ShiftPatternId = Id<struct ShiftPatternTag>;
using ExtraShiftId = Id<struct ExtraShiftTag>;
using TimeOffId = Id<struct TimeOffTag>;
using VisitOrderId = Id<struct VisitOrderTag>;
using VisitId = Id<struct VisitTag>;
using PlanId = Id<struct PlanTag>;
using PlanToldId = Id<struct PlanToldTag>;
using PatientToldId = Id<struct PatientToldTag>;
using CallItemId = Id<struct CallItemTag>;
using PhoneCallId = Id<struct PhoneCallTag>;
using AuthorisationId = Id<struct AuthorisationTag>;
using IncidentId = Id<struct IncidentTag>;
using RecallOutcomeId = Id<struct RecallOutcomeTag>;
using SubstitutionId = Id<struct SubstitutionTag>;
using ShortageActionId = Id<struct ShortageActionTag>;
using HomeReturnId = Id<struct HomeReturnTag>;
using CarParId = Id<struct CarParTag>;
using KeptWhatIfId = Id<struct KeptWhatIfTag>;
using IntakeClosureId = Id<struct IntakeClosureTag>;
using DecisionNoteId = Id<struct DecisionNoteTag>;
using HandOverId = Id<struct HandOverTag>;
using WatchEntryId = Id<struct WatchEntryTag>;
using OrderAnswerId = Id<struct OrderAnswerTag>;
using UserId = Id<struct UserTag>;

} // namespace kitround
