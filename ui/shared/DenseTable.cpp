#include "ui/shared/DenseTable.h"

#include "ui/shared/Look.h"

#include <QAbstractProxyModel>
#include <QHeaderView>
#include <QKeyEvent>
#include <QStyledItemDelegate>

namespace kitround::ui {
namespace {

int sourceRow(QModelIndex index) {
    while (const auto *proxy = qobject_cast<const QAbstractProxyModel *>(index.model()))
        index = proxy->mapToSource(index);
    return index.isValid() ? index.row() : -1;
}

// The whole row is what is chosen, so no single cell is framed.
class RowDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

protected:
    void initStyleOption(QStyleOptionViewItem *option, const QModelIndex &index) const override {
        QStyledItemDelegate::initStyleOption(option, index);
        option->state &= ~QStyle::State_HasFocus;
    }
};

} // namespace

DenseTable::DenseTable(const QString &objectName, const QString &accessibleName, QWidget *parent)
    : QTableView(parent) {
    setObjectName(objectName);
    setAccessibleName(accessibleName);
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
    connect(this, &QTableView::doubleClicked, this,
            [this](const QModelIndex &index) { Q_EMIT opened(sourceRow(index)); });
}

void DenseTable::setModel(QAbstractItemModel *model) {
    QTableView::setModel(model);
    horizontalHeader()->setSortIndicator(-1,
                                         Qt::AscendingOrder); // the model's own order until asked otherwise
    connect(selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this](const QModelIndex &current) { Q_EMIT currentRowChanged(sourceRow(current)); });
    connect(model, &QAbstractItemModel::modelReset, this, [this] {
        if (fitWaits_ && this->model()->rowCount() > 0) {
            fitWaits_ = false;
            fitNow();
        }
    });
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

void DenseTable::fitColumns(int stretched) {
    stretched_ = stretched;
    fitWaits_ = !model() || model()->rowCount() == 0;
    fitNow();
}

void DenseTable::fitNow() {
    const int stretched = stretched_;
    for (int i = 0; i < horizontalHeader()->count(); ++i)
        horizontalHeader()->setSectionResizeMode(i, QHeaderView::Interactive);
    resizeColumnsToContents();
    for (int i = 0; i < horizontalHeader()->count(); ++i)
        setColumnWidth(i, qBound(48, columnWidth(i) + 8, 320));
    if (stretched >= 0 && stretched < horizontalHeader()->count())
        horizontalHeader()->setSectionResizeMode(stretched, QHeaderView::Stretch);
}

void DenseTable::keyPressEvent(QKeyEvent *event) {
    if ((event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter) && currentSourceRow() >= 0) {
        Q_EMIT opened(currentSourceRow());
        return;
    }
    QTableView::keyPressEvent(event);
}

} // namespace kitround::ui
