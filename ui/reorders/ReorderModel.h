#pragma once
// The reorder list as a table one may change: cases a line, and whether the line is ordered at all.
#include "core/desk/views/ReorderEdits.h"

#include <QAbstractTableModel>

namespace kitround::ui {

class ReorderModel : public QAbstractTableModel {
    Q_OBJECT
public:
    enum Column { Item, Supplier, CasesColumn, EachesColumn, Total, Arrives, Signs, ColumnCount };
    explicit ReorderModel(QObject *parent = nullptr);
    // Edits of lines that are still proposed are kept.
    void setPicture(desk::StockPicturePtr picture);
    const supply::ReorderLine &line(int row) const { return *rows_[static_cast<std::size_t>(row)].line; }
    SupplierId supplier(int row) const { return rows_[static_cast<std::size_t>(row)].edit.supplier; }
    std::vector<desk::ReorderEdit> edits() const;
    bool isEdited() const;
    void toggle(int row);
    void forget(); // the edits

    int rowCount(const QModelIndex &parent = {}) const override;
    int columnCount(const QModelIndex &parent = {}) const override;
    QVariant data(const QModelIndex &index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;
    bool setData(const QModelIndex &index, const QVariant &value, int role) override;
    Qt::ItemFlags flags(const QModelIndex &index) const override;

Q_SIGNALS:
    void edited();

private:
    struct Row {
        const supply::ReorderLine *line = nullptr; // of picture_
        desk::ReorderEdit edit;
    };
    QVariant text(const Row &row, int column) const;
    QVariant sortBy(const Row &row, int column) const;
    Money total(const Row &row) const;
    void rowChanged(int row);

    desk::StockPicturePtr picture_;
    std::vector<Row> rows_;
};

} // namespace kitround::ui
