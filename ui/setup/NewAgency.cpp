#include "ui/setup/NewAgency.h"

#include "core/desk/words/PlaceWords.h"
#include "core/desk/words/Words.h"
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/Look.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QFileInfo>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include <functional>

namespace kitround::ui {
namespace {

// Fields are registered from outside the page; going back keeps what was typed.
class SetupPage : public QWizardPage {
public:
    using QWizardPage::QWizardPage;
    using QWizardPage::registerField;
    void cleanupPage() override {}
    // Asked before the next page opens.
    std::function<bool()> mayLeave;
    bool validatePage() override { return !mayLeave || mayLeave(); }
};

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
    page->mayLeave = [this] {
        AgencySettings settings;
        settings.timeZone = field(QStringLiteral("time_zone")).toString().toStdString();
        const auto latitude = decimalIn(field(QStringLiteral("latitude")).toString());
        const auto longitude = decimalIn(field(QStringLiteral("longitude")).toString());
        if (latitude && longitude) // what cannot be read is told when the file is made
            settings.storeroom.point = GeoPoint{*latitude, *longitude};
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
    auto *kits = new QCheckBox(tr("Add drainage kits of 500 mL and 1000 mL, ten to a case"), page);
    kits->setObjectName(QStringLiteral("add_kits"));
    kits->setChecked(true);
    form->addRow(QString(), kits);
    page->registerField(QStringLiteral("add_kits"), kits);
    page->registerField(QStringLiteral("payer"), line(page, form, QStringLiteral("payer"),
                                                      tr("Usual payer of supplies"), tr("Usual payer")));
    return page;
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
    fault_ = new QLabel(page);
    fault_->setObjectName(QStringLiteral("newAgencyFault"));
    fault_->setWordWrap(true);
    Look::setInk(fault_, Role::Act);
    form->addRow(fault_);
    // Not marked as needed: a proposed name that nobody changed would count as empty. make() asks for one.
    page->registerField(QStringLiteral("file"), file);
    return page;
}

void NewAgency::accept() {
    if (const auto problem = make()) {
        QStringList lines;
        for (const Problem &p : flattened(*problem))
            lines << desk::words(p);
        fault_->setText(lines.join(QLatin1Char('\n')));
        return;
    }
    QWizard::accept();
}

std::optional<Problem> NewAgency::make() {
    const auto text = [this](const char *name) {
        return field(QLatin1String(name)).toString().trimmed().toStdString();
    };
    if (text("file").empty())
        return Problem{ProblemCode::Missing, "file", {}};
    AgencySettings settings;
    settings.agencyName = text("agency_name");
    settings.timeZone = text("time_zone");
    settings.weekStart = static_cast<Weekday>(field(QStringLiteral("week_start")).toInt());
    settings.holidaysAreWorked = field(QStringLiteral("holidays_worked")).toBool();
    settings.storeroom.street = text("street");
    settings.storeroom.town = text("town");
    settings.storeroom.postalCode = text("postal_code");
    if (!text("latitude").empty() || !text("longitude").empty()) {
        const auto latitude = decimalIn(field(QStringLiteral("latitude")).toString());
        const auto longitude = decimalIn(field(QStringLiteral("longitude")).toString());
        if (!latitude || !longitude) {
            const char *wrong = latitude ? "longitude" : "latitude";
            return text(wrong).empty() ? Problem{ProblemCode::Missing, wrong}
                                       : Problem{ProblemCode::NotANumber, wrong, {text(wrong), "decimals"}};
        }
        settings.storeroom.point = GeoPoint{*latitude, *longitude};
    }
    auto made = desk::Desk::create(text("file"), settings, text("user_name"), clock_);
    if (!made)
        return made.error();
    desk::Desk &desk = **made;
    if (!text("nurse_family").empty()) {
        Nurse nurse;
        nurse.code = "N1";
        nurse.familyName = text("nurse_family");
        nurse.givenName = text("nurse_given");
        nurse.startsAtStoreroom = true; // and ends there: no copy of its address that would stay behind
        if (const auto saved = desk.save(nurse); !saved)
            return saved.error();
    }
    if (!text("payer").empty()) {
        Payer payer;
        payer.name = text("payer");
        if (const auto saved = desk.save(payer); !saved)
            return saved.error();
    }
    if (field(QStringLiteral("add_kits")).toBool())
        for (const int size : {500, 1000}) {
            Item kit;
            kit.code = "KIT-" + std::to_string(size);
            kit.name = tr("Drainage kit, %1 mL bottle").arg(size).toStdString();
            kit.kind = ItemKind::Kit;
            kit.bottleVolume = Millilitres::of(size);
            kit.casePack = PackSize{Eaches::of(10)};
            if (const auto saved = desk.save(kit, desk::KitFits::AnyCatheter); !saved)
                return saved.error();
        }
    desk_ = std::move(*made);
    return std::nullopt;
}

} // namespace kitround::ui
