#pragma once
// Brings a list from a spreadsheet in: which list, a file with its names to fill in, then the rows as they
// would be stored with every fault beside its row. Nothing is written before the step that says so, and
// nothing at all while a row has a fault.
#include "core/desk/views/ImportPreview.h"

#include <QDialog>
#include <QPointer>

class QComboBox;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace kitround::ui {

class BackgroundJob;
class Session;
template <class Row>
class RowsTable;

class ImportDialog : public QDialog {
    Q_OBJECT
public:
    explicit ImportDialog(Session &session, QWidget *parent = nullptr);
    ~ImportDialog() override;
    void reject() override; // not while rows are being written

private:
    void makeSource(QVBoxLayout &layout);
    void makeFoot(QVBoxLayout &layout);
    desk::ListKind kind() const;
    void showKind();
    void saveEmpty();
    void openList();
    void read();
    void showPreview(std::string bytes, desk::ImportPreview preview);
    void clearRows(const QString &why);
    void bringIn();
    void finish(const Result<desk::Imported> &done, const QString &backup);
    void setBusy(const QString &stage);

    Session &session_;
    QComboBox *kind_;
    QLabel *columns_, *state_, *undo_;
    RowsTable<desk::ImportRow> *table_;
    QPushButton *empty_, *words_, *open_, *bringIn_, *close_;
    QPointer<BackgroundJob> reading_;
    QString file_;
    std::string bytes_; // of the file as it was read: what is written is what was shown
    bool isGood_ = false, isWriting_ = false;
};

} // namespace kitround::ui
