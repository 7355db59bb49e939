#pragma once
// How the week goes, for the coordinator, the supply clerk and the nurse manager: short steps, each with the
// keys that do it. The help window shows them; its tests hold the keys against the window's own.
#include <QString>

#include <vector>

namespace kitround::desk {

struct HelpStep {
    QString
        text; // what stands in quotes is the name of a page, a tab, a menu or a button, as the window has it
    QString keys; // as QKeySequence reads them: "Ctrl+R"; empty where no key does it
};
struct HelpTopic {
    QString page;  // the workplace's name: "today", "calendar", ...; empty: of the whole program
    QString title; // "Coordinator: the week's visits"
    std::vector<HelpStep> steps;
};
// First the three users' weeks, then each workplace in the order of the window, then what goes across them.
std::vector<HelpTopic> helpTopics();

} // namespace kitround::desk
