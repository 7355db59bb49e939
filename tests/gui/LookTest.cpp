#include "ui/shared/Look.h"

#include <QApplication>
#include <QImage>

#include <gtest/gtest.h>

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
    for (const Theme theme : kThemes)
        EXPECT_GE(contrast(Look::colour(Role::OnAccent, theme), Look::colour(Role::Accent, theme)), 4.5);
}

TEST(LookTest, TheFocusRingStandsOutFromWhatItRings) {
    for (const Theme theme : kThemes)
        for (const Role ground : {Role::Ground, Role::Raised, Role::Chosen})
            EXPECT_GE(contrast(Look::colour(Role::Accent, theme), Look::colour(ground, theme)), 3.0);
}

TEST(LookTest, ContrastAgreesWithItsDefinition) {
    EXPECT_NEAR(contrast(Qt::black, Qt::white), 21.0, 1e-9);                 // WCAG 2.1, the largest there is
    EXPECT_NEAR(contrast(QColor(0x77, 0x77, 0x77), Qt::white), 4.48, 0.005); // just below 4.5
}

TEST(LookTest, DrawingsFollowTheTheme) {
    const QIcon icon = Look::icon(QStringLiteral("calendar"));
    const QImage light = icon.pixmap(20, 20).toImage();
    Look::apply(*qApp, Theme::Dark);
    const QImage dark = icon.pixmap(20, 20).toImage();
    Look::apply(*qApp, Theme::Light);
    EXPECT_NE(light, dark);
}

} // namespace
} // namespace kitround::ui
