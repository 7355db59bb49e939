// What plans are weighed by, in words and whole numbers.
#include "core/desk/words/Reasons.h"
#include "core/desk/words/Text.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace kitround::desk {

std::vector<CostLine> costLines(const rounds::CostParts &p) {
    return {
        {"unplaced", Text::tr("visits not placed"), p.unplaced},
        {"overtime", Text::tr("overtime"), p.overtime},
        {"travel", Text::tr("travel"), p.travel},
        {"waiting", Text::tr("waiting"), p.waiting},
        {"soft_windows", Text::tr("outside wished times"), p.softWindows},
        {"continuity", Text::tr("broken continuity"), p.continuity},
        {"gaps", Text::tr("long gaps between visits"), p.gaps},
        {"unevenness", Text::tr("uneven load"), p.unevenness},
        {"couriers", Text::tr("courier runs and supplies not brought"), p.couriers},
        {"changes", Text::tr("changes to the published plan"), p.changes},
        {"wishes", Text::tr("wishes not met"), p.wishes},
        {"second_nurses", Text::tr("a second nurse to one home on a day"), p.secondNurses},
    };
}

QString weightedMinutesText(double minutes) {
    return counted(std::llround(minutes), Text::tr("1 weighted minute"), Text::tr("%1 weighted minutes"));
}

QString addedMinutesText(double minutes) {
    const std::int64_t change = std::llround(minutes);
    return change == 0  ? Text::tr("adds no weighted minutes")
           : change < 0 ? Text::tr("saves %1").arg(weightedMinutesText(-minutes))
                        : Text::tr("adds %1").arg(weightedMinutesText(minutes));
}

std::int64_t wholeChange(double before, double after) {
    return std::llround(after) - std::llround(before);
}

QString addedMinutesText(double before, double after) {
    return addedMinutesText(static_cast<double>(wholeChange(before, after)));
}

std::vector<CostChange> costChanges(const rounds::CostParts &before, const rounds::CostParts &after) {
    constexpr double kSame = 1e-6;
    struct Part {
        std::size_t line;
        double rest; // above the whole number below
        std::int64_t whole;
    };
    const auto was = costLines(before), is = costLines(after);
    std::int64_t left = wholeChange(before.total(), after.total());
    std::vector<Part> parts;
    for (std::size_t i = 0; i < was.size(); ++i) {
        const double change = is[i].minutes - was[i].minutes;
        if (std::abs(change) < kSame)
            continue;
        const double whole = std::floor(change);
        parts.push_back({i, change - whole, static_cast<std::int64_t>(whole)});
        left -= parts.back().whole;
    }
    // What the whole numbers leave goes to the parts that lost most by rounding down.
    std::ranges::stable_sort(parts, std::ranges::greater(), &Part::rest);
    for (Part &part : parts)
        if (left > 0) {
            ++part.whole;
            --left;
        }
    std::ranges::sort(parts, {}, &Part::line);
    std::vector<CostChange> changes;
    for (const Part &part : parts)
        if (const std::int64_t first = std::llround(was[part.line].minutes); part.whole != 0)
            changes.push_back({was[part.line].name, first, first + part.whole});
    return changes;
}

QString weightedMinutesMeaning() {
    return Text::tr("Weighted minutes add up what a plan asks of people: driving, waiting, overtime, visits "
                    "without a place, patients seen by another than their main nurse and more, each by its "
                    "weight under Settings. Of two plans the one with fewer is better.");
}

QString costText(const rounds::CostParts &parts) {
    QStringList named;
    for (const CostLine &line : costLines(parts))
        if (std::abs(line.minutes) >= 0.05)
            named << QStringLiteral("%1 %2").arg(line.name, shortNumber(line.minutes));
    const QString total = weightedMinutesText(parts.total());
    return named.isEmpty() ? total + u'.'
                           : QStringLiteral("%1: %2.").arg(total, named.join(QStringLiteral(", ")));
}

} // namespace kitround::desk
