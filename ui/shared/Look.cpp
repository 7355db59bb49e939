#include "ui/shared/Look.h"

#include "ui/shared/HouseStyle.h"
#include "ui/shared/InputRules.h"

#include <QApplication>
#include <QFile>
#include <QFont>
#include <QIconEngine>
#include <QLabel>
#include <QPainter>
#include <QPalette>
#include <QPixmap>
#include <QPixmapCache>
#include <QPointer>
#include <QStyle>
#include <QSvgRenderer>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace kitround::ui {
namespace {

Theme current = Theme::Light; // the program has one look; set once by apply()

constexpr std::array<std::array<QRgb, kRoleCount>, 2> kColours = {{
    // Ground      Raised      Ink         FaintInk    Line        Accent      AccentGround
    {0xfff5f3ed, 0xfffffefb, 0xff20242a, 0xff565b63, 0xffd3cfc4, 0xff1d5c78, 0xffdbe9ef,
     // Good      Watch       Act         ActGround   WatchGround Chosen      OnAccent
     0xff2a6636, 0xff805200, 0xff9c2318, 0xfff8e0dc, 0xfff6ead0, 0xffcbe1eb, 0xffffffff,
     // Edge
     0xff878276},
    {0xff1b1d20, 0xff25282c, 0xffe9e7e2, 0xffabafb5, 0xff3f444b, 0xff82bbd4, 0xff233f4b, 0xff88c692,
     0xffe2b660, 0xfff6a69d, 0xff4a2724, 0xff453718, 0xff2d4d5b, 0xff10222a, 0xff737a84},
}};

QString drawingFile(const QString &name) {
    return QStringLiteral(":/kitround/icons/%1.svg").arg(name);
}

QPixmap drawn(const QString &name, Role role, int side) {
    const QString key = QStringLiteral("kitround/%1/%2/%3").arg(name, Look::colour(role).name()).arg(side);
    QPixmap pixmap;
    if (side <= 0 || QPixmapCache::find(key, &pixmap))
        return pixmap;
    QFile file(drawingFile(name));
    if (!file.open(QIODevice::ReadOnly))
        return {};
    QByteArray drawing = file.readAll();
    drawing.replace("currentColor", Look::colour(role).name().toUtf8());
    pixmap = QPixmap(side, side);
    pixmap.fill(Qt::transparent);
    QPainter painter(&pixmap);
    QSvgRenderer(drawing).render(&painter);
    painter.end();
    QPixmapCache::insert(key, pixmap);
    return pixmap;
}

// Asks for its colour each time it is drawn, so that it follows the theme.
class DrawingEngine : public QIconEngine {
public:
    DrawingEngine(QString name, Role role) : name_(std::move(name)), role_(role) {}

    QIconEngine *clone() const override { return new DrawingEngine(name_, role_); }
    QSize actualSize(const QSize &size, QIcon::Mode, QIcon::State) override {
        const int side = std::min(size.width(), size.height());
        return {side, side};
    }
    QPixmap pixmap(const QSize &size, QIcon::Mode mode, QIcon::State state) override {
        const Role role = mode == QIcon::Disabled ? Role::Line : role_;
        return drawn(name_, role, actualSize(size, mode, state).width());
    }
    void paint(QPainter *painter, const QRect &rect, QIcon::Mode mode, QIcon::State state) override {
        const qreal scale = painter->device()->devicePixelRatio();
        QPixmap drawing = pixmap((QSizeF(rect.size()) * scale).toSize(), mode, state);
        drawing.setDevicePixelRatio(scale);
        QRect place(QPoint(), actualSize(rect.size(), mode, state));
        place.moveCenter(rect.center());
        painter->drawPixmap(place, drawing);
    }

private:
    QString name_;
    Role role_;
};

} // namespace

QColor Look::colour(Role role, Theme theme) {
    return QColor::fromRgb(kColours[static_cast<std::size_t>(theme)][static_cast<std::size_t>(role)]);
}
QColor Look::colour(Role role) {
    return colour(role, current);
}
Theme Look::theme() {
    return current;
}

namespace {

QPalette housePalette() {
    const auto colour = [](Role role) { return Look::colour(role); };
    QPalette p;
    p.setColor(QPalette::Window, colour(Role::Ground));
    p.setColor(QPalette::WindowText, colour(Role::Ink));
    p.setColor(QPalette::Base, colour(Role::Raised));
    p.setColor(QPalette::AlternateBase, colour(Role::Ground));
    p.setColor(QPalette::Text, colour(Role::Ink));
    p.setColor(QPalette::PlaceholderText, colour(Role::FaintInk));
    p.setColor(QPalette::Button, colour(Role::Raised));
    p.setColor(QPalette::ButtonText, colour(Role::Ink));
    p.setColor(QPalette::BrightText, colour(Role::Act));
    p.setColor(QPalette::Highlight, colour(Role::Chosen));
    p.setColor(QPalette::HighlightedText, colour(Role::Ink));
    p.setColor(QPalette::Link, colour(Role::Accent));
    p.setColor(QPalette::LinkVisited, colour(Role::Accent));
    p.setColor(QPalette::ToolTipBase, colour(Role::Raised));
    p.setColor(QPalette::ToolTipText, colour(Role::Ink));
    p.setColor(QPalette::Mid, colour(Role::Line));
    p.setColor(QPalette::Midlight, colour(Role::Line));
    p.setColor(QPalette::Light, colour(Role::Raised));
    p.setColor(QPalette::Dark, colour(Role::Line));
    p.setColor(QPalette::Shadow, colour(Role::Line));
    for (const QPalette::ColorRole role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText})
        p.setColor(QPalette::Disabled, role, colour(Role::FaintInk));
    return p;
}

QString inkRules() {
    QString rules;
    for (const Role role : {Role::FaintInk, Role::Accent, Role::Good, Role::Watch, Role::Act})
        rules += QStringLiteral("QLabel[ink=\"%1\"] { color: %2; }")
                     .arg(static_cast<int>(role))
                     .arg(Look::colour(role).name());
    return rules;
}

QString houseSheet() {
    const auto name = [](Role role) { return Look::colour(role).name(); };
    return QStringLiteral(
               "QToolTip { border: 1px solid %1; padding: 4px; background: %2; color: %7; }"
               "QPushButton { min-height: 20px; padding: 4px 12px; border: 1px solid %1; border-radius: 4px;"
               " background: %2; }"
               "QPushButton:hover { border-color: %3; }"
               "QPushButton:focus { border: 2px solid %3; padding: 3px 11px; }"
               "QPushButton:disabled { color: %4; background: %5; }"
               "QPushButton[isMain=\"true\"] { background: %3; color: %6; border-color: %3; font-weight: "
               "600; }"
               "QPushButton[isMain=\"true\"]:focus { border: 2px solid %7; }"
               "QPushButton[isMain=\"true\"]:disabled { background: %1; color: %4; border-color: %1; }"
               "QLineEdit, QPlainTextEdit { min-height: 22px;"
               " padding: 2px 6px; border: 1px solid %9; border-radius: 3px; background: %2; }"
               "QLineEdit:focus, QPlainTextEdit:focus { border: 2px solid %3;"
               " padding: 1px 5px; }"
               "QLineEdit:disabled, QPlainTextEdit:disabled { border-color: %1; background: %5; }"
               "QComboBox QLineEdit, QAbstractSpinBox QLineEdit { border: none; padding: 0; min-height: 0;"
               " background: transparent; }"
               "QComboBox QLineEdit:focus, QAbstractSpinBox QLineEdit:focus { border: none; padding: 0; }"
               "QHeaderView::section { background: %5; color: %4; border: none; border-bottom: 1px solid %1;"
               " padding: 4px; }"
               "QTableView { gridline-color: %1; border: 1px solid %1; }"
               "QTableView:focus { border: 2px solid %3; }"
               "QListView { border: 1px solid %9; background: %2; }"
               "QListView:focus { border: 2px solid %3; }"
               "QListWidget#workplaces { border: 2px solid %2; border-right: 2px solid %1; }"
               "QListWidget#workplaces:focus { border: 2px solid %3; }" // as every list, and nothing moves
               "QListWidget#workplaces::item { padding-left: 8px; }"
               "QListWidget#helpTopics::item { min-height: 28px; }"
               // The list of a drop-down lies over the page: it wants an edge of its own.
               "QComboBox QAbstractItemView { border: 1px solid %9; background: %2; padding: 2px 4px; }"
               "QComboBox QAbstractItemView::item { min-height: 28px; }"
               "QComboBox QAbstractItemView::item:selected { background: %8; color: %7; }"
               "QTabBar::tab { padding: 6px 12px; border: none; border-bottom: 2px solid transparent;"
               " color: %4; }"
               "QTabBar::tab:selected { color: %7; border-bottom: 2px solid %3; }"
               "QTabBar::tab:focus { color: %7; background: %8; border: 2px solid %3; padding: 4px 10px 6px "
               "10px; }"
               "QTabWidget::pane { border: none; border-top: 1px solid %1; }"
               "QMenuBar { background: %5; } QMenuBar::item:selected, QMenu::item:selected { background: %8;"
               " color: %7; }"
               "QMenu { border: 1px solid %9; }")
        .arg(name(Role::Line), name(Role::Raised), name(Role::Accent), name(Role::FaintInk),
             name(Role::Ground), name(Role::OnAccent), name(Role::Ink), name(Role::Chosen), name(Role::Edge));
}

} // namespace

// A style set anew would have every widget of the program polished and laid out twice, by the style and by
// its sheet; it asks for its colours whenever it draws, so one does for all themes.
void Look::apply(QApplication &app, Theme theme) {
    static QPointer<HouseStyle> style; // the program's own it is; gone with the program
    current = theme;
    if (!style) {
        style = new HouseStyle;
        app.setStyle(style);
    }
    app.setPalette(housePalette());
    app.setStyleSheet(houseSheet() + inkRules());
    keepInputRules(app);
}

QIcon Look::icon(const QString &name, Role role) {
    return QFile::exists(drawingFile(name)) ? QIcon(new DrawingEngine(name, role)) : QIcon();
}

void Look::setInk(QLabel *label, Role role) {
    const int ink = static_cast<int>(role);
    if (label->property("ink") == ink)
        return;
    label->setProperty("ink", ink); // what the style sheet goes by
    if (!label->testAttribute(Qt::WA_WState_Polished))
        return; // it will be once the label is shown
    label->style()->unpolish(label);
    label->style()->polish(label);
}

QFont Look::titleFont() {
    QFont font = QApplication::font();
    font.setPointSizeF(font.pointSizeF() * 1.5);
    font.setWeight(QFont::DemiBold);
    return font;
}
QFont Look::strongFont() {
    QFont font = QApplication::font();
    font.setWeight(QFont::DemiBold);
    return font;
}
QFont Look::smallFont() {
    QFont font = QApplication::font();
    font.setPointSizeF(font.pointSizeF() * 0.9);
    return font;
}

double contrast(const QColor &a, const QColor &b) {
    const auto luminance = [](const QColor &c) {
        const auto part = [](double v) {
            return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
        };
        return 0.2126 * part(c.redF()) + 0.7152 * part(c.greenF()) + 0.0722 * part(c.blueF());
    };
    const double la = luminance(a), lb = luminance(b);
    return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

} // namespace kitround::ui
