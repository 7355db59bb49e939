#include "ui/shared/DenseTable.h"

#include "ui/shared/Look.h"

#include <QAbstractProxyModel>
#include <QGuiApplication>
#include <QHeaderView>
#include <QHelpEvent>
#include <QKeyEvent>
#include <QLineEdit>
#include <QStyledItemDelegate>
#include <QTimer>
#include <QToolTip>

#include <algorithm>
#include <numeric>

namespace kitround::ui {
namespace {

constexpr int kGap = 8;
constexpr int kWidest = 360;     // of a column's own wish
constexpr int kNarrowText = 108; // a text is cut no further
constexpr int kShortText = 132;  // a day with its year, a state
constexpr int kReadableName = 220;
constexpr int kShortWord = 72; // "h", "min", "points"

int sourceRow(QModelIndex index) {
    while (const auto *proxy = qobject_cast<const QAbstractProxyModel *>(index.model()))
        index = proxy->mapToSource(index);
    return index.isValid() ? index.row() : -1;
}

// The whole row is what is chosen, so no single cell is framed.
class RowDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    // What a narrow column cuts is read by pointing at it.
    bool helpEvent(QHelpEvent *event, QAbstractItemView *view, const QStyleOptionViewItem &option,
                   const QModelIndex &index) override {
        if (event->type() == QEvent::ToolTip && index.data(Qt::ToolTipRole).toString().isEmpty() &&
            sizeHint(option, index).width() > option.rect.width()) {
            QToolTip::showText(event->globalPos(), index.data().toString(), view);
            return true;
        }
        return QStyledItemDelegate::helpEvent(event, view, option, index);
    }

protected:
    void initStyleOption(QStyleOptionViewItem *option, const QModelIndex &index) const override {
        QStyledItemDelegate::initStyleOption(option, index);
        option->state &= ~QStyle::State_HasFocus;
        if (index.data(Qt::ForegroundRole).isValid()) // its colour tells something: in the chosen row too
            option->palette.setBrush(QPalette::HighlightedText, option->palette.brush(QPalette::Text));
    }
};

} // namespace

bool sortByKey(QTableView &table, const QKeyEvent &event) {
    QHeaderView &head = *table.horizontalHeader();
    if ((event.modifiers() & ~Qt::KeypadModifier) != Qt::AltModifier || head.count() == 0)
        return false;
    const int column = head.sortIndicatorSection();
    switch (event.key()) {
    case Qt::Key_Left:
        head.setSortIndicator(std::max(column - 1, -1), head.sortIndicatorOrder());
        return true;
    case Qt::Key_Right:
        head.setSortIndicator(std::min(column + 1, head.count() - 1), head.sortIndicatorOrder());
        return true;
    case Qt::Key_Up:
        head.setSortIndicator(std::max(column, 0), Qt::AscendingOrder);
        return true;
    case Qt::Key_Down:
        head.setSortIndicator(std::max(column, 0), Qt::DescendingOrder);
        return true;
    default:
        return false;
    }
}

DenseTable::DenseTable(const QString &objectName, const QString &accessibleName, QWidget *parent)
    : QTableView(parent) {
    setObjectName(objectName);
    setAccessibleName(accessibleName);
    setAccessibleDescription(tr("Alt with the arrow keys sorts: left and right by which column, up and down "
                                "which way"));
    setItemDelegate(new RowDelegate(this));
    setSelectionBehavior(SelectRows);
    setSelectionMode(SingleSelection);
    setEditTriggers(NoEditTriggers);
    setShowGrid(false);
    setAlternatingRowColors(true);
    setWordWrap(false);
    setTabKeyNavigation(false); // Tab leaves the table; arrows move in it
    setSortingEnabled(true);
    setHorizontalScrollMode(ScrollPerPixel);
    verticalHeader()->hide();
    verticalHeader()->setSectionResizeMode(QHeaderView::Fixed);
    verticalHeader()->setDefaultSectionSize(Look::kHit);
    horizontalHeader()->setHighlightSections(false);
    horizontalHeader()->setMinimumSectionSize(40);
    connect(horizontalHeader(), &QHeaderView::sectionResized, this, [this] {
        if (isSharing_)
            return;
        if (QGuiApplication::mouseButtons() != Qt::NoButton)
            isSetByHand_ = true; // a width the person chose stays
        fitRows();
    });
    connect(this, &QTableView::doubleClicked, this,
            [this](const QModelIndex &index) { Q_EMIT opened(sourceRow(index)); });
}

void DenseTable::setModel(QAbstractItemModel *model) {
    QTableView::setModel(model);
    horizontalHeader()->setSortIndicator(-1,
                                         Qt::AscendingOrder); // the model's own order until asked otherwise
    connect(selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this](const QModelIndex &current) { Q_EMIT currentRowChanged(sourceRow(current)); });
    const auto fitToRows = [this] {
        if (fitWaits_ && this->model()->rowCount() > 0) {
            fitWaits_ = false;
            fitNow();
        }
    };
    connect(model, &QAbstractItemModel::modelReset, this, [this, fitToRows] {
        if (fitWaits_)
            fitToRows();
        else
            growLater();
    });
    connect(model, &QAbstractItemModel::rowsInserted, this, fitToRows); // a filter lets them in again
    connect(model, &QAbstractItemModel::layoutChanged, this, &DenseTable::fitRows); // sorted
}

void DenseTable::wrapTexts() {
    setWordWrap(true);
    verticalHeader()->setMinimumSectionSize(Look::kHit);
    fitRows();
}

void DenseTable::fitRows() {
    if (wordWrap())
        resizeRowsToContents();
}

int DenseTable::currentSourceRow() const {
    return sourceRow(currentIndex());
}

void DenseTable::selectSourceRow(int row) {
    for (int i = 0; model() && i < model()->rowCount(); ++i)
        if (sourceRow(model()->index(i, 0)) == row) {
            setCurrentIndex(model()->index(i, 0));
            scrollTo(model()->index(i, 0));
            return;
        }
}

void DenseTable::keepReadable(int column) {
    keepReadable(column, kReadableName);
}

void DenseTable::keepReadable(int column, int width) {
    readable_.emplace_back(column, width);
}

void DenseTable::cutFirst(int column) {
    cutFirst_.push_back(column);
}

void DenseTable::fitColumns(int stretched) {
    stretched_ = stretched;
    fitWaits_ = !model() || model()->rowCount() == 0;
    fitNow();
}

// What comes later (an order's longer number, a lot's other state) is not cut to what stood there first.
// Asked for once, however many resets come, and not where the columns are fitted anyway.
void DenseTable::growLater() {
    if (natural_.empty() || growWaits_)
        return;
    growWaits_ = true;
    QTimer::singleShot(0, this, [this] {
        if (growWaits_ && model()->rowCount() > 0)
            grow();
        growWaits_ = false;
    });
}

void DenseTable::fitNow() {
    natural_.clear();
    least_.clear();
    grow();
}

// No column wishes for less than before: what is being read does not jump.
void DenseTable::grow() {
    growWaits_ = false;
    if (!model())
        return;
    QHeaderView *head = horizontalHeader();
    head->setSectionResizeMode(QHeaderView::Interactive);
    natural_.resize(static_cast<std::size_t>(head->count()));
    least_.resize(natural_.size());
    for (int i = 0; i < head->count(); ++i) {
        if (isColumnHidden(i))
            continue;
        int &natural = natural_[static_cast<std::size_t>(i)];
        int &least = least_[static_cast<std::size_t>(i)];
        // The sort arrow may cover the end of a heading: it shows on one column at a time.
        const int heading =
            head->fontMetrics().horizontalAdvance(model()->headerData(i, Qt::Horizontal).toString()) +
            2 * kGap;
        const int wide = std::max(heading, sizeHintForColumn(i) + kGap);
        natural = std::max(natural, qBound(48, wide, kWidest));
        least = std::max(least, isText(i) ? std::min(natural, std::max(heading, kNarrowText)) : natural);
        if (std::ranges::find(cutFirst_, i) != cutFirst_.end())
            least = std::min(natural, std::max(heading, kShortWord));
        const auto kept = std::ranges::find(readable_, i, &std::pair<int, int>::first);
        if (kept != readable_.end())
            least = std::max(least, std::min(natural, kept->second));
    }
    share();
}

bool DenseTable::isText(int column) const {
    return model() && model()->rowCount() > 0 &&
           !model()
                ->index(0, column)
                .data(Qt::TextAlignmentRole)
                .value<Qt::Alignment>()
                .testFlag(Qt::AlignRight);
}

// Columns get what they need; where that is too much the widest texts are cut first, and where it is too
// little the stretched column takes the rest.
void DenseTable::share() {
    if (natural_.empty() || isSetByHand_ || static_cast<int>(natural_.size()) != horizontalHeader()->count())
        return;
    std::vector<int> width = natural_;
    int over = std::accumulate(width.begin(), width.end(), 0) - viewport()->width();
    for (const int column : cutFirst_) {
        const auto i = static_cast<std::size_t>(column);
        const int cut = std::clamp(over, 0, width[i] - least_[i]);
        width[i] -= cut;
        over -= cut;
    }
    while (over > 0) {
        std::size_t widest = width.size();
        for (std::size_t i = 0; i < width.size(); ++i)
            if (width[i] > least_[i] && (widest == width.size() || width[i] > width[widest]))
                widest = i;
        if (widest == width.size())
            break; // every text is as narrow as it may be: the table scrolls
        const int cut = std::min({over, 8, width[widest] - least_[widest]});
        width[widest] -= cut;
        over -= cut;
    }
    for (std::size_t i = 0; over > 0 && i < width.size(); ++i)
        if (natural_[i] <= kShortText) // cutting it saves nobody the scrolling
            width[i] = natural_[i];
    if (over < 0 && stretched_ >= 0 && stretched_ < static_cast<int>(width.size()))
        width[static_cast<std::size_t>(stretched_)] -= over;
    isSharing_ = true;
    for (std::size_t i = 0; i < width.size(); ++i)
        if (!isColumnHidden(static_cast<int>(i)))
            setColumnWidth(static_cast<int>(i), width[i]);
    isSharing_ = false;
    fitRows();
}

void DenseTable::resizeEvent(QResizeEvent *event) {
    QTableView::resizeEvent(event);
    share();
}

void DenseTable::keyPressEvent(QKeyEvent *event) {
    if (sortByKey(*this, *event))
        return;
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && currentSourceRow() >= 0) {
        Q_EMIT opened(currentSourceRow());
        return;
    }
    QTableView::keyPressEvent(event);
}

namespace {

class SearchKeys : public QObject {
public:
    SearchKeys(QLineEdit &search, DenseTable &table) : QObject(&search), search_(search), table_(table) {}

    bool eventFilter(QObject *watched, QEvent *event) override {
        if (event->type() != QEvent::KeyPress)
            return QObject::eventFilter(watched, event);
        switch (static_cast<QKeyEvent *>(event)->key()) {
        case Qt::Key_Escape:
            if (search_.text().isEmpty())
                break;
            search_.clear();
            return true;
        case Qt::Key_Down:
        case Qt::Key_Return:
        case Qt::Key_Enter:
            break;
        default:
            return QObject::eventFilter(watched, event);
        }
        goToRows();
        return true;
    }

private:
    void goToRows() {
        table_.setFocus(Qt::OtherFocusReason);
        if (!table_.currentIndex().isValid() && table_.model() && table_.model()->rowCount() > 0)
            table_.setCurrentIndex(table_.model()->index(0, 0));
    }

    QLineEdit &search_;
    DenseTable &table_; // in the same page, and not deleted before it
};

} // namespace

void leadToRows(QLineEdit &search, DenseTable &table) {
    constexpr int kAround = 48; // its edge, and the button that clears it
    search.setMinimumWidth(search.fontMetrics().horizontalAdvance(search.placeholderText()) + kAround);
    search.setMaximumWidth(std::max(search.maximumWidth(), search.minimumWidth()));
    search.installEventFilter(new SearchKeys(search, table));
}

} // namespace kitround::ui
