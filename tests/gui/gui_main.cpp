// The window tests need an application; without a display they run on the offscreen platform.
#include "ui/shared/Look.h"

#include <QApplication>

#include <gtest/gtest.h>

int main(int argc, char **argv) {
    ::testing::InitGoogleTest(&argc, argv);
    QApplication app(argc, argv);
    QApplication::setOrganizationName(QStringLiteral("kitround-tests"));
    kitround::ui::Look::apply(app, kitround::ui::Theme::Light);
    return RUN_ALL_TESTS();
}
