#pragma once
// A short list inside a form (windows, skills, price breaks): one row of fields an entry, added and removed
// by buttons. For lists a person types, not for tables of records.
#include "ui/shared/RecordForm.h"

#include <QWidget>

#include <vector>

class QVBoxLayout;

namespace kitround::ui {

class ListEditor : public QWidget {
    Q_OBJECT
public:
    struct Column {
        QString name;                     // accessible name and head
        std::vector<Choice> choices = {}; // a combo box where there are some, else a line edit
        int width = 110;
    };
    ListEditor(const QString &addText, std::vector<Column> columns, QWidget *parent = nullptr);

    // Texts by column; for a choice, its value as a number.
    void addRow(const QStringList &values);
    int rowCount() const { return static_cast<int>(rows_.size()); }
    QString text(int row, int column) const;
    qint64 choice(int row, int column) const;

private:
    struct Row {
        QWidget *widget = nullptr;
        std::vector<QWidget *> fields;
    };
    QWidget *makeField(const Column &column, const QString &value, QWidget *parent) const;
    void removeRow(QWidget *widget);

    std::vector<Column> columns_;
    std::vector<Row> rows_;
    QVBoxLayout *list_;
};

} // namespace kitround::ui
