#include "ui/load/HeatTable.h"

#include "core/desk/words/VisitWords.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/Look.h"

#include <QEvent>
#include <QHeaderView>
#include <QKeyEvent>
#include <QScopedValueRollback>

#include <algorithm>

namespace kitround::ui {
namespace {

constexpr double kDeepest = 1.25; // of a full week; deeper shades would drown the figures
constexpr int kMostAlpha = 110;

} // namespace

HeatTable::HeatTable(QWidget *parent) : QTableWidget(parent) {
    setObjectName(QStringLiteral("heatTable"));
    setAccessibleName(tr("Points by nurse and week, with the share of a full week"));
    setEditTriggers(NoEditTriggers);
    setSelectionMode(SingleSelection);
    setTabKeyNavigation(false);
    setShowGrid(false);
    verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    verticalHeader()->setDefaultSectionSize(Look::kHit);
    horizontalHeader()->setSectionResizeMode(QHeaderView::Stretch);
    horizontalHeader()->setHighlightSections(false);
    horizontalHeader()->setSectionsClickable(true);
    horizontalHeader()->setSortIndicatorShown(true);
    horizontalHeader()->setSortIndicatorClearable(true); // back to the order of names
    horizontalHeader()->setSortIndicator(-1, Qt::DescendingOrder);
    connect(horizontalHeader(), &QHeaderView::sortIndicatorChanged, this, &HeatTable::fill);
    setSizeAdjustPolicy(AdjustToContents);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Maximum); // no empty rows beneath
}

void HeatTable::setHeat(const desk::LoadHeat &heat, Date today) {
    heat_ = heat;
    today_ = today;
    fill();
}

void HeatTable::changeEvent(QEvent *event) {
    QTableWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange && rowCount() > 0)
        fill(); // the shades are mixed from the present theme
}

void HeatTable::keyPressEvent(QKeyEvent *event) {
    if (!sortByKey(*this, *event))
        QTableWidget::keyPressEvent(event);
}

// By the points of the week whose heading was clicked; who is away comes after nobody's load.
std::vector<const desk::LoadHeat::Row *> HeatTable::sorted() const {
    std::vector<const desk::LoadHeat::Row *> rows;
    for (const desk::LoadHeat::Row &row : heat_.rows)
        rows.push_back(&row);
    const int week = horizontalHeader()->sortIndicatorSection();
    if (week < 0 || static_cast<std::size_t>(week) >= heat_.weeks.size())
        return rows;
    const double way = horizontalHeader()->sortIndicatorOrder() == Qt::AscendingOrder ? 1 : -1;
    std::ranges::stable_sort(rows, {}, [&](const desk::LoadHeat::Row *row) {
        const desk::HeatCell &cell = row->cells[static_cast<std::size_t>(week)];
        return way * (cell.isAway ? -1 : cell.points);
    });
    return rows;
}

void HeatTable::fill() {
    if (isFilling_) // a sorted week that is gone from the table takes its sorting with it
        return;
    const QScopedValueRollback<bool> filling(isFilling_, true);
    clear();
    setRowCount(static_cast<int>(heat_.rows.size()));
    setColumnCount(static_cast<int>(heat_.weeks.size()));
    QStringList weeks, nurses;
    for (const DateRange &week : heat_.weeks)
        weeks << desk::heatWeekText(week, today_);
    const std::vector<const desk::LoadHeat::Row *> rows = sorted();
    for (std::size_t r = 0; r < rows.size(); ++r) {
        nurses << rows[r]->name;
        for (std::size_t w = 0; w < rows[r]->cells.size(); ++w) {
            const desk::HeatCell &cell = rows[r]->cells[w];
            auto *item = new QTableWidgetItem(desk::heatText(cell));
            item->setTextAlignment(Qt::AlignCenter);
            // Above a full week's points is to be watched; over full goes by minutes, under Nurses.
            QColor shade = Look::colour(cell.share() > 1 ? Role::Watch : Role::Accent);
            shade.setAlpha(static_cast<int>(kMostAlpha * std::min(cell.share(), kDeepest) / kDeepest));
            item->setBackground(shade);
            item->setForeground(Look::colour(cell.isAway ? Role::FaintInk : Role::Ink));
            if (cell.share() > 1)
                item->setFont(Look::strongFont());
            item->setToolTip(tr("%1; a full week is %2 points")
                                 .arg(desk::visitsText(cell.visits), desk::pointsText(cell.inFull)));
            setItem(static_cast<int>(r), static_cast<int>(w), item);
        }
    }
    setHorizontalHeaderLabels(weeks);
    setVerticalHeaderLabels(nurses);
}

} // namespace kitround::ui
