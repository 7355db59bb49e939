// The start page alone: a question to the prescriber, a signature, and many lines of a hand-over at once.
#include "core/desk/Desk.h"
#include "core/desk/words/Words.h"
#include "tests/gui/PageStory.h"
#include "tests/gui/support/AttentionLines.h"
#include "ui/shared/DenseTable.h"
#include "ui/today/TodayPage.h"

#include <QCheckBox>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>

#include <algorithm>

namespace kitround::ui {
namespace {

class TodayAlone : public PageStory {
protected:
    TodayAlone() : today_(std::make_unique<TodayPage>(session_)) {
        today_->resize(1100, 680);
        today_->setVisible(true);
        openSample();
    }
    ~TodayAlone() override { today_.reset(); }

    static void fill(QWidget &form, const char *name, const QString &text) {
        auto *field = form.findChild<QWidget *>(QString::fromLatin1(name));
        ASSERT_NE(field, nullptr) << name;
        if (auto *box = qobject_cast<QPlainTextEdit *>(field))
            box->setPlainText(text);
        else if (auto *line = qobject_cast<QLineEdit *>(field))
            line->setText(text);
        else
            field->findChild<QLineEdit *>()->setText(text);
    }
    const Patient &patient(const char *code) {
        const auto &all = session_.agency()->snapshot().patients;
        return *std::ranges::find(all, std::string(code), &Patient::code);
    }

    std::unique_ptr<TodayPage> today_;
};

TEST_F(TodayAlone, AcceptingALineThatStandsForManyAcceptsEachOfThem) {
    std::size_t many = 0;
    withNextDialog([&](QWidget &dialog) {
        Ask::nextText(QStringLiteral("all of it"));
        in<QPushButton>(dialog, "handOverGive").click();
        ASSERT_TRUE(settled());
        workAs(UserRole::NurseManager);
        auto &table = in<DenseTable>(dialog, "handOverTable");
        auto &each = in<QPushButton>(dialog, "handOverEach");
        for (int row = 0; row < table.model()->rowCount() && many == 0; ++row) {
            table.setCurrentIndex(table.model()->index(row, 0));
            if (each.isEnabled())
                many = each.text().section(u' ', -1).toULongLong();
        }
        EXPECT_GT(many, 8U) << each.text().toStdString();
        in<QPushButton>(dialog, "handOverAccept").click();
        ASSERT_TRUE(settled());
        in<QPushButton>(dialog, "handOverClose").click();
    });
    in<QPushButton>(*today_, "handOverOpen").click();
    ASSERT_TRUE(settled());
    const auto &handOvers = session_.agency()->snapshot().handOvers;
    ASSERT_EQ(handOvers.size(), 1U);
    const auto taken = std::ranges::count_if(
        handOvers.front().items, [](const HandOverItem &item) { return item.acceptedAt.has_value(); });
    EXPECT_EQ(static_cast<std::size_t>(taken), many);
}

TEST_F(TodayAlone, AMaximumAboveTheCommonOneIsConfirmedFromItsLineUnderToday) {
    const Patient home = patient("Q-101");
    const SnapshotIndex &index = session_.agency()->index();
    DrainOrder order = *index.orderInForce(index.cathetersOf(home.id).front()->id, session_.today());
    order.id = {};
    order.rowVersion = 0;
    order.start = session_.today();
    order.mostPerSession = Millilitres::of(1500);
    ASSERT_FALSE(session_.write(QStringLiteral("Saved a drain order"),
                                [&](desk::Desk &d) { return d.acceptOrder(*d.previewOrder(order)); }));
    ASSERT_TRUE(settled());
    auto &table = in<DenseTable>(*today_, "attentionTable");
    chooseKind(table, desk::AttentionKind::MaximumToConfirm);
    auto &step = in<QPushButton>(*today_, "attentionClose");
    EXPECT_TRUE(step.text().contains(QStringLiteral("prescriber's answer"))) << step.text().toStdString();
    EXPECT_TRUE(in<QPushButton>(*today_, "attentionOpen").text().contains(QStringLiteral("record")));
    withNextDialog([&](QWidget &form) {
        EXPECT_TRUE(form.windowTitle().contains(QStringLiteral("maximum")));
        picture(form, "maximum-answer");
        fill(form, "answered_by", QStringLiteral("the prescriber"));
        fill(form, "words", QStringLiteral("1,500 is meant"));
        in<QCheckBox>(form, "was_read_back").setChecked(true);
        in<QPushButton>(form, "formSave").click();
    });
    step.click();
    ASSERT_TRUE(settled());
    EXPECT_LT(rowOfKind(table, desk::AttentionKind::MaximumToConfirm), 0);
}

TEST_F(TodayAlone, WhatALineIsAboutHasMoreRoomThanSinceWhenItWaits) {
    const auto &table = in<DenseTable>(*today_, "attentionTable");
    EXPECT_GT(table.columnWidth(1), 2 * table.columnWidth(3));
}

// The call is kept as one about the patient, closed with who was reached; a try that reached nobody is not.
TEST_F(TodayAlone, AWelfareCallStaysUntilSomebodyWasReached) {
    const desk::AgencyPtr before = session_.agency();
    const Snapshot &s = before->snapshot();
    auto &table = in<DenseTable>(*today_, "attentionTable");
    chooseKind(table, desk::AttentionKind::WelfareCall);
    auto &step = in<QPushButton>(*today_, "attentionClose");
    EXPECT_TRUE(step.isVisible());
    EXPECT_TRUE(step.text().contains(QStringLiteral("who was reached"))) << step.text().toStdString();
    const std::size_t calls = s.phoneCalls.size();
    Ask::nextText(QStringLiteral("  "));
    step.click();
    ASSERT_TRUE(settled());
    EXPECT_EQ(session_.agency()->snapshot().phoneCalls.size(), calls) << "nobody was named";
    chooseKind(table, desk::AttentionKind::WelfareCall);
    const QString line = table.model()->index(table.currentIndex().row(), 1).data().toString();
    Ask::nextText(QStringLiteral("her son: she is in hospital since the morning"));
    step.click();
    ASSERT_TRUE(settled());
    EXPECT_TRUE(waitFor([&] {
        for (int row = 0; row < table.model()->rowCount(); ++row)
            if (table.model()->index(row, 1).data().toString() == line)
                return false;
        return true;
    })) << line.toStdString();
    const PhoneCall &kept = session_.agency()->snapshot().phoneCalls.back();
    EXPECT_TRUE(std::ranges::any_of(s.visits, [&](const Visit &v) {
        return v.patient == kept.patient && v.status == VisitStatus::Missed &&
               v.missReason == MissReason::NotHome;
    })) << "the one of the sample at whose door nobody answered";
    EXPECT_TRUE(kept.closedAt);
    EXPECT_TRUE(kept.outcome.starts_with("her son"));
}

// One order of the sample was taken by phone and is not signed.
TEST_F(TodayAlone, ASignatureIsEnteredFromItsLineUnderTodayAndTheOrderStaysAsItIs) {
    auto &table = in<DenseTable>(*today_, "attentionTable");
    const std::size_t orders = session_.agency()->snapshot().drainOrders.size();
    chooseKind(table, desk::AttentionKind::UnsignedOrder);
    auto &step = in<QPushButton>(*today_, "attentionClose");
    EXPECT_TRUE(step.text().contains(QStringLiteral("signature"))) << step.text().toStdString();
    withNextDialog([&](QWidget &form) {
        fill(form, "signed_on", QStringLiteral("+1"));
        in<QPushButton>(form, "formSave").click();
        EXPECT_TRUE(form.isVisible()) << "nobody signs tomorrow";
        fill(form, "signed_on", QStringLiteral("-1"));
        picture(form, "signature");
        in<QPushButton>(form, "formSave").click();
    });
    step.click();
    ASSERT_TRUE(settled());
    EXPECT_LT(rowOfKind(table, desk::AttentionKind::UnsignedOrder), 0);
    EXPECT_EQ(session_.agency()->snapshot().drainOrders.size(), orders);
}

} // namespace
} // namespace kitround::ui
