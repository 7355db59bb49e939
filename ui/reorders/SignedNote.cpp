#include "ui/reorders/SignedNote.h"

#include <QEvent>
#include <QHBoxLayout>
#include <QLabel>

namespace kitround::ui {
namespace {

constexpr int kSignSize = 16;

} // namespace

SignedNote::SignedNote(const QString &objectName, QWidget *parent)
    : QWidget(parent), sign_(new QLabel(this)), text_(new QLabel(this)) {
    auto *row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(Look::kInside);
    row->addWidget(sign_, 0, Qt::AlignTop);
    row->addWidget(text_, 1);
    sign_->setObjectName(objectName + QStringLiteral("Sign"));
    text_->setObjectName(objectName);
    text_->setWordWrap(true);
    say({}, std::nullopt);
}

void SignedNote::say(const QString &text, std::optional<Role> role) {
    role_ = role;
    Look::setInk(text_, role.value_or(Role::Ink));
    drawSign();
    text_->setText(text);
    text_->setVisible(!text.isEmpty());
    sign_->setVisible(role && !text.isEmpty());
    setVisible(!text.isEmpty());
}

void SignedNote::drawSign() {
    if (role_)
        sign_->setPixmap(Look::icon(QStringLiteral("bell"), *role_).pixmap(kSignSize, kSignSize));
}

void SignedNote::changeEvent(QEvent *event) {
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange)
        drawSign(); // a picture is in the colours it was drawn in
}

} // namespace kitround::ui
