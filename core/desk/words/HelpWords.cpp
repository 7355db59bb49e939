#include "core/desk/words/HelpWords.h"

#include "core/desk/words/Text.h"

#include <initializer_list>

namespace kitround::desk {
namespace {

HelpStep helpStep(const QString &text, const char *keys = "") {
    return {text, QLatin1String(keys)};
}

HelpTopic coordinatorWeek() {
    return {
        {},
        Text::tr("Coordinator: the week's visits"),
        {helpStep(Text::tr("Every morning look at \"Today\" from above: calls first, then what is due."),
                  "Ctrl+1"),
         helpStep(Text::tr("Take over what the last shift handed on, and hand on what you leave open."),
                  "Ctrl+H"),
         helpStep(Text::tr("Towards the end of the week open \"Caseload calendar\" at next week."), "Ctrl+2"),
         helpStep(Text::tr("Plan the week. Stop when it is good enough; the best plan so far is kept."),
                  "Ctrl+R"),
         helpStep(
             Text::tr("Look at what was not placed and why; move a visit with the mouse or by its keys, and "
                      "undo what did not help."),
             "Ctrl+Z"),
         helpStep(
             Text::tr("Save the draft as often as you like; publish when it stands. Then tell nurses and "
                      "homes: \"Today\" lists who has not heard yet."),
             "Ctrl+S"),
         helpStep(Text::tr("When a nurse calls out, mend the plan instead of planning anew."), "Ctrl+U")}};
}

HelpTopic clerkWeek() {
    return {
        {},
        Text::tr("Supply clerk: homes, storeroom and orders"),
        {helpStep(
             Text::tr("Under \"Stock forecast\" look at \"Homes\" by risk of running dry; where nobody knows "
                      "what is in the home, record a count."),
             "Ctrl+3"),
         helpStep(Text::tr(
             "Make the calls that are due under \"Refill calls\" and record what was said. Nothing is sent "
             "without a yes.")),
         helpStep(
             Text::tr("Under \"Deliveries\" print the pick list, pack, and mark what has left and what has "
                      "arrived.")),
         helpStep(Text::tr("Under \"Reorders\" go through \"Reorder list\" and turn it into orders."),
                  "Ctrl+4"),
         helpStep(Text::tr(
             "Take in what comes under \"Receive\": scan the label, or enter lot and last day of use.")),
         helpStep(
             Text::tr("Count a part of the storeroom every week; on the month's first days close the month "
                      "before under \"Month end\"."))}};
}

HelpTopic managerWeek() {
    return {
        {},
        Text::tr("Nurse manager: load, care and team"),
        {helpStep(
             Text::tr(
                 "Before a week is published, look at it under \"Load review\": who is nearly full, who has "
                 "room."),
             "Ctrl+5"),
         helpStep(Text::tr("Ask what a change would do before it is made."), "Ctrl+I"),
         helpStep(Text::tr("Answer requests under \"Leave\", and who can take a referral."), "Ctrl+R"),
         helpStep(Text::tr("Go through \"Watch list\", \"Incidents\" and \"Deadlines\"; note what the review "
                           "decided."),
                  "Ctrl+Shift+D"),
         helpStep(
             Text::tr("Once a month take a sample of what was changed: \"Settings\", \"Record of changes\". "
                      "Find by words, person, kind and days; print it or save it as CSV."),
             "Ctrl+9")}};
}

HelpTopic aboutToday() {
    return {
        QStringLiteral("today"),
        Text::tr("Today"),
        {helpStep(
             Text::tr("Each line says what needs doing and by when. Enter opens the form or the record that "
                      "settles it; a settled line goes by itself.")),
         helpStep(Text::tr(
             "Many of one kind are one line with their number: open where they all stand, or show each.")),
         helpStep(
             Text::tr("Record the call, the prescriber's answer or the signature that the chosen line asks "
                      "for; where it asks for none, the foot says what its step is."),
             "Ctrl+Return"),
         helpStep(Text::tr(
             "A maximum for one session above the common one stays as prescribed; it is listed until the "
             "prescriber has confirmed it and that was read back.")),
         helpStep(Text::tr("Show what is yours, or everybody's."), "Ctrl+M"),
         helpStep(Text::tr("Log a phone call that came in."), "Ctrl+L"),
         helpStep(
             Text::tr("Hand the shift over, or accept what was handed over; many of one kind are one line "
                      "there too, and accepting it accepts each."),
             "Ctrl+H"),
         helpStep(Text::tr("Phone the homes whose visits have changed."), "Ctrl+T"),
         helpStep(Text::tr("Report an incident from any page."), "Ctrl+Shift+I")}};
}

HelpTopic aboutCalendar() {
    return {QStringLiteral("calendar"),
            Text::tr("Caseload calendar"),
            {helpStep(Text::tr("Plan the week in front."), "Ctrl+R"),
             helpStep(Text::tr("One day on a time line with its rounds, or the week again."), "Ctrl+D"),
             helpStep(Text::tr("Find a visit by patient, nurse or kind; F3 goes on to the next."), "Ctrl+F"),
             helpStep(Text::tr("Undo and redo work on the plan before it is saved."), "Ctrl+Z"),
             helpStep(Text::tr("Save the draft; nobody works by it until it is published."), "Ctrl+S"),
             helpStep(Text::tr("A nurse calls out: the plan is mended, with as few changes as can be."),
                      "Ctrl+U")}};
}

HelpTopic aboutStock() {
    return {QStringLiteral("stock"),
            Text::tr("Stock forecast"),
            {helpStep(Text::tr(
                 "Homes stand by risk of running dry. The fan shows what is likely left day by day; a count "
                 "sets it right.")),
             helpStep(Text::tr("Each list has its own main step at the upper right."), "Ins"),
             helpStep(Text::tr(
                 "A recalled lot: enter the notice once; it is set aside and every home that has it is "
                 "listed.")),
             helpStep(Text::tr("What is past its last day is no stock, also at a home: its row says so, and "
                               "Expiry writes it off."))}};
}

HelpTopic aboutReorders() {
    return {
        QStringLiteral("reorders"),
        Text::tr("Reorders"),
        {helpStep(
             Text::tr(
                 "The list proposes how much to order and says why. Change an amount where you know better; "
                 "then make the orders."),
             "Ctrl+Return"),
         helpStep(Text::tr(
             "\"Orders\" shows what is on the way and what is late; \"Receive\" takes in what came.")),
         helpStep(Text::tr(
             "\"Month end\" closes the books of a month; from then on nothing moves on its days."))}};
}

HelpTopic aboutLoad() {
    return {
        QStringLiteral("load"),
        Text::tr("Load review"),
        {helpStep(Text::tr("The load of each nurse, as a share of a full week, with what it is made of.")),
         helpStep(Text::tr("\"What if\": a nurse more or less, leave, other figures."), "Ctrl+I"),
         helpStep(Text::tr("\"Who can take a referral?\""), "Ctrl+R"),
         helpStep(Text::tr(
             "Weighted points: a first visit takes more than a routine one, so each kind of visit has its "
             "points, and miles add some. A full week by contract has so many points, less time off and "
             "holidays. The weights are in Settings.")),
         helpStep(Text::tr(
             "Overtime is what is worked beyond the contract of the whole week. Leave and holidays do not "
             "lower it: a nurse with two days off may be at 120 % of what is left and have no overtime. "
             "Minutes beyond capacity stand beside it.")),
         helpStep(Text::tr(
             "Gini and Jain say in one number how evenly the points are shared. Gini is 0 where all nurses "
             "have the same, and nears 1 where one has everything; Jain is 1 where all have the same, and "
             "the less the fewer carry the load. Read them week by week, beside the nurses themselves.")),
         helpStep(
             Text::tr("Note what the review decided; it stays open until somebody says what came of it."),
             "Ctrl+Shift+D")}};
}

HelpTopic aboutPatients() {
    return {
        QStringLiteral("patients"),
        Text::tr("Patients"),
        {helpStep(
             Text::tr("A record begins with the referral; then come catheter, drain order and visit order."),
             "Ins"),
         helpStep(Text::tr("Find a patient by any part of name or code."), "Ctrl+F"),
         helpStep(Text::tr("Log a drain. A volume beyond the order is stored and raises a call."), "Ctrl+L"),
         helpStep(
             Text::tr("An order changes by a new version with its own first day; what it does to visits and "
                      "supplies is shown before it is saved."))}};
}

HelpTopic aboutNurses() {
    return {QStringLiteral("nurses"),
            Text::tr("Nurses"),
            {helpStep(Text::tr("A new nurse: skills, shifts, where the day starts."), "Ins"),
             helpStep(Text::tr(
                 "\"Time off\" and \"Extra shifts\" stand with the nurse; the plan keeps to them."))}};
}

HelpTopic aboutCatalogue() {
    return {QStringLiteral("catalogue"),
            Text::tr("Items and suppliers"),
            {helpStep(Text::tr("Items with their cases, what a kit holds and what may stand in for it.")),
             helpStep(Text::tr(
                 "Suppliers with order days, lead times and prices; payers with what they allow."))}};
}

HelpTopic aboutSettings() {
    return {
        QStringLiteral("settings"),
        Text::tr("Settings and the file"),
        {helpStep(
             Text::tr("Figures are presets of the trade with their source; change one, or go back to it."),
             "F2"),
         helpStep(Text::tr("Find a figure, or words under \"Record of changes\"."), "Ctrl+F"),
         helpStep(Text::tr("Back up every day: \"File\", \"Back up\". A backup is an agency file like any "
                           "other; to use one, "
                           "copy it first, then \"File\", \"Open an agency file\", and choose the copy.")),
         helpStep(Text::tr("Print what is needed when the computer is down, before a weekend."),
                  "Ctrl+Shift+P"),
         helpStep(Text::tr("Read the file again, where the window is not up to date."), "F5"),
         helpStep(Text::tr("To the next list or picture of a page, and back with Shift."), "F6")}};
}

HelpTopic aboutLists() {
    return {
        {},
        Text::tr("Lists from a spreadsheet"),
        {helpStep(Text::tr(
             "\"File\", \"Bring in a list from a spreadsheet\": items, nurses, patients and counts. Save "
             "the empty list with the names of its columns, fill it in with a spreadsheet, and save it as "
             "CSV.")),
         helpStep(Text::tr(
             "Every row is looked at before anything is stored: what is wrong stands with its row and "
             "column, what somebody should be called about beside it. Put it right in the spreadsheet and "
             "choose the file again.")),
         helpStep(Text::tr("The rows come in all together or not at all, and stand in the record of "
                           "changes."))}};
}

HelpTopic aboutShortParcels() {
    return {
        {},
        Text::tr("A parcel that arrives short or damaged"),
        {helpStep(Text::tr(
             "Under \"Deliveries\" choose the parcel and say how it arrived: of each line so many good, "
             "damaged and missing, and why. What is damaged or missing is taken off what is good.")),
         helpStep(Text::tr(
             "Only what is good counts as stock of the home, so the forecast may ask for a refill sooner. "
             "What is damaged is written off; what is missing stands as a difference.")),
         helpStep(Text::tr(
             "It can be put right later in the same place, where the parcel already stands as delivered."))}};
}

} // namespace

std::vector<HelpTopic> helpTopics() {
    return {coordinatorWeek(), clerkWeek(),     managerWeek(), aboutToday(),       aboutCalendar(),
            aboutStock(),      aboutReorders(), aboutLoad(),   aboutPatients(),    aboutNurses(),
            aboutCatalogue(),  aboutSettings(), aboutLists(),  aboutShortParcels()};
}

} // namespace kitround::desk
