#pragma once
// Lines of the start page, found by what they are about.
#include "core/desk/views/Attention.h"
#include "ui/shared/DenseTable.h"

#include <gtest/gtest.h>

namespace kitround::ui {

// The first row of the kind as it stands on the screen; -1 where there is none.
inline int rowOfKind(const DenseTable &table, desk::AttentionKind kind) {
    constexpr int kKind = 2; // column
    const QAbstractItemModel &model = *table.model();
    for (int row = 0; row < model.rowCount(); ++row)
        if (model.index(row, kKind).data().toString() == desk::words(kind))
            return row;
    return -1;
}

// Chooses it; the test fails where there is none.
inline void chooseKind(DenseTable &table, desk::AttentionKind kind) {
    const int row = rowOfKind(table, kind);
    EXPECT_GE(row, 0) << "no line under Today: " << desk::words(kind).toStdString();
    table.setFocus();
    table.setCurrentIndex(table.model()->index(row, 0));
}

} // namespace kitround::ui
