#pragma once
// A short guided set-up: the agency, its storeroom, its first nurse, its first item and payer, and where the
// file goes. Everything can be changed later.
#include "core/base/Clock.h"
#include "core/desk/Desk.h"

#include <QWizard>

#include <memory>

class QLabel;

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
    QWizardPage *filePage();
    std::optional<Problem> make();

    const Clock &clock_;
    std::unique_ptr<desk::Desk> desk_;
    QLabel *fault_ = nullptr;
};

} // namespace kitround::ui
