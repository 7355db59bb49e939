#pragma once
// The supply clerk's two pages on a fresh sample agency, found by object names and driven as a person does.
#include "core/desk/LocalNow.h"
#include "tests/gui/PageStory.h"
#include "ui/reorders/ReorderPage.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/Session.h"
#include "ui/stock/FanChart.h"
#include "ui/stock/LotTraceDialog.h"
#include "ui/stock/StockPage.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QRegularExpression>
#include <QTabWidget>
#include <QTest>
#include <QTimer>

#include <algorithm>
#include <functional>

namespace kitround::ui {

inline QString s(const char *text) {
    return QString::fromUtf8(text);
}

class ClerkPages : public PageStory {
protected:
    // Ten in the morning in New York.
    ClerkPages() : PageStory("2026-11-19T15:00:00Z") {
        stock_ = std::make_unique<StockPage>(session_);
        reorders_ = std::make_unique<ReorderPage>(session_);
        stock_->resize(1280, 720);
        reorders_->resize(1280, 720);
        openSample();
        EXPECT_TRUE(settled());
    }

    // Everything written is read back and worked out, the storeroom's rows too.
    bool settled() {
        return waitFor([&] {
            return session_.stock() && !session_.isBusy() && session_.stock()->agency == session_.agency() &&
                   table(*stock_, "storeroomTable")->model()->rowCount() > 0;
        });
    }
    static DenseTable *table(const QWidget &page, const char *name) {
        return page.findChild<DenseTable *>(s(name));
    }
    static QString cell(const DenseTable *table, int row, int column) {
        return table->model()->index(row, column).data().toString();
    }
    static void press(const QWidget &page, const char *name) {
        auto *button = page.findChild<QPushButton *>(s(name));
        ASSERT_NE(button, nullptr) << name;
        ASSERT_TRUE(button->isEnabled()) << name;
        button->click();
    }
    static void showTab(const QWidget &page, const char *tabs, int index) {
        page.findChild<QTabWidget *>(s(tabs))->setCurrentIndex(index);
    }
    static void type(QWidget &form, const char *field, const char *text) {
        auto *edit = form.findChild<QLineEdit *>(s(field));
        ASSERT_NE(edit, nullptr) << field;
        edit->setText(s(text));
    }
    static QString fault(const QWidget &form, const char *field) {
        const auto *label = form.findChild<QLabel *>(s(field) + s("_fault"));
        return label && !label->isHidden() ? label->text() : QString();
    }
    // Fills the next form that opens, now or later. A form left open is closed, so that a failing test ends.
    void whenFormOpens(std::function<void(RecordForm &)> fill) {
        formsSeen_ = 0;
        auto *look = new QTimer(&awaiting_);
        QObject::connect(look, &QTimer::timeout, look, [this, look, fill = std::move(fill)] {
            auto *form = qobject_cast<RecordForm *>(QApplication::activeModalWidget());
            if (!form)
                return;
            look->stop();
            look->deleteLater();
            ++formsSeen_;
            fill(*form);
            if (form->isVisible())
                form->done(QDialog::Rejected); // whatever was entered in it
        });
        look->start(0);
    }
    static void save(RecordForm &form) { form.findChild<QPushButton *>(s("formSave"))->click(); }
    // Nothing of a recalled lot was found, where the call asks for it.
    static void findNothingRecalled(QWidget &form) {
        for (auto *edit : form.findChildren<QLineEdit *>(QRegularExpression(s("^recalled_[0-9]+$"))))
            edit->setText(s("0"));
    }
    // Saves a call in which nobody counted, and says so if asked.
    static void saveWithoutCount(RecordForm &form) {
        Ask::nextAnswer(true);
        save(form);
        Ask::forgetAnswers();
    }

    // An order of two cases, made and sent, of the first offer in whole cases that fits.
    struct SentOrder {
        PurchaseOrderId id;
        SupplierItem offer;
    };
    SentOrder sentOrder(const std::function<bool(const SupplierItem &)> &fits) {
        SentOrder made;
        made.offer = *std::ranges::find_if(snapshot().supplierItems, [&](const SupplierItem &o) {
            return o.pack.eachesPerCase.count() > 1 && fits(o);
        });
        PurchaseOrder order;
        order.supplier = made.offer.supplier;
        PurchaseLine line;
        line.item = made.offer.item;
        line.cases = Cases::of(2);
        line.pack = made.offer.pack;
        line.perCase = made.offer.perCase;
        order.lines = {line};
        EXPECT_FALSE(session_.write(s("Made and sent an order"), [&](desk::Desk &d) -> Result<void> {
            auto saved = d.saveOrder(order);
            if (!saved)
                return saved.error();
            made.id = saved->id;
            const auto sent = d.sendOrder(made.id);
            return sent ? Result<void>() : sent.error();
        }));
        EXPECT_TRUE(settled());
        return made;
    }

    // The receive tab with that order chosen.
    void showReceiving(PurchaseOrderId order) {
        showTab(*reorders_, "reorderTabs", 2);
        auto *source = reorders_->findChild<QComboBox *>(s("receiveSource"));
        source->setCurrentIndex(source->findData(qint64(order.value())));
        Q_EMIT source->activated(source->currentIndex());
        QApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    }
    // The field of that name in the last line to receive.
    template <class Widget>
    Widget *last(const char *field) const {
        Widget *found = nullptr;
        int highest = 0;
        for (auto *w :
             reorders_->findChildren<Widget *>(QRegularExpression(s("^") + s(field) + s("_[0-9]+$"))))
            if (const int number = w->objectName().section(QLatin1Char('_'), -1).toInt(); number > highest) {
                highest = number;
                found = w;
            }
        return found;
    }

    const Snapshot &snapshot() const { return session_.agency()->snapshot(); }
    const supply::RefillProposal *
    firstProposal(const std::function<bool(const supply::RefillProposal &)> &fits) const {
        const auto &refills = session_.stock()->refills;
        const auto found = std::ranges::find_if(refills, fits);
        return found == refills.end() ? nullptr : &*found;
    }
    // Chooses the row of the refill table that belongs to the patient.
    void chooseCall(PatientId patient) {
        const auto &refills = session_.stock()->refills;
        for (std::size_t i = 0; i < refills.size(); ++i)
            if (refills[i].patient == patient)
                table(*stock_, "refillTable")->selectSourceRow(static_cast<int>(i));
    }
    static bool isPlain(const supply::RefillProposal &p) {
        return !p.stockIsUnknown && !p.hasNoWay && p.way == DeliveryWay::Courier &&
               std::ranges::any_of(p.lines,
                                   [](const supply::RefillLine &l) { return l.quantity.count() > 0; });
    }

    std::unique_ptr<StockPage> stock_;
    std::unique_ptr<ReorderPage> reorders_;
    QObject awaiting_; // what waits for a form ends with its test
    int formsSeen_ = 0;
};

} // namespace kitround::ui
