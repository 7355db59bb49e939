#include "ui/shared/Look.h"
#include "ui/print/PaperPdf.h"
#include "ui/reorders/SignedNote.h"
#include "ui/shared/Ask.h"
#include "ui/shared/DenseTable.h"
#include "ui/shared/ElidedLabel.h"
#include "ui/shared/HouseStyle.h"
#include "ui/shared/RowsModel.h"

#include <QAbstractItemView>
#include <QApplication>
#include <QComboBox>
#include <QHeaderView>
#include <QImage>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QPainter>
#include <QRegularExpression>
#include <QSortFilterProxyModel>
#include <QStandardItemModel>
#include <QStyleOption>
#include <QTest>
#include <QTimer>
#include <QToolTip>

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

namespace kitround::ui {
namespace {

constexpr Theme kThemes[] = {Theme::Light, Theme::Dark};

// WCAG 2.1, success criteria 1.4.3 (text, 4.5) and 1.4.11 (signs and focus, 3).
TEST(LookTest, TextStandsOutFromEveryGroundItIsWrittenOn) {
    for (const Theme theme : kThemes)
        for (const Role ground : {Role::Ground, Role::Raised, Role::AccentGround, Role::Chosen,
                                  Role::ActGround, Role::WatchGround})
            EXPECT_GE(contrast(Look::colour(Role::Ink, theme), Look::colour(ground, theme)), 4.5)
                << "theme " << int(theme) << " ground " << int(ground);
    for (const Theme theme : kThemes)
        for (const Role ink : {Role::FaintInk, Role::Good, Role::Watch, Role::Act, Role::Accent})
            for (const Role ground : {Role::Ground, Role::Raised})
                EXPECT_GE(contrast(Look::colour(ink, theme), Look::colour(ground, theme)), 4.5)
                    << "theme " << int(theme) << " ink " << int(ink) << " ground " << int(ground);
    for (const Theme theme : kThemes) // what a state is told in, in the chosen row of a table
        for (const Role ink : {Role::Good, Role::Watch, Role::Act})
            EXPECT_GE(contrast(Look::colour(ink, theme), Look::colour(Role::Chosen, theme)), 4.5)
                << "theme " << int(theme) << " ink " << int(ink);
    for (const Theme theme : kThemes)
        EXPECT_GE(contrast(Look::colour(Role::OnAccent, theme), Look::colour(Role::Accent, theme)), 4.5);
}

TEST(LookTest, TheFocusRingStandsOutFromWhatItRings) {
    for (const Theme theme : kThemes)
        for (const Role ground : {Role::Ground, Role::Raised, Role::Chosen})
            EXPECT_GE(contrast(Look::colour(Role::Accent, theme), Look::colour(ground, theme)), 3.0);
}

TEST(LookTest, TheEdgeOfAnEmptyFieldIsSeen) {
    for (const Theme theme : kThemes)
        for (const Role ground : {Role::Ground, Role::Raised})
            EXPECT_GE(contrast(Look::colour(Role::Edge, theme), Look::colour(ground, theme)), 3.0);
}

TEST(LookTest, ADropDownAndItsListHaveTheEdgeAndTheHeightOfOtherFields) {
    for (const Theme theme : kThemes) {
        Look::apply(*qApp, theme);
        QWidget window;
        auto *box = new QComboBox(&window);
        box->addItems({QStringLiteral("one"), QStringLiteral("two")});
        QLineEdit field(&window);
        box->setGeometry(10, 10, 160, box->sizeHint().height());
        window.resize(300, 200);
        window.show();
        ASSERT_TRUE(QTest::qWaitForWindowExposed(&window));
        field.setFocus(); // the ring of the keyboard is another thing
        EXPECT_GE(box->sizeHint().height(), Look::kHit);
        const QImage drawn = box->grab().toImage();
        EXPECT_GE(contrast(drawn.pixelColor(drawn.width() / 2, 0), Look::colour(Role::Raised)), 3.0)
            << "theme " << int(theme);
        box->showPopup();
        const QImage list = box->view()->window()->grab().toImage();
        EXPECT_GE(contrast(list.pixelColor(0, list.height() / 2), Look::colour(Role::Raised)), 3.0)
            << "theme " << int(theme);
        EXPECT_GE(box->view()->sizeHintForRow(0), Look::kHit);
        box->hidePopup();
    }
    Look::apply(*qApp, Theme::Light);
}

// How many dots of a heading the arrow changes, row by row from above.
std::vector<int> arrowRows(QTableView &table, Qt::SortOrder order) {
    QHeaderView &head = *table.horizontalHeader();
    head.setSortIndicator(-1, order);
    const QImage plain = head.grab().toImage();
    head.setSortIndicator(0, order);
    const QImage marked = head.grab().toImage();
    std::vector<int> rows;
    for (int y = 0; y < plain.height(); ++y) {
        int changed = 0;
        for (int x = 0; x < plain.width(); ++x)
            changed += plain.pixel(x, y) != marked.pixel(x, y) ? 1 : 0;
        if (changed > 0)
            rows.push_back(changed);
    }
    return rows;
}

TEST(LookTest, TheSortArrowPointsUpWhereTheSmallestComesFirst) {
    QStandardItemModel model(2, 2);
    model.setHorizontalHeaderLabels({QStringLiteral("Name"), QStringLiteral("Day")});
    DenseTable table(QStringLiteral("rows"), QStringLiteral("Rows"));
    table.setModel(&model);
    table.resize(500, 200);
    table.setColumnWidth(0, 300);
    table.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&table));
    const std::vector<int> up = arrowRows(table, Qt::AscendingOrder);
    const std::vector<int> down = arrowRows(table, Qt::DescendingOrder);
    ASSERT_GE(up.size(), 3U);
    ASSERT_GE(down.size(), 3U);
    EXPECT_LT(up.front(), up.back());
    EXPECT_GT(down.front(), down.back());
}

TEST(LookTest, ColumnsFitAgainWhenAFilterLetsTheRowsIn) {
    QStandardItemModel model(1, 2);
    model.setHorizontalHeaderLabels({QStringLiteral("A"), QStringLiteral("B")});
    model.setItem(0, 0, new QStandardItem(QStringLiteral("a rather long name that wants its room")));
    QSortFilterProxyModel proxy;
    proxy.setSourceModel(&model);
    DenseTable table(QStringLiteral("rows"), QStringLiteral("Rows"));
    table.setModel(&proxy);
    table.resize(900, 200);
    table.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&table));
    table.fitColumns(1);
    const int wide = table.columnWidth(0);
    proxy.setFilterFixedString(QStringLiteral("nobody"));
    ASSERT_EQ(proxy.rowCount(), 0);
    table.fitColumns(1); // a reload meanwhile
    EXPECT_LT(table.columnWidth(0), wide);
    proxy.setFilterFixedString({});
    EXPECT_EQ(table.columnWidth(0), wide);
}

TEST(LookTest, AColumnGrowsWithWhatComesLaterAndDoesNotShrinkByItself) {
    const QString first = QStringLiteral("PO-1040"), later = QStringLiteral("PO-2026-0001, on approval");
    RowsModel<QString> model(std::vector<RowsColumn<QString>>{
        {.head = QStringLiteral("Number"), .text = [](const QString &number) { return number; }},
        {.head = QStringLiteral("Lines"), .text = [](const QString &) { return QString(); }}});
    DenseTable table(QStringLiteral("rows"), QStringLiteral("Rows"));
    table.setModel(new RowsProxy(&model, &table));
    table.resize(600, 200);
    table.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&table));
    model.setRows({first});
    table.fitColumns(1);
    const int narrow = table.columnWidth(0);
    model.setRows({first, later});
    ASSERT_TRUE(QTest::qWaitFor([&] { return table.columnWidth(0) > narrow; }));
    const int wide = table.columnWidth(0);
    EXPECT_GT(wide, table.fontMetrics().horizontalAdvance(later));
    model.setRows({first});
    QTest::qWait(20);
    EXPECT_EQ(table.columnWidth(0), wide);
}

TEST(LookTest, ContrastAgreesWithItsDefinition) {
    EXPECT_NEAR(contrast(Qt::black, Qt::white), 21.0, 1e-9);                 // WCAG 2.1, the largest there is
    EXPECT_NEAR(contrast(QColor(0x77, 0x77, 0x77), Qt::white), 4.48, 0.005); // just below 4.5
}

// A tip that was made in one theme is read in the other.
TEST(LookTest, ATipHasTheColoursOfTheThemeThatIsOnNow) {
    QWidget window;
    window.resize(300, 200);
    window.show();
    for (const Theme theme : {Theme::Light, Theme::Dark, Theme::Light}) {
        Look::apply(*qApp, theme);
        QToolTip::showText(window.mapToGlobal(QPoint(20, 20)), QStringLiteral("A tip of some words"),
                           &window);
        const auto all = QApplication::topLevelWidgets();
        const auto tip = std::ranges::find_if(
            all, [](const QWidget *w) { return w->inherits("QTipLabel") && !w->isHidden(); });
        ASSERT_NE(tip, all.end());
        const QImage drawn = (*tip)->grab().toImage();
        EXPECT_EQ(drawn.pixelColor(3, 3).name(), Look::colour(Role::Raised).name()) << "theme " << int(theme);
        double most = 0;
        for (int x = 0; x < drawn.width(); ++x)
            for (int y = 0; y < drawn.height(); ++y)
                most = std::max(most, contrast(drawn.pixelColor(x, y), Look::colour(Role::Raised)));
        EXPECT_GE(most, 4.5) << "the words, theme " << int(theme);
        QToolTip::hideText();
    }
    Look::apply(*qApp, Theme::Light);
}

TEST(LookTest, DrawingsFollowTheTheme) {
    const QIcon icon = Look::icon(QStringLiteral("calendar"));
    const QImage light = icon.pixmap(20, 20).toImage();
    Look::apply(*qApp, Theme::Dark);
    const QImage dark = icon.pixmap(20, 20).toImage();
    Look::apply(*qApp, Theme::Light);
    EXPECT_NE(light, dark);
}

TEST(LookTest, WordsInAColourFollowTheTheme) {
    QWidget window;
    SignedNote note(QStringLiteral("note"), &window);
    note.say(QStringLiteral("Not on this order."), Role::Watch);
    const auto *words = window.findChild<QLabel *>(QStringLiteral("note"));
    words->ensurePolished();
    EXPECT_EQ(words->palette().color(QPalette::WindowText), Look::colour(Role::Watch, Theme::Light));
    note.say(QStringLiteral("This lot is on a line already."), std::nullopt);
    EXPECT_EQ(words->palette().color(QPalette::WindowText), Look::colour(Role::Ink, Theme::Light));
    note.say(QStringLiteral("Not on this order."), Role::Watch);
    EXPECT_EQ(words->palette().color(QPalette::WindowText), Look::colour(Role::Watch, Theme::Light));
    const auto *sign = window.findChild<QLabel *>(QStringLiteral("noteSign"));
    ElidedLabel status;
    status.setText(QString(3, QChar(0x2588))); // full blocks: all ink
    status.resize(200, 30);
    Look::setInk(&status, Role::Act);
    const auto hasInk = [&](Theme theme) {
        const QImage drawn = status.grab().toImage();
        for (int y = 0; y < drawn.height(); ++y)
            for (int x = 0; x < drawn.width(); ++x)
                if (drawn.pixelColor(x, y) == Look::colour(Role::Act, theme))
                    return true;
        return false;
    };
    const QImage lightSign = sign->pixmap().toImage();
    EXPECT_TRUE(hasInk(Theme::Light));
    Look::apply(*qApp, Theme::Dark);
    EXPECT_EQ(words->palette().color(QPalette::WindowText), Look::colour(Role::Watch, Theme::Dark));
    EXPECT_NE(sign->pixmap().toImage(), lightSign);
    EXPECT_TRUE(hasInk(Theme::Dark));
    Look::apply(*qApp, Theme::Light);
    EXPECT_EQ(words->palette().color(QPalette::WindowText), Look::colour(Role::Watch, Theme::Light));
}

TEST(LookTest, ALineOfAMenuThatIsPressedIsNotTickedYet) {
    HouseStyle style;
    QMenu menu;
    const auto drawn = [&](QStyle::State more) {
        QImage picture(160, 28, QImage::Format_ARGB32);
        picture.fill(Qt::white);
        QPainter painter(&picture);
        QStyleOptionMenuItem line;
        line.rect = picture.rect();
        line.palette = QApplication::palette();
        line.menuItemType = QStyleOptionMenuItem::Normal;
        line.checkType = QStyleOptionMenuItem::Exclusive;
        line.checked = false;
        line.menuHasCheckableItems = true;
        line.state = QStyle::State_Enabled | more;
        line.text = QStringLiteral("Dark");
        style.drawControl(QStyle::CE_MenuItem, &line, &painter, &menu);
        return picture;
    };
    EXPECT_EQ(drawn(QStyle::State_Sunken), drawn({}));
}

TEST(LookTest, ATabAndTheListOfPagesWithTheKeyboardAreReadAndRinged) {
    for (const Theme theme : kThemes) {
        Look::apply(*qApp, theme);
        const QRegularExpression tab(
            QStringLiteral("QTabBar::tab:focus \\{ color: (#[0-9a-f]{6}); background: "
                           "(#[0-9a-f]{6}); border: 2px solid (#[0-9a-f]{6});"));
        const QRegularExpressionMatch found = tab.match(qApp->styleSheet());
        ASSERT_TRUE(found.hasMatch()) << qApp->styleSheet().toStdString();
        const QColor ink(found.captured(1)), ground(found.captured(2)), ring(found.captured(3));
        EXPECT_GE(contrast(ink, ground), 4.5) << "theme " << int(theme);
        EXPECT_GE(contrast(ring, Look::colour(Role::Ground)), 3.0) << "theme " << int(theme);
        EXPECT_TRUE(
            qApp->styleSheet().contains(QStringLiteral("QListWidget#workplaces:focus { border: 2px")));
    }
    Look::apply(*qApp, Theme::Light);
}

TEST(LookTest, TheTitleOfABoxOfAFewWordsIsReadWhole) {
    const QString title = QStringLiteral("Bartholomew Longfellow-Featherstone-Wetherby left service");
    int wide = 0;
    QTimer timer;
    QObject::connect(&timer, &QTimer::timeout, &timer, [&] {
        if (QWidget *box = QApplication::activeModalWidget(); box && box->isVisible()) {
            wide = box->width();
            timer.stop();
            box->close();
        }
    });
    timer.start(5);
    Ask::setSilent(false);
    Ask::tell(nullptr, title, QStringLiteral("Done."));
    Ask::setSilent(true);
    constexpr int kButtons = 100; // of the title bar, and its edges
    EXPECT_GE(wide, QFontMetrics(QApplication::font()).horizontalAdvance(title) + kButtons);
}

TEST(LookTest, TheLastRowOfATableOnPaperIsNotAloneOnAPage) {
    const std::vector<double> rows{10, 10, 10, 12};
    EXPECT_FALSE(beginsPage(rows, 1, 15)) << "others follow on the next page";
    EXPECT_TRUE(beginsPage(rows, 1, 9));
    EXPECT_FALSE(beginsPage(rows, 2, 22));
    EXPECT_TRUE(beginsPage(rows, 2, 21)) << "the last goes with the one before it";
    EXPECT_FALSE(beginsPage(rows, 3, 12));
    EXPECT_FALSE(beginsPage({10, 10}, 0, 15)) << "the head is not left alone either";
}

TEST(LookTest, AColumnThatSaysLittleIsCutBeforeTheOthers) {
    QStandardItemModel model(1, 2);
    model.setHorizontalHeaderLabels({QStringLiteral("Unit"), QStringLiteral("What")});
    model.setItem(0, 0, new QStandardItem(QStringLiteral("per cent of its price in one year")));
    model.setItem(0, 1, new QStandardItem(QStringLiteral("a name that differs at its end: 500 mL")));
    DenseTable table(QStringLiteral("rows"), QStringLiteral("Rows"));
    table.setModel(&model);
    table.cutFirst(0);
    table.resize(1100, 200);
    table.show();
    ASSERT_TRUE(QTest::qWaitForWindowExposed(&table));
    table.fitColumns(0);
    const int unit = table.columnWidth(0), wide = table.columnWidth(1);
    table.resize(wide + 110, 200);
    EXPECT_EQ(table.columnWidth(1), wide);
    EXPECT_LT(table.columnWidth(0), unit);
}

} // namespace
} // namespace kitround::ui
