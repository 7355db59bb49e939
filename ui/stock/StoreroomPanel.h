#pragma once
// The storeroom by item; the chosen item's lots, the coming weeks and what is on order.
#include "core/desk/views/StoreroomItem.h"
#include "ui/shared/RowsModel.h"
#include "ui/stock/TableOverDetail.h"

#include <QPointer>

class QTabWidget;

namespace kitround::ui {

class BackgroundJob;
class Session;
class ShelfChart;

class StoreroomPanel : public TableOverDetail {
    Q_OBJECT
public:
    StoreroomPanel(Session &session, QWidget *parent);
    ~StoreroomPanel() override;
    // Works the rows out in the background (with many homes that takes a moment).
    void show(desk::StockPicturePtr picture);
    void select(ItemId item);
    void askForNotice(); // the lots of a recall notice

Q_SIGNALS:
    void patientAsked(qint64 patient);
    void shown();

private:
    struct Worked {
        desk::StockPicturePtr picture;
        std::vector<desk::StoreroomRow> rows;
        std::map<ItemId, desk::ItemOutlook> outlooks;
    };
    using Week = desk::StoreroomWeek;
    static std::vector<RowsColumn<desk::StoreroomRow>> columns();
    static std::vector<RowsColumn<desk::LotRow>> lotColumns();
    static std::vector<RowsColumn<Week>> weekColumns();
    static std::vector<RowsColumn<desk::OpenOrderRow>> orderColumns();
    void addWeeks(QTabWidget &tabs);
    void worked(Worked answer);
    void hideEmptyPlaces();
    void showItem();
    void selectLot(LotId lot);
    void enableSteps();
    void count();
    void showCounts();
    void changeLot();
    void traceCurrent();
    void trace(LotId lot);
    void noticeOf(LotId lot, const QString &asked); // `asked`: as the notice has the number
    const desk::StoreroomRow *current() const;
    const desk::LotRow *currentLot() const;

    Session &session_;
    QPointer<BackgroundJob> job_;
    Worked worked_;
    std::optional<ItemId> wanted_; // asked for before the rows were there
    RowsModel<desk::StoreroomRow> model_;
    RowsModel<desk::LotRow> lots_;
    RowsModel<Week> weeks_;
    RowsModel<desk::OpenOrderRow> orders_;
    DenseTable *lotTable_, *weekTable_, *orderTable_;
    ShelfChart *chart_; // of the weeks
    QLabel *opinion_;   // what costs alone would say
    QPushButton *count_, *lot_, *trace_, *notice_, *car_, *level_, *counts_;
};

} // namespace kitround::ui
