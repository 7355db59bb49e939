#pragma once
// What if the refill proposed came on another day or brought another quantity: the home's picture with it on
// its way, in words what that would mean and which rules it breaks, and the offer a call makes of it. Nothing
// is stored here.
#include "core/desk/views/HomeChart.h"
#include "core/supply/RefillTrial.h"

#include <QStringList>

namespace kitround::desk {

// "Against the rules: ...; ...."; empty where none is broken.
QString againstRules(const QStringList &rules);

struct RefillOutlook {
    supply::Shipment shipment;
    HomeChart chart;
    double chanceDryBefore = 0; // before it comes
    double chanceDryToNext = 0; // before the delivery after it, or by the end of the forecast
    double chanceDryAfter = 0;  // of that, once it has come: what it achieves at a home that is dry before
    double daysHeld = 0;
    std::vector<supply::TrialBreak> breaks;
    QString sentence;
    QStringList rules; // one a break; of another line of the parcel with its item

    QString rulesText() const { return againstRules(rules); }
};

// A refill moved on the chart as the home is asked about it: the proposal with that line's quantity, and the
// day with what can bring it then.
struct TriedRefill {
    supply::RefillProposal offer;
    std::size_t line = 0; // of the offer's: the one that was moved
    QString note;         // that it was, and what had been proposed
};

class RefillWhatIf {
public:
    RefillWhatIf(StockPicturePtr picture, const supply::RefillProposal &proposal,
                 const supply::RefillLine &line, const forecast::ItemForecast &home, HomeChart chart);
    bool isMovable() const { return trial_.isMovable(); }
    // As proposed, once it is on its way.
    const RefillOutlook &proposed() const { return proposed_; }
    // The nearest day of the forecast and the nearest quantity that can be sent.
    supply::Shipment nearest(const supply::Shipment &wanted) const;
    // Some days later, some cases or eaches more.
    supply::Shipment stepped(const supply::Shipment &from, int days, int quantities) const;
    RefillOutlook at(const supply::Shipment &shipment) const;
    // Nothing where it stands as proposed.
    std::optional<TriedRefill> toOffer(const supply::Shipment &shipment) const;

private:
    Date onADay(Date wanted) const;
    QString sentence(const RefillOutlook &outlook) const;
    QString coverText(const RefillOutlook &outlook) const;
    QString ruleText(const supply::TrialBreak &rule) const;
    QString amountText(Eaches quantity) const;
    QString moveText(const supply::Shipment &shipment) const;

    StockPicturePtr picture_;
    const supply::RefillProposal &proposal_;
    const supply::RefillLine &line_; // of it
    const forecast::ItemForecast &home_;
    HomeChart chart_;
    supply::RefillTrial trial_;
    RefillOutlook proposed_;
};
using RefillWhatIfPtr = std::shared_ptr<const RefillWhatIf>;
// Nothing where no refill of this line is proposed, or it cannot be moved by itself. `chart`: the line's.
RefillWhatIfPtr refillWhatIf(const StockPicturePtr &picture, std::size_t forecast, const HomeChart &chart);

QString words(const supply::TrialBreak &rule);
QString lineName(const SnapshotIndex &agency, const supply::RefillLine &line, bool withCatheter);

} // namespace kitround::desk
