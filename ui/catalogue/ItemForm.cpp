#include "core/desk/words/Words.h"
#include "ui/catalogue/CatalogueForms.h"
#include "ui/catalogue/CatalogueWords.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Session.h"

#include <QCheckBox>
#include <QLineEdit>

namespace kitround::ui {
namespace {

// Other items with how many of each: contents of a kit, substitutes.
struct PartsEditor {
    ListEditor *editor = nullptr;
    std::string field;

    struct Part {
        ItemId item;
        Eaches count;
    };
    std::vector<Part> read(RecordForm &form) const {
        std::vector<Part> parts;
        for (int i = 0; i < editor->rowCount(); ++i)
            parts.push_back({ItemId(editor->choice(i, 0)),
                             Eaches::of(readNeededListedNumber(form, field, *editor, {i, 1}))});
        return parts;
    }
};

PartsEditor addParts(RecordForm &form, const Snapshot &agency, const std::string &field, const QString &label,
                     const QString &addText, const std::vector<PartsEditor::Part> &parts) {
    auto *editor =
        new ListEditor(addText,
                       {{.name = QObject::tr("Item"), .choices = itemChoices(agency, {}), .width = 260},
                        {.name = QObject::tr("How many"), .width = 80}},
                       &form);
    for (const PartsEditor::Part &part : parts)
        editor->addRow({QString::number(part.item.value()), QString::number(part.count.count())});
    form.addWidget(field, label, editor);
    return {editor, field};
}

class ItemForm {
public:
    ItemForm(QWidget *window, Session &session, Item item)
        : session_(session), agency_(session.agency()), item_(std::move(item)),
          form_(item_.id.isSet() ? QObject::tr("Item: %1").arg(QString::fromStdString(item_.name))
                                 : QObject::tr("New item"),
                window) {
        addWhat();
        addStocking();
        addParts();
    }
    bool run();

private:
    void addWhat();
    void addStocking();
    void addParts();
    Item read();
    std::optional<std::int64_t> count(const std::string &field) { return form_.numberOf(field); }

    Session &session_;
    desk::AgencyPtr agency_;
    Item item_;
    RecordForm form_;
    QListWidget *contains_ = nullptr;
    PartsEditor contents_, substitutes_;
};

void ItemForm::addWhat() {
    form_.addPage(QObject::tr("What it is"));
    form_.addText("code", QObject::tr("Reference"), item_.code);
    form_.addText("name", QObject::tr("Name"), item_.name);
    form_.addChoice(
        "kind", QObject::tr("Kind"),
        choicesOf({ItemKind::Kit, ItemKind::Bottle, ItemKind::Dressing, ItemKind::Other}, itemKindText),
        static_cast<qint64>(item_.kind));
    form_.addNumber("bottle_volume_ml", QObject::tr("Bottle holds"),
                    item_.bottleVolume ? std::optional(item_.bottleVolume->count()) : std::nullopt,
                    QObject::tr("mL"));
    form_.addText("gtin", QObject::tr("Article number (GTIN)"), item_.gtin)
        ->setPlaceholderText(QObject::tr("14 digits, or empty"));
    QLineEdit *connector = form_.addText("connector", QObject::tr("Connector class"), item_.connector);
    connector->setPlaceholderText(QObject::tr("needed for a kit or a bottle"));
    // What nobody has said yet is not "any": it would go to every home.
    const bool wasAny = item_.id.isSet() && item_.connector.empty();
    QCheckBox *fitsAny = form_.addCheck("fits_any", QObject::tr("Fits any catheter"), wasAny);
    connector->setDisabled(wasAny);
    QObject::connect(fitsAny, &QCheckBox::toggled, connector, &QLineEdit::setDisabled);
    std::vector<qint64> contained;
    for (const Material m : item_.contains)
        contained.push_back(static_cast<qint64>(m));
    contains_ = makeCheckList(materialChoices(), contained, &form_);
    form_.addWidget("contains", QObject::tr("Contains"), contains_);
    form_.addNote(QObject::tr("An item is never suggested to a person allergic to what it contains."));
    form_.addCheck("is_active", QObject::tr("Still stocked"), item_.isActive);
}

void ItemForm::addStocking() {
    form_.addPage(QObject::tr("Stocking"));
    form_.addNumber("eaches_per_case", QObject::tr("In a shelf case"), item_.casePack.eachesPerCase.count(),
                    QObject::tr("pieces"));
    form_.addCheck("send_whole_cases", QObject::tr("Sent to homes in whole cases only"),
                   item_.sendWholeCases);
    form_.addNumber("unit_volume_ml", QObject::tr("Outside volume of one piece"), item_.unitVolumeMl,
                    QObject::tr("mL"));
    form_.addNumber("shelf_life_days", QObject::tr("Shelf life when made"),
                    item_.shelfLife ? std::optional(item_.shelfLife->count()) : std::nullopt,
                    QObject::tr("days; empty: not known"));
    form_.addNumber("least_life_on_receipt_days", QObject::tr("Least life on receipt"),
                    item_.leastLifeOnReceipt.count(), QObject::tr("days"));
    form_.addNumber("least_life_to_home_days", QObject::tr("Least life for homes"),
                    item_.leastLifeToHome.count(), QObject::tr("days"));
    form_.addChoice("stock_class", QObject::tr("Class"),
                    {{QStringLiteral("A"), qint64(StockClass::A)},
                     {QStringLiteral("B"), qint64(StockClass::B)},
                     {QStringLiteral("C"), qint64(StockClass::C)}},
                    static_cast<qint64>(item_.stockClass));
    form_.addNumber("service_level_permille", QObject::tr("Service level"), item_.serviceLevelPermille,
                    QObject::tr("per thousand; empty: as set for the class"));
}

void ItemForm::addParts() {
    form_.addPage(QObject::tr("Inside and instead"));
    std::vector<PartsEditor::Part> contents, substitutes;
    for (const KitContent &c : item_.contents)
        contents.push_back({c.item, c.count});
    for (const Substitute &s : item_.substitutes)
        substitutes.push_back({s.item, s.per});
    contents_ = ui::addParts(form_, agency_->snapshot(), "contents", QObject::tr("Inside a kit"),
                             QObject::tr("Add what is inside"), contents);
    substitutes_ =
        ui::addParts(form_, agency_->snapshot(), "substitutes", QObject::tr("May stand in for one"),
                     QObject::tr("Add a substitute"), substitutes);
    form_.addNote(QObject::tr("A substitute is used only where the drain order allows it."));
}

Item ItemForm::read() {
    Item r = item_;
    r.code = form_.textOf("code");
    r.name = form_.textOf("name");
    r.kind = static_cast<ItemKind>(form_.choiceOf("kind"));
    const auto volume = count("bottle_volume_ml");
    r.bottleVolume = volume ? std::optional(Millilitres::of(*volume)) : std::nullopt;
    r.gtin = form_.textOf("gtin");
    r.connector = form_.checkOf("fits_any") ? std::string() : form_.textOf("connector");
    r.contains.clear();
    for (const qint64 m : checkedOf(*contains_))
        r.contains.push_back(static_cast<Material>(m));
    r.isActive = form_.checkOf("is_active");
    r.casePack.eachesPerCase = Eaches::of(form_.neededNumberOf("eaches_per_case"));
    r.sendWholeCases = form_.checkOf("send_whole_cases");
    r.unitVolumeMl = form_.neededNumberOf("unit_volume_ml");
    const auto life = count("shelf_life_days");
    r.shelfLife = life ? std::optional(Days::of(*life)) : std::nullopt;
    r.leastLifeOnReceipt = Days::of(form_.neededNumberOf("least_life_on_receipt_days"));
    r.leastLifeToHome = Days::of(form_.neededNumberOf("least_life_to_home_days"));
    r.stockClass = static_cast<StockClass>(form_.choiceOf("stock_class"));
    r.serviceLevelPermille = count("service_level_permille");
    r.contents.clear();
    for (const PartsEditor::Part &part : contents_.read(form_))
        r.contents.push_back({part.item, part.count});
    r.substitutes.clear();
    for (const PartsEditor::Part &part : substitutes_.read(form_))
        r.substitutes.push_back({part.item, part.count});
    return r;
}

bool ItemForm::run() {
    form_.require({"code", "name", "eaches_per_case", "unit_volume_ml", "least_life_on_receipt_days",
                   "least_life_to_home_days"});
    form_.onSave([this] { return read(); },
                 [this](const Item &record) {
                     return session_.write(QObject::tr("Saved an item"), [&](desk::Desk &d) {
                         return d.save(record, form_.checkOf("fits_any") ? desk::KitFits::AnyCatheter
                                                                         : desk::KitFits::AsWritten);
                     });
                 });
    return form_.exec() == QDialog::Accepted;
}

} // namespace

bool editItem(QWidget *window, Session &session, Item item) {
    return ItemForm(window, session, std::move(item)).run();
}

} // namespace kitround::ui
