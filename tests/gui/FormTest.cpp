// The form by itself: what Enter, Tab, the wheel and a refused save do in it, what has to be filled in, and
// what is asked before something entered is lost.
#include "ui/shared/Ask.h"
#include "ui/shared/FieldParts.h"
#include "ui/shared/FormParts.h"
#include "ui/shared/Look.h"
#include "ui/shared/RecordForm.h"
#include "ui/shared/WrappedLabel.h"

#include <QApplication>
#include <QCalendarWidget>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QTest>
#include <QTextCharFormat>
#include <QToolButton>
#include <QWheelEvent>

#include <gtest/gtest.h>

#include <cstdlib>

namespace kitround::ui {
namespace {

class FormTest : public testing::Test {
protected:
    FormTest() : form_(QStringLiteral("A record"), nullptr) {
        first_ = form_.addText("first", QStringLiteral("First"), {});
        choice_ = form_.addChoice("unit", QStringLiteral("Unit"),
                                  {{QStringLiteral("eaches"), 1}, {QStringLiteral("cases"), 2}}, 1);
        for (int i = 0; i < 20; ++i)
            form_.addText("more_" + std::to_string(i), QStringLiteral("More"), {});
        day_ = form_.addDate("seen_on", QStringLiteral("Seen, by whoever it was"), {}, Date::of(2026, 3, 2));
        notes_ = form_.addLongText("notes", QStringLiteral("Notes"), {});
        form_.addButton(QStringLiteral("side"), QStringLiteral("Store the counts"), [this] { ++side_; });
        form_.onSave([] { return 0; },
                     [this](int) -> std::optional<Problem> {
                         ++saved_;
                         return met_;
                     });
        Ask::setSilent(true); // nothing waits for a person who is not there
        form_.show();
        EXPECT_TRUE(QTest::qWaitForWindowExposed(&form_));
    }
    QPushButton *button(const char *name) {
        return form_.findChild<QPushButton *>(QString::fromLatin1(name));
    }
    QLabel *label(const char *name) { return form_.findChild<QLabel *>(QString::fromLatin1(name)); }

    RecordForm form_;
    QLineEdit *first_ = nullptr;
    QComboBox *choice_ = nullptr;
    DateField *day_ = nullptr;
    QPlainTextEdit *notes_ = nullptr;
    int side_ = 0, saved_ = 0;
    Problem met_{ProblemCode::Missing, "notes"};
};

TEST_F(FormTest, EnterPressesTheButtonWithTheFocusAndSavesFromAField) {
    button("side")->setFocus();
    QTest::keyClick(button("side"), Qt::Key_Return);
    EXPECT_EQ(side_, 1);
    EXPECT_EQ(saved_, 0);
    QTest::keyClick(first_, Qt::Key_Return);
    EXPECT_EQ(saved_, 1);
    QTest::keyClick(button("formCancel"), Qt::Key_Return);
    EXPECT_EQ(saved_, 1);
    EXPECT_FALSE(form_.isVisible());
}

TEST_F(FormTest, TabGoesThroughFieldsAndButtonsAndRound) {
    ASSERT_EQ(form_.focusWidget(), first_);
    QList<QWidget *> way;
    for (int i = 0; i < 28; ++i) {
        QTest::keyClick(form_.focusWidget(), Qt::Key_Tab);
        way << form_.focusWidget();
    }
    EXPECT_EQ(way.front(), choice_);
    const QList<QWidget *> end = {notes_, button("side"), button("formCancel"), button("formSave"), first_};
    EXPECT_EQ(way.mid(23), end);
}

TEST_F(FormTest, ANumberIsReadWithCommasBetweenItsThousandsOnly) {
    const auto read = [](const char *text) { return numberIn(QString::fromLatin1(text)).value_or(-1); };
    EXPECT_EQ(read("1200"), 1200);
    EXPECT_EQ(read(" 1,200 "), 1200);
    EXPECT_EQ(read("12,000,000"), 12000000);
    EXPECT_FALSE(numberIn(QStringLiteral("1,5"))) << "a decimal is not fifteen";
    EXPECT_FALSE(numberIn(QStringLiteral("1,2000")));
    EXPECT_FALSE(numberIn(QStringLiteral("a few")));
    EXPECT_FALSE(numberIn({}));
}

TEST_F(FormTest, ANumberMayHaveDecimalsWhereThatIsMeant) {
    EXPECT_EQ(decimalIn(QStringLiteral(" -75.25 ")), -75.25);
    for (const char *text : {"", "1,5", "nan", "inf", "north"})
        EXPECT_FALSE(decimalIn(QString::fromLatin1(text))) << text;
    EXPECT_EQ(moneyFromText(QStringLiteral("1,012.5")), Money::of(101250));
    EXPECT_FALSE(moneyFromText(QStringLiteral("12,50"))) << "not twelve hundred and fifty";
}

TEST(ListedFieldsTest, NumbersOfAListAreReadLikeThoseOfAFieldAndAFaultNamesItsRow) {
    RecordForm form(QStringLiteral("An offer"), nullptr);
    auto *list = new ListEditor(QStringLiteral("Add a price"),
                                {{.name = QStringLiteral("From")}, {.name = QStringLiteral("Price")}}, &form);
    list->addRow({QStringLiteral("1,200"), QStringLiteral("12.5")});
    list->addRow({QStringLiteral("1.5"), QStringLiteral("12,50")});
    list->addRow({QString(), QString()});
    form.addWidget("breaks", QStringLiteral("Cheaper in number"), list);
    std::vector<std::int64_t> from;
    std::vector<Money> prices;
    form.onSave(
        [&] {
            for (int row = 0; row < list->rowCount(); ++row) {
                from.push_back(readNeededListedNumber(form, "breaks", *list, {row, 0}));
                prices.push_back(readListedMoney(form, "breaks", *list, {row, 1}));
            }
            return 0;
        },
        [](int) -> std::optional<Problem> { return std::nullopt; });
    form.save();
    ASSERT_EQ(from.size(), 3U);
    EXPECT_EQ(from[0], 1200);
    EXPECT_EQ(prices[0], Money::of(1250));
    const QStringList said = form.findChild<QLabel *>(QStringLiteral("breaks_fault"))->text().split(u'\n');
    ASSERT_EQ(said.size(), 4) << said.join(u'|').toStdString();
    EXPECT_TRUE(said[0].startsWith(QStringLiteral("Row 2, ")) && said[0].contains(QStringLiteral("whole")));
    EXPECT_TRUE(said[1].startsWith(QStringLiteral("Row 2, ")) && said[1].contains(QStringLiteral("point")));
    for (const QString &empty : {said[2], said[3]})
        EXPECT_TRUE(empty.startsWith(QStringLiteral("Row 3, ")) &&
                    empty.contains(QStringLiteral("Fill it in")))
            << empty.toStdString();
}

TEST_F(FormTest, TheWheelDoesNotChangeWhatItPassesOver) {
    const QPointF at(5, 5);
    QWheelEvent wheel(at, choice_->mapToGlobal(at), {}, QPoint(0, -120), Qt::NoButton, Qt::NoModifier,
                      Qt::NoScrollPhase, false);
    QApplication::sendEvent(choice_, &wheel);
    EXPECT_EQ(choice_->currentIndex(), 0);
    EXPECT_FALSE(wheel.isAccepted()) << "what the field lies on scrolls";
}

TEST_F(FormTest, ARefusedSaveShowsTheMarkedFieldUntilItIsMended) {
    form_.save();
    EXPECT_EQ(form_.focusWidget(), notes_);
    auto *area = form_.findChild<QScrollArea *>();
    const auto isSeen = [&] {
        const QRect box(notes_->mapTo(area->viewport(), QPoint()), notes_->size());
        return area->viewport()->rect().contains(box);
    };
    EXPECT_TRUE(QTest::qWaitFor(isSeen));
    EXPECT_TRUE(label("notes_fault")->isVisible());
    EXPECT_TRUE(QTest::qWaitFor([&] {
        QLabel *fault = label("notes_fault");
        return fault->height() >= fault->heightForWidth(fault->width());
    })) << "the text is cut";
    QTest::keyClicks(notes_, QStringLiteral("x"));
    EXPECT_FALSE(label("notes_fault")->isVisible());
    EXPECT_FALSE(label("formProblem")->isVisible());
}

TEST_F(FormTest, WhatIsSaidAtItsTopIsReadWhole) {
    form_.onSave([] { return 0; },
                 [this](int) -> std::optional<Problem> {
                     form_.refuse(QStringLiteral("This cannot be kept as long as that stands. ").repeated(9));
                     return std::nullopt;
                 });
    form_.save();
    QLabel *top = label("formProblem");
    EXPECT_TRUE(top->isVisible());
    EXPECT_TRUE(QTest::qWaitFor([&] {
        return top->height() >= top->heightForWidth(top->width()) &&
               top->height() > 3 * top->fontMetrics().height();
    })) << "the text is cut";
}

TEST_F(FormTest, WhatHasToBeFilledInIsMarkedAndTheMarkIsExplainedOnce) {
    EXPECT_FALSE(label("formRequired")->isVisible()) << "no mark, nothing to explain";
    form_.require({"first", "seen_on"});
    EXPECT_TRUE(label("formRequired")->isVisible());
    QStringList marked;
    for (const QLabel *each : form_.findChildren<QLabel *>())
        if (each->buddy() && each->text().contains(QLatin1Char('*')))
            marked << each->buddy()->objectName();
    EXPECT_EQ(marked, QStringList({QStringLiteral("first"), QStringLiteral("seen_on")}));
    EXPECT_EQ(first_->accessibleName(), QStringLiteral("First, required"));
    EXPECT_TRUE(day_->edit()->accessibleName().endsWith(QStringLiteral(", required")));
    EXPECT_EQ(notes_->accessibleName(), QStringLiteral("Notes"));
}

TEST_F(FormTest, WhatIsStillEmptyIsMarkedTogetherWithTheFirstFault) {
    form_.require({"first", "notes"});
    notes_->clear();
    met_ = {ProblemCode::Conflict, "seen_on", {"notes"}};
    form_.save();
    EXPECT_TRUE(label("seen_on_fault")->isVisible());
    EXPECT_TRUE(label("first_fault")->isVisible()) << "empty, and has to be filled in";
    QTest::keyClicks(first_, QStringLiteral("x"));
    form_.save();
    EXPECT_FALSE(label("first_fault")->isVisible());
}

TEST_F(FormTest, AFaultIsToldInTheFormsOwnNames) {
    met_ = {ProblemCode::Conflict, "seen_on", {"first"}};
    form_.require({"seen_on"});
    form_.save();
    const QString said = label("seen_on_fault")->text();
    EXPECT_TRUE(said.startsWith(QStringLiteral("Seen, by whoever it was: "))) << said.toStdString();
    EXPECT_TRUE(said.contains(QStringLiteral("“First”"))) << said.toStdString();
    EXPECT_FALSE(said.contains(QLatin1Char('*'))) << said.toStdString();
    met_ = {ProblemCode::Missing, "seen_on", {}, 2}; // of a list: its row, never the machine name
    form_.save();
    EXPECT_FALSE(label("seen_on_fault")->text().contains(QStringLiteral("seen_on")));
    EXPECT_TRUE(label("seen_on_fault")->text().startsWith(QStringLiteral("Row 2, ")));
}

TEST_F(FormTest, WhatWasEnteredIsGivenUpOnPurposeOnly) {
    QTest::keyClicks(first_, QStringLiteral("half"));
    EXPECT_TRUE(form_.isChanged());
    Ask::nextAnswer(false);
    QTest::keyClick(&form_, Qt::Key_Escape);
    EXPECT_TRUE(form_.isVisible());
    EXPECT_TRUE(Ask::lastSaid().contains(QStringLiteral("A record"))) << Ask::lastSaid().toStdString();
    form_.close(); // with no answer given the question is declined
    EXPECT_TRUE(form_.isVisible()) << "the window's own button asks as well";
    EXPECT_EQ(first_->text(), QStringLiteral("half"));
    Ask::nextAnswer(true);
    button("formCancel")->click();
    EXPECT_FALSE(form_.isVisible());
    EXPECT_EQ(form_.result(), QDialog::Rejected);
    EXPECT_EQ(saved_, 0);
}

TEST(FormGrowthTest, AFormGrowsWithWhatItSaysWhileItIsFilledIn) {
    RecordForm form(QStringLiteral("A shift"), nullptr);
    form.addText("from", QStringLiteral("From"), {});
    form.addText("to", QStringLiteral("Until"), {});
    auto *flags = new WrappedLabel(QString(), &form);
    form.addWidget("flags", QStringLiteral("Please look at"), flags);
    EXPECT_TRUE(flags->accessibleName().isEmpty()) << "its own words are what is read aloud";
    form.setFieldShown("flags", false);
    form.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&form));
    const int before = form.height();
    flags->setText(QStringLiteral("Too short a rest before the work of a day.\n").repeated(12));
    form.setFieldShown("flags", true);
    EXPECT_TRUE(QTest::qWaitFor([&] { return form.height() > before; }));
    auto *area = form.findChild<QScrollArea *>();
    EXPECT_TRUE(QTest::qWaitFor([&] { return area->verticalScrollBar()->maximum() == 0; }))
        << "nothing of it is read by scrolling";
    const int grown = form.height();
    flags->clear();
    form.setFieldShown("flags", false);
    QTest::qWait(1);
    EXPECT_EQ(form.height(), grown) << "it does not jump about";
}

TEST_F(FormTest, ALabelStandsOnTheLineOfItsField) {
    for (const QLabel *name : form_.findChildren<QLabel *>()) {
        const QWidget *field = name->buddy();
        if (!qobject_cast<const QLineEdit *>(field) && !qobject_cast<const QComboBox *>(field))
            continue; // one of several lines stands at its first
        const int label = name->mapTo(&form_, QPoint(0, name->height() / 2)).y();
        const int middle = field->mapTo(&form_, QPoint(0, field->height() / 2)).y();
        EXPECT_LE(std::abs(label - middle), 1) << name->text().toStdString();
    }
}

TEST_F(FormTest, AFormAsItOpenedIsLeftWithoutAQuestion) {
    QTest::keyClicks(first_, QStringLiteral("x"));
    day_->setDate(Date::of(2026, 3, 1));
    choice_->setCurrentIndex(1);
    EXPECT_TRUE(form_.isChanged());
    first_->clear();
    day_->setDate({});
    choice_->setCurrentIndex(0);
    EXPECT_FALSE(form_.isChanged()) << "put back as it was";
    QTest::keyClick(&form_, Qt::Key_Escape);
    EXPECT_FALSE(form_.isVisible());
}

TEST_F(FormTest, TheCalendarOfADateStartsItsWeeksAsTheAgencyDoesAndShowsThemWhole) {
    auto *opens = day_->findChild<QToolButton *>();
    auto *calendar = opens->menu()->findChild<QCalendarWidget *>();
    ASSERT_NE(calendar, nullptr);
    for (const Weekday start : {Weekday::Monday, Weekday::Sunday}) {
        DateField::setWeekStart(start);
        opens->menu()->popup(QPoint());
        EXPECT_EQ(calendar->firstDayOfWeek(), start == Weekday::Sunday ? Qt::Sunday : Qt::Monday);
        for (const Qt::DayOfWeek day : {Qt::Saturday, Qt::Sunday}) // red is for what has to be done
            EXPECT_EQ(calendar->weekdayTextFormat(day).foreground().color(), Look::colour(Role::FaintInk));
        EXPECT_GE(calendar->height(), 8 * Look::kHit) << "a heading, six weeks and the months' bar";
        opens->menu()->close();
    }
}

} // namespace
} // namespace kitround::ui
