// The proposed refill dragged on the home's picture: it says at once what that would mean, and stores
// nothing.
#include "core/desk/views/RefillWhatIf.h"
#include "tests/gui/ClerkFixture.h"

namespace kitround::ui {
namespace {

class RefillDrag : public ClerkPages {
protected:
    // Chooses the first home whose refill can be moved; its handle.
    QWidget *handle() {
        stock_->show();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(stock_.get()));
        const desk::StockPicturePtr stock = session_.stock();
        const auto rows = desk::homeRows(*stock);
        const auto row = std::ranges::find_if(rows, [&](const desk::HomeRow &r) {
            return desk::refillWhatIf(stock, r.forecast, desk::homeChart(*stock, r.forecast, {})) != nullptr;
        });
        EXPECT_NE(row, rows.end());
        table(*stock_, "homesTable")->selectSourceRow(static_cast<int>(row - rows.begin()));
        QTest::qWait(50); // the line under the picture has found its place
        auto *found = stock_->findChild<QWidget *>(s("refillHandle"));
        EXPECT_TRUE(found && found->isVisible());
        return found;
    }
    QString meaning() const { return stock_->findChild<QLabel *>(s("refillMeaning"))->text(); }
    // The proposal of the home chosen, and which of its lines is on the chart.
    struct Proposed {
        supply::RefillProposal proposal;
        std::size_t line;
    };
    Proposed proposed() const {
        const auto row = static_cast<std::size_t>(table(*stock_, "homesTable")->currentSourceRow());
        const desk::HomeRow home = desk::homeRows(*session_.stock()).at(row);
        const auto *proposal =
            firstProposal([&](const supply::RefillProposal &p) { return p.patient == home.patient; });
        const auto line = std::ranges::find_if(proposal->lines, [&](const supply::RefillLine &l) {
            return l.catheter == home.catheter && l.item == home.item;
        });
        return {*proposal, static_cast<std::size_t>(line - proposal->lines.begin())};
    }
    static std::string quantityField(std::size_t line) { return "quantity_" + std::to_string(line); }
    static bool says(const RecordForm &form, const QString &text) {
        return std::ranges::any_of(form.findChildren<QLabel *>(),
                                   [&](const QLabel *label) { return label->text().contains(text); });
    }
    static void drag(QWidget *handle, QPoint by) {
        const QPoint from = handle->mapToGlobal(handle->rect().center());
        QTest::mousePress(handle, Qt::LeftButton, {}, handle->rect().center());
        QTest::mouseMove(handle, handle->mapFromGlobal(from + by)); // it follows the mouse
        QTest::mouseRelease(handle, Qt::LeftButton, {}, handle->mapFromGlobal(from + by));
    }
};

TEST_F(RefillDrag, SidewaysMovesTheDayUpTheQuantityAndBackIsThePicture) {
    QWidget *grip = handle();
    auto *chart = stock_->findChild<FanChart *>(s("homeChart"));
    auto *back = stock_->findChild<QPushButton *>(s("refillBack"));
    const desk::AgencyPtr before = session_.agency();
    const QString hint = meaning();
    const QPoint place = grip->pos();
    EXPECT_FALSE(back->isEnabled());

    drag(grip, {70, 2}); // a hand that is not still
    EXPECT_TRUE(meaning().contains(s("later than proposed"))) << meaning().toStdString();
    EXPECT_FALSE(meaning().contains(s("more than proposed"))) << "a tremor is no other quantity";
    EXPECT_FALSE(meaning().contains(s("fewer than proposed")));
    EXPECT_GT(chart->tried()->shipment.on, session_.stock()->agency->today());
    EXPECT_TRUE(grip->accessibleDescription().startsWith(meaning()));
    EXPECT_TRUE(back->isEnabled());
    press(*stock_, "refillBack");
    EXPECT_EQ(meaning(), hint);
    EXPECT_EQ(grip->pos(), place);
    EXPECT_FALSE(chart->tried());

    drag(grip, {0, -45});
    EXPECT_TRUE(meaning().contains(s("more than proposed"))) << meaning().toStdString();
    QTest::keyClick(grip, Qt::Key_Escape);
    EXPECT_EQ(meaning(), hint);

    QTest::qWait(50);
    EXPECT_EQ(session_.agency(), before) << "nothing was stored, so nothing was read again";
    EXPECT_EQ(session_.desk().agency(), before);
}

TEST_F(RefillDrag, TheArrowKeysDoTheSameAndTellTheRules) {
    QWidget *grip = handle();
    auto *chart = stock_->findChild<FanChart *>(s("homeChart"));
    const auto *broken = stock_->findChild<QLabel *>(s("refillBreaks"));
    QTest::keyClick(grip, Qt::Key_Right);
    EXPECT_TRUE(meaning().contains(s("1 day later than proposed"))) << meaning().toStdString();
    const supply::Shipment later = chart->tried()->shipment;
    QTest::keyClick(grip, Qt::Key_Left);
    EXPECT_TRUE(meaning().contains(s("as proposed")));
    EXPECT_EQ(chart->tried()->shipment.on.plusDays(1), later.on);
    QTest::keyClick(grip, Qt::Key_Up);
    EXPECT_TRUE(meaning().contains(s("more than proposed")));
    for (int more = 0; more < 60; ++more)
        QTest::keyClick(grip, Qt::Key_Up);
    EXPECT_TRUE(broken->text().contains(s("days a home may hold"))) << broken->text().toStdString();
    QTest::keyClick(grip, Qt::Key_Escape);
    EXPECT_TRUE(broken->text().isEmpty());
    // The day mark of the picture has its own arrows.
    const QString today = chart->markedFigures();
    QTest::keyClick(chart, Qt::Key_Right);
    EXPECT_NE(chart->markedFigures(), today);
    EXPECT_FALSE(chart->tried());
}

TEST_F(RefillDrag, TheCallStartsFromWhatStandsOnTheChartAndIsCheckedAsIfTyped) {
    QWidget *grip = handle();
    const Proposed home = proposed();
    QTest::keyClick(grip, Qt::Key_Right);
    for (int more = 0; more < 60; ++more)
        QTest::keyClick(grip, Qt::Key_Up);
    const auto *chart = stock_->findChild<FanChart *>(s("homeChart"));
    const supply::Shipment tried = chart->tried()->shipment;
    const QString note = s("As tried on the chart; the proposal was ");
    const auto expectLines = [&](RecordForm &form, Eaches ofTheLine) {
        for (std::size_t i = 0; i < home.proposal.lines.size(); ++i) {
            const Eaches wanted = i == home.line ? ofTheLine : home.proposal.lines[i].quantity;
            EXPECT_EQ(form.numberOf(quantityField(i)), wanted.count()) << i;
        }
    };
    whenFormOpens([&](RecordForm &form) {
        expectLines(form, tried.quantity);
        EXPECT_EQ(form.dateOf("promised_for"), tried.on);
        EXPECT_TRUE(says(form, note));
        EXPECT_TRUE(says(form, s("We would send"))) << "the home hears what the form holds";
        EXPECT_TRUE(says(form, QString::number(tried.quantity.count()) + s(" of ")));
        auto *answer = form.findChild<QComboBox *>(s("answer"));
        answer->setCurrentIndex(answer->findData(static_cast<qint64>(RefillAnswer::Confirmed)));
        type(form, "answered_by", "Invented Daughter");
        type(form, "reason_for_need", "six left");
        findNothingRecalled(form);
        save(form); // so much is asked about, and nobody gives a reason
        EXPECT_TRUE(form.isVisible());
        EXPECT_FALSE(fault(form, quantityField(home.line).c_str()).isEmpty());
    });
    press(*stock_, "homesCall");
    EXPECT_EQ(formsSeen_, 1);

    EXPECT_TRUE(chart->tried()) << "a call that came to nothing leaves it on the chart";
    press(*stock_, "refillBack");
    whenFormOpens([&](RecordForm &form) {
        expectLines(form, home.proposal.lines[home.line].quantity);
        EXPECT_EQ(form.dateOf("promised_for"), home.proposal.deliverOn);
        EXPECT_FALSE(says(form, note));
    });
    press(*stock_, "homesCall");
    EXPECT_EQ(formsSeen_, 1);
}

TEST_F(RefillDrag, AHomeWithoutARefillHasNothingToMove) {
    const QWidget *grip = handle();
    const auto rows = desk::homeRows(*session_.stock());
    const auto none = std::ranges::find_if(rows, [&](const desk::HomeRow &r) {
        return !desk::homeChart(*session_.stock(), r.forecast, {}).refill;
    });
    ASSERT_NE(none, rows.end());
    table(*stock_, "homesTable")->selectSourceRow(static_cast<int>(none - rows.begin()));
    EXPECT_FALSE(grip->isVisible());
    EXPECT_FALSE(stock_->findChild<QLabel *>(s("refillMeaning"))->isVisible());
}

} // namespace
} // namespace kitround::ui
