#include "ui/load/HeatTable.h"

#include "core/desk/words/VisitWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Look.h"

#include <QEvent>
#include <QHeaderView>

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

void HeatTable::fill() {
    clear();
    setRowCount(static_cast<int>(heat_.rows.size()));
    setColumnCount(static_cast<int>(heat_.weeks.size()));
    QStringList weeks, nurses;
    for (const DateRange &week : heat_.weeks)
        weeks << (week.to <= today_ ? tr("%1, done") : tr("%1, planned")).arg(desk::dayText(week.from));
    for (std::size_t r = 0; r < heat_.rows.size(); ++r) {
        nurses << heat_.rows[r].name;
        for (std::size_t w = 0; w < heat_.rows[r].cells.size(); ++w) {
            const desk::HeatCell &cell = heat_.rows[r].cells[w];
            auto *item = new QTableWidgetItem(desk::heatText(cell));
            item->setTextAlignment(Qt::AlignCenter);
            QColor shade = Look::colour(cell.share() > 1 ? Role::Act : Role::Accent);
            shade.setAlpha(static_cast<int>(kMostAlpha * std::min(cell.share(), kDeepest) / kDeepest));
            item->setBackground(shade);
            item->setForeground(Look::colour(cell.isAway ? Role::FaintInk : Role::Ink));
            if (cell.share() > 1)
                item->setFont(Look::strongFont());
            item->setToolTip(tr("%1; a full week is %2 points")
                                 .arg(desk::visitsText(cell.visits))
                                 .arg(cell.inFull, 0, 'f', 0));
            setItem(static_cast<int>(r), static_cast<int>(w), item);
        }
    }
    setHorizontalHeaderLabels(weeks);
    setVerticalHeaderLabels(nurses);
}

} // namespace kitround::ui
