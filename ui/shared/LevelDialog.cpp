#include "ui/shared/LevelDialog.h"

#include "core/desk/words/Words.h"
#include "ui/shared/BackgroundJob.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/Session.h"

#include <QComboBox>
#include <QDoubleSpinBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QSignalBlocker>
#include <QSlider>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace kitround::ui {
namespace {

constexpr int kLeast = 800, kMost = 999; // thousandths

QString percent(std::int64_t permille) {
    return QObject::tr("%1 %").arg(static_cast<double>(permille) / 10.0, 0, 'f', 1);
}

QString classText(StockClass stockClass) {
    return stockClass == StockClass::A   ? QStringLiteral("A")
           : stockClass == StockClass::B ? QStringLiteral("B")
                                         : QStringLiteral("C");
}

} // namespace

LevelDialog::LevelDialog(Session &session, ItemId item, QWidget *parent)
    : QDialog(parent), session_(session), item_(item) {
    setObjectName(QStringLiteral("levelDialog"));
    setWindowTitle(tr("Another service level"));
    build();
    connect(&session_, &Session::computed, this, &LevelDialog::workOut);
    connect(&session_, &Session::closed, this, &QDialog::reject);
    workOut();
}

void LevelDialog::build() {
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(Look::kPage, Look::kPage, Look::kPage, Look::kPage);
    layout->setSpacing(Look::kInside);
    addFields(*layout);
    addFigures(*layout);
    note_ = new QLabel(this);
    note_->setObjectName(QStringLiteral("levelNote"));
    note_->setWordWrap(true);
    layout->addWidget(note_);
    layout->addStretch(1);
    auto *foot = new QHBoxLayout;
    foot->addStretch(1);
    use_ = new QPushButton(tr("Use this level"), this);
    use_->setObjectName(QStringLiteral("levelUse"));
    use_->setAutoDefault(false);
    auto *close = new QPushButton(tr("Leave it as it is"), this);
    close->setObjectName(QStringLiteral("levelClose"));
    close->setAutoDefault(false);
    foot->addWidget(use_);
    foot->addWidget(close);
    layout->addLayout(foot);
    resize(600, 460);

    connect(scope_, &QComboBox::currentIndexChanged, this, &LevelDialog::scopeChosen);
    connect(slider_, &QSlider::valueChanged, this, [this](int value) { levelMoved(value); });
    connect(spin_, &QDoubleSpinBox::valueChanged, this,
            [this](double value) { levelMoved(std::llround(value * 10)); });
    connect(use_, &QPushButton::clicked, this, &LevelDialog::store);
    connect(close, &QPushButton::clicked, this, &QDialog::reject);
}

void LevelDialog::addFields(QVBoxLayout &layout) {
    auto *form = new QFormLayout;
    scope_ = new QComboBox(this);
    scope_->setObjectName(QStringLiteral("levelScope"));
    const SnapshotIndex &index = session_.agency()->index();
    const Item *item = index.item(item_);
    const StockClass stockClass = item ? item->stockClass : StockClass::A;
    scope_->addItem(tr("only %1").arg(desk::itemName(index, item_)), -1);
    scope_->addItem(tr("all items of class %1 without a level of their own").arg(classText(stockClass)),
                    static_cast<int>(stockClass));
    form->addRow(tr("&For"), scope_);
    auto *row = new QHBoxLayout;
    slider_ = new QSlider(Qt::Horizontal, this);
    slider_->setObjectName(QStringLiteral("levelSlider"));
    slider_->setAccessibleName(tr("Service level"));
    slider_->setRange(kLeast, kMost);
    slider_->setPageStep(10);
    slider_->setMinimumWidth(280);
    spin_ = new QDoubleSpinBox(this);
    spin_->setObjectName(QStringLiteral("levelSpin"));
    spin_->setAccessibleName(tr("Service level, per cent"));
    spin_->setRange(kLeast / 10.0, kMost / 10.0);
    spin_->setDecimals(1);
    spin_->setSingleStep(0.1);
    spin_->setSuffix(tr(" %"));
    row->addWidget(slider_, 1);
    row->addWidget(spin_);
    auto *level = new QLabel(tr("&Service level"), this);
    level->setBuddy(slider_); // of a row of two the form would name neither
    form->addRow(level, row);
    layout.addLayout(form);
}

void LevelDialog::addFigures(QVBoxLayout &layout) {
    auto *grid = new QGridLayout;
    grid->setHorizontalSpacing(Look::kPage);
    grid->setVerticalSpacing(0);
    const QStringList names = {tr("Service level"),
                               tr("Order up to, eaches"),
                               tr("To order now, cases"),
                               tr("That costs"),
                               tr("Chance of running short"),
                               tr("Of what is asked for, there"),
                               tr("Keeping and couriers, a review")};
    for (int i = 0; i < names.size(); ++i) {
        grid->addWidget(new QLabel(names[i], this), i + 1, 0);
        grid->setRowMinimumHeight(i + 1, 24);
        for (auto *column : {&now_, &then_}) {
            auto *cell = new QLabel(this);
            cell->setObjectName(
                QStringLiteral("%1_%2").arg(column == &now_ ? u"levelNow" : u"levelThen").arg(i));
            cell->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
            cell->setMinimumWidth(130);
            grid->addWidget(cell, i + 1, column == &now_ ? 1 : 2);
            (*column)[static_cast<std::size_t>(i)] = cell;
        }
    }
    const auto head = [&](const QString &text, int column) {
        auto *label = new QLabel(text, this);
        label->setFont(Look::strongFont());
        label->setAlignment(Qt::AlignRight);
        grid->addWidget(label, 0, column);
    };
    head(tr("Now"), 1);
    head(tr("With the level"), 2);
    grid->setRowMinimumHeight(0, 24);
    grid->setColumnStretch(3, 1);
    layout.addLayout(grid);
}

void LevelDialog::workOut() {
    const desk::StockPicturePtr picture = session_.stock();
    whatIf_.reset();
    use_->setEnabled(false);
    note_->setText(tr("Working out what the level does…"));
    if (picture)
        BackgroundJob::start(
            this,
            [picture](const std::stop_token &, const ProgressSink &) -> desk::LevelWhatIfPtr {
                return std::make_shared<const desk::LevelWhatIf>(picture);
            },
            [this](desk::LevelWhatIfPtr whatIf) { worked(std::move(whatIf)); });
}

void LevelDialog::worked(desk::LevelWhatIfPtr whatIf) {
    whatIf_ = std::move(whatIf);
    if (level_ == 0)
        scopeChosen();
    else
        showEffect();
}

desk::LevelScope LevelDialog::scope() const {
    const int chosen = scope_->currentData().toInt();
    return chosen < 0 ? desk::LevelScope{item_, {}}
                      : desk::LevelScope{std::nullopt, static_cast<StockClass>(chosen)};
}

void LevelDialog::scopeChosen() {
    if (whatIf_)
        levelMoved(std::clamp<std::int64_t>(whatIf_->levelNow(scope()), kLeast, kMost));
}

void LevelDialog::levelMoved(std::int64_t permille) {
    level_ = permille;
    const QSignalBlocker quietSlider(slider_), quietSpin(spin_);
    slider_->setValue(static_cast<int>(permille));
    if (std::llround(spin_->value() * 10) != permille) // what is being typed is left as it is
        spin_->setValue(static_cast<double>(permille) / 10.0);
    showEffect();
}

void LevelDialog::showEffect() {
    if (!whatIf_)
        return;
    const std::int64_t now = whatIf_->levelNow(scope());
    const std::string &currency = whatIf_->agency().settings().currency;
    const auto fill = [&](Cells &cells, std::int64_t permille) {
        const desk::LevelSum sum = whatIf_->at(scope(), permille);
        const QStringList texts = {percent(permille),
                                   QString::number(sum.orderUpTo.count()),
                                   QString::number(sum.cases.count()),
                                   desk::moneyText(sum.money, currency),
                                   desk::chanceText(sum.chanceShort),
                                   tr("%1 %").arg(100 * sum.fillRate(), 0, 'f', 1),
                                   desk::moneyText(Money::of(std::llround(sum.cycleMinor)), currency)};
        for (std::size_t i = 0; i < cells.size(); ++i)
            cells[i]->setText(texts[static_cast<qsizetype>(i)]);
        return sum;
    };
    fill(now_, now);
    const desk::LevelSum then = fill(then_, level_);
    QStringList note;
    if (then.items == 0)
        note << tr("Every item of this class has a level of its own.");
    else if (then.items > 1 && then.mostAtRisk)
        note << tr("Sums over %1 items. The chance is that of the item most at risk: %2.")
                    .arg(then.items)
                    .arg(desk::itemName(whatIf_->agency().index(), *then.mostAtRisk));
    note << tr("Running short: more is asked for until the order after this one could be here than stands "
               "on the shelf and is on order. Whole cases are counted; topping up to a supplier's minimum is "
               "not.");
    if (then.cheapestPermille)
        note << tr("Were a courier run (%1) needed for each piece missing, the level that costs least would "
                   "be %2 "
                   "with what it costs to keep a piece from one review to the next.")
                    .arg(desk::moneyText(
                             Money::of(whatIf_->agency().settings()[SettingKey::CourierCostMinor]), currency),
                         percent(*then.cheapestPermille));
    note_->setText(note.join(QLatin1Char('\n')));
    use_->setEnabled(level_ != now && then.items > 0 && !session_.isReadOnly());
    use_->setText(tr("Use this level (%1)").arg(percent(level_)));
}

void LevelDialog::store() {
    const desk::LevelScope chosen = scope();
    const bool isStored = session_.writeOrTell(
        this,
        chosen.item
            ? tr("Service level of %1 is now %2")
                  .arg(desk::itemName(session_.agency()->index(), *chosen.item), percent(level_))
            : tr("Service level of class %1 is now %2").arg(classText(chosen.stockClass), percent(level_)),
        [&](desk::Desk &d) { return desk::storeLevel(d, chosen, level_); });
    if (isStored)
        accept();
}

} // namespace kitround::ui
