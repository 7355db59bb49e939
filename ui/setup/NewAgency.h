#pragma once
// A short guided set-up: the agency, its storeroom, its first nurse, its first item and payer, and where the
// file goes. Everything can be changed later.
#include "core/base/Clock.h"
#include "core/desk/Desk.h"

#include <QWizard>

#include <memory>

class QFormLayout;
class QLabel;
class QWizardPage;

namespace kitround::ui {

class NewAgency : public QWizard {
    Q_OBJECT
public:
    NewAgency(const Clock &clock, QWidget *parent);
    ~NewAgency() override;
    std::unique_ptr<desk::Desk> takeDesk() { return std::move(desk_); } // after Accepted

    void accept() override; // makes the file; stays open with the problem shown where that fails

private:
    QWizardPage *agencyPage();
    QWizardPage *storeroomPage();
    QWizardPage *firstRecordsPage();
    void addNurseFields(QWizardPage *page, QFormLayout *form);
    void addKitFields(QWizardPage *page, QFormLayout *form);
    QWizardPage *filePage();
    // What stands on the pages so far.
    std::string entered(const char *name) const;
    AgencySettings agencySettings() const;               // without the place on the map
    std::optional<Problem> readPoint(Address &to) const; // both degrees or neither
    Result<Nurse> firstNurse() const;                    // nobody's credential and hours are made up
    Problems storeroomFaults() const;
    Problems firstRecordFaults() const;
    std::optional<Problem> make();
    std::optional<Problem> addFirstRecords(desk::Desk &desk) const;

    const Clock &clock_;
    std::unique_ptr<desk::Desk> desk_;
    QLabel *fault_ = nullptr;
};

} // namespace kitround::ui
