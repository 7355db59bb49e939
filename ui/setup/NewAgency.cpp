#include "ui/setup/NewAgency.h"

#include "core/desk/words/Figures.h"
#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Words.h"
#include "core/records/Validate.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/WrappedLabel.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QFileInfo>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include <algorithm>
#include <functional>
#include <initializer_list>
#include <string_view>

namespace kitround::ui {
namespace {

constexpr qint64 kNotChosen = -1;

QString told(const Problems &problems) {
    QStringList lines;
    for (const Problem &p : problems)
        lines << desk::words(p);
    return lines.join(QLatin1Char('\n'));
}

// Fields are registered from outside the page; going back keeps what was typed.
class SetupPage : public QWizardPage {
public:
    using QWizardPage::QWizardPage;
    using QWizardPage::registerField;
    void cleanupPage() override {}
    // What is wrong with this page's own fields: told on it, before the next one opens.
    std::function<Problems()> faults;
    std::function<bool()> mayLeave; // asked then

    void addFault(QFormLayout *form) {
        fault_ = new WrappedLabel({}, this);
        fault_->setObjectName(QStringLiteral("pageFault"));
        Look::setInk(fault_, Role::Act);
        form->addRow(fault_);
    }
    bool validatePage() override {
        const Problems found = faults ? faults() : Problems();
        if (fault_)
            fault_->setText(told(found));
        return found.empty() && (!mayLeave || mayLeave());
    }

private:
    QLabel *fault_ = nullptr;
};

Problems ofFields(Problems problems, std::initializer_list<std::string_view> fields) {
    std::erase_if(problems, [&](const Problem &p) {
        return std::ranges::find(fields, std::string_view(p.field)) == fields.end();
    });
    return problems;
}

QLineEdit *line(QWizardPage *page, QFormLayout *form, const QString &name, const QString &label,
                const QString &preset = {}) {
    auto *edit = new QLineEdit(preset, page);
    edit->setObjectName(name);
    edit->setAccessibleName(label);
    form->addRow(label, edit);
    return edit;
}

QLineEdit *degreesLine(QWizardPage *page, QFormLayout *form, const QString &name, const QString &label,
                       const QString &example) {
    QLineEdit *edit = line(page, form, name, label);
    edit->setPlaceholderText(example);
    return edit;
}

// Without these the next page is out of reach: marked as in every form.
QLineEdit *neededLine(QWizardPage *page, QFormLayout *form, const QString &name, const QString &label) {
    QLineEdit *edit = line(page, form, name, QObject::tr("%1 *").arg(label));
    edit->setAccessibleName(QObject::tr("%1, required").arg(label));
    return edit;
}

} // namespace

NewAgency::NewAgency(const Clock &clock, QWidget *parent) : QWizard(parent), clock_(clock) {
    setObjectName(QStringLiteral("newAgency"));
    setWindowTitle(tr("Set up a new agency"));
    setWizardStyle(ModernStyle);
    setOption(NoBackButtonOnStartPage);
    setButtonText(FinishButton, tr("Make the agency file"));
    addPage(agencyPage());
    addPage(storeroomPage());
    addPage(firstRecordsPage());
    addPage(filePage());
    resize(640, 480);
}

NewAgency::~NewAgency() = default;

QWizardPage *NewAgency::agencyPage() {
    auto *page = new SetupPage(this);
    page->setTitle(tr("The agency"));
    page->setSubTitle(tr("How it is called and how it counts its weeks."));
    auto *form = new QFormLayout(page);
    page->setLayout(form);
    auto *name = neededLine(page, form, QStringLiteral("agency_name"), tr("Name"));
    auto *user = neededLine(page, form, QStringLiteral("user_name"), tr("Your name"));
    auto *zone = new QComboBox(page);
    zone->setObjectName(QStringLiteral("time_zone"));
    for (const char *id : {"America/New_York", "America/Chicago", "America/Denver", "America/Phoenix",
                           "America/Los_Angeles", "America/Anchorage", "Pacific/Honolulu"})
        zone->addItem(QString::fromLatin1(id));
    form->addRow(tr("Time zone"), zone);
    auto *week = new QComboBox(page);
    week->setObjectName(QStringLiteral("week_start"));
    week->addItem(tr("Sunday"), static_cast<int>(Weekday::Sunday));
    week->addItem(tr("Monday"), static_cast<int>(Weekday::Monday));
    form->addRow(tr("Visit weeks start on"), week);
    auto *holidays = new QCheckBox(tr("Visits are made on federal holidays too"), page);
    holidays->setObjectName(QStringLiteral("holidays_worked"));
    form->addRow(QString(), holidays);
    auto *marks = new QLabel(tr("* has to be filled in"), page);
    Look::setInk(marks, Role::FaintInk);
    form->addRow(QString(), marks);
    page->registerField(QStringLiteral("agency_name*"), name);
    page->registerField(QStringLiteral("user_name*"), user);
    page->registerField(QStringLiteral("time_zone"), zone, "currentText");
    page->registerField(QStringLiteral("week_start"), week, "currentData");
    page->registerField(QStringLiteral("holidays_worked"), holidays);
    page->addFault(form);
    page->faults = [this] { return ofFields(validate(agencySettings()), {"agency_name"}); };
    return page;
}

QWizardPage *NewAgency::storeroomPage() {
    auto *page = new SetupPage(this);
    page->setTitle(tr("The storeroom"));
    page->setSubTitle(
        tr("Where supplies are kept and rounds with supplies start. Coordinates make travel times "
           "right; they can be added later."));
    auto *form = new QFormLayout(page);
    page->registerField(QStringLiteral("street"), line(page, form, QStringLiteral("street"), tr("Street")));
    page->registerField(QStringLiteral("town"), line(page, form, QStringLiteral("town"), tr("Town")));
    page->registerField(QStringLiteral("postal_code"),
                        line(page, form, QStringLiteral("postal_code"), tr("Postal code")));
    page->registerField(QStringLiteral("latitude"), degreesLine(page, form, QStringLiteral("latitude"),
                                                                tr("Latitude, degrees north"), tr("40.75")));
    page->registerField(QStringLiteral("longitude"),
                        degreesLine(page, form, QStringLiteral("longitude"), tr("Longitude, degrees east"),
                                    desk::longitudeExample()));
    page->addFault(form);
    page->faults = [this] { return storeroomFaults(); };
    page->mayLeave = [this] {
        AgencySettings settings = agencySettings();
        readPoint(settings.storeroom); // what cannot be read is told before this
        const QString odd = desk::oddStoreroomText(settings);
        return odd.isEmpty() ||
               Ask::confirm(this, tr("Is this place right?"), odd, tr("It is right: go on"), tr("Go back"));
    };
    return page;
}

QWizardPage *NewAgency::firstRecordsPage() {
    auto *page = new SetupPage(this);
    page->setTitle(tr("The first nurse, kits and payer"));
    page->setSubTitle(
        tr("Enough to begin; leave a name empty to skip it. More are added under Nurses and Items "
           "and suppliers."));
    auto *form = new QFormLayout(page);
    page->registerField(QStringLiteral("nurse_family"),
                        line(page, form, QStringLiteral("nurse_family"), tr("Nurse, family name")));
    page->registerField(QStringLiteral("nurse_given"),
                        line(page, form, QStringLiteral("nurse_given"), tr("Nurse, given name")));
    addNurseFields(page, form);
    addKitFields(page, form);
    page->registerField(QStringLiteral("payer"), line(page, form, QStringLiteral("payer"),
                                                      tr("Usual payer of supplies"), tr("Usual payer")));
    page->addFault(form);
    page->faults = [this] { return firstRecordFaults(); };
    return page;
}

void NewAgency::addNurseFields(QWizardPage *wizardPage, QFormLayout *form) {
    auto *page = static_cast<SetupPage *>(wizardPage);
    auto *credential = new QComboBox(page);
    credential->setObjectName(QStringLiteral("nurse_credential"));
    credential->addItem(tr("choose…"), kNotChosen); // nobody's by default
    for (const Credential c : {Credential::RegisteredNurse, Credential::PracticalNurse, Credential::Aide})
        credential->addItem(desk::words(c), static_cast<qint64>(c));
    form->addRow(tr("Nurse, credential"), credential);
    page->registerField(QStringLiteral("nurse_credential"), credential, "currentData");
    QLineEdit *hours = line(page, form, QStringLiteral("nurse_hours"), tr("Nurse, contract a week"));
    hours->setPlaceholderText(tr("hours: 37.5 is 37 h 30 min"));
    page->registerField(QStringLiteral("nurse_hours"), hours);
}

void NewAgency::addKitFields(QWizardPage *wizardPage, QFormLayout *form) {
    auto *page = static_cast<SetupPage *>(wizardPage);
    auto *kits = new QCheckBox(tr("Add drainage kits of 500 mL and 1000 mL, ten to a case"), page);
    kits->setObjectName(QStringLiteral("add_kits"));
    kits->setChecked(true);
    form->addRow(QString(), kits);
    page->registerField(QStringLiteral("add_kits"), kits);
    QLineEdit *connector = line(page, form, QStringLiteral("kit_connector"), tr("Kits, connector class"));
    connector->setPlaceholderText(tr("as the label has it"));
    page->registerField(QStringLiteral("kit_connector"), connector);
    auto *fitsAny = new QCheckBox(tr("They fit any catheter"), page);
    fitsAny->setObjectName(QStringLiteral("kit_fits_any"));
    form->addRow(QString(), fitsAny);
    page->registerField(QStringLiteral("kit_fits_any"), fitsAny);
    const auto follow = [kits, connector, fitsAny] {
        connector->setEnabled(kits->isChecked() && !fitsAny->isChecked());
        fitsAny->setEnabled(kits->isChecked());
    };
    for (QCheckBox *box : {kits, fitsAny})
        connect(box, &QCheckBox::toggled, page, follow);
}

QWizardPage *NewAgency::filePage() {
    auto *page = new SetupPage(this);
    page->setTitle(tr("The file"));
    page->setSubTitle(tr("One file holds everything. Keep it on an encrypted disk; back it up daily."));
    auto *form = new QFormLayout(page);
    auto *row = new QWidget(page);
    auto *rowLayout = new QHBoxLayout(row);
    rowLayout->setContentsMargins(0, 0, 0, 0);
    auto *file = new QLineEdit(QDir::home().filePath(QStringLiteral("agency.kitround")), row);
    file->setObjectName(QStringLiteral("file"));
    file->setAccessibleName(tr("File"));
    auto *choose = new QPushButton(tr("Choose…"), row);
    rowLayout->addWidget(file, 1);
    rowLayout->addWidget(choose);
    form->addRow(tr("File"), row);
    connect(choose, &QPushButton::clicked, page, [this, file] {
        if (const auto chosen = Ask::saveFile(this, tr("Make the agency file"),
                                              QStringLiteral("Kitround (*.kitround)"), file->text()))
            file->setText(*chosen);
    });
    fault_ = new WrappedLabel({}, page);
    fault_->setObjectName(QStringLiteral("newAgencyFault"));
    Look::setInk(fault_, Role::Act);
    form->addRow(fault_);
    // Not marked as needed: a proposed name that nobody changed would count as empty. make() asks for one.
    page->registerField(QStringLiteral("file"), file);
    return page;
}

void NewAgency::accept() {
    if (const auto problem = make()) {
        fault_->setText(told(flattened(*problem)));
        return;
    }
    QWizard::accept();
}

std::string NewAgency::entered(const char *name) const {
    return field(QLatin1String(name)).toString().trimmed().toStdString();
}

AgencySettings NewAgency::agencySettings() const {
    AgencySettings settings;
    settings.agencyName = entered("agency_name");
    settings.timeZone = entered("time_zone");
    settings.weekStart = static_cast<Weekday>(field(QStringLiteral("week_start")).toInt());
    settings.holidaysAreWorked = field(QStringLiteral("holidays_worked")).toBool();
    settings.storeroom.street = entered("street");
    settings.storeroom.town = entered("town");
    settings.storeroom.postalCode = entered("postal_code");
    return settings;
}

std::optional<Problem> NewAgency::readPoint(Address &to) const {
    if (entered("latitude").empty() && entered("longitude").empty())
        return std::nullopt;
    const auto latitude = decimalIn(field(QStringLiteral("latitude")).toString());
    const auto longitude = decimalIn(field(QStringLiteral("longitude")).toString());
    if (!latitude || !longitude) {
        const char *wrong = latitude ? "longitude" : "latitude";
        return entered(wrong).empty() ? Problem{ProblemCode::Missing, wrong}
                                      : Problem{ProblemCode::NotANumber, wrong, {entered(wrong), "decimals"}};
    }
    to.point = GeoPoint{*latitude, *longitude};
    return std::nullopt;
}

Problems NewAgency::storeroomFaults() const {
    AgencySettings settings = agencySettings();
    if (const auto unread = readPoint(settings.storeroom))
        return Problems{*unread};
    return ofFields(validate(settings), {"street", "town", "postal_code", "latitude", "longitude"});
}

Result<Nurse> NewAgency::firstNurse() const {
    Nurse nurse;
    nurse.code = "N1";
    nurse.familyName = entered("nurse_family");
    nurse.givenName = entered("nurse_given");
    nurse.startsAtStoreroom = true; // and ends there: no copy of its address that would stay behind
    Problems faults;
    const qint64 credential = field(QStringLiteral("nurse_credential")).toLongLong();
    if (credential == kNotChosen)
        faults.push_back(Problem{ProblemCode::Missing, "credential"});
    else
        nurse.credential = static_cast<Credential>(credential);
    const auto hours = desk::hoursFrom(field(QStringLiteral("nurse_hours")).toString(), "contract");
    if (hours)
        nurse.contractPerWeek = *hours;
    else
        faults.push_back(hours.error());
    for (Problem &p : validate(nurse))
        faults.push_back(std::move(p));
    if (!faults.empty())
        return joined(std::move(faults));
    return nurse;
}

Problems NewAgency::firstRecordFaults() const {
    Problems faults;
    if (!entered("nurse_family").empty())
        if (const auto nurse = firstNurse(); !nurse)
            faults = flattened(nurse.error());
    const bool isKitOpen = field(QStringLiteral("add_kits")).toBool() &&
                           !field(QStringLiteral("kit_fits_any")).toBool() &&
                           entered("kit_connector").empty();
    if (isKitOpen)
        faults.push_back(Problem{ProblemCode::Missing, "connector"});
    return faults;
}

std::optional<Problem> NewAgency::addFirstRecords(desk::Desk &desk) const {
    if (!entered("nurse_family").empty()) {
        const auto nurse = firstNurse();
        if (!nurse)
            return nurse.error();
        if (const auto saved = desk.save(*nurse); !saved)
            return saved.error();
    }
    if (!entered("payer").empty()) {
        Payer payer;
        payer.name = entered("payer");
        if (const auto saved = desk.save(payer); !saved)
            return saved.error();
    }
    if (!field(QStringLiteral("add_kits")).toBool())
        return std::nullopt;
    const bool fitsAny = field(QStringLiteral("kit_fits_any")).toBool();
    for (const int size : {500, 1000}) {
        Item kit;
        kit.code = "KIT-" + std::to_string(size);
        kit.name = tr("Drainage kit, %1 mL bottle").arg(size).toStdString();
        kit.kind = ItemKind::Kit;
        kit.bottleVolume = Millilitres::of(size);
        kit.casePack = PackSize{Eaches::of(10)};
        if (!fitsAny)
            kit.connector = entered("kit_connector");
        const auto fits = fitsAny ? desk::KitFits::AnyCatheter : desk::KitFits::AsWritten;
        if (const auto saved = desk.save(kit, fits); !saved)
            return saved.error();
    }
    return std::nullopt;
}

std::optional<Problem> NewAgency::make() {
    if (entered("file").empty())
        return Problem{ProblemCode::Missing, "file", {}};
    AgencySettings settings = agencySettings();
    if (const auto unread = readPoint(settings.storeroom))
        return unread;
    auto made = desk::Desk::create(entered("file"), settings, entered("user_name"), clock_);
    if (!made)
        return made.error();
    if (const auto refused = addFirstRecords(**made))
        return refused;
    desk_ = std::move(*made);
    return std::nullopt;
}

} // namespace kitround::ui
