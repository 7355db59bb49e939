// The form by itself: what Enter, Tab, the wheel and a refused save do in it.
#include "ui/shared/RecordForm.h"

#include <QApplication>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QTest>
#include <QWheelEvent>

#include <gtest/gtest.h>

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
        notes_ = form_.addLongText("notes", QStringLiteral("Notes"), {});
        form_.addButton(QStringLiteral("side"), QStringLiteral("Store the counts"), [this] { ++side_; });
        form_.onSave([] { return 0; },
                     [this](int) -> std::optional<Problem> {
                         ++saved_;
                         return Problem{ProblemCode::Missing, "notes"};
                     });
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
    QPlainTextEdit *notes_ = nullptr;
    int side_ = 0, saved_ = 0;
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
    for (int i = 0; i < 26; ++i) {
        QTest::keyClick(form_.focusWidget(), Qt::Key_Tab);
        way << form_.focusWidget();
    }
    EXPECT_EQ(way.front(), choice_);
    const QList<QWidget *> end = {notes_, button("side"), button("formCancel"), button("formSave"), first_};
    EXPECT_EQ(way.mid(21), end);
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

} // namespace
} // namespace kitround::ui
