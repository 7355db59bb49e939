#pragma once
// What if the service level were another: for one item, or for the items of a class that have no level of
// their own. Worked out once; every level is then a look. Nothing is stored here.
#include "core/desk/views/StockView.h"
#include "core/supply/ServiceLevels.h"

namespace kitround::desk {

struct LevelScope {
    std::optional<ItemId> item; // none: the class
    StockClass stockClass = StockClass::A;
    friend bool operator==(const LevelScope &, const LevelScope &) = default;
};
struct LevelSum {
    int items = 0;
    Eaches orderUpTo;
    Cases cases;
    Money money;
    double chanceShort = 0; // of the item most at risk
    std::optional<ItemId> mostAtRisk;
    double asked = 0, missing = 0; // eaches in an average review period; of these, not there when asked for
    double fillRate() const { return asked > 0 ? 1 - missing / asked : 1; }
    double cycleMinor = 0; // a review: keeping what is left over, a courier for each piece missing
    std::optional<std::int64_t> cheapestPermille; // of the one item; none for a class
};

class LevelWhatIf {
public:
    explicit LevelWhatIf(StockPicturePtr picture);
    const Agency &agency() const { return *picture_->agency; }
    // In thousandths, as stored now; the class's setting, or the item's own level or its class's.
    std::int64_t levelNow(const LevelScope &scope) const;
    LevelSum at(const LevelScope &scope, std::int64_t permille) const;

private:
    StockPicturePtr picture_;
    std::vector<supply::ServiceOutlook> outlooks_;
};
using LevelWhatIfPtr = std::shared_ptr<const LevelWhatIf>;

SettingKey serviceSetting(StockClass stockClass);
// Stores the level: on the item, or as the class's setting. Audited like every write.
Result<void> storeLevel(Desk &desk, const LevelScope &scope, std::int64_t permille);

} // namespace kitround::desk
