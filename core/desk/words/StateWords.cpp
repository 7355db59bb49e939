#include "core/desk/words/StateWords.h"

#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <algorithm>

namespace kitround::desk {
namespace {

struct StateWord {
    std::string_view code;
    const char *says; // %1, %2, %3: the further arguments
};
constexpr StateWord kWords[] = {
    {"accepted_already",
     QT_TRANSLATE_NOOP("kitround", "none of these lines waits any more. Reload to see who took them.")},
    {"action_open",
     QT_TRANSLATE_NOOP("kitround", "%1 has an open action for it already. Change or close that one.")},
    {"after_an_order_only",
     QT_TRANSLATE_NOOP("kitround",
                       "an order comes after another order, not after a single visit. Choose one.")},
    {"after_chain",
     QT_TRANSLATE_NOOP("kitround",
                       "of visits minutes apart only two can follow one another, and one of these "
                       "stands in another pair. Use days, or undo the other one first.")},
    {"after_circle",
     QT_TRANSLATE_NOOP("kitround", "that one comes after this one already. One of the two has to be first.")},
    {"after_itself", QT_TRANSLATE_NOOP("kitround", "it can't come after itself. Choose another one.")},
    {"after_other_patient",
     QT_TRANSLATE_NOOP("kitround", "that one is of another patient. Choose one of this patient's.")},
    {"after_over", QT_TRANSLATE_NOOP("kitround", "that visit was missed or called off. Choose another one.")},
    {"after_phone",
     QT_TRANSLATE_NOOP("kitround",
                       "phone calls are not on the road, so nothing can come after them in a plan. "
                       "Choose another order.")},
    {"after_two_nurses",
     QT_TRANSLATE_NOOP("kitround", "one of the two is for two nurses at once, and then the minutes between "
                                   "them can't be kept in the plan. Use days.")},
    {"allergy",
     QT_TRANSLATE_NOOP("kitround", "the patient is allergic to %1, which %2 contains. Choose another item.")},
    {"already", QT_TRANSLATE_NOOP("kitround", "it is in that state already. Nothing needs to be done.")},
    {"area_closed",
     QT_TRANSLATE_NOOP("kitround", "that area is closed already from %1 on. Change that closing instead.")},
    {"arrived_before_left",
     QT_TRANSLATE_NOOP("kitround", "the parcel left on %1; it cannot arrive before. Enter when it arrived.")},
    {"arrived_not_packed",
     QT_TRANSLATE_NOOP("kitround",
                       "of %1, %2 were packed, and good, damaged and missing come to %3. Make them add up.")},
    {"arrived_short",
     QT_TRANSLATE_NOOP("kitround",
                       "the parcel arrived short, and what is short is booked under these lots. Enter under "
                       "How it arrived that all came whole, put the lots right, then enter what was short.")},
    {"as_needed_used",
     QT_TRANSLATE_NOOP("kitround",
                       "all %1 as-needed visits of the order are used. Ask the prescriber for a new "
                       "order, or choose another kind of visit.")},
    {"approver_is_user",
     QT_TRANSLATE_NOOP("kitround", "%1 makes the order and can't approve it. Name another person.")},
    {"before_its_order",
     QT_TRANSLATE_NOOP("kitround", "order %1 was sent on %2 only. Enter the day it came, or choose the order "
                                   "it came on.")},
    {"break_hours", QT_TRANSLATE_NOOP("kitround", "a break needs the hours it may lie in. Enter both.")},
    {"cancelled", QT_TRANSLATE_NOOP("kitround", "it has been cancelled. Enter a new one.")},
    {"catheter_has_record",
     QT_TRANSLATE_NOOP("kitround", "the catheter has a log or orders already and stays with its patient. "
                                   "Enter a new catheter for another one.")},
    {"catheter_of_other_patient",
     QT_TRANSLATE_NOOP("kitround", "the catheter belongs to another patient. Choose one of this patient's.")},
    {"catheter_removed",
     QT_TRANSLATE_NOOP("kitround", "the catheter has been removed. Choose one that is in place.")},
    {"check_digit",
     QT_TRANSLATE_NOOP("kitround", "the last digit should be %1. Compare the number with the label.")},
    {"close_in_order",
     QT_TRANSLATE_NOOP("kitround", "months are closed one after the other. Close the month from %1 first.")},
    {"closed", QT_TRANSLATE_NOOP("kitround", "it is closed already. Reload to see how.")},
    {"committed", QT_TRANSLATE_NOOP("kitround", "the step was saved already. Reload to see it.")},
    {"connector",
     QT_TRANSLATE_NOOP("kitround",
                       "the item fits line %1 and the catheter has line %2. Choose an item that fits.")},
    {"contact_of_other_patient",
     QT_TRANSLATE_NOOP("kitround", "the call was with another patient. Choose the call with this home.")},
    {"contact_used",
     QT_TRANSLATE_NOOP("kitround",
                       "the yes of that call was used for another delivery. Call the home again.")},
    {"count_again", QT_TRANSLATE_NOOP("kitround", "a count is not changed afterwards. Enter a new count.")},
    {"day_against_rules",
     QT_TRANSLATE_NOOP("kitround",
                       "that day is against the rules for a delivery. Choose another day, or give the "
                       "reason for it.")},
    {"day_to_come",
     QT_TRANSLATE_NOOP("kitround", "%1 has not come yet, it is %2. Enter when it was done; what is still "
                                   "to be done is left empty until then.")},
    {"draft", QT_TRANSLATE_NOOP("kitround", "it is still a draft. Send it first.")},
    {"more_than_offered",
     QT_TRANSLATE_NOOP("kitround",
                       "it is more than was offered and needs a reason. Give the reason, or enter "
                       "%1 or less.")},
    {"earlier_stays",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 expires earlier, on %2, and %3 of it stay in the storeroom. Take it "
                       "next, or set it aside if it is not good.")},
    {"how_many", QT_TRANSLATE_NOOP("kitround", "nothing is entered. Enter how many of %1.")},
    {"hold",
     QT_TRANSLATE_NOOP("kitround", "there is a hold from %1 already. End that one, or change its dates.")},
    {"hold_has_begun",
     QT_TRANSLATE_NOOP("kitround", "the hold began on %1. End it with the day of return instead.")},
    {"home_stock_stays",
     QT_TRANSLATE_NOOP("kitround",
                       "what stands in a home is the patient's and stays there. Ask the home, and "
                       "send less next time.")},
    {"exit_not_on_record",
     QT_TRANSLATE_NOOP("kitround",
                       "the record of changes does not know this exit, so what it ended is not known. Set "
                       "the status under Edit, and enter the orders anew.")},
    {"found_expired",
     QT_TRANSLATE_NOOP("kitround",
                       "the last day of use of lot %1 was %2. It is not counted on to the shelf: set it "
                       "aside with its label, and destroy it.")},
    {"found_quarantined",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 stands in quarantine, and what was found of it went there too. Release the "
                       "lot when it is clear.")},
    {"found_recalled",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 is recalled, and what was found of it went to quarantine. Keep it apart with "
                       "its label, and tell the supplier.")},
    {"label_of_other_article",
     QT_TRANSLATE_NOOP("kitround",
                       "%1 is not the article number of %2. Count the box with its own item; where it is "
                       "right, correct the number under Items and suppliers.")},
    {"label_of_other_item",
     QT_TRANSLATE_NOOP("kitround",
                       "the label is that of %1, and %2 is counted here. Put the box with its own item and "
                       "count it there.")},
    {"label_without_lot",
     QT_TRANSLATE_NOOP("kitround",
                       "the label names no lot. Scan the one with (10) on it, or type the number.")},
    {"later_order", QT_TRANSLATE_NOOP("kitround", "an order that starts on %1 comes after it. Give this one "
                                                  "an end before that day, or change the later one.")},
    {"label_other_expiry",
     QT_TRANSLATE_NOOP("kitround",
                       "of lot %1 the label says %2 and the record says %3. Put the box aside and "
                       "ask which is right; scan what goes in its place, or empty the field.")},
    {"its_order_says",
     QT_TRANSLATE_NOOP("kitround",
                       "what an ordered visit comes after stands with its order. Change it there.")},
    {"leave_decided",
     QT_TRANSLATE_NOOP("kitround", "the leave was decided for its days. Enter another request, and take this "
                                   "one away.")},
    {"left_service",
     QT_TRANSLATE_NOOP("kitround", "the patient has left the service. Check the patient's state first.")},
    {"list_column_missing",
     QT_TRANSLATE_NOOP("kitround", "the column %1 is missing. Add it with something in every row; the empty "
                                   "list has all the names.")},
    {"list_column_twice",
     QT_TRANSLATE_NOOP("kitround", "the column %1 stands there twice. Take one of the two out.")},
    {"list_column_unknown",
     QT_TRANSLATE_NOOP("kitround", "“%1” is no column of this list. Take it out, or name it as the empty "
                                   "list does.")},
    {"list_empty", QT_TRANSLATE_NOOP("kitround", "there is no row under the names of the columns. Fill in "
                                                 "one row a record first.")},
    {"list_not_a_moment", QT_TRANSLATE_NOOP("kitround", "“%1” is not a day with a time. Write it like "
                                                        "2026-12-07T09:30.")},
    {"list_ragged",
     QT_TRANSLATE_NOOP("kitround", "the row has %1 cells and the row of names %2. Put quotes round a text "
                                   "with a comma or semicolon in it, or take out what is too much.")},
    {"list_stock_known",
     QT_TRANSLATE_NOOP("kitround", "stock of %1 is on record there already. Take the row out, and count it "
                                   "under Stock forecast.")},
    {"list_twice",
     QT_TRANSLATE_NOOP("kitround", "“%1” stands in row %2 as well. Correct one of the two, or take it out.")},
    {"list_which_catheter",
     QT_TRANSLATE_NOOP("kitround", "%1 has more than one catheter in place. Say which: chest or abdomen; of "
                                   "two on one site, count it under Stock forecast.")},
    {"looks_like_cases",
     QT_TRANSLATE_NOOP("kitround",
                       "the number differs from the ledger just by the %1 of a case. Look whether "
                       "cases or eaches were counted, count again, and tick that it was done.")},
    {"log_gone",
     QT_TRANSLATE_NOOP("kitround",
                       "another program has taken away what this file had saved last, so this change was not "
                       "saved, and nothing more can be saved here. All that was saved before is in the copy "
                       "%1. Open that one (File > Open), enter this change again, and work on in it.")},
    {"log_gone_kept",
     QT_TRANSLATE_NOOP("kitround",
                       "another program has taken away what this file had saved last, so nothing more can be "
                       "saved here. All of it, and this change, is in the copy %1. Open that one "
                       "(File > Open), and work on in it.")},
    {"log_gone_no_copy",
     QT_TRANSLATE_NOOP("kitround",
                       "another program has taken away what this file had saved last, and no copy could be "
                       "made beside it. This change is not safe: write it down, make room on the disk, and "
                       "save it once more, so that the copy is tried again.")},
    {"lot_counted_twice",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 is counted on another line here. Enter all of it there, and empty this one.")},
    {"lot_expired",
     QT_TRANSLATE_NOOP("kitround", "the last day of use of lot %1 is %2. Set it aside and take another lot; "
                                   "where it has left already, ring the home today.")},
    {"lot_in_use",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 is usable. Take stock out of a car under Cars, or set the lot out of "
                       "use first.")},
    {"lot_not_in_car",
     QT_TRANSLATE_NOOP("kitround",
                       "by the record nothing of lot %1 is loose in that car. What is packed there "
                       "for a home comes back when its delivery is cancelled.")},
    {"lot_has_record",
     QT_TRANSLATE_NOOP("kitround",
                       "stock of this lot has moved already, so its item stays. Enter a new lot.")},
    {"lot_left_home",
     QT_TRANSLATE_NOOP("kitround",
                       "%2 of lot %1 have left that home by the record: opened in a drain, or taken "
                       "back. Correct those drains to the lot that was there, then enter this "
                       "again.")},
    {"lot_never_there",
     QT_TRANSLATE_NOOP("kitround",
                       "by the record the lot was never at this home. Choose a home from its list, or "
                       "give the reason.")},
    {"lot_of_other_item",
     QT_TRANSLATE_NOOP("kitround", "the lot belongs to another item. Choose a lot of this item.")},
    {"lot_quarantined",
     QT_TRANSLATE_NOOP("kitround", "lot %1 stands in quarantine. Take another lot, or release it when it is "
                                   "clear; where it has left already, ring the home today.")},
    {"lot_recalled",
     QT_TRANSLATE_NOOP("kitround", "lot %1 is recalled. Set it aside and take another lot; where it has left "
                                   "already, ring the home today.")},
    {"lot_too_few",
     QT_TRANSLATE_NOOP("kitround",
                       "of lot %1, %3 more are entered and by the ledger %2 are left here. Compare "
                       "the label; if they were there, count the item first (Storeroom, Count), "
                       "then enter this again.")},
    {"asks_nobody",
     QT_TRANSLATE_NOOP("kitround", "who is ill or at a course asks nobody. Enter it as it is, not "
                                   "as a request.")},
    {"last_manager",
     QT_TRANSLATE_NOOP("kitround", "%1 is the last nurse manager, who decides leave. Make another user nurse "
                                   "manager first.")},
    {"manager_only",
     QT_TRANSLATE_NOOP(
         "kitround",
         "leave is decided by a nurse manager, and %1 works here as %2. Enter it as a request; the "
         "manager finds it under Today and under Load review, Leave.")},
    {"more_aside_than_sent",
     QT_TRANSLATE_NOOP("kitround", "%1 are set aside, and by the record %2 ever went there. Ask them to read "
                                   "the label and count again, or give the reason.")},
    {"more_with_set_aside",
     QT_TRANSLATE_NOOP("kitround",
                       "with the %2 set aside, the %1 counted come to more than the %3 on record there. Ask "
                       "whether those set aside were counted as well and leave them out, or give the "
                       "reason.")},
    {"moved_meanwhile",
     QT_TRANSLATE_NOOP("kitround",
                       "the record of this lot went from %1 to %2 while it was counted: something "
                       "was picked or came in. Count it again, then tick that it was.")},
    {"month_closed",
     QT_TRANSLATE_NOOP("kitround", "the books of that month are closed. Enter it with a day from %1 on, or "
                                   "have the month opened again (Reorders, Month end).")},
    {"month_running", QT_TRANSLATE_NOOP("kitround", "the month is not over. It can be closed from %1 on.")},
    {"needs_new_version",
     QT_TRANSLATE_NOOP("kitround",
                       "an order in force is not changed. Enter a new order from the day it changes.")},
    {"no_stand_in",
     QT_TRANSLATE_NOOP("kitround", "%2 is not on record as standing in for %1. Enter it with the item %1, or "
                                   "choose another.")},
    {"no_substitution",
     QT_TRANSLATE_NOOP("kitround",
                       "%1 would stand in for %2 and there is no record of it in force. Record who approved "
                       "it, that the home was taught, and the day it goes back.")},
    {"not_a_distance",
     QT_TRANSLATE_NOOP("kitround",
                       "“%1” is not a distance. Enter a number, with its unit if it is another one: "
                       "7.7 mi or 12.4 km.")},
    {"not_asked",
     QT_TRANSLATE_NOOP("kitround", "nothing stands against that order now. Reload to see its state.")},
    {"not_yet",
     QT_TRANSLATE_NOOP("kitround", "%1 has not happened yet: it is %2 now. Enter when it really was.")},
    {"not_to_phone",
     QT_TRANSLATE_NOOP("kitround",
                       "this home does not wait for a call: somebody told it meanwhile, or its visits "
                       "stand again as it knows them. Look at the list again.")},
    {"visits_moved_on",
     QT_TRANSLATE_NOOP("kitround",
                       "the plan changed again while this was open. Look at the list for where they stand "
                       "now, and say that to the home.")},
    {"not_read_back",
     QT_TRANSLATE_NOOP("kitround", "an answer counts once it was read back and agreed to. Read it back, then "
                                   "tick it.")},
    {"not_snoozed",
     QT_TRANSLATE_NOOP(
         "kitround",
         "%1 is on the list, and that is not put off. Call first, and write down what was done.")},
    {"not_by_courier",
     QT_TRANSLATE_NOOP("kitround", "a nurse carries it. Only a courier's parcel has a number.")},
    {"not_ordered",
     QT_TRANSLATE_NOOP(
         "kitround", "%1 is not on the drain order of that day. Choose what is ordered, or the right day.")},
    {"not_shipped",
     QT_TRANSLATE_NOOP("kitround", "it has not been shipped yet. Ship it first, then enter the number.")},
    {"no_as_needed_order",
     QT_TRANSLATE_NOOP("kitround",
                       "no visit order in force allows as-needed visits. Enter the order first, or "
                       "choose another kind of visit.")},
    {"no_courier", QT_TRANSLATE_NOOP("kitround", "the home takes no courier. Send it with a visit.")},
    {"no_duty",
     QT_TRANSLATE_NOOP("kitround",
                       "the nurse does not work on that day. Choose a day on which the nurse does.")},
    {"not_closed", QT_TRANSLATE_NOOP("kitround", "that month is open. Nothing needs to be done.")},
    {"not_confirmed",
     QT_TRANSLATE_NOOP("kitround", "the home has not said yes. Call, and enter the answer first.")},
    {"not_from_there",
     QT_TRANSLATE_NOOP("kitround",
                       "stock can't be taken from there in this way. Choose the storeroom, quarantine or a "
                       "car.")},
    {"not_delivered",
     QT_TRANSLATE_NOOP("kitround", "it has not been delivered. Record the hand-over first.")},
    {"not_in_car", QT_TRANSLATE_NOOP("kitround", "the parcel lies in no nurse's car. Choose where it is.")},
    {"not_in_delivery",
     QT_TRANSLATE_NOOP("kitround", "%1 is not in this delivery. Put it back, and scan what belongs to it.")},
    {"not_on_order",
     QT_TRANSLATE_NOOP("kitround", "%1 is not on order %2. Check the packing slip and the order number.")},
    {"not_picked",
     QT_TRANSLATE_NOOP("kitround",
                       "it is not picked yet. Pick it first, then enter the lot that was taken.")},
    {"not_the_line",
     QT_TRANSLATE_NOOP("kitround",
                       "of %1, %2 are in the delivery and the lots come to %3. Make them add up; to "
                       "send another number, cancel the delivery and promise it anew.")},
    {"not_tied",
     QT_TRANSLATE_NOOP("kitround", "for %1 the movements lead to %2 and the ledger says %3. Run the check of "
                                   "the file before closing.")},
    {"nurse_inactive",
     QT_TRANSLATE_NOOP("kitround", "nurse %1 does not work here any more. Choose another nurse.")},
    {"older", QT_TRANSLATE_NOOP("kitround", "the file is of the older version %1 and has to be brought to "
                                            "version %2 first. Open it once for writing.")},
    {"on_hold",
     QT_TRANSLATE_NOOP("kitround",
                       "the patient is on hold (%1). End the hold first, or choose a day after the return.")},
    {"order_forbids_substitute",
     QT_TRANSLATE_NOOP("kitround",
                       "the drain order lets nothing stand in for %1. Ask the prescriber for a new "
                       "order first.")},
    {"order_of_other_supplier",
     QT_TRANSLATE_NOOP("kitround", "order %1 is with another supplier. Choose the right order or supplier.")},
    {"other_expiry",
     QT_TRANSLATE_NOOP("kitround", "lot %1 is known with the last day of use %2. Compare the label.")},
    {"own_hand_over",
     QT_TRANSLATE_NOOP(
         "kitround",
         "who hands over can't accept it as well. Choose under Settings, Agency and users, who works "
         "here now.")},
    {"over_budget",
     QT_TRANSLATE_NOOP(
         "kitround",
         "this goes beyond the month's budget for supplies. Name who approved it, or order less.")},
    {"over_receipt", QT_TRANSLATE_NOOP("kitround", "of %1, %3 eaches came and %2 were open on the order. "
                                                   "Count again, compare eaches and cases with the "
                                                   "packing slip, and tell the supplier.")},
    {"quarantined",
     QT_TRANSLATE_NOOP(
         "kitround",
         "lot %1 stands in quarantine, and what came went there too. Release the lot when it is clear.")},
    {"recalled",
     QT_TRANSLATE_NOOP(
         "kitround",
         "lot %1 is recalled. Do not take it in; set it aside with the label and tell the supplier.")},
    {"recalled_not_asked",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 is recalled and may stand in this home. Ask how many of it are set "
                       "aside, and enter that first; 0 where none is there, or that they would not look.")},
    {"receipt_as_cases",
     QT_TRANSLATE_NOOP("kitround", "of %1, %2 eaches are entered, and just %2 cases of %3 are open on the "
                                   "order. Where cases came, choose cases as the unit.")},
    {"receipt_broken_case",
     QT_TRANSLATE_NOOP("kitround",
                       "of %1, %2 eaches are entered, which are no whole cases of %3. Look whether "
                       "cases or eaches were counted, and count again.")},
    {"receipt_moved",
     QT_TRANSLATE_NOOP(
         "kitround", "of %1, lot %2, %3 eaches that came are not where they were put: picked, used or moved "
                     "since. Put them back first, or correct the storeroom by a count.")},
    {"reopen_last_first",
     QT_TRANSLATE_NOOP("kitround", "the month from %1 is closed after it. Open that one first.")},
    {"same_file",
     QT_TRANSLATE_NOOP("kitround", "that is the open file itself. Choose another name for the copy.")},
    {"scan_bad_char",
     QT_TRANSLATE_NOOP("kitround", "character %1 can't stand in the part (%2) of a label. Scan it again, or "
                                   "type the line.")},
    {"scan_bad_date",
     QT_TRANSLATE_NOOP("kitround", "from character %1, the part (%2) says %3, which is no day. Compare the "
                                   "label, and type the line.")},
    {"scan_bracket", QT_TRANSLATE_NOOP("kitround", "at character %1 a bracket is missing. Write it like "
                                                   "(01)…(17)…(10)…, or scan it again.")},
    {"scan_check_digit",
     QT_TRANSLATE_NOOP("kitround",
                       "character %1 is the check digit of the part (%2) and should be %3. Scan it "
                       "again, or compare the number.")},
    {"scan_not_digit", QT_TRANSLATE_NOOP("kitround", "character %1 is no digit, and the part (%2) takes "
                                                     "digits only. Scan it again.")},
    {"scan_not_gs1",
     QT_TRANSLATE_NOOP("kitround", "the symbol is not of the GS1 kind (%2). Scan the one that begins with "
                                   "(01), or type the line.")},
    {"scan_too_long",
     QT_TRANSLATE_NOOP("kitround", "from character %1, the part (%2) is longer than %3. A separator may be "
                                   "missing: scan it again, or type the line.")},
    {"scan_too_short", QT_TRANSLATE_NOOP("kitround", "the label ends before character %1, and the part (%2) "
                                                     "takes %3. Scan it again.")},
    {"payer_window",
     QT_TRANSLATE_NOOP("kitround",
                       "delivered at most %1 days before the supply ends does not go together with need "
                       "confirmed at most %2 days before. Enter %2 or fewer here, or more days there.")},
    {"scan_twice", QT_TRANSLATE_NOOP("kitround", "the part (%2) stands there twice and says two things, the "
                                                 "second from character %1. Scan one label at a time.")},
    {"scan_unknown_ai",
     QT_TRANSLATE_NOOP("kitround",
                       "at character %1, “%2” is no part of a label known here. Scan it again, or "
                       "type the line.")},
    {"second_is_user", QT_TRANSLATE_NOOP("kitround", "%1 is counting already. Enter the other person who "
                                                     "counted as well.")},
    {"short_dated",
     QT_TRANSLATE_NOOP("kitround",
                       "lot %1 is short-dated, to %2. Ask the home to use it before the others.")},
    {"skill_expired",
     QT_TRANSLATE_NOOP("kitround", "the skill %1 of nurse %3 ran out on %2. Renew it in the nurse's record, "
                                   "or choose another nurse.")},
    {"skill_lacking",
     QT_TRANSLATE_NOOP("kitround", "nurse %2 has not the skill %1, which the patient's visits need. Choose "
                                   "another nurse.")},
    {"staff",
     QT_TRANSLATE_NOOP("kitround", "staff may not sign for the patient. Enter who in the home took it.")},
    {"stored_already", QT_TRANSLATE_NOOP("kitround", "it is stored already. Change the stored one.")},
    {"stored", QT_TRANSLATE_NOOP("kitround", "it is stored already. Change the stored one.")},
    {"substitution_open",
     QT_TRANSLATE_NOOP("kitround",
                       "a substitution from %1 covers these days already. Change that one, or revert it "
                       "first.")},
    {"too_fine",
     QT_TRANSLATE_NOOP("kitround",
                       "“%1” has more than two decimals, which are not kept. Enter what the car shows, "
                       "for example 7.7 mi.")},
    {"too_few",
     QT_TRANSLATE_NOOP("kitround", "%1: %2 are needed and %3 can be given out. Send fewer, or wait "
                                   "for the next receipt.")},
    {"use_correction",
     QT_TRANSLATE_NOOP("kitround", "a logged drain is not overwritten. Correct it: the old entry is kept.")},
    {"user_is_you",
     QT_TRANSLATE_NOOP("kitround",
                       "%1 works at this desk right now. Choose another user here first, who then "
                       "marks %1 as gone.")},
    {"use_decision",
     QT_TRANSLATE_NOOP("kitround", "leave is approved or declined by the step for it. Open the load review, "
                                   "Leave.")},
    {"use_exit", QT_TRANSLATE_NOOP(
                     "kitround", "leaving the service stops visits and supplies too. Use the step for it.")},
    {"use_lot_state",
     QT_TRANSLATE_NOOP("kitround", "the state of a lot moves its stock too. Use the step for it.")},
    {"use_removal",
     QT_TRANSLATE_NOOP("kitround", "taking out a catheter ends its order too. Use the step for it.")},
    {"visit_of_other_patient",
     QT_TRANSLATE_NOOP("kitround", "the visit is to another patient. Choose one to this home.")},
    {"visit_order_in_force",
     QT_TRANSLATE_NOOP("kitround", "an order of that kind from %1 still owes visits in these weeks, so they "
                                   "would be owed twice. Give the other one an end first.")},
    {"void", QT_TRANSLATE_NOOP("kitround", "the entry was struck out. Enter a new one.")},
};

QString further(const Problem &p, std::size_t k) {
    if (k >= p.args.size() || p.args[k].empty())
        return Text::tr("not given");
    return spoken(fromStd(p.args[k]));
}

} // namespace

QString stateSentence(const Problem &p) {
    if (p.args.empty())
        return {};
    const auto *const found = std::ranges::find(kWords, std::string_view(p.args[0]), &StateWord::code);
    if (found == std::end(kWords))
        return {};
    QString text = Text::tr(found->says);
    for (std::size_t k = 1; k <= 3; ++k)
        text.replace(QStringLiteral("%%1").arg(k), further(p, k));
    return text;
}

std::vector<std::string_view> stateWords() {
    std::vector<std::string_view> codes;
    for (const StateWord &word : kWords)
        codes.push_back(word.code);
    return codes;
}

} // namespace kitround::desk
