#include "core/desk/views/LevelWhatIf.h"

namespace kitround::desk {

LevelWhatIf::LevelWhatIf(StockPicturePtr picture)
    : picture_(std::move(picture)),
      outlooks_(supply::serviceOutlooks(picture_->agency->index(), picture_->homes)) {}

std::int64_t LevelWhatIf::levelNow(const LevelScope &scope) const {
    if (const Item *item = scope.item ? agency().index().item(*scope.item) : nullptr)
        return supply::servicePermilleOf(*item, agency().snapshot().settings);
    return agency().snapshot().settings[serviceSetting(scope.stockClass)];
}

LevelSum LevelWhatIf::at(const LevelScope &scope, std::int64_t permille) const {
    LevelSum sum;
    for (const supply::ServiceOutlook &outlook : outlooks_) {
        const bool isMeant = scope.item ? outlook.item == *scope.item
                                        : outlook.stockClass == scope.stockClass && !outlook.hasOwnLevel;
        if (!isMeant)
            continue;
        const supply::LevelEffect effect = outlook.at(permille);
        ++sum.items;
        sum.orderUpTo += effect.orderUpTo;
        sum.cases += effect.cases;
        sum.money += effect.money;
        sum.asked += effect.asked;
        sum.missing += effect.asked * (1 - effect.fillRate);
        sum.cycleMinor += effect.cycleCost;
        if (scope.item)
            sum.cheapestPermille = outlook.cheapestPermille();
        if (!sum.mostAtRisk || effect.chanceShort > sum.chanceShort) {
            sum.mostAtRisk = outlook.item;
            sum.chanceShort = effect.chanceShort;
        }
    }
    return sum;
}

SettingKey serviceSetting(StockClass stockClass) {
    switch (stockClass) {
    case StockClass::A:
        return SettingKey::ServicePermilleA;
    case StockClass::B:
        return SettingKey::ServicePermilleB;
    case StockClass::C:
        return SettingKey::ServicePermilleC;
    }
    return SettingKey::ServicePermilleA;
}

Result<void> storeLevel(Desk &desk, const LevelScope &scope, std::int64_t permille) {
    const AgencyPtr agency = desk.agency();
    if (!scope.item) {
        AgencySettings settings = agency->settings();
        settings.set(serviceSetting(scope.stockClass), permille);
        const auto saved = desk.save(settings);
        return saved ? Result<void>() : saved.error();
    }
    const Item *item = agency->index().item(*scope.item);
    if (!item) {
        Problem unknown;
        unknown.code = ProblemCode::UnknownRecord;
        unknown.field = "item_id";
        unknown.args = {"item", std::to_string(scope.item->value())};
        return unknown;
    }
    Item changed = *item;
    changed.serviceLevelPermille = permille;
    const auto saved = desk.save(changed);
    return saved ? Result<void>() : saved.error();
}

} // namespace kitround::desk
