#pragma once
// What is printed, as data: ui/print draws it. Paper carries the least data that does the job (initials, time
// window, address, items), with a foot that says who printed it when. Never a diagnosis, a door code or a note.
#include "core/desk/Table.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"

#include <QStringList>

namespace kitround::desk {

struct Paper {
    QString title;
    QString subtitle;
    struct Section {
        QString heading;
        QStringList lines;
        std::optional<Table> table;
        bool startsPage = false;
    };
    std::vector<Section> sections;
    QString foot; // agency, moment, user, "Invented data" where it is
    bool landscape = false;
};

Paper daySheet(const WeekPicture &week, NurseId nurse, Date on);
Paper daySheets(const WeekPicture &week, Date on);               // all nurses, a page each
Paper weekPaper(const WeekPicture &week);
Paper pickList(const StockPicture &stock);
Paper refillCallList(const StockPicture &stock);
Paper reorderPaper(const StockPicture &stock);
Paper purchaseOrderPaper(const Agency &agency, const PurchaseOrder &order);
Paper loadPaper(const WeekPicture &week, const caseload::LoadReview &review);
Paper forecastPaper(const StockPicture &stock);
Paper weekendList(const WeekPicture &week, const StockPicture &stock);
Paper onCallCard(const Agency &agency);                            // the minimum record, one line a patient
Paper attentionPaper(const std::vector<AttentionItem> &items, const Agency &agency);
// Everything needed while the computer is down, one document: weekend list, on-call card, day sheets, pick list,
// emergency call order.
Paper downtimePack(const WeekPicture &week, const StockPicture &stock);

} // namespace kitround::desk
