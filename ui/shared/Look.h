#pragma once
// The look, in one place: every colour has a role name and none is written elsewhere. Light and dark.
#include <QColor>
#include <QIcon>
#include <QString>

class QApplication;
class QLabel;
class QWidget;

namespace kitround::ui {

enum class Role : unsigned char {
    Ground,
    Raised,
    Ink,
    FaintInk,
    Line,
    Accent,
    AccentGround,
    Good,
    Watch,
    Act,
    ActGround,
    WatchGround,
    Chosen,
    OnAccent,
    Edge // of what is filled in or chosen from: without it an empty field is not seen
};
inline constexpr int kRoleCount = 15;
enum class Theme : unsigned char { Light, Dark };

class Look {
public:
    static QColor colour(Role role);
    static QColor colour(Role role, Theme theme);
    static Theme theme();
    // Sets style, palette and style sheet of the whole program; widgets repaint themselves.
    static void apply(QApplication &app, Theme theme);

    // Own line drawings, 1.5 px strokes at 20 px, in the colour the role has when they are drawn.
    static QIcon icon(const QString &name, Role role = Role::Ink);
    // The colour of a label's words, in every theme.
    static void setInk(QLabel *label, Role role);

    // Spacing in steps of 4 px.
    static constexpr int kInside = 8;
    static constexpr int kBetween = 12;
    static constexpr int kPage = 16;
    static constexpr int kHit = 28; // least height of what is clicked
    // Property of a picture that shows when it has the keyboard: F6 stops there, as it does at lists and
    // tabs.
    static constexpr const char *kIsPart = "isPart";

    static QFont titleFont();
    static QFont strongFont();
    static QFont smallFont();
};

// Contrast ratio of two colours, 1..21 (WCAG 2.1, relative luminance).
double contrast(const QColor &a, const QColor &b);

} // namespace kitround::ui
