#pragma once
// What is printed, as data: ui/print draws it. Paper carries the least data that does the job (initials and
// code, time window, address, items), with a foot that says who printed it when. Never a diagnosis, a door
// code or a note. The lists of whom to phone (about changed visits, a refill, a lot) stay in the office: they
// name whom to ask for, and so does the slip that goes with a parcel. What a supplier gets names nobody. A
// birth date stands on the on-call card only, where it tells two callers apart.
#include "core/desk/Table.h"
#include "core/desk/views/Attention.h"
#include "core/desk/views/CaseloadView.h"
#include "core/desk/views/StockView.h"
#include "core/desk/views/WeekView.h"

#include <QStringList>

#include <span>

namespace kitround::desk {

struct ChangeRow;
struct HolidayPlan;
struct PatientCall;
struct PlanChange;
struct PlanComparison;

// A picture: in every row and column a bar, as long as its share of the full measure, with its figure.
struct ShareBars {
    struct Bar {
        double share = 0; // 1: full
        QString text;
    };
    struct Row {
        QString name;
        std::vector<Bar> bars; // by column
    };
    QStringList columns;
    std::vector<Row> rows;
    QString key; // what the bars say
};

struct Paper {
    QString title;
    QString subtitle;
    struct Section {
        QString heading;
        QStringList lines;
        std::optional<ShareBars> bars; // above the table
        std::optional<Table> table;
        bool startsPage = false;
    };
    std::vector<Section> sections;
    QString foot; // agency, data as of, "Invented data" where it is; signedBy adds who printed it and when
    bool landscape = false;
    std::optional<Date> about{}; // the week or day it tells of, for the name of its file
};
// "load-review-2026-11-29": carries no person's name, for it shows in lists of recent files.
QString fileNameOf(const Paper &paper);
// The paper with "printed by <user> on <moment>" in its foot. Every paper that leaves the printer has it.
Paper signedBy(Paper paper, const QString &user, LocalTime at);

Paper daySheet(const WeekPicture &week, NurseId nurse, Date on);
Paper daySheets(const WeekPicture &week, Date on); // all nurses with visits, a page each
// From that day to the end of the weeks in hand in one go, a page for each day a nurse drives: her days
// follow each other. Of one nurse, or of all.
Paper daySheetsFrom(const WeekPicture &week, Date first, std::optional<NurseId> nurse);
Paper weekPaper(const WeekPicture &week);
Paper pickList(const StockPicture &stock); // open deliveries, lots first expiring first
Paper deliverySlip(const Agency &agency, const Delivery &delivery);
Paper refillCallList(const StockPicture &stock);
Paper reorderPaper(const StockPicture &stock);
Paper purchaseOrderPaper(const Agency &agency, const PurchaseOrder &order);
Paper loadPaper(const WeekPicture &week, const caseload::LoadReview &review);
Paper onCallRota(const Agency &agency); // four weeks, with units, rest and how evenly the turns fall
Paper workPaper(const Agency &agency, const std::vector<Table> &tables);
Paper forecastPaper(const StockPicture &stock);
// The next Saturday and Sunday: who goes where, who is on call, which homes may run dry before Tuesday.
Paper weekendList(const WeekPicture &week, const StockPicture &stock);
Paper onCallCard(const Agency &agency); // the minimum record, one line a catheter
// Open calls, stock at risk, clocks, holds and changes since yesterday, with a place for who takes each.
Paper handOverPaper(const std::vector<AttentionItem> &items, const Agency &agency);
// By patient, with the couriers' cut-offs. The plan of so many weeks, made from that agency.
Paper holidayPaper(const HolidayPlan &plan, const Agency &agency, int weeks);
// The homes of desk/views/PatientCalls, with a place for who was reached.
Paper patientCallPaper(const std::vector<PatientCall> &calls, const Agency &agency);
// Of desk/views/WeekRepair, with a place for who was told.
Paper changesPaper(const WeekPicture &week, const std::vector<PlanChange> &changes);
Paper comparisonPaper(const PlanComparison &comparison, const WeekPicture &week);
Paper watchPaper(const Agency &agency); // the watch list, patients by initials and code
Paper attentionPaper(const std::vector<AttentionItem> &items, const Agency &agency);
// Of desk/views/ChangeRecord, a line a field; `asked`: what of the record was asked for, empty for the
// newest.
Paper changesRecordPaper(std::span<const ChangeRow> changes, const QString &asked, const Agency &agency);
Paper emergencyCallOrder(const Agency &agency); // whom to reach first
// Everything needed while the computer is down, one document: weekend list, on-call card, day sheets of the
// next three days of the week in hand, pick list, emergency call order.
Paper downtimePack(const WeekPicture &week, const StockPicture &stock);

} // namespace kitround::desk
