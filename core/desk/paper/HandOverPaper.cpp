#include "core/desk/paper/PaperParts.h"
#include "core/desk/views/HandOverView.h"
#include "core/desk/words/Text.h"
#include "core/desk/words/Words.h"

#include <map>

namespace kitround::desk {
namespace {

using namespace parts;

Table topicTable(const HandOverBoard &board, const Agency &agency, HandOverTopic topic) {
    Table made = table({column(Text::tr("Who")), column(Text::tr("What")), column(Text::tr("Allergies")),
                        column(Text::tr("Taken by"))});
    const auto allergies = [&](const HandOverRow &row) {
        const Patient *patient = row.item.patient ? agency.index().patient(*row.item.patient) : nullptr;
        return patient ? allergiesText(*patient, agency.today()).toStdString() : std::string();
    };
    const auto add = [&](const std::vector<HandOverRow> &rows) {
        for (const HandOverRow &row : rows)
            if (row.item.topic == topic)
                made.rows.push_back(
                    {row.item.patient ? patientMark(agency, *row.item.patient).toStdString() : std::string(),
                     row.item.what, allergies(row), takenText(row).toStdString()});
    };
    add(board.waiting);
    add(board.open);
    return made;
}

} // namespace

Paper handOverPaper(const std::vector<AttentionItem> &items, const Agency &agency) {
    const HandOverBoard board = handOverBoard(items, agency);
    Paper paper = blankPaper(agency, Text::tr("Hand-over list"), momentText(agency.snapshot().now), true);
    const std::pair<HandOverTopic, QString> topics[] = {
        {HandOverTopic::Call, Text::tr("Open calls and signs to call about")},
        {HandOverTopic::Stock, Text::tr("Stock at risk and deliveries")},
        {HandOverTopic::Clock, Text::tr("Visits and clocks")},
        {HandOverTopic::Hold, Text::tr("On hold, or back since yesterday")},
        {HandOverTopic::Change, Text::tr("Changed since yesterday")}};
    for (const auto &[topic, heading] : topics)
        add(paper, heading, topicTable(board, agency, topic));
    QStringList lines = handOverLines(agency);
    if (lines.isEmpty())
        lines << Text::tr("From: ______________________   To: ______________________   Time: __________");
    lines << Text::tr("Every line has a name under \"Taken by\" before the last one leaves.");
    addLines(paper, Text::tr("Handed over"), lines);
    return paper;
}

} // namespace kitround::desk
